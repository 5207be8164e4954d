"""The words of the reader's market in place of the US trade words of our own texts."""

from __future__ import annotations

import re
from functools import cache

from cardgen.checklist.words import adapt
from cardgen.tables.words import term

_SHORT_EU = {
    "trailer_rating": "max laden mass",
    "vehicle_rating": "max laden mass",
    "axle_rating": "axle limit",
    "combination_rating": "max combination mass",
}
"""Short forms where a market's own term is a sentence; the glossary gives the full term."""
_TWICE = re.compile(r"\b([Aa]xle)( \d+)? axle ")
_RATING = re.compile(r"\b(GVWR|GAWR|GCWR)\b")


@cache
def translate(text: str, market: str) -> str:
    """Put one of our own texts (never an owner's) into the words of a market.

    Rating names depend on what is rated: a GVWR in a text about the trailer becomes the
    market's word for the trailer's rating, any other GVWR the vehicle's.
    """
    if market not in ("us", "ca") and _RATING.search(text):
        trailer = "railer" in text and "vehicle" not in text.lower()
        words = {
            "GVWR": _term("trailer_rating" if trailer else "vehicle_rating", market),
            "GAWR": _term("axle_rating", market),
            "GCWR": _term("combination_rating", market),
        }
        text = _RATING.sub(lambda found: words[found[0]], text)
        text = _TWICE.sub(r"\1\2 ", text)
    return adapt(text, market)


def _term(concept: str, market: str) -> str:
    if market == "eu" and concept in _SHORT_EU:
        return _SHORT_EU[concept]
    return term(concept, market)
