"""The glovebox card: verdict, weights, pressures, hitch, limits, then the departure checklist."""

from __future__ import annotations

from cardgen.checklist.views import for_departure
from cardgen.present.blocks import Block, Card, Face, Note, Pair
from cardgen.present.cards import pieces
from cardgen.present.cards.lists import checklist, removed
from cardgen.present.cards.unchecked import unchecked
from cardgen.present.desk import Desk


def card(desk: Desk) -> Card:
    """Make the glovebox card."""
    front: list[Block] = [
        pieces.banner(desk),
        pieces.key_numbers(desk),
        Pair(pieces.tires(desk), pieces.hitch(desk), 0.5),
        Pair(pieces.cases(desk), pieces.qr(desk, "g"), 0.78),
        *pieces.bars(desk),
        pieces.cautions(desk),
    ]
    flow: list[Block] = [*unchecked(desk)]
    flow.append(checklist(desk, for_departure(desk.checklist, 1), "Before departure"))
    flow += [Note(text) for text in removed(desk)]
    return pieces.frame(
        desk, "glovebox-card", "Glovebox card", (Face(tuple(front)),), tuple(flow), "Departure checklist"
    )
