"""Small rigs for tests, and the demo rigs of the checkout."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

from cardgen.model.gear import Gear
from cardgen.model.parts import Fuel, TrailerLoad, VehicleLoad
from cardgen.model.read import read_rig
from cardgen.model.rig import Case, Occupant, Rig
from cardgen.model.trailer import Axles, Empty, Trailer
from cardgen.model.vehicle import Curb, CurbState, Vehicle
from cardgen.units import Quantity
from cardgen.units.parse import parse

RIGS = Path(__file__).parents[2] / "rigs"
DEMO = tuple(sorted(path.stem for path in RIGS.glob("*.yaml")))
POUND = 0.45359237
INCH = 0.0254


@cache
def demo(name: str) -> Rig:
    """One of the demo rigs."""
    found = read_rig(RIGS / f"{name}.yaml")
    assert found.rig is not None, found.faults
    return found.rig


def mass(text: str) -> Quantity:
    """A mass as written in a rig file."""
    return parse(text, "mass")


def length(text: str) -> Quantity:
    """A length as written in a rig file; may be negative."""
    if text.startswith("-"):
        return Quantity(-parse(text[1:], "length").si, "length", None, text)
    return parse(text, "length")


def item(name: str, weight: str, x: str, y: str | None = "0 in", **more: object) -> TrailerLoad:
    """A cargo item of the trailer."""
    made = TrailerLoad(name=name, weight=mass(weight), x=length(x), y=None if y is None else length(y))
    return replace(made, **more)  # type: ignore[arg-type]  # fields of the record, by the caller


def carried(name: str, weight: str, ahead: str) -> VehicleLoad:
    """A cargo item of the vehicle."""
    return VehicleLoad(name=name, weight=mass(weight), ahead_of_rear_axle=length(ahead))


def vehicle(front: str, rear: str, wheelbase: str, overhang: str) -> Vehicle:
    """A vehicle with a stated split, no fuel tank and no driver counted."""
    return Vehicle(
        curb=Curb(front=mass(front), rear=mass(rear), includes=CurbState(driver=mass("0 lb"))),
        wheelbase=length(wheelbase),
        overhang=length(overhang),
        fuel=Fuel(kind="none"),
    )


def trailer(weight: str, tongue: str, ball_to_center: str, *cargo: TrailerLoad, count: int = 1) -> Trailer:
    """A trailer with ball coupling; two axles and more are equalized."""
    axles = Axles(
        count=count,
        ball_to_center=length(ball_to_center),
        track=length("80 in"),
        suspension="single" if count == 1 else "equalized",
    )
    empty = Empty(weight=mass(weight), tongue=mass(tongue) if tongue else None)
    return Trailer(type="ball", body="utility", empty=empty, axles=axles, cargo=tuple(cargo))


def rig(
    pulls: Vehicle, pulled: Trailer, cases: Sequence[Case] = (Case(name="as it is"),), gear: str = "0 lb"
) -> Rig:
    """A rig with coupling gear of a stated weight and a driver without weight."""
    nothing, here = Quantity(0.0, "mass", 0.0, "0 lb"), Quantity(0.0, "length", 0.0, "0 in")
    return Rig(
        nickname="Test",
        market="us",
        vehicle=replace(pulls, seats=pulls.seats or {"front": here}),
        occupants=(Occupant(name="driver", weight=nothing, seat=next(iter(pulls.seats), "front")),),
        trailer=pulled,
        gear=Gear(weight=mass(gear)),
        cases=tuple(cases),
    )
