"""The glovebox card: verdict, weights, pressures, hitch, limits, then the departure checklist."""

from __future__ import annotations

from cardgen.checklist.views import for_departure
from cardgen.present.blocks import Block, Card, Face, Note, Pair
from cardgen.present.cards import pieces
from cardgen.present.cards.lists import checklist, removed
from cardgen.present.cards.unchecked import unchecked
from cardgen.present.rig_view import RigView


def card(rig_view: RigView) -> Card:
    """Make the glovebox card."""
    front: list[Block] = [
        pieces.banner(rig_view),
        pieces.key_numbers(rig_view),
        Pair(pieces.tires(rig_view), pieces.hitch(rig_view), 0.5),
        Pair(pieces.cases(rig_view), pieces.qr(rig_view, "g"), 0.78),
        *pieces.bars(rig_view),
        pieces.cautions(rig_view),
    ]
    flow: list[Block] = [*unchecked(rig_view)]
    flow.append(checklist(rig_view, for_departure(rig_view.checklist, 1), "Before departure"))
    flow += [Note(text) for text in removed(rig_view)]
    return pieces.frame(
        rig_view, "glovebox-card", "Glovebox card", (Face(tuple(front)),), tuple(flow), "Departure checklist"
    )
