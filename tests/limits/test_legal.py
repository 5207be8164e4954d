"""Rules of places: thresholds as printed, unknown places, and what is critical."""

from __future__ import annotations

import pytest

from cardgen.limits.facts import PATHS
from cardgen.limits.legal import about, on_route
from cardgen.limits.registry import rules
from cardgen.model.results import Basis, Outcome
from cardgen.physics.needs import find_doc
from cardgen.tables import law
from cardgen.tables.facts import fact_names
from tests.limits.bench import Changes, assessed, finding, paths

W, C, O, N = Outcome.WITHIN, Outcome.CLOSE, Outcome.OVER, Outcome.NOT_CHECKED  # noqa: E741 - one letter each
NO_BRAKES: Changes = {"trailer.brakes": {"kind": "none"}, "trailer.breakaway": {}}


def gross(pounds: float, **more: object) -> Changes:
    """A trailer of an exact loaded weight, without brakes and without cargo or tanks."""
    return {
        **NO_BRAKES,
        "trailer.empty": {"weight": f"{pounds} lb", "tongue": f"{pounds * 0.12} lb", "source": "scale"},
        "trailer.gvwr": "9,000 lb", "trailer.cargo": [], "trailer.tanks": {}, "trailer.cylinders": {},
        "cases": [{"name": "out", "fuel": "full"}],
        **{k.replace("__", "."): v for k, v in more.items()},
    }  # fmt: skip


# travel trailer of 3,200 lb by state (texts as in the tables): CA from 1,500, VA from 3,000, IL and WA above
# 3,000, NC from 1,000 as a house trailer, TX above 4,500 only
@pytest.mark.parametrize(
    ("place", "body", "pounds", "needed"),
    [
        ("us-ca", "camper", 3200, True),
        ("us-va", "camper", 3200, True),
        ("us-il", "camper", 3200, True),
        ("us-wa", "camper", 3200, True),
        ("us-tx", "camper", 3200, False),
        ("us-nc", "camper", 3200, True),
        ("us-nc", "utility", 3200, False),
        ("us-va", "camper", 3000, True),
        ("us-il", "camper", 3000, False),
        ("us-va", "camper", 2800, False),
        ("us-nv", "camper", 1500, True),
        ("us-nv", "camper", 1400, False),
        ("ca-on", "camper", 2998.29, True),  # 1,360 kg
        ("ca-on", "camper", 2800, False),
    ],
)
def test_brake_thresholds(place: str, body: str, pounds: float, needed: bool) -> None:
    market = "ca" if place.startswith("ca") else "us"
    rig = gross(pounds, places=[place], trailer__body=body, market=market)
    found = finding(f"law-brakes-{place}", rig)
    official = {r.place for r in law.all_rules() if r.force == "law" and r.topic == "brakes"}
    if needed:  # a copy or a summary that is broken is close: it never forbids
        assert (found.outcome, found.critical) == ((O, True) if place in official else (C, False))
    else:
        assert found.outcome in (W, C, N)
    braked = {**rig, "trailer.brakes": {"kind": "electric", "braked_axles": 1, "drum": "10 in"}}
    assert finding(f"law-brakes-{place}", braked).outcome in (W, N, *((C,) if place == "us-il" else ()))


# British Columbia (RVDA of Canada, secondary): above 2,800 kg surge brakes are not accepted
@pytest.mark.parametrize(
    ("pounds", "kind", "outcome"),
    [
        (2500, "none", C),  # 1,134 kg is half the vehicle's 5,000 lb: at the boundary
        (3100, "none", C),  # 1,406 kg; a secondary source never forbids
        (3100, "surge", W),
        (6200, "surge", C),  # 2,812 kg
        (6200, "electric", W),
    ],
)
def test_british_columbia(pounds: float, kind: str, outcome: Outcome) -> None:
    rig = gross(pounds, places=["ca-bc"], market="ca")
    brakes = {"kind": kind} if kind == "none" else {"kind": kind, "braked_axles": 1}
    assert finding("law-brakes-ca-bc", {**rig, "trailer.brakes": brakes}).outcome is outcome


