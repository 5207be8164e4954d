"""Tongue share against advice and against an owner's band; instructions inside every plate."""

from __future__ import annotations

from typing import Any

import pytest

from cardgen.checklist.values import values
from cardgen.model.results import Assessment, Outcome
from tests.limits.bench import FERN, Changes, assessed

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
    "vehicle-rear-axle", "placard", "hitch-trailer", "hitch-tongue", "tire-load",
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
    ],
)
def test_the_allowed_trailer_is_inside_every_limit_and_a_heavier_one_is_not(changes: Changes) -> None:
    made = assessed(changes).computed
    allowed, share = made.figures["allowed_trailer"].value, made.cases[0].figures["tongue_share"].value
    assert allowed is not None
    assert share is not None
    assert carried(changes, allowed * (1 - 1e-7), share * allowed * (1 - 1e-7)) == []
    assert carried(changes, allowed * 1.001, share * allowed * 1.001) != []


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
