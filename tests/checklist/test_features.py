"""Every feature by a rig that has it and one that has not, and what a missing field means."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from random import Random
from typing import Literal

from cardgen.checklist.catalog import catalog
from cardgen.checklist.conditions import Value
from cardgen.checklist.features import features
from cardgen.checklist.select import applies, build
from cardgen.checklist.values import values
from cardgen.model.features import Features
from cardgen.model.gear import Gear, WeightDistribution
from cardgen.model.parts import Cylinder, TrailerLoad
from cardgen.model.rig import Preferences, Rig
from cardgen.model.tires import Spare
from cardgen.model.trailer import Axles, Brakes, Breakaway, Chains, Coupler, Dimensions
from cardgen.model.vehicle import Mirrors, Receiver
from tests.checklist.rigs import (
    assessment,
    ball_rig,
    boat,
    camper,
    caravan,
    change,
    fifth_wheel,
    horse,
    q,
    tank,
    unknown_rig,
)
from tests.each import each
from tests.physics.build import DEMO, demo


def gear(rig: Rig, **flags: Value) -> Rig:
    """The rig with equipment switched."""
    return change(rig, **{f"trailer__features__{name}": value for name, value in flags.items()})


def flip(rig: Rig, name: str, has: Value = True, lacks: Value = False) -> tuple[Rig, Rig]:
    """The rig with and without one piece of equipment."""
    return gear(rig, **{name: has}), gear(rig, **{name: lacks})


def width(text: str) -> Dimensions:
    return Dimensions(width=q(text, "length"))


RIG, CAMPER, BOAT, HORSE = ball_rig(), camper(), boat(), horse()
ELECTRIC = change(RIG, trailer__brakes=Brakes(kind="electric"))
DECK = gear(RIG, open_deck=True)
SURGE = change(RIG, trailer__brakes=Brakes(kind="surge"))
NO_GAS = change(gear(CAMPER, lp_appliances=False), trailer__cylinders={})
PAIRS: Mapping[str, tuple[Rig, Rig]] = {
    "coupler": (fifth_wheel(), CAMPER),
    "market": (caravan("uk"), caravan("us")),
    "commercial": (change(RIG, use="commercial"), RIG),
    "address": (change(RIG, preferences=Preferences(base_url="https://shed.example")), RIG),
    "lending": (change(RIG, use="lending"), RIG),
    "ball_mount": (RIG, change(RIG, vehicle__receiver=Receiver(fixed_ball=True))),
    "friction_coupler": (
        change(RIG, trailer__coupler=Coupler(friction=True)),
        change(RIG, trailer__coupler=Coupler(friction=False)),
    ),
    "chains": (RIG, change(RIG, trailer__chains=Chains(count=0))),
    "jack": (change(RIG, trailer__jack="landing_legs"), change(RIG, trailer__jack="fixed")),
    "stabilizers": flip(CAMPER, "stabilizers", 4, 0),
    "brakes": (SURGE, RIG),
    "cab_brakes": (ELECTRIC, SURGE),
    "breakaway": (
        change(ELECTRIC, trailer__breakaway=Breakaway(fitted=True)),
        change(ELECTRIC, trailer__breakaway=Breakaway(fitted=False)),
    ),
    "parking_brake": (
        change(SURGE, trailer__brakes__parking=True),
        change(SURGE, trailer__brakes__parking=False),
    ),
    "sway_electronics": flip(CAMPER, "sway_electronics"),
    "weight_distribution": (change(RIG, gear=Gear(weight_distribution=WeightDistribution())), RIG),
    "sway_control": (
        change(RIG, gear=Gear(sway_control="friction")),
        change(RIG, gear=Gear(sway_control="none")),
    ),
    "connector": (change(RIG, trailer__connector="13-pin"), RIG),
    "reverse_wire": (boat("5-flat"), boat("4-flat")),
    "charge_wire": (change(RIG, vehicle__charge_wire=True), change(RIG, vehicle__charge_wire=False)),
    "plug_adapter": (change(RIG, gear=Gear(plug_adapter=True)), RIG),
    "spare": (change(RIG, trailer__spare=Spare()), change(RIG, trailer__spare=None)),
    "axles": (change(RIG, trailer__axles=Axles(count=2)), RIG),
    "dual_tires": (change(RIG, trailer__axles=Axles(tires_per_axle=4)), RIG),
    "tpms": flip(RIG, "tpms"),
    "chocks": flip(RIG, "chocks", 1, 2),
    "wide_trailer": (
        change(RIG, trailer__dimensions=width("80 in")),
        change(RIG, trailer__dimensions=width("79.9 in")),
    ),
    "wider_than_vehicle": (
        change(RIG, trailer__dimensions=width("6 ft 1 in")),
        change(RIG, trailer__dimensions=width("6 ft")),
    ),
    "trailer_battery": (
        change(RIG, trailer__batteries=(TrailerLoad(name="one"),)),
        change(RIG, trailer__batteries=()),
    ),
    "lp": (CAMPER, NO_GAS),
    "lp_cylinders": (change(CAMPER, trailer__cylinders={"one": Cylinder()}), CAMPER),
    "lp_appliances": flip(CAMPER, "lp_appliances"),
    "fridge": flip(CAMPER, "fridge", "compressor", "none"),
    "fresh_tank": (CAMPER, change(CAMPER, trailer__tanks={})),
    "waste_tanks": (change(RIG, trailer__tanks={"grey": tank("grey")}), RIG),
    "black_tank": (
        change(CAMPER, trailer__tanks={"black": tank("black")}),
        change(CAMPER, trailer__tanks={}),
    ),
    "water_heater": (change(RIG, trailer__tanks={"heater": tank("heater")}), RIG),
    "fuel_tank": (change(RIG, trailer__tanks={"fuel": tank("diesel")}), RIG),
    "living_space": flip(DECK, "living_space"),
    "windows": flip(CAMPER, "windows"),
    "roof_vents": flip(CAMPER, "roof_vents", 1, 0),
    "screen_door": flip(CAMPER, "screen_door"),
    "converter": flip(CAMPER, "converter"),
    "awning": flip(CAMPER, "awning"),
    "steps": flip(CAMPER, "steps"),
    "slide_outs": flip(CAMPER, "slide_outs", 1, 0),
    "antenna": flip(CAMPER, "antenna"),
    "shore_power": flip(CAMPER, "shore_power"),
    "generator": flip(CAMPER, "generator"),
    "outside_hatches": flip(CAMPER, "outside_hatches", 2, 0),
    "bike_rack": flip(CAMPER, "bike_rack"),
    "tiedowns": flip(RIG, "tiedowns"),
    "open_deck": flip(RIG, "open_deck"),
    "enclosed_cargo": flip(gear(RIG, open_deck=False), "enclosed_cargo"),
    "carries_vehicle": flip(RIG, "carries_vehicle"),
    "ramp": flip(RIG, "ramp"),
    "boat": (BOAT, gear(change(BOAT, trailer__body="utility"), tiedowns=False, carries_vehicle=False)),
    "outboard": flip(BOAT, "outboard"),
    "winch": flip(BOAT, "winch"),
    "livestock": flip(DECK, "livestock"),
    "partitions": flip(HORSE, "partitions"),
    "tailgate": (fifth_wheel(), change(fifth_wheel(), vehicle__tailgate=False)),
    "tow_mirrors": (
        change(RIG, vehicle__mirrors=Mirrors(towing=True)),
        change(RIG, vehicle__mirrors=Mirrors(towing=False)),
    ),
    "camera": (change(RIG, vehicle__camera=True), change(RIG, vehicle__camera=False)),
    "tow_mode": (change(RIG, vehicle__tow_mode=True), change(RIG, vehicle__tow_mode=False)),
}


def lines(rig: Rig) -> set[str]:
    made = build(rig, features(rig), values(assessment(rig), "us"), None)
    return {line.id for line in made.lines()}


def test_every_feature_has_its_pair_and_no_other() -> None:
    assert set(PAIRS) == set(catalog().features)
    assert set(features(RIG)) == set(catalog().features)


@each("name", PAIRS)
def test_a_feature_switches_its_items(name: str) -> None:
    """Some item resting on the feature is there for one rig and not for the other."""
    has, lacks = (features(rig) for rig in PAIRS[name])
    assert has[name] != lacks[name]
    resting = [i for i in catalog().items if name in catalog().conditions[i.id].names]
    assert resting
    differs = {i.id for i in resting if applies(i, has) != applies(i, lacks)}
    assert differs
    assert differs <= lines(PAIRS[name][0]) ^ lines(PAIRS[name][1])


@each("name", PAIRS)
def test_one_feature_alone_moves_only_the_items_that_rest_on_it(name: str) -> None:
    has, lacks = PAIRS[name]
    one, other = features(has), features(lacks)
    changed = {key for key in one if one[key] != other[key]}
    moved = {i.id for i in catalog().items if applies(i, one) != applies(i, other)}
    resting = {i.id for i in catalog().items if catalog().conditions[i.id].names & changed}
    assert name in changed
    assert moved <= resting


@each("rig", [pair[0] for pair in PAIRS.values()] + [unknown_rig()])
def test_features_are_of_the_kind_their_table_says(rig: Rig) -> None:
    kinds = {"flag": bool, "count": int, "choice": str}
    for name, value in features(rig).items():
        define = catalog().features[name]
        assert value is None or type(value) is kinds[define.kind], name
        if define.kind == "choice":
            assert value is None or value in define.choices


def test_what_a_body_has_no_place_for_is_not_asked() -> None:
    made = features(ball_rig(body="boat", features=Features()))
    for name in ("fridge", "lp_appliances", "windows", "generator", "roof_vents", "livestock"):
        assert made[name] in (False, 0, "none"), name
    assert made["lp"] is False
    assert made["winch"] is None


def test_a_living_space_without_a_word_on_gas_is_unknown() -> None:
    made = features(unknown_rig())
    for name in ("lp", "lp_appliances", "fridge", "lp_cylinders", "generator"):
        assert made[name] is None, name
    assert made["living_space"] is True


def test_gas_appliances_without_listed_cylinders_still_mean_gas() -> None:
    rig = change(CAMPER, trailer__cylinders={})
    assert features(rig)["lp"] is True
    assert features(rig)["lp_cylinders"] is None
    assert "arrive-gas-any" in lines(rig)


@each(
    ("rig", "name", "expected"),
    [
        (unknown_rig(), "chains", None),
        (change(fifth_wheel(), trailer__chains=Chains()), "chains", 0),
        (change(RIG, trailer__chains=Chains(), trailer__secondary_coupling=True), "chains", None),
        (change(RIG, trailer__chains=Chains(count=0), trailer__secondary_coupling=True), "chains", 1),
        (change(RIG, trailer__chains=Chains(count=2), trailer__secondary_coupling=True), "chains", 2),
        (change(RIG, trailer__chains=Chains(), trailer__secondary_coupling=False), "chains", None),
        (unknown_rig(), "breakaway", None),
        (change(RIG, trailer__breakaway=Breakaway()), "breakaway", False),
        (unknown_rig(), "cab_brakes", None),
        (change(caravan(), trailer__brakes=Brakes(kind="surge")), "parking_brake", None),
        (change(SURGE, trailer__brakes=Brakes(kind="surge")), "parking_brake", False),
        (change(caravan(), trailer__coupler=Coupler()), "friction_coupler", None),
        (change(RIG, trailer__coupler=Coupler()), "friction_coupler", False),
        (change(fifth_wheel(), vehicle__tailgate=None), "tailgate", None),
        (change(fifth_wheel(), vehicle__tailgate=None, vehicle__kind="van"), "tailgate", False),
        (unknown_rig(), "ball_mount", None),
        (unknown_rig(), "reverse_wire", None),
        (
            change(boat("5-flat"), vehicle__connector="4-flat"),
            "reverse_wire",
            False,
        ),  # it ends at the adapter
        (change(boat("5-flat"), vehicle__connector="7-blade"), "reverse_wire", True),
        (unknown_rig(), "wide_trailer", None),
        (ball_rig(features=Features()), "carries_vehicle", None),
        (ball_rig(features=Features()), "open_deck", True),
        (ball_rig(features=Features()), "enclosed_cargo", None),
        (ball_rig(features=Features()), "tiedowns", None),
        (ball_rig(features=Features()), "living_space", False),
        (ball_rig(features=Features(), cylinders={"one": Cylinder()}), "living_space", None),
        (ball_rig(features=Features(), cylinders={"one": Cylinder()}), "lp_appliances", None),
        (ball_rig(features=Features(fridge="absorption")), "living_space", None),
        (ball_rig(body="horse", features=Features()), "living_space", None),
        (ball_rig(body="horse", features=Features()), "lp", None),
        (ball_rig(body="horse", features=Features()), "tiedowns", False),
        (ball_rig(body="horse", features=Features(carries_vehicle=True)), "tiedowns", None),
        (ball_rig(body="cargo", features=Features()), "livestock", None),
        (ball_rig(features=Features(open_deck=True)), "enclosed_cargo", False),
        (ball_rig(body="horse", features=Features(living_space=False)), "lp", False),
        (ball_rig(body="cargo", features=Features()), "living_space", None),
        (ball_rig(body="cargo", features=Features(living_space=False, lp_appliances=True)), "fridge", None),
        (ball_rig(body="cargo", features=Features()), "carries_vehicle", None),
        (ball_rig(body="car_hauler", features=Features()), "tiedowns", None),
        (ball_rig(body="car_hauler", features=Features()), "lp", False),
        (camper(features=Features()), "carries_vehicle", False),
        (camper(features=Features(ramp=True)), "carries_vehicle", None),
        (camper(features=Features(tiedowns=True)), "carries_vehicle", None),
        (camper(features=Features(carries_vehicle=True)), "tiedowns", None),
        (ball_rig(features=Features(partitions=True)), "livestock", None),
        (change(RIG, trailer__dimensions=width("6 ft 8 in")), "wide_trailer", True),
        (change(RIG, trailer__dimensions=width("79.9 in +/- 0.5 in")), "wide_trailer", True),
        (change(RIG, trailer__dimensions=width("82 in +/- 1 in")), "wide_trailer", True),
        (change(RIG, trailer__dimensions=width("78 in +/- 1 in")), "wide_trailer", False),
        (ball_rig(body="cargo", features=Features()), "enclosed_cargo", True),
        (ball_rig(body="cargo", features=Features()), "open_deck", False),
        (ball_rig(body="car_hauler", features=Features()), "carries_vehicle", True),
        (ball_rig(body="horse", features=Features()), "livestock", True),
        (ball_rig(body="cargo", features=Features()), "livestock", None),
        (ball_rig(body="cargo", features=Features()), "living_space", None),
        (ball_rig(body="horse", features=Features()), "living_space", None),
        (ball_rig(body="utility", features=Features()), "living_space", False),
        (ball_rig(body="utility", features=Features(fridge="absorption")), "living_space", None),
        (ball_rig(body="boat", features=Features(), cylinders={"one": Cylinder()}), "living_space", None),
        (ball_rig(features=Features()), "enclosed_cargo", None),
        (ball_rig(features=Features(open_deck=True)), "enclosed_cargo", False),
        (change(CAMPER, trailer__features=Features(ramp=True)), "carries_vehicle", None),
        (change(RIG, trailer__dimensions=width("6 ft 8 in")), "wide_trailer", True),
        (change(RIG, trailer__dimensions=width("79.9 in +/- 0.5 in")), "wide_trailer", True),
        (boat(), "tiedowns", False),
        (fifth_wheel(), "weight_distribution", False),
    ],
)
def test_what_a_missing_field_means(rig: Rig, name: str, expected: Value) -> None:
    assert features(rig)[name] is expected


@each(
    ("rig", "asked"),
    [
        (ball_rig(features=Features()), 9),
        (ball_rig(body="car_hauler", features=Features()), 5),
        (ball_rig(body="boat", features=Features()), 1),
        (
            camper(
                "uk", features=Features(living_space=True, lp_appliances=True, fridge="none", generator=False)
            ),
            0,
        ),
    ],
)
def test_a_plain_trailer_is_asked_little(rig: Rig, asked: int) -> None:
    assert len(critical(rig, maybe=True) - critical(rig, maybe=False)) == asked


def test_every_feature_is_used_by_an_item() -> None:
    used = {n for key, c in catalog().conditions.items() if not key.startswith("due:") for n in c.names}
    assert used == set(catalog().features)


BODIES = ("camper", "travel_trailer", "caravan", "utility", "cargo", "boat", "horse", "car_hauler")
BRAKES: tuple[Literal["none", "electric", "surge"], ...] = ("none", "electric", "surge")
FLAGS = tuple(f.name for f in fields(Features))
SAYS = {
    "fridge": "absorption",
    "roof_vents": 2,
    "stabilizers": 4,
    "slide_outs": 1,
    "outside_hatches": 1,
    "chocks": 2,
}
WHOLE: tuple[tuple[str, ...], ...] = (
    ("brakes", "kind"), ("breakaway", "fitted"), ("chains", "count"), ("connector",), ("jack",),
    ("dimensions", "width"),
)  # fmt: skip
"""Fields of the trailer beside its features that lines rest on."""
ROOMS_LACK = {"livestock", "tiedowns", "carries_vehicle"}
DECKS_LACK = {"lp_appliances", "generator", "living_space", "fridge", "livestock"}
NO_PLACE = {
    "utility": DECKS_LACK,
    "car_hauler": DECKS_LACK,
    "boat": DECKS_LACK | {"enclosed_cargo", "carries_vehicle"},
    "horse": {"carries_vehicle", "tiedowns"},
    "camper": ROOMS_LACK,
    "travel_trailer": ROOMS_LACK,
    "caravan": ROOMS_LACK,
}
"""What a body has no place for, so that it alone, left out again, is taken as not there."""


def critical(rig: Rig, *, maybe: bool) -> set[str]:
    """Safety-critical items of a rig; those "if fitted" too, or not."""
    told = features(rig)
    fits = {i.id: applies(i, told) for i in catalog().items if i.severity == "safety_critical"}
    return {name for name, fit in fits.items() if fit or (maybe and fit is None)}


def vanished(rig: Rig) -> dict[str, set[str]]:
    """By field of the trailer: safety-critical lines that leaving it out takes away."""
    paths = [("features", name) for name in FLAGS] + list(WHOLE)
    before, lost = critical(rig, maybe=False), {}
    for path in paths:
        less = change(rig, **{"__".join(("trailer", *path)): None})
        if less != rig and (gone := before - critical(less, maybe=True)):
            lost[path[-1]] = gone
    return lost


def test_no_field_of_a_demo_rig_takes_a_critical_line_with_it() -> None:
    lost = {name: found for name in DEMO if (found := vanished(demo(name)))}
    assert lost == {}


def test_no_equipment_takes_a_critical_line_with_it() -> None:
    """Alone and in random company, on every body; what a body has no place for is listed, and only that."""
    dice = Random(12)
    lost: dict[str, set[str]] = {}
    alone: dict[str, set[str]] = {}
    for body in BODIES:
        kinds = ("fifth_wheel", "gooseneck", "ball")
        for number, stated in enumerate(
            [[name] for name in FLAGS] + [dice.sample(FLAGS, dice.randint(2, 14)) for _ in range(40)]
        ):
            made = Features(**{name: SAYS.get(name, True) for name in stated})  # type: ignore[arg-type]  # by name
            rig = ball_rig(
                body=body, type=kinds[number % 3], features=made, brakes=Brakes(kind=BRAKES[number % 3])
            )
            if rig.trailer.type == "fifth_wheel":
                rig = change(rig, trailer__chains=Chains())  # few have any, so they are taken as not there
            told = {"enclosed_cargo"} if made.open_deck else set()  # an open deck is not closed
            for name in set(vanished(rig)) - told:
                (alone if len(stated) == 1 else lost).setdefault(body, set()).add(name)
    assert alone == NO_PLACE
    odd = {body: names - NO_PLACE.get(body, set()) for body, names in lost.items()}
    assert not any(odd.values()), odd
