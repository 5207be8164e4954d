"""Rules of places by topic: surge brakes, chains, speeds, mirrors, gas and tunnels; and what is not known."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.exact import POUND, si
from cardgen.tables.facts import FACT_WORDS, Facts
from cardgen.tables.law import (
    TOPICS,
    Clause,
    all_rules,
    duty,
    evaluate,
    known_places,
    missing_facts,
    rules,
    satisfied,
)
from tests.each import each
from tests.tables.towed import HEAVY_TOW


@each("rule", [r for r in all_rules() if r.topic == "brakes"], ids=lambda r: r.id)
def test_a_trailer_without_brakes_never_meets_a_brake_rule(rule: Clause) -> None:
    bare = Facts(
        brakes="none", cab_brakes=False, braked_axles=0.0, axle_count=2.0, body="caravan", gvwr=3000.0
    )
    assert satisfied(rule, bare) is not True
    if rule.asks is not None:
        assert satisfied(rule, bare) is False
    full = replace(bare, brakes="electric", cab_brakes=True, braked_axles=2.0, brakes_r13=True)
    hidden = rule.unread and rule.unread_unless is None
    assert satisfied(rule, full) is (None if hidden else True)


@each("place", ["uk", "eu"])
def test_half_the_car(place: str) -> None:
    (rule,) = rules(place, "unbraked")
    assert satisfied(rule, Facts(gross=500.0, tow_unladen=1000.0, gvwr=750.0)) is True
    assert satisfied(rule, Facts(gross=501.0, tow_unladen=1000.0)) is False


# --- surge brakes, 49 CFR 393.48(d) ------------------------------------------------------


def surge_limit(tow_gvwr: float) -> float:
    """The paragraph as one number: 1.75 times up to 12,000 lb, 1.25 times above, under 20,001 lb [lb]."""
    light, heavy = 1.75 * tow_gvwr, 1.25 * tow_gvwr
    return min(heavy, 20000) if heavy > 12000 else min(light, 12000)


@each(
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
    facts = Facts(brakes="surge", gross=trailer * POUND, gvwr=trailer * POUND, tow_gvwr=tow * POUND)
    (rule,) = rules("us-fmcsa", "surge")
    assert evaluate(rule, facts) is True
    assert satisfied(rule, facts) is met
    # a load above the label: which weight counts then was not read
    assert satisfied(rule, replace(facts, gross=1.3 * trailer * POUND)) is (None if met else False)


@given(st.integers(3000, 30000), st.integers(500, 25000))
def test_surge_limit_agrees_with_the_rule(tow: int, trailer: int) -> None:
    facts = Facts(brakes="surge", gross=trailer * POUND, gvwr=trailer * POUND, tow_gvwr=tow * POUND)
    (rule,) = rules("us-fmcsa", "surge")
    allowed = trailer <= surge_limit(tow)
    # between 12,000 lb and 1.25 times a light vehicle's GVWR nothing is allowed
    assert satisfied(rule, facts) is allowed


def test_surge_does_not_bind_other_brakes() -> None:
    assert duty("us-fmcsa", "surge", Facts(brakes="electric")).applies is False


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
    assert satisfied(rules("us-nh", "chains")[0], facts) is False


@each(
    ("place", "coupling", "bound"),
    [
        ("us-tx", "ball", True),
        ("us-tx", "gooseneck", False),
        ("us-tx", "fifth_wheel", False),
        ("us-nh", "gooseneck", True),
        ("us-nh", "fifth_wheel", True),  # the words free no pickup; whether it needs a chain: look it up
        ("us-or", "gooseneck", False),
        ("us-va", "fifth_wheel", True),
        ("us-wa", "fifth_wheel", None),
    ],
)
def test_chain_exemptions(place: str, coupling: str, bound: bool | None) -> None:
    assert duty(place, "chains", Facts(coupling=coupling)).applies is bound


@each(
    ("place", "text", "met"),
    [
        ("us-ca", "55 mph", True),
        ("us-ca", "56 mph", False),
        ("uk", "50 mph", True),
        ("uk", "60 mph", None),  # on some roads only
        ("uk", "61 mph", False),
        ("nz", "90 km/h", True),
        ("nz", "91 km/h", False),
        ("de", "80 km/h", True),
        ("de", "81 km/h", None),
    ],
)
def test_speeds(place: str, text: str, met: bool) -> None:
    facts = Facts(planned_speed=si(text), tow_kind="car")
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
    rigid_body=True,
    plate_100=True,
    stabiliser_certified=False,
    tow_kind="car",
    tow_rating_braked=2500.0,
)


@each(
    ("share", "changes", "met"),
    [
        # kept as far as a rig can state it: motorways only, nose weight near its limit (unread)
        (0.80, {}, None),
        (0.80, {"planned_speed": si("80 km/h")}, True),
        (0.81, {}, False),
        (0.80, {"rigid_body": False}, False),
        (0.80, {"plate_100": False}, False),
        (1.00, {"stabiliser_certified": True}, None),
        (1.01, {"stabiliser_certified": True}, False),
        (1.00, {"stabiliser_certified": True, "tow_gvwr": 1400.0}, None),
        (
            1.00,
            {"stabiliser_certified": True, "tow_rating_braked": 1400.0},
            None,
        ),  # the caps are those of other trailers
        (1.10, {"body": "boat"}, None),
        (1.11, {"body": "boat"}, False),
        (1.20, {"body": "boat", "stabiliser_certified": True}, None),
        (1.21, {"body": "boat", "stabiliser_certified": True}, False),
        (0.30, {"dampers": False}, None),
        (0.31, {"dampers": False}, False),
        (0.31, {"brakes": "none"}, False),
        (0.30, {"brakes": "none"}, None),
        (0.10, {"planned_speed": si("80 km/h"), "tow_kind": "truck", "tow_gvwr": 5000.0}, False),
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
    # Nebraska, Virginia, Washington, Oregon and Illinois go by what the driver sees, never by width
    wide = Facts(trailer_width=2.5, tow_width=1.9, towing_mirrors=True)
    for place in ("us-ne", "us-va", "us-wa", "us-or", "us-il"):
        for width in (1.8, 2.5):
            facts = replace(wide, trailer_width=width, sight_blocked=True)
            found = duty(place, "mirrors", facts)
            assert found.applies is True
            assert satisfied(found.binding[0], facts) is None
            assert satisfied(found.binding[0], replace(facts, view_behind=False)) is False
            assert satisfied(found.binding[0], replace(facts, view_behind=True)) is True
    assert duty("us-ne", "mirrors", wide).applies is None  # an open trailer: look behind
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
    low = Facts(trailer_width=si("96 in"), combination_height=si("13.5 ft"))
    assert satisfied(rule, low) is True
    assert satisfied(rule, replace(low, trailer_width=si("102 in"))) is False
    assert satisfied(rule, replace(low, combination_height=si("13.51 ft"))) is False
    assert satisfied(rule, replace(low, combination_height=None)) is None


# --- properties ---------------------------------------------------------------------------


@each("place", [p for p in known_places() if rules(p, "brakes")])
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
            trailer_year=2015.0,
            registered_gross=float(kilograms),
            brakes="electric",
            axle_count=2.0,
            axle_spacing=0.9,
        )
        answers.append(duty(place, "brakes", facts).applies)
    rank = {False: 0, None: 0, True: 1}
    ranks = [rank[a] for a in answers]
    assert ranks == sorted(ranks)
    assert answers[-1] is True or all(r.unread and not r.when for r in rules(place, "brakes"))


@each("place", known_places())
@each("topic", TOPICS)
def test_nothing_known_is_never_a_pass(place: str, topic: str) -> None:
    assert duty(place, topic, Facts()).applies is not False
    for rule in rules(place, topic):
        assert satisfied(rule, Facts()) is not True
