"""Class rules of tires against the printed rows and their known traps."""

from __future__ import annotations

import pytest

from cardgen.tables.exact import POUND, PSI, si
from cardgen.tables.load_index import speed_for_symbol
from cardgen.tables.lookup import NotInTableError
from cardgen.tables.sources import Standing, source
from cardgen.tables.tire_rules import (
    age_guidance,
    default_speed,
    dual_ratio_plausible,
    load_divisor,
    rear_overload,
    reserve,
    stated_pressure,
    unused_age,
    usual_pressure,
)
from tests.each import each


# printed pairs, psi and kPa, of the maximum load
@each(
    ("tire", "extra", "psi", "kpa"),
    [
        ("P", False, 35, 240),
        ("P", True, 41, 280),
        ("EURO", False, 36, 250),
        ("EURO", True, 42, 290),
    ],
)
def test_passenger_pressures(tire: str, extra: bool, psi: float, kpa: float) -> None:
    got = stated_pressure(tire, extra).value
    assert got == max(psi * PSI, kpa * 1e3)
    assert got / PSI == pytest.approx(psi, abs=0.5)
    assert got / 1e3 == pytest.approx(kpa, abs=4)  # nominal pairs differ by up to 3 kPa
    assert stated_pressure(tire, extra).words == f"{psi} psi / {kpa} kPa"


@each("tire", ["ST", "LT", "C", "BIAS"])
def test_other_classes_are_read_on_the_sidewall(tire: str) -> None:
    with pytest.raises(NotInTableError, match="sidewall"):
        stated_pressure(tire, False)


@each(
    ("tire", "letter", "psi"),
    [
        ("LT", "C", 50),
        ("LT", "D", 65),
        ("LT", "E", 80),
        ("ST", "B", 35),
        ("ST", "C", 50),
        ("ST", "D", 65),
        ("ST", "E", 80),
    ],
)
def test_usual_pressures(tire: str, letter: str, psi: float) -> None:
    assert usual_pressure(tire, letter.lower()).value / PSI == pytest.approx(psi, abs=0.8)


@each(
    ("tire", "letter"),
    [("ST", "F"), ("ST", "G"), ("LT", "B"), ("BIAS", "C"), ("P", "C"), ("ST", "source"), ("ST", "")],
)
def test_rows_where_copies_disagree_are_refused(tire: str, letter: str) -> None:
    with pytest.raises(NotInTableError):
        usual_pressure(tire, letter)


# FMVSS 120 S5.1.2: two P tires of 1,600 lb make 2,909.1 lb, under a GAWR of 3,000; ST passes
def test_two_passenger_tires_on_a_trailer_axle() -> None:
    rating = 1600 * POUND
    passenger = 2 * rating / load_divisor("P", "trailer").value / POUND
    special = 2 * rating / load_divisor("ST", "trailer").value / POUND
    assert passenger == pytest.approx(2909.1, abs=0.05)
    assert passenger < 3000 < special == pytest.approx(3200)
    # the 1976 yearbook states the same as 91 percent
    assert 1 / load_divisor("P", "trailer").value == pytest.approx(0.91, abs=0.005)


@each("runs_on", ["trailer", "suv", "pickup", "van", "mpv", "truck", "bus"])
@each("tire", ["P", "EURO"])
def test_divisor_off_passenger_cars(tire: str, runs_on: str) -> None:
    found = load_divisor(tire, runs_on)
    assert found.value == 1.10
    assert source(found.source).is_law_text
    assert load_divisor(tire, runs_on, "eu").value == 1.0


@each("tire", ["ST", "LT", "C", "BIAS"])
def test_no_divisor_for_other_classes(tire: str) -> None:
    assert load_divisor(tire, "trailer").value == 1.0


def test_no_divisor_on_a_passenger_car() -> None:
    assert load_divisor("P", "car").value == 1.0
    with pytest.raises(NotInTableError):
        load_divisor("P", "boat")


def test_reserve_is_advice_by_market() -> None:
    us, uk, tandem = reserve("us"), reserve("uk"), reserve("us", 2)
    assert us is not None
    assert uk is not None
    assert tandem is not None
    assert us.value == pytest.approx(1 / 1.10, abs=5e-4)
    assert uk.value == 0.90
    assert tandem.value == pytest.approx(1 / 1.15, abs=5e-4)
    assert reserve("nz") is None
    for found in (us, uk, tandem):
        assert not source(found.source).is_law_text


@each("tire", ["ST", "LT"])
def test_tires_without_a_symbol_stop_at_65_mph(tire: str) -> None:
    found = default_speed(tire)
    assert found is not None
    assert found.value == pytest.approx(si("65 mph"))
    assert found.value < speed_for_symbol("K") < speed_for_symbol("L")


@each("tire", ["P", "EURO", "C", "BIAS"])
def test_no_default_speed_is_invented(tire: str) -> None:
    assert default_speed(tire) is None


@each("market", ["us", "ca", "uk", "eu", "au", "nz"])
@each("caravan", [True, False])
def test_age_steps_rise_and_are_guidance(market: str, caravan: bool) -> None:
    """British caravan leaflets: 5 and 7 years, of caravans there; makers elsewhere: a look from 5, out at 10."""
    steps = age_guidance(market, caravan)
    assert [s.years for s in steps] == ([5, 7] if caravan and market in ("uk", "eu") else [5, 10])
    for step in steps:
        assert source(step.source).standing in (Standing.SECONDARY, Standing.PRACTICE)
        assert step.advice


def test_unused_tires() -> None:
    assert unused_age().years == 6


# published rows, lb single and dual
@each(
    ("tire", "single", "dual", "plausible"),
    [
        ("LT", 3042, 2778, True),  # LT235/85R16 E at 80 psi
        ("LT", 1700, 1545, True),  # the same at 35 psi
        ("BIAS", 1765, 1520, True),  # 8.00-16.5 at 45 psi
        ("BIAS", 2040, 1825, True),
        ("LT", 3042, 5556, False),  # printed per pair
        ("LT", 3042, 3042, False),
    ],
)
def test_dual_ratio(tire: str, single: float, dual: float, plausible: bool) -> None:
    assert dual_ratio_plausible(tire, single, dual) is plausible


def test_dual_ratio_is_unknown_elsewhere() -> None:
    assert dual_ratio_plausible("ST", 2000, 1800) is None


def test_rear_overload_of_a_car_in_europe() -> None:
    found = rear_overload("eu")
    assert found is not None
    assert found.share == 0.15
    assert found.speed == pytest.approx(si("100 km/h"))
    assert found.pressure == 20e3  # 0.2 bar
    assert rear_overload("us") is None
