"""Tongue share against advice and against an owner's band; instructions inside every plate."""

from __future__ import annotations

from typing import Any

import pytest

from cardgen.checklist.values import values
from cardgen.model.results import Assessment, CaseResult, Outcome
from cardgen.physics.allowances import lowest
from cardgen.physics.band import least_share
from cardgen.physics.links import tongue_parts
from tests.limits.bench import FERN, Changes, assessed, tree_of

GUIDED: list[tuple[Changes, str, str]] = [
    ({"trailer.empty.tongue": "700 lb"}, "within", "more than advised"),
    ({"trailer.empty.tongue": "150 lb"}, "close", "move load before you tow"),
    ({"trailer.empty.tongue": "20 lb"}, "over", "less than half"),
    ({"trailer.empty.tongue": "250 lb +/- 600 lb"}, "over", "lift the {hitch}"),
]


@pytest.mark.parametrize(("changes", "outcome", "words"), GUIDED)
def test_advice_on_the_share_forbids_only_far_below_it(changes: Changes, outcome: str, words: str) -> None:
    found = next(f for f in assessed(changes).findings if f.code == "tongue-share")
    assert (found.outcome.value, words in found.message) == (outcome, True), found


@pytest.mark.parametrize("tongue", ["700 lb", "150 lb"])
def test_a_band_of_the_owners_own_is_a_limit(tongue: str) -> None:
    changes: Changes = {
        "trailer.empty.tongue": tongue,
        "limits.tongue_share": {"low": "10 %", "high": "15 %", "source": "trailer handbook"},
    }
    found = next(f for f in assessed(changes).findings if f.code == "tongue-share")
    assert found.outcome is Outcome.OVER
    assert found.critical


LB = 0.45359237
LOADED = (
    "trailer-gross", "trailer-axle", "trailer-gtm", "tow-rating", "combination", "vehicle-gross", "vehicle-front-axle",
    "vehicle-rear-axle", "placard", "hitch-trailer", "hitch-tongue", "tire-load", "tire-pressure", "trailer-cargo-label", "tongue-weight", "law-",
)  # fmt: skip
BARS: Changes = {
    "gear.weight_distribution": {
        "restoration": "60 %",
        "ratings": {"trailer": "9,000 lb", "tongue": "900 lb"},
    }
}
LIGHT: dict[str, Any] = {
    "name": "light",
    "tanks": {"fresh": "empty"},
    "cylinders": {"left": "full"},
    "fuel": "full",
}


def carried(changes: Changes, weight: float, tongue: float) -> list[str]:
    """What is over with this trailer and tongue [kg], by way of the empty trailer's weights."""
    now = assessed(changes).computed.cases[0].figures
    empty = assessed(changes).rig.trailer.empty
    assert empty.weight is not None
    assert empty.tongue is not None
    more = weight - (now["trailer_weight"].value or 0.0), tongue - (now["tongue_weight"].value or 0.0)
    made = {
        "trailer.empty.weight": f"{empty.weight.si + more[0]:.9f} kg",
        "trailer.empty.tongue": f"{empty.tongue.si + more[1]:.9f} kg",
    }
    found = assessed({**changes, **made}).findings
    return [f.code for f in found if f.outcome is Outcome.OVER and f.code.startswith(LOADED)]


TICKET: dict[str, Any] = {
    "date": "2026-10-01", "case": "out", "division": "2 lb",
    "alone": {"front": "2,984 lb", "rear": "2,216 lb"},
    "slack": {"front": "2,864 lb", "rear": "2,698 lb", "trailer": "2,522 lb"},
    "engaged": {"front": "2,870 lb", "rear": "2,688 lb", "trailer": "2,526 lb"},
}  # fmt: skip
"""The bars put back less than ``BARS`` states, so that the file's own axle load is the worse one."""


SOFT: dict[str, Any] = FERN["trailer"]["tires"] | {
    "valve_max_pressure": "50 psi",
    "table": {
        "source": "maker's table, 2024",
        "rows": [{"pressure": "50 psi", "load": "1,480 lb"}, {"pressure": "65 psi", "load": "2,040 lb"}],
    },
}
"""Tires whose valve stands less than their maximum load asks for."""


