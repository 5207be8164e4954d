"""Choose the items of a rig, put the values in, and apply the owner's changes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from cardgen.checklist.catalog import Catalog, catalog
from cardgen.checklist.changes import removals, replacements
from cardgen.checklist.conditions import Value
from cardgen.checklist.due import due_list
from cardgen.checklist.fill import fill
from cardgen.checklist.schema import ItemDef
from cardgen.checklist.types import SAFETY, Checklist, Line, PhaseList, Removed
from cardgen.checklist.views import (
    for_arrival,
    for_borrower,
    for_delivery,
    for_departure,
    for_emergency,
    for_road,
    for_season,
    killer_lines,
)
from cardgen.model.rig import OwnItem, Rig
from cardgen.tables.words import say

__all__ = [
    "applies",
    "assume_absent",
    "build",
    "for_arrival",
    "for_borrower",
    "for_delivery",
    "for_departure",
    "for_emergency",
    "for_road",
    "for_season",
    "killer_lines",
    "usual_frequency",
]
ABSENT: Mapping[str, Value] = {"flag": False, "count": 0, "choice": "none"}


def applies(item: ItemDef, features: Mapping[str, Value]) -> bool | None:
    """Whether an item belongs on the list: yes, no, or None for "if fitted".

    A safety-critical item whose condition is open stays, marked. Any other item
    is tried again with the features that count as absent when left out.
    """
    made = catalog()
    condition = made.conditions[item.id]
    holds = condition.holds(features)
    if holds is not None or item.severity == SAFETY:
        return holds
    return condition.holds(features, assume_absent(features))


def assume_absent(features: Mapping[str, Value]) -> dict[str, Value]:
    """The features with every unknown that counts as absent put to absent."""
    defs = catalog().features
    return {
        name: ABSENT[defs[name].kind] if value is None and defs[name].left_out == "absent" else value
        for name, value in features.items()
    }


def build(
    rig: Rig,
    features: Mapping[str, Value],
    values: Mapping[str, str | None],
    day: dt.date | None,
) -> Checklist:
    """Make the checklist of a rig.

    Args:
        rig: the rig, for its market, its owner's changes and its dates.
        features: every feature, as ``features(rig)`` gives them [-].
        values: formatted texts by value name, None where unknown [-].
        day: the build date for what is due; without one nothing is reckoned.

    Returns:
        Every applicable line in order, what the owner removed, and what is due.
        Faulty changes of the owner (see ``problems``) are not applied.
    """
    made = catalog()
    market = rig.market
    replaced, removed = replacements(rig), removals(rig)
    gone: list[Removed] = []
    phases: list[PhaseList] = []
    for phase in made.scheme.phases:
        body: list[Line] = []
        closing: list[Line] = []
        for item in made.items:
            fits = applies(item, features) if item.phase == phase.key else False
            if fits is False:
                continue
            line = _line(made, item, values, market, fits is None, replaced.get(item.id))
            if item.id in removed:
                gone.append(Removed(line.id, line.text, removed[item.id], line.severity))
            else:
                (closing if item.last else body).append(line)
        lines = (*body, *_own(made, rig, phase.key), *closing)
        if lines:
            title, about = say(phase.title, market), say(phase.about, market)
            phases.append(PhaseList(phase.key, title, made.scheme.readings[phase.reading], lines, about))
    due = () if day is None else due_list(rig, features, day)
    return Checklist(tuple(phases), tuple(gone), due)


def _line(
    made: Catalog,
    item: ItemDef,
    values: Mapping[str, str | None],
    market: str,
    if_fitted: bool,
    wording: str | None,
) -> Line:
    return Line(
        id=item.id,
        text=wording or fill(item.text, values, market),
        say=wording or fill(item.say or item.text, values, market, blank=bool(item.say)),
        seen=fill(item.seen, values, market, blank=True),
        why=say(item.why, market),
        severity=item.severity,
        signal=item.signal,
        tier=item.tier,
        every=item.every,
        mode=item.mode,
        source_words=made.source_words(item.source, market),
        kind=item.kind or "act",
        look=item.look,
        short=fill(item.short, values, market, blank=True),
        undone_by=item.undone_by,
        if_fitted=if_fitted,
        replaced=wording is not None,
    )


def _own(made: Catalog, rig: Rig, phase: str) -> list[Line]:
    every = usual_frequency(made, phase)
    lines: list[Line] = []
    for number, own in enumerate(rig.checklist.add, start=1):
        if own.phase == phase and own.text.strip():
            lines.append(_own_line(own, number, every, phase))
    return lines


def _own_line(own: OwnItem, number: int, every: tuple[str, ...], phase: str) -> Line:
    return Line(
        id=f"own-{number}",
        text=own.text.strip(),
        say=own.text.strip(),
        seen="",
        why=own.why.strip(),
        severity=SAFETY if own.safety else "important",
        signal=None,
        tier=1,
        every=every,
        mode="tell" if phase == "handover" else None,
        source_words=("the owner's own item",),
        own=True,
    )


def usual_frequency(made: Catalog, phase: str) -> tuple[str, ...]:
    """The frequencies that own items of a phase get: the phase's most common ones."""
    if phase == "handover":
        return ("at_handover", "at_delivery")
    counts: dict[str, int] = {}
    for item in made.items:
        if item.phase == phase:
            counts[item.every[0]] = counts.get(item.every[0], 0) + 1
    return (max(counts, key=lambda key: counts[key]),)
