"""Lamps and reflectors that a trailer must show, from its width and length."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from cardgen.tables.exact import si
from cardgen.tables.lookup import NotInTableError, OutOfTableError, holds, read


@dataclass(frozen=True, slots=True)
class Lamp:
    """One kind of lamp or reflector.

    Args:
        does: what it is [-].
        colour: colour of its light [-].
        count: how many [-].
        place: where [-].
        low: lowest mounting height [m], None when not read.
        high: greatest mounting height [m], None when not read.
        source: source key [-].

    Source: the key it carries; heights ``lamp-heights``.
    """

    does: str
    colour: str
    count: int
    place: str
    low: float | None
    high: float | None
    source: str


@dataclass(frozen=True, slots=True)
class LampPlan:
    """The lamps of one trailer.

    Args:
        lamps: every lamp known to be needed; None when the market's rule was not read [-].
        missing: dimensions (``width``, ``length``) without which more lamps may be needed [-].
        reason: why the list is absent or open, empty when it is whole [-].

    Source: the keys of its lamps.
    """

    lamps: tuple[Lamp, ...] | None
    missing: tuple[str, ...]
    reason: str

    @property
    def complete(self) -> bool:
        """Whether the list is known to be whole [-]; source: its lamps."""
        return self.lamps is not None and not self.missing


def lamps_required(width: float | None, length: float | None, market: str) -> LampPlan:
    """List the lamps and reflectors a trailer must show.

    Width is that of the widest rigid part, fenders included. From 80 in wide come
    clearance and identification lamps, from 30 ft long intermediate markers.

    Args:
        width: overall width [m], None when unknown.
        length: overall length with the tongue [m], None when unknown.
        market: ``us``, ``ca``, ``uk``, ``eu``, ``au`` or ``nz`` [-].

    Returns:
        The plan, heights [m]; its list is None with a reason for markets whose rule was
        not read.

    Raises:
        OutOfTableError: a dimension that is not above zero.
        NotInTableError: unknown market.

    Source: ``lamps-us``, ``lamps-80in``, ``lamps-30ft``, ``lamp-heights``.
    """
    for name, value in (("width", width), ("length", length)):
        if value is not None and not value > 0:
            raise OutOfTableError(f"trailer {name} {value} m is no {name}")
    data = read("lamps")
    if market in data["not_read"]:
        return LampPlan(None, (), f"lamps not checked: {data['not_read'][market]}")
    if market not in data:
        raise NotInTableError(f"no market '{market}'")
    rule = data[market]
    rows = list(rule["always"])
    missing = []
    for name, value, group in (("width", width, "wide"), ("length", length, "long")):
        if value is None:
            missing.append(name)
        elif holds(value, ">=", si(rule["boundaries"][name])):
            rows += rule[group]
    reason = f"more lamps may be needed: measure {' and '.join(missing)}" if missing else ""
    return LampPlan(tuple(_lamp(row) for row in rows), tuple(missing), reason)


def _lamp(row: Any) -> Lamp:
    low, high = row.get("low"), row.get("high")
    return Lamp(
        row["does"],
        row["colour"],
        row["count"],
        row["place"],
        None if low is None else si(low),
        None if high is None else si(high),
        row["source"],
    )
