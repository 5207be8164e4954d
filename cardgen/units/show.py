"""Write SI values for people: US or metric units, sane rounding, number and unit kept together."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from cardgen.units.kinds import GAUGE, SPELLINGS
from cardgen.units.registry import to_si

Base = Literal["us", "metric"]


@dataclass(frozen=True, slots=True)
class Mixed:
    """Units as an owner writes them: a system, and the kinds written otherwise.

    Args:
        base: ``us`` or ``metric``, for every kind not named [-].
        other: kind to a name in ``STYLES`` [-].
    """

    base: Base
    other: Mapping[str, str]


System = Base | Mixed
NBSP = "\u00a0"


@dataclass(frozen=True, slots=True)
class Style:
    """How one kind is written: pint unit, printed unit, decimals."""

    unit: str
    printed: str
    digits: int


STYLES: dict[str, dict[str, Style]] = {
    "us": {
        "mass": Style("pound", "lb", 0),
        "length": Style("inch", "in", 1),
        "distance": Style("mile", "mi", 0),
        "volume": Style("gallon", "gal", 1),
        "pressure": Style("psi", "psi", 0),
        "temperature": Style("degF", "°F", 0),
        "speed": Style("mile/hour", "mph", 0),
        "torque": Style("pound_force*foot", "lb·ft", 0),
        "force": Style("kilonewton", "kN", 2),  # plates state D values so everywhere
        "rate": Style("pound_force/inch", "lb/in", 0),
    },
    "metric": {
        "mass": Style("kilogram", "kg", 0),
        "length": Style("millimeter", "mm", 0),
        "distance": Style("kilometer", "km", 0),
        "volume": Style("liter", "L", 0),
        "pressure": Style("bar", "bar", 2),
        "temperature": Style("degC", "°C", 0),
        "speed": Style("kilometer/hour", "km/h", 0),
        "torque": Style("newton*meter", "N·m", 0),
        "force": Style("kilonewton", "kN", 2),
        "rate": Style("newton/millimeter", "N/mm", 1),
    },
    "US gal": {"volume": Style("gallon", "US gal", 1)},
    "kPa": {"pressure": Style("kilopascal", "kPa", 0)},
}
US_UNITS = ("pound", "ounce", "inch", "foot", "mile", "gallon", "quart", "psi", "degF")
"""Units of the US system as they stand in the expressions of ``SPELLINGS``."""
COMMON: dict[str, Style] = {
    "fraction": Style("percent", "%", 1),
    "voltage": Style("volt", "V", 1),
    "current": Style("ampere", "A", 1),
    "charge": Style("ampere*hour", "Ah", 1),
    "resistance": Style("ohm", "ohm", 2),
    "area": Style("millimeter**2", "mm²", 2),
    "duration": Style("week", "weeks", 0),
    "angle": Style("degree", "°", 1),
    "factor": Style("dimensionless", "", 3),
    "count": Style("dimensionless", "", 0),
}


def style_of(kind: str, system: System) -> Style:
    """Return unit and rounding of a kind (a name [-]) in the units chosen."""
    name = system if isinstance(system, str) else system.other.get(kind, system.base)
    return STYLES[name].get(kind) or COMMON[kind]


PARTS = {"trailer": "trailer", "spare": "trailer", "front": "vehicle", "rear": "vehicle"}
"""Places of the rig that have tires, and the part whose label or placard says their pressures."""


def at_place(system: System, place: str) -> System:
    """Return the units of one place of ``PARTS``: a trailer's label may say psi and the vehicle's placard kPa."""
    own = "" if isinstance(system, str) else system.other.get(f"pressure {PARTS.get(place)}", "")
    return (
        system
        if isinstance(system, str) or not own
        else Mixed(system.base, {**system.other, "pressure": own})
    )


def base_of(system: System) -> Base:
    """Return the system of everything that nobody wrote otherwise, paper among it."""
    return system if isinstance(system, str) else system.base


def in_us(kind: str, system: System) -> bool:
    """Whether a kind (a name [-]) is written in units of the US system."""
    own = STYLES["us"].get(kind)
    return own is not None and style_of(kind, system).unit == own.unit


@cache
def style_named(kind: str, spelling: str) -> str:
    """Return the name in ``STYLES`` that goes with a unit as a file spells it; empty where none differs.

    Args:
        kind: name of the kind [-].
        spelling: the unit as written, for example ``lbs`` [-].
    """
    if kind not in STYLES["us"] or not spelling:
        return ""
    plain = GAUGE.get(spelling, spelling)
    expression = SPELLINGS[kind].get(plain, "")
    if plain == "kPa":
        return "kPa"
    return "us" if any(re.search(rf"(?<!imperial_){unit}", expression) for unit in US_UNITS) else "metric"


def convert(si: float, kind: str, system: System) -> float:
    """Return an SI value in the display unit, unrounded.

    Args:
        si: value [SI unit of the kind].
        kind: name of the kind [-].
        system: the units [-].
    """
    if kind in ("factor", "count"):
        return si
    factor, offset = to_si(style_of(kind, system).unit, kind)
    return (si - offset) / factor


End = Literal["upper", "lower"]
"""Which end of what is allowed an instruction names: upper ends are rounded down, lower ends up."""


def number(si: float, kind: str, system: System, digits: int | None = None, end: End | None = None) -> str:
    """Write the number alone, thousands grouped, never ``-0``.

    Args:
        si: value [SI unit of the kind].
        kind, system: names [-].
        digits: decimals, the kind's own when None [-].
        end: of an instruction, rounded so that what is printed is allowed; None rounds to the nearest [-].
    """
    places = style_of(kind, system).digits if digits is None else digits
    value = convert(si, kind, system)
    if end is None:
        value = round(value, places)
    else:
        scaled = value * 10.0**places
        near = 1e-9 * max(abs(scaled), 1.0)
        value = (math.floor(scaled + near) if end == "upper" else math.ceil(scaled - near)) / 10.0**places
    return f"{value + 0.0:,.{places}f}"


def show(si: float, kind: str, system: System, digits: int | None = None, end: End | None = None) -> str:
    """Write number and unit, joined by a no-break space.

    Args:
        si: value [SI unit of the kind].
        kind, system: names [-].
        digits: decimals, the kind's own when None [-].
        end: see ``number`` [-].
    """
    unit = style_of(kind, system).printed
    text = number(si, kind, system, digits, end)
    if not unit or unit == "°":
        return text + unit
    return f"{text}{NBSP}{unit}"


def feet_inches(si: float) -> str:
    """Write a length [m] as feet and whole inches, rounded to the nearest inch."""
    factor, _ = to_si("inch", "length")
    inches = round(abs(si) / factor)
    sign = "-" if si < 0 and inches else ""
    return f"{sign}{inches // 12}{NBSP}ft{NBSP}{inches % 12}{NBSP}in"


def inch_fraction(si: float, steps: int = 16) -> str:
    """Write a length [m] in inches with a common fraction, nearest ``1/steps`` in."""
    factor, _ = to_si("inch", "length")
    parts = round(abs(si) / factor * steps)
    whole, rest = divmod(parts, steps)
    bottom = steps
    while rest and rest % 2 == 0:
        rest, bottom = rest // 2, bottom // 2
    sign = "-" if si < 0 and parts else ""
    fraction = f"{rest}/{bottom}" if rest else ""
    body = f"{whole} {fraction}".strip() if whole and fraction else (fraction or str(whole))
    return f"{sign}{body.replace(' ', NBSP)}{NBSP}in"
