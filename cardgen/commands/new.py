"""``cardgen new``: a commented starter rig, or a copy of a demo rig with its parts."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.commands import common
from cardgen.commands.exits import Exit
from cardgen.model.starter_fields import KINDS

if TYPE_CHECKING:
    from cardgen.source.disk import Store
    from cardgen.source.faults import Fault

HELP = "write a commented starter rig, asking a few questions on a terminal"


@dataclass(frozen=True, slots=True)
class Question:
    """One question, which is also a flag.

    Args:
        name: name of the flag and of the field of ``Wish`` [-].
        asks: the question [-].
        choices: answers, the usual one first [-].
    """

    name: str
    asks: str
    choices: tuple[str, ...]


_KIND = Question("kind", "What stands in the driveway? (vehicle: any trailer may come)", tuple(KINDS))
QUESTIONS = (
    Question("market", "Whose words, rules and units?", ("us", "ca", "uk", "eu", "au", "nz")),
    Question(
        "vehicle",
        "What tows it? (unknown: any vehicle may come)",
        ("pickup", "suv", "car", "van", "truck", "motorhome", "unknown"),
    ),
    Question("type", "How does the trailer couple?", ("ball", "gooseneck", "fifth_wheel")),
    Question(
        "body",
        "What is the trailer? (unknown: any trailer may come)",
        ("travel_trailer", "camper", "caravan", "utility", "cargo", "boat", "horse", "car_hauler", "unknown"),
    ),
    Question("axles", "How many axles has it?", ("1", "2", "3", "4")),
    Question("brakes", "How does it brake?", ("unknown", "none", "electric", "surge", "electric_hydraulic")),
    Question("bars", "Is there a weight-distributing hitch?", ("no", "yes")),
)
"""In the order in which they are asked; the kind of trailer tells coupling and body, unless one of them is given."""


class NoAnswerError(Exception):
    """The input ended before all questions were answered."""


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.add_argument("name", metavar="NAME", help="nickname of the rig")
    parser.add_argument(
        "--rigs-dir", type=Path, default=Path("rigs"), metavar="FOLDER", help="folder of the rigs"
    )
    parser.add_argument("--from", dest="demo", metavar="DEMO", help="copy a demo rig and its parts instead")
    parser.add_argument("--short", action="store_true", help="only what labels tell")
    for question in (_KIND, *QUESTIONS):
        usual = f"{question.asks} (default: {question.choices[0]}, or asked on a terminal)"
        parser.add_argument(f"--{question.name}", choices=question.choices, help=usual)


def run(args: argparse.Namespace) -> int:
    """Write the rig file, its parts and the schema beside it; never write over a file."""
    from cardgen.model.slug import slug

    if not args.name.isprintable():
        common.say("the nickname holds a character that cannot be printed; write another")
        return Exit.USAGE
    target = args.rigs_dir / f"{slug(args.name)}.yaml"
    if target.exists() or target.is_symlink():
        common.say(f"'{target}' exists already; choose another name")
        return Exit.REFUSED
    if args.vehicle == "unknown" and "unknown" in (args.body, KINDS.get(args.kind or "", ("", ""))[1]):
        common.say("a rig file describes a vehicle, a trailer or both: one of them has to be known")
        return Exit.USAGE
    try:
        files = _copy(args, target.name) if args.demo else {target.name: _fresh(args)}
    except NoAnswerError:
        common.say("\nnothing was written")
        return Exit.USAGE
    if files is None:
        return Exit.USAGE
    faults = _faults(target, files)
    for fault in faults:
        common.say(str(fault))
    if faults:
        common.say("nothing was written")
        return Exit.USAGE
    return _write(args.rigs_dir, target, files)


def _fresh(args: argparse.Namespace) -> str:
    from cardgen.model.starter import Wish, starter
    from cardgen.tables.words import say

    given = {question.name: getattr(args, question.name) for question in QUESTIONS}
    told: tuple[tuple[str, str], ...] = ()
    answers = {}
    for question in QUESTIONS:
        if question.name == "type" and (args.kind or not (given["type"] or given["body"])):
            coupling, body, told = KINDS[args.kind or _ask(_KIND, {})]
            told = told if given["body"] in (None, body) else ()
            given |= {"type": given["type"] or coupling, "body": given["body"] or body}
        if _matters(question, given):
            answers[question.name] = given[question.name] or _ask(question, given)
    if given["bars"] == "yes" and "bars" not in answers:
        words = "weight distribution is left out: it goes with a ball in a {receiver}"
        common.say(say(words, answers["market"]))
    return starter(
        Wish(
            args.name,
            market=answers["market"],
            vehicle=answers["vehicle"],
            type=answers["type"],
            body=answers["body"],
            axles=int(answers.get("axles", 1)),
            brakes=answers.get("brakes", "unknown"),
            bars=answers.get("bars") == "yes",
            told=told,
            short=args.short,
        )
    )


def _matters(question: Question, given: dict[str, str | None]) -> bool:
    """Whether a question makes a difference after the answers so far."""
    if given["body"] == "unknown" and question.name in ("axles", "brakes"):
        return False
    return question.name != "bars" or (given["type"] == "ball" and given["market"] not in ("uk", "eu"))


def _ask(question: Question, given: dict[str, str | None]) -> str:
    """Ask on a terminal until the answer is clear; elsewhere take the usual answer."""
    answer = question.choices[0]
    if sys.stdin.isatty() and sys.stderr.isatty():
        listed = ", ".join(question.choices)
        while True:
            print(f"{question.asks} {listed} [{answer}]: ", end="", file=sys.stderr, flush=True)
            line = sys.stdin.readline()
            if not line:
                raise NoAnswerError
            words = line.strip().lower().replace(" ", "_").replace("-", "_") or answer
            found = [c for c in question.choices if c == words] or [
                c for c in question.choices if c.startswith(words)
            ]
            if len(found) == 1:
                answer = found[0]
                break
            common.say(f"'{line.strip()}' is {'several' if found else 'none'} of them")
    given[question.name] = answer
    return answer


def _copy(args: argparse.Namespace, name: str) -> dict[str, str] | None:
    """Copy a demo rig under a new nickname together with every part it uses."""
    from cardgen.commands.demo import demo_rigs
    from cardgen.model.read import read_rig
    from cardgen.model.starter import MODELINE
    from cardgen.source.suggest import suggest
    from cardgen.source.write import quoted

    folder = demo_rigs()
    demos = sorted(path.stem for path in folder.glob("*.yaml"))
    if args.demo not in demos:
        common.say(f"no demo rig '{args.demo}'; {suggest(args.demo, demos)}")
        return None
    source = folder / f"{args.demo}.yaml"
    lines = source.read_text(encoding="utf-8").splitlines(keepends=True)
    named = [f"nickname: {quoted(args.name)}\n" if line.startswith("nickname:") else line for line in lines]
    head = f"{MODELINE}# A copy of the demo rig '{args.demo}'. Every figure here and in the parts it takes is invented:\n"
    head += "# replace them all by what your labels, scale and tape measure say, or write 'unknown'.\n"
    parts = [path for path in read_rig(source).files if path != source]
    return {name: head + "".join(named)} | {
        path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8") for path in parts
    }


class _Planned:
    """The disk as it will be: files there win, planned ones stand where nothing is."""

    def __init__(self, folder: Path, files: dict[str, str], disk: Store) -> None:
        self.planned = {folder / name: text.encode("utf-8") for name, text in files.items()}
        self.disk = disk

    def read_bytes(self, path: Path, limit: int) -> bytes:
        """Bytes of a file."""
        if path in self.planned and not path.exists():
            return self.planned[path][: limit + 1]
        return self.disk.read_bytes(path, limit)

    def inside(self, path: Path, folder: Path) -> bool:
        """Whether a file lies inside a folder."""
        return self.disk.inside(path, folder)

    def parts(self, folder: Path) -> Iterable[str]:
        """Names of the parts in a folder."""
        return self.disk.parts(folder)


def _faults(target: Path, files: dict[str, str]) -> tuple[Fault, ...]:
    """Faults that the new rig would have, of a nickname that cannot be used above all."""
    from cardgen.bundle.reading import read_rig
    from cardgen.source.disk import Disk

    return read_rig(target, _Planned(target.parent, files, Disk())).faults


def _write(folder: Path, target: Path, files: dict[str, str]) -> int:
    from cardgen.commands.schema import put, schema_text
    from cardgen.model.starter import SCHEMA

    for name, text in files.items():
        path = folder / name
        if path.is_file():
            if path.read_bytes() != text.encode("utf-8"):
                common.say(f"'{path}' was there already and is used as it is; the demo's own differs")
            continue
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as problem:
            common.say(f"'{path.parent}' cannot be made: {problem.strerror}")
            return Exit.REFUSED
        trouble = common.write_new(path, text)
        if trouble is not None:
            common.say(trouble)
            return Exit.REFUSED
    trouble = put(folder / SCHEMA, schema_text())
    if trouble is not None:
        common.say(trouble)  # the rig is good without it, only the editor knows less
    print(target)
    return Exit.FINE
