"""Weights against ratings: each check is over just above its rating and not just below it."""

from __future__ import annotations

import pytest

from cardgen.model.results import Outcome
from tests.limits.bench import assessed, finding

FIGURES = {
    "trailer-axle-1": ("trailer.axles.gawr", "axle_1"),
    "combination": ("vehicle.gcwr", "combination_weight"),
    "vehicle-gross": ("vehicle.gvwr", "vehicle_weight"),
    "vehicle-rear-axle": ("vehicle.gawr.rear", "vehicle_rear_axle"),
    "vehicle-front-axle": ("vehicle.gawr.front", "front_alone"),
    "distribution-needed": ("vehicle.tow_rating.needs_distribution_above", "trailer_weight"),
    "tongue-weight": ("limits.tongue_weight", "tongue_weight"),
}
"""Field of the limit and the figure it is held against, by check."""


def limit_of(code: str, kilograms: float) -> dict[str, object]:
    """The change that sets the limit of a check."""
    field, _ = FIGURES[code]
    words = f"{kilograms:.6f} kg"
    if code == "tongue-weight":
        return {field: {"high": words, "source": "owner"}}
    return {field: [words] if code == "trailer-axle-1" else words}


@pytest.mark.parametrize("code", FIGURES)
def test_over_above_and_not_below(code: str) -> None:
    [case] = assessed().computed.cases
    demand = case.figures[FIGURES[code][1]].value
    assert demand is not None
    above, below = (finding(code, limit_of(code, demand + more)) for more in (-1.0, 1.0))
    assert above.outcome is Outcome.OVER
    assert above.demand == pytest.approx(demand)
    assert above.capacity == pytest.approx(demand - 1.0)
    assert below.outcome is Outcome.CLOSE


def test_labels_that_cannot_be_right_are_told() -> None:
    """Axle rating 3,200 lb and a tongue of some 300 lb reach 3,500 lb, not 4,500 lb."""
    codes = {f.code: f for f in assessed({"trailer.gvwr": "4,500 lb"}).findings}
    found = codes["trailer-label-sum"]
    assert found.outcome is Outcome.CLOSE
    assert not found.critical
    assert found.demand == pytest.approx(4500 * 0.45359237)
    assert "trailer-label-sum" not in {f.code for f in assessed({"trailer.gvwr": "3,000 lb"}).findings}


@pytest.mark.parametrize(("share", "outcome"), [("60 %", Outcome.WITHIN), ("130 %", Outcome.CLOSE)])
def test_bars_put_back_no_more_than_was_lost(share: str, outcome: Outcome) -> None:
    bars = {"restoration": share, "ratings": {"trailer": "6,000 lb", "tongue": "600 lb"}}
    found = finding("front-restoration", {"gear.weight_distribution": bars})
    assert found.outcome is outcome
    assert not found.critical
    assert found.values["share"][0] == pytest.approx(float(share.split()[0]) / 100.0)


@pytest.mark.parametrize(("fitted", "outcome"), [(True, Outcome.WITHIN), (False, Outcome.CLOSE)])
def test_a_secondary_coupling_where_the_place_asks_for_it(fitted: bool, outcome: Outcome) -> None:
    """Unbraked, up to 1,500 kg: a secondary coupling that keeps the trailer with the vehicle."""
    changes = {"trailer.brakes.kind": "none", "trailer.chains.count": 0, "trailer.secondary_coupling": fitted}
    assert finding("law-secondary-coupling-uk", changes, "teal").outcome is outcome
