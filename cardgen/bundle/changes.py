"""What a rig file says, as texts, and what changed between two revisions, in words."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from collections.abc import Iterator, Mapping

from cardgen.bundle.ledger import MARK, Change, Facts, RigRevision
from cardgen.present.history import Notice
from cardgen.units.quantity import Quantity

_NAMES = ("name", "who", "date", "phase")


def facts(record: object) -> dict[str, str | Facts]:
    """Write what a rig says that is not the usual value, name by name.

    Args:
        record: a rig, or any dataclass of the model.
    """
    found: dict[str, str | Facts] = {}
    if not dataclasses.is_dataclass(record) or isinstance(record, type):
        return found
    for field in dataclasses.fields(record):
        value = getattr(record, field.name)
        if value is None or value == _usual(field):
            continue
        said = _said(value)
        if said not in ("", {}):
            found[field.name.replace("_", " ")] = said
    return found


def _usual(field: dataclasses.Field[object]) -> object:
    if field.default is not dataclasses.MISSING:
        return field.default
    return field.default_factory() if field.default_factory is not dataclasses.MISSING else None


def _said(value: object) -> str | Facts:
    if isinstance(value, Quantity):
        return _spelled(value.text)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): _said(inner) for key, inner in value.items()}
    if isinstance(value, (tuple, list)):
        return _listed(tuple(value))
    if dataclasses.is_dataclass(value):
        return facts(value)
    return " ".join(str(value).split())


def _listed(items: tuple[object, ...]) -> str | Facts:
    """A list of plain values on one line; records under their name or number."""
    if not any(dataclasses.is_dataclass(one) and not isinstance(one, Quantity) for one in items):
        return ", ".join(str(_said(one)) for one in items)
    named: dict[str, str | Facts] = {}
    for number, one in enumerate(items, 1):
        key = next((key for key in _NAMES if hasattr(one, key)), "")
        name = str(getattr(one, key)) if key else str(number)
        said = facts(one)
        said.pop(key, None)
        named[f"{name} ({number})" if name in named else name] = said
    return named


def _spelled(text: str) -> str:
    """The words of the file without grouping commas and doubled blanks."""
    return " ".join(re.sub(r"(?<=\d),(?=\d{3})", "", text).split())


@dataclasses.dataclass(frozen=True, slots=True)
class Difference:
    """One thing that a print says differently.

    Args:
        label: what it is; a text without label has the text itself here.
        old, new: what was and is printed; None where nothing was or is.
    """

    label: str
    old: str | None
    new: str | None

    @property
    def words(self) -> str:
        """The change on one line."""
        if self.old is None:
            return f"new: {self.label.removeprefix('item ')} {self.new}".rstrip()
        if self.new is None:
            return f"no longer there: {self.label.removeprefix('item ')} {self.old}".rstrip()
        if not self.label:
            return f"{self.old} -> {self.new}"
        number, unit = _split(self.new)
        before, same = _split(self.old)
        step = f"{before} -> {number} {unit}" if unit and unit == same else f"{self.old} -> {self.new}"
        return f"{self.label.removeprefix('item ')}: {step}"

    @property
    def spoken(self) -> str:
        """The change as it is told to somebody who holds the old card."""
        label = "" if self.label.startswith("item ") else self.label
        if self.old is None or self.new is None:
            lead, text = ("New", self.new) if self.old is None else ("No longer there", self.old)
            return f"{lead}: {' '.join(one for one in (label, text) if one).rstrip('.')}."
        lead = f"{label}: y" if label else "Y"
        return f"{lead}our card says {self.old or 'nothing'}, now {self.new or 'nothing'}".rstrip(".") + "."

    @property
    def waits(self) -> bool:
        """Whether only words changed: no figure, limit, verdict or thing to do or not to do."""
        if (
            self.old is None
            or self.new is None
            or self.label.startswith(("item ", "verdict", "Stop", "whom"))
        ):
            return False
        return _NUMBERS.findall(self.old) == _NUMBERS.findall(self.new)


_NUMBERS = re.compile(r"\d+")
_UNIT = re.compile(r"([-+]?[\d.,]+) (\D+)")


def _split(value: str) -> tuple[str, str]:
    """A number and its unit; no unit where the value is something else."""
    found = _UNIT.fullmatch(value)
    return (found[1], found[2]) if found else (value, "")


def lines(old: Mapping[str, str], new: Mapping[str, str]) -> tuple[Difference, ...]:
    """Tell how the printed values of two prints differ; what only stands elsewhere is no difference.

    Args:
        old, new: printed values by label; a text without a label stands for itself.
    """
    told = [
        Difference(name, old[name], value)
        for name, value in new.items()
        if name in old and old[name] != value
    ]
    fresh = [name for name in new if name not in old]
    gone = [name for name in old if name not in new]
    for name in fresh:
        twin = next((one for one in gone if _shape(one) == _shape(name)), None)
        if twin is None:
            told.append(Difference(name, None, new[name]))
            continue
        gone.remove(twin)
        if old[twin] == new[name] == "":
            told.append(Difference("", twin, name))
        else:
            told.append(Difference("", f"{twin} {old[twin]}".rstrip(), f"{name} {new[name]}".rstrip()))
    return (*told, *(Difference(name, old[name], None) for name in gone))


def _shape(text: str) -> str:
    """A text without its numbers: of the same shape, it is the same text with other numbers."""
    return _NUMBERS.sub("#", text)


def reprinted(old: RigRevision, new: RigRevision) -> tuple[str, ...]:
    """Ids of the cards of a revision that print something else than in an earlier one, or are new."""
    return tuple(
        name
        for name, card in new.cards.items()
        if name not in old.cards
        or not (old.cards[name].since == card.since or old.cards[name].prints(card.page, card.fingerprint))
    )


def change(old: RigRevision | None, new: RigRevision) -> Change:
    """Tell what a revision changed, net of what was changed back.

    Args:
        old: the revision before; None when ``new`` is the first.
        new: the revision.
    """
    if old is None:
        reprint = tuple(name for name, card in new.cards.items() if card.since == new.number)
        return Change(new.number, new.day, (), reprint)
    reprint = reprinted(old, new)
    gone = tuple(name for name in old.cards if name not in new.cards)
    told = {
        name: lines(old.cards[name].values, new.cards[name].values) for name in reprint if name in old.cards
    }
    waits = tuple(name for name, found in told.items() if found and all(line.waits for line in found))
    words = (
        tuple(_words(old, new, told, reprint, gone))
        if reprint or gone or old.nickname != new.nickname
        else ()
    )
    return Change(new.number, new.day, words, reprint, gone, waits)


def history(revisions: tuple[RigRevision, ...]) -> tuple[Change, ...]:
    """Tell what each revision changed, newest first.

    Args:
        revisions: of one rig, ordered by number.
    """
    told: list[Change] = []
    for one in revisions:
        before = [other for other in revisions if other.number < one.number]
        made = change(before[-1] if before else None, one)
        first = before[-1].number + 1 if before else 1
        if first < one.number:  # the newest files of the ledger were lost
            span = (
                f"revision {first}" if first == one.number - 1 else f"revisions {first} to {one.number - 1}"
            )
            made = dataclasses.replace(made, words=(f"{span} missing from the ledger", *made.words))
        if told and told[-1].number == one.number:  # two people made it, and a later one joins both
            twin = told.pop()
            both = {
                name: tuple(dict.fromkeys((*getattr(twin, name), *getattr(made, name))))
                for name in ("words", "reprint", "withdrawn")
            }
            waits = tuple(card for card in both["reprint"] if {card} <= {*twin.waits, *made.waits})
            made = Change(made.number, made.day, waits=waits, **both)
        told.append(made)
    return tuple(reversed(told))


def notices(revisions: tuple[RigRevision, ...], card: str) -> tuple[Notice, ...]:
    """Tell holders of each earlier print of a card what is different now, newest print first.

    Args:
        revisions: of one rig, ordered by number; the last is what is printed now.
        card: id of the card.
    """
    now = revisions[-1]
    held: dict[int, RigRevision] = {}
    for one in revisions[:-1]:
        if card in one.cards:
            held.setdefault(one.cards[card].since, one)
    told = []
    for since, one in held.items():
        was, made = one.cards[card], now.cards[card]
        if since == made.since:
            continue
        if was.prints(made.page, made.fingerprint):
            told.append(Notice(since, was.fingerprint[:MARK], was.since_day, (), ()))
            continue
        own = [line.spoken for line in lines(was.values, made.values)]
        changed = facts_changed(one.facts, now.facts)
        causes = [words.replace(" -> ", ", now ") for words in changed if not _is_said(words, own)]
        told.append(
            Notice(since, was.fingerprint[:MARK], was.since_day, tuple(own) or (REDRAWN,), tuple(causes))
        )
    return tuple(sorted(told, key=lambda notice: -notice.number))


def _is_said(words: str, own: list[str]) -> bool:
    """Whether a change of the file ends in values that a line of the card already tells."""
    old, arrow, new = words.rpartition(": ")[2].partition(" -> ")
    return bool(arrow) and any(old in line and new in line for line in own)


REDRAWN = "Its drawing changed, and no number on it."


def _words(
    old: RigRevision,
    new: RigRevision,
    told: Mapping[str, tuple[Difference, ...]],
    reprint: tuple[str, ...],
    gone: tuple[str, ...],
) -> Iterator[str]:
    """Each printed change once, with the cards to print for it; then what the file says differently."""
    cards: dict[str, list[str]] = {}
    for name, found in told.items():
        for line in found or (Difference("", None, None),):
            words = line.words if found else "its drawing changed, and no number on it"
            cards.setdefault(words, []).append(new.cards[name].title)
    for words, titles in cards.items():
        if not words.startswith("name: "):
            yield f"{words}: print {_joined(titles)}"
    causes = tuple(facts_changed(old.facts, new.facts))
    if old.nickname != new.nickname and not any(one.startswith("nickname: ") for one in causes):
        yield f"nickname: {old.nickname} -> {new.nickname}"
    yield from causes
    for name in reprint:
        if name not in old.cards:
            yield f"new card: {new.cards[name].title}"
    for name in gone:
        yield f"no longer made: {old.cards[name].title}"


def _joined(titles: list[str]) -> str:
    """Titles in a row: glovebox, loading and wallet card."""
    names = [title[:1].lower() + title[1:] for title in titles]
    *most, last = names
    most = [one.removesuffix(" card") if last.endswith(" card") else one for one in most]
    return f"{', '.join(most)} and {last}" if most else last


def facts_changed(old: Facts, new: Facts, path: str = "") -> Iterator[str]:
    """Tell what the rig file says differently, one change per line.

    Args:
        old, new: facts of two revisions.
        path: words for where in the rig they stand.
    """
    for name, value in new.items():
        where = f"{path} {name}".strip()
        before = old.get(name)
        if before is None:
            yield from _whole("new", where, value)
        elif isinstance(before, str) or isinstance(value, str):
            if before != value:
                yield f"{where}: {_brief(before)} -> {_brief(value)}"
        else:
            yield from facts_changed(before, value, where)
    for name, value in old.items():
        if name not in new:
            yield from _whole("no longer there", f"{path} {name}".strip(), value)


def _whole(lead: str, where: str, value: str | Facts) -> Iterator[str]:
    """Tell of something that came or went as a whole; a group of groups is told one by one."""
    if not isinstance(value, str) and value and not any(isinstance(one, str) for one in value.values()):
        for name, inner in value.items():
            yield from _whole(lead, f"{where} {name}", inner)
        return
    words = _brief(value)
    yield f"{lead}: {where} ({words})" if words else f"{lead}: {where}"


def _brief(value: str | Facts) -> str:
    """A few words for a value: its first four facts."""
    if isinstance(value, str):
        return value
    plain = [f"{name} {inner}" for name, inner in value.items() if isinstance(inner, str)]
    return ", ".join(plain[:4])
