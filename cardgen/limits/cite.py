"""Citations for the checks, from the tables' own source records."""

from __future__ import annotations

from cardgen.tables.sources import source


def cite(*keys: str) -> str:
    """Join the one-line citations of some source records [-].

    Args:
        keys: source keys of ``cardgen.tables`` [-].

    Raises:
        NotInTableError: no such key.
    """
    return "; ".join(source(key).words() for key in keys)
