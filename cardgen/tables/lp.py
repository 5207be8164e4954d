"""LP gas: liquid density, filling limit and usual cylinders."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from cardgen.tables.exact import KELVIN_AT_0_C, POUND, US_GALLON, si
from cardgen.tables.lookup import NotInTableError, between, read

LpGas = Literal["propane", "n_butane", "isobutane"]


@dataclass(frozen=True, slots=True)
class UsualCylinder:
    """A usual steel cylinder, for use only when its collar cannot be read.

    Args:
        nominal: gas it is sold for [kg].
        water_capacity: mass of water that fills it [kg].
        tare_low: lightest usual empty weight [kg], None when not known.
        tare_high: heaviest usual empty weight [kg], None when not known.
        source: source key of size and water capacity [-].
        tare_source: source key of the tare [-].

    Source: ``lp-cylinder-sizes``, ``lp-cylinder-tare``.
    """

    nominal: float
    water_capacity: float
    tare_low: float | None
    tare_high: float | None
    source: str
    tare_source: str | None


@cache
def _saturation(gas: LpGas) -> tuple[tuple[float, ...], tuple[float, ...]]:
    table: dict[str, Any] = read("lp")["saturated_liquid"]
    kelvin = tuple((f - 32) / 1.8 + KELVIN_AT_0_C for f in table["fahrenheit"])
    if gas == "propane":
        return kelvin, tuple(table["propane_kg_m3"])
    return kelvin, tuple(d * POUND / US_GALLON for d in table[f"{gas}_lb_gal"])


def lp_liquid_density(gas: LpGas, temperature: float) -> float:
    """Density of the liquid in a closed cylinder, straight line between computed points.

    Between points the line is at most about 0.6 kg/m3 low, judged by the rows' curvature.

    Args:
        gas: ``propane``, ``n_butane`` or ``isobutane`` [-].
        temperature: temperature of the liquid [K], 255.37 to 327.59 (0 to 130 F).

    Returns:
        Density [kg/m3].

    Raises:
        OutOfTableError: the temperature is outside the table.

    Source: ``lp-saturated``; ``lp-osha`` agrees within 0.5 percent.
    """
    kelvin, density = _saturation(gas)
    return between(temperature, kelvin, density, "LP temperature [K]")


def lp_fill_fraction(specific_gravity: float) -> float:
    """Largest net filling as a share of the stamped water capacity, by weight.

    Args:
        specific_gravity: of the liquid at 60 F against water [-], 0.504 for
            commercial propane; the table steps in thousandths, so it is rounded to them.

    Returns:
        Mass of gas over mass of water capacity [-], 0.42 for propane.

    Raises:
        NotInTableError: the row was not read, as between 0.527 and 0.593.

    Source: ``lp-fill``.
    """
    rounded = round(specific_gravity, 3)
    for row in read("lp")["filling"]["rows"]:
        if row["low"] <= rounded <= row["high"]:
            return float(row["percent"]) / 100
    raise NotInTableError(
        f"no filling row for specific gravity {specific_gravity:.3f}; read the net weight on the cylinder"
    )


@cache
def usual_cylinders() -> tuple[UsualCylinder, ...]:
    """Every usual cylinder of the table, masses [kg].

    Source: ``lp-cylinder-sizes``, ``lp-cylinder-tare``.
    """

    def made(row: dict[str, Any]) -> UsualCylinder:
        tare = [si(t) for t in row["tare"]] if "tare" in row else [None, None]
        return UsualCylinder(
            si(row["nominal"]),
            si(row["water"]),
            tare[0],
            tare[1],
            row["source"],
            row.get("tare_source"),
        )

    return tuple(made(row) for row in read("lp")["cylinders"])


def usual_cylinder(nominal: float) -> UsualCylinder | None:
    """Find the usual cylinder of a nominal size, as a fallback for an unread stamp.

    Args:
        nominal: gas it is sold for [kg]; it must match a size within 0.3 percent,
            which keeps the 20 lb and the 9 kg cylinder apart.

    Returns:
        The cylinder [-], or None when the size is not in the table.

    Source: ``lp-cylinder-sizes``, ``lp-cylinder-tare``.
    """
    near = [c for c in usual_cylinders() if abs(nominal - c.nominal) <= 0.003 * c.nominal]
    return near[0] if near else None


def usual_water_capacity(nominal: float) -> float | None:
    """Water capacity stamped on the usual cylinder of a nominal size.

    Args:
        nominal: gas it is sold for [kg].

    Returns:
        Mass of water that fills it [kg], or None when the size is not in the table.

    Source: ``lp-cylinder-sizes``.
    """
    found = usual_cylinder(nominal)
    return found.water_capacity if found else None
