"""Densities of what tanks hold, and the water figures that labels and talk use."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from cardgen.tables.exact import KELVIN_AT_0_C, POUND, US_GALLON
from cardgen.tables.lookup import NotInTableError, check_range, read
from cardgen.tables.lp import lp_fill_fraction, lp_liquid_density, usual_water_capacity

__all__ = [
    "Liquid",
    "fresh_water_density",
    "label_water_metric",
    "label_water_us",
    "liquid",
    "liquid_density",
    "lp_fill_fraction",
    "lp_liquid_density",
    "usual_water_capacity",
]

_KELL = (999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12)
_KELL_DIVISOR = 16.879850e-3


@dataclass(frozen=True, slots=True)
class Liquid:
    """A liquid taken at one density with a range.

    Args:
        name: key of the liquid [-].
        words: words for people [-].
        density: default [kg/m3].
        low: lowest usual density [kg/m3].
        high: highest usual density [kg/m3].
        source: source key of the default [-].
        range_source: source key of the range [-].

    Source: the keys it carries.
    """

    name: str
    words: str
    density: float
    low: float
    high: float
    source: str
    range_source: str


def fresh_water_density(temperature: float) -> float:
    """Density of fresh water at one atmosphere.

    ``rho = (a0 + a1 t + ... + a5 t^5) / (1 + b t)`` with t in degrees C.

    Args:
        temperature: temperature of the water [K], 273.15 to 333.15 (0 to 60 C).

    Returns:
        Density [kg/m3], within 0.004 of IAPWS-95.

    Raises:
        OutOfTableError: the water would be ice, or hotter than a water heater.

    Source: ``water-kell``, checked against ``water-iapws95``.
    """
    t = temperature - KELVIN_AT_0_C
    check_range(temperature, KELVIN_AT_0_C, KELVIN_AT_0_C + 60, "water temperature [K]")
    return sum(a * t**i for i, a in enumerate(_KELL)) / (1 + _KELL_DIVISOR * t)


@cache
def liquid(name: str, market: str = "us") -> Liquid:
    """Find a liquid that is taken at one density.

    Args:
        name: ``grey``, ``black``, ``fuel``, ``gasoline``, ``diesel``, ``salt``, ``waste``
            or ``def`` [-]; ``fuel`` is gasoline.
        market: market of the rig [-]; diesel follows EN 590 in ``uk`` and ``eu``.

    Returns:
        The liquid with default and range [-].

    Raises:
        NotInTableError: no such liquid; fresh water goes by its temperature instead.

    Source: the keys the record carries.
    """
    data = read("fluids")
    key = data["tanks"].get(name, name)
    if key == "diesel" and market in ("uk", "eu"):
        key = "diesel_eu"
    entry = data["liquids"].get(key)
    if entry is None:
        raise NotInTableError(f"no liquid '{name}' in the table")
    return Liquid(
        key,
        entry["words"],
        entry["density"] * 1e3,
        entry["low"] * 1e3,
        entry["high"] * 1e3,
        entry["source"],
        entry.get("range_source", entry["source"]),
    )


def liquid_density(name: str, market: str = "us") -> float:
    """Default density of a liquid other than fresh water.

    Args:
        name: as for ``liquid`` [-].
        market: market of the rig [-].

    Returns:
        Density [kg/m3].

    Raises:
        NotInTableError: no such liquid.

    Source: the keys of ``liquid``.
    """
    return liquid(name, market).density


def label_water_us(volume: float) -> float:
    """Mass of water as the pound figure of a US RV trailer label counts it, 8.3 lb/US gal.

    Not the physical mass, and not convertible into the label's own kilograms.

    Args:
        volume: volume of water [m3].

    Returns:
        Label mass [kg].

    Source: ``water-label``.
    """
    figure = read("fluids")["water_figures"]["label_us"]["lb_per_us_gal"]
    return volume / US_GALLON * float(figure) * POUND


def label_water_metric(volume: float) -> float:
    """Mass of water as the kilogram figure of a US RV trailer label counts it, 1 kg/L.

    Args:
        volume: volume of water [m3].

    Returns:
        Label mass [kg].

    Source: ``water-label``.
    """
    return volume * 1e3 * float(read("fluids")["water_figures"]["label_metric"]["kg_per_litre"])
