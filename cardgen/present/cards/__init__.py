"""The printed set: which cards there are and how each is made from the rig_view."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from cardgen.present.blocks import Card
from cardgen.present.cards import (
    arrival,
    borrower,
    departure,
    emergency,
    glovebox,
    hitch_card,
    loading,
    tire_tag,
    wallet,
)
from cardgen.present.rig_view import RigView


@dataclass(frozen=True, slots=True)
class CardKind:
    """One kind of card.

    Args:
        id: name on the command line and of the file [-].
        letter: short name in the QR address [-].
        title: what the card is [-].
        make: the maker.
        us, metric: sizes when nobody asked for another [-].
        usual: whether it is made when nobody chose [-].
        lent: whether it is made besides when the rig is lent out and nobody chose [-].
    """

    id: str
    letter: str
    title: str
    make: Callable[[RigView], Card]
    us: str = "half-letter"
    metric: str = "a5"
    usual: bool = True
    lent: bool = False

    @property
    def made(self) -> str:
        """When it is made, in words [-]."""
        if self.usual:
            return "unless cards are chosen"
        return "when the rig is lent out, or asked for" if self.lent else "when asked for"


KINDS: dict[str, CardKind] = {
    kind.id: kind
    for kind in (
        CardKind("glovebox-card", "g", "Glovebox card", glovebox.card),
        CardKind("departure-card", "d", "Departure card", departure.card),
        CardKind("arrival-card", "a", "Arrival card", arrival.card),
        CardKind("emergency-card", "e", "Emergency card", emergency.card, usual=False),
        CardKind("tire-tag", "t", "Tire tag", tire_tag.card, "wallet", "wallet"),
        CardKind("loading-card", "l", "Loading card", loading.card),
        CardKind("hitch-card", "h", "Hitch card", hitch_card.card, "4x6", "a6", usual=False),
        CardKind(
            "borrower-sheet", "b", "Borrower handover", borrower.card, "letter", "a4", usual=False, lent=True
        ),
        CardKind("delivery-sheet", "i", "Delivery record", borrower.delivery, "letter", "a4", usual=False),
        CardKind("wallet-card", "w", "Wallet card", wallet.card, "wallet", "wallet"),
    )
}
USUAL = tuple(k.id for k in KINDS.values() if k.usual)


def usual(use: str) -> tuple[str, ...]:
    """Names of the cards that are made when nobody chose, by what the rig is used for [-]."""
    return tuple(k.id for k in KINDS.values() if k.usual or (k.lent and use == "lending"))
