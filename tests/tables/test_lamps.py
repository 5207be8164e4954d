"""Lamp lists at the boundaries of width and length."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.exact import FOOT, INCH
from cardgen.tables.lamps import LampPlan, lamps_required
from cardgen.tables.lookup import NotInTableError, OutOfTableError
from tests.each import each

WIDE = {"front clearance lamp", "rear clearance lamp", "identification lamp"}
LONG = {"intermediate side marker lamp", "intermediate side reflector"}


def names(plan: LampPlan) -> set[str]:
    """Kinds of lamp in a plan."""
    assert plan.lamps is not None
    return {lamp.does for lamp in plan.lamps}


# 49 CFR 571.108 / 393.11: NHTSA nht93-4.12; a 78-in box counts by its fenders past 80 in
@each(
    ("inches", "feet", "wide", "long"),
    [
        (79.9, 28, False, False),
        (80.0, 28, True, False),
        (80.5, 28, True, False),
        (80.5, 30, True, True),
        (79.9, 30, False, True),
        (102, 29.99, True, False),
        (60, 8, False, False),
    ],
)
def test_boundaries(inches: float, feet: float, wide: bool, long: bool) -> None:
    plan = lamps_required(inches * INCH, feet * FOOT, "us")
    assert plan.complete
    assert plan.reason == ""
    assert (names(plan) >= WIDE) is wide
    assert (names(plan) >= LONG) is long
    if not wide:
        assert not names(plan) & WIDE
    if not long:
        assert not names(plan) & LONG


@each(
    ("does", "low", "high"),
    [
        ("front side marker lamp", True, False),
        ("intermediate side marker lamp", True, False),
        ("rear reflector", False, False),
        ("license plate lamp", False, False),
        ("identification lamp", False, False),
    ],
)
def test_heights_that_were_not_read_are_unknown(does: str, low: bool, high: bool) -> None:
    plan = lamps_required(2.6, 10.0, "us")
    assert plan.lamps is not None
    found = next(lamp for lamp in plan.lamps if lamp.does == does)
    assert (found.low is not None, found.high is not None) == (low, high)


def test_unknown_size_leaves_the_list_open() -> None:
    plan = lamps_required(None, 9.2, "us")
    assert not plan.complete
    assert plan.missing == ("width",)
    assert plan.reason == "more lamps may be needed: measure width"
    assert names(plan) >= LONG
    both = lamps_required(None, None, "us")
    assert both.missing == ("width", "length")
    assert "tail lamp" in names(both)


@each("market", ["ca", "uk", "eu", "au", "nz"])
def test_markets_that_were_not_read(market: str) -> None:
    plan = lamps_required(2.3, 7.0, market)
    assert plan.lamps is None
    assert not plan.complete
    assert plan.reason.startswith("lamps not checked: ")


def test_refusals() -> None:
    with pytest.raises(NotInTableError):
        lamps_required(2.0, 5.0, "mars")
    for width, length in ((0.0, 5.0), (2.0, -1.0), (float("nan"), 5.0)):
        with pytest.raises(OutOfTableError):
            lamps_required(width, length, "us")


@given(st.floats(0.5, 3.0), st.floats(0.5, 3.0), st.floats(2.0, 15.0), st.floats(2.0, 15.0))
def test_a_bigger_trailer_never_needs_fewer(w1: float, w2: float, l1: float, l2: float) -> None:
    small = lamps_required(min(w1, w2), min(l1, l2), "us")
    large = lamps_required(max(w1, w2), max(l1, l2), "us")
    assert names(small) <= names(large)
