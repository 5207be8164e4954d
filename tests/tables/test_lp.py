"""LP gas against computed rows, the filling table and stamped cylinders."""

from __future__ import annotations

import pytest

from cardgen.tables.exact import POUND, US_GALLON
from cardgen.tables.fluids import fresh_water_density
from cardgen.tables.lookup import NotInTableError, OutOfTableError
from cardgen.tables.lp import (
    LpGas,
    lp_fill_fraction,
    lp_liquid_density,
    usual_cylinder,
    usual_cylinders,
    usual_water_capacity,
)
from tests.each import each

GALLON = POUND / US_GALLON


def kelvin(fahrenheit: float) -> float:
    """Degrees F to K."""
    return (fahrenheit - 32) / 1.8 + 273.15


# saturated liquid propane in lb/US gal at degrees F, from the reference equation of state
@each(
    ("fahrenheit", "us"),
    [
        (0, 4.6040),
        (32, 4.4113),
        (40, 4.3606),
        (50, 4.2956),
        (60, 4.2285),
        (70, 4.1591),
        (80, 4.0871),
        (100, 3.9336),
        (130, 3.6713),
    ],
)
def test_propane_rows(fahrenheit: float, us: float) -> None:
    assert lp_liquid_density("propane", kelvin(fahrenheit)) / GALLON == pytest.approx(us, abs=1e-4)


# n-butane and isobutane in lb/US gal at degrees F, likewise
@each(
    ("fahrenheit", "normal", "iso"),
    [
        (0, 5.1695, 5.0110),
        (32, 5.0133, 4.8451),
        (40, 4.9732, 4.8023),
        (50, 4.9223, 4.7479),
        (60, 4.8706, 4.6924),
        (70, 4.8180, 4.6358),
        (80, 4.7643, 4.5779),
        (100, 4.6537, 4.4578),
        (130, 4.4778, 4.2643),
    ],
)
def test_butane_rows(fahrenheit: float, normal: float, iso: float) -> None:
    assert lp_liquid_density("n_butane", kelvin(fahrenheit)) / GALLON == pytest.approx(normal, abs=1e-4)
    assert lp_liquid_density("isobutane", kelvin(fahrenheit)) / GALLON == pytest.approx(iso, abs=1e-4)


# 29 CFR 1910.110(b)(19)(v)(d), lb/US gal: 4.37 and 4.31 propane, 4.97 and 4.92 n-butane
@each(
    ("gas", "fahrenheit", "printed"),
    [("propane", 40, 4.37), ("propane", 50, 4.31), ("n_butane", 40, 4.97), ("n_butane", 50, 4.92)],
)
def test_osha_densities_within_half_a_percent(gas: LpGas, fahrenheit: float, printed: float) -> None:
    got = lp_liquid_density(gas, kelvin(fahrenheit)) / GALLON
    assert got == pytest.approx(printed, rel=0.005)


def test_isobutane_at_60_f() -> None:
    # SG 60/60 F of isobutane 0.5628
    got = lp_liquid_density("isobutane", kelvin(60)) / fresh_water_density(kelvin(60))
    assert got == pytest.approx(0.5628, abs=2e-4)


def test_liquid_refuses_outside() -> None:
    for fahrenheit in (-1.0, 131.0):
        with pytest.raises(OutOfTableError, match="LP temperature"):
            lp_liquid_density("propane", kelvin(fahrenheit))


# WAC 296-307-41037 Table U-4, both ends of every row that was read
@each(
    ("gravity", "share"),
    [
        (0.496, 0.41),
        (0.503, 0.41),
        (0.504, 0.42),
        (0.508, 0.42),
        (0.510, 0.42),
        (0.511, 0.43),
        (0.519, 0.43),
        (0.520, 0.44),
        (0.527, 0.44),
        (0.593, 0.53),
        (0.600, 0.53),
    ],
)
def test_filling_rows(gravity: float, share: float) -> None:
    assert lp_fill_fraction(gravity) == share


@each("gravity", [0.495, 0.528, 0.55, 0.592, 0.601, 1.0])
def test_filling_refuses_rows_that_were_not_read(gravity: float) -> None:
    with pytest.raises(NotInTableError, match="specific gravity"):
        lp_fill_fraction(gravity)


# commercial propane, specific gravity 0.504: nominal lb, stamped water capacity lb, net at 42 percent lb
@each(
    ("nominal", "water", "net"),
    [
        (5, 11.9, 4.998),
        (11, 26.2, 11.004),
        (20, 47.6, 19.992),
        (30, 71.4, 29.988),
        (40, 95.2, 39.984),
    ],
)
def test_cylinders_hold_their_nominal_by_the_42_percent_rule(
    nominal: float, water: float, net: float
) -> None:
    found = usual_water_capacity(nominal * POUND)
    assert found is not None
    assert found / POUND == pytest.approx(water, abs=1e-9)
    filled = lp_fill_fraction(0.504) * found / POUND
    assert filled == pytest.approx(net, abs=5e-4)
    assert filled == pytest.approx(nominal, rel=5e-4)


def test_the_9_kg_and_the_20_lb_cylinder_stay_apart() -> None:
    nine, twenty = usual_cylinder(9.0), usual_cylinder(20 * POUND)
    assert nine is not None
    assert twenty is not None
    assert nine.water_capacity == pytest.approx(22.0)
    assert 0.42 * nine.water_capacity == pytest.approx(9.24)
    assert nine.tare_low is None
    assert twenty.tare_low == pytest.approx(17 * POUND)
    assert twenty.tare_high == pytest.approx(18 * POUND)


@each("pounds", [10, 19, 33, 100])
def test_an_odd_size_is_unknown(pounds: float) -> None:
    assert usual_cylinder(pounds * POUND) is None
    assert usual_water_capacity(pounds * POUND) is None


# usual steel tares, lb
@each(("nominal", "low", "high"), [(5, 7, 8), (11, 13, 13), (20, 17, 18), (30, 24, 25), (40, 29, 33)])
def test_tares(nominal: float, low: float, high: float) -> None:
    found = usual_cylinder(nominal * POUND)
    assert found is not None
    assert (found.tare_low, found.tare_high) == pytest.approx((low * POUND, high * POUND))


def test_tares_are_ranges_the_right_way_round() -> None:
    for cylinder in usual_cylinders():
        if cylinder.tare_low is not None and cylinder.tare_high is not None:
            assert 0 < cylinder.tare_low <= cylinder.tare_high < cylinder.water_capacity


def test_42_percent_by_weight_is_the_80_percent_rule_stated_at_40_f() -> None:
    # share of the volume that 42 % of the water capacity fills, water counted at 60 F
    def share(fahrenheit: float) -> float:
        water = fresh_water_density(kelvin(60))
        return 0.42 * water / lp_liquid_density("propane", kelvin(fahrenheit))

    assert share(40) == pytest.approx(0.803, abs=5e-4)
    assert share(60) == pytest.approx(0.828, abs=5e-4)
    assert share(100) == pytest.approx(0.890, abs=5e-4)
    assert share(130) == pytest.approx(0.954, abs=6e-4)
