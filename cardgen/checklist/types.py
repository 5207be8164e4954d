"""What the checklist hands on: phases with lines, what was removed, what is due."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from cardgen.source.faults import dotted

SAFETY = "safety_critical"
DueState = Literal["due", "good", "unknown"]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a list, ready to print.

    Args:
        id: stable key of the item; own items are ``own-1``, ``own-2`` and so on.
        text: what to do, values put in.
        say: the same as a challenge, what to look at; ``text`` where nothing shorter is held.
        seen: the state or value to see when finished; empty for own items.
        why: the reason.
        severity: ``safety_critical``, ``important`` or ``good_habit``.
        signal: ANSI Z535 signal word for a caution box, or None.
        tier: 1 always on the card, 2 full checklist, 3 report only [-].
        every: keys of the frequencies.
        mode: ``tell``, ``show``, ``confirm`` or ``sign`` on handover lines, else None.
        source_words: sources as they are printed, each with its standing.
        kind: ``act``, ``value``, ``ban``, ``drill`` or ``home``.
        look: lines with the same look are settled by one look at one place; may be empty.
        short: its word in a line that names several, may be empty.
        undone_by: ids of the lines that undo it later.
        if_fitted: the rig file does not say whether the gear is there.
        own: added by the owner.
        replaced: worded by the owner.
    """

    id: str
    text: str
    say: str
    seen: str
    why: str
    severity: str
    signal: str | None
    tier: int
    every: tuple[str, ...]
    mode: str | None
    source_words: tuple[str, ...]
    kind: str = "act"
    look: str = ""
    short: str = ""
    undone_by: tuple[str, ...] = ()
    if_fitted: bool = False
    own: bool = False
    replaced: bool = False

    @property
    def safety(self) -> bool:
        """Whether leaving it out can by itself kill, injure or lose the trailer."""
        return self.severity == SAFETY


@dataclass(frozen=True, slots=True)
class PhaseList:
    """The lines of one phase, in the order in which they are done.

    Args:
        key: stable key of the phase.
        title: heading for people.
        reading: how the list is used, in words.
        items: the lines.
        about: one sentence under the heading, may be empty.
    """

    key: str
    title: str
    reading: str
    items: tuple[Line, ...]
    about: str = ""

    def of(self, *kinds: str) -> tuple[Line, ...]:
        """Its lines of some kinds, in order: ``ban`` for what stands over a part of the short list."""
        return tuple(line for line in self.items if line.kind in kinds)


@dataclass(frozen=True, slots=True)
class Removed:
    """An item that applies to the rig and that the owner left out, with the reason."""

    id: str
    text: str
    reason: str
    severity: str


@dataclass(frozen=True, slots=True)
class Due:
    """Something that falls due by the calendar.

    Args:
        key, title: name for programs and for people.
        state: due, good, or unknown because a date is missing or unusable.
        last: the day it was last done or made, None when unknown.
        since: the day since which it is due, None when it is not.
        until: the day until which it is good, None when it is not.
        interval: the interval in words.
        basis: sources of the interval as they are printed.
        path: the field to write in the rig file.
        items: ids of the checklist items that deal with it.
        frequency: frequency key whose lines all fall due with it, or empty.
        note: what a person has to know besides, may be empty.
    """

    key: str
    title: str
    state: DueState
    last: dt.date | None
    since: dt.date | None
    until: dt.date | None
    interval: str
    basis: tuple[str, ...]
    path: str
    items: tuple[str, ...] = ()
    frequency: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Checklist:
    """Every line for one rig, in order; lists for cards are views of it."""

    phases: tuple[PhaseList, ...]
    removed: tuple[Removed, ...] = ()
    due: tuple[Due, ...] = ()

    def lines(self) -> tuple[Line, ...]:
        """All lines of all phases, in order."""
        return tuple(line for phase in self.phases for line in phase.items)


@dataclass(frozen=True, slots=True)
class ChecklistProblem:
    """A fault in the owner's changes.

    Args:
        code: stable code, explained in ``checklist.codes``.
        path: steps to the field from the top of the rig file.
        message: what is wrong.
        hint: what to write.
        at_key: whether the name of the field is wrong and not its value.
    """

    code: str
    steps: tuple[str | int, ...]
    message: str
    hint: str
    at_key: bool = False

    @property
    def path(self) -> str:
        """The field as messages name it, for example ``checklist.add[0].phase``."""
        return dotted(self.steps)
