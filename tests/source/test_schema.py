"""JSON Schema for editors."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import yaml
from jsonschema import Draft202012Validator

from cardgen.model.rig import Rig
from cardgen.source.schema import json_schema
from tests.each import each
from tests.source.shapes_for_tests import Cart

ROOT = Path(__file__).parent.parent.parent
SAMPLES = [*sorted((ROOT / "rigs").glob("*.yaml")), *sorted((ROOT / "tests/data/rigs").glob("*.yaml"))]


def plain(value: object) -> object:
    """What an editor's YAML reader hands to the schema: dates are texts there."""
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    return value.isoformat() if isinstance(value, dt.date) else value


def faults(schema: dict[str, Any], text: str) -> list[str]:
    found = Draft202012Validator(schema).iter_errors(plain(yaml.safe_load(text)))
    return [".".join(map(str, error.absolute_path)) for error in found]


@each("record", [Cart, Rig])
def test_it_is_a_schema(record: type) -> None:
    Draft202012Validator.check_schema(json_schema(record, "a title"))


@each("path", SAMPLES, ids=lambda path: path.name)
def test_right_files_pass(path: Path) -> None:
    assert faults(json_schema(Rig), path.read_text(encoding="utf-8")) == []


def test_every_field_of_a_rig_is_described() -> None:
    for name, made in json_schema(Rig)["$defs"].items():
        for field, schema in made.get("properties", {}).items():
            assert schema.get("description"), f"{name}.{field}"


HEAD = "name: Barrow\nkind: flat\n"


@each(
    "text",
    [
        HEAD,
        "part: carts/base\n",
        HEAD + "wheel: {part: wheels/oak}\n",
        HEAD + "wheel: {side: left}\n",
        HEAD + "wheel: unknown\nframe: ~\nboxes:\ntubs:\nbought: unknown\n",
        HEAD + "boxes: [{part: red}, {name: x}]\ntubs: {part: t, a: unknown, b: half}\n",
        HEAD + "axles: 2\npainted: true\ngain: 5.5\nnote: 12\n",
    ],
)
def test_what_the_reader_takes_passes(text: str) -> None:
    assert faults(json_schema(Cart), text) == []


@each(
    ("text", "path"),
    [
        ("name: Barrow\n", ""),
        (HEAD + "weel: 1\n", ""),
        (HEAD + "wheel: {load: 500}\n", "wheel"),
        (HEAD + "kind: round\n", "kind"),
        (HEAD + "axles: two\n", "axles"),
        (HEAD + "axles: unknown\n", "axles"),
        (HEAD + "boxes: [{weight: 5 kg}]\n", "boxes"),
        (HEAD + "boxes: unknown\n", "boxes"),
        (HEAD + "words: {a: ~}\n", "words"),
    ],
)
def test_what_it_marks(text: str, path: str) -> None:
    assert path in faults(json_schema(Cart), text)


def test_examples_and_defaults_are_told() -> None:
    made = json_schema(Cart)["$defs"]
    assert made["Cart"]["properties"]["name"]["examples"] == ["Barrow"]
    assert made["Cart"]["properties"]["axles"]["default"] == 1
    assert made["WheelLines"]["properties"]["load"]["description"] == "What it carries. Where: scale"
    fill = made["Cart"]["properties"]["tubs"]["anyOf"][0]["additionalProperties"]["anyOf"][0]
    assert fill["examples"][:2] == ["full", "empty"]
