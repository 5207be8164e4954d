"""The arrival card: stop, chock, unhitch, and what to look at on the way."""

from __future__ import annotations

from cardgen.checklist.views import for_arrival, for_road
from cardgen.present.blocks import Block, Card, Caution, Cautions
from cardgen.present.cards import pieces
from cardgen.present.cards.lists import checklist
from cardgen.present.rig_view import RigView


def card(rig_view: RigView) -> Card:
    """Make the arrival and unhitching card, with the road list after it."""
    warning = Caution(
        "WARNING", "Chock both sides before anything else: the vehicle was the trailer's brake."
    )
    flow: list[Block] = [
        Cautions("Before unhitching", (warning,)),
        checklist(rig_view, for_arrival(rig_view.checklist, 2), "Arrival and unhitching"),
        pieces.qr(rig_view, "a"),
        checklist(rig_view, for_road(rig_view.checklist, 1), "On the way"),
    ]
    return pieces.frame(rig_view, "arrival-card", "Arrival card", (), tuple(flow))
