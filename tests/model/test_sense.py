"""Checks of meaning: weights, axles, places, fills and units; what each one catches, and what it lets pass."""

from __future__ import annotations

import pytest

from cardgen.model.sense import CHECKS
from cardgen.model.sense.hitch import BALL_SIZES
from cardgen.units.parse import parse
from tests.each import each
from tests.model.thimble import codes, faults


def test_every_check_says_what_it_is_for() -> None:
    assert len(set(CHECKS)) == len(CHECKS)
    for check in CHECKS:
        assert check.__doc__


@each(
    ("tongue", "weight", "found"),
    [("75 lb", "700 lb", 0), ("700 lb", "700 lb", 1), ("699 lb", "700 lb", 0), ("75 lb", "unknown", 0)],
)
def test_tongue_below_weight(tongue: str, weight: str, found: int) -> None:
    empty = f"empty: {{tongue: {tongue}, weight: {weight}}}"
    assert codes(trailer=empty) == ["tongue-above-weight"] * found


def test_side_difference_may_be_negative() -> None:
    assert codes(trailer="empty: {weight: 700 lb, left_minus_right: -140 lb}") == []
    assert codes(trailer="empty: {weight: 700 lb, left_minus_right: 141 lb}") == ["side-above-weight"]


@each(
    ("front", "rear", "found"),
    [
        ("2000 kg", "1980 kg", []),  # 0.5 % off
        ("2000 kg", "1950 kg", ["curb-split"]),  # 1.25 % off
        ("2000 kg", "2050 kg", ["curb-split"]),
        ("unknown", "1950 kg", []),
        ("2000 kg", "4100 kg", ["curb-axle"]),
    ],
)
def test_split_of_the_curb_weight(front: str, rear: str, found: list[str]) -> None:
    assert codes(vehicle=f"curb: {{weight: 4000 kg, front: {front}, rear: {rear}}}") == found


@each(
    ("axles", "found"),
    [
        ("gawr: [3500 lb]", []),
        ("gawr: [3500 lb, 3500 lb]", ["gawr-count"]),
        ("count: 2, gawr: [3500 lb, 3500 lb]", []),
        ("count: 2, gawr: [3500 lb]", ["gawr-count"]),
        ("count: 2", []),
        ("count: 5", ["axle-count"]),
        ("count: two, gawr: [3500 lb, 3500 lb]", ["count"]),
        ("count: 2, gawr: [3500 lb, 3500]", ["quantity-bare"]),
        ("tires_per_axle: 4", []),
        ("tires_per_axle: 1", ["tire-count"]),
    ],
)
def test_counts_of_axles(axles: str, found: list[str]) -> None:
    assert codes(trailer=f"axles: {{{axles}}}") == found


def test_brakes_on_one_axle_of_an_unknown_number() -> None:
    brakes = "brakes: {kind: electric, braked_axles: 1}"
    assert codes(trailer=brakes) == ["axle-count"]
    assert codes(trailer=f"{brakes}, axles: {{count: 2}}") == []
    assert codes(trailer="brakes: {kind: electric}") == []


@each(
    ("axles", "found"),
    [
        ("ball_to_center: 0 ft", ["axle-ahead"]),
        ("ball_to_center: 9 ft", []),
        ("ball_to_center: -9 ft", ["quantity-negative"]),
        ("count: 3, spacing: 3 ft, ball_to_center: 3 ft", ["axle-ahead"]),
        ("count: 3, spacing: 3 ft, ball_to_center: 4 ft", []),
        ("count: 1, spacing: 9 ft, ball_to_center: 4 ft", []),
        ("count: 2, ball_to_center: 1 ft", []),
    ],
)
def test_axles_behind_the_coupling(axles: str, found: list[str]) -> None:
    assert codes(trailer=f"axles: {{{axles}}}") == found


@each(
    ("trailer", "vehicle", "found"),
    [
        ("type: ball", "overhang: 4 ft", []),
        ("type: ball", "overhang: -1 ft", ["overhang-sign"]),
        ("type: fifth_wheel", "overhang: -2 in, bed_hitch: {kind: fifth_wheel}", []),
        ("type: fifth_wheel", "overhang: 3 in, bed_hitch: {kind: fifth_wheel}", []),
        ("type: fifth_wheel", "overhang: 4 ft, bed_hitch: {kind: fifth_wheel}", ["overhang-sign"]),
        (
            "type: gooseneck",
            "overhang: -13 ft, wheelbase: 12 ft, bed_hitch: {kind: gooseneck}",
            ["overhang-sign"],
        ),
        ("type: frog", "overhang: -1 ft", ["value-choice"]),
    ],
)
def test_sign_of_the_overhang(trailer: str, vehicle: str, found: list[str]) -> None:
    assert codes(trailer=trailer, vehicle=vehicle) == found


