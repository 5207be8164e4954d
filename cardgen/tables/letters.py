"""How wide the letters of the cards' typeface are, so that a text can be measured before anything is printed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

from cardgen.tables.lookup import read

Weight = Literal["regular", "bold"]
FOREIGN = 0.6
"""Width taken for a letter that the typeface has not [em]; what is printed in its place is narrower."""


@dataclass(frozen=True, slots=True)
class Metrics:
    """Widths of the letters of one weight.

    Args:
        widths: advance width by code point [em].

    Source: ``font-widths``.
    """

    widths: dict[int, float]

    def width(self, text: str) -> float:
        """Width of a line of text without kerning [em]; source: ``font-widths``."""
        get = self.widths.get
        return sum(get(ord(char), FOREIGN) for char in text)


@cache
def metrics(weight: Weight) -> Metrics:
    """Return the letter widths of a weight.

    Args:
        weight: weight of the typeface [-].

    Source: ``font-widths``.
    """
    rows: dict[int, str] = read("letters")[weight]
    return Metrics({ord(char): width / 1000 for width, chars in rows.items() for char in chars})


@cache
def letters() -> frozenset[int]:
    """Code points that both weights can print [-]; source: ``font-widths``."""
    return frozenset(metrics("regular").widths) & frozenset(metrics("bold").widths)
