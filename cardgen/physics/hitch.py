"""Hitch heights: which drop the ball mount needs and how far off level the trailer stands."""

from __future__ import annotations

import math

from cardgen.physics.number import Number


def needed_drop(receiver: float, coupler: float, ball_height: float, surface: str, sag: float = 0.0) -> float:
    """Drop from the top of the shank to the ball platform [m]; negative means a rise.

    ``drop = receiver - sag - coupler + ball`` when the coupler height was measured
    to the inside top of the socket; without the ball's height when it was measured
    to the coupler's lower lip, which rests at the platform.

    Args:
        receiver: ground to the top inside of the receiver opening, vehicle loaded, no trailer [m].
        coupler: coupler height with the trailer level and loaded [m].
        ball_height: platform to top of the ball [m]; not used for ``lower_lip``.
        surface: ``ball_top`` or ``lower_lip`` [-].
        sag: how far the receiver sinks under the tongue [m].

    Raises:
        ValueError: for another surface.

    Source: plane geometry. The two habits of measuring differ by the ball's height.
    """
    if surface == "ball_top":
        return receiver - sag - coupler + ball_height
    if surface == "lower_lip":
        return receiver - sag - coupler
    raise ValueError(f"unknown surface '{surface}'")


def trailer_pitch(height_error: float, ball_to_axles: float) -> float:
    """Angle by which the trailer stands off level [rad], positive nose-up.

    Args:
        height_error: ball height above the level coupler height [m].
        ball_to_axles: coupling to axle group [m], above zero.

    Raises:
        ValueError: when ``ball_to_axles`` is not above zero.

    Source: plane geometry.
    """
    if ball_to_axles <= 0:
        raise ValueError("ball to axles must be above zero")
    return math.atan2(height_error, ball_to_axles)


def hitch_sag(
    rear_added: Number,
    front_lost: Number,
    rear_rate: Number,
    front_rate: Number,
    wheelbase: Number,
    overhang: Number,
) -> Number:
    """How far the coupling point sinks under the tongue [m].

    ``sag = dR/Kr + (dR/Kr + dF/Kf) / wb * e``: the rear springs give way and the body turns.

    Args:
        rear_added: load added on the rear axle [N].
        front_lost: load lost on the front axle [N], positive.
        rear_rate: rear axle rate, both wheels [N/m], above zero.
        front_rate: front axle rate, both wheels [N/m], above zero.
        wheelbase: front to rear axle [m], above zero.
        overhang: rear axle to coupling [m].

    Raises:
        ValueError: when a rate or the wheelbase is not above zero.

    Source: two linear springs under a rigid body, small angles.
    """
    if rear_rate.sure <= 0 or front_rate.sure <= 0 or wheelbase.sure <= 0:
        raise ValueError("rates and wheelbase must be above zero")
    sag, rise = rear_added / rear_rate, front_lost / front_rate
    return sag + (sag + rise) / wheelbase * overhang
