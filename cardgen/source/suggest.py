"""Name the nearest valid word, or list what there is."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

_LISTED = 40


def nearest(word: str, known: Iterable[str], near: float = 0.6) -> str | None:
    """The known word nearest to a mistyped one, if any is near (1 is equal)."""
    names = list(known)
    low = {name.lower(): name for name in reversed(names)}
    found = difflib.get_close_matches(word[:100].lower(), low, n=1, cutoff=near)
    return low[found[0]] if found else None


def suggest(word: str, known: Iterable[str], none: str = "there is none") -> str:
    """Hint for a mistyped word."""
    names = list(known)
    near = nearest(word, names)
    if near is not None:
        return f"did you mean '{near}'?"
    if not names:
        return none
    listed = ", ".join(names[:_LISTED])
    more = f" and {len(names) - _LISTED} more" if len(names) > _LISTED else ""
    return f"known here: {listed}{more}"
