"""What could not be checked, and what to measure or read first, for the glovebox card."""

from __future__ import annotations

from cardgen.model.results import Finding, Outcome
from cardgen.present.asking import briefly, waiting
from cardgen.present.blocks import Block, Paragraph, Table
from cardgen.present.cards.short import short
from cardgen.present.desk import Desk, unique

FEW = 3
"""Up to so many checks are told one by one [-]."""
FIRST = 12
"""So many things to measure or read are told on a card, the rest in the report [-]."""


def unchecked(desk: Desk) -> tuple[Block, ...]:
    """Every weighty check that was not made, and how to find out; nothing when all were made."""
    unknown = [f for f in desk.outcome(Outcome.NOT_CHECKED) if f.critical]
    if not unknown:
        return ()
    if len(unknown) <= FEW:
        rows = tuple((desk.say(f.title), desk.say(desk.shower.needs(f.needs))) for f in unknown)
        return (Table("Not checked", ("Check", "What is missing"), rows, (1.0, 1.5), ("left", "left")),)
    return (Paragraph(_names(desk, unknown)), _first(desk, unknown))


def _names(desk: Desk, unknown: list[Finding]) -> str:
    names = unique(desk.say(short(f.code, f.title)) for f in unknown)
    return f"Not checked: {'; '.join(names)}."


def _first(desk: Desk, unknown: list[Finding]) -> Table:
    listed = waiting(unknown)
    rows = tuple(
        (desk.say(briefly(need)), desk.say(need.where or "to be stated in the rig file"), str(len(findings)))
        for need, findings in listed[:FIRST]
    )
    rest = len(listed) - len(rows)
    note = f"{rest} more in the full report." if rest else ""
    head = ("Measure or read first", "Where", "Opens checks")
    return Table("What is missing", head, rows, (1.5, 1.4, 0.45), ("left", "left", "right"), note)
