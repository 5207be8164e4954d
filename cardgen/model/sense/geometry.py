"""Lengths and positions that no rig can have."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cardgen.model.sense.context import Look, si
from cardgen.source.faults import Path
from cardgen.units.quantity import Quantity

_SLACK = 1.0
"""How far outside the body something may sit, bike racks and boxes included [m]."""

_SHORTEST = 1.0
"""Shortest wheelbase taken for real [m]; common practice, no source."""

_BED_BEHIND = 0.3
"""How far behind the rear axle a bed hitch may sit [m]; common practice, no source."""


def axle_group(look: Look) -> None:
    """Axles at or ahead of the coupling."""
    axles = look.rig.trailer.axles
    center = axles.ball_to_center
    if center is None:
        return
    path = ("trailer", "axles", "ball_to_center")
    spread = si(axles.spacing) * (axles.count - 1) / 2 if axles.count > 1 and axles.spacing else 0.0
    if center.si <= spread:
        what = "puts the first axle at or ahead of the coupling"
        look.say("axle-ahead", path, f"'{center.text}' {what}", "measure from the coupling to the axle(s)")


def nothings(look: Look) -> None:
    """Heights and lengths of running gear and coupling that are written as zero."""
    trailer, vehicle = look.rig.trailer, look.rig.vehicle
    receiver, bed = ("vehicle", "receiver"), ("vehicle", "bed_hitch")
    held, plate = vehicle.receiver, vehicle.bed_hitch
    stated: tuple[tuple[Path, Quantity | None], ...] = (
        (("trailer", "axles", "spacing"), trailer.axles.spacing),
        (("trailer", "axles", "track"), trailer.axles.track),
        (("trailer", "coupler", "height"), trailer.coupler.height),
        ((*receiver, "height"), held.height if held else None),
        ((*receiver, "height_hitched"), held.height_hitched if held else None),
        ((*receiver, "ball_height"), held.ball_height if held else None),
        ((*bed, "height"), plate.height if plate else None),
    )
    for path, one in stated:
        if one is not None and one.si == 0.0:
            look.say(
                "quantity-zero", path, f"'{one.text}' is no length here", "measure it, or write 'unknown'"
            )


def vehicle_axles(look: Look) -> None:
    """A wheelbase too short, or a coupling where no vehicle has one."""
    vehicle = look.rig.vehicle
    if si(vehicle.wheelbase) < _SHORTEST and vehicle.wheelbase:
        words = f"'{vehicle.wheelbase.text}' is no wheelbase"
        look.say("wheelbase-short", ("vehicle", "wheelbase"), words, "measure axle to axle")
    if vehicle.overhang is None or not look.sure("trailer", "type"):
        return
    path, text = ("vehicle", "overhang"), vehicle.overhang.text
    bed = look.rig.trailer.type != "ball"
    if bed and vehicle.overhang.si > _BED_BEHIND:
        words = f"'{text}' puts the bed hitch far behind the rear axle"
        look.say("overhang-sign", path, words, "write a negative length when it sits ahead of the axle")
    elif not bed and vehicle.overhang.si <= 0:
        words = f"'{text}' puts the ball ahead of the rear axle"
        look.say("overhang-sign", path, words, "write the length from axle back to ball, positive")
    elif vehicle.overhang.si <= -si(vehicle.wheelbase):
        words = f"'{text}' puts the hitch ahead of the front axle"
        look.say("overhang-sign", path, words, "check wheelbase and overhang")


def _in_trailer(look: Look) -> Iterator[tuple[Path, Quantity | None, str]]:
    """Every position in the trailer: its path, its value, and its axis."""
    trailer = look.rig.trailer
    groups: list[tuple[Path, object]] = []
    for name in ("batteries", "cargo"):
        groups += [(("trailer", name, i), one) for i, one in enumerate(getattr(trailer, name))]
    for name in ("tanks", "cylinders"):
        groups += [(("trailer", name, key), one) for key, one in getattr(trailer, name).items()]
    for path, thing in groups:
        for axis in ("x", "y", "z"):
            yield (*path, axis), getattr(thing, axis), axis
    for key, place in trailer.bays.items():
        yield ("trailer", "bays", key), place, "x"


def _span(look: Look, axis: str) -> tuple[float, float]:
    """Believable span of positions along an axis of the trailer [m], infinite where unknown."""
    size = look.rig.trailer.dimensions
    if axis == "x":
        front = si(size.body_front) if size.body_front else 0.0
        rear = size.body_rear or (size.length if look.rig.trailer.type == "ball" else None)
        return min(front, 0.0) - _SLACK, si(rear) + _SLACK if rear else math.inf
    if axis == "y":
        side = si(size.width) / 2 + _SLACK if size.width else math.inf
        return -side, side
    return -0.5, si(size.height) + _SLACK if size.height else math.inf


def trailer_positions(look: Look) -> None:
    """Loads far outside the trailer."""
    words = {"x": "behind the coupling", "y": "right of the center line", "z": "above the ground"}
    spans = {axis: _span(look, axis) for axis in words}
    for path, place, axis in _in_trailer(look):
        low, high = spans[axis]
        if place is not None and (place.si < low or place.si > high):
            message = f"'{place.text}' {words[axis]} is far outside the trailer"
            look.say("position-outside", path, message, "check the length and its sign")


def vehicle_positions(look: Look) -> None:
    """Loads and seats far outside the vehicle."""
    vehicle = look.rig.vehicle
    ahead = si(vehicle.wheelbase) + 1.5 + _SLACK  # engine and bumper lie ahead of the front axle
    behind = max(1.5, si(vehicle.overhang)) + _SLACK
    places: list[tuple[Path, Quantity | None]] = [
        (("vehicle", "cargo", i, "ahead_of_rear_axle"), one.ahead_of_rear_axle)
        for i, one in enumerate(vehicle.cargo)
    ]
    places += [(("vehicle", "seats", name), place) for name, place in vehicle.seats.items()]
    if vehicle.fuel is not None:
        places.append((("vehicle", "fuel", "ahead_of_rear_axle"), vehicle.fuel.ahead_of_rear_axle))
    for path, place in places:
        if place is not None and (place.si > ahead or place.si < -behind):
            message = f"'{place.text}' ahead of the rear axle is far outside the vehicle"
            look.say("position-outside", path, message, "check the length and its sign")


CHECKS = (axle_group, nothings, vehicle_axles, trailer_positions, vehicle_positions)
