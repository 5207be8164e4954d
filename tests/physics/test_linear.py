"""Linear forms: evaluation, combination, what is asked for and what is not."""

from __future__ import annotations

import pytest

from cardgen.model.needs import Need
from cardgen.physics.linear import Linear, combine, constant, evaluate, per_load
from cardgen.physics.loads import Aboard, Load

FULL = Need("a.full", "mass")
ARM = Need("a.arm", "place")
FILL = Need("cases[0].tanks.a", "fill")


def load(key: str, full: float | None = 10.0, arm: float | None = 1.0) -> Load:
    """A trailer load that asks for its mass and place when they are unknown."""
    needs = ((FULL,) if full is None else (), (ARM,) if arm is None else ())
    return Load(key, key, "liquid", "trailer", full, arm, None, None, *needs)


def aboard(**shares: float | None) -> Aboard:
    """Shares; an unknown one asks for the filling."""
    return Aboard(shares, {key: (FILL,) for key, share in shares.items() if share is None})


def test_change_from_the_state_counts() -> None:
    form = Linear(100.0, (0.5, -0.25))
    loads = (load("a"), load("b", 40.0))
    found = evaluate(form, loads, aboard(a=1.0, b=0.5), aboard(a=0.0, b=1.0))
    assert found.value == pytest.approx(100.0 + 0.5 * 10.0 - 0.25 * 40.0 * -0.5)
    assert found.needs == ()


@pytest.mark.parametrize(
    ("form", "one", "now", "state", "asked"),
    [
        (Linear(1.0, (0.5,)), load("a", None), aboard(a=1.0), aboard(a=0.0), {"a.full"}),
        (Linear(1.0, (None,)), load("a", 10.0, None), aboard(a=1.0), aboard(a=0.0), {"a.arm"}),
        (Linear(1.0, (0.5,)), load("a"), aboard(a=None), aboard(a=0.0), {"cases[0].tanks.a"}),
        (Linear(None, (0.5,), (FULL,)), load("a"), aboard(a=1.0), aboard(a=0.0), {"a.full"}),
        (Linear(1.0, (None,), (), (ARM,)), load("a"), aboard(a=1.0), aboard(a=0.0), {"a.arm"}),
    ],
)
def test_what_is_missing_is_asked_for(
    form: Linear, one: Load, now: Aboard, state: Aboard, asked: set[str]
) -> None:
    found = evaluate(form, (one,), now, state)
    assert found.value is None
    assert {need.path for need in found.needs} == asked


@pytest.mark.parametrize(
    ("form", "one", "now", "state"),
    [
        (Linear(7.0, (0.5,)), load("a", None), aboard(a=1.0), aboard(a=1.0)),  # unchanged
        (Linear(7.0, (0.0,)), load("a", None), aboard(a=1.0), aboard(a=0.0)),  # does not matter
        (Linear(7.0, (0.5,)), load("a", 0.0), aboard(a=None), aboard(a=0.0)),  # weighs nothing
    ],
)
def test_what_does_not_matter_is_not_asked_for(form: Linear, one: Load, now: Aboard, state: Aboard) -> None:
    found = evaluate(form, (one,), now, state)
    assert found.value == 7.0
    assert found.needs == ()


def test_unknown_place_is_never_taken_as_zero() -> None:
    """Even a load that asks for nothing leaves the total unknown."""
    bare = Load("a", "a", "liquid", "trailer", 10.0, None)
    found = evaluate(Linear(1.0, (None,)), (bare,), aboard(a=1.0), aboard(a=0.0))
    assert found.value is None
    assert found.needs
    sideways = Load("a", "a", "liquid", "trailer", 10.0, 1.0, side_needs=(Need("a.y", "side"),))
    by_side = Linear(1.0, (None,), by_side=True)
    asked = evaluate(by_side, (sideways,), aboard(a=1.0), aboard(a=0.0)).needs
    assert [n.path for n in asked] == ["a.y"]


def test_combination() -> None:
    loads = (load("a"), load("b"))
    first = Linear(10.0, (1.0, 0.0))
    second = per_load({"b": 2.0}, loads)
    made = combine([(2.0, first), (-1.0, second), (1.0, constant(5.0, 2))])
    assert made.base == pytest.approx(25.0)
    assert made.coefficients == (2.0, -2.0)


def test_unknown_factor_makes_unknown_what_it_touches() -> None:
    made = combine([(1.0, Linear(1.0, (1.0, 1.0))), (None, Linear(1.0, (0.0, 3.0)))], (ARM,))
    assert made.base is None
    assert made.coefficients == (1.0, None)
    assert made.base_needs == (ARM,)
    assert made.geometry_needs == (ARM,)
    assert constant(None, 2, (FULL,)).base_needs == (FULL,)
