"""Put values into the text of an item, or the fallback words where a value is unknown."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.checklist.catalog import catalog
from cardgen.tables.words import PLACE, say

BLANK = "________"
"""Printed where a value is to be written in by hand."""


def fill(
    text: str, values: Mapping[str, str | None], market: str = "us", coupling: str = "", blank: bool = False
) -> str:
    """Return a text of an item as it is printed.

    Never an empty brace, never the word None: what is unknown, missing or blank
    prints the fallback words of ``values.yaml``, or a blank to write in.

    Args:
        text: the text with its ``{name}`` places [-].
        values: formatted texts by value name [-].
        market: market whose trade words the text uses [-].
        coupling: type of the trailer [-].
        blank: what is unknown is written in by hand [-].
    """
    defs = catalog().values

    def put(name: str) -> str:
        text = (values.get(name) or "").strip()
        return text or (BLANK if blank else say(defs[name].fallback, market, coupling))

    text = say(text, market, coupling)
    if "{" in text:
        text = "".join(put(part) if at % 2 else part for at, part in enumerate(PLACE.split(text)))
    return text[:1].upper() + text[1:]
