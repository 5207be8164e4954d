"""A rig of each market as its plate and papers describe it, against figures reckoned by hand."""

from __future__ import annotations

import datetime as dt
import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from cardgen.bundle.reading import read_rig
from cardgen.checklist.due import due_list
from cardgen.checklist.features import features
from cardgen.limits.assess import assess
from cardgen.model.results import Assessment, Finding, Outcome
from cardgen.model.starter import Wish, asked, left_open, starter
from cardgen.physics import labels
from cardgen.physics.compute import compute
from cardgen.present.cards import KINDS
from cardgen.present.cards.front import gauges
from cardgen.present.prepare import prepare
from tests.each import each
from tests.source.memory import Memory

FOLDER = Path(__file__).parent.parent / "data" / "markets"
DAY = dt.date(2026, 12, 1)
NAMES = ("elch", "gibber", "loon", "tor", "weka")
Changes = tuple[tuple[str, Any], ...]


@cache
def made(name: str, *changes: tuple[str, Any]) -> Assessment:
    """Assess a rig of the folder with fields changed by their paths; None takes a field out."""
    tree = yaml.safe_load((FOLDER / f"{name}.yaml").read_text(encoding="utf-8"))
    for path, value in changes:
        *steps, last = path.split(".")
        node = tree
        for step in steps:
            node = node[int(step) if step.isdigit() else step]
        if value is None:
            node.pop(last)
        else:
            node[last] = list(value) if isinstance(value, tuple) else value
    read = read_rig(Path("rig.yaml"), Memory({"rig.yaml": json.dumps(tree, default=str)}))
    assert read.rig is not None, read.faults
    return assess(compute(read.rig), DAY)


def found(code: str, assessed: Assessment) -> Finding:
    return next(f for f in assessed.findings if f.code == code)


def payload_left(assessed: Assessment) -> float:
    (line,) = [one for one in labels.lines(assessed.computed) if one.id == "label_cargo_left"]
    return line.value


# --- payload -------------------------------------------------------------------------------


def test_british_payload_counts_gas_battery_and_water() -> None:
    """MTPLM 1,450 less MIRO 1,286 is 164 kg; aboard 80 of things, 2 x (6 + 8.4) of gas, a battery of 22 kg."""
    tor = made("tor")
    assert payload_left(tor) == pytest.approx(164 - 80 - 28.8 - 22)
    weight = max(case.figures["trailer_weight"].value or 0.0 for case in tor.computed.cases)
    assert weight == pytest.approx(1286 + 80 + 28.8 + 22)
    wet = made("tor", ("cases.0.tanks.fresh", "full"))
    assert payload_left(tor) - payload_left(wet) == pytest.approx(39.93, abs=0.02)  # 40 L at 998.2 kg/m3


def test_the_file_says_what_the_weight_of_the_papers_holds() -> None:
    path = "trailer.empty.includes"
    assert payload_left(made("tor", (f"{path}.cargo", ("leisure battery",)))) == pytest.approx(164 - 108.8)
    tree = {"tanks": {"fresh": "empty"}, "cylinders": {"left": "full", "right": "full"}}
    gas_in = made("tor", (path, _frozen(tree)))
    assert payload_left(gas_in) == pytest.approx(164 - 80 - 22)
    weight = max(case.figures["trailer_weight"].value or 0.0 for case in gas_in.computed.cases)
    assert weight == pytest.approx(1286 + 80 + 22)


def test_where_a_battery_may_be_in_the_weight_the_evidence_is_asked_for() -> None:
    unsaid = found("trailer-gross", made("tor", ("trailer.empty.source", None)))
    assert unsaid.outcome is Outcome.NOT_CHECKED
    assert {n.path for n in unsaid.needs} == {"trailer.empty.source"}


def test_what_a_scale_weighed_holds_what_was_aboard() -> None:
    """The same trailer weighed with its battery: 22 kg less put on it, the papers' payload counts it all the same."""
    scale = made("tor", ("trailer.empty.source", "scale"))
    assert payload_left(scale) == pytest.approx(164 - 80 - 28.8 - 22)
    weight = max(case.figures["trailer_weight"].value or 0.0 for case in scale.computed.cases)
    assert weight == pytest.approx(1286 + 80 + 28.8)


