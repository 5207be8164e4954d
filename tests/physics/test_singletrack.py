"""The single-track model against published eigenvalues and closed forms."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.physics.singletrack import Train, eigenvalues, least_damping, matrices

ELLIS = Train(
    m1=186, I1=2980, a=3.75, b=5.25, h=6, m2=620, I2=35000, d=10, Cf=23250, Cr=68500, axles=((20, 57500),)
)
"""Ellis's truck and trailer, ft, slug, lbf/rad; as recorded in a public multibody package
(``input_ex_ellis_benchmark``), the book itself was not seen."""

CAR = Train(
    m1=16975 / 9.81, I1=3508, a=1.289, b=1.596, h=2.7, m2=2000, I2=3000, d=2.9,
    Cf=80000, Cr=80000, axles=((3.0, 80000),),
)  # fmt: skip
"""Textbook-style car and trailer of the same package's author; SI."""


def same(found: tuple[complex, ...], wanted: list[complex], tolerance: float) -> None:
    """Compare two sets of eigenvalues, nearest with nearest."""
    left = list(wanted)
    for value in found:
        nearest = min(left, key=lambda w: abs(w - value))
        assert abs(nearest - value) < tolerance, (value, wanted)
        left.remove(nearest)


def test_published_truck_and_trailer() -> None:
    """Published -1.3, -9.3, -6.3 +- 1.1j at 30 ft/s, printed to 0.1; all parts within 0.06."""
    found = sorted(eigenvalues(ELLIS, 30), key=lambda s: (s.real, s.imag))
    wanted = sorted([-1.3, -9.3, complex(-6.3, 1.1), complex(-6.3, -1.1)], key=lambda s: (s.real, s.imag))
    for ours, published in zip(found, wanted, strict=True):
        assert abs(ours.real - published.real) < 0.06
        assert abs(ours.imag - published.imag) < 0.06


@pytest.mark.parametrize(
    ("speed", "wanted"),
    [
        (10, [-10.05723, -5.982675, complex(-1.001336, 3.011413), complex(-1.001336, -3.011413)]),
        (20, [-6.012998, -3.20499, complex(0.09835, 2.917416), complex(0.09835, -2.917416)]),
    ],
)
def test_car_set(speed: float, wanted: list[complex]) -> None:
    """Own earlier results, checked by a second derivation and a general multibody program."""
    same(eigenvalues(CAR, speed), wanted, 2e-5)


@pytest.mark.parametrize("speed", [8.0, 18.4, 30.0])
@pytest.mark.parametrize("train", [ELLIS, CAR, replace(CAR, damping=2000.0)])
def test_agrees_with_numpy(train: Train, speed: float) -> None:
    mass, right = matrices(train, speed)
    wanted = np.linalg.eigvals(np.linalg.solve(np.array(mass), np.array(right)))
    same(eigenvalues(train, speed), [complex(w) for w in wanted], 1e-8)


def test_where_the_car_set_begins_to_snake() -> None:
    """Zero damping at 18.4001 m/s; the published example studies 18 m/s."""
    assert least_damping(CAR, 18.4001) == pytest.approx(0.0, abs=1e-4)
    assert least_damping(CAR, 18.0) > 0 > least_damping(CAR, 19.0)


def test_heavy_vehicle_closed_form() -> None:
    """A vehicle that cannot be moved: wn = sqrt(S1/(I2 + m2 d^2)), zeta = S2/(2u sqrt(S1 (I2 + m2 d^2)))."""
    train = replace(CAR, m1=1e12, I1=1e12)
    swing = next(s for s in eigenvalues(train, 20) if s.imag > 1.0)
    inertia = CAR.I2 + CAR.m2 * CAR.d**2
    s1, s2 = 80000 * 3.0, 80000 * 9.0
    assert abs(swing) == pytest.approx(math.sqrt(s1 / inertia), rel=1e-6)
    assert abs(swing) == pytest.approx(3.479796, abs=5e-6)
    assert -swing.real / abs(swing) == pytest.approx(s2 / (2 * 20 * math.sqrt(s1 * inertia)), rel=1e-6)
    assert -swing.real / abs(swing) == pytest.approx(0.260985, abs=5e-6)


def test_yaw_damper_helps_and_speed_must_be_forward() -> None:
    assert least_damping(replace(CAR, damping=2000.0), 20) > least_damping(CAR, 20)
    with pytest.raises(ValueError, match="forward speed"):
        matrices(CAR, 0.0)
