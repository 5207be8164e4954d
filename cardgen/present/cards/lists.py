"""Checklists as blocks."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.checklist.types import PhaseList
from cardgen.present.blocks import CheckLine, ChecklistBlock, CheckPhase
from cardgen.present.rig_view import RigView


def checklist(rig_view: RigView, phases: Sequence[PhaseList], title: str) -> ChecklistBlock:
    """Turn selected phases into a checklist block; texts come filled and in the market's words."""
    return ChecklistBlock(
        title,
        tuple(
            CheckPhase(
                phase.title,
                phase.reading.replace("_", " "),
                tuple(
                    CheckLine(line.text, line.done, line.safety, line.if_fitted, line.id, line.severity == "good_habit")
                    for line in phase.items
                ),
            )
            for phase in phases
            if phase.items
        ),
    )


def removed(rig_view: RigView) -> tuple[str, ...]:
    """Say which items the owner left out and why; safety-critical ones first."""
    ordered = sorted(rig_view.checklist.removed, key=lambda r: r.severity != "safety_critical")
    return tuple(f"Left out by the owner: {r.text} ({r.reason})" for r in ordered)
