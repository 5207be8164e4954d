"""Small rigs of our own invention, built from the model's dataclasses."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

from cardgen.model.features import Features
from cardgen.model.gear import Gear, Mount, WeightDistribution
from cardgen.model.parts import Cylinder, Tank, TrailerLoad
from cardgen.model.results import Assessment, CaseResult, Computed, Figure
from cardgen.model.rig import Case, Preferences, Rig
from cardgen.model.tires import Spare
from cardgen.model.trailer import (
    Axles,
    Brakes,
    Breakaway,
    Chains,
    Coupler,
    Dimensions,
    Trailer,
)
from cardgen.model.vehicle import BedHitch, Controller, Mirrors, Receiver, Vehicle
from cardgen.units import Quantity
from cardgen.units.kinds import RANGES, Believable
from cardgen.units.parse import parse

DAY = dt.date(2026, 11, 25)
BALL_HITCH = Receiver()
ROOMS = Features(
    fridge="absorption",
    lp_appliances=True,
    windows=True,
    roof_vents=3,
    screen_door=True,
    converter=True,
    awning=True,
    steps=True,
    stabilizers=4,
    slide_outs=2,
    antenna=True,
    shore_power=True,
    generator=True,
    outside_hatches=2,
    bike_rack=True,
    tpms=True,
    chocks=4,
)


def q(text: str, kind: str) -> Quantity:
    """A quantity as a rig file would give it; positions may be negative."""
    limits = RANGES[kind]
    low = -limits.high if kind == "length" else limits.low
    return parse(text, kind, Believable(low, limits.high))


def tank(holds: Any, x: str = "8 ft", size: str = "20 gal") -> Tank:
    """A tank with a place."""
    return Tank(holds=holds, capacity=q(size, "volume"), x=q(x, "length"))


def change(rig: Rig, **parts: Any) -> Rig:
    """A copy with parts of vehicle, trailer, gear or the rig replaced.

    Keys are dotted with ``__``: ``trailer__jack="fixed"``.
    """
    for key, value in parts.items():
        rig = _put(rig, key.split("__"), value)
    return rig


def _put(part: Any, path: list[str], value: Any) -> Any:
    head, *rest = path
    inner = _put(getattr(part, head), rest, value) if rest else value
    return replace(part, **{head: inner})


def ball_rig(market: Any = "us", **trailer: Any) -> Rig:
    """An SUV and a trailer on a ball."""
    made: dict[str, Any] = {
        "type": "ball",
        "body": "utility",
        "coupler": Coupler(ball=q("2 in", "length"), height=q("17 in", "length")),
        "chains": Chains(count=2),
        "brakes": Brakes(kind="none"),
        "jack": "swivel",
        "connector": "4-flat",
        "dimensions": Dimensions(width=q("6 ft 2 in", "length"), height=q("7 ft", "length")),
        "spare": Spare(pressure=q("50 psi", "pressure")),
        "features": Features(tiedowns=True, ramp=True, carries_vehicle=False, chocks=2),
    }
    return Rig(
        nickname="Bramble",
        market=market,
        vehicle=Vehicle(kind="suv", receiver=BALL_HITCH, width=q("6 ft", "length")),
        trailer=Trailer(**(made | trailer)),
        cases=(Case(name="today"),),
    )


def camper(market: Any = "us", **more: Any) -> Rig:
    """A single-axle camper with everything that a living space can have."""
    made: dict[str, Any] = {
        "body": "camper",
        "brakes": Brakes(kind="electric"),
        "breakaway": Breakaway(fitted=True),
        "connector": "7-blade",
        "cylinders": {"left": Cylinder(), "right": Cylinder()},
        "tanks": {
            "fresh": tank("fresh", "6 ft"),
            "grey": tank("grey", "12 ft"),
            "black": tank("black", "13 ft"),
            "heater": tank("heater", "5 ft"),
        },
        "batteries": (TrailerLoad(name="house battery"),),
        "features": ROOMS,
    }
    return ball_rig(market, **(made | more))


def travel_trailer() -> Rig:
    """A tandem travel trailer with weight distribution behind a pickup."""
    rig = camper(
        body="travel_trailer",
        axles=Axles(count=2, tires_per_axle=2),
        jack="fixed",
        dimensions=Dimensions(width=q("8 ft", "length"), length=q("26 ft", "length")),
        features=replace(ROOMS, fridge="compressor", sway_electronics=True),
    )
    return change(
        rig,
        gear=Gear(weight_distribution=WeightDistribution(), sway_control="friction"),
        vehicle__kind="pickup",
        vehicle__brake_controller=Controller(fitted=True, gain=5.5),
        vehicle__mirrors=Mirrors(towing=True),
        vehicle__camera=True,
        vehicle__tow_mode=True,
        vehicle__charge_wire=True,
    )


def fifth_wheel() -> Rig:
    """A fifth wheel with landing legs behind a pickup with a tailgate."""
    rig = travel_trailer()
    return change(
        rig,
        trailer__type="fifth_wheel",
        trailer__jack="landing_legs",
        trailer__chains=Chains(),
        gear=Gear(),
        vehicle__receiver=None,
        vehicle__bed_hitch=BedHitch(),
        vehicle__tailgate=True,
    )


def boat(connector: Any = "5-flat", **more: Any) -> Rig:
    """A boat on a trailer with surge brakes."""
    gear = Features(winch=True, outboard=True, chocks=2)
    made: dict[str, Any] = {"brakes": Brakes(kind="surge"), "breakaway": Breakaway(fitted=True)}
    return ball_rig(body="boat", features=gear, connector=connector, **(made | more))


def horse() -> Rig:
    """A gooseneck for two horses."""
    rig = ball_rig(
        type="gooseneck",
        body="horse",
        brakes=Brakes(kind="electric"),
        breakaway=Breakaway(fitted=True),
        connector="7-blade",
        axles=Axles(count=2),
        features=Features(partitions=True, ramp=True, chocks=2),
    )
    return change(rig, vehicle__kind="pickup", vehicle__receiver=None, vehicle__tailgate=True)


def caravan(market: Any = "uk") -> Rig:
    """A metric caravan with overrun brakes and a friction coupling."""
    return camper(
        market,
        body="caravan",
        coupler=Coupler(ball=q("50 mm", "length"), height=q("430 mm", "length"), friction=True),
        chains=Chains(count=0),
        brakes=Brakes(kind="surge", parking=True),
        connector="13-pin",
        jack="clamp_wheel",
    )


def unknown_rig() -> Rig:
    """A camper whose file says next to nothing."""
    return Rig(
        nickname="Thistle",
        market="us",
        vehicle=Vehicle(),
        trailer=Trailer(type="ball", body="camper"),
        cases=(Case(name="today"),),
    )


def pool() -> list[Rig]:
    """Rigs whose lists together hold every item."""
    hauler = Features(tiedowns=True, ramp=True, carries_vehicle=True, open_deck=True, chocks=1, tpms=True)
    fixed = Receiver(fixed_ball=True)
    goods = ball_rig("au", body="cargo", jack="none", spare=None, axles=Axles(tires_per_axle=4))
    return [
        ball_rig(),
        ball_rig(spare=None, jack="none"),
        camper(),
        camper(cylinders={"only": Cylinder()}),
        camper(cylinders={}, jack=None),
        travel_trailer(),
        fifth_wheel(),
        change(fifth_wheel(), trailer__brakes=Brakes(kind="surge"), use="commercial"),
        boat(),
        boat(connector="4-flat"),
        horse(),
        caravan(),
        change(caravan("eu"), vehicle__receiver=fixed),
        change(caravan("nz"), trailer__chains=Chains(count=1), use="lending"),
        ball_rig(body="car_hauler", features=hauler, tanks={"fuel": tank("fuel")}),
        change(goods, gear=Gear(plug_adapter=True, mount=Mount(), sway_control="integrated")),
        ball_rig(brakes=Brakes(kind="electric_hydraulic")),
        change(ball_rig(), use="commercial"),
        change(caravan(), trailer__coupler=Coupler()),
        change(ball_rig(), preferences=Preferences(base_url="https://shed.example")),
        change(horse(), trailer__features=replace(ROOMS, living_space=True, partitions=True)),
        unknown_rig(),
    ]


def assessment(rig: Rig, **figures: float) -> Assessment:
    """An assessment with hand-made figures: rig-wide by name, ``case_`` ones per case [SI]."""

    def figure(name: str, value: float) -> Figure:
        return Figure(name, name, "mass", value, "given")

    per_case = {n[5:]: figure(n[5:], v) for n, v in figures.items() if n.startswith("case_")}
    wide = {n: figure(n, v) for n, v in figures.items() if not n.startswith("case_")}
    cases = tuple(CaseResult(case.name, per_case) for case in rig.cases)
    return Assessment(Computed(rig, cases, wide), (), DAY)
