"""What a file leaves open is asked for: an assumption in its place neither passes nor forbids."""

from __future__ import annotations

from typing import Any

import pytest

from cardgen.model.results import Outcome
from tests.limits.bench import assessed, computed, finding, paths

W, C, O, N = Outcome.WITHIN, Outcome.CLOSE, Outcome.OVER, Outcome.NOT_CHECKED  # noqa: E741 - one letter each
TWO: dict[str, Any] = {
    "trailer.axles.count": 2,
    "trailer.axles.gawr": ["2,000 lb", "2,000 lb"],
    "trailer.axles.suspension": "independent",
    "trailer.axles.spacing": "33 in",
    "trailer.axles.rate": "1,400 lb/in",
    "trailer.brakes.braked_axles": 2,
}
"""Axles that no link joins: how level they ride moves the tongue."""


def box(**place: str) -> dict[str, Any]:
    """The bench trailer with one heavy box and sides that are otherwise known."""
    one = {"name": "box", "weight": "400 lb", "x": "14 ft", "set": "trip", **place}
    return {"trailer.cargo": [one], "trailer.empty.left_minus_right": "0 lb"}


# 2,600 lb, half a tank (83 lb) and the box: 1,370 lb on each wheel; all of the box on one side adds 200 lb
@pytest.mark.parametrize(
    ("rating", "middle", "aside", "nowhere"),
    [("1,450 lb", C, O, N), ("1,650 lb", W, C, C), ("2,040 lb", W, W, W)],
)
def test_cargo_without_a_place_across_may_all_lie_on_one_side(
    rating: str, middle: Outcome, aside: Outcome, nowhere: Outcome
) -> None:
    tire = {"trailer.tires.max_load": rating}
    assert finding("tire-load-trailer", box(y="0 in") | tire).outcome is middle
    assert finding("tire-load-trailer", box(y="2 ft 11 in") | tire).outcome is aside
    found = finding("tire-load-trailer", box() | tire)
    assert found.outcome is nowhere
    if nowhere is N:
        assert paths(found) >= {"trailer.cargo[0].y"}
        assert "write its y" in found.message
        assert finding("tire-pressure-trailer", box() | tire).outcome is N
        assert finding("tire-spare", box() | tire).outcome is not W
    track = finding("tire-load-trailer", box(y="2 ft 11 in") | tire | {"trailer.axles.track": None})
    assert track.outcome in {N, nowhere}


def test_every_wheel_weighed_leaves_no_side_open() -> None:
    wheels = [{"date": "2026-10-03", "case": "out", "wheels": {"left 1": "1,350 lb", "right 1": "1,350 lb"}}]
    rig = box() | {"trailer.tires.max_load": "1,450 lb", "weighings": wheels}
    assert finding("tire-load-trailer", rig).outcome is C


# coupled height unknown: the tongue may be that of any height in the range that is stated
def test_heights_that_nobody_measured_forbid_nothing() -> None:
    known = TWO | {"vehicle.receiver.height_hitched": "19 in"}
    open_ = TWO | {"vehicle.receiver.height_hitched": None}
    tongue = assessed(open_).computed.cases[0].figures["tongue_weight"]
    assert tongue.value is not None
    assert tongue.low is not None
    assert tongue.high is not None
    assert tongue.low < tongue.value < tongue.high
    assert assessed(known).computed.cases[0].figures["tongue_weight"].low is None
    between, below = (tongue.value + tongue.low) / 2, tongue.low * 0.98
    parts = [
        ("hitch-tongue-coupler", "trailer.coupler.ratings.tongue"),
        ("tongue-weight", "limits.tongue_weight"),
    ]
    for code, path in parts:
        wanted = [(between, N), (below, O)]
        for limit, outcome in wanted:
            value: Any = f"{limit:.2f} kg" if code == "hitch-tongue-coupler" else {"high": f"{limit:.2f} kg"}
            found = finding(code, open_ | {path: value})
            assert found.outcome is outcome, (code, limit)
            if outcome is N:
                assert paths(found) >= {"vehicle.receiver.height_hitched"}


