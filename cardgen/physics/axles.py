"""How the trailer's axles share the load of their group, and the two sides likewise.

One axle, or axles linked by an equal-arm equalizer, share evenly. Independent
axles (rubber torsion, no link) share by how level the trailer rides: with rate k
per axle, offset d of an axle behind the group's middle, S2 = sum(d^2), pitch th
(nose low positive) and ball to group middle L,

    R_i = A/n - k th d_i,   A = A_level + k th S2/L,   tongue = T_level - k th S2/L.

Source: moments about the ball of a rigid body on linear springs; checked in the
tests against a spring-supported beam solution.

Whether the trailer rides nose high or low is told by heights: the receiver's height
less the mount's drop plus the ball's own height, against the ball height at which the
trailer is level. What is not known is stated as a range; the plausible range is a choice
of this project.
"""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.model.needs import Need
from cardgen.model.rig import Rig
from cardgen.physics import hitch
from cardgen.physics.distribution import STANDARD_GRAVITY
from cardgen.physics.needs import need
from cardgen.physics.readings import older

SINGLE = "sum of masses"
EQUALIZED = "equal-arm equalizer shares load evenly"
INDEPENDENT = "rigid body on linear springs, small pitch; moments about the ball"
WEIGHED = "differences between the axles as weighed, kept for other loads (linear springs)"
PLAUSIBLE = 0.05
"""How far the ball may be off the level height when nothing was measured [m], either way;
and how far it may sink under the trailer when only the free height was measured [m].
A project choice, no source; the report says so."""


@dataclass(frozen=True, slots=True)
class Split:
    """What each axle carries beside an even share of the group.

    Args:
        offsets: lowest and highest offset of each axle from the even share [kg], front
            first; empty when the split is not known.
        tongue: change of tongue weight from level to the lowest and highest coupling
            considered [kg], smallest first.
        source: where the split comes from [-].
        needs: what is missing to know the split.

    Source: see the module.
    """

    offsets: tuple[tuple[float, float], ...]
    tongue: tuple[float, float] = (0.0, 0.0)
    source: str = EQUALIZED
    needs: tuple[Need, ...] = ()

    @property
    def by_springs(self) -> bool:
        """Whether it follows from the axles' springs and how level the trailer rides [-]; source: its own."""
        return self.source.startswith(INDEPENDENT)


@dataclass(frozen=True, slots=True)
class Attitude:
    """How far the coupling sits above the height at which the trailer is level.

    Args:
        low, high: ends of the height error [m]; positive means nose high; equal when known.
        known: whether it follows from measured heights.
        words: where it comes from [-].

    Source: plane geometry.
    """

    low: float
    high: float
    known: bool
    words: str


def attitude(rig: Rig) -> Attitude:
    """Work out the height error of the coupling [m].

    Returns:
        One value when the height was measured with the trailer coupled; a range down to
        ``PLAUSIBLE`` below when only the free height was measured; else plus or minus
        ``PLAUSIBLE``.

    Source: plane geometry.
    """
    coupled = _error(rig, coupled=True)
    if coupled is not None:
        return Attitude(coupled, coupled, True, "heights measured with the trailer coupled")
    free = _error(rig, coupled=False)
    if free is not None:
        words = "heights measured without the trailer; sinking under it taken as 0 to 50 mm"
        return Attitude(free - PLAUSIBLE, free, False, words)
    return Attitude(-PLAUSIBLE, PLAUSIBLE, False, "heights not measured; taken as 50 mm either way")


def _error(rig: Rig, coupled: bool) -> float | None:
    """Height of the coupling above level [m]; None when a height is missing."""
    level, where = rig.trailer.coupler.height, rig.trailer.coupler.height_at
    if level is None:
        return None
    if rig.trailer.type != "ball":
        bed = rig.vehicle.bed_hitch
        if coupled or bed is None or bed.height is None or where != "plate":
            return None
        return bed.height.si - level.si
    receiver, ball, mount = rig.vehicle.receiver, rig.gear.ball, rig.gear.mount
    if receiver is None or receiver.fixed_ball or mount is None or mount.drop is None:
        return None
    height = receiver.height_hitched if coupled else receiver.height
    top = ball.height.si if ball is not None and ball.height is not None else None
    if height is None or where not in ("ball_top", "lower_lip") or (where == "ball_top" and top is None):
        return None
    return hitch.needed_drop(height.si, level.si, top or 0.0, where) - mount.drop.si


