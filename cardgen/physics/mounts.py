"""Which ball mount of the rig or the shelf brings the trailer nearest to level."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.model.equipment import MountOption
from cardgen.model.gear import Mount
from cardgen.model.results import Computed, Figure
from cardgen.model.rig import Rig
from cardgen.physics import hitch
from cardgen.units import Quantity

FIT = 5e-4
"""Play at which two sizes still count as the same [m], half a millimetre; a project choice."""


def options(computed: Computed, figures: Mapping[str, Figure]) -> tuple[MountOption, ...]:
    """List the ball mounts, usable ones first, the nearest to level first.

    Args:
        computed: cases of the rig, for the weights the mount must carry [kg].
        figures: rig-wide figures; ``drop_needed`` [m] is used.

    Returns:
        Options with the height error [m] and the trailer's pitch [rad]; none for a fixed
        ball, a bed hitch or without any mount described.

    Source: plane geometry; only sizes and ratings that are stated speak against a mount.
    """
    rig = computed.rig
    needed = figures.get("drop_needed")
    if needed is None:
        return ()
    given = [(rig.gear.mount, True)] if rig.gear.mount else []
    given += [(mount, False) for mount in rig.gear.stock]
    made = [_option(computed, mount, fitted, needed.value) for mount, fitted in given]
    return tuple(sorted(made, key=_rank))


def _rank(option: MountOption) -> tuple[bool, bool, float]:
    off = abs(option.error) if option.error is not None else 0.0
    return bool(option.obstacles), option.error is None, off


def _option(computed: Computed, mount: Mount, fitted: bool, needed: float | None) -> MountOption:
    rig = computed.rig
    error = needed - mount.drop.si if needed is not None and mount.drop is not None else None
    length = rig.trailer.axles.ball_to_center
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
