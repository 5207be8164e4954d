"""Whether the trailer rides nose high or low, as far as the rig file tells.

The height of the ball is the receiver's height less the mount's drop plus the
ball's own height; it is compared with the ball height at which the trailer is
level. What is not known is stated as a range.

Source: plane geometry; the plausible range is a choice of this project.
"""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.model.rig import Rig
from cardgen.physics import hitch

PLAUSIBLE = 0.05
"""How far the ball may be off the level height when nothing was measured [m], either way;
and how far it may sink under the trailer when only the free height was measured [m].
A project choice, no source; the report says so."""


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
