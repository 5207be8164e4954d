"""Rules of places: printed thresholds at both sides, compound rules, and unknowns."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.exact import POUND, si
from cardgen.tables.facts import FACT_WORDS, Facts
from cardgen.tables.law import (
    TOPICS,
    Rule,
    all_rules,
    duty,
    evaluate,
    known_places,
    missing_facts,
    place_words,
    rules,
    satisfied,
    speaks_of,
    surge_limit,
)
from cardgen.tables.lookup import NotInTableError, OutOfTableError

HEAVY_TOW = Facts(tow_gross=20000 * POUND, tow_axles=20000 * POUND, tow_unladen=4000.0)


def rig(pounds: float, body: str = "travel_trailer", mph: float = 60.0) -> Facts:
    """A trailer of some gross weight behind a heavy vehicle."""
    return replace(
        HEAVY_TOW,
        gross=pounds * POUND,
        trailer_axles=0.9 * pounds * POUND,
        body=body,
        planned_speed=si(f"{mph} mph"),
    )


# --- the table itself -------------------------------------------------------------------


def test_every_rule_is_well_formed() -> None:
    ids = [r.id for r in all_rules()]
    assert len(ids) == len(set(ids))
    for rule in all_rules():
        assert rule.topic in TOPICS, rule.id
        assert rule.place in known_places()
        assert rule.seen == "2026-11"
        assert rule.text
        assert rule.text[-1] != "."
        assert rule.when is not None or rule.asks is not None or rule.topic == "mirrors"


def test_every_place_has_a_rule_and_a_name() -> None:
    for place in known_places():
        assert rules(place), place
        assert place_words(place)


def test_law_only_where_the_text_was_read() -> None:
    for rule in all_rules():
        if rule.force != "guidance":
            assert rule.source.standing.value == "official text"
        assert (rule.force == "commercial law") == (rule.commercial and rule.force != "guidance")
    assert {r.force for r in rules("us-fmcsa", "surge")} == {"commercial law"}
    assert {r.force for r in rules("uk", "tow_ratio")} == {"guidance"}
    assert {r.force for r in rules("us-va", "brakes")} == {"law"}


def test_thresholds_keep_the_printed_text() -> None:
    (rule,) = rules("us-ca", "brakes")
    first = rule.thresholds[0]
    assert (first.quantity, first.operator, first.original) == ("gross", ">=", "gross >= 1,500 lb")
    assert first.value == pytest.approx(1500 * POUND)


def test_unknown_place_is_never_a_pass() -> None:
    assert rules("us-xx") == ()
    found = duty("us-xx", "brakes", rig(500))
    assert found.applies is None
    assert "no rule on brakes for 'us-xx'" in found.reason
    with pytest.raises(NotInTableError):
        place_words("us-xx")


def test_unknown_topic_is_refused() -> None:
    with pytest.raises(NotInTableError):
        rules("us-va", "paint")


def test_a_place_includes_its_wider_place() -> None:
    assert {r.id for r in rules("de", "brakes")} == {"eu.brakes"}
    assert {r.id for r in rules("au-tas", "brakes")} == {"au.brakes", "au.brakes-all", "au-tas.brakes"}


# --- brakes, by the printed thresholds --------------------------------------------------


# a travel trailer of 3,200 lb gross: CA, VA, IL, WA yes; TX no; NC yes as a house trailer
@pytest.mark.parametrize(
    ("place", "body", "needed"),
    [
        ("us-ca", "travel_trailer", True),
        ("us-va", "travel_trailer", True),
        ("us-il", "travel_trailer", True),
        ("us-wa", "travel_trailer", True),
        ("us-tx", "travel_trailer", False),
        ("us-nc", "travel_trailer", True),
        ("us-nc", "utility", False),
        ("us-nv", "travel_trailer", True),
        ("us-md", "travel_trailer", True),
    ],
)
def test_a_3200_lb_travel_trailer_by_state(place: str, body: str, needed: bool) -> None:
    assert duty(place, "brakes", rig(3200, body)).applies is needed


# thresholds with their operator: just below, at, just above
@pytest.mark.parametrize(
    ("place", "pounds", "below", "at", "above"),
    [
        ("us-ca", 1500, False, True, True),
        ("us-va", 3000, False, True, True),
        ("us-il", 3000, False, False, True),
        ("us-wa", 3000, False, False, True),
        ("us-md", 3000, False, False, True),
        ("us-tx", 4500, False, False, True),
        ("us-nc", 1000, False, True, True),
        ("us-nv", 1500, False, True, True),
        ("us-fmcsa", 3000, False, False, True),
        ("ca-on", 1360 / POUND, False, True, True),
        ("uk", 750 / POUND, None, None, True),  # the plate decides below
    ],
)
def test_brake_thresholds(
    place: str, pounds: float, below: bool | None, at: bool | None, above: bool | None
) -> None:
    assert duty(place, "brakes", rig(pounds - 1)).applies is below
    assert duty(place, "brakes", rig(pounds)).applies is at
    assert duty(place, "brakes", rig(pounds * (1 + 1e-12))).applies is at
    assert duty(place, "brakes", rig(pounds + 1)).applies is above


@pytest.mark.parametrize("place", ["us-wa", "us-md"])
def test_light_trailer_behind_a_light_vehicle(place: str) -> None:
    # 3,000 lb and 40 percent of the vehicle: both must hold for the exemption
    tow = 5000 * POUND
    assert duty(place, "brakes", Facts(gross=0.40 * tow, tow_gross=tow)).applies is False
    assert duty(place, "brakes", Facts(gross=0.41 * tow, tow_gross=tow)).applies is True
    unknown = duty(place, "brakes", Facts(gross=0.41 * tow))
    assert unknown.applies is None
    assert unknown.missing == ("tow_gross",)
    assert "loaded vehicle weight" in unknown.reason


def test_commercial_ratio_counts_axle_loads() -> None:
    # 49 CFR 393.42(b)(3): axle weight of the trailer against that of the towing vehicle
    facts = Facts(gross=2900 * POUND, trailer_axles=2600 * POUND, tow_axles=6400 * POUND)
    assert duty("us-fmcsa", "brakes", facts).applies is True  # 40.6 percent
    assert duty("us-fmcsa", "brakes", replace(facts, tow_axles=6600 * POUND)).applies is False


@pytest.mark.parametrize(
    ("pounds", "mph", "needed"),
    [
        (4500, 70, False),
        (4501, 31, True),
        (4501, 30, False),
        (15000, 30, False),
        (15001, 30, True),
        (15001, 10, True),
    ],
)
def test_texas_30_mph(pounds: float, mph: float, needed: bool) -> None:
    assert duty("us-tx", "brakes", rig(pounds, "utility", mph)).applies is needed


def test_texas_without_a_speed() -> None:
    found = duty("us-tx", "brakes", replace(rig(6000), planned_speed=None))
    assert found.applies is None
    assert found.missing == ("planned_speed",)
    assert duty("us-tx", "brakes", replace(rig(16000), planned_speed=None)).applies is True


def test_maryland_asks_for_all_wheels_from_10000_lb() -> None:
    two_axles = replace(rig(9999), brakes="electric", braked_axles=1.0, axle_count=2.0)
    found = duty("us-md", "brakes", two_axles)
    assert [r.id for r in found.binding] == ["us-md.brakes"]
    assert satisfied(found.binding[0], two_axles) is True
    heavier = replace(two_axles, gross=10000 * POUND)
    found = duty("us-md", "brakes", heavier)
    assert [r.id for r in found.binding] == ["us-md.brakes", "us-md.brakes-all"]
    assert [satisfied(r, heavier) for r in found.binding] == [True, False]


def test_illinois_breakaway_starts_above_5000_lb() -> None:
    assert [evaluate(r, rig(5000)) for r in rules("us-il", "breakaway")] == [False]
    assert [evaluate(r, rig(5001)) for r in rules("us-il", "breakaway")] == [True]


def test_california_speaks_of_camp_trailers_only() -> None:
    (rule,) = rules("us-ca", "brakes")
    assert speaks_of(rule, rig(5000, "utility")) is False
    found = duty("us-ca", "brakes", rig(5000, "utility"))
    assert found.applies is None
    assert "do not say what holds for this trailer" in found.reason
    assert duty("us-ca", "brakes", replace(rig(5000), body=None)).missing == ("body",)


def test_alberta_needs_both() -> None:
    # none up to 910 kg, nor below half of the unloaded vehicle
    facts = Facts(gross=910.0, tow_unladen=1500.0)
    assert duty("ca-ab", "brakes", facts).applies is False
    assert duty("ca-ab", "brakes", replace(facts, gross=911.0)).applies is True
    assert duty("ca-ab", "brakes", replace(facts, gross=911.0, tow_unladen=2000.0)).applies is False


def test_british_columbia() -> None:
    light = Facts(gross=1000.0, tow_unladen=2100.0)
    assert duty("ca-bc", "brakes", light).applies is False
    assert duty("ca-bc", "brakes", replace(light, tow_unladen=1900.0)).applies is True
    heavy = Facts(
        gross=2801.0, tow_unladen=3000.0, brakes="surge", braked_axles=2.0, axle_count=2.0, body="boat"
    )
    found = duty("ca-bc", "brakes", heavy)
    assert [satisfied(r, heavy) for r in found.binding] == [True, False]
    electric = replace(heavy, brakes="electric")
    assert [satisfied(r, electric) for r in duty("ca-bc", "brakes", electric).binding] == [True, True]
    # a house trailer of three axles may have brakes on two
    house = replace(electric, body="caravan", axle_count=3.0)
    assert [satisfied(r, house) for r in duty("ca-bc", "brakes", house).binding] == [True, True]
    utility = replace(house, body="utility")
    assert [satisfied(r, utility) for r in duty("ca-bc", "brakes", utility).binding] == [True, False]


def test_great_britain_and_europe() -> None:
    unbraked = Facts(gross=700.0, gvwr=750.0, brakes="none", tow_unladen=1500.0)
    assert duty("uk", "brakes", unbraked).applies is False
    assert duty("uk", "brakes", replace(unbraked, gvwr=1300.0)).applies is True
    (rule,) = rules("uk", "unbraked")
    assert evaluate(rule, unbraked) is True
    assert satisfied(rule, unbraked) is True
    assert satisfied(rule, replace(unbraked, tow_unladen=1399.0)) is False  # over half the car
    assert satisfied(rule, replace(unbraked, gross=751.0)) is False
    assert duty("eu", "brakes", unbraked).applies is False
    assert duty("eu", "brakes", replace(unbraked, gvwr=751.0)).applies is True


def test_breakaway_or_secondary_coupling_in_britain() -> None:
    mid = Facts(gvwr=1500.0, breakaway=False, secondary_coupling=True)
    found = duty("uk", "breakaway", mid)
    assert [r.id for r in found.binding] == ["uk.breakaway-or-coupling"]
    assert satisfied(found.binding[0], mid) is True
    heavy = replace(mid, gvwr=1501.0)
    found = duty("uk", "breakaway", heavy)
    assert [r.id for r in found.binding] == ["uk.breakaway"]
    assert satisfied(found.binding[0], heavy) is False


def test_australia_counts_the_axle_load_not_the_plate() -> None:
    # ATM 790 kg with 60 kg on the ball is 730 kg GTM: no brakes asked
    facts = Facts(gvwr=790.0, gross=790.0, gtm=730.0, brakes="none")
    assert duty("au", "brakes", facts).applies is False
    assert duty("au", "brakes", replace(facts, gtm=751.0)).applies is True
    heavy = Facts(gtm=2001.0, brakes="surge", braked_axles=2.0, axle_count=2.0)
    found = duty("au", "brakes", heavy)
    assert [satisfied(r, heavy) for r in found.binding] == [True, False]
    assert duty("au-nsw", "breakaway", heavy).applies is True


def test_new_zealand_chains() -> None:
    light = Facts(gross=2000.0, chain_count=1.0, breakaway=False)
    found = duty("nz", "chains", light)
    assert [r.id for r in found.binding] == ["nz.chains"]
    assert satisfied(found.binding[0], light) is True
    heavy = Facts(gross=2001.0, chain_count=2.0, chain_each=4001.0, breakaway=False)
    found = duty("nz", "chains", heavy)
    assert [r.id for r in found.binding] == ["nz.chains-two"]
    assert satisfied(found.binding[0], heavy) is False  # each needs twice the laden mass
    assert satisfied(found.binding[0], replace(heavy, chain_each=4002.0)) is True
    assert satisfied(found.binding[0], replace(heavy, breakaway=True)) is True


# every other printed threshold: rule, fact, printed value, whether it binds below, at, above
@pytest.mark.parametrize(
    ("rule_id", "fact", "printed", "below", "at", "above"),
    [
        ("us-tx.brakes", "gross", "15,000 lb", False, False, True),
        ("us-wa.breakaway", "gross", "3,000 lb", False, False, True),
        ("us-md.breakaway", "gross", "3,000 lb", False, False, True),
        ("us-md.brakes-all", "gross", "10,000 lb", False, True, True),
        ("us-il.breakaway", "gross", "5,000 lb", False, False, True),
        ("us-nc.brakes", "gross", "4,000 lb", False, True, True),
        ("us-nc.brakes-house", "gross", "1,000 lb", False, True, True),
        ("us-fmcsa.breakaway", "gross", "3,000 lb", False, False, True),
        ("us-fmcsa.breakaway", "trailer_axles", "40 kg", False, False, True),
        ("us-fmcsa.brakes", "trailer_axles", "40 kg", False, False, True),
        ("us-md.breakaway", "gross", "400 kg", False, False, True),
        ("us-wa.brakes", "gross", "400 kg", False, False, True),
        ("us-md.brakes", "gross", "400 kg", False, False, True),
        ("uk.brakes", "gross", "750 kg", False, False, True),
        ("uk.brakes-plate", "gvwr", "750 kg", False, False, True),
        ("uk.breakaway", "gvwr", "1,500 kg", False, False, True),
        ("uk.breakaway-or-coupling", "gvwr", "750 kg", False, False, True),
        ("uk.breakaway-or-coupling", "gvwr", "1,500 kg", True, True, False),
        ("uk.length", "tow_gvwr", "3,500 kg", True, True, False),
        ("eu.brakes", "gvwr", "750 kg", False, False, True),
        ("eu.breakaway", "gvwr", "1,500 kg", False, False, True),
        ("eu.breakaway-or-coupling", "gvwr", "750 kg", False, False, True),
        ("eu.breakaway-or-coupling", "gvwr", "1,500 kg", True, True, False),
        ("eu.secondary_coupling", "gvwr", "750 kg", True, True, False),
        ("au.brakes", "gtm", "750 kg", False, False, True),
        ("au.brakes-all", "gtm", "2,000 kg", False, False, True),
        ("au.breakaway", "gtm", "2,000 kg", False, False, True),
        ("au-nsw.breakaway", "gtm", "2,000 kg", False, False, True),
        ("au-tas.brakes", "gtm", "750 kg", False, False, True),
        ("au.chains", "gvwr", "2,500 kg", True, True, False),
        ("au.chains-two", "gvwr", "2,500 kg", False, False, True),
        ("au.chains-two", "gvwr", "3,500 kg", True, True, False),
        ("nz.chains", "gross", "2,000 kg", True, True, False),
        ("nz.chains-two", "gross", "2,000 kg", False, False, True),
        ("nz.chains-two", "gross", "2,500 kg", True, True, False),
        ("nz.brakes", "gross", "2,000 kg", False, False, True),
        ("nz.brakes-all", "gross", "2,500 kg", False, False, True),
        ("nz.breakaway", "gross", "2,500 kg", False, False, True),
        ("ca-bc.brakes", "gross", "1,400 kg", False, False, True),
        ("ca-bc.brakes-all", "gross", "2,800 kg", False, False, True),
        ("ca-bc.breakaway", "gross", "1,400 kg", False, False, True),
        ("ca-bc.brakes", "gross", "500 kg", False, False, True),
    ],
)
def test_printed_thresholds(
    rule_id: str, fact: str, printed: str, below: bool, at: bool, above: bool
) -> None:
    rule = next(r for r in all_rules() if r.id == rule_id)
    heavy = si(printed) > 600
    # ratios are probed against 1,000 kg (gross) and 100 kg (axles), plain figures behind 50 t
    base = Facts(
        gross=100.0,
        gvwr=100.0,
        trailer_axles=10.0,
        tow_axles=100.0,
        tow_gross=50000.0 if heavy else 1000.0,
        tow_unladen=50000.0 if heavy else 1000.0,
        planned_speed=5.0,
        body=rule.bodies[0] if rule.bodies else "boat",
    )
    value = si(printed)
    got = [
        evaluate(rule, replace(base, **{fact: value * step}))  # type: ignore[arg-type]  # by name
        for step in (1 - 1e-6, 1.0, 1 + 1e-6)
    ]
    assert got == [below, at, above]


# what a binding rule asks: rule, fact, printed value, whether it is met below, at, above
@pytest.mark.parametrize(
    ("rule_id", "fact", "printed", "below", "at", "above"),
    [
        ("uk.unbraked", "gross", "750 kg", True, True, False),
        ("eu.unbraked", "gross", "750 kg", True, True, False),
        ("nz.unbraked", "gross", "37500 kg", True, True, False),
        ("uk.tow_ratio", "gvwr", "42500 kg", True, True, False),
        ("uk.length", "body_length", "7 m", True, True, False),
        ("uk.width", "trailer_width", "2.55 m", True, True, False),
        ("us-md.size", "trailer_width", "96 in", True, True, False),
        ("us-md.lp_tunnel", "cylinder_largest", "10 lb", True, True, False),
        ("us-wa.lp_ferry", "lp_total", "100 lb", True, True, False),
        ("us-ca.speed", "planned_speed", "55 mph", True, True, False),
        ("nz.chains-two", "chain_each", "200 kg", False, True, True),
        ("us-nh.chains", "chain_each", "100 kg", False, True, True),
        ("us-or.chains", "chain_each", "100 kg", False, True, True),
        ("ca-on.chains", "chain_each", "100 kg", False, True, True),
        ("us-fmcsa.chains", "chain_total", "100 kg", False, True, True),
    ],
)
def test_printed_demands(rule_id: str, fact: str, printed: str, below: bool, at: bool, above: bool) -> None:
    rule = next(r for r in all_rules() if r.id == rule_id)
    base = Facts(gross=100.0, tow_unladen=50000.0, chain_count=2.0, cylinder_count=2.0, breakaway=False)
    got = [
        satisfied(rule, replace(base, **{fact: si(printed) * step}))  # type: ignore[arg-type]  # by name
        for step in (1 - 1e-6, 1.0, 1 + 1e-6)
    ]
    assert got == [below, at, above]


@pytest.mark.parametrize(
    ("rule_id", "count"),
    [
        ("us-ca.chains", 1),
        ("us-va.chains", 1),
        ("us-tx.chains", 1),
        ("us-wa.chains", 2),
        ("us-il.chains", 2),
        ("au.chains", 1),
        ("au.chains-two", 2),
    ],
)
def test_number_of_chains(rule_id: str, count: int) -> None:
    rule = next(r for r in all_rules() if r.id == rule_id)
    assert satisfied(rule, Facts(chain_count=float(count))) is True
    assert satisfied(rule, Facts(chain_count=float(count - 1))) is False


@pytest.mark.parametrize("rule", [r for r in all_rules() if r.topic == "brakes"], ids=lambda r: r.id)
def test_a_trailer_without_brakes_never_meets_a_brake_rule(rule: Rule) -> None:
    bare = Facts(brakes="none", braked_axles=0.0, axle_count=2.0, body="caravan")
    assert satisfied(rule, bare) is False
    full = replace(bare, brakes="electric", braked_axles=2.0)
    assert satisfied(rule, full) is True


@pytest.mark.parametrize("place", ["uk", "eu"])
def test_half_the_car(place: str) -> None:
    (rule,) = rules(place, "unbraked")
    assert satisfied(rule, Facts(gross=500.0, tow_unladen=1000.0)) is True
    assert satisfied(rule, Facts(gross=501.0, tow_unladen=1000.0)) is False


# --- surge brakes, 49 CFR 393.48(d) ------------------------------------------------------


@pytest.mark.parametrize(
    ("tow", "trailer"), [(6000, 10500), (15000, 18750), (7000, 12000), (9600, 12000), (20000, 20000)]
)
def test_surge_limit(tow: float, trailer: float) -> None:
    assert surge_limit(tow * POUND) / POUND == pytest.approx(trailer)


@pytest.mark.parametrize(
    ("tow", "trailer", "met"),
    [
        (6000, 10500, True),
        (6000, 10501, False),
        (6572, 11500, True),  # published as 6,572, exact 6,571.4
        (6571, 11500, False),
        (15000, 18750, True),
        (15000, 18751, False),
        (30000, 20001, False),
        (30000, 20000, True),
        (9000, 12001, False),
    ],
)
def test_surge_rule(tow: float, trailer: float, met: bool) -> None:
    facts = Facts(brakes="surge", gvwr=trailer * POUND, tow_gvwr=tow * POUND)
    (rule,) = rules("us-fmcsa", "surge")
    assert evaluate(rule, facts) is True
    assert satisfied(rule, facts) is met


@given(st.integers(3000, 30000), st.integers(500, 25000))
def test_surge_limit_agrees_with_the_rule(tow: int, trailer: int) -> None:
    facts = Facts(brakes="surge", gvwr=trailer * POUND, tow_gvwr=tow * POUND)
    (rule,) = rules("us-fmcsa", "surge")
    allowed = trailer * POUND <= surge_limit(tow * POUND) * (1 + 1e-12)
    # between 12,000 lb and 1.25 times a light vehicle's GVWR nothing is allowed
    assert satisfied(rule, facts) is allowed


def test_surge_does_not_bind_other_brakes() -> None:
    assert duty("us-fmcsa", "surge", Facts(brakes="electric")).applies is False
    with pytest.raises(OutOfTableError):
        surge_limit(0.0)


# --- chains, speed, mirrors, gas ----------------------------------------------------------


def test_two_5000_lb_chains_on_7000_lb() -> None:
    # together enough for commercial rules, each too weak in New Hampshire
    facts = Facts(
        gross=7000 * POUND,
        coupling="ball",
        chain_count=2.0,
        chain_each=5000 * POUND,
        chain_total=10000 * POUND,
    )
    assert [satisfied(r, facts) for r in rules("us-fmcsa", "chains")] == [True]
    assert [satisfied(r, facts) for r in rules("us-nh", "chains")] == [False]


@pytest.mark.parametrize(
    ("place", "coupling", "bound"),
    [
        ("us-tx", "ball", True),
        ("us-tx", "gooseneck", False),
        ("us-tx", "fifth_wheel", False),
        ("us-nh", "gooseneck", True),
        ("us-nh", "fifth_wheel", False),
        ("us-or", "gooseneck", False),
        ("us-va", "fifth_wheel", None),
        ("us-wa", "fifth_wheel", None),
    ],
)
def test_chain_exemptions(place: str, coupling: str, bound: bool | None) -> None:
    assert duty(place, "chains", Facts(coupling=coupling)).applies is bound


@pytest.mark.parametrize(
    ("place", "text", "met"),
    [
        ("us-ca", "55 mph", True),
        ("us-ca", "56 mph", False),
        ("uk", "60 mph", True),
        ("uk", "61 mph", False),
        ("nz", "90 km/h", True),
        ("nz", "91 km/h", False),
        ("de", "80 km/h", True),
    ],
)
def test_speeds(place: str, text: str, met: bool) -> None:
    facts = Facts(planned_speed=si(text))
    (rule,) = rules(place, "speed")
    assert evaluate(rule, facts) is True
    assert satisfied(rule, facts) is met


TEMPO = Facts(
    planned_speed=si("100 km/h"),
    tow_abs=True,
    tow_gvwr=2500.0,
    tow_unladen=1500.0,
    tire_age=5.9,
    tire_speed=si("120 km/h"),
    body="caravan",
    brakes="surge",
    dampers=True,
    stabiliser=False,
)


@pytest.mark.parametrize(
    ("share", "changes", "met"),
    [
        (0.80, {}, True),
        (0.81, {}, False),
        (1.00, {"stabiliser": True}, True),
        (1.01, {"stabiliser": True}, False),
        (1.10, {"body": "boat"}, True),
        (1.11, {"body": "boat"}, False),
        (1.20, {"body": "boat", "stabiliser": True}, True),
        (1.21, {"body": "boat", "stabiliser": True}, False),
        (0.30, {"dampers": False}, True),
        (0.31, {"dampers": False}, False),
        (0.31, {"brakes": "none"}, False),
        (0.30, {"brakes": "none"}, True),
        (0.80, {"tire_age": 6.0}, False),
        (0.80, {"tire_speed": si("110 km/h")}, False),
        (0.80, {"tow_abs": False}, False),
        (0.80, {"planned_speed": si("101 km/h")}, False),
        (0.80, {"tow_abs": None}, None),
        (0.80, {"dampers": None}, None),
    ],
)
def test_tempo_100(share: float, changes: dict[str, float | str | bool | None], met: bool | None) -> None:
    facts = replace(TEMPO, gvwr=share * 1500.0, **changes)  # type: ignore[arg-type]  # mixed table
    (rule,) = rules("de", "speed")
    assert satisfied(rule, facts) is met


def test_what_tempo_100_lacks_is_named() -> None:
    (rule,) = rules("de", "speed")
    names = missing_facts(rule, Facts(planned_speed=si("100 km/h")))
    assert {"tow_abs", "tire_age", "tire_speed", "tow_unladen"} <= set(names)
    assert all(n in FACT_WORDS for n in names)


def test_mirrors() -> None:
    wide = Facts(trailer_width=2.5, tow_width=1.9, towing_mirrors=False)
    found = duty("us-ne", "mirrors", wide)
    assert found.applies is True
    assert satisfied(found.binding[0], wide) is False
    assert duty("us-ne", "mirrors", replace(wide, trailer_width=1.8)).applies is False
    assert duty("uk", "mirrors", Facts(trailer_width=2.2)).missing == ("tow_width",)
    # a rule without anything computable is never met by silence
    (commercial,) = rules("us-fmcsa", "mirrors")
    assert evaluate(commercial, wide) is True
    assert satisfied(commercial, wide) is None


def test_two_20_lb_cylinders() -> None:
    # barred from the Baltimore tunnels even when empty, allowed on the ferry shut and tagged
    facts = Facts(cylinder_count=2.0, cylinder_largest=20 * POUND, lp_total=40 * POUND)
    (tunnel,), (ferry,) = rules("us-md", "lp_tunnel"), rules("us-wa", "lp_ferry")
    assert evaluate(tunnel, facts) is True
    assert satisfied(tunnel, facts) is False
    assert satisfied(ferry, facts) is True
    assert satisfied(ferry, replace(facts, lp_total=101 * POUND)) is False
    small = Facts(cylinder_count=10.0, cylinder_largest=10 * POUND)
    assert satisfied(tunnel, small) is True
    assert satisfied(tunnel, replace(small, cylinder_count=11.0)) is False
    assert duty("us-md", "lp_tunnel", Facts(cylinder_count=0.0)).applies is False


def test_tunnel_width() -> None:
    (rule,) = rules("us-md", "size")
    assert satisfied(rule, Facts(trailer_width=si("96 in"))) is True
    assert satisfied(rule, Facts(trailer_width=si("102 in"))) is False


# --- properties ---------------------------------------------------------------------------


@pytest.mark.parametrize("place", [p for p in known_places() if rules(p, "brakes")])
def test_brakes_once_asked_stay_asked_for_heavier_trailers(place: str) -> None:
    answers = []
    for kilograms in range(100, 9000, 50):
        facts = replace(
            HEAVY_TOW,
            gross=float(kilograms),
            gvwr=float(kilograms),
            gtm=0.9 * kilograms,
            trailer_axles=0.9 * kilograms,
            body="caravan",
            planned_speed=25.0,
        )
        answers.append(duty(place, "brakes", facts).applies)
    rank = {False: 0, None: 0, True: 1}
    ranks = [rank[a] for a in answers]
    assert ranks == sorted(ranks)
    assert answers[-1] is True


@pytest.mark.parametrize("place", known_places())
@pytest.mark.parametrize("topic", TOPICS)
def test_nothing_known_is_never_a_pass(place: str, topic: str) -> None:
    assert duty(place, topic, Facts()).applies is not False
    for rule in rules(place, topic):
        assert satisfied(rule, Facts()) is not True
