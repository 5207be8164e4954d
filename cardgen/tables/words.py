"""Words of the trade by market, what they mean, and where they trip people."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from cardgen.tables.lookup import NotInTableError, read

MARKETS = ("us", "ca", "uk", "eu", "au", "nz")
"""Markets with words of their own [-]; source: ``words``."""


@dataclass(frozen=True, slots=True)
class Concept:
    """One thing and its names.

    Args:
        key: stable key [-].
        means: what it is, one sentence [-].
        trap: where its names mislead [-].
        plain: words for markets without a term [-].
        terms: market to its terms, the one to print first [-].
        source: source key [-].

    Source: ``words``.
    """

    key: str
    means: str
    trap: str
    plain: str
    terms: Mapping[str, tuple[str, ...]]
    source: str


def concepts() -> tuple[str, ...]:
    """Keys of all concepts [-].

    Source: ``words``.
    """
    return tuple(read("words")["concepts"])


@cache
def concept(key: str) -> Concept:
    """Find a concept.

    Args:
        key: its key, for example ``tongue_weight`` [-].

    Returns:
        The concept [-].

    Raises:
        NotInTableError: unknown key.

    Source: ``words``.
    """
    data = read("words")
    row = data["concepts"].get(key)
    if row is None:
        raise NotInTableError(f"no word for '{key}' in the table")
    named = {m: tuple(row[m]) for m in MARKETS if m in row}
    if "us" in named:
        named.setdefault("ca", named["us"])
    return Concept(key, row["means"], row["trap"], row["plain"], named, data["source"])


def terms(key: str, market: str) -> tuple[str, ...]:
    """All terms of a market for a concept, the one to print first.

    Args:
        key: key of the concept [-].
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].

    Returns:
        Terms [-], never empty.

    Raises:
        NotInTableError: unknown key or market.

    Source: ``words``.
    """
    if market not in MARKETS:
        raise NotInTableError(f"no market '{market}'")
    found = concept(key)
    return found.terms.get(market) or (found.plain,)


def term(key: str, market: str) -> str:
    """The term to print for a concept in a market.

    Args:
        key: key of the concept [-].
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].

    Returns:
        The term [-]; plain words where the market has none.

    Raises:
        NotInTableError: unknown key or market.

    Source: ``words``.
    """
    return terms(key, market)[0]
