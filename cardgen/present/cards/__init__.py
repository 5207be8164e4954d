"""The printed set: which cards there are and how each is made from the rig_view."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from cardgen.model.rig import Rig
from cardgen.present.blocks import Card
from cardgen.present.cards import (
    arrival,
    borrower,
    departure,
    emergency,
    glovebox,
    hitch_card,
    loading,
    may_tow,
    must_have,
    tire_tag,
    wallet,
)
from cardgen.present.rig_view import RigView

Rigs = Literal["pair", "trailer", "vehicle"]
"""What a rig file describes: vehicle and trailer, or one of them alone [-]."""
BOTH: tuple[Rigs, ...] = ("pair", "trailer")


@dataclass(frozen=True, slots=True)
class CardKind:
    """One kind of card.

    Args:
        id: name on the command line and of the file [-].
        letter: short name in the QR address [-].
        title: what the card is [-].
        make: the maker.
        us, metric: sizes when nobody asked for another [-].
        usual: whether it is made when nobody chose, of a pair or of what a file describes alone [-].
        lent: whether it is made besides when the rig is lent out and nobody chose [-].
        of: what the file has to describe at least [-].
    """

    id: str
    letter: str
    title: str
    make: Callable[[RigView], Card]
    us: str = "half-letter"
    metric: str = "a5"
    usual: tuple[Rigs, ...] = ("pair",)
    lent: bool = False
    of: Rigs = "pair"

    def fits(self, rig: Rig) -> bool:
        """Whether a rig file describes what the card is about [-]."""
        return rig.alone is None or rig.alone == self.of

    @property
    def made(self) -> str:
        """When it is made, in words [-]."""
        if "pair" in self.usual:
            return "unless cards are chosen"
        if self.usual:
            return f"unless cards are chosen, when the file describes a {self.usual[0]} alone"
        return "when the rig is lent out, or asked for" if self.lent else "when asked for"


KINDS: dict[str, CardKind] = {
    kind.id: kind
    for kind in (
        CardKind("glovebox-card", "g", "Glovebox card", glovebox.card, usual=BOTH, of="trailer"),
        CardKind("departure-card", "d", "Departure card", departure.card, usual=BOTH, of="trailer"),
        CardKind("arrival-card", "a", "Arrival card", arrival.card, of="trailer"),
        CardKind("emergency-card", "e", "Emergency card", emergency.card, usual=(), of="trailer"),
        CardKind("tire-tag", "t", "Tire tag", tire_tag.card, "wallet", "wallet", BOTH, of="trailer"),
        CardKind("loading-card", "l", "Loading card", loading.card, usual=BOTH, of="trailer"),
        CardKind("hitch-card", "h", "Hitch card", hitch_card.card, "4x6", "a6", usual=()),
        CardKind(
            "borrower-sheet",
            "b",
            "Borrower handover",
            borrower.card,
            "letter",
            "a4",
            (),
            lent=True,
            of="trailer",
        ),
        CardKind("delivery-sheet", "i", "Delivery record", borrower.delivery, "letter", "a4", usual=()),
        CardKind("wallet-card", "w", "Wallet card", wallet.card, "wallet", "wallet"),
        CardKind(
            "must-have-sheet",
            "m",
            "Which vehicle may tow it",
            must_have.card,
            "letter",
            "a4",
            ("trailer",),
            of="trailer",
        ),
        CardKind(
            "may-tow-sheet",
            "v",
            "What this vehicle may tow",
            may_tow.card,
            "letter",
            "a4",
            ("vehicle",),
            of="vehicle",
        ),
    )
}
MEASURING = "measuring-sheet"
"""The sheet that asks for what is missing: chosen among the cards, though its lines are questions and no card [-]."""
CHOICES = (*KINDS, MEASURING)
"""What ``preferences.cards`` and ``--cards`` may name [-]."""
USUAL = tuple(k.id for k in KINDS.values() if "pair" in k.usual)


def usual(rig: Rig) -> tuple[str, ...]:
    """Names of the cards that are made of a rig when nobody chose [-]."""
    what: Rigs = rig.alone or "pair"
    lent = rig.use == "lending"
    return tuple(k.id for k in KINDS.values() if what in k.usual or (lent and k.lent and k.fits(rig)))
