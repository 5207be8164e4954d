"""Class rules of tires against the printed rows and their known traps."""

from __future__ import annotations

import pytest

from cardgen.tables.exact import POUND, PSI
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
    usual_pressure,
)
from cardgen.tables.words import say
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
    words = stated_pressure(tire, extra).words
    assert say(words, "us") == f"{psi} psi / {kpa} kPa"
    assert (say(words, "eu"), say(words, "au")) == (f"{kpa / 100} bar", f"{kpa} kPa")


@each("tire", ["ST", "LT", "C", "BIAS"])
def test_other_classes_are_read_on_the_sidewall(tire: str) -> None:
    with pytest.raises(NotInTableError, match="sidewall"):
        stated_pressure(tire, False)


@each(
    ("tire", "letter"),
    [("ST", "F"), ("ST", "G"), ("LT", "B"), ("BIAS", "C"), ("P", "C"), ("ST", "source"), ("ST", "")],
)
def test_rows_where_copies_disagree_are_refused(tire: str, letter: str) -> None:
    with pytest.raises(NotInTableError):
        usual_pressure(tire, letter)


# FMVSS 120 S5.1.2: two P tires of 1,600 lb are not enough for a GAWR of 3,000 lb, two ST are
def test_two_passenger_tires_on_a_trailer_axle() -> None:
    rating = 1600 * POUND
    passenger = 2 * rating / load_divisor("P", "trailer").value / POUND
    special = 2 * rating / load_divisor("ST", "trailer").value / POUND
    assert passenger < 3000 < special
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
    assert tandem.value == pytest.approx(1 / 1.15, abs=5e-4)
    assert reserve("nz") is None
    for found in (us, uk, tandem):
        assert not source(found.source).is_law_text


@each("tire", ["ST", "LT"])
def test_tires_without_a_symbol_stop_at_65_mph(tire: str) -> None:
    found = default_speed(tire)
    assert found is not None
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


def test_dual_ratio_and_rear_overload_are_unknown_elsewhere() -> None:
    assert rear_overload("us") is None
    assert dual_ratio_plausible("ST", 2000, 1800) is None
