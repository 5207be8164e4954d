"""The departure card: the full list. Hitching first, as it is done in one go; home last, as it is read at home."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cardgen.checklist.types import PhaseList
from cardgen.checklist.views import for_departure
from cardgen.present.blocks import Block, Card, ChecklistBlock, Face, Note, Table
from cardgen.present.cards import pieces
from cardgen.present.cards.lists import checklist, removed
from cardgen.present.rig_view import RigView
from cardgen.units.show import NBSP

FACES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("At the coupling", ("hitching", "chains_wiring", "spring_bars")),
    ("Round the rig and away", ("lamps", "front_of_trailer", "loading", "walk_around", "drivers_seat")),
    ("Before hitching", ("before_hitching", "inside")),
)
"""Title and phases of each face [-]; a phase is never on two."""
LETTERS = "ABCDEFGHJKLMN"
HALF, OWN = 17, 6
"""Lines that leave about half of the last face empty, and lines to write on that it then gets [-]."""


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
    last = faces[-1]
    lines = _own(lists[-1][1])
    own = (lines,) if len(lists) > 1 and lines.rows else ()
    foot = (pieces.coded(rig_view, "d", "Report, with ticks that stay"),)
    faces[-1] = replace(last, blocks=(*last.blocks, *own), spare=last.spare + len(own), foot=foot)
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


def _own(block: ChecklistBlock) -> Table:
    """Lines for what this rig needs besides, where a light trailer leaves the last face half empty."""
    lines = sum(len(phase.lines) for phase in block.phases)
    return Table("Lines of your own", (), ((NBSP,),) * (OWN if lines <= HALF else 0), aside="grease pencil")


def _lettered(rig_view: RigView, phases: Sequence[PhaseList], used: int) -> ChecklistBlock:
    block = checklist(rig_view, phases, "", short=True)
    marked = tuple(replace(phase, mark=LETTERS[used + n]) for n, phase in enumerate(block.phases))
    return replace(block, phases=marked)
