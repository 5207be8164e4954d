"""Checks of tires: every outcome of every code, and what each finding says."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from cardgen.model.results import Basis, Outcome
from cardgen.units.parse import parse
from tests.each import each
from tests.limits.bench import Changes, assessed, finding, paths

W, C, O, N = Outcome.WITHIN, Outcome.CLOSE, Outcome.OVER, Outcome.NOT_CHECKED  # noqa: E741 - one letter each
BASE = "trailer.tires."
EVEN: dict[str, Any] = {"trailer.empty.left_minus_right": "0 lb"}
TABLE = {
    "source": "Maker's table, 2024 edition",
    "rows": [
        {"pressure": "35 psi", "load": "1,430 lb"},
        {"pressure": "50 psi", "load": "1,760 lb"},
        {"pressure": "65 psi", "load": "2,040 lb"},
    ],
}


@pytest.mark.parametrize(
    ("code", "outcome", "changes"),
    [
        ("tire-load-trailer", W, {}),
        ("tire-load-trailer", C, EVEN | {BASE + "max_load": "1,400 lb"}),
        ("tire-load-trailer", O, {BASE + "max_load": "1,200 lb"}),
        ("tire-load-trailer", N, {BASE + "max_load": None}),
        ("tire-load-front", C, {"vehicle.tires.front.max_load": "1,620 lb"}),
        ("tire-load-rear", O, {"vehicle.tires.rear.max_load": "1,300 lb", "vehicle.tires.rear_count": 2}),
        ("tire-load-rear", N, {"vehicle.tires.rear.max_load": "1,300 lb"}),  # or are there four?
        ("tire-load-rear", O, {"vehicle.tires.rear.max_load": "600 lb"}),  # four could not either
        ("tire-load-rear", O, {"vehicle.tires.rear.max_load": "1,300 lb", "vehicle.kind": "suv"}),
        ("tire-load-trailer", N, {BASE + "load_index": 300}),
        ("tire-load-trailer", O, {BASE + "load_index": 78}),
        ("tire-axle-trailer", W, {}),
        ("tire-axle-trailer", C, {"trailer.axles.gawr": ["3,900 lb"]}),
        ("tire-axle-trailer", O, {"trailer.axles.gawr": ["4,100 lb"]}),
        ("tire-axle-trailer", N, {"trailer.axles.gawr": None}),
        ("tire-axle-rear", O, {"vehicle.gawr.rear": "6,100 lb", "vehicle.tires.rear_count": 2}),
        ("tire-axle-rear", N, {"vehicle.gawr.rear": "6,100 lb"}),
        ("tire-axle-rear", O, {"vehicle.gawr.rear": "12,200 lb"}),
        ("tire-axle-front", N, {"vehicle.tires.front.max_load": None}),
        ("tire-pressure-trailer", W, {}),
        ("tire-pressure-trailer", O, {BASE + "rim_max_pressure": "60 psi"}),
        ("tire-pressure-trailer", N, {BASE + "max_load_at": None}),
        ("tire-pressure-rear", N, {"vehicle.placard.rear": "30 psi"}),
        ("tire-pressure-rear", N, {"vehicle.placard.rear": None}),
        ("tire-pressure-rear", N, {"vehicle.tires.placard_size": None}),
        ("tire-pressure-spare", N, {"trailer.spare": {"type": "ST", "size": "ST205/75R14"}}),
        ("tire-pressure-spare", C, {"trailer.spare.pressure": "75 psi"}),
        ("tire-pressure-spare", C, {"trailer.spare.rim_max_pressure": "60 psi"}),
        ("tire-pressure-trailer", N, {BASE + "rim_max_pressure": "60 psi", "trailer.tire_pressure": None}),
        ("tire-pressure-trailer", O, {BASE + "rim_max_pressure": "64 psi"}),
        ("tire-pressure-trailer", W, {BASE + "rim_max_pressure": "450 kPa"}),
        ("tire-ceiling-trailer", W, {}),
        ("tire-ceiling-trailer", W, {"trailer.tire_pressure": None, BASE + "rim_max_pressure": "80 psi", BASE + "valve_max_pressure": "65 psi"}),
        ("tire-ceiling-trailer", N, {"trailer.tire_pressure": None, BASE + "rim_max_pressure": "80 psi"}),
        ("tire-speed-trailer", W, {}),
        ("tire-speed-trailer", C, {BASE + "speed_symbol": None, "preferences.planned_speed": "65 mph"}),
        ("tire-speed-trailer", N, {BASE + "speed_symbol": None, "preferences.planned_speed": "66 mph"}),
        ("tire-speed-trailer", O, {BASE + "speed_limit": "55 mph"}),
        ("tire-speed-trailer", N, {"preferences.planned_speed": None}),
        ("tire-speed-trailer", N, {BASE + "type": "BIAS", BASE + "speed_symbol": None}),
        ("tire-speed-trailer", N, {BASE + "speed_symbol": "ZR"}),
        ("tire-age-trailer", W, {}),
        ("tire-age-trailer", C, {BASE + "date_code": "1021"}),
        ("tire-age-trailer", C, {BASE + "date_code": "1028"}),
        ("tire-age-trailer", C, {"limits": {"tire_age": "2 years"}}),
        ("tire-age-trailer", N, {BASE + "date_code": None}),
        ("tire-age-spare", C, {"trailer.spare.date_code": "1020"}),
        ("tire-size-trailer", W, {}),
        ("tire-size-trailer", C, {BASE + "size": "ST225/75R15"}),
        ("tire-size-trailer", N, {"trailer.tire_size": None}),
        ("tire-size-front", N, {"vehicle.tires.front.size": None}),
        ("tire-mixed", W, {}),
        ("tire-mixed", C, {"vehicle.tires.rear.load_range": "D"}),
        ("tire-mixed", N, {"vehicle.tires.rear.size": None}),
        ("tire-spare", W, {}),
        ("tire-spare", C, {"trailer.spare.same": False, "trailer.spare.size": "ST205/75R15"}),
        ("tire-spare", C, {"trailer.spare.same": False, "trailer.spare.size": "ST175/80R13", "trailer.spare.max_load": "1,100 lb"}),
        ("tire-spare", N, {"trailer.spare": {"type": "ST", "size": "ST205/75R14"}}),
        ("tire-spare", W, {"trailer.spare": {"type": "ST", "size": "ST205/75R14", "max_load": "2,040 lb"}}),
        ("tire-spare", C, {"trailer.spare": {"type": "ST", "size": "ST205/75R14", "max_load": "1,760 lb"}}),
        ("tire-spare", C, {"trailer.spare": {"same": True, "max_load_at": "35 psi"}}),
        ("tire-spare", C, {"trailer.spare": {"same": True, "max_load": "1,000 lb"}}),
        ("tire-spare", C, {"trailer.spare.pressure": "50 psi"}),
        ("tire-spare", C, {"trailer.spare.pressure": "75 psi"}),
        ("tire-spare", N, {"trailer.spare.same": None, "trailer.spare.type": None}),
        ("tire-marking-trailer", C, {BASE + "load_index": 95}),
        ("tire-marking-trailer", C, {BASE + "load_range": "E"}),
        ("tire-marking-rear", C, {"vehicle.tires.rear.max_load_dual": "1,400 lb"}),
    ],
)  # fmt: skip
def test_outcomes(code: str, outcome: Outcome, changes: Changes) -> None:
    assert finding(code, changes).outcome is outcome


# a spare's own marks count before 'same: true'; what it says of itself is never passed over
def test_a_spare_keeps_its_own_marks() -> None:
    weak = {"trailer.spare": {"same": True, "type": "ST", "size": "ST205/75R14", "max_load_at": "35 psi"}}
    assert assessed(weak).computed.tires["spare"].as_marked == "35 psi"
    assert "(pressure for max load)" in finding("tire-spare", weak).message
    assert assessed({"trailer.spare": {"same": True}}).computed.tires["spare"].as_marked == "65 psi"
    low = {"trailer.spare": {"same": True, "pressure": "20 psi"}}
    assert assessed(low).computed.tires["spare"].as_marked == "65 psi"
    found = finding("tire-spare", low)
    assert (found.outcome, found.values["kept"][0] < found.values["wanted"][0]) == (C, True)
    own = {
        "trailer.spare": {"type": "ST", "size": "ST205/75R14", "max_load_at": "50 psi", "pressure": "20 psi"}
    }
    assert assessed(own).computed.tires["spare"].as_marked == "50 psi"
    other = {"trailer.spare": own["trailer.spare"] | {"max_load": "1,760 lb"}}
    told = finding("tire-spare", other).message
    assert ("differs" in told, "kept at {kept}" in told) == (True, True)
    assert "type P" in finding("tire-size-trailer", {"trailer.tires.type": "P"}).message


# 1,320 lb on the wheel, passenger spare of 1,400 lb: 1,400 / 1.10 = 1,273 lb on a trailer
def test_a_passenger_spare_carries_its_rating_divided() -> None:
    marks = {"size": "P205/75R14", "max_load": "1,350 lb", "extra_load": False}
    found = finding("tire-spare", {"trailer.spare": {"type": "P", **marks}})
    assert found.capacity == pytest.approx(1350 * 0.45359237 / 1.10)
    assert (found.outcome, found.critical, "cannot stand in" in found.message) == (C, False, True)
    assert "cannot stand in" not in finding("tire-spare", {"trailer.spare": {"type": "LT", **marks}}).message


# every pressure that is set lies at or under what tire, rim and valve state, at every position
@pytest.mark.parametrize("limit", ["64 psi", "64.9 psi", "65 psi", "448 kPa", "450 kPa", "4.4 bar", "80 psi"])
@pytest.mark.parametrize("part", ["rim_max_pressure", "valve_max_pressure", "max_pressure"])
@pytest.mark.parametrize("position", ["trailer", "front", "rear", "spare"])
def test_set_pressures_lie_under_every_limit(position: str, part: str, limit: str) -> None:
    path = {"trailer": "trailer.tires", "spare": "trailer.spare"}.get(position, f"vehicle.tires.{position}")
    plan = assessed({f"{path}.{part}": limit}).computed.tires[position]
    if plan.pressure is not None:
        assert plan.pressure <= parse(limit, "pressure").si * (1 + 1e-9)
        assert parse(plan.as_marked, "pressure").si <= parse(limit, "pressure").si * (1 + 1e-9)


def test_a_weak_valve_below_the_sidewall_takes_the_tables_word() -> None:
    valve = {BASE + "valve_max_pressure": "60 psi", "trailer.tire_pressure": "30 psi"}
    asked = finding("tire-pressure-trailer", valve)
    assert (asked.outcome, paths(asked)) == (N, {BASE + "table"})
    plan = assessed(valve | {BASE + "table": TABLE}).computed.tires["trailer"]
    assert plan.as_marked == "60 psi"
    assert "the label says 30 psi" in plan.reasons[-1]
    assert "35 psi is the least" in plan.reasons[-1]


def test_a_placard_for_towing_never_lowers_the_placard() -> None:
    low = {"vehicle.placard_towing": {"front": "26 psi", "rear": "26 psi"}}
    plans = assessed(low).computed.tires
    assert (plans["front"].as_marked, plans["rear"].as_marked) == ("60 psi", "65 psi")


# what is not known of the load keeps the check open, though the sidewall's pressure may be printed; a
# pressure that cannot be set stays so whatever another case lacks
def test_a_pressure_without_a_load_is_printed_and_not_passed() -> None:
    blind = finding("tire-pressure-trailer", {"trailer.empty.weight": None})
    assert (blind.outcome, "pressure" in blind.values) == (N, True)
    assert finding("tire-spare", {"trailer.empty.weight": None}).outcome is N
    state = {"cargo": ["trip"], "cylinders": {"left": "full"}, "fuel": "full"}
    cases = [{"name": "known", "tanks": {"fresh": "1/2"}, **state}, {"name": "unknown", **state}]
    for code, tires in (
        ("tire-load-trailer", {BASE + "max_load": "900 lb"}),
        ("tire-pressure-trailer", {BASE + "valve_max_pressure": "60 psi"}),
    ):
        assert finding(code, tires | {"cases": cases[:1]}).outcome is O
        assert finding(code, tires | {"cases": cases}).outcome is O


# sizes whose pressures differ from the usual ones of their letter are no slip of the pen
@pytest.mark.parametrize(
    ("size", "letter", "kind", "odd"),
    [
        ("ST205/75R14", "C", "ST", True), ("4.80-8", "C", "ST", False), ("20.5x8.0-10", "C", "ST", False),
        ("LT245/75R16", "C", "LT", True), ("LT315/70R17", "C", "LT", False), ("35x12.50R17LT", "C", "LT", False),
    ],
)  # fmt: skip
def test_unusual_pressures_are_asked_about_where_the_list_holds(
    size: str, letter: str, kind: str, odd: bool
) -> None:
    marks = {
        "type": kind,
        "size": size,
        "load_range": letter,
        "max_load": "2,040 lb",
        "max_load_at": "90 psi",
    }
    codes = {f.code for f in assessed({"trailer.tires": marks}).findings}
    assert ("tire-marking-trailer" in codes) is odd


# two cases: the heavy one is even, the light one leans; the worst wheel is of one of them, not of both
def test_a_side_goes_with_its_own_case() -> None:
    box = {"name": "box", "weight": "500 lb", "x": "14 ft", "y": "3 ft", "set": "lean"}
    bale = {"name": "bale", "weight": "900 lb", "x": "14 ft", "y": "0 ft", "set": "even"}
    empty = {"tanks": {"fresh": "empty"}, "cylinders": {"left": "full"}, "fuel": "full"}
    both = {
        "trailer.empty.left_minus_right": "0 lb",
        "trailer.cargo": [box, bale],
        "cases": [{"name": "lean", "cargo": ["lean"], **empty}, {"name": "even", "cargo": ["even"], **empty}],
    }
    alone = [
        assessed(both | {"cases": [case]}).computed.tires["trailer"].sure_load or 0.0
        for case in both["cases"]
    ]
    plan = assessed(both).computed.tires["trailer"]
    assert plan.sure_load == pytest.approx(max(alone))
    assert plan.most_load is not None
    assert plan.most_load >= max(alone) - 1e-9


# one box without a place across leaves the side check of the other case as it was, and in its own case the
# known loads count where they lean more than what is assumed
def test_an_unknown_place_across_takes_nothing_away() -> None:
    box = {"name": "box", "weight": "900 lb", "x": "14 ft", "y": "2 ft", "set": "trip"}
    blank = {"name": "blank", "weight": "10 lb", "x": "14 ft", "set": "blank"}
    state = {"tanks": {"fresh": "empty"}, "cylinders": {"left": "full"}, "fuel": "full"}
    one = [{"name": "known", "cargo": ["trip"], **state}]
    more = [*one, {"name": "unknown", "cargo": ["trip", "blank"], **state}]
    rig = {"trailer.cargo": [box, blank], "trailer.empty.left_minus_right": "0 lb"}
    known = assessed(rig | {"cases": one}).computed.tires["trailer"]
    both = assessed(rig | {"cases": more}).computed.tires["trailer"]
    alone = assessed(rig | {"cases": more[1:]}).computed.tires["trailer"]
    assert known.sure_load is not None
    assert known.even_load is not None
    assert known.sure_load > known.even_load * 1.1
    assert both.sure_load == pytest.approx(known.sure_load)
    assert alone.wheel_load is not None
    assert alone.sure_load is not None
    assert alone.wheel_load >= known.sure_load
    assert alone.sure_load < known.sure_load  # the blank could lie on the other side


# FMVSS 120 S5.1.2 by NHTSA letter nht76-1.47: P tires, 1,600 lb on the sidewall, two on an
# axle of 3,000 lb: 1,600 / 1.10 = 1,454.5, sum 2,909.1: fails; the same marked ST: 3,200, passes
def test_passenger_tire_on_a_trailer() -> None:
    marked = {BASE + "max_load": "1,600 lb", "trailer.axles.gawr": ["3,000 lb"], BASE + "load_range": None}
    passenger = marked | {BASE + "type": "P", BASE + "size": "P205/75R14", BASE + "extra_load": False}
    found = finding("tire-axle-trailer", passenger)
    assert found.outcome is O
    assert found.capacity is not None
    assert found.capacity / 0.45359237 == pytest.approx(2909.1, abs=0.05)
    assert finding("tire-axle-trailer", marked).outcome is C  # covers it, with less than the advised reserve
    # an axle at 95 % of its rating is still refused (petition refused, NHTSA letter 77-3.29)
    assert finding("tire-axle-trailer", passenger | {"trailer.axles.gawr": ["3,062 lb"]}).outcome is O


def test_no_divisor_outside_north_america_or_on_a_light_commercial_tire() -> None:
    assert finding("tire-axle-trailer", {}, "teal").capacity == pytest.approx(1700.0)  # LI 102 is 850 kg
    c_tire = {"trailer.tires": {"type": "C", "size": "185R14C", "load_index": 102, "max_load_at": "65 psi"}}
    assert finding("tire-axle-trailer", c_tire).capacity == pytest.approx(1700.0)


def test_side_allowance_alone_warns_and_a_weighed_wheel_decides() -> None:
    at_limit = EVEN | {BASE + "max_load": "1,270 lb"}
    found = finding("tire-load-trailer", at_limit)
    assert found.outcome is C
    assert "weigh each side" in found.message
    weighing = [
        {"date": "2026-05-01", "case": "out", "wheels": {"left 1": "1,300 lb", "right 1": "1,180 lb"}}
    ]
    assert finding("tire-load-trailer", at_limit | {"weighings": weighing}).outcome is O
    light = [{"date": "2026-05-01", "case": "out", "wheels": {"left 1": "900 lb", "right 1": "900 lb"}}]
    # an old, lighter weighing never makes the computed load smaller
    even = finding("tire-load-trailer", at_limit | {"weighings": light})
    assert even.demand == pytest.approx(finding("tire-load-trailer").demand or 0.0, rel=0.06)
    assert even.outcome is C


def test_one_heavy_side_counts_without_wheel_scales() -> None:
    tilted = {"trailer.empty.left_minus_right": "500 lb", BASE + "max_load": "1,400 lb"}
    assert finding("tire-load-trailer", tilted).outcome is O
    assert finding("tire-load-trailer", tilted | EVEN).outcome is C


# 2,600 lb empty; half of the axle is 1,261 lb, 5 % more 1,324 lb, and with all that the empty trailer may lean (a fifth
# of its weight) 1,521 lb; the reader takes no more as a statement either
@pytest.mark.parametrize(
    ("rating", "even", "open_"), [("1,540 lb", W, C), ("1,500 lb", W, N), ("1,400 lb", C, N)]
)
def test_sides_that_nobody_weighed_pass_no_tire_that_they_could_overload(
    rating: str, even: Outcome, open_: Outcome
) -> None:
    tire = {BASE + "max_load": rating}
    assert finding("tire-load-trailer", EVEN | tire).outcome is even
    found = finding("tire-load-trailer", tire)
    assert found.outcome is open_
    assert ("trailer.empty.left_minus_right" in {n.path for n in found.needs}) is (open_ is N)


def test_special_trailer_tires_keep_the_sidewall_pressure() -> None:
    plan = assessed({BASE + "table": TABLE}).computed.tires["trailer"]
    assert plan.as_marked == "65 psi"
    assert plan.minimum is not None
    assert plan.minimum / 6894.757 == pytest.approx(35, abs=0.01)
    assert any("table asks for no more" in r for r in plan.reasons)


@each("label, table, marked, outcome", [
    ("50 psi", None, "50 psi", W),  # 1,569 lb of 2,040 lb at 65 psi in proportion; the wheel carries less
    ("35 psi", None, "65 psi", C),  # in proportion 1,098 lb, too little: the sidewall's own
    ("35 psi", TABLE, "35 psi", W),
    ("30 psi", TABLE, "65 psi", C),
    (None, TABLE, "65 psi", N),
])  # fmt: skip
def test_the_plate_wins_unless_it_carries_too_little(
    label: str | None, table: object, marked: str, outcome: Outcome
) -> None:
    rig: Changes = EVEN | {BASE + "table": table, "trailer.tire_pressure": label}
    found, plan = finding("tire-pressure-trailer", rig), assessed(rig).computed.tires["trailer"]
    assert (plan.as_marked, found.outcome, found.critical) == (marked, outcome, outcome is not C)
    assert (f"the label says {label}, too little" in found.message) is (outcome is C)


def test_table_pressure_needs_the_owners_word_and_every_wheel() -> None:
    wheels = [{"date": "2026-05-01", "case": "out", "wheels": {"left 1": "1,250 lb", "right 1": "1,220 lb"}}]
    asked: Changes = {
        BASE + "table": TABLE,
        "trailer.tires_by_table": True,
        "trailer.tire_pressure": None,
    }
    weighed = {**asked, "weighings": wheels}
    assert assessed(weighed).computed.tires["trailer"].as_marked == "35 psi"
    assert assessed(asked).computed.tires["trailer"].as_marked == "65 psi"
    label = {**weighed, "trailer.tire_pressure": "50 psi"}
    assert assessed(label).computed.tires["trailer"].as_marked == "50 psi"  # never below the label
    half = {**weighed, "weighings": [{"date": "2026-05-01", "case": "out", "wheels": {"left 1": "1,250 lb"}}]}
    assert assessed(half).computed.tires["trailer"].as_marked == "65 psi"


def test_another_size_on_the_vehicle_needs_its_own_table() -> None:
    other: Changes = {"vehicle.tires.rear.size": "LT265/75R16", "vehicle.tires.rear.max_load": "3,415 lb"}
    found = finding("tire-pressure-rear", other)
    assert (found.outcome, paths(found)) == (N, {"vehicle.tires.rear.table"})
    rows = [{"pressure": "35 psi", "load": "1,740 lb"}, {"pressure": "65 psi", "load": "3,000 lb"}, {"pressure": "80 psi", "load": "3,415 lb"}]  # fmt: skip
    table: Changes = {**other, "vehicle.tires.rear.table": {"source": "Maker's table, 2024", "rows": rows}}
    asked = finding("tire-pressure-rear", table)
    assert paths(asked) == {"vehicle.tires.placard_load.rear"}
    carries: Changes = {**table, "vehicle.tires.placard_load": {"rear": "2,640 lb"}}
    plan = assessed(carries).computed.tires["rear"]
    assert plan.as_marked == "65 psi"  # the wheel load alone would ask for 35 psi


def test_rear_overload_of_european_cars_is_information_only() -> None:
    heavy = finding("tire-load-rear", {"vehicle.tires.rear.load_index": 76}, "teal")  # LI 76 is 400 kg
    assert heavy.outcome is O
    assert "15%" in heavy.message
    light = {"vehicle.tires.rear.max_load": "1,300 lb", "vehicle.tires.rear_count": 2}
    assert "15%" not in finding("tire-load-rear", light).message


def test_ceiling_names_the_part_and_asks_for_rim_and_valve() -> None:
    limits = {"trailer.tire_pressure": None, BASE + "rim_max_pressure": "80 psi"}
    assert paths(finding("tire-ceiling-trailer", limits)) == {"trailer.tires.valve_max_pressure"}
    both = limits | {BASE + "valve_max_pressure": "65 psi"}
    assert finding("tire-ceiling-trailer", both).governed_by in ("tire", "valve")
    assert "label" in finding("tire-ceiling-trailer").message


@each(
    "market, body, position, words",
    [
        ("uk", "caravan", "trailer", "plan to replace from 2025; replace by 2027"),
        ("uk", "caravan", "front", "inspect yearly from 2025; replace by 2030"),
        ("uk", "utility", "trailer", "inspect yearly from 2025; replace by 2030"),
        ("au", "caravan", "trailer", "inspect yearly from 2025; replace by 2030"),
        ("nz", "caravan", "trailer", "inspect yearly from 2025; replace by 2030"),
    ],
)
def test_advice_for_caravans_is_for_their_own_tires_in_their_own_countries(
    market: str, body: str, position: str, words: str
) -> None:
    path = "trailer.tires.date_code" if position == "trailer" else f"vehicle.tires.{position}.date_code"
    changes = {"market": market, "trailer.body": body, path: "1020"}
    assert words in finding(f"tire-age-{position}", changes).message


def test_age_shows_the_week_and_is_guidance() -> None:
    found = finding("tire-age-trailer", {BASE + "date_code": "1021"})
    assert "week 10 of 2021" in found.message
    assert (found.basis, found.critical) == (Basis.GUIDANCE, False)
    on_the_day = dt.date(2026, 3, 9)  # five years after Monday of week 10 of 2021, 8 March 2021
    assert finding("tire-age-trailer", {BASE + "date_code": "1021"}, day=dt.date(2026, 3, 6)).outcome is W
    assert finding("tire-age-trailer", {BASE + "date_code": "1021"}, day=on_the_day).outcome is C
    assert "inspect yearly from 2026; replace by 2031 (guidance)" in found.message
    later = finding("tire-age-trailer", {BASE + "date_code": "1028"})
    assert "yet to come" in later.message


def test_tires_can_become_overloaded_by_filling() -> None:
    found = finding("tire-load-trailer", EVEN | {BASE + "max_load": "1,275 lb"})
    assert found.outcome is C
    assert "fresh" in found.can_become
    assert found.can_become.endswith("(the whole axle)")
    assert "{can_be}" in found.can_become
    assert found.values["can_be"][0] > 2 * 1275 * 0.45359237
    assert finding("tire-load-trailer").can_become == ""


def test_speed_default_is_said() -> None:
    found = finding("tire-speed-trailer", {BASE + "speed_symbol": None})
    assert found.message == "no speed symbol: {taken} taken"
    assert found.values["taken"][0] == pytest.approx(65 * 0.44704)
    assert found.capacity == pytest.approx(65 * 0.44704)


def test_reserve_advice_is_stricter_on_two_axles() -> None:
    load: Changes = EVEN | {BASE + "max_load": "1,460 lb"}
    one = finding("tire-load-trailer", load)
    assert one.outcome is W  # 1,324 lb with the allowance is 0.907 of 1,460 lb
    two = EVEN | {
        "trailer.axles.count": 2,
        "trailer.axles.gawr": ["1,700 lb", "1,700 lb"],
        "trailer.axles.suspension": "equalized",
        "trailer.axles.spacing": "33 in",
        BASE + "max_load": "740 lb",
    }
    found = finding("tire-load-trailer", two)
    assert found.outcome is C  # 662 lb is 0.895 of 740 lb: past 0.87, within 0.909
    assert "15 %" in found.message