def test_australian_payload_is_atm_less_tare_and_the_ball_load_stands_on_the_plate() -> None:
    """2,800 - 2,150 = 650 kg, of which 95 L, 2 x 9.24 of gas, 28 and 125 kg are used; the steel is in the tare, as the file says."""
    gibber = made("gibber")
    check = found("trailer-cargo-label", gibber)
    assert (check.outcome, check.capacity) == (Outcome.WITHIN, 650.0)
    assert check.demand == pytest.approx(95 * 0.9982 + 2 * 0.42 * 22.0 + 28 + 125, abs=0.05)
    lines = {one.id: one.value for one in labels.lines(gibber.computed)}
    assert lines["label_ball_load"] == pytest.approx(250)
    assert "label_water_us" not in lines
    heavy = made("gibber", ("trailer.cargo.0.weight", "480 kg"))
    assert found("trailer-cargo-label", heavy).outcome is Outcome.OVER


# --- nose weight ---------------------------------------------------------------------------


def test_british_noseweight_to_set_is_the_lowest_plate_or_the_advice() -> None:
    """Seven percent of 1,416.8 kg is 99 kg and the lowest plate 100 kg."""
    check = found("s-value", made("tor"))
    assert {name: value for name, (value, _) in check.values.items()} == {"plate": 100.0, "set": 99.0}
    assert "lowest plate" in check.message
    low = found("s-value", made("tor", ("vehicle.tow_rating.tongue", "75 kg")))
    assert {name: value for name, (value, _) in low.values.items()} == {"plate": 75.0, "set": 75.0}


def test_more_than_advised_inside_the_plates_is_no_fault() -> None:
    plates = (
        "vehicle.tow_rating.tongue",
        "vehicle.receiver.weight_carrying.tongue",
        "trailer.coupler.ratings.tongue",
    )
    tor = made("tor", *((path, "150 kg") for path in plates))
    check = found("tongue-share", tor)
    assert check.demand is not None
    assert check.demand > 0.07
    assert check.outcome is Outcome.WITHIN


def test_the_85_percent_are_advice() -> None:
    """1,416.8 kg behind 1,600 kg is 89 %: said, and nothing forbids."""
    plates = (
        "vehicle.tow_rating.tongue",
        "vehicle.receiver.weight_carrying.tongue",
        "trailer.coupler.ratings.tongue",
    )
    light = made("tor", ("vehicle.unladen_for_law", "1600 kg"), *((path, "150 kg") for path in plates))
    ratio = found("law-tow-ratio-uk", light)
    assert (ratio.outcome, ratio.critical) == (Outcome.CLOSE, False)
    assert light.outcome() is not Outcome.OVER


def test_german_nose_weight_has_a_least_and_a_most() -> None:
    """4 % of 1,330 kg is 53 kg, which need not exceed 25 kg; of 480 kg it is 19.2 kg (StVZO 44(3))."""
    view = prepare(made("elch").computed.rig, DAY)
    assert view.plates().replace("\u00a0", " ") == "set 90 kg, min 25 kg, max 90 kg (towbar)"
    light = made(
        "elch",
        ("trailer.empty.weight", "330 kg"),
        ("trailer.empty.tongue", "30 kg"),
        ("trailer.cargo.0.weight", "120 kg"),
    )
    values = found("s-value", light).values
    assert values["least"][0] == pytest.approx(0.04 * 480)
    assert "least" not in found("s-value", made("elch", ("places", ()))).values
    assert prepare(made("loon").computed.rig, DAY).plates() == ""


def test_words_of_german_papers_stand_behind_ours_where_germany_is_travelled() -> None:
    def told(name: str, *changes: tuple[str, Any]) -> tuple[str, str]:
        view = prepare(made(name, *changes).computed.rig, DAY)
        return gauges(view).title, view.say(found("trailer-gross", view.assessment).title)

    whole = "loaded trailer against its"
    assert told("elch") == (
        "Nose weight (Stützlast)", f"{whole} max laden mass (zulässige Gesamtmasse, F.2)"
    )  # fmt: skip
    assert told("elch", ("places", ("eu",))) == ("Nose weight", f"{whole} max laden mass")
    assert told("tor", ("places", ("de",))) == ("Noseweight", f"{whole} MTPLM")  # British papers in Germany


