"""Conductors and electric brake magnets."""

from __future__ import annotations

import math
from dataclasses import dataclass

from cardgen.tables.exact import INCH, KELVIN_AT_0_C, si
from cardgen.tables.lookup import NotInTableError, OutOfTableError, check_range, read
from cardgen.tables.sources import Stated


@dataclass(frozen=True, slots=True)
class Magnet:
    """Resistance of one brake magnet at room temperature.

    Args:
        low: lowest published, which draws the largest current [ohm].
        high: highest published [ohm].
        source: source key [-].

    Source: ``brake-magnets``.
    """

    low: float
    high: float
    source: str


def awg_diameter(gauge: int) -> float:
    """Diameter of a solid wire, ``d = 0.005 in x 92^((36-n)/39)``.

    Args:
        gauge: American wire gauge [-], 36 down to 0, and -1 to -3 for 2/0 to 4/0.

    Returns:
        Diameter [m].

    Raises:
        OutOfTableError: gauge outside that range.

    Source: ``awg-b258``.
    """
    bounds = read("wire")["awg"]
    check_range(gauge, bounds["smallest_number"], bounds["largest_number"], "wire gauge")
    return float(0.005 * INCH * 92 ** ((36 - gauge) / 39))


def awg_area(gauge: int) -> float:
    """Copper area of American wire gauge.

    Args:
        gauge: American wire gauge [-], as for ``awg_diameter``.

    Returns:
        Area [m2].

    Raises:
        OutOfTableError: gauge outside the range.

    Source: ``awg-b258``.
    """
    return math.pi / 4 * awg_diameter(gauge) ** 2


def automotive_area(gauge: int) -> float:
    """Copper area of automotive wire sold by gauge, 8 to 14 percent below AWG.

    Args:
        gauge: gauge as sold [-], even numbers from 8 to 18.

    Returns:
        Area [m2].

    Raises:
        NotInTableError: no such row.

    Source: ``j1128-area``.
    """
    rows = read("wire")["automotive_area"]["mm2"]
    if gauge not in rows:
        raise NotInTableError(f"no automotive wire of gauge {gauge} in the table")
    return float(rows[gauge]) * 1e-6


def copper_resistivity(temperature: float) -> float:
    """Resistivity of annealed copper, linear in temperature.

    Args:
        temperature: conductor temperature [K], 233.15 to 378.15 (-40 to 105 C).

    Returns:
        Resistivity [ohm m].

    Raises:
        OutOfTableError: temperature outside the range.

    Source: ``copper-iacs``.
    """
    copper = read("wire")["copper"]
    celsius = temperature - KELVIN_AT_0_C
    check_range(celsius, copper["low_celsius"], copper["high_celsius"], "conductor temperature [C]")
    rise = celsius - copper["reference_celsius"]
    return float((1 + copper["coefficient"] * rise) / copper["conductivity"])


def conductor_resistance(
    length: float, area: float, temperature: float = 293.15, stranded: bool = True
) -> float:
    """Resistance of a copper conductor, one way.

    Args:
        length: length [m].
        area: copper area [m2], above zero.
        temperature: conductor temperature [K], 233.15 to 378.15.
        stranded: adds the 2 percent of strands that run askew [-].

    Returns:
        Resistance [ohm]; supply and return each count.

    Raises:
        OutOfTableError: temperature or area outside the range.

    Source: ``copper-iacs``, ``stranding``.
    """
    if not area > 0:
        raise OutOfTableError(f"copper area {area} m2 is no area")
    factor = float(read("wire")["stranding"]["factor"]) if stranded else 1.0
    return copper_resistivity(temperature) * length / area * factor


def magnet_resistance(drum: str) -> Magnet:
    """Resistance of one brake magnet.

    Current is voltage over resistance: a lower voltage draws less, never more.

    Args:
        drum: ``7 in``, ``10 in`` or ``12 in`` [-].

    Returns:
        Lowest and highest published resistance [ohm].

    Raises:
        NotInTableError: no figure was published for the drum.

    Source: ``brake-magnets``.
    """
    row = read("wire")["magnets"].get(drum)
    if row is None:
        raise NotInTableError(f"no magnet resistance for a {drum} drum; ask the brake maker")
    return Magnet(row["low"], row["high"], row["source"])


def magnets_per_braked_axle() -> int:
    """Magnets on one braked axle [-], one at each wheel.

    Source: ``brake-magnets``.
    """
    return int(read("wire")["magnets_per_braked_axle"])


def breakaway_hold() -> Stated:
    """Time for which brakes must stay applied after separation.

    Returns:
        Time [s], 15 minutes.

    Source: ``breakaway-15-min``.
    """
    row = read("wire")["breakaway"]
    return Stated(si(row["hold"]), row["source"], row["hold"])
