"""Checks of brakes, breakaway, wiring, mirrors, lamps and GTM."""

from __future__ import annotations

import pytest

from cardgen.model.results import Basis, Outcome
from tests.limits.bench import Changes, assessed, finding, paths

W, C, O, N = Outcome.WITHIN, Outcome.CLOSE, Outcome.OVER, Outcome.NOT_CHECKED  # noqa: E741 - one letter each
SURGE: Changes = {
    "trailer.brakes": {"kind": "surge", "braked_axles": 1},
    "trailer.connector": "5-flat",
    "gear.plug_adapter": True,
}
FAR: Changes = {
    "trailer.axles.count": 2, "trailer.axles.gawr": ["3,200 lb"] * 2, "trailer.axles.suspension": "equalized",
    "trailer.brakes.braked_axles": 2,
    "trailer.brakes.wiring": {"length": "95 ft", "awg": 10, "sold_as": "awg"},
}  # fmt: skip


@pytest.mark.parametrize(
    ("code", "outcome", "changes"),
    [
        ("brakes-known", N, {"trailer.brakes": {}}),
        ("brake-controller", W, {}),
        ("brake-controller", C, {"vehicle.brake_controller.fitted": False}),
        ("brake-controller", N, {"vehicle.brake_controller": {}}),
        ("breakaway", W, {}),
        ("breakaway", C, {"trailer.breakaway.fitted": False}),
        ("breakaway", N, {"trailer.breakaway": {}}),
        ("breakaway-battery", W, {}),
        ("breakaway-battery", C, {"trailer.breakaway.battery": "3 Ah"}),
        ("breakaway-battery", C, {"trailer.breakaway.voltage": "12.2 V"}),
        ("breakaway-battery", C, {"trailer.breakaway.battery": "2 Ah"}),
        ("breakaway-battery", N, {"trailer.breakaway.battery": None}),
        ("breakaway-battery", N, {"trailer.brakes.drum": None}),
        ("breakaway-battery", N, {"trailer.brakes.kind": "electric_hydraulic"}),
        ("brake-wire", W, {}),
        ("brake-wire", C, {"trailer.brakes.wiring.awg": 14}),
        ("brake-wire", C, {"trailer.brakes.wiring.length": "26 ft"}),
        ("brake-wire", W, {"trailer.brakes.wiring": {"length": "26 ft", "area": "5.3 mm2"}}),
        ("brake-wire", N, {"trailer.brakes.wiring": {"length": "20 ft"}}),
        ("brake-wire", N, {"trailer.brakes.wiring": {"length": "20 ft", "awg": 10, "area": "2 mm2"}}),
        ("brake-wire", C, FAR),
        ("surge-ratio", W, SURGE),
        ("surge-ratio", C, {**SURGE, "vehicle.gvwr": "1,999 lb"}),
        ("surge-ratio", N, {**SURGE, "vehicle.gvwr": None}),
        ("mirror-span", W, {}),
        ("mirror-span", C, {"vehicle.mirrors.span": "6 ft 4 in"}),
        ("mirror-span", N, {"trailer.dimensions.width": None}),
        ("lamp-list", N, {"trailer.dimensions.width": None}),
        ("lamp-list", N, {"market": "ca", "places": ["ca-on"]}),
        ("trailer-gtm", W, {"trailer.gtm": "2,800 lb"}),
        ("trailer-gtm", C, {"trailer.gtm": "2,600 lb"}),
        ("trailer-gtm", O, {"trailer.gtm": "2,500 lb"}),
        ("trailer-gtm", N, {"market": "au"}),
    ],
)  # fmt: skip
def test_outcomes(code: str, outcome: Outcome, changes: Changes) -> None:
    assert finding(code, changes).outcome is outcome


# a feed of the usual gauge that loses 27.6 % of the voltage is no good feed
def test_what_the_feed_takes_counts_beside_its_gauge() -> None:
    both = finding("brake-wire", {"trailer.brakes.wiring": FAR["trailer.brakes.wiring"] | {"area": "2 mm2"}})
    assert ("contradict" in both.message, "automotive" in both.message, both.outcome) == (True, False, C)
    found = finding("brake-wire", FAR)
    assert found.values["share"][0] > 0.15
    assert "thicker wire" in found.message
    assert "automotive" not in found.message
    assert "automotive" in finding("brake-wire").message


def test_brakes_on_no_axle_are_no_brakes() -> None:
    none = finding("tow-rating", {"trailer.brakes.braked_axles": 0})
    assert none.governed_by == "unbraked rating"
    assert none.outcome is O
    assert finding("tow-rating").governed_by == "braked rating"
    low = {"trailer.brakes.kind": "none", "vehicle.tow_rating": {"braked": "1,000 lb"}}
    assert (finding("tow-rating", low).outcome, finding("tow-rating", low).governed_by) == (
        O,
        "braked rating",
    )


@pytest.mark.parametrize(
    ("plug", "socket", "brakes", "outcome", "words"),
    [
        ("4-flat", None, "electric", O, "no circuit"), (None, "4-flat", "electric", O, "no circuit"),
        ("4-flat", None, "surge", N, ""), ("5-flat", None, "electric", N, ""),
        ("7-blade", "4-flat", "electric", O, "no circuit"),
        ("5-flat", "4-flat", "surge", C, "reverse wire"), ("7-blade", "4-flat", "none", C, "battery line"),
        ("13-pin", "7-pin-12n", "surge", C, "reverse wire"), ("4-flat", "7-blade", "none", W, "adapter"),
        ("7-blade", "7-blade", "electric", W, "match"),
    ],
)  # fmt: skip
def test_an_adapter_passes_on_what_both_have(
    plug: str | None, socket: str | None, brakes: str, outcome: Outcome, words: str
) -> None:
    rig = {
        "trailer.connector": plug,
        "vehicle.connector": socket,
        "trailer.brakes.kind": brakes,
        "gear.plug_adapter": True,
    }
    found = finding("connector", rig)
    assert (found.outcome, words in found.message) == (outcome, True)


