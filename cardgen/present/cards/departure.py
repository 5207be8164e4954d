"""The departure card: the full list. Hitching first, as it is done in one go; home last, as it is read at home."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cardgen.checklist.types import PhaseList
from cardgen.checklist.views import for_departure
from cardgen.present.blocks import Block, Card, ChecklistBlock, Face, Note
from cardgen.present.cards import pieces
from cardgen.present.cards.lists import checklist, removed
from cardgen.present.rig_view import RigView

FACES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("At the coupling", ("hitching", "chains_wiring", "spring_bars")),
    ("Round the rig and away", ("lamps", "front_of_trailer", "loading", "walk_around", "drivers_seat")),
    ("Before hitching", ("before_hitching", "inside")),
)
"""Title and phases of each face [-]; a phase is never on two."""
LETTERS = "ABCDEFGHJKLMN"


def card(rig_view: RigView) -> Card:
    """Make the departure card from every line that belongs to each tow."""
    phases = {phase.key: phase for phase in for_departure(rig_view.checklist, 2)}
    lists: list[tuple[str, ChecklistBlock]] = []
    used = 0
    for title, keys in FACES:
        found = [phases[key] for key in keys if key in phases]
        if found:
            lists.append((title, _lettered(rig_view, found, used)))
            used += len(found)
    faces = [_face(rig_view, n, title, block) for n, (title, block) in enumerate(lists)]
    faces[-1] = replace(faces[-1], foot=(pieces.coded(rig_view, "d", "Report, with ticks that stay"),))
    return pieces.frame(rig_view, "departure-card", "Departure card", tuple(faces))


def _face(rig_view: RigView, number: int, title: str, block: ChecklistBlock) -> Face:
    """One face; the first has the verdict's ban above its list and below it the hand signals, which the last face takes
    over where it has the room; the arrival card has them too.
    """
    stop: list[Block] = [*pieces.stop_line(rig_view)] if number == 0 else []
    left_out = [Note(text) for text in removed(rig_view)] if number == 0 else []
    signals = (pieces.signals(rig_view),) if number == 0 else ()
    aside = f"{rig_view.rig.nickname}, departure card"
    return Face((*stop, block, *left_out, *signals), title, aside, spare=len(signals))


def _lettered(rig_view: RigView, phases: Sequence[PhaseList], used: int) -> ChecklistBlock:
    block = checklist(rig_view, phases, "", short=True)
    marked = tuple(replace(phase, mark=LETTERS[used + n]) for n, phase in enumerate(block.phases))
    return replace(block, phases=marked)
