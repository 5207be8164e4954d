"""Every starter rig is right, says "not checked" and nothing else, and fits the JSON Schema."""

from __future__ import annotations

import datetime as dt
import itertools
import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from cardgen.bundle.reading import read_rig
from cardgen.cli import main
from cardgen.commands.new import QUESTIONS
from cardgen.commands.schema import schema_text
from cardgen.model import starter_fields
from cardgen.model.results import Outcome
from cardgen.model.rig import Rig
from cardgen.model.starter import ALL, SCHEMA, Wish, asked, starter
from cardgen.present.asking import bare
from cardgen.present.prepare import prepare
from cardgen.source.shapes import shape_of, spot_at
from tests.each import each
from tests.source.memory import Memory

ROOT = Path(__file__).parent.parent.parent
DAY = dt.date(2026, 11, 25)
CHOICES = {question.name: question.choices for question in QUESTIONS}
BODIES = tuple(one for one in CHOICES["body"] if one != ALL)
KINDS = list(itertools.product(CHOICES["market"], CHOICES["type"], BODIES))


def wishes() -> list[Wish]:
    """Every market, coupling and body, with the other answers taken in turn."""
    others = itertools.cycle(
        itertools.product(CHOICES["vehicle"], CHOICES["axles"], CHOICES["brakes"], (False, True))
    )
    made = []
    for (market, coupling, body), (vehicle, axles, brakes, bars) in zip(KINDS, others, strict=False):
        made.append(Wish("Finch", market, coupling, body, vehicle, int(axles), brakes, bars))
    return made


@cache
def schema() -> Draft202012Validator:
    made = json.loads(schema_text())
    Draft202012Validator.check_schema(made)
    return Draft202012Validator(made)


def marks(text: str) -> list[str]:
    """Fields that an editor would mark."""
    data = json.loads(json.dumps(yaml.safe_load(text), default=str))
    return [".".join(map(str, error.absolute_path)) for error in schema().iter_errors(data)]


@each("wish", wishes(), ids=lambda w: f"{w.market}-{w.type}-{w.body}")
def test_a_starter_is_right_and_claims_nothing(wish: Wish) -> None:
    text = starter(wish)
    read = read_rig(Path("rig.yaml"), Memory({"rig.yaml": text}))
    assert read.faults == ()
    assert read.rig is not None
    assert read.rig.trailer.axles.count == wish.axles
    rig_view = prepare(read.rig, DAY)
    assert rig_view.assessment.outcome() is Outcome.NOT_CHECKED
    passed = [f for f in rig_view.findings if f.outcome is not Outcome.NOT_CHECKED]
    told = "law-unbraked-au" if wish.brakes == "none" and wish.axles > 1 else ""  # follows from two answers
    assert [
        f
        for f in passed
        if f.code != told and (f.outcome is not Outcome.WITHIN or "not asked of this rig" not in f.message)
    ] == []
    assert marks(text) == []
    assert max(len(line) for line in text.splitlines()) <= 120


@each("coupling", CHOICES["type"])
@each("market", CHOICES["market"])
@each("short", [False, True])
def test_a_vehicle_alone_has_a_starter_too(coupling: str, market: str, short: bool) -> None:
    text = starter(Wish("Plover", market, coupling, ALL, brakes="unknown", short=short))
    read = read_rig(Path("rig.yaml"), Memory({"rig.yaml": text}))
    assert read.rig is not None, read.faults
    assert read.rig.alone == "vehicle"
    assert prepare(read.rig, DAY).assessment.outcome() is Outcome.NOT_CHECKED
    assert marks(text) == []


@each("answers", list(itertools.product(CHOICES["vehicle"], CHOICES["axles"], CHOICES["brakes"])))
@each("bars", [False, True])
def test_every_other_answer_gives_a_right_file(answers: tuple[str, str, str], bars: bool) -> None:
    vehicle, axles, brakes = answers
    wish = Wish("Finch", vehicle=vehicle, axles=int(axles), brakes=brakes, bars=bars)
    rig = read_rig(Path("rig.yaml"), Memory({"rig.yaml": starter(wish)})).rig
    assert rig is not None
    assert rig.vehicle.kind == (None if vehicle == "unknown" else vehicle)
    assert rig.alone == ("trailer" if vehicle == "unknown" else None)
    assert rig.trailer.brakes.kind == (None if brakes == "unknown" else brakes)
    assert (rig.gear.weight_distribution is not None) is bars


def test_the_questions_are_those_of_the_model() -> None:
    shape = shape_of(Rig)
    for name, path in (
        ("market", ("market",)),
        ("vehicle", ("vehicle", "kind")),
        ("type", ("trailer", "type")),
        ("body", ("trailer", "body")),
        ("brakes", ("trailer", "brakes", "kind")),
    ):
        spot = spot_at(shape, path)
        assert spot is not None
        assert set(CHOICES[name]) - {"unknown"} == set(spot.shape.choices)


