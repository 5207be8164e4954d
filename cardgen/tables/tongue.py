"""Bands of tongue and pin weight that published advice gives; ratings come first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from cardgen.tables.exact import si
from cardgen.tables.lookup import NotInTableError, read


@dataclass(frozen=True, slots=True)
class Band:
    """A band with its source; both ends belong to it.

    Args:
        low: lower end [-] as a share of the loaded trailer, or [kg].
        high: upper end [same].
        source: source key [-]; guidance or habit, never law.
        fixed_limit: whether the market judges by a fixed limit on the plates (S value) and
            wants the tongue near it, the band being advice within it [-].

    Source: the key it carries.
    """

    low: float
    high: float
    source: str
    fixed_limit: bool = False


def share_band(trailer_type: str, body: str, market: str) -> Band:
    """Advised tongue or pin weight as a share of the actual loaded trailer.

    Args:
        trailer_type: ``ball``, ``gooseneck`` or ``fifth_wheel`` [-].
        body: what the trailer is, for example ``boat`` [-].
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].

    Returns:
        The band, ends [-].

    Raises:
        NotInTableError: unknown type or market.

    Source: ``tongue-us``, ``tongue-us-boat``, ``tongue-pin``, ``tongue-uk``, ``tongue-eu``,
    ``tongue-au``, ``tongue-nz``.
    """
    for row in read("tongue")["bands"]:
        if (
            trailer_type in row["types"]
            and body in row.get("bodies", [body])
            and market in row.get("markets", ["us", "ca", "uk", "eu", "au", "nz"])
        ):
            return _band(row)
    raise NotInTableError(f"no band for a '{trailer_type}' trailer in market '{market}'")


def _band(row: Any) -> Band:
    return Band(si(row["low"]), si(row["high"]), row["source"], row.get("fixed_limit", False))
