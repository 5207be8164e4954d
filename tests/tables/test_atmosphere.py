"""Standard atmosphere against an independent library and printed gauge changes."""

from __future__ import annotations

import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.atmosphere import standard_pressure, standard_temperature
from cardgen.tables.exact import FOOT, PSI
from cardgen.tables.lookup import OutOfTableError
from tests.each import each


def geometric(geopotential: float) -> float:
    """Geometric altitude [m] of a geopotential one, earth radius 6356.766 km."""
    return geopotential * 6356766.0 / (6356766.0 - geopotential)


@given(st.floats(0.0, 10900.0))
def test_agrees_with_an_independent_library(altitude: float) -> None:
    # fluids 1.3 evaluates the US Standard Atmosphere 1976, the same below 11 km
    other = ATMOSPHERE_1976(geometric(altitude))
    assert standard_pressure(altitude) == pytest.approx(other.P, rel=1e-4)
    assert standard_temperature(altitude) == pytest.approx(other.T, abs=0.01)


def test_sea_level() -> None:
    assert standard_pressure(0.0) == 101325.0
    assert standard_pressure(0.0) / PSI == pytest.approx(14.696, abs=5e-4)
    assert standard_temperature(0.0) == 288.15


def test_standard_cooling() -> None:
    # 3.57 F per 1000 ft
    drop = (standard_temperature(0.0) - standard_temperature(1000 * FOOT)) * 1.8
    assert drop == pytest.approx(3.57, abs=0.005)


@given(st.floats(-500, 11000), st.floats(-500, 11000))
def test_pressure_falls_with_altitude(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert standard_pressure(low) >= standard_pressure(high)


@each("altitude", [-501.0, 11001.0, float("nan")])
def test_outside_the_layer(altitude: float) -> None:
    with pytest.raises(OutOfTableError, match="altitude"):
        standard_pressure(altitude)
