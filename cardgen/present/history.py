"""Revisions of a rig's cards, what changed with each, and the cards that are current."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.present.format import day_words


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision of a rig.

    Args:
        number: running number, from 1 [-].
        day: day of the build that made it.
        changes: what changed, in words, for example ``ball mount drop 2 in -> 4 in`` [-].
        cards: ids of the cards whose print changed; None when that is not known [-].
    """

    number: int
    day: dt.date
    changes: tuple[str, ...] = ()
    cards: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class Notice:
    """What a holder of an earlier print of a card is told.

    Args:
        number, day: revision and day on that card.
        mark: its mark; empty on a card of an earlier cardgen [-].
        lines: what it says differently from now, in words; none when it prints the same again.
        causes: what the rig file says differently besides [-].
    """

    number: int
    mark: str
    day: dt.date
    lines: tuple[str, ...]
    causes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Download:
    """One card that is current, and the file that is offered of it on the report.

    Args:
        id: id of the card, for example ``glovebox-card`` [-].
        letter: short name in the card's QR address [-].
        title: what it is [-].
        href: address relative to the report; empty when this build made no file of it [-].
        revision: revision in which its print last changed [-].
        note: size and faces, in words [-].
        mark: mark of its print; empty when it is not known [-].
        prints: earlier prints of it, newest first.
    """

    id: str
    letter: str
    title: str
    href: str
    revision: int
    note: str = ""
    mark: str = ""
    prints: tuple[Notice, ...] = ()


@dataclass(frozen=True, slots=True)
class RevisionRow:
    """One line of the revision history, ready to print."""

    number: str
    date: str
    changes: tuple[str, ...]
    cards: str


def rows(history: Sequence[Revision], downloads: Sequence[Download]) -> tuple[RevisionRow, ...]:
    """Write the history, newest first."""
    titles = {d.id: d.title for d in downloads}
    out = []
    for one in sorted(history, key=lambda r: -r.number):
        names = None if one.cards is None else [titles.get(card, card) for card in one.cards]
        words = "all cards" if names is None else ", ".join(names) or "none"
        changes = one.changes or ("first revision" if one.number == 1 else "nothing recorded",)
        out.append(RevisionRow(str(one.number), day_words(one.day), changes, words))
    return tuple(out)
