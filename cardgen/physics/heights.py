"""Rig-wide hitch heights: squat under the tongue, drop needed, how far off level the trailer stands,
and which ball mount of the rig or the shelf brings it nearest to level."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.model.equipment import MountOption
from cardgen.model.gear import Mount
from cardgen.model.results import CaseResult, Computed, Figure, Need, Term
from cardgen.model.rig import Rig
from cardgen.physics import figures, hitch
from cardgen.physics.distribution import STANDARD_GRAVITY
from cardgen.physics.load_model import ball_to_axles
from cardgen.physics.needs import need
from cardgen.units import Quantity

GEOMETRY = "plane geometry"
SPRINGS = "two linear springs under a rigid body, small angles"
FIT = 5e-4
"""Play at which two sizes still count as the same [m], half a millimetre; a project choice."""


def rig_figures(computed: Computed) -> dict[str, Figure]:
    """Make ``hitch_sag``, ``height_error`` [m], ``trailer_pitch`` [rad] and, for a ball, also
    ``ball_height_needed`` and ``drop_needed`` [m].

    Without a known squat ``drop_needed`` is that of the unhitched vehicle and says so;
    ``height_error`` is then unknown.

    Source: plane geometry.
    """
    rig = computed.rig
    out = {"hitch_sag": sag(computed)}
    squat = out["hitch_sag"].value
    if rig.trailer.type == "ball":
        out["ball_height_needed"] = _ball_top(rig)
        if not (rig.vehicle.receiver and rig.vehicle.receiver.fixed_ball):
            out["drop_needed"] = _drop(rig, squat)
    out["height_error"] = _error(rig, out)
    out["trailer_pitch"] = _pitch(rig, out["height_error"])
    return out


def sag(computed: Computed) -> Figure:
    """How far the coupling point sinks when the trailer is coupled: the deepest case [m].

    Measured heights win; otherwise the stated axle rates give it from the loads that the
    trailer moves, with weight distribution engaged where it is fitted.

    Args:
        computed: axle loads of the cases [kg], rates [N/m], heights [m].

    Source: tape measure, or ``cardgen.physics.hitch.hitch_sag``.
    """
    rig = computed.rig
    measured = _measured_sag(rig)
    if measured is not None:
        return measured
    vehicle = rig.vehicle
    lengths = (
        (vehicle.front_axle_rate, "vehicle.front_axle_rate"),
        (vehicle.rear_axle_rate, "vehicle.rear_axle_rate"),
        (vehicle.wheelbase, "vehicle.wheelbase"),
        (vehicle.overhang, "vehicle.overhang"),
    )
    label, formula = "squat of the coupling point, trailer coupled", "dR/Kr + (dR/Kr + dF/Kf) e/wb"
    if vehicle.front_axle_rate is None and vehicle.rear_axle_rate is None:
        wanted = (need("vehicle.receiver.height_hitched"),) if rig.trailer.type == "ball" else (
            need("vehicle.front_axle_rate"), need("vehicle.rear_axle_rate"),
        )  # fmt: skip
        return figures.derived("hitch_sag", label, "height", None, formula, [], SPRINGS, wanted)
    needs = [need(path) for value, path in lengths if value is None]
    deepest: float | None = None
    terms: list[Term] = []
    for case in computed.cases:
        found, missing = _case_sag(rig, case)
        needs += missing
        if found is not None:
            terms.append(Term(case.name, f"squat, {case.name}", found, "height"))
            deepest = found if deepest is None else max(deepest, found)
    value = None if needs else deepest
    return figures.derived("hitch_sag", label, "height", value, formula, terms, SPRINGS, needs)


def _measured_sag(rig: Rig) -> Figure | None:
    receiver = rig.vehicle.receiver
    if receiver is None or rig.trailer.type != "ball" or receiver.height_hitched is None:
        return None
    name = "ball_height" if receiver.fixed_ball else "height"
    before = receiver.ball_height if receiver.fixed_ball else receiver.height
    path = f"vehicle.receiver.{name}"
    terms = [
        Term("h", "before coupling", before.si, "height", path),
        Term("h2", "coupled", receiver.height_hitched.si, "height", "vehicle.receiver.height_hitched"),
    ] if before else []  # fmt: skip
    value = before.si - receiver.height_hitched.si if before else None
    needs = () if before else (need(path),)
    label = "squat of the coupling point, trailer coupled"
    return figures.derived("hitch_sag", label, "height", value, "h - h2", terms, "tape measure", needs)


def _case_sag(rig: Rig, case: CaseResult) -> tuple[float | None, tuple[Need, ...]]:
    """Squat of one case [m] from the loads that the trailer moves, or what is missing."""
    engaged = rig.gear.weight_distribution is not None
    names = {
        "rear": "rear_axle_engaged" if engaged else "vehicle_rear_axle",
        "front": "front_axle_engaged" if engaged else "vehicle_front_axle",
        "rear0": "rear_alone",
        "front0": "front_alone",
    }
    used = {key: case.figures[name] for key, name in names.items()}
    missing = tuple(n for f in used.values() for n in f.needs)
    loads = {key: f.value for key, f in used.items()}
    vehicle = rig.vehicle
    front_rate, rear_rate = vehicle.front_axle_rate, vehicle.rear_axle_rate
    if missing or not (front_rate and rear_rate and vehicle.wheelbase and vehicle.overhang):
        return None, missing
    return (
        hitch.hitch_sag(
            _difference(loads, "rear", "rear0") * STANDARD_GRAVITY,
            _difference(loads, "front0", "front") * STANDARD_GRAVITY,
            rear_rate.si, front_rate.si, vehicle.wheelbase.si, vehicle.overhang.si,
        ),
        (),
    )  # fmt: skip


def _difference(loads: Mapping[str, float | None], a: str, b: str) -> float:
    return (loads[a] or 0.0) - (loads[b] or 0.0)


def _drop(rig: Rig, squat: float | None) -> Figure:
    """Drop from the top of the shank to the ball platform [m], negative for a rise."""
    coupler, receiver, ball = rig.trailer.coupler, rig.vehicle.receiver, rig.gear.ball
    needs = []
    if receiver is None or receiver.height is None:
        needs.append(need("vehicle.receiver.height"))
    if coupler.height is None:
        needs.append(need("trailer.coupler.height"))
    if coupler.height_at not in ("ball_top", "lower_lip"):
        needs.append(need("trailer.coupler.height_at"))
    ball_height = ball.height if ball else None
    by_top = coupler.height_at == "ball_top"
    if by_top and ball_height is None:
        needs.append(need("gear.ball.height"))
    drop, terms = None, []
    if not needs and receiver and receiver.height and coupler.height and coupler.height_at:
        high = ball_height.si if ball_height else 0.0
        surface = coupler.height_at
        drop = hitch.needed_drop(receiver.height.si, coupler.height.si, high, surface, squat or 0.0)
        terms = [
            Term("h_r", "{receiver} top inside", receiver.height.si, "height", "vehicle.receiver.height"),
            Term("c", "level {coupler} height", coupler.height.si, "height", "trailer.coupler.height"),
        ]
        if by_top:
            terms.append(Term("b", "ball height", high, "height", "gear.ball.height"))
        if squat is not None:
            terms.append(Term("s", "squat", squat, "height", "hitch_sag"))
    formula = f"drop = h_r{'' if squat is None else ' - s'} - c{' + b' if by_top else ''}"
    label = "drop the {ball_mount} needs (negative: rise)"
    if squat is None:
        label += ", the rear's squat not counted"
    return figures.derived("drop_needed", label, "length", drop, formula, terms, GEOMETRY, needs)


def _ball_top(rig: Rig) -> Figure:
    """Height of the ball's top when the trailer stands level [m]."""
    coupler, ball = rig.trailer.coupler, rig.gear.ball
    needs = [] if coupler.height else [need("trailer.coupler.height")]
    value, terms = None, []
    if coupler.height_at not in ("ball_top", "lower_lip"):
        needs.append(need("trailer.coupler.height_at"))
    if coupler.height is not None:
        terms = [Term("c", "level {coupler} height", coupler.height.si, "length", "trailer.coupler.height")]
    if coupler.height is not None and coupler.height_at == "ball_top":
        value = coupler.height.si
    elif coupler.height is not None and coupler.height_at == "lower_lip":
        if ball is None or ball.height is None:
            needs.append(need("gear.ball.height"))
        else:
            value = coupler.height.si + ball.height.si
            terms.append(Term("b", "ball height", ball.height.si, "length", "gear.ball.height"))
    label = "top of the ball when the trailer is level"
    formula = "c or c + b"
    return figures.derived("ball_height_needed", label, "length", value, formula, terms, GEOMETRY, needs)


