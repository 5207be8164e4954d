"""Order of cases by sway with the limits that each case breaks."""

from __future__ import annotations

from typing import Any

from cardgen.limits.assess import broken
from cardgen.model.results import Outcome
from tests.limits.bench import DAY, assessed


def two_cases(front: str, rear: str) -> dict[str, Any]:
    """The bench rig with its load near the axle or at the rear; weights as given."""
    rest = {"tanks": {"fresh": "empty"}, "cylinders": {"left": "full"}, "fuel": "full"}
    return {
        "cases": [{"name": "middle", "cargo": ["m"], **rest}, {"name": "rear", "cargo": ["r"], **rest}],
        "trailer.cargo": [
            {"name": "in the middle", "weight": front, "x": "13 ft", "y": "0 in", "set": "m"},
            {"name": "at the rear", "weight": rear, "x": "17 ft", "y": "0 in", "set": "r"},
        ],
        "limits.tongue_share": {"low": "5 %", "high": "20 %"},
    }


def test_middle_resists_better_than_rear() -> None:
    made = assessed(two_cases("200 lb", "200 lb"))
    (pair,) = made.sway
    assert (pair.first, pair.second, pair.verdict) == ("middle", "rear", "first")
    assert len(pair.reasons) == 3


def test_better_case_over_a_limit_is_not_called_better() -> None:
    made = assessed(two_cases("1,000 lb", "200 lb"))
    assert any(f.outcome is Outcome.OVER for f in made.findings)
    (pair,) = made.sway
    assert pair.verdict == "cannot tell"
    assert any("breaks a limit" in reason for reason in pair.reasons)
    assert broken(made.computed, "middle", DAY)
    assert not broken(made.computed, "rear", DAY)


def test_one_case_has_nothing_to_compare() -> None:
    assert assessed().sway == ()
