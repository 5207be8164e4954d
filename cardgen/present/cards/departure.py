"""The departure card: what to do in order before every tow."""

from __future__ import annotations

from cardgen.checklist.views import for_departure
from cardgen.present.blocks import Block, Card, Note
from cardgen.present.cards import pieces
from cardgen.present.cards.lists import checklist, removed
from cardgen.present.rig_view import RigView


def card(rig_view: RigView) -> Card:
    """Make the departure card from every line that belongs to each tow."""
    flow: list[Block] = [pieces.banner(rig_view, 2), pieces.qr(rig_view, "d", "Report, with ticks that stay")]
    flow.append(checklist(rig_view, for_departure(rig_view.checklist, 2), "Departure"))
    flow.append(pieces.signals(rig_view))
    flow += [Note(text) for text in removed(rig_view)]
    return pieces.frame(rig_view, "departure-card", "Departure card", (), tuple(flow))
