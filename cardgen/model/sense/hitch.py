"""Hitches, couplers and balls that do not go together or do not exist."""

from __future__ import annotations

from cardgen.model.sense.context import Look, si
from cardgen.source.faults import Path
from cardgen.units.parse import parse
from cardgen.units.quantity import UnitError

BALL_SIZES: dict[str, float] = {
    "1 7/8 in": 0.047625,
    "2 in": 0.0508,
    "2 5/16 in": 0.0587375,
    "3 in": 0.0762,
    "50 mm": 0.050,
    "70 mm": 0.070,
}
"""Ball diameters of the trade [m]; common practice, no source."""

_NEAR = 0.0003


def bed(look: Look) -> None:
    """A bed hitch where none belongs, or none where one is needed."""
    rig, hitch = look.rig, look.rig.vehicle.bed_hitch
    if not look.sure("trailer", "type") or not look.sure("vehicle", "bed_hitch") or rig.alone == "vehicle":
        return
    kind = rig.trailer.type
    if kind == "ball":
        if hitch is not None and rig.vehicle.receiver is None and look.sure("vehicle", "receiver"):
            words = "a ball trailer does not couple to a hitch in the bed"
            look.say("bed-hitch", ("vehicle", "bed_hitch"), words, "describe vehicle.receiver", key=True)
        return
    if hitch is None and rig.alone is None:
        words = f"a {kind.replace('_', ' ')} trailer needs a hitch in the bed"
        hint = f"add 'bed_hitch:' to the vehicle, with 'kind: {kind}'"
        look.say("bed-hitch", ("trailer", "type"), words, hint)
    elif hitch is not None and hitch.kind != kind and look.sure("vehicle", "bed_hitch", "kind"):
        words = f"a {hitch.kind.replace('_', ' ')} hitch does not take a {kind.replace('_', ' ')} trailer"
        look.say("bed-hitch", ("vehicle", "bed_hitch", "kind"), words, f"write 'kind: {kind}'")
    if rig.gear.weight_distribution is not None:
        words = "weight-distribution bars do not go with a hitch in the bed"
        path = ("gear", "weight_distribution")
        look.say("bed-hitch", path, words, "delete these lines", key=True)


def ball_sizes(look: Look) -> None:
    """Ball sizes that no ball has."""
    rig = look.rig
    given: list[tuple[Path, object]] = [
        (("gear", "ball", "diameter"), rig.gear.ball and rig.gear.ball.diameter)
    ]
    if rig.trailer.type != "fifth_wheel" or not look.sure("trailer", "type"):
        given.append((("trailer", "coupler", "ball"), rig.trailer.coupler.ball))
    for path, size in given:
        value = si(size)  # type: ignore[arg-type]  # one of the two above
        if value == value and all(abs(value - one) > _NEAR for one in BALL_SIZES.values()):
            words = f"'{size.text}' is no ball size"  # type: ignore[attr-defined]  # as above
            look.say("ball-size", path, words, "sizes are " + ", ".join(BALL_SIZES))


def d_values(look: Look) -> None:
    """D values that are no force."""
    receiver = look.rig.vehicle.receiver
    given: list[tuple[Path, str | None]] = [
        (("vehicle", "receiver", "d_value"), receiver.d_value if receiver else None),
        (("trailer", "coupler", "d_value"), look.rig.trailer.coupler.d_value),
    ]
    for path, text in given:
        if text is not None and look.sure(*path):
            try:
                parse(text, "force")
            except UnitError as found:
                look.say(found.code, path, found.message, found.hint)


CHECKS = (bed, ball_sizes, d_values)
