"""Densities against an independent property library and against printed rows."""

from __future__ import annotations

import pytest
from chemicals.iapws import iapws95_rho
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.exact import IMPERIAL_GALLON, POUND, US_GALLON
from cardgen.tables.fluids import (
    fresh_water_density,
    label_water_metric,
    label_water_us,
    liquid,
    liquid_density,
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


# IAPWS-95 at 1 atm: degrees C, kg/m3, lb/US gal, lb/imp gal, as tabulated to the last digit
@each(
    ("celsius", "density", "us", "imperial"),
    [
        (0.01, 999.844, 8.3441, 10.0208),
        (4, 999.975, 8.3452, 10.0222),
        (10, 999.703, 8.3429, 10.0194),
        (15, 999.103, 8.3379, 10.0134),
        (15.556, 999.017, 8.3372, 10.0126),
        (20, 998.207, 8.3304, 10.0044),
        (25, 997.048, 8.3208, 9.9928),
        (30, 995.650, 8.3091, 9.9788),
        (35, 994.033, 8.2956, 9.9626),
        (40, 992.216, 8.2804, 9.9444),
        (60, 983.196, 8.2052, 9.8540),
    ],
)
def test_water_rows(celsius: float, density: float, us: float, imperial: float) -> None:
    got = fresh_water_density(celsius + 273.15)
    assert got == pytest.approx(density, abs=0.005)
    assert got / GALLON == pytest.approx(us, abs=1e-4)
    assert got * IMPERIAL_GALLON / POUND == pytest.approx(imperial, abs=1e-4)


def test_water_is_densest_near_4_c() -> None:
    top = max(range(200), key=lambda tenth: fresh_water_density(273.15 + tenth / 10))
    assert top / 10 == pytest.approx(4.0, abs=0.1)


@each("kelvin", [273.0, 250.0, 333.3, 400.0, float("nan")])
def test_water_refuses_ice_and_steam(kelvin: float) -> None:
    with pytest.raises(OutOfTableError, match="water temperature"):
        fresh_water_density(kelvin)


# Relative density 141.5/(131.5 + API), water at 60 F 8.3372 lb/US gal
@each(("name", "api"), [("gasoline", 60), ("diesel", 35)])
def test_fuel_defaults_follow_api_gravity(name: str, api: int) -> None:
    expected = 141.5 / (131.5 + api) * 8.3372 * GALLON
    assert liquid_density(name) == pytest.approx(expected, rel=3e-3)


@each(
    ("name", "pounds_per_gallon"),
    [("gasoline", 6.18), ("diesel", 7.09), ("def", 9.10), ("salt", 8.552), ("grey", 8.345)],
)
def test_liquids_in_pounds_per_gallon(name: str, pounds_per_gallon: float) -> None:
    assert liquid_density(name) / GALLON == pytest.approx(pounds_per_gallon, abs=0.006)


@each("name", ["grey", "black", "fuel", "gasoline", "diesel", "salt", "def"])
@each("market", ["us", "eu"])
def test_defaults_lie_inside_their_range(name: str, market: str) -> None:
    found = liquid(name, market)
    assert found.low <= found.density <= found.high


def test_diesel_follows_the_market() -> None:
    # API 35: relative density 141.5 / (131.5 + 35) to water of 60 F, 999.016 kg/m3
    assert liquid("diesel", "us").density == pytest.approx(141.5 / 166.5 * 999.016, abs=0.05)
    assert liquid("diesel", "us").high == pytest.approx(141.5 / 156.5 * 999.016, abs=0.05)
    assert liquid("diesel", "eu").density == pytest.approx(832.5)
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


def test_label_figures_of_40_us_gallons() -> None:
    volume = 40 * US_GALLON
    assert label_water_us(volume) / POUND == pytest.approx(332.0, abs=1e-9)
    assert label_water_metric(volume) == pytest.approx(151.4, abs=0.05)