def pitch_offsets(rate: float, spacing: float, count: int, pitch: float) -> tuple[float, ...]:
    """Load each independent axle gains by pitch, front first [N].

    ``-k th d_i`` with ``d_i`` the axle's offset behind the group's middle.

    Args:
        rate: rate of one axle, both wheels [N/m], above zero.
        spacing: distance between neighbouring axles [m], above zero.
        count: number of axles [-].
        pitch: pitch [rad], nose low positive, small.

    Raises:
        ValueError: when rate or spacing is not above zero.

    Source: linear springs under a rigid body.
    """
    if rate <= 0 or spacing <= 0:
        raise ValueError("rate and spacing must be above zero")
    middle = (count - 1) / 2.0
    return tuple(-rate * pitch * (i - middle) * spacing for i in range(count))


def group_gain(rate: float, spacing: float, count: int, pitch: float, ball_to_axles: float) -> float:
    """Load the whole group gains, and the tongue loses, by pitch [N].

    ``k th S2 / L``.

    Args:
        rate: rate of one axle [N/m], above zero.
        spacing: distance between neighbouring axles [m], above zero.
        count: number of axles [-].
        pitch: pitch [rad], nose low positive, small.
        ball_to_axles: ball to the group's middle [m], above zero.

    Raises:
        ValueError: when a length or the rate is not above zero.

    Source: moments about the ball.
    """
    if rate <= 0 or spacing <= 0 or ball_to_axles <= 0:
        raise ValueError("rate, spacing and ball to axles must be above zero")
    middle = (count - 1) / 2.0
    second = sum(((i - middle) * spacing) ** 2 for i in range(count))
    return rate * pitch * second / ball_to_axles


def split(rig: Rig, length: float | None, ride: Attitude) -> Split:
    """Say how the axles of a rig share their group's load [kg].

    Args:
        rig: the rig.
        length: ball to the group's middle [m]; None when unknown.
        ride: how far off level the coupling stands [m].

    Source: see the module; for independent axles a weighing with each axle wins over
    the springs, and the springs over nothing.
    """
    axles = rig.trailer.axles
    if axles.count == 1 or axles.suspension == "equalized":
        return Split(((0.0, 0.0),) * axles.count, source=EQUALIZED if axles.count > 1 else SINGLE)
    if axles.suspension is None:
        return Split((), needs=(need("trailer.axles.suspension"),))
    weighed = _weighed(rig)
    if weighed is not None:
        mean = sum(weighed) / len(weighed)
        return Split(tuple((r - mean, r - mean) for r in weighed), source=WEIGHED)
    if axles.rate is None or axles.spacing is None or length is None:
        fields = (
            ("trailer.axles.rate", axles.rate),
            ("trailer.axles.spacing", axles.spacing),
            ("trailer.axles.ball_to_center", length),
        )
        missing = tuple(need(path) for path, value in fields if value is None)
        return Split((), needs=(need("weighings[0].slack.axles"), *missing))
    return _by_springs(axles.count, axles.rate.si, axles.spacing.si, length, ride)


def _weighed(rig: Rig) -> tuple[float, ...] | None:
    """Axle readings of the newest weighing that has one for each axle [kg]."""
    count = rig.trailer.axles.count
    full = [w for w in rig.weighings if len(w.slack.axles) == count and not older(rig, w.date)]
    if not full:
        return None
    return tuple(q.si for q in max(full, key=lambda w: w.date).slack.axles)


def _by_springs(count: int, rate: float, spacing: float, length: float, ride: Attitude) -> Split:
    ends, gains = [], []
    for error in (ride.low, ride.high):
        pitch = -error / length
        gain = group_gain(rate, spacing, count, pitch, length) / STANDARD_GRAVITY
        parts = pitch_offsets(rate, spacing, count, pitch)
        ends.append([p / STANDARD_GRAVITY + gain / count for p in parts])
        gains.append(-gain)
    offsets = tuple((min(pair), max(pair)) for pair in zip(*ends, strict=True))
    return Split(offsets, (min(gains), max(gains)), f"{INDEPENDENT}; {ride.words}")
