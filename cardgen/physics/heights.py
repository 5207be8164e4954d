"""Rig-wide hitch heights: squat under the tongue, drop needed, how far off level the trailer stands,
and which ball mount of the rig or the shelf brings it nearest to level."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.model.equipment import MountOption
from cardgen.model.gear import Mount
from cardgen.model.results import Computed, Figure, Term
from cardgen.model.rig import Rig
from cardgen.physics import figures, hitch
from cardgen.physics.load_model import ball_to_axles
from cardgen.physics.needs import need
from cardgen.units import Quantity

FIT = 5e-4
"""Play at which two sizes still count as the same [m], half a millimetre; a project choice."""


def rig_figures(computed: Computed) -> dict[str, Figure]:
    """Make ``hitch_sag``, ``height_error`` [m], ``trailer_pitch`` [rad] and, for a ball, also
    ``ball_height_needed`` and ``drop_needed`` [m].

    The squat is the middle between the least and the deepest of the loading cases, for which a
    drop brings all of them nearest to level; height and pitch are those of the case that is
    furthest off. Without a known squat ``drop_needed`` is that of the unhitched vehicle and says so.

    Source: plane geometry.
    """
    rig = computed.rig
    out = {"hitch_sag": _middle(computed)}
    if rig.trailer.type == "ball":
        out["ball_height_needed"] = _ball_top(rig)
        if not (rig.vehicle.receiver and rig.vehicle.receiver.fixed_ball):
            out["drop_needed"] = _drop(rig, out["hitch_sag"].value)
    furthest = max(computed.cases, key=lambda case: abs(case.figures["height_error"].value or 0.0))
    missing = [c for c in computed.cases if c.figures["height_error"].value is None]
    shown = (missing or [furthest])[0].figures
    return out | {name: shown[name] for name in ("height_error", "trailer_pitch")}


def _middle(computed: Computed) -> Figure:
    """Squat between the least and the deepest of the loading cases [m]."""
    found = [(case.name, case.figures["hitch_sag"]) for case in computed.cases]
    known = [figure.value for _, figure in found if figure.value is not None]
    first = found[0][1]
    if len(known) == len(found) and max(known) - min(known) < FIT:
        return first
    needs = [n for _, figure in found for n in figure.needs]
    value = None if needs else (min(known) + max(known)) / 2.0
    terms = [
        Term(name, f"squat, {name}", figure.value, "height")
        for name, figure in found
        if figure.value is not None
    ]
    label = f"{first.label}, middle of the cases"
    formula = "(least + deepest) / 2"
    return figures.derived("hitch_sag", label, "height", value, formula, terms, first.source, needs)


NO_SQUAT = ", the rear's squat not counted"
"""What the label of a drop ends with that is the unhitched vehicle's [-]."""


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
        label += NO_SQUAT
    return figures.derived("drop_needed", label, "length", drop, formula, terms, figures.GEOMETRY, needs)


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
    return figures.derived(
        "ball_height_needed", label, "length", value, formula, terms, figures.GEOMETRY, needs
    )


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
