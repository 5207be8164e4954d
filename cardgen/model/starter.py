"""A commented starter rig: every important field unknown, with what it is and where to find it."""

from __future__ import annotations

import typing
from collections.abc import Iterator
from dataclasses import dataclass

from cardgen.model.rig import Rig
from cardgen.units.field import Doc, Kind
from cardgen.units.kinds import SAMPLE


@dataclass(frozen=True, slots=True)
class Wish:
    """What the person said about the rig.

    Args:
        nickname: the rig's nickname [-].
        market: key of the market [-].
        type: how the trailer couples [-].
        body: what the trailer is [-].
        vehicle: kind of tow vehicle [-].
    """

    nickname: str
    market: str = "us"
    type: str = "ball"
    body: str = "travel_trailer"
    vehicle: str = "pickup"


_TOP = """\
# yaml-language-server: $schema=rig.schema.json
# A rig described for cardgen. Every quantity is written with its unit: 3,500 lb, 65 psi,
# 20 gal, 6 ft 2 in, 1600 kg, 4.5 bar. 'unknown' is allowed almost everywhere; what depends
# on it is printed as "not checked" with where to read or measure it.
nickname: {nickname}
market: {market}
places: []            # states or provinces travelled, for example [us-va]
"""
_VEHICLE = (
    "curb.weight", "curb.front", "curb.rear", "curb.includes.fuel", "curb.includes.driver", "curb.source",
    "wheelbase", "overhang", "length", "front_overhang", "width", "gvwr", "gawr.front", "gawr.rear", "gcwr",
    "tow_rating.braked", "tow_rating.unbraked", "tow_rating.tongue", "placard_capacity",
    "tires.placard_size", "tires.front.type", "tires.front.size", "tires.front.max_load",
    "tires.front.max_pressure", "tires.front.speed_symbol", "tires.front.date_code", "tires.rear.type",
    "tires.rear.size", "tires.rear.max_load", "tires.rear.max_pressure", "tires.rear.speed_symbol",
    "tires.rear.date_code", "placard.front", "placard.rear", "connector", "brake_controller.fitted",
    "mirrors.span",
)  # fmt: skip
_RECEIVER = (
    "receiver.opening", "receiver.height", "receiver.weight_carrying.trailer",
    "receiver.weight_carrying.tongue",
)  # fmt: skip
_BED = ("bed_hitch.ratings.trailer", "bed_hitch.ratings.tongue", "bed_hitch.height")
_TRAILER = (
    "year", "empty.weight", "empty.tongue", "empty.source", "gvwr", "cargo_capacity", "axles.ball_to_center",
    "axles.spacing", "axles.track", "axles.suspension", "tires.type", "tires.size", "tires.load_range",
    "tires.max_load", "tires.max_load_at", "tires.speed_symbol", "tires.date_code", "tire_pressure",
    "wheel_torque", "coupler.ball", "coupler.height", "coupler.height_at", "coupler.ratings.trailer",
    "coupler.ratings.tongue", "chains.count", "chains.strength", "brakes.kind", "brakes.braked_axles",
    "breakaway.fitted", "connector", "jack", "dimensions.length", "dimensions.width", "dimensions.height",
    "dimensions.body_front", "dimensions.body_rear",
)  # fmt: skip
_GEAR = (
    "weight", "ball.diameter", "ball.shank", "ball.height", "ball.rating", "mount.drop", "mount.shank",
    "mount.hole", "mount.ratings.trailer", "mount.ratings.tongue",
)  # fmt: skip


def starter(wish: Wish) -> str:
    """Write the starter file of a rig.

    Args:
        wish: what the person said about the rig.
    """
    top = _TOP.format(nickname=_quoted(wish.nickname), market=wish.market)
    ball = wish.type == "ball"
    vehicle = (*_VEHICLE, *(_RECEIVER if ball else _BED))
    trailer = [
        p for p in _TRAILER if wish.type != "fifth_wheel" or not p.startswith(("chains", "coupler.ball"))
    ]
    parts = [
        top,
        *_section("vehicle", vehicle, (f"kind: {wish.vehicle}",)),
        "  seats: {}           # seat rows: {front: 5 ft, rear: 2 ft} ahead of the rear axle\n",
        "  fuel: unknown       # {kind: gasoline, capacity: 18 gal, ahead_of_rear_axle: 2 ft}\n",
        *_section("trailer", trailer, (f"type: {wish.type}", f"body: {wish.body}")),
        _LISTS,
        *_section("gear", _GEAR if ball else ("weight",), ()),
        _END,
    ]
    return "".join(parts)


_LISTS = """\
  # For each of these, positions x are measured behind the coupling centre.
  tanks: {}           # {fresh: {holds: fresh, capacity: 20 gal, x: 9 ft}}
  cylinders: {}       # {left: {size: 20 lb, water_capacity: 47.6 lb, tare: 17 lb, x: 1 ft 3 in}}
  batteries: []       # [{name: house battery, weight: 48 lb, x: 2 ft}]
  cargo: []           # [{name: kitchen box, weight: 60 lb, x: 8 ft, set: camping}]
  features: {}        # equipment for the checklist: {awning: true, roof_vents: 2, chocks: 2}
"""
_END = """\
occupants:
  - {name: driver, weight: unknown, seat: unknown}
cases:
  - name: leaving home
    fuel: full
    tanks: {}         # {fresh: full, grey: empty}
    cylinders: {}     # {left: full}
preferences:
  planned_speed: unknown   # for example 60 mph
  base_url: unknown        # where build/ is served, for the QR codes
contacts: []          # [{who: the owner, phone: 555-0142}]
"""


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _section(name: str, paths: typing.Sequence[str], first: typing.Sequence[str]) -> Iterator[str]:
    """Write a mapping with nested fields, each unknown and with its meaning."""
    yield f"{name}:\n"
    for line in first:
        yield f"  {line}\n"
    open_parts: list[str] = []
    for path in paths:
        *parents, leaf = path.split(".")
        while open_parts and open_parts != parents[: len(open_parts)]:
            open_parts.pop()
        while len(open_parts) < len(parents):
            open_parts.append(parents[len(open_parts)])
            yield f"{'  ' * len(open_parts)}{open_parts[-1]}:\n"
        pad = "  " * (len(parents) + 1)
        yield f"{f'{pad}{leaf}: unknown':<34}# {_comment(f'{name}.{path}')}\n"


def _comment(path: str) -> str:
    """Say what a field is, where it is found and how it is written."""
    doc, hint = _find(path)
    kind = next((m for m in getattr(hint, "__metadata__", ()) if isinstance(m, Kind)), None)
    text = doc.what + (f"; {doc.where}" if doc.where else "")
    sample = doc.example or (SAMPLE[kind.names[0]] if kind else "")
    return text + (f"; like {sample}" if sample else "")


def _find(path: str) -> tuple[Doc, typing.Any]:
    shape: typing.Any = Rig
    doc, hint = Doc(""), None
    for step in path.split("."):
        hint = typing.get_type_hints(shape, include_extras=True)[step]
        doc = next(m for m in hint.__metadata__ if isinstance(m, Doc))
        hint = hint.__origin__
        inner = [a for a in typing.get_args(hint) if a is not type(None)]
        while not hasattr(hint, "__metadata__") and inner and typing.get_origin(hint) not in (tuple, dict):
            hint = inner[0]
            inner = [a for a in typing.get_args(hint) if a is not type(None)]
            if hasattr(hint, "__metadata__"):
                break
        shape = hint
    return doc, hint