def test_law_is_critical_and_guidance_is_not() -> None:
    hampshire = finding("law-brakes-us-nh", gross(3200, places=["us-nh"]))
    assert (hampshire.basis, hampshire.critical, hampshire.outcome) == (Basis.LAW, True, O)
    virginia = finding("law-brakes-us-va", gross(3200))
    assert (virginia.basis, virginia.critical, virginia.outcome) == (Basis.GUIDANCE, False, C)
    assert "forbidden as copied; look it up" in virginia.message
    assert "46.2-1070" in virginia.source
    assert "looked up 2026" in virginia.source
    nevada = finding("law-brakes-us-nv", gross(3200, places=["us-nv"]))
    assert (nevada.basis, nevada.critical, nevada.outcome) == (Basis.GUIDANCE, False, C)


def test_the_reason_is_told_in_numbers() -> None:
    found = finding("law-brakes-us-va", gross(3200))
    assert "loaded trailer weight" in found.message
    assert "at or above 3,000 lb" in found.message
    assert found.values["value0"][0] / 0.45359237 == pytest.approx(3200)
    ratio = finding("law-brakes-us-md", gross(2900, places=["us-md"]))
    assert "above 40 %" in ratio.message


def test_near_a_threshold_is_close() -> None:
    assert finding("law-brakes-us-va", gross(2900)).outcome is C
    assert finding("law-brakes-us-va", gross(2500)).outcome is W


@pytest.mark.parametrize(
    ("code", "changes"),
    [
        ("law-chains-au", {"trailer.gvwr": "3,000 kg", "trailer.chains": {"count": 2, "strength": "3,500 kg", "mark": "4177-35"}}),
        ("law-unbraked-au", {"trailer.gtm": "750 kg", "trailer.axles.count": 1, "trailer.brakes": {"kind": "none"}}),
        ("law-brakes-au", {"trailer.gtm": "760 kg", "trailer.brakes": {"kind": "electric", "braked_axles": 1}}),
    ],
)  # fmt: skip
def test_what_is_plated_or_stamped_is_not_near_its_threshold(code: str, changes: Changes) -> None:
    """A chain of the size that is asked for, and a plate that is made for a limit, leave nothing to watch."""
    assert finding(code, {"market": "au", "places": [], **changes}, "teal").outcome is W


def test_a_filling_can_bring_a_rule_to_bear() -> None:
    heavier = {
        **gross(2900),
        "trailer.empty.includes": {"tanks": {"fresh": "empty"}},
        "trailer.tanks": {"fresh": {"holds": "fresh", "capacity": "30 gal", "x": "12 ft", "y": "0 in"}},
        "cases": [{"name": "out", "tanks": {"fresh": "empty"}, "fuel": "full"}],
    }
    found = finding("law-brakes-us-va", heavier)
    assert found.outcome is C
    assert "can come to be asked" in found.can_become
    assert finding("law-brakes-us-va", gross(2900)).can_become == ""
    braked = {**heavier, "trailer.brakes": {"kind": "electric", "braked_axles": 1, "drum": "10 in"}}
    assert finding("law-brakes-us-va", braked).can_become == ""


def test_unknown_facts_are_asked_for() -> None:
    found = finding(
        "law-brakes-ca-bc", gross(2600, places=["ca-bc"], market="ca", vehicle__unladen_for_law=None)
    )
    assert (found.outcome, paths(found)) == (N, {"vehicle.unladen_for_law"})
    kind = finding("law-brakes-us-va", {**gross(3200), "trailer.brakes": {}})
    assert (kind.outcome, paths(kind)) == (N, {"trailer.brakes.kind"})


def test_brakes_that_satisfy_a_rule_need_no_more_facts() -> None:
    rig = gross(2600, places=["ca-bc"], market="ca", vehicle__unladen_for_law=None)
    braked = {**rig, "trailer.brakes": {"kind": "electric", "braked_axles": 1}}
    assert finding("law-brakes-ca-bc", braked).outcome is W


@pytest.mark.parametrize(("place", "code"), [("us-va", "us-va"), ("atlantis", "unknown-1")])
def test_what_was_not_read_is_never_a_pass(place: str, code: str) -> None:
    found = finding(f"law-places-{code}", {"places": [place]})
    assert found.outcome is N
    assert found.needs


def test_a_place_by_its_name_gets_its_code_proposed() -> None:
    (need,) = finding("law-places-unknown-1", {"places": ["Virginia"]}).needs
    assert "did you mean us-va?" in need.what
    (need,) = finding("law-places-unknown-1", {"places": ["us-vaa"]}).needs
    assert "did you mean us-va?" in need.what


