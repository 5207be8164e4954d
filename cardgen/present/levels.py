"""The four outcomes as the printed page knows them."""

from __future__ import annotations

from typing import Literal

Level = Literal["within", "close", "over", "unknown"]
WORDS: dict[str, Level] = {"within": "within", "close": "close", "over": "over"}


def level_of(word: str) -> Level:
    """Return the level of an outcome word [-]; every other word counts as not checked."""
    return WORDS.get(word.strip().lower(), "unknown")
