"""What could not be checked, and what to measure or read first, for the glovebox card."""

from __future__ import annotations

from cardgen.model.results import Finding, Outcome
from cardgen.present.asking import FIRST, briefly, once, waiting
from cardgen.present.blocks import Block, Paragraph, Table
from cardgen.present.cards.short import short
from cardgen.present.rig_view import RigView, unique

FEW = 3
"""Up to so many checks are told one by one [-]."""


def unchecked(rig_view: RigView) -> tuple[Block, ...]:
    """Every weighty check that was not made, and how to find out; nothing when all were made."""
    unknown = [f for f in rig_view.outcome(Outcome.NOT_CHECKED) if f.critical]
    if not unknown:
        return ()
    if len(unknown) <= FEW:
        rows = tuple(
            (rig_view.say(f.title), rig_view.say(rig_view.formatter.needs(f.needs))) for f in unknown
        )
        return (Table("Not checked", ("Check", "What is missing"), rows, (1.0, 1.5), ("left", "left")),)
    return (Paragraph(_names(rig_view, unknown)), _first(rig_view, unknown))


def _names(rig_view: RigView, unknown: list[Finding]) -> str:
    names = unique(rig_view.say(short(f.code, f.title)) for f in unknown)
    return f"Not checked: {'; '.join(names)}."


def _first(rig_view: RigView, unknown: list[Finding]) -> Table:
    listed = waiting(unknown, rig_view.rig)
    rows = tuple(
        (
            rig_view.say(briefly(need)),
            rig_view.say(need.where or "to be stated in the rig file"),
            str(len(findings)),
        )
        for need, findings in once(listed)[:FIRST]
    )
    rest = len(listed) - len(rows)
    note = f"{rest} more in the full report." if rest else ""
    head = ("Measure or read first", "Where", "Opens checks")
    return Table("What is missing", head, rows, (1.5, 1.4, 0.45), ("left", "left", "right"), note)
