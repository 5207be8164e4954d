"""Linear single-track model of car and trailer: the oracle behind the sway comparison.

Three degrees of freedom at constant speed: lateral velocity of the vehicle, yaw rate
of vehicle and trailer, and the angle between them. It serves tests of the direction
of the sway indicators. Nothing it computes is ever printed on a card or report,
because its answer depends on tire data that no owner has.

    M x' = D x,  x = [v, r1, r2, gamma]

Source: the published linear car-trailer model (for example Ellis, Vehicle Handling
Dynamics, from memory); checked in the tests against Ellis's truck and trailer
eigenvalues as recorded in a public multibody package, and against closed forms.
"""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass

Matrix = list[list[float]]


@dataclass(frozen=True, slots=True)
class Train:
    """Car and trailer for the single-track model; any consistent units, SI here.

    Args:
        m1, I1: vehicle mass [kg] and yaw inertia about its centre of gravity [kg m2].
        a, b: centre of gravity to front and rear axle [m].
        h: centre of gravity to ball [m].
        m2, I2: trailer mass [kg] and yaw inertia about its centre of gravity [kg m2].
        d: ball to the trailer's centre of gravity [m].
        Cf, Cr: cornering stiffness of front and rear axle [N/rad].
        axles: (ball to trailer axle [m], its cornering stiffness [N/rad]) of each axle.
        damping: yaw damping at the ball [N m s/rad].

    Source: symbols of the published model.
    """

    m1: float
    I1: float
    a: float
    b: float
    h: float
    m2: float
    I2: float
    d: float
    Cf: float
    Cr: float
    axles: tuple[tuple[float, float], ...]
    damping: float = 0.0


def matrices(train: Train, speed: float) -> tuple[Matrix, Matrix]:
    """Mass matrix and right-hand side of the equations of motion [SI].

    Args:
        train: car and trailer.
        speed: forward speed [m/s], above zero.

    Raises:
        ValueError: when the speed is not above zero.

    Source: the published linear car-trailer model.
    """
    if speed <= 0:
        raise ValueError("the model needs a forward speed above zero")
    t, u = train, speed
    s0 = sum(c for _, c in t.axles)
    s1 = sum(c * x for x, c in t.axles)
    s2 = sum(c * x * x for x, c in t.axles)
    k = t.a * t.Cf - t.b * t.Cr - t.h * s0
    own = t.a**2 * t.Cf + t.b**2 * t.Cr + t.h**2 * s0
    mass = [
        [t.m1 + t.m2, -t.m2 * t.h, -t.m2 * t.d, 0.0],
        [-t.m2 * t.h, t.I1 + t.m2 * t.h**2, t.m2 * t.h * t.d, 0.0],
        [-t.m2 * t.d, t.m2 * t.h * t.d, t.I2 + t.m2 * t.d**2, 0.0],
        [0.0, 0.0, 0.0, 1.0],
    ]
    c = t.damping
    right = [
        [-(t.Cf + t.Cr + s0) / u, -k / u - (t.m1 + t.m2) * u, s1 / u, s0],
        [-k / u, -own / u + t.m2 * t.h * u - c, -t.h * s1 / u + c, -t.h * s0],
        [s1 / u, -t.h * s1 / u + t.m2 * t.d * u + c, -s2 / u - c, -s1],
        [0.0, -1.0, 1.0, 0.0],
    ]
    return mass, right


def eigenvalues(train: Train, speed: float) -> tuple[complex, ...]:
    """Eigenvalues of the motion [1/s], least stable first.

    Args:
        train: car and trailer.
        speed: forward speed [m/s], above zero.

    Source: roots of the characteristic polynomial of ``M^-1 D``, found by the
    Durand-Kerner iteration.
    """
    mass, right = matrices(train, speed)
    found = _roots(_characteristic(_solve(mass, right)))
    return tuple(sorted(found, key=lambda s: -s.real))


def least_damping(train: Train, speed: float) -> float:
    """Damping ratio of the least damped oscillation [-]; 1 when nothing oscillates.

    Only for the order of two loadings in tests, never for print.

    Args:
        train: car and trailer.
        speed: forward speed [m/s], above zero.

    Source: ``-Re(s)/|s|`` of an eigenvalue.
    """
    swings = [-s.real / abs(s) for s in eigenvalues(train, speed) if abs(s.imag) > 1e-9 * abs(s)]
    return min(swings, default=1.0)


def _solve(left: Matrix, right: Matrix) -> Matrix:
    """Return ``left^-1 right`` by elimination with pivots."""
    size = len(left)
    rows = [[*a, *b] for a, b in zip(left, right, strict=True)]
    for i in range(size):
        pivot = max(range(i, size), key=lambda r: abs(rows[r][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        head = rows[i][i]
        rows[i] = [x / head for x in rows[i]]
        for r in range(size):
            if r != i and rows[r][i]:
                factor = rows[r][i]
                rows[r] = [x - factor * y for x, y in zip(rows[r], rows[i], strict=True)]
    return [row[size:] for row in rows]


def _characteristic(a: Matrix) -> list[float]:
    """Coefficients of ``det(s - A)``, highest power first (Faddeev-LeVerrier)."""
    size = len(a)
    coefficients = [1.0]
    m: Matrix = [[0.0] * size for _ in range(size)]
    for step in range(1, size + 1):
        last = coefficients[-1]
        m = [
            [sum(a[i][k] * m[k][j] for k in range(size)) + (last if i == j else 0.0) for j in range(size)]
            for i in range(size)
        ]
        trace = sum(a[i][k] * m[k][i] for i in range(size) for k in range(size))
        coefficients.append(-trace / step)
    return coefficients


def _roots(coefficients: Sequence[float]) -> list[complex]:
    """All roots of a monic polynomial (Durand-Kerner)."""
    size = len(coefficients) - 1
    radius = 1.0 + max(abs(c) for c in coefficients[1:])
    scale = max((abs(c) ** (1.0 / (i + 1)) for i, c in enumerate(coefficients[1:])), default=radius)
    roots = [scale * cmath.exp(1j * (0.4 + 2.0 * cmath.pi * i / size)) for i in range(size)]
    for _ in range(500):
        moved = 0.0
        for i, root in enumerate(roots):
            value = complex(0.0)
            for c in coefficients:
                value = value * root + c
            below = complex(1.0)
            for j, other in enumerate(roots):
                if j != i:
                    below *= root - other
            step = value / below
            roots[i] = root - step
            moved = max(moved, abs(step) / max(abs(roots[i]), 1e-30))
        if moved < 1e-14:
            break
    return roots
