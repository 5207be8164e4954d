"""``cardgen take``: take in a rig file that the measuring page gave back."""

from __future__ import annotations

import argparse
import difflib
import json
import re
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.commands import common
from cardgen.commands.exits import Exit

if TYPE_CHECKING:
    from cardgen.source.edit import Write, Written
    from cardgen.source.faults import Path as Field
    from cardgen.source.shapes import Shape
    from cardgen.source.tree import Tree

HELP = "take in a file that the measuring page gave back, after a yes"
_ABOUT = """\
The measuring page gives back the whole rig file with the answers in their places. This compares it with
the file it was made from, puts the answers into today's file one by one where that has changed since,
shows every line, and writes when 'yes' is typed on a terminal: all of it or nothing."""
_NEGATIVE = re.compile(r"-\d[\w ./%]*", re.ASCII)
"""Quantities below zero, which need no quotes."""
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")


@dataclass(frozen=True, slots=True)
class Returned:
    """What the page gave back.

    Args:
        rig, file: rig file, and the one of its files that this is, below the folder of the rigs [-].
        sha256: of the text that the page was made from [-].
        fields: paths of what was answered.
        looked: paths of what was looked for in vain, with the day.
        text: the file [-].
    """

    rig: str
    file: str
    sha256: str
    fields: tuple[Field, ...]
    looked: tuple[tuple[Field, str], ...]
    text: str


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description = _ABOUT
    parser.add_argument("file", type=Path, metavar="FILE", help="what the page saved, sent or copied")
    parser.add_argument(
        "--rigs-dir", type=Path, default=Path("rigs"), metavar="FOLDER", help="folder of the rigs"
    )


def run(args: argparse.Namespace) -> int:
    """Compare, show, ask, write."""
    from cardgen.source.faults import StopReadingError

    try:
        found = _returned(args.file)
        target, rig = (_inside(args.rigs_dir, name) for name in (found.file, found.rig))
        raw = target.read_bytes()
        old = raw.decode("utf-8")
    except OSError as problem:
        common.say(f"'{problem.filename}' cannot be read: {problem.strerror}")
        return Exit.USAGE
    except (ValueError, StopReadingError) as problem:
        common.say(str(problem))
        return Exit.USAGE
    new = _ends_like(found.text, old)
    notes: tuple[str, ...] = ()
    if sha256(raw).hexdigest() != found.sha256:
        common.say(
            f"{target} has changed since the page was made; the answers are placed again, field by field"
        )
        placed = _placed(found, new, rig, target, old)
        if placed is None:
            return Exit.FAULTS
        new, notes = placed
    for note in notes:
        common.say(note)
    if new == old:
        common.say(f"nothing to write: {target} has all of it")
        return Exit.FINE
    faulty = [one for one in (rig, *_sharing(args.rigs_dir, rig, target)) if _faulty(one, target, new)]
    if faulty:
        common.say("nothing was written")
        return Exit.FAULTS
    _show(old, new)
    return _write(target, raw, new) if _yes(target) else Exit.REFUSED


def _returned(path: Path) -> Returned:
    """Read what came back.

    Raises:
        ValueError: it is none of ours.
    """
    from cardgen.present.measure import MARK
    from cardgen.source.decode import decode
    from cardgen.source.disk import Disk
    from cardgen.source.faults import shown
    from cardgen.source.limits import Bounds

    bounds = Bounds()
    text = decode(Disk().read_bytes(path, bounds.size), shown(path), bounds)
    first, _, rest = text.partition("\n")
    try:
        if not first.startswith(MARK):
            raise ValueError
        mark = json.loads(first[len(MARK) :])
        fields = tuple(map(_path, mark["fields"]))
        looked = tuple((_path(field), str(day)) for field, day in mark["looked"] if _DAY.fullmatch(str(day)))
        return Returned(str(mark["rig"]), str(mark["file"]), str(mark["sha256"]), fields, looked, rest)
    except (ValueError, KeyError, TypeError, RecursionError):
        raise ValueError(
            f"'{shown(path)}' does not begin with the line by which the measuring page marks what it gives back; "
            "save it again there, and change nothing in its first line"
        ) from None


def _path(steps: Sequence[object]) -> Field:
    """A field that the model knows.

    Raises:
        ValueError: there is no such field.
    """
    from cardgen.model.rig import Rig
    from cardgen.source.shapes import shape_of, spot_at

    path = tuple(step if isinstance(step, int) else str(step) for step in steps)
    if isinstance(steps, str) or not path or spot_at(shape_of(Rig), path) is None:
        raise ValueError
    return path


def _inside(folder: Path, name: str) -> Path:
    """A file of the folder of rigs.

    Raises:
        ValueError: the name leads out of it.
    """
    path = folder / name
    if Path(name).is_absolute() or ".." in Path(name).parts or path.suffix not in (".yaml", ".yml"):
        raise ValueError(f"'{name[:80]}' in the first line is no rig file below '{folder}'")
    if not path.resolve().is_relative_to(folder.resolve()):
        raise ValueError(f"'{path}' leads out of '{folder}'; copy the file into it")
    return path


def _ends_like(text: str, old: str) -> str:
    """Give a text the line ends of another, as mail and phones change them."""
    plain = text.replace("\r\n", "\n")
    return plain.replace("\n", "\r\n") if "\r\n" in old else plain


