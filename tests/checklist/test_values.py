"""Values in texts: formatted from figures and the rig, fallback words where unknown."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from cardgen.checklist.catalog import catalog
from cardgen.checklist.fill import fill
from cardgen.checklist.rigwords import count_words, fresh_plan, tank_advice, touch_list
from cardgen.checklist.schema import ItemDef
from cardgen.checklist.values import values
from cardgen.model.features import Features
from cardgen.model.gear import Ball, Gear, WeightDistribution
from cardgen.model.parts import Cylinder
from cardgen.model.rig import Case, Contact, Limits, Preferences, Rig
from cardgen.model.trailer import Axles, Coupler, Dimensions
from cardgen.model.vehicle import AxlePressures, Controller
from cardgen.tables.words import say
from cardgen.units import System
from cardgen.units.show import NBSP
from tests.checklist.rigs import (
    assessment,
    ball_rig,
    boat,
    camper,
    caravan,
    change,
    fifth_wheel,
    horse,
    pool,
    q,
    unknown_rig,
)
from tests.each import each

ITEMS = {item.id: item for item in catalog().items}
LB = 0.45359237  # kg, exact by the international agreement of 1959
IN = 0.0254  # m, exact by the same


def plain(found: str) -> str:
    """The text with ordinary spaces and hyphens."""
    return found.replace(NBSP, " ").replace("\u2011", "-")


def text(rig: Rig, name: str, system: System = "us", **figures: float) -> str | None:
    found = values(assessment(rig, **figures), system)[name]
    return None if found is None else plain(found)


@each("system", ["us", "metric"])
@each("rig", pool())
def test_every_value_is_named_and_no_text_is_blank(rig: Rig, system: System) -> None:
    made = values(assessment(rig), system)
    assert set(made) == set(catalog().values)
    assert all(value is None or (value.strip() and "None" not in value) for value in made.values())


@each("item", ITEMS.values())
def test_an_item_without_any_value_reads_with_its_fallback(item: ItemDef) -> None:
    said = fill(item.text, {})
    assert "{" not in said
    assert "None" not in said
    empty = dict.fromkeys(item.places, "  ")
    assert said == fill(item.text, dict.fromkeys(item.places)) == fill(item.text, empty)
    for name in replace(item, say="", seen="", short="").places:
        assert say(catalog().values[name].fallback, "us").lower() in said.lower()


@given(st.dictionaries(st.sampled_from(list(catalog().values)), st.none() | st.text(max_size=12)))
def test_filling_never_leaves_a_place_empty(texts: dict[str, str | None]) -> None:
    for item in ITEMS.values():
        said = fill(item.text, texts)
        assert "{" not in fill(item.seen, {}, blank=True)
        for name in replace(item, say="", seen="", short="").places:
            given_text = (texts.get(name) or "").strip()
            assert (given_text or say(catalog().values[name].fallback, "us")).lower()[1:] in said.lower()


def test_braces_in_a_value_are_printed_as_they_are() -> None:
    assert "{odd}" in fill(ITEMS["bars-set"].text, {"bar_setting": "{odd}"})


def test_figures_are_printed_in_the_units_asked_for() -> None:
    figures: dict[str, Any] = {
        "case_trailer_weight": 3000 * LB,
        "case_tongue_weight": 360 * LB,
        "case_cargo_weight": 400 * LB,
        "case_band_low": 300 * LB,
        "case_band_high": 450 * LB,
        "allowed_trailer": 3500 * LB,
        "pressure_trailer": 448159.22,  # 65 psi
        "drop_needed": 2.5 * IN,
        "planned_speed_limit": 65 * 0.44704,
    }
    rig = camper()
    expected = {
        "trailer_weight": "3,000 lb",
        "trailer_limit": "3,500 lb",
        "tongue_band": "300 to 450 lb",
        "tongue_now": "360 lb",
        "tie_down_need": "200 lb",
        "pressure_trailer": "65 psi",
        "drop_needed": "2 1/2 in drop",
        "max_speed": "65 mph",
    }
    assert {name: text(rig, name, **figures) for name in expected} == expected
    assert text(rig, "trailer_weight", "metric", **figures) == "1,361 kg"
    assert text(rig, "tongue_band", "metric", **figures) == "137 to 204 kg"
    assert text(rig, "drop_needed", "metric", **figures) == "64 mm drop"
    assert text(rig, "drop_needed", drop_needed=-1.0 * IN) == "1 in rise"


def test_the_tongue_figure_spans_the_loading_cases() -> None:
    from cardgen.model.results import Assessment, CaseResult, Computed, Figure
    from tests.checklist.rigs import DAY

    def case(name: str, weight: float, tongue: float | None) -> CaseResult:
        pairs = {"trailer_weight": weight, "tongue_weight": tongue}
        return CaseResult(name, {n: Figure(n, n, "mass", v, "") for n, v in pairs.items()})

    def now(*cases: CaseResult) -> str | None:
        found = Assessment(Computed(camper(), cases, {}), (), DAY)
        said = values(found, "metric")["tongue_now"]
        return said and plain(said)

    assert now(case("a", 900.0, 130.0), case("b", 1000.0, 90.0)) == "90 to 130 kg"
    assert now(case("a", 900.0, 130.0), case("b", 1000.0, None)) is None


def test_one_unknown_case_makes_the_worst_unknown() -> None:
    rig = change(camper(), cases=(Case(name="out"), Case(name="back")))
    known = assessment(rig, case_trailer_weight=1000.0)
    assert plain(values(known, "metric")["trailer_weight"] or "") == "1,000 kg"
    del known.computed.cases[0].figures["trailer_weight"]  # type: ignore[attr-defined]  # a dict here
    assert values(known, "metric")["trailer_weight"] is None


def test_a_speed_limit_is_never_rounded_up() -> None:
    """65 mph is 104.6 km/h: the sign says 104, not 105."""
    assert text(caravan("eu"), "max_speed", "metric", planned_speed_limit=65 * 0.44704) == "104 km/h"
    assert text(caravan("uk"), "max_speed", "metric", planned_speed_limit=60 * 0.44704) == "60 mph"


def test_a_clearance_is_never_rounded_down() -> None:
    rig = change(camper(), trailer__dimensions=Dimensions(height=q("125.1 in", "length")))
    assert text(rig, "rig_height") == "10 ft 6 in"
    assert text(rig, "rig_height", "metric") == "3.18 m"
    higher = change(rig, vehicle__height=q("11 ft", "length"))
    assert text(higher, "rig_height") == "11 ft 0 in"


def test_length_needs_every_part() -> None:
    rig = change(
        camper(),
        trailer__dimensions=Dimensions(length=q("16 ft", "length")),
        vehicle__front_overhang=q("3 ft", "length"),
        vehicle__wheelbase=q("9 ft", "length"),
        vehicle__overhang=q("4 ft", "length"),
    )
    assert text(rig, "rig_length") == "32 ft 0 in"
    assert text(change(rig, vehicle__overhang=None), "rig_length") is None


def test_stated_pressures_stand_in_for_missing_figures() -> None:
    rig = change(
        camper(),
        trailer__tire_pressure=q("50 psi", "pressure"),
        vehicle__placard=AxlePressures(front=q("33 psi", "pressure"), rear=q("33 psi", "pressure")),
        vehicle__placard_towing=AxlePressures(rear=q("41 psi", "pressure")),
    )
    names = ("trailer", "front", "rear", "spare")
    assert [text(rig, f"pressure_{n}") for n in names] == ["50 psi", "33 psi", "41 psi", "50 psi"]
    assert text(rig, "pressure_trailer", "metric") == "3.45 bar"


def test_settings_of_the_rig_are_printed_as_the_owner_knows_them() -> None:
    rig = change(
        camper(),
        trailer__wheel_torque=q("95 lb-ft", "torque"),
        trailer__coupler=Coupler(ball=q("50 mm", "length"), height=q("17.5 in", "length")),
        gear=Gear(
            ball=Ball(torque=q("250 lb-ft", "torque")),
            weight_distribution=WeightDistribution(links="5 links"),
        ),
        vehicle__brake_controller=Controller(fitted=True, gain=5.5),
        limits=Limits(tire_age=q("6 years", "duration"), wind=q("35 mph", "speed")),
        preferences=Preferences(
            idle=q("6 weeks", "duration"), retorque=tuple(q(f"{n} mi", "distance") for n in (10, 25, 50))
        ),
        contacts=(Contact(who="the shed", phone="555-0142"),),
    )
    expected = {
        "wheel_torque": "95 lb·ft",
        "ball_torque": "250 lb·ft",
        "ball_size": "50 mm",
        "coupler_height": "17 1/2 in",
        "bar_setting": "5 links",
        "brake_gain": "5.5",
        "tire_age_limit": "6 years",
        "wind_limit": "wind of 35 mph or more",
        "idle": "6 weeks",
        "retorque": "10, 25 and 50 mi",
        "help_phone": "the shed, 555-0142",
        "connector": "7-way blade",
        "first_stop": "5 to 10 miles",
        "emergency_number": "911",
    }
    assert {name: text(rig, name) for name in expected} == expected


def test_the_owners_controller_value_is_second_to_the_tested_one() -> None:
    rig = change(camper(), gain_start=4.0)
    assert text(rig, "brake_gain") == "4"
    assert text(change(rig, vehicle__brake_controller=Controller(gain=6.5)), "brake_gain") == "6.5"
    assert text(camper(), "brake_gain") is None


@each(
    ("count", "expected"),
    [(None, None), (0, None), (1, "the vent"), (2, "both vents"), (3, "all 3 vents")],
)
def test_counts_are_said_as_people_say_them(count: int | None, expected: str | None) -> None:
    assert count_words(count, "vent", "vents") == expected


def test_single_and_dual_cylinders() -> None:
    one = camper(cylinders={"only": Cylinder()})
    assert text(one, "lp_valves") == "the cylinder valve"
    assert text(camper(), "lp_valves") == "both cylinder valves"
    assert text(unknown_rig(), "lp_valves") is None


@each(
    ("rig", "expected"),
    [
        (ball_rig(), "latch, pin, chains, plug"),
        (camper(), "latch, pin, chains, cable, plug"),
        (fifth_wheel(), "jaws, handle, cable, plug"),
        (horse(), "clamp, pin, ball, chains, cable, plug"),
        (caravan(), "latch, pin, cable, plug"),
        (ball_rig(jack="none"), "latch, pin, chains, plug"),
        (boat(), "latch, pin, chains, cable, plug"),
    ],
)
def test_the_touch_list_names_the_parts_of_the_rig(rig: Rig, expected: str) -> None:
    from cardgen.checklist.features import features

    assert say(touch_list(features(rig)), "us") == expected


def test_fresh_water_plan_follows_the_cases() -> None:
    def plan(*fills: str) -> str | None:
        cases = [Case(name=f"case {n}", tanks={"fresh": q(f, "fraction")}) for n, f in enumerate(fills)]
        said = fresh_plan(change(camper(), cases=tuple(cases)), "us")
        return said and plain(said)

    assert plan("100 %") == "full"
    assert plan("100 %", "100 %") == "full"
    assert plan("100 %", "0 %") == "full or empty, by loading case"
    assert plan("50 %", "25 %") == "half full or 25 %, by loading case"
    assert fresh_plan(camper(), "us") is None
    assert fresh_plan(ball_rig(), "us") is None


def test_tank_advice_needs_places_and_names_sides() -> None:
    rig = change(camper(), trailer__axles=Axles(ball_to_center=q("10 ft", "length")))
    assert tank_advice(rig) == "grey and black lighten the coupling, fresh loads it"
    behind = change(rig, trailer__axles=Axles(ball_to_center=q("2 ft", "length")))
    assert tank_advice(behind) == "fresh and grey and black lighten the coupling"
    ahead = change(rig, trailer__axles=Axles(ball_to_center=q("20 ft", "length")))
    assert tank_advice(ahead) == "fresh and grey and black load the coupling"
    assert tank_advice(camper()) is None


def test_the_lamp_list_follows_width_and_length() -> None:
    narrow = change(
        ball_rig(), trailer__dimensions=Dimensions(width=q("79 in", "length"), length=q("20 ft", "length"))
    )
    wide = change(
        ball_rig(), trailer__dimensions=Dimensions(width=q("80 in", "length"), length=q("31 ft", "length"))
    )
    assert "identification" not in (text(narrow, "lamp_list") or "")
    listed = text(wide, "lamp_list") or ""
    assert "3 identification lamps" in listed
    assert "2 intermediate side marker lamps" in listed
    assert "measure" in (text(ball_rig(), "lamp_list") or "")
    assert text(caravan("uk"), "lamp_list") is None


def test_texts_from_the_rules_of_a_place_come_as_arguments() -> None:
    made = values(
        assessment(camper()), "us", mirror_note="200 ft behind", brake_note="over 3,000 lb", lamp_list="two"
    )
    assert (made["mirror_note"], made["brake_note"], made["lamp_list"]) == (
        "200 ft behind",
        "over 3,000 lb",
        "two",
    )
    assert fill(ITEMS["mirrors-set"].text, made) == "Mirrors: 200 ft behind"


@each(("market", "side"), [("us", "left"), ("uk", "right"), ("au", "right"), ("eu", "left")])
def test_the_heavier_animal_stands_toward_the_middle_of_the_road(market: str, side: str) -> None:
    rig = change(horse(), market=market)
    assert text(rig, "crown_side") == side
    turned = change(rig, preferences=Preferences(drive_side="left" if side == "left" else "right"))
    assert text(turned, "crown_side") != side


def test_counted_words_follow_the_market() -> None:
    assert text(caravan(), "stabilizers") == "all 4 corner steadies"
    assert (
        text(change(camper(), trailer__features=Features(stabilizers=1)), "stabilizers") == "the stabilizer"
    )
