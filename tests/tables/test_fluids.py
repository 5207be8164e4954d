"""Densities against an independent property library and against printed rows."""

from __future__ import annotations

import pytest
from chemicals.iapws import iapws95_rho
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.exact import POUND, US_GALLON
from cardgen.tables.fluids import (
    fresh_water_density,
    label_water_metric,
    label_water_us,
    liquid,
)
from cardgen.tables.lookup import NotInTableError, OutOfTableError
from tests.each import each

GALLON = POUND / US_GALLON  # lb/US gal in kg/m3


@given(st.floats(0.0, 60.0))
def test_water_agrees_with_iapws_95(celsius: float) -> None:
    # chemicals 1.5 evaluates IAPWS-95 (2018 release) on its own
    kelvin = max(273.16, 273.15 + celsius)
    expected: float = iapws95_rho(kelvin, 101325.0)  # type: ignore[no-untyped-call]  # no stubs
    assert fresh_water_density(kelvin) == pytest.approx(expected, abs=0.004)


def test_water_is_densest_near_4_c() -> None:
    top = max(range(200), key=lambda tenth: fresh_water_density(273.15 + tenth / 10))
    assert top / 10 == pytest.approx(4.0, abs=0.1)


@each("kelvin", [273.0, 250.0, 333.3, 400.0, float("nan")])
def test_water_refuses_ice_and_steam(kelvin: float) -> None:
    with pytest.raises(OutOfTableError, match="water temperature"):
        fresh_water_density(kelvin)


@each("name", ["grey", "black", "fuel", "gasoline", "diesel", "salt", "def"])
@each("market", ["us", "eu"])
def test_defaults_lie_inside_their_range(name: str, market: str) -> None:
    found = liquid(name, market)
    assert found.low <= found.density <= found.high


def test_diesel_follows_the_market() -> None:
    assert liquid("diesel", "us").high == pytest.approx(141.5 / 156.5 * 999.016, abs=0.05)  # API 25
    assert liquid("diesel", "us").density != liquid("diesel", "eu").density
    assert liquid("fuel", "us").name == "gasoline"


def test_unknown_liquid_is_refused() -> None:
    for name in ("fresh", "heater", "milk"):
        with pytest.raises(NotInTableError, match=name):
            liquid(name)


def test_label_figures_of_30_us_gallons() -> None:
    # 72 FR 68442 (2007): 8.3 lb/gal and 1 kg/L. 30 gal: label 249 lb, 113.56 kg
    volume = 30 * US_GALLON
    assert label_water_us(volume) / POUND == pytest.approx(249.0, abs=1e-9)
    assert label_water_metric(volume) == pytest.approx(113.56, abs=0.005)
    # the two figures of one label do not convert into each other
    assert label_water_metric(volume) / POUND == pytest.approx(250.36, abs=0.01)
    assert fresh_water_density(293.15) * volume / POUND == pytest.approx(249.91, abs=0.005)
