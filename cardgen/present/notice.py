"""Whether the printed card that led to a page still holds, and what its holder is told: the data of ``notice.js``."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import Any

from cardgen.model.results import Outcome
from cardgen.present.format import day_words
from cardgen.present.history import Download
from cardgen.present.rig_view import RigView
from cardgen.present.validity import same_until

REASONS = 3
"""Reasons not to tow that stand in the notice; all are on the page [-]."""


def currency(rig_view: RigView, downloads: Sequence[Download]) -> dict[str, Any]:
    """Data with which the page judges a card by the address on it: letter, revision and mark.

    A card is current when it prints what is printed now: its mark says so. A card without a mark,
    of an earlier cardgen, is current from the revision on in which its print last changed.

    Args:
        rig_view: assessment and edition of the page.
        downloads: the cards that are current.
    """
    over = rig_view.outcome(Outcome.OVER)
    until = same_until(rig_view)
    return {
        "rig": rig_view.slug,
        "revision": rig_view.edition.revision,
        "date": rig_view.date,
        "over": [rig_view.say(f"{f.title}: {rig_view.formatter.verdict(f)}") for f in over[:REASONS]],
        "reckoned": day_words(rig_view.assessment.day),
        "until": None if until == dt.date.max else [until.isoformat(), holds(until)],
        "cards": {d.letter: _card(d) for d in downloads},
    }


def holds(until: dt.date) -> str:
    """The last day on which something reads as it does now [-]."""
    return day_words(until - dt.timedelta(days=1))


def reckoned(rig_view: RigView) -> str:
    """On which day ages and due dates were reckoned, and how long that holds."""
    day, until = rig_view.assessment.day, same_until(rig_view)
    ends = "" if until == dt.date.max else f", and hold until {holds(until)}"
    return f"Ages and what is due were reckoned on {day_words(day)}{ends}."


def _card(one: Download) -> dict[str, Any]:
    return {
        "id": one.id,
        "title": one.title,
        "changed": one.revision,
        "mark": one.mark,
        "href": one.href,
        "prints": [
            {"n": p.number, "mark": p.mark, "date": day_words(p.day), "lines": p.lines, "causes": p.causes}
            for p in one.prints
        ],
    }
