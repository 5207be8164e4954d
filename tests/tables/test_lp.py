"""LP gas against computed rows, the filling table and stamped cylinders."""

from __future__ import annotations

import pytest

from cardgen.tables.exact import POUND, US_GALLON
from cardgen.tables.fluids import fresh_water_density
from cardgen.tables.lookup import NotInTableError, OutOfTableError
from cardgen.tables.lp import (
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


def test_isobutane_at_60_f() -> None:
    # SG 60/60 F of isobutane 0.5628
    got = lp_liquid_density("isobutane", kelvin(60)) / fresh_water_density(kelvin(60))
    assert got == pytest.approx(0.5628, abs=2e-4)


def test_liquid_refuses_outside() -> None:
    for fahrenheit in (-1.0, 131.0):
        with pytest.raises(OutOfTableError, match="LP temperature"):
            lp_liquid_density("propane", kelvin(fahrenheit))


@each("gravity", [0.495, 0.528, 0.55, 0.592, 0.601, 1.0])
def test_filling_refuses_rows_that_were_not_read(gravity: float) -> None:
    with pytest.raises(NotInTableError, match="specific gravity"):
        lp_fill_fraction(gravity)


def test_cylinders_hold_their_nominal_by_the_42_percent_rule() -> None:
    for cylinder in usual_cylinders():
        if cylinder.nominal != 9.0:
            assert lp_fill_fraction(0.504) * cylinder.water_capacity == pytest.approx(
                cylinder.nominal, rel=5e-4
            )


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
