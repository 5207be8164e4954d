"""Put a market's trade words in place of the US words of our own texts."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from cardgen.checklist.catalog import catalog
from cardgen.checklist.schema import PLACE


def adapt(text: str, market: str) -> str:
    """Return our own text in the words of a market.

    Whole words and phrases only, the longest first, in one pass, so that no
    replacement is replaced again; ``{name}`` places stay untouched.

    Args:
        text: one of this package's own texts, in US words [-].
        market: key of the market [-].
    """
    pattern, table = _table(market)
    if pattern is None:
        return text
    parts = re.split(f"({PLACE.pattern.replace('(', '').replace(')', '')})", text)
    return "".join(
        part if PLACE.fullmatch(part) else pattern.sub(lambda m: _like(m[0], table), part) for part in parts
    )


def _like(found: str, table: Mapping[str, str]) -> str:
    word = table[found.lower()]
    return word[0].upper() + word[1:] if found[0].isupper() else word


@cache
def _table(market: str) -> tuple[re.Pattern[str] | None, dict[str, str]]:
    words = catalog().words
    table: dict[str, str] = {}
    for group in words.markets[market]:
        table |= words.groups[group]
    if not table:
        return None, {}
    longest = sorted(table, key=lambda word: (-len(word), word))
    body = "|".join(re.escape(word) for word in longest)
    return re.compile(rf"(?<![\w{{]){'(?:' + body + ')'}(?![\w}}])", re.IGNORECASE), table
