"""Coupling classes, balls and chains against the printed rows."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.couplings import (
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


@given(st.floats(0, 4535))
def test_a_trailer_is_within_its_class(gross: float) -> None:
    assert gross <= class_limit(class_for(gross)) * (1 + 1e-9)


def test_the_printed_forces_are_those_weights() -> None:
    for limit, force in zip((2000, 3500, 5000), read("couplings")["chains"]["kilonewton"], strict=False):
        assert chain_minimum(limit * POUND) * G_N / 1e3 == pytest.approx(force, abs=0.05)


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


def test_class_4_ball_is_sized_by_strength() -> None:
    assert minimum_ball(4) is None


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


def test_heights_and_worn_balls_only_where_they_were_read() -> None:
    assert worn_ball(2 * INCH) is None
    assert height_band("coupling_head", "us") is None
    with pytest.raises(NotInTableError):
        height_band("bumper", "us")


def test_two_inches_is_not_50_mm() -> None:
    assert not same_ball_size(0.050, 2 * INCH)
    assert not same_ball_size(0.050, 1.875 * INCH)


def test_all_trade_sizes_are_told_apart() -> None:
    sizes = [b.diameter for b in trade_balls()]
    for i, a in enumerate(sizes):
        assert [same_ball_size(a, b) for b in sizes] == [i == j for j in range(len(sizes))]