# --- axles that no link joins --------------------------------------------------------------


def test_independent_axles_are_checked_by_their_ratings() -> None:
    elch = made("elch")
    group = found("trailer-axle-group", elch)
    assert (group.outcome, group.capacity) == (Outcome.WITHIN, 2000.0)
    for code in ("trailer-axle-1", "trailer-axle-2"):
        check = found(code, elch)
        assert check.outcome is Outcome.WITHIN
        assert "weigh each axle" in check.message
    assert found("tire-load-trailer", elch).outcome is Outcome.WITHIN
    assert found("tire-pressure-trailer", elch).outcome is Outcome.WITHIN


def test_a_plate_that_rates_the_axles_together_leaves_no_tire_unchecked() -> None:
    """Both readings of a plate of 2 x 1,000 kg; the group alone says nothing of one axle, and forbids by itself."""
    alone = (("trailer.axles.gawr", None), ("trailer.gtm", "2000 kg"))
    elch, group = made("elch"), made("elch", *alone)
    for code in ("tire-load-trailer", "tire-axle-trailer", "tire-pressure-trailer"):
        assert (found(code, group).outcome, found(code, group).demand) == (
            Outcome.WITHIN,
            found(code, elch).demand,
        )
    together = found("trailer-gtm", group)
    assert (together.outcome, together.demand, together.capacity) == (
        Outcome.WITHIN,
        found("trailer-axle-group", elch).demand,
        2000.0,
    )
    for code in ("trailer-axle-1", "trailer-axle-2"):
        assert (found(code, group).outcome, found(code, group).critical) == (Outcome.NOT_CHECKED, False)
    heavy = made("elch", alone[0], ("trailer.gtm", "1200 kg"))
    assert found("trailer-gtm", heavy).outcome is Outcome.OVER


def test_how_much_an_axle_gains_follows_from_its_rating() -> None:
    """1,000 kg over 50 mm, axles 780 mm apart, 2.75 m behind a ball that stands 50 mm off: 142 kg beside the even share.

    k th d = 1,000 / 0.05 kg/m * (0.05 / 2.75) * 0.39 m.
    """
    tree = ("vehicle.receiver.ball_height", None)
    case = made("elch", tree).computed.cases[0]
    even = (case.figures["trailer_axle_load"].value or 0.0) / 2.0
    assert (case.figures["axle_1"].value or 0.0) - even == pytest.approx(
        1000 / 0.05 * 0.05 / 2.75 * 0.39, abs=0.1
    )


def test_a_full_axle_that_heights_could_take_past_its_rating_is_not_passed() -> None:
    heavy = made("elch", ("trailer.cargo.0.weight", "1000 kg"), ("trailer.axles.gawr", ("950 kg", "950 kg")))
    assert found("trailer-axle-1", heavy).outcome is Outcome.NOT_CHECKED
    assert found("trailer-axle-group", heavy).outcome in (Outcome.WITHIN, Outcome.CLOSE)
    over = made("elch", ("trailer.cargo.0.weight", "1000 kg"), ("trailer.axles.gawr", ("800 kg", "800 kg")))
    assert found("trailer-axle-group", over).outcome is Outcome.OVER


# --- tires ---------------------------------------------------------------------------------


def test_the_trailer_makers_label_wins_where_the_sidewall_confirms_it() -> None:
    """850 kg at 4.5 bar are 661 kg at 3.5 bar in proportion; the wheel carries less than that."""
    plan = made("elch").computed.tires["trailer"]
    assert plan.pressure == pytest.approx(350_000)
    low = made("elch", ("trailer.tire_pressure", "2 bar")).computed.tires["trailer"]
    assert low.pressure == pytest.approx(450_000)
    assert "the label says 2 bar" in low.reasons[-1]
    assert "4.5 bar" in low.reasons[-1]


def test_a_special_tire_of_unknown_load_says_what_is_not_known() -> None:
    rig = made("loon", ("trailer.tires.max_load", None))
    assert "what the tire may carry is not known" in rig.computed.tires["trailer"].reasons[-1]
    assert {f.outcome for f in rig.findings if f.code == "tire-load-trailer"} == {Outcome.NOT_CHECKED}
    unknown = made("loon", ("trailer.tires.max_load", None), ("trailer.empty.weight", None))
    assert "the wheel load is not known" in unknown.computed.tires["trailer"].reasons[-1]


