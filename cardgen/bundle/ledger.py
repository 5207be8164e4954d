"""The ledger of revisions: one small file per revision, never changed once written.

``rigs/revisions/<rig>/0003-2026-11-25-1f0c9a7e.json`` holds revision 3. The name carries
number, day and the start of the fingerprint, so that two people's ledgers merge as a plain
union of files. Each is sealed by a fingerprint of all it says and names the seal of the one before
it, so that a file that was edited by hand or is missing in the middle is found by any build; that the
newest ones are missing is known from the manifest. The same revision made twice (other days, same print) is no conflict: the
earlier day counts. Two revisions of one number that print something different are refused
with what to do.
"""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from annotated_types import Ge
from typing_extensions import TypeAliasType

from cardgen.bundle.disk import refusing, replace_whole
from cardgen.bundle.inputs import fingerprint, of_bytes
from cardgen.bundle.manifest import is_slug
from cardgen.present.history import Notice
from cardgen.source.disk import Disk
from cardgen.source.faults import Fault

if TYPE_CHECKING:
    from pydantic import TypeAdapter

FORMAT = 4
DATED, SEALED, UNSEALED = 3, 2, 1
"""Formats of earlier cardgens: with other names for days, without prints of cards, and without seals."""
MARK = 6
"""Letters of a fingerprint that are printed on its card [-]."""
Facts = TypeAliasType("Facts", "Mapping[str, str | Facts]")
"""What a rig file says, as nested texts; kept with a revision to tell later what was changed."""


@dataclass(frozen=True, slots=True)
class Issue:
    """Revision number, day and mark of the print that stand on a card."""

    number: int
    day: dt.date
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """What one revision changed.

    Args:
        number: revision [-].
        day: day of the build that made it.
        words: what changed, one change per line; empty for the first revision [-].
        reprint: ids of the cards whose print changed [-].
        withdrawn: ids of the cards that are no longer made [-].
        waits: ids of cards to print again on which no figure, limit or thing to do changed [-].
    """

    number: int
    day: dt.date
    words: tuple[str, ...]
    reprint: tuple[str, ...]
    withdrawn: tuple[str, ...] = ()
    waits: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RevisionInfo:
    """The revision of a rig that is being made.

    Args:
        number, day: newest revision of the rig and its day.
        cards: for each card the revision in which its print last changed: this is printed on
            it, so that a card that did not change stays current.
        history: what each revision changed, newest first.
        notices: what holders of earlier prints of a card are told, by id.
    """

    number: int
    day: dt.date
    cards: Mapping[str, Issue]
    history: tuple[Change, ...]
    notices: Mapping[str, tuple[Notice, ...]] = field(default_factory=dict)

    def of(self, card: str) -> Issue:
        """Revision and day to print on a card."""
        return self.cards.get(card) or Issue(self.number, self.day)


@dataclass(frozen=True, slots=True)
class CardPrint:
    """One card as a revision printed it.

    Args:
        title: what it is [-].
        fingerprint: of its print; empty where none was made, or by an earlier cardgen [-].
        since, since_day: revision that last changed it, and its day.
        values: what it prints, by label.
        page: fingerprint of what the print came of; empty from an earlier cardgen [-].
    """

    title: str
    fingerprint: str
    since: Annotated[int, Ge(1)]
    since_day: dt.date
    values: Mapping[str, str]
    page: str = ""

    def prints(self, page: str, fingerprint: str) -> bool:
        """Whether it is the print that came of a page, or has that fingerprint."""
        return bool(page and page == self.page) or bool(fingerprint and fingerprint == self.fingerprint)


@dataclass(frozen=True, slots=True)
class RigRevision:
    """One revision of one rig.

    Args:
        rig: folder name of the rig [-].
        nickname: the nickname that is printed [-].
        number: running number, from 1 [-].
        day: day of the build that made it.
        key_numbers: label and value [-].
        cards: every card that was current with this revision, by id.
        facts: what the rig file said.
        joins: fingerprints of two people's revisions of one number that this one follows [-].
        was: folder name of the rig up to the revision before, where the owner gave it another name [-].
        after: seal of the revision before it; empty when there was none, or none with a seal [-].
        file: where it was read.
        seal: of what was read there.
    """

    rig: str
    nickname: str
    number: Annotated[int, Ge(1)]
    day: dt.date
    key_numbers: Mapping[str, str]
    cards: Mapping[str, CardPrint]
    facts: Facts
    joins: tuple[str, ...] = ()
    after: str = ""
    was: str = ""
    file: str = field(default="", compare=False)
    seal: str = field(default="", compare=False)

    @property
    def fingerprint(self) -> str:
        """Fingerprint of what is printed, without number and day."""
        return fingerprint({name: card.fingerprint or card.page for name, card in self.cards.items()})

    def same_print(self, other: RigRevision) -> bool:
        """Whether another revision prints the same cards."""
        return set(self.cards) == set(other.cards) and all(
            card.prints(other.cards[name].page, other.cards[name].fingerprint)
            or (card.page, card.fingerprint) == (other.cards[name].page, other.cards[name].fingerprint)
            for name, card in self.cards.items()
        )

    @property
    def file_name(self) -> str:
        """Name of the file of this revision."""
        return f"{self.number:04d}-{self.day.isoformat()}-{self.fingerprint[:8]}.json"


@cache
def _converter() -> TypeAdapter[RigRevision]:
    from pydantic import TypeAdapter  # not loaded where no revision is read or made

    return TypeAdapter(RigRevision)


