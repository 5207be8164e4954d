"""Every stated rating counts, contradictions are asked about, and only what binds forbids."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Iterator
from typing import Any

import pytest

from cardgen.limits.registry import rules
from cardgen.model.read import read_rig
from cardgen.model.results import Basis, Outcome
from cardgen.physics import labels
from tests.limits.bench import BASES, Changes, assessed, computed, finding, paths, tree_of

DISTRIBUTION: Changes = {
    "gear.weight_distribution": {"restoration": "50 %", "ratings": {"trailer": "8,000 lb", "tongue": "800 lb"}},
    "gear.adapter": {"kind": "reducer", "outside": "2 in", "inside": "2 in",
                     "ratings": {"trailer": "6,000 lb", "tongue": "600 lb"}},
    "vehicle.tow_rating": {"braked": "7,000 lb", "unbraked": "2,000 lb", "tongue": "700 lb"},
    "trailer.gtm": "3,400 lb",
}  # fmt: skip
RATED = ("ratings", "gvwr", "gcwr", "gtm", "gawr", "tow_rating", "weight_carrying", "weight_distributing", "rating",
         "d_value", "placard_capacity", "cargo_capacity", "max_load")  # fmt: skip
OTHER = {
    "vehicle.tow_rating.unbraked": "the trailer has brakes",
    "vehicle.receiver.weight_distributing.trailer": "no bars are listed",
    "vehicle.receiver.weight_distributing.tongue": "no bars are listed",
    "vehicle.receiver.weight_carrying.trailer": "bars are listed",
    "vehicle.receiver.weight_carrying.tongue": "bars are listed",
}
"""Ratings of a use that the rig is not put to."""


def leaves(tree: Any, path: tuple[str, ...] = ()) -> Iterator[str]:
    """Dotted paths of everything written in a rig."""
    pairs = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    for key, value in pairs:
        yield from leaves(value, (*path, str(key)))
    if not isinstance(tree, dict | list):
        yield ".".join(path)


def test_every_stated_rating_is_held_against_its_demand() -> None:
    faults: list[str] = []
    for base, changes in ((name, more) for name in BASES for more in ({}, DISTRIBUTION)):
        if changes and base != "fern":
            continue
        made = tree_of(changes, base)
        for path in leaves(made):
            if not any(step in RATED for step in path.split(".")):
                continue
            if (path in OTHER and bool(changes) == (OTHER[path] == "bars are listed")) or path.endswith(
                "unbraked"
            ):
                continue
            low = "0.1 kN" if path.endswith("d_value") else "10 lb"
            found = assessed({**changes, path: low}, base).findings
            if not any(f.outcome is Outcome.OVER and f.critical for f in found):
                faults.append(f"{base}: {path}")
    assert faults == []


MAY_FORBID = (Basis.MAKER, Basis.LAW, Basis.PHYSICS, Basis.OWNER)
"""What a check other than a place's rule may rest on when it forbids; places' rules are tried beside their table."""
WORSE: tuple[tuple[str, Changes], ...] = (
    ("fern", {"trailer.chains.strength": "100 lb"}),
    ("fern", {"gear.ball.diameter": "1 7/8 in", "trailer.coupler.ball": "1 7/8 in"}),
    ("teal", {"gear.ball.measured": "48.9 mm"}),
    ("fern", {"vehicle.brake_controller.fitted": False}),
    ("fern", {"trailer.tires.date_code": "0101", "vehicle.tires.rear.date_code": "0101"}),
    ("fern", {"trailer.breakaway": {"fitted": True, "battery": "1 Ah"}}),
    ("fern", {"limits": {"tire_age": "2 years"}}),
    ("fern", {"trailer.dealer_added": "300 lb"}),
    ("teal", {"vehicle.tow_rating.tongue": "60 kg"}),
    ("fern", {"trailer.brakes.wiring.awg": 18}),
    ("fern", {"preferences.planned_speed": "80 mph"}),
    ("fern", {"gear.mount.drop": "12 in"}),
    ("elm", {"trailer.gvwr": "31,000 lb"}),
)


def test_only_what_binds_forbids() -> None:
    """Rules of places aside, whatever is over on rigs bent in every way that guidance speaks of."""
    faults: list[str] = []
    for base, changes in (*((name, {}) for name in BASES), *WORSE):
        for found in assessed(changes, base).findings:
            if found.outcome is not Outcome.OVER or found.code.startswith("law-"):
                continue
            if found.basis not in MAY_FORBID:
                faults.append(f"{base} {changes}: {found.code} is over by {found.basis}")
            if not found.critical:
                faults.append(f"{base} {changes}: {found.code} is over, yet does not forbid")
    assert faults == []


def test_no_rule_of_guidance_says_over_in_its_own_words() -> None:
    """Every rule that is no place's: one that rests on advice, habit or a standard names no outcome ``OVER``."""
    faults: list[str] = []
    for one in rules():
        if one.basis in MAY_FORBID or one.code.startswith("law-"):
            continue
        tree = ast.parse(inspect.getsource(one.run))
        tests = {
            id(n) for compare in ast.walk(tree) if isinstance(compare, ast.Compare) for n in ast.walk(compare)
        }
        if any(
            isinstance(n, ast.Attribute) and n.attr == "OVER" and id(n) not in tests for n in ast.walk(tree)
        ):
            faults.append(one.code)
    assert faults == []