# --- dates, starters -----------------------------------------------------------------------


def test_new_zealand_inspection_and_registration_fall_due() -> None:
    rig = made("weka").computed.rig
    due = {one.key: one for one in due_list(rig, features(rig), DAY)}
    assert (due["inspection"].state, due["inspection"].until) == ("good", dt.date(2027, 2, 20))
    assert "WoF" in due["inspection"].title
    assert due["registration"].until == dt.date(2027, 1, 20)
    british = made("tor").computed.rig
    assert "inspection" not in {one.key for one in due_list(british, features(british), DAY)}


@each("market, wanted, unwanted", [
    ("uk", "vehicle.unladen_for_law trailer.secondary_coupling trailer.tires.extra_load trailer.cargo_capacity",
     "trailer.gtm vehicle.abs trailer.chains.mark vehicle.placard_capacity trailer.tires.load_range vehicle.tires.rear.load_range "
     "trailer.chains.strength"),
    ("eu", "vehicle.unladen_for_law vehicle.abs trailer.dampers trailer.plate_100 dates.inspection gear.sway_control_certified",
     "trailer.gtm dates.registration trailer.chains.link vehicle.tires.front.load_range trailer.chains.strength"),
    ("au", "trailer.gtm vehicle.charge_display trailer.chains.mark dates.registration vehicle.tow_rating.given",
     "trailer.cargo_capacity trailer.dampers dates.inspection trailer.tires.load_range"),
    ("nz", "dates.inspection dates.registration trailer.chains.link vehicle.unladen_for_law", "trailer.gtm trailer.cargo_capacity"),
    ("ca", "vehicle.unladen_for_law vehicle.placard_capacity trailer.cargo_capacity", "trailer.gtm trailer.secondary_coupling"),
    ("us", "vehicle.placard_capacity trailer.cargo_capacity trailer.tires.load_range", "vehicle.unladen_for_law trailer.brakes.r13"),
])  # fmt: skip
def test_a_starter_asks_what_its_market_needs(market: str, wanted: str, unwanted: str) -> None:
    fields = set(asked(Wish("Finch", market, "ball", "caravan", "suv", 2, "electric")))
    assert set(wanted.split()) <= fields
    assert not set(unwanted.split()) & fields


def test_a_plate_that_rates_the_axles_together_leaves_nothing_critical_open() -> None:
    """An Australian plate states the GTM and no axle: the group is held against that, each axle is advice."""
    both = ("trailer.axles.suspension", "independent"), ("trailer.axles.gawr", ())
    findings = {one.code: one for one in made("gibber", *both).findings}
    assert "trailer-axle-group" not in findings
    assert findings["trailer-gtm"].outcome is Outcome.WITHIN
    assert not [one.code for one in findings.values() if one.code.startswith("trailer-axle") and one.critical]


def test_the_strength_of_no_chains_is_not_asked() -> None:
    for count, open_ in ((0, False), (1, True)):
        rig = made("gibber", ("trailer.chains.count", count), ("trailer.chains.strength", None)).computed.rig
        assert ("trailer.chains.strength" in left_open(rig)) is open_


@each("market, brakes, unwanted", [
    ("us", "none", "trailer.breakaway.battery trailer.brakes.braked_axles trailer.brakes.drum"),
    ("us", "surge", "trailer.breakaway.battery trailer.brakes.drum"),
    ("eu", "surge", "trailer.breakaway.battery trailer.brakes.r13"),
    ("uk", "none", "trailer.brakes.parking trailer.brakes.r13"),
])  # fmt: skip
def test_a_starter_asks_nothing_that_the_brakes_leave_no_place_for(
    market: str, brakes: str, unwanted: str
) -> None:
    body = "caravan" if market in ("uk", "eu") else "camper"
    wanted = set(asked(Wish("Finch", market, "ball", body, "suv", 2, "electric")))
    assert set(unwanted.split()) - {"trailer.brakes.r13", "trailer.brakes.parking"} <= wanted
    assert not set(unwanted.split()) & set(asked(Wish("Finch", market, "ball", body, "suv", 2, brakes)))


