"""Intervals of uncertainty, and what a check could become over all fillings."""

from __future__ import annotations

import re
from typing import Any

import pytest

from cardgen.limits.assess import assess
from cardgen.limits.compare import TOO_CLOSE, judge, up_to
from cardgen.model.figure import COVERAGE
from cardgen.model.results import Finding, Outcome
from cardgen.physics.compute import compute
from cardgen.tables.words import is_word, say
from tests.limits.bench import DAY, assessed, finding
from tests.physics.build import DEMO, POUND, demo


@pytest.mark.parametrize(
    ("value", "limit", "close", "u", "outcome"),
    [
        (100.0, 100.0, 0.0, None, Outcome.WITHIN),
        (100.1, 100.0, 0.0, None, Outcome.OVER),
        (96.0, 100.0, 0.05, None, Outcome.CLOSE),
        (94.0, 100.0, 0.05, None, Outcome.WITHIN),
        (94.0, 100.0, 0.05, 2.9, Outcome.WITHIN),
        (94.0, 100.0, 0.05, 3.1, Outcome.CLOSE),  # 94 + 2 * 3.1 reaches past 100
        (100.1, 100.0, 0.0, 50.0, Outcome.OVER),
    ],
)
def test_outcomes(value: float, limit: float, close: float, u: float | None, outcome: Outcome) -> None:
    spread = COVERAGE * (u or 0.0)
    assert judge(up_to(limit, close), value, (value - spread, value + spread)) is outcome


def test_within_needs_the_whole_interval() -> None:
    """The same trailer weight from a scale and by estimate: only the surer one is within."""
    sure = finding("trailer-gross")
    assert sure.outcome is Outcome.WITHIN
    vague = finding("trailer-gross", {"trailer.empty.source": "estimate", "trailer.gvwr": "3,150 lb"})
    assert vague.outcome is Outcome.CLOSE
    assert TOO_CLOSE in vague.message
    assert vague.u is not None
    assert vague.demand is not None
    assert vague.capacity is not None
    assert vague.demand < 0.95 * vague.capacity < vague.capacity < vague.demand + 2 * vague.u


def test_interval_of_another_case_counts() -> None:
    """A lighter case that is known badly may reach past the limit when the heaviest does not."""
    cases = [
        {"name": "out", "cargo": ["trip"], "tanks": {"fresh": "empty"}, "cylinders": {"left": "full"}, "fuel": "full"},
        {"name": "home", "cargo": ["vague"], "tanks": {"fresh": "empty"}, "cylinders": {"left": "full"}, "fuel": "full"},
    ]  # fmt: skip
    cargo = [
        {"name": "boxes", "weight": "400 lb +/- 1 lb", "x": "12 ft", "y": "0 in", "set": "trip"},
        {"name": "unknown load", "weight": "390 lb +/- 300 lb", "x": "12 ft", "y": "0 in", "set": "vague"},
    ]
    found = finding("trailer-gross", {"cases": cases, "trailer.cargo": cargo, "trailer.gvwr": "3,250 lb"})
    assert found.case == "out"
    assert found.outcome is Outcome.CLOSE
    assert TOO_CLOSE in found.message


def test_can_become_over_names_the_filling() -> None:
    """Half a tank is fine, a full one is not; the sentence says so and how far it goes."""
    found = finding("trailer-gross", {"trailer.gvwr": "2,950 lb"})
    assert found.outcome is not Outcome.OVER
    assert found.can_become == "can rise to {can_be} with fresh tank full"
    value, kind = found.values["can_be"]
    assert kind == "mass"
    assert value / POUND == pytest.approx(2600 + 200 + 20 * 8.3304, abs=0.05)


def test_band_can_be_left_at_either_end() -> None:
    found = finding("tongue-share", {"limits.tongue_share": {"low": "12.5 %", "high": "15 %"}})
    assert "can fall to {can_fall} (minimum {least})" in found.can_become
    assert "{can_fall}" in found.can_become
    high = finding("tongue-share", {"limits.tongue_share": {"low": "5 %", "high": "12.53 %"}})
    assert "can rise to {can_be} (maximum {most})" in high.can_become


def test_what_cannot_happen_is_not_told() -> None:
    found = finding("trailer-gross", {"trailer.gvwr": "9,000 lb"})
    assert found.can_become == ""
    over = finding("trailer-gross", {"trailer.gvwr": "2,000 lb"})
    assert over.outcome is Outcome.OVER
    assert over.can_become == ""


def test_unknown_reach_is_not_told_as_none() -> None:
    """When a place is missing the range is unknown, and the figure of the case still speaks."""
    changes: dict[str, Any] = {"trailer.tanks.fresh.x": None, "cases.0.tanks": {"fresh": "empty"}}
    found = finding("tongue-share", changes)
    assert found.can_become == ""
    made = assessed(changes)
    assert made.computed.envelope["tongue_share"].needs


@pytest.mark.parametrize("name", DEMO)
def test_every_place_in_a_sentence_has_its_number(name: str) -> None:
    made = assess(compute(demo(name)), DAY)

    def places(text: str) -> set[str]:
        return {name for name in re.findall(r"\{(\w+)\}", text) if not is_word(name)}

    def complete(one: Finding) -> bool:
        return places(one.message) | places(one.can_become) <= set(one.values)

    assert all(complete(one) for one in made.findings)
    for found in made.remedies.values():
        assert all(places(remedy.text) <= set(remedy.values) for remedy in found)


def test_names_with_braces_do_not_break_sentences() -> None:
    """An owner's name never becomes a place for a number."""
    cargo = [{"name": "box {can_be} {x", "weight": "900 lb", "x": "12 ft", "y": "0 in", "set": "a {set}"}]
    made = assessed({"trailer.cargo": cargo, "cases.0.cargo": [], "trailer.gvwr": "3,300 lb"})
    found = next(f for f in made.findings if f.code == "trailer-gross")
    assert say(found.can_become, "us").format(**{k: v for k, (v, _) in found.values.items()})
    for remedies in made.remedies.values():
        for one in remedies:
            assert say(one.text, "us").format(**{k: v for k, (v, _) in one.values.items()})