def codes(changes: Changes, base: str = "fern") -> set[str]:
    return {f.code for f in assessed(changes, base).findings}


def test_what_has_no_electric_brakes_is_not_asked_for_them() -> None:
    assert not codes(SURGE) & {"brake-controller", "breakaway-battery", "brake-wire"}
    assert "surge-ratio" not in codes({})


# a breakaway battery for 2, 4 and 6 magnets at 13 V and 3.2 ohm (axle maker's service table,
# secondary copies: 8.2, 16.3 and 24.5 A) must give 2.05, 4.08 and 6.13 Ah for 15 minutes
@pytest.mark.parametrize(("axles", "amps", "ah"), [(1, 8.2, 2.05), (2, 16.3, 4.08), (3, 24.5, 6.13)])
def test_breakaway_charge(axles: int, amps: float, ah: float) -> None:
    many = {
        "trailer.axles.count": axles, "trailer.axles.gawr": ["3,200 lb"] * axles,
        "trailer.axles.suspension": "equalized", "trailer.brakes.braked_axles": axles,
    }  # fmt: skip
    found = finding("breakaway-battery", many)
    assert found.values["current"][0] == pytest.approx(amps, abs=0.15)
    assert found.demand is not None
    assert found.demand / 3600 == pytest.approx(ah, rel=0.02)


def test_a_short_battery_forbids_towing_only_where_a_law_text_that_was_read_demands_it() -> None:
    small = {"trailer.breakaway.battery": "2 Ah"}
    for places in ([], ["us-ca"]):  # California's text was read in a copy
        found = finding("breakaway-battery", small | {"places": places})
        assert (found.outcome, found.critical) == (C, False)


def test_surge_ratio_is_information_for_private_use() -> None:
    found = finding("surge-ratio", {**SURGE, "vehicle.gvwr": "1,900 lb"})
    assert (found.outcome, found.critical, found.basis) == (C, False, Basis.COMMERCIAL_LAW)
    commercial = {**SURGE, "vehicle.gvwr": "1,900 lb", "use": "commercial"}
    assert "surge-ratio" not in codes(commercial)
    found = finding("law-surge-us-fmcsa", commercial)  # a copy that was read in part forbids nothing
    assert (found.outcome, found.critical) == (C, False)
    assert found.message.startswith("forbidden as copied; look it up")


def test_gtm_counts_with_weight_distribution_engaged() -> None:
    engaged = {
        "trailer.gtm": "2,540 lb",
        "gear.weight_distribution": {"restoration": "100 %", "ratings": {"trailer": "8,000 lb", "tongue": "800 lb"}},
    }  # fmt: skip
    slack = finding("trailer-gtm", {"trailer.gtm": "2,540 lb"})
    found = finding("trailer-gtm", engaged)
    assert slack.outcome is C
    assert found.outcome is O
    assert (found.demand or 0.0) > (slack.demand or 0.0)


def test_lamps_and_pins_are_handed_on() -> None:
    made = assessed({"trailer.dimensions.width": "80 in"}).computed
    assert made.lamps is not None
    assert made.lamps.lamps is not None
    assert "identification lamp" in {lamp.does for lamp in made.lamps.lamps}
    plug = made.wiring.trailer
    assert plug is not None
    assert {pin.at: pin.does for pin in plug.pins}["5 o'clock"] == "electric brakes"
    assert "socket" in plug.view
    assert paths(finding("lamp-list", {"trailer.dimensions.length": None})) == {"trailer.dimensions.length"}


# 78 in box whose rigid fenders reach 80 in (NHTSA letter nht93-4.12, 28 May 1993): 80 in counts
@pytest.mark.parametrize(("width", "clearance"), [("79.9 in", False), ("80 in", True)])
@pytest.mark.parametrize(("length", "middle"), [("28 ft", False), ("30 ft", True)])
def test_lamp_boundaries(width: str, clearance: bool, length: str, middle: bool) -> None:
    size = {
        "trailer.dimensions.width": width,
        "trailer.dimensions.length": length,
        "trailer.dimensions.body_rear": "27 ft",
    }
    plan = assessed(size).computed.lamps
    assert plan is not None
    assert plan.lamps is not None
    names = {lamp.does for lamp in plan.lamps}
    assert ("rear clearance lamp" in names) is clearance
    assert ("intermediate side marker lamp" in names) is middle


@pytest.mark.parametrize(
    ("gvwr", "secondary", "outcome"),
    [("1,400 kg", True, W), ("1,400 kg", False, C), ("1,400 kg", None, C), ("1,600 kg", True, C)],
)
def test_a_secondary_coupling_stands_in_where_the_rule_takes_it(
    gvwr: str, secondary: bool | None, outcome: Outcome
) -> None:
    changes = {
        "trailer.gvwr": gvwr,
        "trailer.breakaway.fitted": False,
        "trailer.secondary_coupling": secondary,
    }
    assert finding("breakaway", changes, "teal").outcome is outcome
