"""Codes, sources and meanings of all checks; the demo rigs."""

from __future__ import annotations

import ast
import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from cardgen.limits.assess import assess
from cardgen.limits.compare import judge
from cardgen.limits.registry import rules
from cardgen.model.read import read_rig
from cardgen.model.results import Assessment, Basis, Outcome, Thresholds
from cardgen.physics.compute import compute
from cardgen.tables.sources import Standing
from cardgen.tables.words import say
from tests.limits.bench import assessed

RIGS = sorted((Path(__file__).parents[2] / "rigs").glob("*.yaml"))
DAY = dt.date(2026, 11, 25)


def demo(path: Path) -> Assessment:
    found = read_rig(path).rig
    assert found is not None
    return assess(compute(found), DAY)


def test_codes_are_unique_and_every_rule_explains_itself() -> None:
    every = rules()
    assert len({r.code for r in every}) == len(every)
    for one in every:
        assert one.code == one.code.lower().replace("_", "-")
        assert len(one.title) > 8, one.code
        assert len(one.source) > 8, one.code
        assert len(one.meaning) > 40, one.code
        assert one.run.__doc__, one.code


def test_outcomes_follow_from_what_the_findings_carry() -> None:
    """The numbers a finding hands on are all that is needed to decide it again."""
    worse = {Outcome.WITHIN: 0, Outcome.CLOSE: 1, Outcome.NOT_CHECKED: 2, Outcome.OVER: 3}
    gentle, seen = [], set()
    for assessment in [*map(demo, RIGS), assessed({"trailer.gvwr": "1,000 lb"})]:
        known = assessment.computed.cases[0].figures
        for one in assessment.findings:
            assert set(one.figures) & set(known) or not one.figures, one.code
            if one.demand is None or one.thresholds == Thresholds():
                continue
            again = judge(one.thresholds, one.demand, one.interval, sure=one.sure, complete=not one.needs)
            seen.add(again)
            if worse[one.outcome] < worse[again]:
                gentle.append((assessment.rig.nickname, one.code, one.outcome, again))
            if one.demand_figure:
                assert one.outcome is again, one.code  # nothing else makes these worse
    assert not gentle
    assert {Outcome.WITHIN, Outcome.CLOSE, Outcome.OVER} <= seen


def test_every_rule_names_units_in_its_docstring() -> None:
    for one in rules():
        assert "[" in (one.run.__doc__ or ""), one.code


@pytest.mark.parametrize("path", RIGS, ids=lambda p: p.stem)
def test_demo_rigs_are_over_nothing(path: Path) -> None:
    over = [f.code for f in demo(path).findings if f.outcome is Outcome.OVER]
    assert over == []


@pytest.mark.parametrize("path", RIGS, ids=lambda p: p.stem)
def test_findings_are_complete(path: Path) -> None:
    found = demo(path).findings
    codes = [f.code for f in found]
    assert len(set(codes)) == len(codes)
    for one in found:
        assert one.source, one.code
        assert one.title, one.code
        if one.outcome is Outcome.NOT_CHECKED:
            assert one.needs or one.message, one.code
        if one.basis is Basis.LAW and one.code.startswith("law-"):
            assert Standing.OFFICIAL.value in one.source, one.code
        if one.basis in (Basis.GUIDANCE, Basis.PRACTICE) and one.code.startswith(
            ("law-", "tire-age", "brake-wire")
        ):
            assert not one.critical, one.code


@pytest.mark.parametrize("base", ["fern", "teal", "elm"])
def test_messages_can_be_filled(base: str) -> None:
    for one in assessed({}, base).findings:
        if one.values:
            say(one.message, "us").format(**dict.fromkeys(one.values, "x"))
        else:
            assert "{" not in say(one.message, "us"), one.code


def test_nothing_known_is_never_a_pass() -> None:
    trailer = {"type": "ball", "body": "camper"}
    bare: dict[str, Any] = {"vehicle": {}, "gear": {}, "trailer": trailer, "preferences": {}, "occupants": []}
    bare |= {"cases": [{"name": "out"}], "places": ["us-va", "us-ca", "us-wa", "us-md"]}
    for market in ("us", "ca", "uk", "eu", "au", "nz"):
        found = assessed({**bare, "market": market}).findings
        assert [f.code for f in found if f.outcome is not Outcome.NOT_CHECKED] == [], market


def test_every_check_has_a_test() -> None:
    """A check whose code no test of this folder names, as it is or with an axle, part or place behind it."""
    named = {
        node.value
        for path in Path(__file__).parent.glob("test_*.py")
        if path.stem not in ("test_registry", "test_fields")  # these walk over every check alike
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    said = {"weighed-limit": "weighed"}  # what it finds is called by the check that it repeats
    codes = {one.code: said.get(one.code, one.code) for one in rules()}
    assert [c for c, told in codes.items() if not any(f"{n}-".startswith(f"{told}-") for n in named)] == []
