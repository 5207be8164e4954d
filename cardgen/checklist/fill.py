"""Put values into the text of an item, or the fallback words where a value is unknown."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.checklist.catalog import catalog
from cardgen.checklist.schema import ItemDef
from cardgen.tables.words import PLACE, say


def fill(item: ItemDef, values: Mapping[str, str | None], market: str = "us", coupling: str = "") -> str:
    """Return the printed text of an item.

    Never an empty brace, never the word None: what is unknown, missing or blank
    prints the fallback words of ``values.yaml``.

    Args:
        item: the item with its ``{name}`` places.
        values: formatted texts by value name [-].
        market: market whose trade words the text uses [-].
        coupling: type of the trailer [-].
    """
    defs = catalog().values

    def put(name: str) -> str:
        text = (values.get(name) or "").strip()
        return text or say(defs[name].fallback, market, coupling)

    parts = PLACE.split(say(item.text, market, coupling))
    text = "".join(put(part) if at % 2 else part for at, part in enumerate(parts))
    return text[0].upper() + text[1:]