@each(
    ("trailer", "vehicle", "rig", "found"),
    [
        ("type: fifth_wheel", "", "", ["bed-hitch"]),
        ("type: gooseneck", "bed_hitch: {kind: fifth_wheel}", "", ["bed-hitch"]),
        ("type: gooseneck", "bed_hitch: {kind: gooseneck}", "", []),
        ("type: ball", "bed_hitch: {kind: gooseneck}", "", ["bed-hitch"]),
        ("type: ball", "bed_hitch: {kind: gooseneck}, receiver: {opening: 2 in}", "", []),
        ("type: ball", "bed_hitch: {kind: gooseneck}, receiver: {opening: 2}", "", ["quantity-bare"]),
        ("type: fifth_wheel", "bed_hitch: {kind: frog}", "", ["value-choice"]),
        (
            "type: fifth_wheel",
            "bed_hitch: {kind: fifth_wheel}",
            "gear: {weight_distribution: {}}",
            ["bed-hitch"],
        ),
        ("type: ball", "", "gear: {weight_distribution: {}}", []),
    ],
)
def test_hitches_fit_the_trailer(trailer: str, vehicle: str, rig: str, found: list[str]) -> None:
    assert codes(rig, vehicle, trailer) == found


BODY = "dimensions: {body_front: 4 ft, body_rear: 14 ft, width: 6 ft, height: 7 ft}"


@each(
    ("place", "outside"),
    [
        ("x: 1 ft", False),  # gas on the tongue, ahead of the front wall
        ("x: -3 ft", False),
        ("x: -4 ft", True),  # more than 1 m ahead of the coupling
        ("x: 17 ft", False),
        ("x: 18 ft", True),  # more than 1 m behind the rear wall
        ("y: -6 ft", False),
        ("y: 7 ft", True),
        ("z: -1 ft", False),
        ("z: -2 ft", True),
        ("z: 11 ft", True),
        ("x: unknown", False),
    ],
)
def test_positions_in_the_trailer(place: str, outside: bool) -> None:
    for thing in (
        f"cargo: [{{name: a, {place}}}]",
        f"batteries: [{{name: a, {place}}}]",
        f"tanks: {{a: {{holds: fresh, {place}}}}}",
        f"cylinders: {{a: {{{place}}}}}",
    ):
        assert codes(trailer=f"{BODY}, {thing}") == ["position-outside"] * outside, thing
        assert codes(trailer=thing) == (["position-outside"] if place in ("x: -4 ft", "z: -2 ft") else [])


def test_bays_and_fifth_wheel_bodies() -> None:
    assert codes(trailer=f"{BODY}, bays: {{rear: 30 ft}}") == ["position-outside"]
    pin = "type: fifth_wheel, dimensions: {body_front: -5 ft, body_rear: 25 ft}, cargo: [{name: a, x: -7 ft}]"
    assert codes(trailer=pin, vehicle="bed_hitch: {kind: fifth_wheel}") == []


@each(
    ("place", "outside"), [("5 ft", False), ("20 ft", True), ("-4 ft", False), ("-12 ft", True), ("~", False)]
)
def test_positions_in_the_vehicle(place: str, outside: bool) -> None:
    size = "wheelbase: 10 ft, overhang: 4 ft"
    for thing in (
        f"cargo: [{{name: a, ahead_of_rear_axle: {place}}}]",
        f"seats: {{a: {place}}}",
        f"fuel: {{kind: diesel, ahead_of_rear_axle: {place}}}",
    ):
        assert codes(vehicle=f"{size}, {thing}") == ["position-outside"] * outside, thing


@each("size", list(BALL_SIZES))
def test_ball_sizes_are_what_they_say(size: str) -> None:
    assert parse(size, "length").si == pytest.approx(BALL_SIZES[size], abs=1e-9)
    assert codes(trailer=f"coupler: {{ball: {size}}}", rig=f"gear: {{ball: {{diameter: {size}}}}}") == []


def test_a_kingpin_is_no_ball() -> None:
    pin = "type: fifth_wheel, coupler: {ball: 3 1/2 in}"
    assert codes(trailer=pin, vehicle="bed_hitch: {kind: fifth_wheel}") == []
    assert codes(rig="gear: {ball: {diameter: 51 mm}}") == []
    assert codes(rig="gear: {ball: {diameter: 52 mm}}") == ["ball-size"]


TANK = "tanks: {fresh: {holds: fresh, capacity: 20 gal}}, cylinders: {left: {}}"


