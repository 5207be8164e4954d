"""The ledger of revisions: one small file per revision, never changed once written.

``rigs/revisions/<rig>/0003-2026-11-25-1f0c9a7e.json`` holds revision 3. The name carries
number, day and the start of the fingerprint, so that two people's ledgers merge as a plain
union of files. The same revision made twice (other days, same print) is no conflict: the
earlier day counts. Two revisions of one number that print something different are refused
with what to do.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path

from cardgen.bundle.disk import refusing, replace_whole
from cardgen.bundle.revision import Revision, from_json
from cardgen.source.faults import Fault

FOLDER = "revisions"
_NAME = re.compile(r"(\d{4,9})-(\d{4}-\d{2}-\d{2})-([0-9a-f]{8})\.json")


@dataclass(frozen=True, slots=True)
class Ledger:
    """All revisions of one rig, oldest first, and what is wrong with them.

    ``rivals`` are revisions of one number that print something different and are not joined.
    """

    revisions: tuple[Revision, ...] = ()
    faults: tuple[Fault, ...] = ()
    rivals: tuple[Revision, ...] = ()

    @property
    def last(self) -> Revision | None:
        """The newest revision."""
        return self.revisions[-1] if self.revisions else None


def state(folder: Path) -> tuple[str, ...]:
    """Names of the files of a ledger: enough to see that it has changed."""
    try:
        return tuple(sorted(one.name for one in folder.iterdir()))
    except OSError:
        return ()


def read_ledger(folder: Path) -> Ledger:
    """Read all revisions of a rig from its folder, and find what is wrong with them.

    Args:
        folder: ``revisions/<rig>`` beside the rig files; it need not exist.
    """
    found: list[Revision] = []
    faults: list[Fault] = []
    for name in state(folder):
        if name.startswith("."):
            continue
        path = folder / name
        match = _NAME.fullmatch(name)
        if match is None:
            message = "this is no file of a revision"
            faults.append(_fault(path, message, "move it out of this folder"))
            continue
        one = _read(path, folder.name, faults)
        if one is not None:
            found.append(one)
    kept, rivals = _settled(sorted(found, key=lambda r: (r.number, r.day, r.fingerprint)))
    return Ledger(tuple(kept), tuple(faults), tuple(rivals))


def _settled(found: list[Revision]) -> tuple[list[Revision], list[Revision]]:
    """Keep the earliest day of each print; tell rivals that no later revision joins."""
    kept: dict[tuple[int, str], Revision] = {}
    for one in found:
        kept.setdefault((one.number, one.fingerprint), one)
    joined = {mark for one in found for mark in one.joins}
    numbers: dict[int, list[Revision]] = {}
    for one in kept.values():
        numbers.setdefault(one.number, []).append(one)
    rivals = [
        one
        for same in numbers.values()
        if len(same) > 1 and not all(r.fingerprint in joined for r in same)
        for one in same
    ]
    return list(kept.values()), rivals


def rivalry(rivals: tuple[Revision, ...]) -> tuple[Fault, ...]:
    """Say of each rival what to do."""
    names = ", ".join(Path(one.file).name for one in rivals)
    message = f"two people made revision {rivals[0].number} of '{rivals[0].nickname}' differently: {names}"
    hint = (
        "delete the file whose cards were never handed out; if both were, run "
        f"'cardgen build {rivals[0].rig} --join-revisions' to go on with the next number"
    )
    return (Fault(rivals[0].file, 1, 1, "revision-twice", "", message, hint),)


def _fault(path: Path, message: str, hint: str, line: int = 1, col: int = 1) -> Fault:
    return Fault(str(path), line, col, "revision-file", "", message, hint)


def _read(path: Path, rig: str, faults: list[Fault]) -> Revision | None:
    hint = "take the file from version control again, or delete it if its cards were never handed out"
    try:
        text = path.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as problem:
        reason = getattr(problem, "strerror", None) or "it is not UTF-8 text"
        faults.append(_fault(path, f"the file of a revision cannot be read: {reason}", hint))
        return None
    for number, line in enumerate(text.splitlines(), 1):
        if line.startswith(("<<<<<<<", ">>>>>>>")):
            faults.append(_fault(path, "an unfinished merge is in this file", hint, number))
            return None
    try:
        one = from_json(json.loads(text), str(path))
    except json.JSONDecodeError as problem:
        faults.append(_fault(path, f"not JSON: {problem.msg}", hint, problem.lineno, problem.colno))
        return None
    except (KeyError, TypeError, ValueError, AttributeError, RecursionError) as problem:
        faults.append(_fault(path, f"not a revision: {problem}", hint))
        return None
    if path.name != one.file_name or one.rig != rig:
        faults.append(_fault(path, "name and content of this revision do not agree", hint))
        return None
    return one


def enter(path: Path, aside: Path) -> None:
    """Enter a revision in the ledger; the same one again changes nothing.

    Args:
        path: its file in the ledger.
        aside: the same file where it was put together.

    Raises:
        OutputRefusedError: the folder cannot be written.
    """
    with refusing(f"the revision '{path}' cannot be entered, so nothing was built"):
        path.parent.mkdir(parents=True, exist_ok=True)
        replace_whole(path, aside.read_bytes())
