"""The printed set: which cards there are and how each is made from the desk."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from cardgen.present.blocks import Card
from cardgen.present.cards import glovebox
from cardgen.present.desk import Desk


@dataclass(frozen=True, slots=True)
class CardKind:
    """One kind of card.

    Args:
        id: name on the command line and of the file [-].
        letter: short name in the QR address [-].
        title: what the card is [-].
        make: the maker.
        single: whether one face is enough and the back may stay blank [-].
    """

    id: str
    letter: str
    title: str
    make: Callable[[Desk], Card]


KINDS: dict[str, CardKind] = {
    kind.id: kind
    for kind in (CardKind("glovebox-card", "g", "Glovebox card", glovebox.card),)
}
DEFAULT = ("glovebox-card",)
