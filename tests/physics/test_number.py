"""Arithmetic of numbers that carry their derivatives, against differences and a package; what is missing."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat  # type: ignore[import-untyped]  # the package ships no types

from cardgen.model.needs import Need
from cardgen.physics.number import BASE, LAST, Number, exact, unknown

numbers = st.floats(0.5, 50)


def formula(a: Number, b: Number, c: Number) -> Number:
    """Every operator once, and inputs that come twice."""
    return (a * b - 3.0 * c) / (b + c) + (2.0 - a) * (c / 4.0) - (-b) * 0.5 + 1.0


@given(numbers, numbers, numbers)
def test_derivatives_are_differences(a: float, b: float, c: float) -> None:
    values = [a, b, c]

    def at(values: list[float]) -> float:
        return formula(*(exact(v) for v in values)).sure

    found = formula(*(Number(v, v, {str(i): 1.0}) for i, v in enumerate(values)))
    for i in range(3):
        step = 1e-5 * values[i]
        up, down = ([v + sign * step * (j == i) for j, v in enumerate(values)] for sign in (1, -1))
        assert found.by_input[str(i)] == pytest.approx((at(up) - at(down)) / (2 * step), rel=1e-5, abs=1e-5)


@given(numbers, numbers, numbers)
def test_agrees_with_the_uncertainties_package(a: float, b: float, c: float) -> None:
    """First-order propagation by the package ``uncertainties`` 3.2."""
    widths = (0.1, 0.2, 0.05)
    found = formula(*(Number(v, v, {str(i): 1.0}) for i, v in enumerate((a, b, c))))
    ours = sum((found.by_input[str(i)] * w) ** 2 for i, w in enumerate(widths)) ** 0.5
    theirs: Any = formula(*(ufloat(v, w) for v, w in zip((a, b, c), widths, strict=True)))
    assert found.value == pytest.approx(theirs.nominal_value, rel=1e-12)
    assert ours == pytest.approx(theirs.std_dev, rel=1e-9)


@pytest.mark.parametrize(
    "operation",
    [lambda s: s + 1.0, lambda s: 1.0 + s, lambda s: s - 1.0, lambda s: s * 1.0, lambda s: s / 1.0],
)
def test_plain_numbers_add_no_input(operation: Callable[[Number], Number]) -> None:
    assert set(operation(Number(2.0, 2.0, {"a": 1.0})).by_input) == {"a"}
    assert (1.0 - Number(2.0, 2.0, {"a": 1.0})).by_input == {"a": -1.0}


@given(numbers, numbers, numbers)
def test_levers_are_differences(a: float, b: float, c: float) -> None:
    """Loads come in through a weight and leave through every operator."""
    masses, per_kg = (a, b), ({0: 1.0, 1: 0.5}, {1: -2.0})

    def weights(masses: tuple[float, ...]) -> list[Number]:
        values = [10.0 + sum(v * masses[i] for i, v in levers.items()) for levers in per_kg]
        return [Number(v, 10.0, {}, (), levers) for v, levers in zip(values, per_kg, strict=True)]

    def at(masses: tuple[float, ...]) -> Number:
        first, second = weights(masses)
        return (first - 2.0 * second) * c + first * first / (second * second + 1.0) - 3.0

    found = at(masses)
    for i in range(2):
        step = 1e-5
        up, down = (at(tuple(m + sign * step * (j == i) for j, m in enumerate(masses))) for sign in (1, -1))
        assert found.levers[i] == pytest.approx((up.sure - down.sure) / (2 * step), rel=1e-4, abs=1e-4)


ONE, TWO, THREE = (Need(name, name) for name in ("one", "two", "three"))


def test_what_is_missing_is_kept_in_order_and_once() -> None:
    first = Number(None, 1.0, {}, ((BASE, TWO), (4, ONE)))
    second = Number(None, None, {}, ((BASE, THREE), (2, TWO), (LAST, ONE)))
    assert (first + second).needs == (TWO, THREE, ONE)
    assert (first + 1.0).needs == (first * 2.0).needs == (-first).needs == first.needs == (TWO, ONE)
    assert exact(1.0).asking([ONE]).needs == (ONE,)
    assert exact(1.0).asking([]) == exact(1.0)
    assert (second.whole() + first.whole()).needs == (THREE, TWO, ONE)
    with pytest.raises(ValueError, match="unknown"):
        _ = first.sure


def test_unknown_in_this_state_keeps_its_base_and_levers() -> None:
    """A weight that one load leaves unknown can still be told for other fillings."""
    weight = Number(None, 5.0, {}, ((0, ONE),), {0: 1.0, 1: 2.0}) * 2.0 + exact(1.0)
    assert (weight.value, weight.base, weight.levers) == (None, 11.0, {0: 2.0, 1: 4.0})


def test_unknown_factor_makes_unknown_what_it_touches() -> None:
    made = Number(1.0, 1.0, {}, (), {0: 1.0, 1: 1.0}) + unknown(ONE) * Number(
        1.0, 1.0, {}, (), {0: 0.0, 1: 3.0}
    )
    assert (made.value, made.base) == (None, None)
    assert made.levers == {0: 1.0}
    assert made.unsure == {1: (ONE,)}
    assert made.needs == (ONE,)


def test_settled_number_is_moved_by_nothing() -> None:
    settled = Number(3.0, 1.0, {"a": 2.0}, (), {0: 1.0}, {1: (ONE,)}).settled()
    assert settled == Number(3.0, 3.0, {"a": 2.0})
    assert Number(None, 1.0, {}, ((3, TWO),)).settled() == Number(None, None, {}, ((BASE, TWO),))
