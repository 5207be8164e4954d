"""What a rig file says, as texts, and what changed between two revisions, in words."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from collections.abc import Iterator, Mapping

from cardgen.bundle.ledger import Change, Facts, RigRevision
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


_LONGEST = 12
"""Changes of one card's printed values that are told one by one."""


def change(old: RigRevision | None, new: RigRevision) -> Change:
    """Tell what a revision changed.

    Args:
        old: the revision before; None when ``new`` is the first.
        new: the revision.
    """
    if old is None:
        reprint = tuple(name for name, card in new.cards.items() if card.since == new.number)
        return Change(new.number, new.day, (), reprint)
    reprint = tuple(name for name, card in new.cards.items() if card.since > old.number)
    gone = tuple(name for name in old.cards if name not in new.cards)
    return Change(new.number, new.day, tuple(_words(old, new, reprint, gone)), reprint, gone)


def history(revisions: tuple[RigRevision, ...]) -> tuple[Change, ...]:
    """Tell what each revision changed, newest first.

    Args:
        revisions: of one rig, ordered by number.
    """
    told = []
    for one in revisions:
        before = [other for other in revisions if other.number < one.number]
        made = change(before[-1] if before else None, one)
        first = before[-1].number + 1 if before else 1
        if first < one.number:  # the newest files of the ledger were lost
            span = (
                f"revision {first}" if first == one.number - 1 else f"revisions {first} to {one.number - 1}"
            )
            made = dataclasses.replace(made, words=(f"{span} missing from the ledger", *made.words))
        told.append(made)
    return tuple(reversed(told))


def _words(
    old: RigRevision, new: RigRevision, reprint: tuple[str, ...], gone: tuple[str, ...]
) -> Iterator[str]:
    if old.nickname != new.nickname:
        yield f"nickname: {old.nickname} -> {new.nickname}"
    yield from _values("", old.key_numbers, new.key_numbers)
    yield from facts_changed(old.facts, new.facts)
    said = set(_values("", old.key_numbers, new.key_numbers))
    for name in reprint:
        title = new.cards[name].title
        if name not in old.cards:
            yield f"new card: {title}"
            continue
        told = list(_values("", old.cards[name].values, new.cards[name].values))
        fresh = [words for words in told if words not in said]
        said.update(fresh)
        for words in fresh[:_LONGEST]:
            yield f"{title}: {words}"
        if len(fresh) > _LONGEST:
            yield f"{title}: {len(fresh) - _LONGEST} more changes"
        if not told:
            yield f"{title}: its wording or layout changed"
    for name in gone:
        yield f"no longer made: {old.cards[name].title}"


def _values(title: str, old: Mapping[str, str], new: Mapping[str, str]) -> Iterator[str]:
    lead = f"{title}: " if title else ""
    for label, value in new.items():
        if label not in old:
            yield f"{lead}new: {label} {value}".rstrip()
        elif old[label] != value:
            yield f"{lead}{label}: {old[label]} -> {value}"
    for label in old:
        if label not in new:
            yield f"{lead}no longer there: {label}"


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
