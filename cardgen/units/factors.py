"""Units that people write, in SI: exact by definition, held against a library of units by the tests."""

from __future__ import annotations

import math
import re
from functools import cache

from cardgen.tables.exact import (
    FOOT,
    G_N,
    IMPERIAL_GALLON,
    INCH,
    KELVIN_AT_0_C,
    MILE_PER_HOUR,
    POUND,
    PSI,
    US_GALLON,
)

FACTORS = {
    "kilogram": 1.0, "gram": 1e-3, "metric_ton": 1e3, "pound": POUND, "ounce": POUND / 16,
    "meter": 1.0, "centimeter": 0.01, "millimeter": 1e-3, "kilometer": 1e3,
    "inch": INCH, "foot": FOOT, "mile": MILE_PER_HOUR * 3600,
    "liter": 1e-3, "gallon": US_GALLON, "quart": US_GALLON / 4, "imperial_gallon": IMPERIAL_GALLON,
    "kilopascal": 1e3, "bar": 1e5, "psi": PSI,
    "kelvin": 1.0, "degC": 1.0, "degF": 1 / 1.8,
    "newton": 1.0, "kilonewton": 1e3, "pound_force": POUND * G_N,
    "second": 1.0, "hour": 3600.0, "day": 86400.0, "week": 604800.0, "year": 365.25 * 86400.0,
    "volt": 1.0, "ampere": 1.0, "ohm": 1.0,
    "percent": 0.01, "degree": math.pi / 180,
}  # fmt: skip
"""SI unit of its kind in one of each; expressions multiply, divide and raise them."""
OFFSETS = {"degC": KELVIN_AT_0_C, "degF": KELVIN_AT_0_C - 32 / 1.8}
"""What zero of a scale of temperature is [K]."""
_TERM = re.compile(r"(^|[*/])([A-Za-z_]+)(?:\*\*(\d))?")


@cache
def to_si(unit: str) -> tuple[float, float]:
    """Return (factor, offset) with ``si = value * factor + offset``.

    Args:
        unit: unit expression of ``SPELLINGS`` [-].

    Returns:
        factor [SI unit per unit] and offset [SI unit]; the offset is zero but for temperatures.
    """
    factor = 1.0
    for sign, name, power in _TERM.findall(unit):
        one = FACTORS[name] ** int(power or 1)
        factor = factor / one if sign == "/" else factor * one
    return factor, OFFSETS.get(unit, 0.0)
