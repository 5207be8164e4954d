"""Arithmetic of numbers that carry their derivatives, against differences and a package."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat  # type: ignore[import-untyped]  # the package ships no types

from cardgen.physics.sensed import Sensed, known

numbers = st.floats(0.5, 50)


def formula(a: Sensed, b: Sensed, c: Sensed) -> Sensed:
    """Every operator once, and inputs that come twice."""
    return (a * b - 3.0 * c) / (b + c) + (2.0 - a) * (c / 4.0) - (-b) * 0.5 + 1.0


@given(numbers, numbers, numbers)
def test_derivatives_are_differences(a: float, b: float, c: float) -> None:
    values = [a, b, c]

    def at(values: list[float]) -> float:
        return formula(*(known(v) for v in values)).value

    found = formula(*(Sensed(v, {str(i): 1.0}) for i, v in enumerate(values)))
    for i in range(3):
        step = 1e-5 * values[i]
        up, down = ([v + sign * step * (j == i) for j, v in enumerate(values)] for sign in (1, -1))
        assert found.grad[str(i)] == pytest.approx((at(up) - at(down)) / (2 * step), rel=1e-5, abs=1e-5)


@given(numbers, numbers, numbers)
def test_agrees_with_the_uncertainties_package(a: float, b: float, c: float) -> None:
    """First-order propagation by the package ``uncertainties`` 3.2."""
    widths = (0.1, 0.2, 0.05)
    found = formula(*(Sensed(v, {str(i): 1.0}) for i, v in enumerate((a, b, c))))
    ours = sum((found.grad[str(i)] * w) ** 2 for i, w in enumerate(widths)) ** 0.5
    theirs: Any = formula(*(ufloat(v, w) for v, w in zip((a, b, c), widths, strict=True)))
    assert found.value == pytest.approx(theirs.nominal_value, rel=1e-12)
    assert ours == pytest.approx(theirs.std_dev, rel=1e-9)


@pytest.mark.parametrize(
    "operation",
    [lambda s: s + 1.0, lambda s: 1.0 + s, lambda s: s - 1.0, lambda s: s * 1.0, lambda s: s / 1.0],
)
def test_plain_numbers_add_no_input(operation: Callable[[Sensed], Sensed]) -> None:
    assert set(operation(Sensed(2.0, {"a": 1.0})).grad) == {"a"}
    assert (1.0 - Sensed(2.0, {"a": 1.0})).grad == {"a": -1.0}
