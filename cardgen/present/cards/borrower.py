"""The borrower's handover sheet, and its twin for a new owner's delivery."""

from __future__ import annotations

from cardgen.checklist.types import PhaseList
from cardgen.checklist.views import for_borrower, for_delivery
from cardgen.present.blocks import Block, Card, Pair, Sign
from cardgen.present.cards import pieces
from cardgen.present.cards.emergency import contacts
from cardgen.present.cards.lists import checklist
from cardgen.present.desk import Desk


def card(desk: Desk) -> Card:
    """Make the sheet that is gone through with a borrower and signed."""
    return _sheet(
        desk,
        "borrower-sheet",
        "Borrower handover",
        "b",
        for_borrower(desk.checklist),
        ("Borrower", "For the owner"),
    )


def delivery(desk: Desk) -> Card:
    """Make the sheet that records what was shown to a new owner and tried."""
    return _sheet(
        desk,
        "delivery-sheet",
        "Delivery record",
        "i",
        for_delivery(desk.checklist),
        ("New owner", "Instructor"),
    )


def _sheet(
    desk: Desk, name: str, title: str, letter: str, phases: tuple[PhaseList, ...], signers: tuple[str, str]
) -> Card:
    lists = tuple(p for p in phases if p.key != "handover-sign")
    signed = tuple(line.text for p in phases if p.key == "handover-sign" for line in p.items)
    flow: list[Block] = [
        pieces.banner(desk, 3),
        pieces.key_numbers(desk),
        Pair(pieces.tires(desk), pieces.hitch(desk), 0.5),
        pieces.qr(desk, letter),
    ]
    phones = contacts(desk)
    if phones is not None:
        flow.append(phones)
    flow.append(checklist(desk, lists, title))
    flow.append(Sign("Signed", (*signed, *(f"{who}, name and signature" for who in signers), "Date")))
    return pieces.frame(desk, name, title, (), tuple(flow))