def test_without_knowing_whether_a_link_joins_the_axles_the_tongue_is_asked_for() -> None:
    plain = TWO | {"trailer.axles.suspension": None}
    found = finding("hitch-tongue-coupler", plain)
    assert found.outcome is N
    assert "trailer.axles.suspension" in paths(found)
    ticket = [{"date": "2026-10-03", "case": "out", "coupler": "350 lb", "trailer_alone": "2,880 lb"}]
    assert (
        finding("hitch-tongue-coupler", plain | {"weighings": ticket}).outcome is W
    )  # it was weighed as it rode
    heavy = plain | {"trailer.axles.gawr": ["1,100 lb", "1,100 lb"]}
    assert (
        finding("trailer-axle-group", heavy | {"weighings": ticket}).outcome is O
    )  # whatever joins them, their sum holds


@pytest.mark.parametrize("missing", ["trailer.axles.spacing", "trailer.axles.ball_to_center"])
def test_a_spring_whose_lever_is_unknown_leaves_the_tongue_open(missing: str) -> None:
    assert finding("hitch-tongue-coupler", TWO | {missing: None}).outcome is N


def test_a_pressure_that_parts_forbid_passes_no_load_that_is_unknown() -> None:
    """A rim below what the known part of the load asks is over; the load itself is not passed."""
    rig = {
        "trailer.tires.rim_max_pressure": "40 psi",
        "trailer.tire_pressure": "65 psi",
        "trailer.tanks": {"fresh": {"holds": "fresh", "x": "12 ft", "y": "0 in"}},
    }
    assert finding("tire-pressure-trailer", rig).outcome is O
    assert finding("tire-load-trailer", rig).outcome is N


def test_a_tire_carries_no_more_in_duals_than_alone() -> None:
    four = {"vehicle.tires.rear_count": 4, "vehicle.tires.rear.max_load": "600 lb"}
    assert finding("tire-load-rear", four).outcome is O
    assert finding("tire-axle-rear", four).outcome is O
    enough = four | {"vehicle.tires.rear.max_load": "2,000 lb"}
    assert finding("tire-load-rear", enough).outcome is N
    assert finding("tire-axle-rear", enough).outcome is N


def test_two_tires_too_weak_as_weighed_may_be_four() -> None:
    weighed = [{"date": "2026-10-03", "case": "out", "slack": {"rear": "3,700 lb"}, "anchor": False}]
    rig = {"vehicle.tires.rear.max_load": "1,750 lb", "weighings": weighed}
    found = finding("weighed-tire-load-rear", rig)
    assert (found.outcome, paths(found)) == (N, {"vehicle.tires.rear_count"})
    assert finding("weighed-tire-load-rear", rig | {"vehicle.tires.rear_count": 2}).outcome is O


def test_two_tires_too_weak_under_a_heavy_trailer_axle_may_be_four() -> None:
    """From the ratings at which axles have four tires: asked, in load, axle, pressure and weighing, not forbidden."""
    heavy = {
        "trailer.empty.weight": "6,000 lb",
        "trailer.empty.tongue": "700 lb",
        "trailer.gvwr": "8,500 lb",
        "trailer.axles.gawr": ["8,000 lb"],
        "trailer.tires.max_load_dual": "2,000 lb",
    }
    weighed = {
        "weighings": [
            {"date": "2026-10-03", "case": "out", "slack": {"trailer": "5,600 lb"}, "anchor": False}
        ]
    }
    field = "trailer.axles.tires_per_axle"
    for code, rig in (
        ("tire-load-trailer", heavy),
        ("tire-axle-trailer", heavy),
        ("tire-pressure-trailer", heavy),
        ("weighed-tire-load-trailer", heavy | weighed | {"trailer.empty.weight": "4,000 lb"}),
    ):
        made = finding(code, rig)
        assert (made.outcome, paths(made)) == (N, {field}), code
        assert finding(code, rig | {field: 2}).outcome is O, code
        assert finding(code, rig | {"trailer.axles.gawr": ["4,200 lb"]}).outcome is O, code
    allowed = computed(heavy).figures["allowed_trailer"]
    assert allowed.value is None
    assert field in {need.path for need in allowed.needs}
    assert finding("tire-load-trailer", heavy | {field: 4}).outcome is not O
    assert finding("tire-axle-trailer", heavy | {field: 4}).outcome is C
    bare = heavy | {field: 4, "trailer.tires.max_load_dual": None}
    assert paths(finding("tire-axle-trailer", bare)) == {"trailer.tires.max_load_dual"}