@pytest.mark.parametrize(
    ("place", "market", "meant"),
    [
        ("tx", "us", "us-tx"), ("NSW", "au", "au-nsw"), ("wa", "au", "au-wa"), ("wa", "us", "us-wa"), ("bc", "ca", "ca-bc"),
        ("us_tx", "us", "us-tx"), ("South Australia", "au", "au-sa"), ("quebec", "ca", "ca-qc"), ("us-ga", "us", ""),
        ("au-vic", "au", ""), ("ca-mb", "ca", ""), ("nowhere", "us", ""),
    ],
)  # fmt: skip
def test_the_code_that_was_meant_is_proposed_and_no_other_state(place: str, market: str, meant: str) -> None:
    rig = "teal" if market == "au" else "fern"
    found = [
        f for f in assessed({"market": market, "places": [place]}, rig).findings if "places-unknown" in f.code
    ]
    (need,) = found[0].needs
    assert (f"did you mean {meant}?" in need.what) if meant else ("did you mean" not in need.what), need.what


FIFTH: Changes = {
    "places": ["us-ne"],
    "trailer.type": "fifth_wheel",
    "trailer.brakes": {"kind": "electric", "braked_axles": 1},
}
HEAVY: Changes = {"places": ["us-wa"], "trailer.empty.weight": "10,500 lb"}
OPEN_ROAD: Changes = {"market": "au", "places": [], "preferences.planned_speed": "110 km/h"}


@pytest.mark.parametrize(
    ("code", "base", "outcome", "changes"),
    [
        ("law-brakes-us-ne", "fern", N, {**FIFTH, "trailer.axles.count": 2}),
        ("law-brakes-us-ne", "fern", W, {**FIFTH, "trailer.axles.count": 1, "trailer.axles.gawr": None}),
        ("law-chains-us-wa", "fern", O, {**HEAVY, "trailer.chains.count": 0}),
        ("law-chains-us-wa", "fern", N, {**HEAVY, "trailer.chains.count": 2}),
        ("law-speed-us-mi", "fern", N, {"places": ["us-mi"]}),
        ("law-speed-au", "teal", C, {**OPEN_ROAD, "vehicle.gcwr": "5,001 kg"}),
        ("law-speed-au", "teal", W, {**OPEN_ROAD, "vehicle.gcwr": "5,001 kg", "preferences.planned_speed": "100 km/h"}),
        ("law-speed-au", "teal", N, {**OPEN_ROAD, "vehicle.gcwr": "5,000 kg"}),
        ("law-brakes-nz", "teal", N, {"market": "nz"}),  # nobody knows in how many metres it stops
        ("law-licence-nz", "teal", W, {"market": "nz", "vehicle.gvwr": "3,000 kg", "trailer.gvwr": "3,000 kg"}),
        ("law-licence-nz", "teal", N, {"market": "nz", "vehicle.gvwr": "3,001 kg", "trailer.gvwr": "3,000 kg"}),
        ("law-licence-ca-on", "fern", W, {"market": "ca", "places": ["ca-on"], "trailer.gvwr": "4,600 kg"}),
        ("law-licence-ca-on", "fern", N, {"market": "ca", "places": ["ca-on"], "trailer.gvwr": "4,601 kg"}),
        ("law-speed-nz", "teal", C, {"market": "nz", "preferences.planned_speed": "95 km/h"}),  # a summary was read
    ],
)  # fmt: skip
def test_places_overseas(code: str, base: str, outcome: Outcome, changes: Changes) -> None:
    assert finding(code, changes, base).outcome is outcome


def test_places_are_asked_for_where_the_market_has_none_of_its_own() -> None:
    assert paths(finding("law-places", {"places": []})) == {"places"}
    assert not [f for f in assessed({}, "teal").findings if f.code == "law-places"]
    assert finding("law-brakes-uk", {}, "teal").outcome is W


def test_a_place_that_includes_its_country_is_told_once() -> None:
    changes = {"market": "eu", "places": ["de"]}
    codes = [f.code for f in assessed(changes, "teal").findings]
    assert "law-brakes-de" in codes
    assert "law-brakes-eu" not in codes


