"""Checklists as blocks."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.checklist.types import Line, PhaseList
from cardgen.present.blocks import CheckLine, ChecklistBlock, CheckPhase
from cardgen.present.rig_view import RigView


def checklist(
    rig_view: RigView, phases: Sequence[PhaseList], title: str, short: bool = False
) -> ChecklistBlock:
    """Turn selected phases into a checklist block; texts come filled and in the market's words.

    Args:
        rig_view: the rig.
        phases: what is printed.
        title: heading of the block [-].
        short: whether each line is a challenge and what is then seen, with bans above the lines.
    """
    made = (_phase(phase, short) for phase in phases)
    return ChecklistBlock(title, tuple(phase for phase in made if phase.lines))


def _phase(phase: PhaseList, short: bool) -> CheckPhase:
    bans = phase.of("ban") if short else ()
    lines = tuple(
        CheckLine(
            line.say if short else line.text, line.seen, line.safety, line.if_fitted, line.id, weight(line)
        )
        for line in phase.items
        if line not in bans
    )
    said = tuple(line.say for line in bans)
    return CheckPhase(phase.title, phase.reading, lines, bans=said)


def weight(line: Line) -> int:
    """What goes first where a face is full: 3 good habits, 2 the full list's, 1 every card's, 0 never [-]."""
    if line.safety or line.own:
        return 0
    return 3 if line.severity == "good_habit" else min(2, line.tier)


def removed(rig_view: RigView) -> tuple[str, ...]:
    """Say which items the owner left out and why; safety-critical ones first."""
    ordered = sorted(rig_view.checklist.removed, key=lambda r: r.severity != "safety_critical")
    return tuple(f"Left out by the owner: {r.text} ({r.reason})" for r in ordered)
