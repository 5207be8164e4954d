"""Cases of their own: what a file says nothing of forbids nothing, and an empty rig is called empty."""

from __future__ import annotations

import pytest

from cardgen.model.results import Outcome
from tests.limits.bench import Changes, assessed, finding, paths

W, C, O, N = Outcome.WITHIN, Outcome.CLOSE, Outcome.OVER, Outcome.NOT_CHECKED  # noqa: E741 - one letter each
GAS: Changes = {
    "trailer.cylinders": {"gas": {"water_capacity": "26 kg", "tare": "8 kg", "x": "1 m", "y": "0 m"}},
    "cases.0.cylinders": {"gas": "full"},
}
HELD = "trailer.empty.includes.cylinders.gas"
FULL, AWAY = {"cylinders": {"gas": "full"}}, {"without": ["gas"]}


# 60 kg of boxes, 8 kg of steel and 0.42 * 26 = 10.92 kg of gas: 78.92 kg, or 60 kg where the papers weighed them in
@pytest.mark.parametrize(
    ("payload", "source", "includes", "outcome"),
    [
        ("70 kg", "label", FULL, W),
        ("70 kg", "label", AWAY, O),
        ("70 kg", "scale", FULL, O),
        ("70 kg", "label", {}, N),
        ("70 kg", "brochure", {}, N),
        ("70 kg", None, FULL, N),
        ("55 kg", "label", {}, O),
        ("55 kg", None, {}, O),
        ("220 kg", "label", {}, W),
        ("220 kg", None, {}, W),
    ],
)
def test_what_the_papers_may_hold_puts_no_payload_over(
    payload: str, source: str | None, includes: Changes, outcome: Outcome
) -> None:
    changes = {
        "trailer.cargo_capacity": payload,
        "trailer.empty.source": source,
        "trailer.empty.includes": includes,
    }
    found = finding("trailer-cargo-label", {**GAS, **changes}, "teal")
    assert found.outcome is outcome
    if outcome is N:
        asked = {HELD} if source else {"trailer.empty.source", HELD}
        assert paths(found) == asked
        assert "heights" not in found.message


@pytest.mark.parametrize(
    "path", ["vehicle.overhang", "vehicle.wheelbase", "trailer.axles.ball_to_center", "vehicle.curb.front"]
)
def test_a_rule_of_a_place_asks_for_what_the_weight_behind_it_lacks(path: str) -> None:
    light = {"trailer.brakes": {"kind": "none"}, "trailer.empty.weight": "900 lb", "trailer.empty.tongue": "120 lb", "places": ["us-fmcsa"]}  # fmt: skip
    assert paths(finding("law-brakes-us-fmcsa", light | {path: None})) == {path}


def test_a_trailer_above_its_registration_is_told_and_never_forbidden_for_it() -> None:
    """A weight on papers, whose rule was not read, neither forbids nor stays without a word."""
    outcomes = {}
    for stated in ("2,000 lb", "9,000 lb", None):
        found = {f.code: f for f in assessed({"trailer.registered_gross": stated}).findings}
        one = found.get("trailer-registered")
        outcomes[stated] = one and (one.outcome.value, one.critical)
    assert outcomes == {"2,000 lb": ("close", False), "9,000 lb": ("within", False), None: None}