# at the limit is lawful: speeds have no margin
@pytest.mark.parametrize(("speed", "outcome"), [("55 mph", W), ("50 mph", W), ("56 mph", C), (None, N)])
def test_california_speed(speed: str | None, outcome: Outcome) -> None:
    changes = {"places": ["us-ca"], "preferences.planned_speed": speed}
    found = finding("law-speed-us-ca", changes)
    assert found.outcome is outcome
    assert not found.critical  # the text was read in a word-for-word copy


@pytest.mark.parametrize(("size", "outcome"), [("10 lb", W), ("20 lb", C), (None, N)])
def test_baltimore_tunnels_restrict_the_route_only(size: str | None, outcome: Outcome) -> None:
    # COMAR 11.07.01: no container over 10 lb, at most ten, full or empty
    changes = {"places": ["us-md"], "trailer.cylinders.left.size": size}
    found = finding("law-lp-tunnel-us-md", changes)
    assert (found.outcome, found.critical) == (outcome, False)
    empty = {**changes, "cases": [{"name": "out", "cylinders": {"left": "empty"}, "fuel": "full"}]}
    assert finding("law-lp-tunnel-us-md", empty).outcome is outcome


def test_ferry_allows_two_small_cylinders_and_no_gas_is_free() -> None:
    # two 20-lb cylinders on the Washington ferries: 40 lb of at most 100 lb
    assert finding("law-lp-ferry-us-wa", {"places": ["us-wa"]}).outcome is W
    none = {"places": ["us-wa", "us-md"], "trailer.cylinders": {}, "cases": [{"name": "out", "fuel": "full"}]}
    none |= {"trailer.empty.includes": {}, "trailer.features": {"lp_appliances": False}}
    assert finding("law-lp-ferry-us-wa", none).outcome is W
    assert finding("law-lp-tunnel-us-md", none).outcome is W
    unsaid = {**none, "trailer.features": {}}
    assert paths(finding("law-lp-tunnel-us-md", unsaid)) == {"trailer.cylinders"}


# New Hampshire RSA 266:63: each chain at least the loaded trailer; FMCSA: together
def test_chains_each_and_together() -> None:
    rig = gross(7000, places=["us-nh"], trailer__gvwr="7,500 lb", use="commercial")
    assert finding("law-chains-us-nh", rig).outcome is O
    assert finding("law-chains-us-fmcsa", rig).outcome is W
    assert finding("law-chains-us-nh", {**rig, "trailer.chains.strength": "8,000 lb"}).outcome is W
    assert finding("law-chains-us-nh", {**rig, "trailer.chains.strength": None}).outcome is N


@pytest.mark.parametrize(
    ("code", "outcome", "changes"),
    [
        ("law-unbraked-uk", W, {}),
        ("law-unbraked-uk", C, {"trailer.brakes": {"kind": "none"}}),
        ("law-tow-ratio-uk", W, {}),
        ("law-tow-ratio-uk", C, {"trailer.gvwr": "1,340 kg"}),
        ("law-tow-ratio-uk", C, {"trailer.gvwr": "1,400 kg"}),
        ("law-tow-ratio-uk", N, {"vehicle.unladen_for_law": None}),
        ("law-breakaway-uk", W, {}),
        ("law-breakaway-uk", C, {"trailer.breakaway.fitted": False, "trailer.secondary_coupling": False}),
        ("law-breakaway-uk", W, {"trailer.breakaway.fitted": False, "trailer.secondary_coupling": True}),
        ("law-mirrors-uk", W, {}),
        ("law-mirrors-uk", C, {"vehicle.mirrors.towing": False}),
        ("law-mirrors-uk", N, {"vehicle.mirrors.towing": None}),
        ("law-speed-uk", C, {"preferences.planned_speed": "100 km/h"}),
        ("law-size-uk", W, {}),
        ("law-size-uk", C, {"trailer.dimensions.width": "2.6 m"}),
        # a text as made, whose amendments were not read, does not forbid
        ("law-size-uk", C, {"trailer.dimensions.length": "9 m", "trailer.dimensions.body_rear": "8.9 m"}),
        ("law-licence-uk", W, {}),
        ("law-licence-uk", N, {"trailer.gvwr": "3,600 kg"}),
        # no brakes, nothing that could set them
        ("law-breakaway-uk", W, {"trailer.gvwr": "750 kg", "trailer.brakes": {"kind": "none"}}),
    ],
)
def test_great_britain(code: str, outcome: Outcome, changes: Changes) -> None:
    found = finding(code, changes, "teal")
    assert (found.outcome, found.critical) == (outcome, False)


