"""The words of the reader's market in place of the US trade words of our own texts."""

from __future__ import annotations

from cardgen.checklist.words import adapt


def translate(text: str, market: str) -> str:
    """Put one of our own texts (never an owner's) into the words of a market."""
    return adapt(text, market)
