"""A number that knows how it depends on the inputs: value and first derivatives.

Arithmetic on it follows the rules of differentiation, so whatever is computed
from sensed numbers carries its exact sensitivities to every input. This is what
first-order propagation of uncertainty needs.

Source: chain rule; JCGM 100:2008 5.1.2 for what the sensitivities are for.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


def _sum(a: Mapping[str, float], fa: float, b: Mapping[str, float], fb: float) -> dict[str, float]:
    """Add two gradients with factors."""
    out = {k: fa * v for k, v in a.items()} if fa != 1.0 else dict(a)
    for key, value in b.items():
        out[key] = out.get(key, 0.0) + fb * value
    return out


@dataclass(frozen=True, slots=True)
class Sensed:
    """A value and its derivative by every input it depends on.

    Args:
        value: the value [any SI unit].
        grad: derivative by input path [SI unit of the value per SI unit of the input].

    Source: chain rule.
    """

    value: float
    grad: Mapping[str, float] = field(default_factory=dict)

    def __add__(self, other: Sensed | float) -> Sensed:
        if isinstance(other, Sensed):
            return Sensed(self.value + other.value, _sum(self.grad, 1.0, other.grad, 1.0))
        return Sensed(self.value + other, self.grad)

    __radd__ = __add__

    def __neg__(self) -> Sensed:
        return Sensed(-self.value, {k: -v for k, v in self.grad.items()})

    def __sub__(self, other: Sensed | float) -> Sensed:
        if isinstance(other, Sensed):
            return Sensed(self.value - other.value, _sum(self.grad, 1.0, other.grad, -1.0))
        return Sensed(self.value - other, self.grad)

    def __rsub__(self, other: float) -> Sensed:
        return Sensed(other - self.value, {k: -v for k, v in self.grad.items()})

    def __mul__(self, other: Sensed | float) -> Sensed:
        if isinstance(other, Sensed):
            grad = _sum(self.grad, other.value, other.grad, self.value)
            return Sensed(self.value * other.value, grad)
        return Sensed(self.value * other, {k: v * other for k, v in self.grad.items()})

    __rmul__ = __mul__

    def __truediv__(self, other: Sensed | float) -> Sensed:
        if isinstance(other, Sensed):
            ratio = self.value / other.value
            grad = _sum(self.grad, 1.0 / other.value, other.grad, -ratio / other.value)
            return Sensed(ratio, grad)
        return Sensed(self.value / other, {k: v / other for k, v in self.grad.items()})


def known(value: float) -> Sensed:
    """Return a number without uncertainty (value [any SI unit]); source: none, exact."""
    return Sensed(value)
