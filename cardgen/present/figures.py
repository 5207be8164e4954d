"""What the drawings show: plain numbers and ready labels, drawn by ``render.figures``.

Conventions of the rig: x metres rearward from the coupling centre (so the vehicle has
negative x), y metres to the right of the centre line, z up from the ground.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cardgen.present.levels import Level

Shape = Literal["car", "suv", "pickup", "van", "box", "horse", "open", "boat", "fifth_wheel", "neck"]
"""Outlines of vehicles and trailers."""


@dataclass(frozen=True, slots=True)
class LimitBar:
    """One limit bar.

    Args:
        share: demand over capacity [-]; None when it could not be checked.
        level: outcome, which fixes the hatching.
    """

    share: float | None
    level: Level


@dataclass(frozen=True, slots=True)
class BandGauge:
    """A value on a scale with an allowed band, for tongue weight.

    Args:
        value: the rig's value [unit of the scale]; None when unknown.
        low, high: ends of the allowed band [same unit]; None when that end is open.
        start, end: ends of the scale [same unit].
        value_label, low_label, high_label: ready texts with units.
        level: outcome.
    """

    value: float | None
    low: float | None
    high: float | None
    start: float
    end: float
    value_label: str
    low_label: str
    high_label: str
    level: Level


@dataclass(frozen=True, slots=True)
class Wheelset:
    """One axle seen from the side.

    Args:
        x: position [m, rearward from the coupling].
        radius: tire radius [m].
        label: ready text, for example the axle load.
    """

    x: float
    radius: float
    label: str = ""


@dataclass(frozen=True, slots=True)
class Body:
    """A box-shaped body seen from the side.

    Args:
        front, rear: ends [m, rearward from the coupling].
        floor, roof: heights above ground [m].
        shape: outline to draw.
        label: name printed in it.
    """

    front: float
    rear: float
    floor: float
    roof: float
    shape: Shape
    label: str = ""


@dataclass(frozen=True, slots=True)
class DrawnLoad:
    """A tank, a piece of cargo or another thing with a place in the rig.

    Args:
        x: centre [m, rearward from the coupling].
        z: centre above ground [m]; None when unknown (drawn on the floor).
        label: ready text; of a stowage place its letter, which stands in its sign.
        kind: what it is, which fixes its sign.
        y: centre to the right of the centre line [m]; None when unknown.
    """

    x: float
    z: float | None
    label: str
    kind: Literal["tank", "cargo", "gas", "battery", "place"]
    y: float | None = None


@dataclass(frozen=True, slots=True)
class Arrow:
    """A load on the ground or on the ball.

    Args:
        x: position [m, rearward from the coupling].
        label: ready text with unit.
        up: whether the arrow points up (a support) or down (a weight).
    """

    x: float
    label: str
    up: bool = True


@dataclass(frozen=True, slots=True)
class Centre:
    """The centre of gravity.

    Args:
        x: position [m, rearward from the coupling].
        z: height [m]; None when unknown (drawn at axle height, said so in the label).
        label: ready text.
    """

    x: float
    z: float | None
    label: str


@dataclass(frozen=True, slots=True)
class SideView:
    """The rig to scale from the left side, vehicle at the left.

    Args:
        trailer, vehicle: bodies; the vehicle may be left out.
        vehicle_axles, trailer_axles: wheels.
        ball_height: height of the coupling point [m].
        items: tanks and cargo.
        centre: the trailer's centre of gravity, when known.
        loads: arrows under the axles and at the ball.
        note: what the drawing does not know, printed small.
        scale_length: length of the scale bar [m].
        scale_label: ready text of the scale bar; empty for none.
    """

    trailer: Body
    trailer_axles: tuple[Wheelset, ...]
    ball_height: float
    vehicle: Body | None = None
    vehicle_axles: tuple[Wheelset, ...] = ()
    items: tuple[DrawnLoad, ...] = ()
    centre: Centre | None = None
    loads: tuple[Arrow, ...] = ()
    note: str = ""
    scale_length: float = 1.0
    scale_label: str = ""


@dataclass(frozen=True, slots=True)
class TopView:
    """The trailer from above, front at the left, the right-hand side at the bottom.

    Args:
        front, rear: ends of the body [m, rearward from the coupling].
        width: width of the body [m].
        track: centre of left to centre of right tire [m].
        axles: axle positions [m].
        items: tanks and cargo with x and y.
        left_label, right_label: ready texts of the loads on each side.
        note: what the drawing does not know.
    """

    front: float
    rear: float
    width: float
    track: float
    axles: tuple[float, ...]
    items: tuple[DrawnLoad, ...] = ()
    left_label: str = ""
    right_label: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class HitchGeometry:
    """Receiver, ball mount and ball from the side, heights to scale.

    Args:
        receiver_height: ground to the top of the receiver opening [m].
        platform_height: ground to the top of the mount's ball platform [m].
        ball_height: ground to the top of the ball [m].
        receiver_label, ball_label: ready texts of the two heights.
        drop_label: ready text of drop or rise (receiver opening to platform).
        ball_name: size and rating of the ball.
    """

    receiver_height: float
    platform_height: float
    ball_height: float
    receiver_label: str
    ball_label: str
    drop_label: str
    ball_name: str = ""


@dataclass(frozen=True, slots=True)
class Curve:
    """One line of a chart.

    Args:
        points: (share filled [-], value [unit of the chart]) in rising order of share.
        label: name at the end of the line.
    """

    points: tuple[tuple[float, float], ...]
    label: str


@dataclass(frozen=True, slots=True)
class FillingChart:
    """Tongue weight against the filling of tanks, with the allowed band.

    Args:
        curves: at most four lines.
        low, high: ends of the band [unit of the chart]; None when open.
        low_label, high_label: ready texts.
        ticks: (value, ready text) marks of the vertical axis.
        axis: what the vertical axis shows, with unit.
        across: what the horizontal axis shows.
        marks: (share filled [-], ready text) marks of the horizontal axis.
        rating: the lowest rating [unit of the chart]; None when none is known.
        rating_label: ready text.
    """

    curves: tuple[Curve, ...]
    low: float | None
    high: float | None
    low_label: str
    high_label: str
    ticks: tuple[tuple[float, str], ...]
    axis: str
    across: str
    marks: tuple[tuple[float, str], ...] = (
        (0.0, "empty"),
        (0.25, "¼"),
        (0.5, "½"),
        (0.75, "¾"),
        (1.0, "full"),
    )
    rating: float | None = None
    rating_label: str = ""


Figure = LimitBar | BandGauge | SideView | TopView | HitchGeometry | FillingChart
