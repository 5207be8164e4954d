"""Weights of water, waste, gas and fuel."""

from __future__ import annotations

from cardgen.tables import fluids as table
from cardgen.tables import lp


def tank_density(holds: str, temperature: float | None) -> float:
    """Density of what a tank holds [kg/m3].

    Args:
        holds: ``fresh``, ``grey``, ``black``, ``heater``, ``fuel``, ``diesel`` or ``salt`` [-].
        temperature: temperature of the water [K], 293.15 K when None; used for fresh water only.

    Source: see ``cardgen.tables.fluids``.
    """
    if holds in ("fresh", "heater"):
        return table.fresh_water_density(293.15 if temperature is None else temperature)
    return table.liquid_density(holds)


def cylinder_gas(water_capacity: float | None, nominal: float | None) -> float | None:
    """Mass of gas in a full cylinder [kg]: 42 % of the stamped water capacity, else the gas it is sold for.

    Args:
        water_capacity: stamped water capacity, a mass of water [kg], None when unknown.
        nominal: nominal gas capacity, the mass of propane or butane it is sold for [kg], used when
            the stamp is unknown; None when unknown.

    Returns:
        Mass of gas [kg], or None when neither is known.

    Source: WAC 296-307-41037 Table U-4, row for specific gravity 0.504 to 0.510; a size is sold by the
    mass of its gas (common practice, no source), for usual US cylinders by the table of their stamps.
    """
    if water_capacity is not None:
        return lp.lp_fill_fraction(0.508) * water_capacity
    if nominal is None:
        return None
    stamped = lp.usual_water_capacity(nominal)
    return nominal if stamped is None else lp.lp_fill_fraction(0.508) * stamped
