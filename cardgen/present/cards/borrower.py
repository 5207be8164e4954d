"""The borrower's handover sheet, and its twin for a new owner's delivery."""

from __future__ import annotations

from cardgen.checklist.types import PhaseList
from cardgen.checklist.views import for_borrower, for_delivery
from cardgen.present.blocks import Block, Card, Pair, Sign
from cardgen.present.cards import must_have, pieces
from cardgen.present.cards.emergency import contacts
from cardgen.present.cards.lists import checklist
from cardgen.present.rig_view import RigView


def card(rig_view: RigView) -> Card:
    """Make the sheet that is gone through with a borrower and signed."""
    return _sheet(
        rig_view,
        "borrower-sheet",
        "Borrower handover",
        "b",
        for_borrower(rig_view.checklist),
        ("Borrower", "For the owner"),
        tuple(f"{line}: out, back" for line in hand_back(rig_view)),
    )


def delivery(rig_view: RigView) -> Card:
    """Make the sheet that records what was shown to a new owner and tried."""
    return _sheet(
        rig_view,
        "delivery-sheet",
        "Delivery record",
        "i",
        for_delivery(rig_view.checklist),
        ("New owner", "Instructor"),
    )


def hand_back(rig_view: RigView) -> tuple[str, ...]:
    """What is written down when a lent rig goes out and again when it comes back."""
    trailer = rig_view.rig.trailer
    contents = [words for words, there in (("tanks", trailer.tanks), ("gas", trailer.cylinders)) if there]
    lines = (
        "Day and hour",
        "{Odometer}",
        "Cold tire pressures, trailer",
        "Cold tire pressures, vehicle",
        ", ".join(("Fuel", *contents)),
        "Damage seen, and where",
        "Cleaned inside and out",
    )
    return tuple(map(rig_view.say, lines))


def _sheet(
    rig_view: RigView,
    name: str,
    title: str,
    letter: str,
    phases: tuple[PhaseList, ...],
    signers: tuple[str, str],
    out_and_back: tuple[str, ...] = (),
) -> Card:
    lists = tuple(p for p in phases if p.key != "handover-sign")
    signed = tuple(line.text for p in phases if p.key == "handover-sign" for line in p.items)
    flow: list[Block] = [
        pieces.banner(rig_view, 3),
        pieces.key_numbers(rig_view),
        Pair(pieces.tires(rig_view), pieces.hitch(rig_view), 0.5),
        pieces.qr(rig_view, letter),
    ]
    if rig_view.rig.alone:
        flow.append(must_have.table(rig_view))
    phones = contacts(rig_view)
    if phones is not None:
        flow.append(phones)
    flow.append(checklist(rig_view, lists, title))
    if out_and_back:
        flow.append(Sign("Out and back", out_and_back))
    flow.append(Sign("Signed", (*signed, *(f"{who}, name and signature" for who in signers), "Date")))
    return pieces.frame(rig_view, name, title, (), tuple(flow))
