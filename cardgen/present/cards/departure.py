"""The departure card: what to do in order before every tow."""

from __future__ import annotations

from cardgen.checklist.views import for_departure
from cardgen.present.blocks import Block, Card, Note
from cardgen.present.cards import pieces
from cardgen.present.cards.lists import checklist, removed
from cardgen.present.desk import Desk


def card(desk: Desk) -> Card:
    """Make the departure card from every line that belongs to each tow."""
    flow: list[Block] = [pieces.banner(desk, 2), pieces.qr(desk, "d", "Report, with ticks that stay")]
    flow.append(checklist(desk, for_departure(desk.checklist, 2), "Departure"))
    flow.append(pieces.signals(desk))
    flow += [Note(text) for text in removed(desk)]
    return pieces.frame(desk, "departure-card", "Departure card", (), tuple(flow))
