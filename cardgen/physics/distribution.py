"""Weight distribution: a moment about the ball that moves load between axles.

    dF = +M (L2 + e) / (wb L2)    dR = -M (wb + e + L2) / (wb L2)    dA = +M / L2
    M for a front-axle restoration phi:  M = phi T e L2 / (L2 + e)

with T static tongue weight, e overhang, wb wheelbase, L2 ball to trailer axles,
M in kg m (newton metres divided by standard gravity). Source: moments about
trailer axles and vehicle rear axle of two hinged bodies; checked in the tests
against a hinged-frame solution. The sum of the three changes is zero.
"""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.physics.number import Number, exact

STANDARD_GRAVITY = 9.80665
"""Standard gravity [m/s2], exact by definition (3rd CGPM, 1901)."""


@dataclass(frozen=True, slots=True)
class Shift:
    """Load moved by weight distribution [kg]; the three add up to zero."""

    front: Number
    rear: Number
    trailer: Number


def _above_zero(*numbers: Number) -> bool:
    return all(one.value is None or one.value > 0 for one in numbers)


def moment_for_restoration(share: Number, tongue: Number, overhang: Number, ball_to_axles: Number) -> Number:
    """Moment that puts back a share of the load the front axle lost [kg m].

    Args:
        share: front axle load restoration [-], 0 to 1; above 1 is a caution elsewhere.
        tongue: static tongue weight [kg].
        overhang: rear axle to ball [m], above zero.
        ball_to_axles: ball to trailer axle group [m], above zero.

    Raises:
        ValueError: when a length is not above zero.

    Source: moments of two hinged bodies, see the module.
    """
    if not _above_zero(overhang, ball_to_axles):
        raise ValueError("weight distribution needs a ball behind the rear axle and axles behind the ball")
    return overhang * ball_to_axles / (ball_to_axles + overhang) * share * tongue


def restoration_of_moment(moment: Number, tongue: Number, overhang: Number, ball_to_axles: Number) -> Number:
    """Share of the front axle's lost load that a moment puts back [-].

    Args:
        moment: moment about the ball [kg m].
        tongue: static tongue weight [kg], not zero.
        overhang: rear axle to ball [m], above zero.
        ball_to_axles: ball to trailer axle group [m], above zero.

    Raises:
        ValueError: when tongue weight is zero or a length is not above zero.

    Source: ``moment_for_restoration`` solved for the share.
    """
    full = moment_for_restoration(exact(1.0), tongue, overhang, ball_to_axles)
    if full.value == 0:
        raise ValueError("no front axle load was lost")
    return moment / full


def restoration_from_arches(alone: Number, slack: Number, engaged: Number) -> Number:
    """Restoration from three front wheel-arch heights, ``(H2 - H1)/(H2 - H3)`` [-].

    Args:
        alone: height of the vehicle alone, H3 [m].
        slack: height hitched with bars slack, H2 [m].
        engaged: height hitched with bars engaged, H1 [m].

    Validity: linear front springs with little friction, no levelling device.

    Raises:
        ValueError: when the front did not rise on hitching.

    Source: the spring deflects in proportion to its load, so the height does too.
    """
    if slack.sure <= alone.sure:
        raise ValueError("the front did not rise on hitching, so nothing can be restored")
    return (slack - engaged) / (slack - alone)


def shift(moment: Number, wheelbase: Number, overhang: Number, ball_to_axles: Number) -> Shift:
    """Load moved between the three axle groups [kg].

    Args:
        moment: moment about the ball [kg m].
        wheelbase: front axle to rear axle [m], above zero.
        overhang: rear axle to ball [m].
        ball_to_axles: ball to trailer axle group [m], above zero.

    Raises:
        ValueError: when wheelbase or ball_to_axles is not above zero.

    Source: moments of two hinged bodies, see the module.
    """
    if not _above_zero(wheelbase, ball_to_axles):
        raise ValueError("wheelbase and ball to axles must be above zero")
    front = moment * (ball_to_axles + overhang) / (wheelbase * ball_to_axles)
    trailer = moment / ball_to_axles
    return Shift(front, -front - trailer, trailer)
