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
    bare = Facts(brakes="none", braked_axles=0.0, axle_count=2.0, body="caravan")
    assert satisfied(rule, bare) is False
    full = replace(bare, brakes="electric", braked_axles=2.0)
    assert satisfied(rule, full) is True


@each("place", ["uk", "eu"])
def test_half_the_car(place: str) -> None:
    (rule,) = rules(place, "unbraked")
    assert satisfied(rule, Facts(gross=500.0, tow_unladen=1000.0)) is True
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
    facts = Facts(brakes="surge", gvwr=trailer * POUND, tow_gvwr=tow * POUND)
    (rule,) = rules("us-fmcsa", "surge")
    assert evaluate(rule, facts) is True
    assert satisfied(rule, facts) is met


@given(st.integers(3000, 30000), st.integers(500, 25000))
def test_surge_limit_agrees_with_the_rule(tow: int, trailer: int) -> None:
    facts = Facts(brakes="surge", gvwr=trailer * POUND, tow_gvwr=tow * POUND)
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
    assert [satisfied(r, facts) for r in rules("us-nh", "chains")] == [False]


@each(
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


@each(
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


@each(
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
        )
        answers.append(duty(place, "brakes", facts).applies)
    rank = {False: 0, None: 0, True: 1}
    ranks = [rank[a] for a in answers]
    assert ranks == sorted(ranks)
    assert answers[-1] is True


@each("place", known_places())
@each("topic", TOPICS)
def test_nothing_known_is_never_a_pass(place: str, topic: str) -> None:
    assert duty(place, topic, Facts()).applies is not False
    for rule in rules(place, topic):
        assert satisfied(rule, Facts()) is not True
