"""Rules of places: brakes by weight, compound rules, and unknowns."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen.tables.exact import POUND
from cardgen.tables.facts import Facts
from cardgen.tables.law import (
    TOPICS,
    all_rules,
    duty,
    evaluate,
    known_places,
    place_words,
    rules,
    satisfied,
    speaks_of,
)
from cardgen.tables.lookup import NotInTableError
from tests.each import each
from tests.tables.towed import rig


def test_every_rule_is_well_formed() -> None:
    ids = [r.id for r in all_rules()]
    assert len(ids) == len(set(ids))
    for rule in all_rules():
        assert rule.topic in TOPICS, rule.id
        assert rule.place in known_places()
        assert rule.seen == "2026-11"
        assert rule.text
        assert rule.text[-1] != "."
        assert rule.when is not None or rule.asks is not None or rule.unread or rule.topic == "mirrors"


def test_every_place_has_a_rule_and_a_name() -> None:
    for place in known_places():
        assert rules(place), place
        assert place_words(place)


def test_law_only_where_the_text_was_read() -> None:
    for rule in all_rules():
        if rule.force != "guidance":
            assert rule.source.standing.value == "official text"
        assert (rule.force == "commercial law") == (rule.commercial and rule.force != "guidance")
    assert {r.force for r in rules("us-fmcsa", "chains")} == {"commercial law"}
    assert {r.force for r in rules("us-fmcsa", "surge")} == {"guidance"}  # read in a copy, in part
    assert {r.force for r in rules("uk", "tow_ratio")} == {"guidance"}
    assert {r.force for r in rules("us-va", "brakes")} == {"guidance"}  # a word-for-word copy
    assert {r.force for r in rules("us-nh", "brakes")} == {"law"}


def test_thresholds_keep_the_printed_text() -> None:
    rule = rules("us-ca", "brakes")[0]
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
    assert {r.id for r in rules("de", "brakes")} == {"eu.brakes", "de.brakes"}
    assert {r.place for r in rules("au-tas", "brakes")} == {"au", "au-tas"}


# --- brakes, by the printed thresholds --------------------------------------------------


# a travel trailer of 3,200 lb gross: CA, VA, IL, WA yes; TX no; NC yes as a house trailer
@each(
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
@each(
    ("place", "pounds", "below", "at", "above"),
    [
        ("us-ca", 1500, False, True, True),
        ("us-va", 3000, False, True, True),
        ("us-il", 3000, False, False, True),
        ("us-wa", 3000, None, None, True),  # let off only if it stops as another section asks
        ("us-md", 3000, None, None, True),
        ("us-tx", 4500, False, False, True),
        ("us-nc", 1000, False, True, True),
        ("us-nv", 1500, False, True, True),
        ("us-fmcsa", 3000, False, False, True),
        ("ca-on", 1360 / POUND, False, True, True),
        ("uk", 750 / POUND, False, False, True),
    ],
)
def test_brake_thresholds(
    place: str, pounds: float, below: bool | None, at: bool | None, above: bool | None
) -> None:
    assert duty(place, "brakes", rig(pounds - 1)).applies is below
    assert duty(place, "brakes", rig(pounds)).applies is at
    assert duty(place, "brakes", rig(pounds * (1 + 1e-12))).applies is at
    assert duty(place, "brakes", rig(pounds + 1)).applies is above


@each("place", ["us-wa", "us-md"])
def test_light_trailer_behind_a_light_vehicle(place: str) -> None:
    # 3,000 lb, and its wheels carry at most 40 percent of the vehicle when connected: both must hold
    tow = 5000 * POUND
    light = Facts(gross=2500 * POUND, registered_gross=2500 * POUND, tow_axles=tow)
    assert duty(place, "brakes", replace(light, trailer_axles=0.41 * tow)).applies is True
    off = duty(place, "brakes", replace(light, trailer_axles=0.40 * tow))
    assert off.applies is None  # the third condition, stopping, is no fact of a rig
    assert "look it up" in off.reason
    unknown = duty(place, "brakes", replace(light, tow_axles=None, trailer_axles=0.41 * tow))
    assert unknown.applies is None
    assert unknown.missing == ("tow_axles",)


def test_commercial_ratio_counts_axle_loads() -> None:
    # 49 CFR 393.42(b)(3): axle weight of the trailer against that of the towing vehicle
    facts = Facts(gross=2900 * POUND, trailer_axles=2600 * POUND, tow_axles=6400 * POUND)
    assert duty("us-fmcsa", "brakes", facts).applies is True  # 40.6 percent
    assert duty("us-fmcsa", "brakes", replace(facts, tow_axles=6600 * POUND)).applies is False


@each(
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


def test_maryland_goes_by_the_registered_weight_and_asks_for_all_wheels() -> None:
    light = replace(rig(2900), registered_gross=5000 * POUND, brakes="electric", axle_count=2.0)
    (rule,) = duty("us-md", "brakes", light).binding
    assert satisfied(rule, replace(light, braked_axles=2.0)) is True
    assert satisfied(rule, replace(light, braked_axles=1.0)) is None  # a relief that was not read
    assert satisfied(rule, replace(light, brakes="none", braked_axles=0.0)) is False


def test_illinois_breakaway_starts_above_5000_lb() -> None:
    rule = rules("us-il", "breakaway")[0]
    assert evaluate(rule, rig(5000)) is False
    assert evaluate(rule, rig(5001)) is True


def test_california_has_rows_by_kind_of_trailer() -> None:
    rule = rules("us-ca", "brakes")[0]
    assert speaks_of(rule, rig(5000, "utility")) is False
    assert [r.id for r in duty("us-ca", "brakes", rig(5000, "utility")).binding] == ["us-ca.brakes-other"]
    assert duty("us-ca", "brakes", rig(2999, "utility")).applies is False
    old = duty("us-ca", "brakes", replace(rig(5000, "utility"), trailer_year=1960.0))
    assert old.applies is None
    assert "do not say what holds for this trailer" in old.reason
    assert duty("us-ca", "brakes", replace(rig(5000, "utility"), trailer_year=1966.0)).applies is None
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
        gross=2801.0,
        tow_unladen=3000.0,
        brakes="surge",
        cab_brakes=False,
        braked_axles=2.0,
        axle_count=2.0,
        body="boat",
    )
    found = duty("ca-bc", "brakes", heavy)
    assert [satisfied(r, heavy) for r in found.binding] == [True, False]
    electric = replace(heavy, brakes="electric", cab_brakes=True)
    assert [satisfied(r, electric) for r in duty("ca-bc", "brakes", electric).binding] == [True, True]
    # a house trailer of three axles may have brakes on two
    house = replace(electric, body="caravan", axle_count=3.0)
    assert [satisfied(r, house) for r in duty("ca-bc", "brakes", house).binding] == [None, True]
    utility = replace(house, body="utility")
    assert [satisfied(r, utility) for r in duty("ca-bc", "brakes", utility).binding] == [None, False]
    mid = replace(utility, gross=2000.0)  # one of two axles between 1,400 and 2,800 kg: not read
    assert [satisfied(r, mid) for r in duty("ca-bc", "brakes", mid).binding] == [None]


def test_great_britain_and_europe() -> None:
    unbraked = Facts(
        gross=700.0, gvwr=750.0, brakes="none", tow_unladen=1500.0, trailer_year=2010.0, axle_count=1.0
    )
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
    heavy = Facts(gtm=2001.0, brakes="surge", cab_brakes=False, braked_axles=2.0, axle_count=2.0)
    found = duty("au", "brakes", replace(heavy, brakes_r13=False))
    assert [satisfied(r, replace(heavy, brakes_r13=False)) for r in found.binding] == [True, False]
    assert [satisfied(r, replace(heavy, brakes_r13=True)) for r in found.binding] == [True, None]
    electric = replace(heavy, brakes="electric", cab_brakes=True)
    assert [satisfied(r, electric) for r in found.binding] == [True, True]
    assert duty("au-nsw", "breakaway", heavy).applies is True


def test_new_zealand_chains() -> None:
    light = Facts(gross=2000.0, chain_count=1.0, breakaway=False)
    found = duty("nz", "chains", light)
    assert [r.id for r in found.binding] == ["nz.chains"]
    assert satisfied(found.binding[0], light) is None  # its exceptions were not read: it never clears
    heavy = Facts(gross=2001.0, chain_count=2.0, chain_each=4001.0, chain_link=0.0071, breakaway=False)
    found = duty("nz", "chains", heavy)
    assert [r.id for r in found.binding] == ["nz.chains-two"]
    assert satisfied(found.binding[0], heavy) is False  # each needs twice the laden mass
    assert satisfied(found.binding[0], replace(heavy, chain_each=4002.0)) is None
    assert satisfied(found.binding[0], replace(heavy, chain_each=4002.0, chain_link=None)) is None
    assert satisfied(found.binding[0], replace(heavy, chain_each=4002.0, chain_link=0.007)) is False
    assert satisfied(found.binding[0], replace(heavy, breakaway=True)) is None


# every other printed threshold: rule, fact, printed value, whether it binds below, at, above
