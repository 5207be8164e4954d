"""Revisions of a rig's cards, what changed with each, and whether a printed card is still current."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from cardgen.present.format import day_words
from cardgen.present.page import Item


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
class Download:
    """One card that is current, and the file that is offered of it on the report.

    Args:
        id: id of the card, for example ``glovebox-card`` [-].
        letter: short name in the card's QR address [-].
        title: what it is [-].
        href: address relative to the report; empty when this build made no file of it [-].
        revision: revision in which its print last changed [-].
        note: size and faces, in words [-].
    """

    id: str
    letter: str
    title: str
    href: str
    revision: int
    note: str = ""


def rows(history: Sequence[Revision], downloads: Sequence[Download]) -> tuple[Item, ...]:
    """Write the history, newest first."""
    titles = {d.id: d.title for d in downloads}
    out = []
    for one in sorted(history, key=lambda r: -r.number):
        names = None if one.cards is None else [titles.get(card, card) for card in one.cards]
        words = "all cards" if names is None else ", ".join(names) or "none"
        changes = one.changes or ("first revision" if one.number == 1 else "nothing recorded",)
        title = f"Revision {one.number}, {day_words(one.day)}"
        out.append(Item(title, f"cards: {words}", lines=changes, id=f"revision-{one.number}"))
    return tuple(out)


def currency(
    rig: str, revision: int, day: dt.date, history: Sequence[Revision], downloads: Sequence[Download]
) -> dict[str, Any]:
    """Data with which the page tells whether the card that led here is current.

    A card of revision r is current as long as its own print has not changed since, even
    when other cards of the rig have newer revisions.

    Args:
        rig: folder name of the rig, under which ticks are kept [-].
        revision, day: newest revision and its day.
        history, downloads: as on the page.
    """
    letters = {d.id: d.letter for d in downloads}
    return {
        "rig": rig,
        "revision": revision,
        "date": day_words(day),
        "cards": {
            d.letter: {"id": d.id, "title": d.title, "changed": d.revision, "href": d.href} for d in downloads
        },
        "history": [
            {
                "n": r.number,
                "date": day_words(r.day),
                "cards": None if r.cards is None else [letters.get(c, c) for c in r.cards],
            }
            for r in sorted(history, key=lambda r: -r.number)
        ],
    }
