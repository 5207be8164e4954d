"""``cardgen results --json``: the shape that rigs/REFERENCE.md promises, checked value by value."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from typing import Any

import jsonschema
import pytest

from cardgen.model.results import Basis, Outcome
from cardgen.present.results import FORMAT, UNITS
from tests.commands.workspace import DAY, OVERLOADED, ROOT, Run

RIGS = [*sorted((ROOT / "rigs").glob("*.yaml")), OVERLOADED]
TEXT, NUMBER, FLAG = {"type": "string"}, {"type": ["number", "null"]}, {"type": "boolean"}
WORDS = {"type": ["string", "null"]}
LIST = {"type": "array", "items": TEXT}


def group(**fields: Any) -> dict[str, Any]:
    """A JSON object with at least these fields."""
    return {"type": "object", "properties": fields, "required": list(fields)}


VALUE_FIELDS = {"si": NUMBER, "unit": {"enum": sorted(set(UNITS.values()))}, "shown": WORDS}
VALUE = {**group(**VALUE_FIELDS), "additionalProperties": False}
NEED = group(path=TEXT, what=TEXT, where=TEXT, say=TEXT)
NEEDS = {"type": "array", "items": NEED}
TERM = group(symbol=TEXT, label=TEXT, path=TEXT, **VALUE_FIELDS)
FIGURE = group(
    **VALUE_FIELDS,
    label=TEXT, kind={"enum": sorted(UNITS)}, u=NUMBER, formula=TEXT, source=TEXT,
    terms={"type": "array", "items": TERM}, needs=NEEDS,
)  # fmt: skip
FIGURES = {"type": "object", "additionalProperties": FIGURE}
TIRE = group(
    status=TEXT, pressure=VALUE, minimum=VALUE, wheel_load=VALUE, capacity=VALUE, reasons=LIST, needs=NEEDS
)
OUTCOME = {"enum": [outcome.value for outcome in Outcome]}
FINDING = group(
    code={"type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$"}, title=TEXT, outcome=OUTCOME, critical=FLAG,
    demand=VALUE, low=VALUE, capacity=VALUE, margin=VALUE, case=WORDS, basis={"enum": [b.value for b in Basis]},
    source=TEXT, say=TEXT, needs=NEEDS,
)  # fmt: skip
ITEM = group(id=TEXT, text=TEXT, seen=TEXT, why=TEXT, severity=TEXT, tier={}, every=LIST, sources=LIST)
PHASE = group(key=TEXT, title=TEXT, items={"type": "array", "items": ITEM})
DUE = group(key=TEXT, title=TEXT, state=TEXT, interval=TEXT, last=WORDS, since=WORDS, until=WORDS)
FIXED = ("dormouse-and-sixpence", "stork-and-slate")
"""Rigs whose hitch height is fixed, so that no drop is asked for."""
SHAPE = group(
    format={"const": FORMAT}, cardgen=TEXT, nickname=TEXT, slug={"type": "string", "pattern": "^[a-z0-9-]+$"},
    market={"enum": ["us", "ca", "uk", "eu", "au", "nz"]}, units={"enum": ["us", "metric"]},
    day={"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}, revision={"type": "integer"}, outcome=OUTCOME,
    cases={"type": "array", "minItems": 1, "items": group(name=TEXT, figures=FIGURES)},
    figures=FIGURES,
    tires={"type": "object", "additionalProperties": TIRE},
    allowances={"type": "array", "items": group(part=TEXT, trailer=VALUE, formula=TEXT, path=TEXT)},
    findings={"type": "array", "minItems": 20, "items": FINDING},
    checklist=group(
        phases={"type": "array", "minItems": 5, "items": PHASE},
        removed={"type": "array", "items": group(id=TEXT, text=TEXT, reason=TEXT)},
        due={"type": "array", "items": DUE},
    ),
)  # fmt: skip
"""What rigs/REFERENCE.md says about the output, as a JSON Schema; further fields may be added."""


@pytest.fixture(params=RIGS, ids=lambda path: path.stem)
def rig(request: pytest.FixtureRequest, run: Run) -> dict[str, Any]:
    ran = run("results", str(request.param), "--json", "--date", DAY)
    assert ran.code in (0, 1), ran.err
    found = json.loads(ran.out, parse_constant=refuse)
    assert isinstance(found, dict)
    return found


def refuse(constant: str) -> float:
    raise ValueError(f"{constant} is no JSON")


def test_shape(rig: dict[str, Any]) -> None:
    jsonschema.Draft202012Validator.check_schema(SHAPE)
    problems = sorted(map(str, jsonschema.Draft202012Validator(SHAPE).iter_errors(rig)))
    assert problems == []


def test_known_needs_shown_and_missing_needs_a_need(rig: dict[str, Any]) -> None:
    figures = [*rig["figures"].values(), *(f for case in rig["cases"] for f in case["figures"].values())]
    assert len(figures) > 30
    for figure in figures:
        assert (figure["si"] is None) == (figure["shown"] is None)
        if figure["si"] is None:
            assert figure["needs"], figure["label"]
        else:
            assert math.isfinite(figure["si"])
            assert figure["formula"], figure["label"]
            assert figure["source"], figure["label"]


def test_findings_add_up(rig: dict[str, Any]) -> None:
    for finding in rig["findings"]:
        assert finding["source"], finding["code"]
        assert finding["say"], finding["code"]
        if finding["outcome"] == "not checked":
            assert finding["needs"], finding["code"]
        demand, capacity, margin = (finding[name]["si"] for name in ("demand", "capacity", "margin"))
        if finding["low"]["si"] is None and None not in (demand, capacity, margin):
            assert margin == pytest.approx(capacity - demand, abs=1e-9), finding["code"]
            if finding["outcome"] == "within":
                assert demand <= capacity, finding["code"]
    codes = [(finding["code"], finding["case"]) for finding in rig["findings"]]
    assert len(set(codes)) == len(codes)


def test_worst_outcome_is_the_rigs(rig: dict[str, Any]) -> None:
    outcomes = {finding["outcome"] for finding in rig["findings"]}
    assert (rig["outcome"] == "over") == ("over" in outcomes)
    assert rig["outcome"] in outcomes


def test_shown_texts_are_searchable(rig: dict[str, Any]) -> None:
    for text in texts(rig):
        assert "\u00a0" not in text
        assert not re.search(r"\bnan\b|\binf\b|\{[a-z_]+\}", text), text
    for text in texts({name: inner for name, inner in rig.items() if name != "checklist"}):
        assert "None" not in text


def texts(node: Any) -> Iterator[str]:
    if isinstance(node, str):
        yield node
    elif isinstance(node, dict):
        for inner in node.values():
            yield from texts(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from texts(inner)


def test_every_value_in_the_reference_is_there(rig: dict[str, Any]) -> None:
    reference = (ROOT / "rigs" / "REFERENCE.md").read_text("utf-8")
    section = reference.partition("## Results for other programs")[2].partition("\n## ")[0]
    for name in ("nickname", "slug", "market", "units", "day", "revision", "outcome", "figures", "tires"):
        assert f"`{name}`" in section
        assert name in rig
    for name in ("pressure_trailer", "drop_needed", "allowed_trailer"):
        assert name in section
        assert name in rig["figures"] or (name == "drop_needed" and rig["slug"] in FIXED)
    for name in ("trailer_weight", "tongue_weight", "tongue_share"):
        assert name in section
        assert name in rig["cases"][0]["figures"]


def test_without_json_it_is_a_list_for_people(run: Run) -> None:
    ran = run("results", str(RIGS[0]), "--date", DAY)
    assert "loaded trailer" in ran.out.lower()
    with pytest.raises(json.JSONDecodeError):
        json.loads(ran.out)