def test_the_lists_name_fields_that_exist_and_can_be_unknown() -> None:
    groups = {
        "vehicle": (
            *starter_fields.VEHICLE, *starter_fields.RECEIVER, *starter_fields.DISTRIBUTING,
            *starter_fields.TOWBAR, *starter_fields.BED, *starter_fields.BED_AXLES,
        ),
        "trailer": (*starter_fields.TRAILER, *starter_fields.EMPTY_HOME),
        "trailer.features": (
            *itertools.chain(*starter_fields.FEATURES.values()), *starter_fields.EVERY_FEATURE,
        ),
        "gear": (
            *starter_fields.GEAR, *starter_fields.BALL, *starter_fields.MOUNT, *starter_fields.BARS,
            *starter_fields.TOWBAR_BALL,
        ),
        "preferences": starter_fields.PREFERENCES,
        "dates": starter_fields.DATES,
    }  # fmt: skip
    for group, paths in groups.items():
        for path in paths:
            spot = spot_at(shape_of(Rig), tuple(f"{group}.{path}".split(".")))
            assert spot is not None, path
            assert spot.shape.optional or spot.shape.form in ("list", "map"), path
    assert set(starter_fields.FEATURES) == set(BODIES)
    listed = {f"{group}.{path}" for group, paths in groups.items() for path in paths}
    listed |= {name for wish in wishes() for name in asked(wish)}  # the model says which its market needs
    bed = {path for path in starter_fields.SHORT if path.startswith("vehicle.bed_hitch.")}
    receiver = {f"vehicle.{path}" for path in groups["vehicle"] if path.startswith("receiver.")}
    assert starter_fields.SHORT - listed - receiver <= bed
    for _, body, told in starter_fields.KINDS.values():
        assert {name for name, _ in told} <= set(starter_fields.FEATURES.get(body, ()))


WRITTEN = ("vehicle.seats", "places", "market")
"""Asked for by a check and written by the starter, as an empty list or as the answer to a question [-]."""


@each("wish", wishes(), ids=lambda w: f"{w.market}-{w.type}-{w.body}")
def test_what_a_check_asks_for_first_is_in_the_starter(wish: Wish) -> None:
    rig = read_rig(Path("rig.yaml"), Memory({"rig.yaml": starter(wish)})).rig
    assert rig is not None
    known = {*map(bare, asked(wish)), *WRITTEN}
    known |= {name.replace("load_index", "max_load") for name in known}  # either rates a tire
    needs = {bare(need.path): f.code for f in prepare(rig, DAY).findings for need in f.needs}
    assert {path: code for path, code in needs.items() if path not in known} == {}


@each(
    "path", [*sorted((ROOT / "rigs").glob("*.yaml")), *sorted((ROOT / "tests/data/rigs").glob("*.yaml"))],
    ids=lambda path: path.stem,
)  # fmt: skip
def test_the_schema_takes_every_sound_rig(path: Path) -> None:
    assert read_rig(path).rig is not None
    assert marks(path.read_text(encoding="utf-8")) == []


SOUND: dict[str, Any] = {
    "nickname": "Finch",
    "market": "us",
    "vehicle": {"kind": "suv", "gvwr": "5,000 lb"},
    "trailer": {"type": "ball", "body": "utility", "gvwr": "3,500 lb"},
    "cases": [{"name": "out"}],
}


@each(
    ("change", "path"),
    [
        ({"trailer": {"type": "ball", "body": "utility", "gvrw": "3,500 lb"}}, "trailer"),
        ({"trailer": {"type": "ball", "body": "utility", "gvwr": 3500}}, "trailer"),
        ({"trailer": {"type": "bumper", "body": "utility"}}, "trailer"),
        ({"market": "usa"}, "market"),
        ({"market": "unknown"}, "market"),
        ({"cases": {"name": "out"}}, "cases"),
        ({"cases": [{"tanks": {}}]}, "cases"),
        ({"gear": {"ball": "2 in"}}, "gear"),
        ({"preferences": {"large_print": "yes"}}, "preferences"),
        ({"tyres": {}}, ""),
        ({"cases": [{"name": "out", "tanks": {"fresh": 0.5}}]}, "cases"),
    ],
)
def test_the_schema_marks_usual_mistakes(change: dict[str, Any], path: str) -> None:
    assert marks(json.dumps(SOUND)) == []
    found = marks(json.dumps({**SOUND, **change}))
    assert found != []
    assert all(one.startswith(path) for one in found)


@each("value", [None, "unknown"])
def test_unknown_and_empty_pass_where_they_are_an_answer(value: str | None) -> None:
    for field in ("gvwr", "tires", "jack", "year", "spare"):
        assert marks(json.dumps({**SOUND, "trailer": {**SOUND["trailer"], field: value}})) == []
    assert marks(json.dumps({**SOUND, "gear": value})) == []


def test_schema_to_stdout_is_the_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == 0
    assert capsys.readouterr().out == schema_text()
    path = tmp_path / SCHEMA
    assert main(["schema", "--out", str(path)]) == 0
    assert path.read_text(encoding="utf-8") == schema_text()
    path.write_text(path.read_text(encoding="utf-8").replace("Finch", "x") + " ", encoding="utf-8")
    assert main(["schema", "--out", str(path)]) == 0
    assert path.read_text(encoding="utf-8") == schema_text()
    path.write_text('{"mine": true}', encoding="utf-8")
    assert main(["schema", "--out", str(path)]) == 5
    assert path.read_text(encoding="utf-8") == '{"mine": true}'
    assert "left as it is" in capsys.readouterr().err