@each(
    ("fill", "found"),
    [
        ("tanks: {fresh: full}", []),
        ("tanks: {fresh: 20 gal}", []),
        ("tanks: {fresh: 21 gal}", ["fill-above"]),
        ("tanks: {fresh: 100 %}", []),
        ("tanks: {fresh: 101 %}", ["fill-above"]),
        ("tanks: {fresh: 50 lb}", ["quantity-kind"]),
        ("tanks: {fresh: unknown}", []),
        ("tanks: {grey: full}", ["tank-unknown"]),
        ("tanks: {grey: unknown}", ["tank-unknown"]),
        ("cylinders: {left: half}", []),
        ("cylinders: {left: 5 gal}", ["fill-kind"]),
        ("cylinders: {right: half}", ["cylinder-unknown"]),
        ("without: [left]", []),
        ("without: [left, left]", ["listed-twice"]),
        ("without: [right]", ["without-unknown"]),
        ("fuel: 101 %", ["fill-above"]),
        ("fuel: 31 gal", ["fill-above"]),
        ("fuel: 29 gal", []),
    ],
)
def test_fills_of_a_case(fill: str, found: list[str]) -> None:
    vehicle = "fuel: {kind: diesel, capacity: 30 gal}"
    assert codes(f"cases: [{{name: out, {fill}}}]", vehicle, TANK) == found


def test_fills_of_the_empty_state() -> None:
    assert codes(trailer=f"{TANK}, empty: {{includes: {{tanks: {{fresh: 21 gal}}}}}}") == ["fill-above"]
    assert codes(trailer=f"{TANK}, empty: {{includes: {{tanks: {{gray: full}}}}}}") == ["tank-unknown"]
    assert codes(trailer=f"{TANK}, empty: {{includes: {{without: [x]}}}}") == ["without-unknown"]


def test_a_tank_that_could_not_be_read_is_not_unknown() -> None:
    trailer = "tanks: {fresh: {holds: frog, capacity: 20}}"
    found = codes("cases: [{name: out, tanks: {fresh: full}}]", trailer=trailer)
    assert found == ["value-choice", "quantity-bare"]


@each(
    ("market", "words", "found"),
    [
        ("us", "20 gal", []),
        ("ca", "20 gal", ["gallon-bare"]),
        ("uk", "20 US gal", []),
        ("uk", "20 imp gal", []),
        ("au", "75 L", []),
        ("frog", "20 gal", ["value-choice"]),
    ],
)
def test_gallons(market: str, words: str, found: list[str]) -> None:
    trailer = f"tanks: {{fresh: {{holds: fresh, capacity: {words}}}}}"
    assert codes(trailer=trailer, market=market) == found


@each(
    ("words", "hint"),
    [
        ("1.500 kg", "write '1500 kg' or '1.5 kg'"),
        ("12.000 lb", "write '12000 lb' or '12.0 lb'"),
        ("1.500 kg +/- 5 kg", "write '1500 kg +/- 5 kg' or '1.5 kg +/- 5 kg'"),
        ("1.5 kg", ""),
        ("1,500.125 lb", ""),
        ("0.500 kg", ""),
        ("1.500 t", ""),
        ("1500 kg", ""),
    ],
)
def test_points_that_may_mean_thousands(words: str, hint: str) -> None:
    found = faults(trailer=f"gvwr: '{words}'")
    assert [fault.hint for fault in found] == ([hint] if hint else [])


@each(
    ("part", "field", "found"),
    [
        ("trailer", "axles: {{count: 2, spacing: {}}}", ["quantity-zero"]),
        ("trailer", "axles: {{track: {}}}", ["quantity-zero"]),
        ("trailer", "coupler: {{height: {}}}", ["quantity-zero"]),
        ("vehicle", "receiver: {{height: {}}}", ["quantity-zero"]),
        ("vehicle", "receiver: {{height_hitched: {}}}", ["quantity-zero"]),
        ("vehicle", "receiver: {{ball_height: {}}}", ["quantity-zero"]),
        ("trailer", "axles: {{ball_to_center: {}}}", ["axle-ahead"]),
        ("vehicle", "wheelbase: {}", ["wheelbase-short"]),
    ],
)
def test_heights_and_axles_of_zero_are_faults_with_their_place(
    part: str, field: str, found: list[str]
) -> None:
    for text in ("0 in", "0 mm"):
        one = faults(**{part: field.format(text)})
        assert [fault.code for fault in one] == found
        assert all(fault.line >= 1 for fault in one)
    assert codes(vehicle="rear_axle_rate: 0 lb/in") == ["quantity-range"]
