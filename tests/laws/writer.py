"""Draws numbers and writes them as people do, in the units of the market."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random
from typing import Any

from tests.laws.model import Figures

POUND, INCH, PSI = 0.45359237, 0.0254, 6894.757293168
FACTORS = (0.85, 0.95, 0.995, 1.0, 1.02, 1.04, 1.1, 1.3, 1.6)
"""Ratings over demands [-]: over, at, close to and far from the limit."""


def largest(figures: Iterable[Figures], *names: str) -> float | None:
    """Largest known value of some figures over the cases [kg]; None when none is known."""
    values = [one.get(name) for one in figures for name in names]
    return max((v for v in values if v is not None), default=None)


class Writer:
    """Dice, and words for what they show.

    Args:
        seed: any text or number.
    """

    weight: float
    """Empty trailer [kg]."""
    count: int
    """Its axles [-]."""
    arm: float
    """Coupling to the middle of its axles [m]."""

    def __init__(self, seed: object) -> None:
        self.dice = Random(f"rig {seed}")
        self.market = self.pick(["us", "us", "us", "us", "us", "ca", "uk", "uk", "eu", "au", "nz"])
        self.imperial = self.market == "us" or (self.market == "ca" and self.chance(0.4))
        self.calm = self.chance(0.3)
        self.kind = self.pick(["ball", "ball", "ball", "ball", "ball", "ball", "gooseneck", "fifth_wheel"])

    def chance(self, share: float) -> bool:
        return self.dice.random() < share

    def pick(self, options: Any) -> Any:
        return self.dice.choice(list(options))

    def between(self, low: float, high: float) -> float:
        return self.dice.uniform(low, high)

    def mass(self, kg: float, sure: bool = True) -> str:
        """A mass as written; now and then with a half width."""
        value, unit = (kg / POUND, "lb") if self.imperial else (kg, "kg")
        text = f"{value:,.0f}" if abs(value) >= 30 else f"{value:.1f}"
        if not sure and self.chance(0.12):
            return f"{text} {unit} +/- {abs(value) * self.between(0.002, 0.04):.1f} {unit}"
        return f"{text} {unit}"

    def length(self, m: float) -> str:
        if not self.imperial:
            return f"{m:.2f} m"
        inches = round(abs(m) / INCH)
        sign = "-" if m < 0 else ""
        whole = inches >= 12 and self.chance(0.6)
        return f"{sign}{inches // 12} ft {inches % 12} in" if whole else f"{sign}{inches} in"

    def height(self, m: float) -> str:
        return f"{m / INCH:.1f} in" if self.imperial else f"{m * 100:.1f} cm"

    def volume(self, litres: float) -> str:
        return f"{litres / 3.785411784:.0f} gal" if self.market == "us" else f"{litres:.0f} L"

    def pressure(self, psi: float) -> str:
        return f"{psi:.0f} psi" if self.imperial else f"{psi * PSI / 1e5:.1f} bar"

    def speed(self, mph: float) -> str:
        return f"{mph:.0f} mph" if self.market in ("us", "uk") else f"{mph * 1.609:.0f} km/h"

    def fill(self) -> str:
        return str(self.pick(["empty", "empty", "full", "full", "1/2", "1/4", "80 %"]))

    def rated(self, demand: float | None, generous: float = 0.35) -> str | None:
        """A rating near a demand [kg]; now and then far above it."""
        if demand is None or demand <= 0:
            return self.mass(self.between(300, 3000))
        factor = (
            self.between(1.25, 1.45)
            if self.calm
            else self.between(1.2, 2.5)
            if self.chance(generous)
            else self.pick(FACTORS)
        )
        return self.mass(demand * factor)