SMALL: Changes = {"trailer.gvwr": "750 kg", "trailer.brakes": {"kind": "none"}, "trailer.empty.weight": "250 kg",
                  "trailer.empty.tongue": "30 kg", "vehicle.gvwr": "2,500 kg"}  # fmt: skip


@pytest.mark.parametrize(
    ("code", "outcome", "changes"),
    [
        # StVZO 44(3): at least 4 % of the actual mass, need not exceed 25 kg
        ("law-nose-weight-de", W, {}),
        ("law-nose-weight-de", C, {"trailer.empty.tongue": "4 kg", "trailer.cargo": []}),
        # StVZO 41(14): two chocks above 750 kg
        ("law-chocks-de", W, {"trailer.features.chocks": 2}),
        ("law-chocks-de", C, {"trailer.features.chocks": 1}),
        ("law-chocks-de", N, {"trailer.features.chocks": None}),
        # StVZO 42(1)
        ("law-tow-limit-de", W, {}),
        ("law-surge-de", W, {"trailer.brakes": {"kind": "electric", "braked_axles": 1}}),
        # FeV 6 and 6a: which class the driver holds is no fact of a rig
        ("law-licence-de", W, {"trailer.gvwr": "700 kg", "vehicle.gvwr": "2,500 kg"}),
        ("law-licence-de", N, {"trailer.gvwr": "1,600 kg", "vehicle.gvwr": "2,500 kg"}),
        ("law-standing-de", N, {}),
        # StVZO 56(1): what the mirrors show is no fact of a rig
        ("law-mirrors-de", N, {}),
        # a small trailer without brakes: StVZO 42, nothing to set, and a plated weight at a threshold stays there
        ("law-unbraked-de", W, SMALL),
        ("law-tow-limit-de", W, SMALL),
        ("law-breakaway-de", W, SMALL),
        ("law-brakes-de", W, SMALL),
        ("law-licence-de", W, SMALL),
        ("law-licence-de", N, {**SMALL, "vehicle.gvwr": "3,600 kg"}),
        ("law-surge-de", W, {"trailer.gvwr": "3,500 kg"}),
    ],
)
def test_germany(code: str, outcome: Outcome, changes: Changes) -> None:
    found = finding(code, {"market": "eu", "places": ["de"], **changes}, "teal")
    assert (found.outcome, found.critical) == (outcome, False), found


@pytest.mark.parametrize(
    ("trailer", "vehicle", "words"),
    [("1,600 kg", "2,500 kg", "B96"), ("1,800 kg", "2,500 kg", "BE"), ("1,600 kg", "3,600 kg", "heavier")],
)
def test_the_class_that_the_plates_ask_for_is_named(trailer: str, vehicle: str, words: str) -> None:
    changes = {"market": "eu", "places": ["de"], "trailer.gvwr": trailer, "vehicle.gvwr": vehicle}
    assert words in finding("law-licence-de", changes, "teal").message


@pytest.mark.parametrize(
    ("changes", "kept"),
    [
        ({"trailer.dampers": False}, "planned top speed"),
        ({"trailer.tires.date_code": "0110"}, "planned top speed or age of the trailer tires"),
    ],
)
def test_what_of_a_rule_is_not_kept_is_named(changes: Changes, kept: str) -> None:
    fast: Changes = {
        "market": "eu",
        "places": ["de"],
        "preferences.planned_speed": "100 km/h",
        "vehicle.abs": True,
    }
    trailer: Changes = {"trailer.plate_100": True, "trailer.dampers": True, "trailer.folds": False,
                        "trailer.gvwr": "1,000 kg", "trailer.tires.date_code": "0124"}  # fmt: skip
    assert (
        f"not kept: {kept}" in finding("law-speed-de", {**fast, **trailer, **changes}, "teal").message + " "
    )
    assert finding("law-speed-de", {**fast, **trailer}, "teal").outcome is N  # on motorways only


