"""Checklists as blocks."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.checklist.types import PhaseList
from cardgen.present.blocks import Checklist, CheckLine, CheckPhase
from cardgen.present.desk import Desk

READING = {
    "do_then_confirm": "do, then confirm",
    "read_then_do": "read, then do",
    "learn_before": "learn before driving",
}


def checklist(desk: Desk, phases: Sequence[PhaseList], title: str) -> Checklist:
    """Turn selected phases into a checklist block; texts come filled and in the market's words."""
    return Checklist(
        title,
        tuple(
            CheckPhase(
                phase.title,
                READING.get(phase.reading, phase.reading),
                tuple(
                    CheckLine(line.text, line.done, line.severity == "safety_critical", line.if_fitted)
                    for line in phase.items
                ),
            )
            for phase in phases
            if phase.items
        ),
    )
