"""``cardgen schema``: valid against the metaschema, true to the reader, and of use to editors."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from cardgen.source.disk import Disk
from cardgen.source.limits import Bounds
from cardgen.source.parts import load
from cardgen.source.tree import plain_tree
from tests.commands.workspace import OVERLOADED, ROOT, Run

RIGS = [*sorted((ROOT / "rigs").glob("*.yaml")), OVERLOADED, ROOT / "tests" / "data" / "rigs" / "full.yaml"]


@pytest.fixture
def schema(run: Run) -> dict[str, Any]:
    ran = run("schema")
    assert ran.code == 0
    assert ran.err == ""
    found = json.loads(ran.out)
    assert isinstance(found, dict)
    return found


def test_valid_against_the_metaschema(schema: dict[str, Any]) -> None:
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(schema)


def typed(value: object) -> object:
    """Plain data as an editor's YAML reader would take it: true, false and numbers with their types."""
    if isinstance(value, dict):
        return {key: typed(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [typed(inner) for inner in value]
    if value is None or not getattr(value, "plain", False):
        return None if value is None else str(value)
    words = str(value)
    if words in ("true", "false"):
        return words == "true"
    try:
        return int(words)
    except ValueError:
        pass
    try:
        return float(words)
    except ValueError:
        return words


@pytest.mark.parametrize("file", RIGS, ids=lambda path: path.stem)
def test_good_rigs_are_good_to_it(schema: dict[str, Any], file: Path) -> None:
    whole = load(file, Disk(), Bounds())
    assert whole.top is not None
    data = typed(plain_tree(whole.top).data)
    problems = [
        f"{'.'.join(map(str, e.absolute_path))}: {e.message[:120]}"
        for e in jsonschema.Draft202012Validator(schema).iter_errors(data)
    ]
    assert problems == []


@pytest.mark.parametrize(
    "wrong",
    [
        {"market": "mars"},
        {"trailer": {"type": "balloon", "body": "boat"}},
        {"nicknam": "x"},
        {"cases": "one"},
        {"trailer": []},
        {"places": "us-va"},
    ],
    ids=str,
)
def test_faults_are_faults_to_it(schema: dict[str, Any], wrong: dict[str, Any]) -> None:
    whole = load(RIGS[0], Disk(), Bounds())
    assert whole.top is not None
    data = typed(plain_tree(whole.top).data)
    assert isinstance(data, dict)
    assert not jsonschema.Draft202012Validator(schema).is_valid(data | wrong)


def test_fields_carry_words_and_examples(schema: dict[str, Any]) -> None:
    """An editor shows what a field is; a quantity shows how it is written."""
    bare, seen = [], 0
    for name, record in schema["$defs"].items():
        for field, shape in record.get("properties", {}).items():
            seen += 1
            if "description" not in shape and "part" not in field:
                bare.append(f"{name}.{field}")
    assert seen > 150
    assert bare == []


def test_always_the_same(run: Run) -> None:
    assert run("schema").out == run("schema").out
