"""Standard atmosphere, for the note on tire pressure and altitude."""

from __future__ import annotations

from cardgen.tables.exact import G_N
from cardgen.tables.lookup import check_range

_PRESSURE_0 = 101325.0  # Pa at sea level
_TEMPERATURE_0 = 288.15  # K at sea level
_LAPSE = 0.0065  # K/m
_GAS_CONSTANT = 287.05287  # J/(kg K), dry air
_LOW, _HIGH = -500.0, 11000.0  # m; the lowest roads of the world lie near -430 m


def standard_temperature(altitude: float) -> float:
    """Air temperature of the standard atmosphere, ``T = 288.15 - 0.0065 h``.

    Args:
        altitude: geopotential altitude [m], -500 to 11,000; for roads the height above
            sea level serves.

    Returns:
        Temperature [K].

    Raises:
        OutOfTableError: altitude outside the layer.

    Source: ``standard-atmosphere``.
    """
    check_range(altitude, _LOW, _HIGH, "altitude [m]")
    return _TEMPERATURE_0 - _LAPSE * altitude


def standard_pressure(altitude: float) -> float:
    """Air pressure of the standard atmosphere, ``p = p0 (T/T0)^(g/(R a))``.

    Args:
        altitude: geopotential altitude [m], -500 to 11,000.

    Returns:
        Absolute pressure [Pa].

    Raises:
        OutOfTableError: altitude outside the layer.

    Source: ``standard-atmosphere``.
    """
    ratio = standard_temperature(altitude) / _TEMPERATURE_0
    return float(_PRESSURE_0 * ratio ** (G_N / (_GAS_CONSTANT * _LAPSE)))
