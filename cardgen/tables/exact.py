"""Units that are exact by definition, for turning printed figures into SI."""

from __future__ import annotations

G_N = 9.80665
"""Standard acceleration of gravity [m/s2]; source: ``units-si``."""
POUND = 0.45359237
"""Avoirdupois pound [kg]; source: ``units-si``."""
INCH = 0.0254
"""Inch [m]; source: ``units-si``."""
FOOT = 0.3048
"""Foot [m]; source: ``units-si``."""
MILE_PER_HOUR = 1609.344 / 3600
"""Mile per hour [m/s]; source: ``units-si``."""
KILOMETRE_PER_HOUR = 1 / 3.6
"""Kilometre per hour [m/s]; source: ``units-si``."""
US_GALLON = 231 * INCH**3
"""US liquid gallon, 231 cubic inches [m3]; source: ``us-gallon``."""
IMPERIAL_GALLON = 4.54609e-3
"""Imperial gallon [m3]; source: ``imperial-gallon``."""
PSI = POUND * G_N / INCH**2
"""Pound-force per square inch [Pa]; source: ``units-si``."""
KELVIN_AT_0_C = 273.15
"""Zero degrees Celsius [K]; source: ``units-si``."""

UNITS: dict[str, float] = {
    "kg": 1.0,
    "lb": POUND,
    "m": 1.0,
    "mm": 1e-3,
    "in": INCH,
    "ft": FOOT,
    "m/s": 1.0,
    "mph": MILE_PER_HOUR,
    "km/h": KILOMETRE_PER_HOUR,
    "psi": PSI,
    "kPa": 1e3,
    "kN": 1e3,
    "min": 60.0,
    "year": 1.0,
    "1": 1.0,
    "%": 0.01,
}
"""Unit spellings of the data files and their SI factor [SI unit per unit]; source: ``units-si``.

Calendar years stay years, because ages are reckoned on the calendar.
"""


def si(text: str) -> float:
    """Turn a printed figure such as ``3,000 lb`` into SI.

    Args:
        text: number, space, one of the spellings in ``UNITS`` [-].

    Returns:
        The value [SI unit of the spelling].

    Raises:
        KeyError: the unit is not among ``UNITS``.
        ValueError: the number cannot be read.

    Source: ``units-si``.
    """
    number, _, unit = text.strip().partition(" ")
    return float(number.replace(",", "")) * UNITS[unit or "1"]