def test_an_even_share_is_no_newer_reading_of_an_axle_weighed_by_itself() -> None:
    linked = TWO | {"trailer.axles.suspension": "equalized"}
    singles = {"date": "2026-05-09", "case": "out", "slack": {"axles": ["1,150 lb", "1,400 lb"]}}
    group = {"date": "2026-08-02", "case": "out", "slack": {"trailer": "2,550 lb"}}
    rig = linked | {"weighings": [singles, group], "trailer.axles.gawr": ["1,380 lb", "1,380 lb"]}
    told = {f.code: f.outcome for f in assessed(rig).findings}
    assert O in (told["trailer-axle-2"], told.get("weighed-trailer-axle-2"))
    again = singles | {"date": "2026-08-02", "slack": {"axles": ["1,270 lb", "1,280 lb"]}}
    told = {f.code: f.outcome for f in assessed(rig | {"weighings": [singles, again]}).findings}
    assert O not in (told["trailer-axle-2"], told.get("weighed-trailer-axle-2"))


def test_a_class_by_ratings_alone_is_not_passed() -> None:
    rig = {"use": "commercial", "vehicle.gvwr": "6,000 lb"}
    assert finding("legal-class", rig).outcome is W
    found = finding("legal-class", rig | {"gear.weight": None})
    assert (found.outcome, paths(found)) == (N, {"gear.weight"})


def test_area_and_gauge_that_contradict_are_to_be_read_again() -> None:
    found = finding("brake-wire", {"trailer.brakes.wiring": {"length": "20 ft", "awg": 10, "area": "2 mm2"}})
    assert found.outcome is N
    assert all(need.what.startswith("read it again") for need in found.needs)


# AS 4177: grade T asked for above 3,500 kg (law-au-chains); without the mark it is looked up
def test_a_chain_of_the_asked_grade_meets_the_law() -> None:
    heavy = {
        "market": "au", "places": ["au"], "trailer.gvwr": "3,900 kg",
        "trailer.chains": {"count": 2, "strength": "5,000 kg"},
    }  # fmt: skip
    assert finding("law-chains-au", heavy).outcome is N
    assert finding("law-chains-au", heavy | {"trailer.chains.grade": "Grade T"}).outcome is W


def test_an_extension_counts_in_the_overhang() -> None:
    sleeve = {"kind": "reducer", "outside": "2 in", "inside": "2 in"}
    assert "overhang" not in finding("adapter-fit", {"gear.adapter": sleeve}).message
    longer = sleeve | {"kind": "extension"}
    assert "overhang" in finding("adapter-fit", {"gear.adapter": longer}).message


# passenger tires are divided by 1.10 on a truck and not on a car; ratings left out are asked for under the same code
def test_what_is_left_out_is_asked_for_where_it_decides() -> None:
    tire = {"type": "P", "size": "P235/75R15", "extra_load": False, "max_load": "1,700 lb"}
    rig: dict[str, Any] = {
        "vehicle.tires.rear": tire,
        "vehicle.tires.rear_count": 2,
        "vehicle.gawr.rear": "3,200 lb",
    }
    kinds = {kind: finding("tire-axle-rear", rig | {"vehicle.kind": kind}) for kind in ("truck", "car", None)}
    assert [found.outcome for found in kinds.values()] == [O, W, N]
    assert paths(kinds[None]) == {"vehicle.kind"}
    group = {
        gawr is None: finding("trailer-axle-group", TWO | {"trailer.axles.gawr": gawr})
        for gawr in (["500 lb"] * 2, None)
    }
    assert [found.outcome for found in group.values()] == [O, N]
    spare = {"trailer.spare": {"same": True, "pressure": "50 psi"}}
    assert finding("tire-spare", spare).outcome is C
    assert finding("tire-spare", spare | {"trailer.tires.max_load_at": None}).outcome is N