def _placed(
    found: Returned, text: str, rig: Path, target: Path, old: str
) -> tuple[str, tuple[str, ...]] | None:
    """Put the answers into today's file: its new text, and what was left out; None when a file cannot be read."""
    from cardgen.bundle.inputs import MemoryFirst
    from cardgen.model.rig import Rig
    from cardgen.source.disk import Disk
    from cardgen.source.edit import Write, anchor, put, spans
    from cardgen.source.faults import dotted, shown
    from cardgen.source.limits import Bounds
    from cardgen.source.parts import load
    from cardgen.source.shapes import shape_of, spot_at
    from cardgen.source.tree import plain_tree

    bounds = Bounds()
    came = load(rig, MemoryFirst({str(target): text.encode()}), bounds)
    now = load(rig, Disk(), bounds)
    if came.top is None or now.top is None or came.faults or now.faults:
        for fault in (*now.faults, *came.faults):
            common.say(str(fault))
        return None
    theirs, ours, known = plain_tree(came.top), plain_tree(now.top), spans(old)
    writes: list[Write] = []
    notes: list[str] = []
    for path in found.fields:
        spot = spot_at(shape_of(Rig), path)
        assert spot is not None  # looked up when the mark was read
        value = _new(theirs, ours, path)
        if value is None:
            continue
        where = anchor(old, known, ours, path, shown(target))
        if where is None:
            notes.append(f"left out: {dotted(path)} is {_brief(ours.get(*path))} in {target} now")
            continue
        writes.append(Write(where[0], tuple(map(str, where[1])), _written(value, spot.shape)))
    looked = []
    for path, day in found.looked:
        where = anchor(old, known, ours, path, shown(target))
        words = f"{path[-1]}: not there, looked {day}"
        if (
            where
            and where[0].form == "hole"
            and not where[1]
            and words not in old
            and str(path[-1]).isidentifier()
        ):
            looked.append((where[0], words))
    return put(old, writes, looked), tuple(notes)


def _brief(value: object) -> str:
    return f"'{value[:40]}'" if isinstance(value, str) else "written otherwise"


def _new(theirs: Tree, ours: Tree, path: Field) -> object:
    """What was answered for a field and today's file does not say; None when there is nothing new."""
    value, there = theirs.get(*path), ours.get(*path)
    if isinstance(value, list) and isinstance(there, list):
        return [one for one in value if one not in there] or None
    return None if value == there else value


def _written(value: object, shape: Shape) -> Written:
    """A value that was read, as it is to be written."""
    from cardgen.source.shapes import slots_of
    from cardgen.source.write import quoted, scalar

    if isinstance(value, Mapping):
        slots = slots_of(shape.hint) if shape.form == "record" else {}
        inner = {str(key): slots[key].shape if key in slots else shape.item for key in value}
        return {key: _written(one, inner[key] or shape) for key, one in value.items() if one is not None}
    if isinstance(value, list):
        return [_written(one, shape.item or shape) for one in value]
    text = str(value)
    if shape.hint is str and not shape.choices:
        return quoted(text)
    return text if _NEGATIVE.fullmatch(text) else scalar(text)


def _sharing(folder: Path, rig: Path, target: Path) -> list[Path]:
    """Other rigs without faults that take a part in, which are told: they change with it."""
    from cardgen.bundle.reading import read_rig

    if target == rig:
        return []
    read = {path: read_rig(path) for path in sorted(folder.glob("*.yaml")) if path != rig}
    found = [path for path, one in read.items() if target in one.files and not one.faults]
    if found:
        common.say(f"a shared part: {', '.join(path.stem for path in found)} will change with it")
    return found


def _faulty(rig: Path, target: Path, text: str) -> bool:
    """Tell the faults that the rig would have."""
    from cardgen.bundle.inputs import MemoryFirst
    from cardgen.bundle.reading import read_rig

    faults = read_rig(rig, MemoryFirst({str(target): text.encode()})).faults
    for fault in faults:
        common.say(str(fault))
    return bool(faults)


def _show(old: str, new: str) -> None:
    """Show every line that changes, with its number in the new file."""
    before, after = old.splitlines(), new.splitlines()
    for tag, a, b, c, d in difflib.SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if tag != "equal":
            for line in before[a:b]:
                common.say(f"      - {line}")
            for number, line in enumerate(after[c:d], c + 1):
                common.say(f"{number:5} + {line}")


def _yes(target: Path) -> bool:
    """Ask; anything but a whole yes that somebody typed is a no: no pipe answers for a person."""
    if not sys.stdin.isatty():
        common.say("nothing was written: only a yes typed on a terminal is taken")
        return False
    print(f"write this into {target}? yes or no: ", end="", file=sys.stderr, flush=True)
    answer = sys.stdin.readline().strip().lower()
    if answer != "yes":
        common.say("nothing was written")
    return answer == "yes"


def _write(target: Path, raw: bytes, new: str) -> int:
    """Put the new text in the place of the old one, whole, unless somebody was quicker."""
    from cardgen.bundle.disk import replace_whole

    path = target.resolve()
    try:
        if path.read_bytes() != raw:
            common.say(f"'{target}' has changed meanwhile and is left as it is; run this again")
            return Exit.REFUSED
        replace_whole(path, new.encode("utf-8"), path.stat().st_mode & 0o777)
    except OSError as problem:
        common.say(f"'{target}' cannot be written: {problem.strerror}")
        return Exit.REFUSED
    print(target)
    return Exit.FINE