def stowed(changes: Changes, case: CaseResult, weight: float) -> list[str]:
    """What is over when cargo makes a case's trailer this heavy [kg] at the same share, its tongue kept to its plates."""
    rig = tree_of(changes)
    now, tongue = case.figures["trailer_weight"].value, case.figures["tongue_weight"].value
    assert now is not None
    assert tongue is not None
    made_rig, own = assessed(changes).rig, assessed(changes).rig.limits.tongue_weight
    plates = [q.si for _, q, _ in tongue_parts(made_rig) if q is not None]
    plates += [own.high.si] if own is not None and own.high is not None else []
    borne = (min(tongue / now * weight, min(plates) * (1 - 1e-7)) - tongue) / (weight - now)
    more = {"name": "more", "weight": f"{weight - now:.9f} kg", "x": f"{14 * (1 - borne):.12f} ft", "y": "0 m", "set": "more"}  # fmt: skip
    old = next(one for one in rig["cases"] if one["name"] == case.name)
    full = {**old, "name": "full", "cargo": [*old.get("cargo", ()), "more"]}
    made = {"trailer.cargo": [*rig["trailer"]["cargo"], more], "cases": [*rig["cases"], full]}
    found = assessed({**changes, **made}).findings
    return [f.code for f in found if f.outcome is Outcome.OVER and f.code.startswith(LOADED)]


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"vehicle.gawr.rear": "2,800 lb"},
        {"trailer.axles.gawr": ["3,050 lb"]},
        {"trailer.axles.gawr": ["3,050 lb"], **BARS},
        {"trailer.tires.max_load": "1,500 lb"},
        {"vehicle.receiver.weight_carrying.tongue": "380 lb"},
        {"vehicle.placard_capacity": "600 lb"},
        {"trailer.cargo_capacity": "500 lb"},
        {"trailer.cargo_capacity": "400 lb", "trailer.year": 2005},
        {"trailer.tires": SOFT, "trailer.tire_pressure": "50 psi"},
        {"trailer.gtm": "2,900 lb"},
        {"trailer.gtm": "2,900 lb", **BARS},
        {"limits.tongue_weight": {"high": "400 lb", "source": "trailer handbook"}},
        {"trailer.axles.gawr": ["2,950 lb"], "weighings": [TICKET], "cases": [*FERN["cases"], LIGHT], **BARS},
    ],
)
def test_the_allowed_trailer_is_inside_every_limit_and_a_heavier_one_is_not(changes: Changes) -> None:
    made = assessed(changes).computed
    allowed = made.figures["allowed_trailer"].value
    assert allowed is not None
    assert [stowed(changes, case, allowed * (1 - 1e-7)) for case in made.cases] == [[]] * len(made.cases)
    assert any(stowed(changes, case, allowed * 1.001) for case in made.cases)


UNBRAKED: Changes = {
    "trailer.brakes": {"kind": "none"}, "trailer.gvwr": "9,000 lb", "trailer.cargo_capacity": "6,000 lb",
    "trailer.axles.gawr": ["8,000 lb"], "trailer.tires.max_load": "4,000 lb", "trailer.empty.weight": "900 lb",
    "trailer.empty.tongue": "120 lb", "vehicle.tow_rating.unbraked": "9,000 lb", "gear.ball.rating": "9,000 lb",
    "gear.mount.ratings": {"trailer": "9,000 lb", "tongue": "1,200 lb"}, "vehicle.gawr.rear": "5,000 lb",
    "vehicle.receiver.weight_carrying": {"trailer": "9,000 lb", "tongue": "1,200 lb"},
    "trailer.coupler.ratings": {"trailer": "9,000 lb", "tongue": "1,200 lb"}, "trailer.chains.strength": "2,500 lb",
    "trailer.registered_gross": "2,900 lb",
}  # fmt: skip


@pytest.mark.parametrize("place", ["us-ca", "us-tx", "us-il", "us-nh", "us-md", "us-or"])
def test_a_law_that_would_forbid_a_heavier_trailer_bounds_the_allowed_one(place: str) -> None:
    changes = {**UNBRAKED, "places": [place]}
    made = assessed(changes).computed
    allowed, laws = made.figures["allowed_trailer"].value, [a for a in made.allowances if a.path == "places"]
    assert allowed is not None
    assert bool(laws) == (place in ("us-ca", "us-tx", "us-nh"))  # texts that were read whole
    assert stowed(changes, made.cases[0], allowed * (1 - 1e-7)) == []
    over = stowed(changes, made.cases[0], allowed * 1.001)
    assert any(code.startswith("law-") for code in over) == bool(laws)