def _error(rig: Rig, made: Mapping[str, Figure]) -> Figure:
    """Coupling point above (positive) or below the height at which the trailer is level [m]."""
    squat = made["hitch_sag"]
    needs = list(squat.needs)
    above: float | None = None
    if "drop_needed" in made:
        drop, mount = made["drop_needed"], rig.gear.mount
        needs += drop.needs
        formula = "needed drop - mount's drop"
        if mount is None or mount.drop is None:
            needs.append(need("gear.mount.drop"))
        elif drop.value is not None:
            above = drop.value - mount.drop.si
    elif rig.trailer.type == "ball":
        formula = "ball centre - squat - level ball centre"
        above, missing = _fixed_ball(rig, made["ball_height_needed"])
        needs += missing
    else:
        formula = "bed hitch - squat - level {coupler} height"
        above, missing = _bed(rig)
        needs += missing
    if above is not None and squat.value is not None and "drop_needed" not in made:
        above -= squat.value
    value = None if needs else above
    label = "coupling point above (positive) or below level"
    return figures.derived("height_error", label, "height", value, formula, [], GEOMETRY, needs)


def _fixed_ball(rig: Rig, level_top: Figure) -> tuple[float | None, list[Need]]:
    """A fixed ball's centre above the level ball centre, no squat [m]."""
    receiver, ball = rig.vehicle.receiver, rig.gear.ball
    needs = list(level_top.needs)
    if receiver is None or receiver.ball_height is None:
        needs.append(need("vehicle.receiver.ball_height"))
    if ball is None or ball.diameter is None:
        needs.append(need("gear.ball.diameter"))
    if needs or level_top.value is None or not (receiver and receiver.ball_height and ball and ball.diameter):
        return None, needs
    return receiver.ball_height.si - (level_top.value - ball.diameter.si / 2.0), needs