def test_a_cargo_limit_is_inside_the_lowest_limit() -> None:
    """Elch has no payload on its plate: 1,850 less 780 kg by the papers, 1,778 less 780 kg by its axles."""
    for name, told in (("elch", "998 kg"), ("tor", "164 kg")):
        said = prepare(made(name).computed.rig, DAY).texts["cargo_limit"] or ""
        assert said.replace("\u00a0", " ") == told
    free = made(
        "elch", ("vehicle.tow_rating.tongue", "200 kg"), ("vehicle.receiver.weight_carrying.tongue", "200 kg")
    )
    assert (prepare(free.computed.rig, DAY).texts["cargo_limit"] or "").startswith("1,0")


def test_the_sheets_for_another_half_are_in_the_markets_words() -> None:
    def told(name: str, kind: str, half: str) -> str:
        tree = yaml.safe_load((FOLDER / f"{name}.yaml").read_text(encoding="utf-8"))
        for lost in (half, *(("gear",) if half == "vehicle" else ())):
            del tree[lost]
        tree |= {"cases": [{"name": "out"}]} | ({"occupants": []} if half == "vehicle" else {})
        read = read_rig(Path("rig.yaml"), Memory({"rig.yaml": json.dumps(tree, default=str)}))
        assert read.rig is not None, read.faults
        return str(KINDS[kind].make(prepare(read.rig, DAY)))

    for name in ("elch", "tor"):
        must, may = told(name, "must-have-sheet", "vehicle"), told(name, "may-tow-sheet", "trailer")
        assert [word for word in ("200", "60,960", "Brake controller") if word in must] == []
        assert [word for word in ("Brake controller", "electric brakes") if word in may] == []
    assert r"61\xa0m behind" in told("loon", "must-have-sheet", "vehicle")


def test_a_starter_writes_examples_as_the_market_does() -> None:
    for market in ("uk", "eu", "au", "nz", "ca"):
        text = starter(Wish("Finch", market, "ball", "caravan", "suv", 2, "electric"))
        assert "0 lb" not in text, market
        assert "tongue or pin" not in text, market
        # balls, mounts and tires are stamped alike in the US and Canada, where a 50 mm ball is a wrong one
        assert ("ST205/75R14" in text) is (market == "ca"), market
        assert (
            "ball size stamped on the coupler [m, cm or mm]: stamp on the coupler; like 2 in" in text
        ) is (market == "ca")


def test_a_starter_asks_no_brakes_of_a_trailer_without_any() -> None:
    for kind, moot in (("none", ("braked_axles", "r13", "fitted", "drum")), ("surge", ("battery", "drum"))):
        text = starter(Wish("Finch", "nz", "ball", "boat", "suv", 1, kind))
        trailer = text[text.index("  brakes:") : text.index("  dimensions:")]
        assert not [name for name in moot if f"    {name}: unknown" in trailer]


def test_only_fields_of_the_places_travelled_are_missing() -> None:
    """What Germany alone asks is no gap of a rig that stays in another country of the union."""
    bare = ("trailer.dampers", None), ("trailer.plate_100", None), ("vehicle.abs", None)
    german = set(left_open(made("elch", *bare).computed.rig))
    assert {"trailer.dampers", "trailer.plate_100", "vehicle.abs"} <= german
    elsewhere = set(left_open(made("elch", *bare, ("places", ("eu",))).computed.rig))
    assert not {"trailer.dampers", "trailer.plate_100", "vehicle.abs"} & elsewhere


@each("name", NAMES)
def test_nothing_is_asked_that_the_papers_said(name: str) -> None:
    """What is still open on a rig described from plate and papers is known, line by line."""
    open_ = {f.code for f in made(name).findings if f.outcome is Outcome.NOT_CHECKED and f.critical}
    assert open_ <= {"mount-height", "brake-wire", "breakaway-battery"}, open_


def _frozen(tree: dict[str, Any]) -> Any:
    return _Tree(tree)


class _Tree(dict[str, Any]):
    """A mapping that can be told apart by its contents, as the arguments of a cached function must be."""

    def __hash__(self) -> int:  # type: ignore[override]  # a dict of plain values that nobody changes
        return hash(repr(sorted(self.items())))