@pytest.mark.parametrize(
    ("base", "changes", "code", "path"),
    [
        ("fern", {"vehicle.tow_rating.unbraked": "9,000 lb"}, "tow-rating", "vehicle.tow_rating.braked"),
        ("fern", {"vehicle.placard_capacity": "2,700 lb"}, "placard", "vehicle.placard_capacity"),
        ("fern", {"vehicle.gvwr": "7,900 lb"}, "vehicle-gross", "vehicle.gvwr"),
        ("fern", {"occupants.0.weight": "0 lb"}, "vehicle-gross", "occupants[0].weight"),
        ("fern", {"occupants.0.weight": "19 lb"}, "placard", "occupants[0].weight"),
        ("fern", {"vehicle.length": "14 ft"}, "vehicle-rear-axle", "vehicle.overhang"),
        ("fern", {"trailer.cylinders.left.water_capacity": "20 lb"}, "trailer-gross", "trailer.cylinders.left.water_capacity"),
        ("fern", {"trailer.coupler.ratings.trailer": "2,500 kg"}, "hitch-trailer-coupler", "trailer.coupler.ratings.trailer"),
        ("fern", {"occupants": []}, "vehicle-gross", "occupants"),
        ("teal", {"occupants": [], "vehicle.curb.includes.driver": "75 kg"}, "vehicle-gross", "occupants"),
        ("fern", {"cases.0.occupants": []}, "placard", "occupants"),
    ],
)  # fmt: skip
def test_what_is_doubted_is_asked_for_and_not_passed(
    base: str, changes: Changes, code: str, path: str
) -> None:
    found = finding(code, changes, base)
    assert found.outcome is Outcome.NOT_CHECKED
    assert path in paths(found)


def test_a_figure_with_its_uncertainty_is_believed() -> None:
    assert finding("placard", {"occupants.0.weight": "19 lb +/- 1 lb"}).outcome is Outcome.WITHIN
    assert not [f for base in BASES for f in assessed({}, base).findings if f.code == "plausible"]


def test_round_kilograms_are_asked_about_only_where_they_decide() -> None:
    field = "trailer.coupler.ratings.trailer"
    for text, outcome in (
        ("3,500 kg", Outcome.WITHIN),  # 3,500 lb would do as well
        ("2,500 kg +/- 1 kg", Outcome.WITHIN),  # looked at
        ("2,268 kg", Outcome.WITHIN),  # 5,000 lb as a plate writes it
    ):
        assert finding("hitch-trailer-coupler", {field: text}).outcome is outcome, text


def test_a_truck_may_have_no_loading_placard() -> None:
    none = {"vehicle.placard_capacity": "none"}
    heavy = {"10,000 lb": Outcome.NOT_CHECKED, "4,536 kg": Outcome.NOT_CHECKED, "10,100 lb": Outcome.WITHIN}
    for text, outcome in heavy.items():
        assert finding("placard", {**none, "vehicle.gvwr": text}).outcome is outcome, text
    assert finding("placard", none).outcome is Outcome.NOT_CHECKED
    assert finding("placard", none, "teal").outcome is Outcome.WITHIN


@pytest.mark.parametrize("weight", [{"weight": "5,000 lb"}, {"front": "2,900 lb", "rear": "2,100 lb"}])
def test_a_placard_beyond_what_the_ratings_leave_is_asked_about(weight: dict[str, str]) -> None:
    """Whether the vehicle's own weight is written whole or by its axles; what is left is 2,000 lb."""
    curb = {"vehicle.curb": {**weight, "includes": {"fuel": "full", "driver": "0 lb"}, "source": "scale"}}
    for text, doubted in (("2,000 lb", False), ("2,150 lb", False), ("2,600 lb", True)):
        made = assessed(curb | {"vehicle.placard_capacity": text})
        asked = {n.path for f in made.findings if f.code == "plausible" for n in f.needs}
        assert ("vehicle.placard_capacity" in asked) is doubted, text


def test_the_driver_of_the_curb_weight_sits_foremost_in_any_order() -> None:
    driver = {"vehicle.curb.includes.driver": "150 lb"}
    orders = ({"rear": "2 ft", "front": "6 ft"}, {"front": "6 ft", "rear": "2 ft"})
    fronts = [computed({**driver, "vehicle.seats": seats}).worst("vehicle_front_axle") for seats in orders]
    assert fronts[0] is not None
    assert fronts[0] == fronts[1]


def written(weight: str) -> str:
    """A rig file with an empty weight as written."""
    return f"""nickname: Thimble
market: us
vehicle: {{kind: suv}}
trailer: {{type: ball, body: utility, empty: {{weight: '{weight}'}}}}
cases: [{{name: out}}]
"""


@pytest.mark.parametrize(
    "weight", ["396.909 lb", "1.500 kg", "0,500 kg", "00,500 kg", "1 350 kg", "1 350.5 lb"]
)
def test_a_hint_never_offers_what_is_refused(weight: str, tmp_path: Any) -> None:
    file = tmp_path / "thimble.yaml"
    file.write_text(written(weight), encoding="utf-8")
    faults = read_rig(file).faults
    assert [f.field for f in faults] == ["trailer.empty.weight"]
    assert f"'{weight}'" not in faults[0].hint


@pytest.mark.parametrize("year", [2005, 2021])
def test_the_era_of_american_labels_counts_there_only(year: int) -> None:
    """A finding and the room that is told beside it are of one figure, in every market."""
    made = assessed({"trailer.year": year}, "teal")
    found = next(f for f in made.findings if f.code == "trailer-cargo-label")
    room = next(line for line in labels.lines(made.computed) if line.id == "label_cargo_left")
    assert found.capacity is not None
    assert found.demand is not None
    assert found.demand_figure == "label_cargo"
    assert room.value == pytest.approx(found.capacity - found.demand)
