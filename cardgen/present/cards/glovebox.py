"""The glovebox card: verdict, weights, pressures, hitch, limits, then the departure checklist."""

from __future__ import annotations

from cardgen.checklist.select import for_departure
from cardgen.present.blocks import Block, Card, Face, Pair
from cardgen.present.cards import pieces
from cardgen.present.cards.lists import checklist
from cardgen.present.desk import Desk


def card(desk: Desk) -> Card:
    """Make the glovebox card."""
    front: list[Block] = [
        pieces.banner(desk),
        Pair(pieces.key_numbers(desk), pieces.qr(desk, "g"), 0.78),
        Pair(pieces.tires(desk), pieces.hitch(desk), 0.52),
        pieces.cases(desk),
        pieces.bars(desk),
        pieces.cautions(desk),
    ]
    missing = pieces.missing(desk)
    flow: list[Block] = [missing] if missing is not None else []
    flow.append(checklist(desk, for_departure(desk.checklist), "Before departure"))
    return Card(
        id="glovebox-card",
        title="Glovebox card",
        nickname=desk.rig.nickname,
        subtitle=desk.subtitle,
        revision=f"Revision {desk.edition.revision}",
        date=desk.date,
        language=desk.language,
        faces=(Face(tuple(front)),),
        flow=tuple(flow),
        flow_title="Departure checklist",
        foot=pieces.COMPUTED + " " + pieces.FIRST,
        day=desk.edition.day.isoformat(),
    )