def to_text(one: RigRevision) -> str:
    """Write a revision as the text of its file."""
    said = _converter().dump_python(one, mode="json", exclude={"file", "seal"})
    data = {"format": FORMAT, "fingerprint": one.fingerprint, **said}
    return json.dumps(data | {"seal": fingerprint(data)}, indent=1, ensure_ascii=False) + "\n"


def from_json(data: dict[str, Any], file: str) -> RigRevision:
    """Read a revision from parsed JSON.

    Raises:
        KeyError, TypeError, ValueError: something is missing or of a wrong kind.
    """
    version = data["format"]
    if version not in (FORMAT, DATED, SEALED, UNSEALED):
        raise ValueError(f"format {version} is not known to this version of cardgen")
    seal = "" if version == UNSEALED else data.pop("seal")
    named = data if version == FORMAT else _renamed(data)
    made = _converter().validate_json(json.dumps(named | {"file": file, "seal": seal}), strict=True)
    if made.was and not is_slug(made.was):
        raise ValueError(f"'{made.was[:80]}' is no folder name of a rig")
    if made.fingerprint != data["fingerprint"]:
        raise ValueError("its content does not give its fingerprint")
    if seal and fingerprint(data) != seal:
        raise ValueError("it was edited after it was written")
    return made


def _renamed(data: dict[str, Any]) -> dict[str, Any]:
    """A revision of an earlier format with the names of today."""
    cards = {
        name: card | {"since_day": card["since_date"], "page": card.get("page", "")}
        for name, card in data["cards"].items()
    }
    return data | {"day": data["date"], "cards": cards}


FOLDER = "revisions"
_NAME = re.compile(r"(\d{4,9})-(\d{4}-\d{2}-\d{2})-([0-9a-f]{8})\.json")


@dataclass(frozen=True, slots=True)
class Ledger:
    """All revisions of one rig, oldest first, and what is wrong with them.

    ``rivals`` are revisions of one number that print something different and are not joined.
    """

    revisions: tuple[RigRevision, ...] = ()
    faults: tuple[Fault, ...] = ()
    rivals: tuple[RigRevision, ...] = ()

    @property
    def last(self) -> RigRevision | None:
        """The newest revision."""
        return self.revisions[-1] if self.revisions else None


def _names(folder: Path) -> list[str]:
    try:
        return sorted(one.name for one in folder.iterdir())
    except OSError:
        return []


def state(folder: Path) -> Mapping[str, str]:
    """Name and fingerprint of every file of a ledger: enough to see that it has changed."""
    found = {}
    for name in _names(folder):
        try:
            found[name] = of_bytes(Disk().read_bytes(folder / name))
        except OSError:
            found[name] = ""
    return found


def read_ledger(folder: Path, seen: frozenset[str] = frozenset()) -> Ledger:
    """Read all revisions of a rig from its folder, and find what is wrong with them.

    Args:
        folder: ``revisions/<rig>`` beside the rig files; it need not exist.
        seen: names of the rig that were read already.
    """
    found: list[RigRevision] = []
    faults: list[Fault] = []
    for name in _names(folder):
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
    for name in sorted({one.was for one in found if one.was} - seen - {folder.name}):
        earlier = read_ledger(folder.parent / name, seen | {folder.name})
        found += earlier.revisions
        faults += earlier.faults
    if not faults:
        faults += _unchained(found)
    kept, rivals = _settled(sorted(found, key=lambda r: (r.number, r.day, r.fingerprint)))
    return Ledger(tuple(kept), tuple(faults), tuple(rivals))


def _unchained(found: list[RigRevision]) -> Iterator[Fault]:
    """Tell of each revision that was made after one that is not there."""
    for one in found:
        if one.after and one.after not in {other.seal for other in found if other.number < one.number}:
            message = (
                f"the revision before revision {one.number} is missing, or another one stands in its place"
            )
            hint = "take the missing file from version control again; or delete this one too, if its cards were never handed out"
            yield _fault(Path(one.file), message, hint)


def _settled(found: list[RigRevision]) -> tuple[list[RigRevision], list[RigRevision]]:
    """Keep the earliest day of each print; tell rivals that no later revision joins."""
    numbers: dict[int, list[RigRevision]] = {}
    for one in found:
        same = numbers.setdefault(one.number, [])
        if not any(one.same_print(other) for other in same):
            same.append(one)
    joined = {mark for one in found for mark in one.joins}
    rivals = [
        one
        for same in numbers.values()
        if len(same) > 1 and not all(r.fingerprint in joined for r in same)
        for one in same
    ]
    return [one for same in numbers.values() for one in same], rivals


def rivalry(rivals: tuple[RigRevision, ...]) -> tuple[Fault, ...]:
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


def _read(path: Path, rig: str, faults: list[Fault]) -> RigRevision | None:
    hint = "take the file from version control again, or delete it if its cards were never handed out"
    try:
        text = Disk().read_bytes(path).decode("utf-8")
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
        faults.append(_fault(path, f"not a revision: {_words(problem)}", hint))
        return None
    if path.name != one.file_name or one.rig != rig:
        faults.append(_fault(path, "name and content of this revision do not agree", hint))
        return None
    return one


def _words(problem: Exception) -> str:
    """What is wrong, in one line; of what the converter found only the first."""
    found = getattr(problem, "errors", None)
    if found is None:
        return str(problem)
    first = found(include_url=False, include_input=False)[0]
    return f"{'.'.join(map(str, first['loc']))}: {first['msg'].lower()}"


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
