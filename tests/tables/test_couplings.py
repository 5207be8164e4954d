"""Coupling classes, balls and chains against the printed rows."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.couplings import (
    bed_hitch_limit,
    chain_minimum,
    class_for,
    class_limit,
    height_band,
    minimum_ball,
    same_ball_size,
    trade_balls,
    worn_ball,
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


@each("number", [0, 5, -1])
def test_unknown_classes(number: int) -> None:
    with pytest.raises(NotInTableError, match="1 to 4"):
        class_limit(number)
    with pytest.raises(NotInTableError, match="1 to 4"):
        minimum_ball(number)


def test_two_inches_is_not_50_mm() -> None:
    assert not same_ball_size(0.050, 2 * INCH)
    assert not same_ball_size(0.050, 1.875 * INCH)


def test_all_trade_sizes_are_told_apart() -> None:
    sizes = [b.diameter for b in trade_balls()]
    for i, a in enumerate(sizes):
        assert [same_ball_size(a, b) for b in sizes] == [i == j for j in range(len(sizes))]


def test_worn_ball() -> None:
    # Reg. (EU) 44/2014 Annex V 6.5: heads are tested on a ball of 49.00 to 49.13 mm
    found = worn_ball(0.050)
    assert found is not None
    assert found.value == pytest.approx(49.0e-3)
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
