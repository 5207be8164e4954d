"""Kinds of quantity: which unit spellings each accepts and which range is believable.

The spellings are what people write on a rig; the right-hand side is a unit
expression that pint understands. Factors themselves come from pint (which
follows NIST SP 811), never from this file.
"""

from __future__ import annotations

from dataclasses import dataclass

SPELLINGS: dict[str, dict[str, str]] = {
    "mass": {
        "lb": "pound",
        "lbs": "pound",
        "pound": "pound",
        "pounds": "pound",
        "oz": "ounce",
        "kg": "kilogram",
        "g": "gram",
        "t": "metric_ton",
        "tonne": "metric_ton",
    },
    "length": {
        "in": "inch",
        "inch": "inch",
        "inches": "inch",
        '"': "inch",
        "″": "inch",
        "ft": "foot",
        "foot": "foot",
        "feet": "foot",
        "'": "foot",
        "′": "foot",
        "m": "meter",
        "cm": "centimeter",
        "mm": "millimeter",
    },
    "distance": {
        "mi": "mile",
        "mile": "mile",
        "miles": "mile",
        "km": "kilometer",
        "ft": "foot",
        "m": "meter",
    },
    "volume": {
        "gal": "gallon",
        "US gal": "gallon",
        "imp gal": "imperial_gallon",
        "L": "liter",
        "l": "liter",
        "litre": "liter",
        "litres": "liter",
        "liter": "liter",
        "liters": "liter",
        "qt": "quart",
    },
    "pressure": {"psi": "psi", "kPa": "kilopascal", "bar": "bar"},
    "temperature": {
        "F": "degF",
        "°F": "degF",
        "deg F": "degF",
        "C": "degC",
        "°C": "degC",
        "deg C": "degC",
        "K": "kelvin",
    },
    "speed": {
        "mph": "mile/hour",
        "km/h": "kilometer/hour",
        "kph": "kilometer/hour",
        "m/s": "meter/second",
    },
    "torque": {
        "lb-ft": "pound_force*foot",
        "ft-lb": "pound_force*foot",
        "lbf-ft": "pound_force*foot",
        "lb·ft": "pound_force*foot",
        "lb ft": "pound_force*foot",
        "ft lb": "pound_force*foot",
        "lb-in": "pound_force*inch",
        "N m": "newton*meter",
        "Nm": "newton*meter",
        "N·m": "newton*meter",
    },
    "force": {"N": "newton", "kN": "kilonewton", "lbf": "pound_force"},
    "rate": {
        "lb/in": "pound_force/inch",
        "lbf/in": "pound_force/inch",
        "N/mm": "newton/millimeter",
        "kN/m": "kilonewton/meter",
    },
    "fraction": {"%": "percent", "percent": "percent"},
    "voltage": {"V": "volt"},
    "current": {"A": "ampere"},
    "charge": {"Ah": "ampere*hour", "A h": "ampere*hour"},
    "resistance": {"ohm": "ohm", "ohms": "ohm"},
    "area": {"mm2": "millimeter**2", "mm²": "millimeter**2"},
    "duration": {
        "days": "day",
        "day": "day",
        "weeks": "week",
        "week": "week",
        "years": "year",
        "year": "year",
        "h": "hour",
    },
    "angle": {"deg": "degree", "°": "degree"},
}
"""Accepted unit spellings of every kind, mapped to a pint unit expression."""

SI_UNIT: dict[str, str] = {
    "mass": "kilogram",
    "length": "meter",
    "distance": "meter",
    "volume": "meter**3",
    "pressure": "pascal",
    "temperature": "kelvin",
    "speed": "meter/second",
    "torque": "newton*meter",
    "force": "newton",
    "rate": "newton/meter",
    "fraction": "dimensionless",
    "voltage": "volt",
    "current": "ampere",
    "charge": "coulomb",
    "resistance": "ohm",
    "area": "meter**2",
    "duration": "second",
    "angle": "radian",
}

SAMPLE: dict[str, str] = {
    "mass": "3,500 lb",
    "length": "6 ft 2 in",
    "distance": "50 mi",
    "volume": "20 gal",
    "pressure": "65 psi",
    "temperature": "68 F",
    "speed": "60 mph",
    "torque": "100 lb-ft",
    "force": "8.5 kN",
    "rate": "350 lb/in",
    "fraction": "12 %",
    "voltage": "12.6 V",
    "current": "15 A",
    "charge": "7 Ah",
    "resistance": "3.2 ohm",
    "area": "2.5 mm2",
    "duration": "4 weeks",
    "angle": "1.5 deg",
}
"""One right spelling per kind, shown in hints."""

ABSOLUTE = {"psia", "bara", "bar(a)", "bar abs", "kPa abs", "kPaa", "atm"}
"""Pressure spellings that count from vacuum; tires are set by gauge."""

GAUGE = {"psig": "psi", "bar(g)": "bar", "barg": "bar", "kPag": "kPa"}
"""Explicit gauge spellings and their plain form."""


@dataclass(frozen=True, slots=True)
class Believable:
    """The believable range of a field, SI units of the kind, both ends included."""

    low: float
    high: float


RANGES: dict[str, Believable] = {
    "mass": Believable(0.0, 60_000.0),
    "length": Believable(0.0, 40.0),
    "distance": Believable(0.0, 2e6),
    "volume": Believable(0.0, 5.0),
    "pressure": Believable(0.0, 1.1e6),
    "temperature": Believable(203.15, 353.0),
    "speed": Believable(0.0, 60.0),
    "torque": Believable(0.0, 50_000.0),
    "force": Believable(0.0, 1e6),
    "rate": Believable(1e3, 1e7),
    "fraction": Believable(0.0, 2.0),
    "voltage": Believable(0.0, 60.0),
    "current": Believable(0.0, 500.0),
    "charge": Believable(0.0, 7.2e6),
    "resistance": Believable(0.0, 1e4),
    "area": Believable(1e-7, 2e-4),
    "duration": Believable(0.0, 1e10),
    "angle": Believable(-0.6, 0.6),
}
"""Believable ranges by kind (common practice, no source); outside lies a slip of the pen."""