@pytest.mark.parametrize(("rig", "field", "rating"), [("fern", "lb", 300), ("teal", "kg", 60)])
def test_what_the_coupling_bears_is_no_rating_of_the_trailer(rig: str, field: str, rating: int) -> None:
    """Its plate says where the coupling is full as loaded now; loads moved, the trailer may weigh what its own say."""
    path = "vehicle.receiver.weight_carrying.tongue"
    free, held = (assessed({path: f"{n} {field}"}, rig).computed for n in (4 * rating, rating))
    full = lowest(held.allowances, as_loaded=True)
    assert full is not None
    assert full.path == path
    allowed = held.figures["allowed_trailer"].value
    assert allowed is not None
    assert full.trailer is not None
    assert full.trailer < allowed
    assert allowed == pytest.approx(free.figures["allowed_trailer"].value, rel=0.05)
    tiny = assessed(
        {path: f"{rating / 3} {field}"}, rig
    ).computed  # under the share at which it would lift the hitch
    least = lowest(tiny.allowances)
    assert least is not None
    plate = min(q.si for _, q, _ in tongue_parts(tiny.rig) if q is not None)
    assert least.trailer == pytest.approx(plate / least_share(tiny.rig))


def kept(made: Assessment) -> str | None:
    text = values(made, "us")["tongue_band"]
    return text and text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("plate", "said"),
    [
        ("600 lb", "289 to 432 lb"),
        ("320 lb", "289 to 320 lb (receiver)"),
        ("250 lb", "as near 250 lb as possible (receiver allows no more)"),
    ],
)
def test_the_tongue_to_keep_is_inside_every_plate(plate: str, said: str) -> None:
    assert kept(assessed({"vehicle.receiver.weight_carrying.tongue": plate})) == said


@pytest.mark.parametrize(
    "changes", [{"vehicle.placard_capacity": "600 lb"}, {"vehicle.gawr.rear": "2,750 lb"}]
)
def test_both_ends_of_the_band_break_no_limit(changes: Changes) -> None:
    case = assessed(changes).computed.cases[0].figures
    for name in ("band_low", "band_high"):
        end, weight = case[name].value, case["trailer_weight"].value
        assert end is not None
        assert weight is not None
        assert carried(changes, weight, end * (1 + (1e-7 if name == "band_low" else -1e-7))) == []


def test_cases_that_no_one_band_serves_have_their_own() -> None:
    heavy = {"name": "heavy", "weight": "1,500 lb", "x": "11 ft", "y": "0 in", "set": "trip"}
    made = assessed({"trailer.cargo": [heavy], "cases": [*FERN["cases"], LIGHT], "trailer.gvwr": "6,000 lb"})
    said = kept(made)
    assert said is not None
    assert "(out" in said
    assert "(light" in said


def test_no_placard_where_the_market_has_none() -> None:
    needs = assessed(
        {"market": "au", "places": ["au-nsw"], "vehicle.placard_capacity": None}
    ).computed.figures
    assert "vehicle.placard_capacity" not in {n.path for n in needs["allowed_trailer"].needs}


def test_an_unknown_tire_speed_leaves_the_planned_speed_and_says_so() -> None:
    said = values(
        assessed({"vehicle.tires.front.speed_symbol": None, "vehicle.tires.front.type": "P"}), "us"
    )["max_speed"]
    assert said is not None
    assert said.replace("\u00a0", " ") == "60 mph (tire speed not checked)"


def test_a_trailer_without_a_load_is_called_so() -> None:
    bare: Changes = {"trailer.cargo": [], "cases.0.cargo": [], "cases.0.tanks": {"fresh": "empty"}}
    found = {f.code: f for f in assessed(bare).findings}
    assert "nothing loaded is listed" in found["trailer-gross"].message
    assert "nothing loaded" not in {f.code: f for f in assessed().findings}["trailer-gross"].message