@pytest.mark.parametrize(
    ("code", "lost"),
    [
        ("law-licence-de", "vehicle.gvwr"),
        ("law-licence-de", "trailer.gvwr"),
        ("law-size-de", "vehicle.height"),
        ("law-size-de", "trailer.dimensions.height"),
    ],
)
def test_of_a_fact_made_of_two_fields_the_missing_one_is_asked_for(code: str, lost: str) -> None:
    changes = {"market": "eu", "places": ["de"], "vehicle.height": "1.5 m", lost: None}
    assert paths(finding(code, changes, "teal")) == {lost}


@pytest.mark.parametrize(("fitted", "outcome"), [(True, W), (False, C), (None, N)])
def test_the_parking_brake_is_asked_for_in_britain(fitted: bool | None, outcome: Outcome) -> None:
    assert finding("law-parking-brake-uk", {"trailer.brakes.parking": fitted}, "teal").outcome is outcome


def test_a_rear_frame_is_something_to_look_at() -> None:
    assert finding("law-rear-frame-us-md", gross(3200, places=["us-md"])).outcome is N
    assert finding("law-rear-frame-us-md", gross(2500, places=["us-md"])).outcome is W


# Australia goes by GTM, the load on the trailer's axles, not by the whole trailer
@pytest.mark.parametrize(
    ("gtm", "kind", "outcome"),
    [
        (None, "none", N),
        ("700 kg", "none", W),
        ("760 kg", "none", C),
        ("1,900 kg", "surge", W),
        ("2,010 kg", "surge", N),  # accepted only when approved to UN R13
        ("2,010 kg", "electric", W),
    ],
)
def test_australia_goes_by_gtm(gtm: str | None, kind: str, outcome: Outcome) -> None:
    brakes = {"kind": kind} if kind == "none" else {"kind": kind, "braked_axles": 1}
    changes = {"market": "au", "trailer.gtm": gtm, "trailer.gvwr": "2,100 kg", "trailer.brakes": brakes}
    assert finding("law-brakes-au", changes, "teal").outcome is outcome


# NZTA VIRM General trailers 8-1, 28 Mar 2024: up to 2,000 kg one chain or breakaway brakes
@pytest.mark.parametrize(
    ("chains", "breakaway", "outcome"),
    [({"count": 1}, False, N), ({"count": 0}, False, C), ({}, True, N), ({}, False, N)],
)
def test_new_zealand_chains(chains: Changes, breakaway: bool, outcome: Outcome) -> None:
    changes = {"market": "nz", "trailer.chains": chains, "trailer.breakaway.fitted": breakaway}
    found = finding("law-chains-nz", changes, "teal")
    assert (found.outcome, found.critical) == (outcome, False)  # read in part: it neither forbids nor clears
    assert ("forbidden as far as it was read; look it up" in found.message) is (outcome is C)


def test_commercial_rules_only_in_commercial_use() -> None:
    private = {f.code for f in assessed({"use": "private"}).findings}
    assert not {c for c in private if c.endswith("us-fmcsa")}
    found = finding("law-brakes-us-fmcsa", {"use": "commercial"})
    assert found.outcome is W


def test_every_topic_has_a_rule_and_every_fact_a_field() -> None:
    codes = {r.code for r in rules()}
    assert {f"law-{t.replace('_', '-')}" for t in law.TOPICS} <= codes
    asked = fact_names() - {"body", "coupling"}
    assert asked == set(PATHS)
    for path in PATHS.values():
        assert find_doc(path) is not None, path


def test_a_tunnel_bars_a_route_and_is_told_so() -> None:
    found = finding("law-lp-tunnel-us-md", {"places": ["us-md"], "trailer.cylinders.left.size": "20 lb"})
    assert on_route(found)
    assert found.message.startswith("not allowed on this route")
    assert not on_route(
        finding("law-lp-tunnel-us-md", {"places": ["us-md"], "trailer.cylinders.left.size": "10 lb"})
    )


def test_what_was_not_read_of_a_place_is_known_by_place_and_topic() -> None:
    findings = {f.code: f for f in assessed({"places": ["us-va", "us-md"]}).findings}
    assert about(findings["law-places-us-va"]) == ("us-va", ("speed",))
    assert about(findings["law-breakaway-us-md"]) == ("us-md", ("breakaway",))
    assert about(findings["trailer-gross"]) is None
    asked = finding("law-brakes-us-va", {**gross(3200), "trailer.brakes": {}})  # a fact of the rig is missing
    assert about(asked) is None
