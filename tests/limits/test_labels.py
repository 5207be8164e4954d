"""Checks of weight labels and legal classes."""

from __future__ import annotations

import pytest

from cardgen.model.results import Outcome
from tests.limits.bench import Changes, assessed, finding, paths

W, C, O, N = Outcome.WITHIN, Outcome.CLOSE, Outcome.OVER, Outcome.NOT_CHECKED  # noqa: E741 - one letter each
LB = 0.45359237


@pytest.mark.parametrize(
    ("code", "outcome", "changes"),
    [
        ("trailer-cargo-label", W, {}),
        ("trailer-cargo-label", C, {"trailer.cargo_capacity": "290 lb"}),
        ("trailer-cargo-label", O, {"trailer.cargo_capacity": "250 lb"}),
        ("trailer-cargo-label", N, {"trailer.cargo_capacity": None}),
        ("trailer-cargo-label", N, {"trailer.year": None}),
        ("label-room", W, {}),
        ("label-room", C, {"trailer.cargo_capacity": "901 lb"}),
        ("label-dealer-added", W, {"trailer.dealer_added": "40 lb"}),
        ("label-dealer-added", C, {"trailer.dealer_added": "52 lb"}),
        ("label-dealer-added", C, {"trailer.dealer_added": "53 lb"}),
        ("label-dealer-added", N, {"trailer.dealer_added": "53 lb", "trailer.gvwr": None}),
        ("legal-class", W, {"use": "commercial", "vehicle.gvwr": "6,400 lb"}),
        ("legal-class", C, {"use": "commercial"}),
        ("legal-class", N, {"use": "commercial", "trailer.gvwr": None}),
    ],
)
def test_outcomes(code: str, outcome: Outcome, changes: Changes) -> None:
    assert finding(code, changes).outcome is outcome


def test_old_labels_took_water_off_first() -> None:
    # 200 lb of boxes and 83 lb of water: a label of 2004 counts the boxes only
    new = finding("trailer-cargo-label", {"trailer.cargo_capacity": "250 lb"})
    old = finding("trailer-cargo-label", {"trailer.cargo_capacity": "250 lb", "trailer.year": 2004})
    assert (new.outcome, old.outcome) == (O, W)
    assert old.demand == pytest.approx(200 * LB)
    between = finding("trailer-cargo-label", {"trailer.cargo_capacity": "250 lb", "trailer.year": 2008})
    assert between.outcome is O  # the year of the change is read the stricter way
    teal = finding("trailer-cargo-label", {"trailer.year": None}, "teal")
    assert teal.outcome is W  # no eras outside North America


# 72 FR 68442: lesser of 1.5 % of GVWR and 100 lb; they cross at 6,666.7 lb
@pytest.mark.parametrize(
    ("gvwr", "limit"), [("3,500 lb", 52.5), ("6,666 lb", 99.99), ("6,667 lb", 100.0), ("9,000 lb", 100.0)]
)
def test_dealer_added_limit(gvwr: str, limit: float) -> None:
    found = finding("label-dealer-added", {"trailer.gvwr": gvwr, "trailer.dealer_added": "40 lb"})
    assert found.capacity is not None
    assert found.capacity / LB == pytest.approx(limit, abs=5e-3)
    assert not found.critical


def test_legal_class_names_both_thresholds() -> None:
    exact = {"use": "commercial", "vehicle.gvwr": "6,501 lb"}
    assert finding("legal-class", exact).outcome is C  # 10,001 lb
    assert finding("legal-class", {**exact, "vehicle.gvwr": "6,500 lb"}).outcome is W
    big = {"use": "commercial", "vehicle.gvwr": "15,000 lb", "trailer.gvwr": "11,001 lb"}
    assert "Group A" in finding("legal-class", big).message
    light = {**big, "vehicle.gvwr": "17,000 lb", "trailer.gvwr": "10,000 lb"}
    assert "Group A" not in finding("legal-class", light).message
    assert not [f for f in assessed({}).findings if f.code == "legal-class"]


def test_missing_label_is_asked_for_unless_the_trailer_is_a_boat() -> None:
    assert paths(finding("trailer-cargo-label", {"trailer.cargo_capacity": None})) == {
        "trailer.cargo_capacity"
    }
    boat = assessed({"trailer.cargo_capacity": None, "trailer.body": "boat"}).findings
    assert not [f for f in boat if f.code == "trailer-cargo-label"]
