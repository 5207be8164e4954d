"""The arrival card: stop, chock, unhitch on its front; setting up and what to look at on the way on its back."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.checklist.types import PhaseList
from cardgen.checklist.views import for_arrival, for_road
from cardgen.present.blocks import Block, Card, Caution, Cautions, Face
from cardgen.present.cards import pieces
from cardgen.present.cards.lists import checklist
from cardgen.present.rig_view import RigView

FRONT = ("arrival_unhitching", "boat_ramp")
"""Phases of the front, what is done in one go [-]."""


def card(rig_view: RigView) -> Card:
    """Make the arrival and unhitching card, with the road list on its back."""
    warning = Caution(
        "WARNING", "Chock both sides before anything else: the vehicle was the trailer's brake."
    )
    arrival = for_arrival(rig_view.checklist, 2)
    front = [phase for phase in arrival if phase.key in FRONT]
    back = [phase for phase in arrival if phase.key not in FRONT]
    return two_sided(
        rig_view,
        "arrival-card",
        "Arrival card",
        ("", (Cautions("First", (warning,)),), front, "a", (pieces.signals(rig_view),)),
        ("Then, and on the way", (), [*back, *for_road(rig_view.checklist, 1)], "", ()),
    )


Side = tuple[str, tuple[Block, ...], Sequence[PhaseList], str, tuple[Block, ...]]
"""Title of a face, what stands above its list, the phases of the list, the letter of the code at its foot, and what stands
below the list where there is room."""


def two_sided(rig_view: RigView, name: str, title: str, front: Side, back: Side) -> Card:
    """Make a card of lists: two faces, no phase on both; a full face loses habits.

    Args:
        rig_view: the rig.
        name, title: of the card [-].
        front, back: what stands on its faces; the title of the front is the rig's own.
    """
    faces = []
    for words, above, phases, letter, below in (front, back):
        block = checklist(rig_view, phases, "", short=True)
        listed = (block,) if block.phases else ()
        aside = f"{rig_view.rig.nickname}, {title.lower()}" if words else ""
        code = (pieces.coded(rig_view, letter),) if letter else ()
        faces.append(Face((*above, *listed, *below), words, aside, foot=code, spare=len(below)))
    return pieces.frame(rig_view, name, title, tuple(faces))
