"""Coupling classes, balls, chains and coupling heights."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from cardgen.tables.exact import si
from cardgen.tables.lookup import NotInTableError, OutOfTableError, holds, read
from cardgen.tables.sources import Stated


@dataclass(frozen=True, slots=True)
class BallSize:
    """A ball size of the trade.

    Args:
        name: as stamped, for example ``2 in`` [-].
        diameter: nominal [m].
        markets: markets it is usual in [-].
        source: source key [-].

    Source: the key it carries.
    """

    name: str
    diameter: float
    markets: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class HeightBand:
    """A published band of heights above ground.

    Args:
        low: lower end [m].
        high: upper end [m].
        source: source key [-].

    Source: the key it carries.
    """

    low: float
    high: float
    source: str


def class_for(gross: float) -> int:
    """Class of a trailer by its gross weight.

    Args:
        gross: gross trailer weight [kg], up to 4535.92 (10,000 lb).

    Returns:
        Class 1 to 4 [-].

    Raises:
        OutOfTableError: heavier than the classes reach; only makers' ratings count there.

    Source: ``comar-classes``.
    """
    if not gross >= 0:
        raise OutOfTableError(f"gross trailer weight {gross} kg is no weight")
    for number, upper in enumerate(read("couplings")["classes"]["upper"], start=1):
        if holds(gross, "<=", si(upper)):
            return number
    raise OutOfTableError("above 10,000 lb no coupling class applies; only the makers' ratings count")


def class_limit(coupling_class: int) -> float:
    """Largest gross trailer weight of a class.

    Args:
        coupling_class: 1 to 4 [-].

    Returns:
        Mass [kg].

    Raises:
        NotInTableError: no such class; "class 5" is a name of the trade only.

    Source: ``comar-classes``.
    """
    return si(read("couplings")["classes"]["upper"][_row(coupling_class)])


def minimum_ball(coupling_class: int) -> float | None:
    """Smallest ball of a class.

    Args:
        coupling_class: 1 to 4 [-].

    Returns:
        Diameter [m], or None for class 4, whose ball is sized by strength.

    Raises:
        NotInTableError: no such class.

    Source: ``comar-ball``.
    """
    text = read("couplings")["minimum_ball"]["ball"][_row(coupling_class)]
    return None if text is None else si(text)


def chain_minimum(gvwr: float) -> float:
    """Least breaking strength of each safety chain with its hook and anchor.

    Breaking strength, not working load limit. Above 10,000 lb, where the coupling
    classes end, the rule that each chain holds the whole trailer stands in.

    Args:
        gvwr: the trailer's GVWR [kg].

    Returns:
        Strength as the weight it holds [kg]; times 9.80665 for newtons.

    Raises:
        OutOfTableError: not a weight.

    Source: ``j684-chains`` up to 10,000 lb, ``law-nh-chains`` above.
    """
    table = read("couplings")["chains"]["each"]
    if gvwr > class_limit(4) and not holds(gvwr, "<=", class_limit(4)):
        return gvwr
    text = table[class_for(gvwr) - 1]
    return gvwr if text is None else si(text)


@cache
def trade_balls() -> tuple[BallSize, ...]:
    """Ball sizes of the trade, diameters [m].

    Source: ``ball-sizes-us``, ``ball-50``, ``words``.
    """
    return tuple(
        BallSize(row["name"], si(row["diameter"]), tuple(row["markets"]), row["source"])
        for row in read("couplings")["balls"]
    )


def same_ball_size(a: float, b: float) -> bool:
    """Say whether two ball sizes are the same; 50 mm and 2 in (50.8 mm) are not.

    Args:
        a: one diameter [m].
        b: the other [m].

    Returns:
        True within 0.3 mm [-], a choice of this project that tells all trade sizes apart.

    Source: ``ball-50``, ``ball-sizes-us``.
    """
    return abs(a - b) <= si(read("couplings")["ball_tolerance"])


def worn_ball(nominal: float) -> Stated | None:
    """Diameter under which a ball counts as worn out.

    Args:
        nominal: nominal diameter [m].

    Returns:
        Least diameter [m], 49.0 mm for a 50 mm ball; None for sizes without a published figure.

    Source: ``ball-worn``.
    """
    row = read("couplings")["worn_ball"]
    if not same_ball_size(nominal, si(row["nominal"])):
        return None
    return Stated(si(row["least"]), row["source"], row["least"])


def height_band(what: str, market: str) -> HeightBand | None:
    """Published band for the height of the coupling.

    Args:
        what: ``coupling_head`` (trailer level) or ``ball_centre`` (vehicle laden) [-].
        market: market of the rig [-].

    Returns:
        Band [m], or None where none was found, as in North America.

    Raises:
        NotInTableError: unknown name.

    Source: ``coupling-height-eu``, ``ball-height-eu``.
    """
    row = read("couplings")["heights"].get(what)
    if row is None:
        raise NotInTableError(f"no height band '{what}'")
    if market not in row["markets"]:
        return None
    return HeightBand(si(row["low"]), si(row["high"]), row["source"])


def bed_hitch_limit() -> Stated:
    """Gross trailer weight up to which the fifth-wheel and gooseneck standard reaches.

    Returns:
        Mass [kg].

    Source: ``j2638``.
    """
    row = read("couplings")["bed_hitch_limit"]
    return Stated(si(row["gross"]), row["source"], row["gross"])


def _row(coupling_class: int) -> int:
    if coupling_class not in (1, 2, 3, 4):
        raise NotInTableError(f"no coupling class {coupling_class}; classes run from 1 to 4")
    return coupling_class - 1