def _bed(rig: Rig) -> tuple[float | None, list[Need]]:
    """A bed hitch's plate or ball top above the level coupler height, no squat [m]."""
    bed, coupler = rig.vehicle.bed_hitch, rig.trailer.coupler
    surfaces = ("plate",) if rig.trailer.type == "fifth_wheel" else ("ball_top",)
    needs = []
    if bed is None or bed.height is None:
        needs.append(need("vehicle.bed_hitch.height"))
    if coupler.height is None:
        needs.append(need("trailer.coupler.height"))
    if coupler.height_at not in surfaces:
        needs.append(need("trailer.coupler.height_at"))
    if needs or not (bed and bed.height and coupler.height):
        return None, needs
    return bed.height.si - coupler.height.si, needs


def _pitch(rig: Rig, error: Figure) -> Figure:
    """How far the trailer stands off level [rad], nose-up positive."""
    length = ball_to_axles(rig)
    needs = list(error.needs)
    if length is None:
        needs.append(need("trailer.axles.ball_to_center"))
    value, terms = None, []
    if error.value is not None and length is not None and length.si > 0:
        value = hitch.trailer_pitch(error.value, length.si)
        terms = [
            Term("d", error.label, error.value, "height", "height_error"),
            Term("L", "coupling to axles", length.si, "length", "trailer.axles.ball_to_center"),
        ]
    label = "trailer off level (positive: nose up)"
    return figures.derived("trailer_pitch", label, "angle", value, "atan(d / L)", terms, GEOMETRY, needs)


def mount_options(computed: Computed, made: Mapping[str, Figure]) -> tuple[MountOption, ...]:
    """List the ball mounts, usable ones first, the nearest to level first.

    Args:
        computed: cases of the rig, for the weights the mount must carry [kg].
        made: rig-wide figures; ``drop_needed`` [m] is used.

    Returns:
        Options with the height error [m] and the trailer's pitch [rad]; none for a fixed
        ball, a bed hitch or without any mount described.

    Source: plane geometry; only sizes and ratings that are stated speak against a mount.
    """
    rig = computed.rig
    needed = made.get("drop_needed")
    if needed is None:
        return ()
    given = [(rig.gear.mount, True)] if rig.gear.mount else []
    given += [(mount, False) for mount in rig.gear.stock]
    options = (_option(computed, mount, fitted, needed.value) for mount, fitted in given)
    return tuple(sorted(options, key=_rank))


def _rank(option: MountOption) -> tuple[bool, bool, float]:
    off = abs(option.error) if option.error is not None else 0.0
    return bool(option.obstacles), option.error is None, off


def _option(computed: Computed, mount: Mount, fitted: bool, needed: float | None) -> MountOption:
    rig = computed.rig
    error = needed - mount.drop.si if needed is not None and mount.drop is not None else None
    length = ball_to_axles(rig)
    pitch = hitch.trailer_pitch(error, length.si) if error is not None and length and length.si > 0 else None
    name = mount.name or ("{ball_mount} in use" if fitted else "{ball_mount} on the shelf")
    drop = mount.drop.si if mount.drop else None
    return MountOption(name, fitted, drop, error, pitch, _obstacles(computed, mount))


def _obstacles(computed: Computed, mount: Mount) -> tuple[str, ...]:
    """Sizes and ratings that speak against a mount [-]."""
    rig = computed.rig
    ball = rig.gear.ball.shank if rig.gear.ball else None
    found = []
    if not _fits(mount.shank, opening(rig)):
        found.append("its shank does not fit the opening")
    if not _fits(ball, mount.hole):
        found.append("its hole does not fit the ball's shank")
    for name, rating, words in (
        ("trailer_weight", mount.ratings.trailer, "its trailer rating is too low"),
        ("tongue_weight", mount.ratings.tongue, "its {tongue_rating} is too low"),
    ):
        worst = computed.worst(name)
        if (
            rating is not None
            and worst is not None
            and worst[1] > rating.si
            and rig.gear.weight_distribution is None
        ):
            found.append(words)
    return tuple(found)


def _fits(inner: Quantity | None, outer: Quantity | None) -> bool:
    return inner is None or outer is None or abs(inner.si - outer.si) <= FIT


def opening(rig: Rig) -> Quantity | None:
    """Opening the mount's shank goes into: the adapter's, else the receiver's [m]; None when unknown.

    Args:
        rig: the rig.

    Source: sizes as measured.
    """
    if rig.gear.adapter is not None:
        return rig.gear.adapter.inside
    return rig.vehicle.receiver.opening if rig.vehicle.receiver else None
