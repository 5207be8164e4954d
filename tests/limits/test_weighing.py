"""Checks of weighings: against the file, against themselves, against the limits."""

from __future__ import annotations

from typing import Any

import pytest

from cardgen.model.results import Outcome
from tests.limits.bench import assessed, finding
from tests.physics.build import POUND


def visit(**readings: Any) -> dict[str, Any]:
    """The bench rig with one weighing of its case."""
    return {"weighings": [{"date": "2026-10-03", "case": "out", "division": "10 lb", **readings}]}


def test_agreeing_scale_is_silent() -> None:
    made = assessed(visit(coupler="347 lb", trailer_alone="2,880 lb"))
    assert not [f for f in made.findings if f.code.startswith("weigh")]


def test_scale_against_file() -> None:
    found = finding("weighing-file-1", visit(trailer_alone="3,200 lb"))
    assert found.outcome is Outcome.CLOSE
    assert not found.critical
    assert found.values["measured"][0] / POUND == pytest.approx(3200)
    assert found.values["extra"][0] / POUND == pytest.approx(3200 - 2883.3, abs=1)


def test_scale_against_itself() -> None:
    made = assessed(
        visit(coupler="350 lb", jack="500 lb", jack_behind_coupler="0 in", trailer_alone="2,880 lb")
    )
    assert any(f.code == "weighing-self-1-tongue_weight" for f in made.findings)


@pytest.mark.parametrize(
    ("readings", "code"),
    [
        ({"trailer_alone": "3,700 lb"}, "weighed-trailer-gross"),
        ({"coupler": "700 lb"}, "weighed-hitch-tongue-coupler"),
        ({"slack": {"trailer": "3,400 lb"}}, "weighed-trailer-axle-1"),
    ],
)
def test_weighed_over_counts_although_the_file_says_within(readings: dict[str, Any], code: str) -> None:
    """A heavier trailer on the scale than in the file is never passed, anchored or not."""
    found = finding(code, visit(**readings))
    assert found.outcome is Outcome.OVER
    assert found.critical
    assert finding(code.removeprefix("weighed-")).outcome is not Outcome.OVER


def test_anchored_weighing_moves_the_check_itself() -> None:
    changes = visit(trailer_alone="3,700 lb", coupler="450 lb", anchor=True)
    assert finding("trailer-gross", changes).outcome is Outcome.OVER
    assert not [f for f in assessed(changes).findings if f.code == "weighed-trailer-gross"]
    told = finding("weighing-file-1", changes)
    assert "sets the model" in told.message


def test_older_visit_of_the_same_case_does_not_count() -> None:
    old = {"date": "2024-05-01", "case": "out", "trailer_alone": "3,700 lb"}
    new = {"date": "2026-10-03", "case": "out", "trailer_alone": "2,880 lb"}
    codes = {f.code for f in assessed({"weighings": [old, new]}).findings}
    assert "weighed-trailer-gross" not in codes


def test_weighed_value_is_checked_where_the_file_is_silent() -> None:
    """Without an empty tongue weight nothing can be computed; a reading over the rating still counts."""
    changes = visit(coupler="700 lb") | {"trailer.empty.tongue": None}
    assert finding("hitch-tongue-coupler", changes).outcome is Outcome.NOT_CHECKED
    assert finding("weighed-hitch-tongue-coupler", changes).outcome is Outcome.OVER
