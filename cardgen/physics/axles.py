"""How the trailer's axles share the load of their group, and the two sides likewise.

One axle, or axles linked by an equal-arm equalizer, share evenly. Independent
axles (rubber torsion, no link) share by how level the trailer rides: with rate k
per axle, offset d of an axle behind the group's middle, S2 = sum(d^2), pitch th
(nose low positive) and ball to group middle L,

    R_i = A/n - k th d_i,   A = A_level + k th S2/L,   tongue = T_level - k th S2/L.

Source: moments about the ball of a rigid body on linear springs; checked in the
tests against a spring-supported beam solution.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from cardgen.model.results import Figure, Need, Term
from cardgen.model.rig import Rig
from cardgen.physics import figures
from cardgen.physics.attitude import attitude
from cardgen.physics.distribution import STANDARD_GRAVITY
from cardgen.physics.needs import need

EQUALIZED = "equal-arm equalizer shares load evenly"
INDEPENDENT = "rigid body on linear springs, small pitch; moments about the ball"
WEIGHED = "differences between the axles as weighed, kept for other loads (linear springs)"


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


def split(rig: Rig) -> Split:
    """Say how the axles of a rig share their group's load [kg].

    Source: see the module; for independent axles a weighing with each axle wins over
    the springs, and the springs over nothing.
    """
    axles = rig.trailer.axles
    if axles.count == 1 or axles.suspension == "equalized":
        return Split(((0.0, 0.0),) * axles.count, source=EQUALIZED if axles.count > 1 else figures.SUM)
    if axles.suspension is None:
        return Split((), needs=(need("trailer.axles.suspension"),))
    weighed = _weighed(rig)
    if weighed is not None:
        mean = sum(weighed) / len(weighed)
        return Split(tuple((r - mean, r - mean) for r in weighed), source=WEIGHED)
    if axles.rate is None or axles.spacing is None or axles.ball_to_center is None:
        fields = (
            ("trailer.axles.rate", axles.rate),
            ("trailer.axles.spacing", axles.spacing),
            ("trailer.axles.ball_to_center", axles.ball_to_center),
        )
        missing = tuple(need(path) for path, value in fields if value is None)
        return Split((), needs=(need("weighings[0].slack.axles"), *missing))
    return _by_springs(rig, axles.rate.si, axles.spacing.si, axles.ball_to_center.si)


def _weighed(rig: Rig) -> tuple[float, ...] | None:
    """Axle readings of the newest weighing that has one for each axle [kg]."""
    full = [w for w in rig.weighings if len(w.slack.axles) == rig.trailer.axles.count]
    if not full:
        return None
    return tuple(q.si for q in max(full, key=lambda w: w.date).slack.axles)


def _by_springs(rig: Rig, rate: float, spacing: float, length: float) -> Split:
    count, rides = rig.trailer.axles.count, attitude(rig)
    ends, gains = [], []
    for error in (rides.low, rides.high):
        pitch = -error / length
        gain = group_gain(rate, spacing, count, pitch, length) / STANDARD_GRAVITY
        parts = pitch_offsets(rate, spacing, count, pitch)
        ends.append([p / STANDARD_GRAVITY + gain / count for p in parts])
        gains.append(-gain)
    offsets = tuple((min(pair), max(pair)) for pair in zip(*ends, strict=True))
    return Split(offsets, (min(gains), max(gains)), f"{INDEPENDENT}; {rides.words}")


def axle_figures(rig: Rig, group: Figure, suffix: str = "", source: str = "") -> dict[str, Figure]:
    """Make ``axle_<n>`` [kg]; where only a range is known the value is its upper end.

    Args:
        rig: the rig.
        group: load of the axle group [kg].
        suffix: ``_engaged`` for weight distribution engaged [-].
        source: source to print; the split's own when empty [-].

    Source: see the module.
    """
    count, shared = rig.trailer.axles.count, split(rig)
    state = ", bars engaged" if suffix else ""
    terms = [] if group.value is None else [Term("A", group.label, group.value, "mass", group.id)]
    out = {}
    for i in range(count):
        label = (f"trailer axle {i + 1}" if count > 1 else "trailer axle") + state
        known = group.value is not None and len(shared.offsets) == count
        low, high = shared.offsets[i] if known else (0.0, 0.0)
        even = (group.value or 0.0) / count
        made = figures.derived(
            f"axle_{i + 1}{suffix}",
            label,
            "mass",
            even + high if known else None,
            f"A / {count}" if low == high == 0.0 else f"A / {count} + d",
            terms if low == high == 0.0 else [*terms, Term("d", "beside the even share", high, "mass")],
            source or shared.source,
            (*group.needs, *shared.needs),
        )
        out[made.id] = figures.ranged(made, even + low, even + high) if known and low != high else made
    return out


def side_figures(group: Figure, side: Figure) -> dict[str, Figure]:
    """Make ``left_wheels`` and ``right_wheels`` [kg] from group load and side difference [kg].

    Source: the ball carries no roll moment, so the axles carry all of it.
    """
    out = {}
    for name, sign in (("left_wheels", -1.0), ("right_wheels", 1.0)):
        both = None
        if group.value is not None and side.value is not None:
            both = (group.value + sign * side.value) / 2.0
        out[name] = figures.derived(
            name,
            name.replace("_", " ") + " of the trailer",
            "mass",
            both,
            f"(A {'+' if sign > 0 else '-'} D) / 2",
            [Term(f.id, f.label, f.value, f.kind, f.id) for f in (group, side) if f.value is not None],
            figures.STATICS,
            (*group.needs, *side.needs),
        )
    return out


def attitude_figure(rig: Rig, made: Mapping[str, Figure]) -> dict[str, Figure]:
    """Make ``tongue_off_level`` [kg]: what an unlevel ride does to the tongue of independent axles.

    Nothing for axles that an equalizer links or a single axle.

    Source: see the module.
    """
    if rig.trailer.axles.suspension != "independent" or rig.trailer.axles.count < 2:
        return {}
    shared = split(rig)
    needs: Sequence[Need] = shared.needs or made["tongue_weight"].needs
    low, high = shared.tongue
    worst = max(low, high, key=abs)
    value = worst if shared.offsets and shared.source.startswith(INDEPENDENT) else None
    if value is None and not needs:
        return {}
    figure = figures.derived(
        "tongue_off_level",
        "change of {coupling_load} when the trailer does not ride level",
        "mass",
        value,
        "-k th S2 / L",
        [],
        shared.source,
        needs,
    )
    return {figure.id: figure if value is None else figures.ranged(figure, low, high)}
