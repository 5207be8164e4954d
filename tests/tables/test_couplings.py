"""Coupling classes, balls and chains against the printed rows."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.couplings import (
    ball_size,
    bed_hitch_limit,
    bench_forces,
    bench_strength,
    chain_minimum,
    class_for,
    class_limit,
    height_band,
    minimum_ball,
    same_ball_size,
    tongue_advice,
    trade_balls,
    worn_ball,
    worn_ball_50,
)
from cardgen.tables.exact import G_N, INCH, POUND
from cardgen.tables.lookup import NotInTableError, OutOfTableError, read
from tests.each import each


# COMAR 11.13.08.04(B): 1 to 2,000 lb, 2 from 2,001, 3 from 3,501, 4 from 5,001 to 10,000
@each(
    ("pounds", "number"),
    [
        (0, 1),
        (2000, 1),
        (2001, 2),
        (3500, 2),
        (3501, 3),
        (5000, 3),
        (5001, 4),
        (10000, 4),
    ],
)
def test_classes(pounds: float, number: int) -> None:
    assert class_for(pounds * POUND) == number
    assert pounds * POUND <= class_limit(number) * (1 + 1e-12)


def test_class_boundary_survives_unit_conversion() -> None:
    assert class_for(2000 * POUND * (1 + 1e-12)) == 1


@each("pounds", [10001, 26000, -1, float("nan")])
def test_outside_the_classes(pounds: float) -> None:
    with pytest.raises(OutOfTableError):
        class_for(pounds * POUND)


@given(st.floats(0, 4535), st.floats(0, 4535))
def test_a_heavier_trailer_never_has_a_lower_class(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert class_for(low) <= class_for(high)


# COMAR 11.13.08.10 Table 1, inches
@each(("number", "inches"), [(1, 1.875), (2, 2.0), (3, 2.0)])
def test_minimum_ball(number: int, inches: float) -> None:
    assert minimum_ball(number) == pytest.approx(inches * INCH)


def test_class_4_ball_is_sized_by_strength() -> None:
    assert minimum_ball(4) is None


# SAE J684 (July 2005) in a secondary copy: lb and kN; a GVWR inside each class
@each(
    ("gvwr", "number", "pounds", "kilonewton"),
    [
        (900, 1, 2000, 8.9),
        (2000, 1, 2000, 8.9),
        (2001, 2, 3500, 15.6),
        (3500, 2, 3500, 15.6),
        (4400, 3, 5000, 22.2),
        (5000, 3, 5000, 22.2),
    ],
)
def test_chains(gvwr: float, number: int, pounds: float, kilonewton: float) -> None:
    got = chain_minimum(gvwr * POUND)
    assert class_for(gvwr * POUND) == number
    assert got / POUND == pytest.approx(pounds)
    assert got * G_N / 1e3 == pytest.approx(kilonewton, abs=0.05)
    assert read("couplings")["chains"]["kilonewton"][number - 1] == kilonewton


@each("gvwr", [5001, 7000, 10000, 10001, 14000])
def test_above_5000_lb_each_chain_holds_the_trailer(gvwr: float) -> None:
    # so two chains of 5,000 lb on a 7,000-lb trailer are each short
    assert chain_minimum(gvwr * POUND) / POUND == pytest.approx(gvwr)


def test_chain_needs_a_weight() -> None:
    with pytest.raises(OutOfTableError):
        chain_minimum(-1.0)


# COMAR Table 1, lb
@each(
    ("number", "longitudinal", "transverse", "vertical"),
    [
        (1, 6000, 2000, 2500),
        (2, 10500, 3000, 4500),
        (3, 15000, 4000, 7000),
        (4, 30000, 10000, 13000),
    ],
)
def test_bench_strength(number: int, longitudinal: float, transverse: float, vertical: float) -> None:
    got = bench_strength(number, 10000 * POUND)
    assert got["longitudinal"] / POUND == pytest.approx(longitudinal)
    assert got["transverse"] / POUND == pytest.approx(transverse)
    assert got["vertical"] / POUND == pytest.approx(vertical)


# COMAR Table 2: rating, vertical, longitudinal, second vertical, transverse, all lb
@each(
    ("rating", "wd", "v", "length", "v2", "t"),
    [
        (3500, False, 2125, 2335, 525, 1200),
        (5000, False, 2830, 2680, 750, 1500),
        (10000, True, 2100, 2740, 1500, 2500),
    ],
)
def test_bench_forces(rating: float, wd: bool, v: float, length: float, v2: float, t: float) -> None:
    got = bench_forces(rating * POUND, wd)
    assert got.vertical / POUND == pytest.approx(v)
    assert got.longitudinal / POUND == pytest.approx(length)
    assert got.second_vertical / POUND == pytest.approx(v2)
    assert got.second_vertical == pytest.approx(0.15 * rating * POUND)
    assert got.transverse / POUND == pytest.approx(t)
    if wd:
        assert got.first_longitudinal is None
    else:
        assert got.first_longitudinal == pytest.approx(got.vertical)


# SAE J684c in a farm newsletter, lb
@each(
    ("number", "wd", "gross", "pounds"),
    [
        (1, False, 1800, 200),
        (1, True, 1800, 300),
        (2, False, 3000, 300),
        (2, True, 3000, 500),
        (3, False, 5000, 750),
        (3, True, 5000, 750),
        (4, False, 8000, 1200),
        (4, True, 8000, 1200),
    ],
)
def test_tongue_advice(number: int, wd: bool, gross: float, pounds: float) -> None:
    assert tongue_advice(number, gross * POUND, wd).value / POUND == pytest.approx(pounds)


@each("number", [0, 5, -1])
def test_unknown_classes(number: int) -> None:
    for ask in (
        lambda: class_limit(number),
        lambda: minimum_ball(number),
        lambda: bench_strength(number, 1.0),
        lambda: tongue_advice(number, 1.0, False),
    ):
        with pytest.raises(NotInTableError, match="1 to 4"):
            ask()


def test_two_inches_is_not_50_mm() -> None:
    assert not same_ball_size(0.050, 2 * INCH)
    two, fifty = ball_size(2 * INCH), ball_size(0.050)
    assert two is not None
    assert fifty is not None
    assert (two.name, fifty.name) == ("2 in", "50 mm")
    assert not same_ball_size(0.050, 1.875 * INCH)


def test_all_trade_sizes_are_told_apart() -> None:
    sizes = [b.diameter for b in trade_balls()]
    for i, a in enumerate(sizes):
        assert [same_ball_size(a, b) for b in sizes] == [i == j for j in range(len(sizes))]


@each("millimetres", [48.7, 49.6, 51.2, 55.0, 60.0, 10.0])
def test_odd_sizes_have_no_name(millimetres: float) -> None:
    assert ball_size(millimetres * 1e-3) is None


def test_worn_ball() -> None:
    # Reg. (EU) 44/2014 Annex V 6.5: heads are tested on a ball of 49.00 to 49.13 mm
    found = worn_ball(0.050)
    assert found is not None
    assert found.value == pytest.approx(49.0e-3)
    assert worn_ball_50() == found.value
    assert worn_ball(2 * INCH) is None


def test_coupling_heights() -> None:
    head = height_band("coupling_head", "eu")
    assert head is not None
    assert (head.low, head.high) == pytest.approx((0.430 - 0.035, 0.430 + 0.035))
    ball = height_band("ball_centre", "uk")
    assert ball is not None
    assert (ball.low, ball.high) == pytest.approx((0.350, 0.420))
    assert height_band("coupling_head", "us") is None
    with pytest.raises(NotInTableError):
        height_band("bumper", "us")


def test_bed_hitch_standard_reaches_30000_lb() -> None:
    # SAE J2638: 30,000 lb (13,608 kg)
    assert bed_hitch_limit().value == pytest.approx(13608, abs=0.5)
