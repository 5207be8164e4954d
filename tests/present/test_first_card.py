"""The first card: what the short starter asks for and one scale ticket, and how many answers that takes."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from pathlib import Path

import pytest

from cardgen.commands.take import _written
from cardgen.model.read import ReadResult, read_rig
from cardgen.model.results import Outcome
from cardgen.model.rig import Rig
from cardgen.model.starter import asked_first, starter, wish_of
from cardgen.model.starter_fields import KINDS
from cardgen.present.asking import TOGETHER
from cardgen.present.prepare import prepare
from cardgen.source.edit import Write, anchor, put, spans
from cardgen.source.shapes import shape_of, spot_at
from tests.source.memory import Memory

RIGS = Path(__file__).parents[2] / "rigs"
DAY = dt.date(2026, 11, 25)
MAIN = re.compile(
    r"(trailer-gross|vehicle-gross|combination|tongue-share|tow-rating|trailer-axle|vehicle-(front|rear)-axle"
    r"|hitch-(trailer|tongue)|ball-size|tire-(load|axle)|tire-pressure-trailer)(-.*)?"
)
"""Checks of gross weight, tongue, tow rating, tires and hitch."""
MOST = 25
"""Answers at labels that a first card may take, beside the ticket [-]; an aim of this project."""
TICKETS = {
    "mule": """\
weighings:
  - date: 2026-11-20
    case: leaving home
    alone: {front: 1980 lb, rear: 1360 lb}
    slack: {front: 1930 lb, rear: 1540 lb, trailer: 1130 lb}
    division: 20 lb
""",
    "heron": """\
weighings:
  - date: 2026-11-20
    case: leaving home
    alone: {front: 3240 lb, rear: 2580 lb}
    slack: {front: 2980 lb, rear: 3580 lb, trailer: 4780 lb}
    engaged: {front: 3100 lb, rear: 3380 lb, trailer: 4860 lb}
    division: 20 lb
""",
}
"""Scale tickets in two passes, and in three where there are bars; invented figures."""
STAMP = {"gear.mount.ratings.trailer": "10000 lb", "gear.mount.ratings.tongue": "1000 lb"}
"""What the ball mount of a demo rig says that leaves it out; invented figures."""
RIG = {"open_utility": "mule", "travel_trailer": "heron", "horse": "mule"}
"""Kinds of trailer, each with a demo rig whose figures somebody finds at it."""


def read(text: str) -> ReadResult:
    found = read_rig(Path("r.yaml"), Memory({"r.yaml": text.encode()}))
    assert found.rig is not None, found.faults
    return found


def answered(text: str, known: ReadResult, without: str = "") -> tuple[str, list[str]]:
    """A starter with what the first card waits for filled in, and the fields that were."""
    found = read(text)
    assert found.rig is not None
    assert found.tree is not None
    assert known.tree is not None
    writes, fields, places = [], [], spans(text)
    for field in sorted(asked_first(found.rig) - {without}):
        path = tuple(field.split("."))
        where, spot = anchor(text, places, found.tree, path, "r.yaml"), spot_at(shape_of(Rig), path)
        assert spot is not None
        if where is None:
            continue  # the person said it when the file was made
        value = known.tree.get(*path) or STAMP.get(field)
        if value is not None:
            writes.append(Write(where[0], tuple(map(str, where[1])), _written(value, spot.shape)))
        fields.append(field)
    return put(text, writes), fields


def pages(fields: list[str]) -> int:
    """How many answers they are on the measuring page: a line of a label or a sidewall is one."""
    groups = {one.rpartition(".")[0] for one in fields}
    return len(fields) - sum({f"{g}.{a}", f"{g}.{b}"} <= set(fields) for g in groups for a, b in TOGETHER)


def short(kind: str) -> tuple[str, ReadResult]:
    known = read_rig(RIGS / f"{RIG[kind]}.yaml")
    assert known.rig is not None
    coupling, body, told = KINDS[kind]
    wish = wish_of(known.rig)
    made = replace(wish, nickname="Finch", type=coupling, body=body, told=told, short=True, places=())
    return starter(made) + TICKETS[RIG[kind]], known


@pytest.mark.parametrize("kind", RIG)
def test_labels_and_a_ticket_make_the_first_card(kind: str) -> None:
    text, known = short(kind)
    before = read(text).rig
    assert before is not None
    assert any(MAIN.fullmatch(f.code) for f in prepare(before, DAY).outcome(Outcome.NOT_CHECKED))
    text, fields = answered(text, known)
    rig = read(text).rig
    assert rig is not None
    found = prepare(rig, DAY)
    assert [
        f.code for f in found.findings if MAIN.fullmatch(f.code) and f.outcome is Outcome.NOT_CHECKED
    ] == []
    assert {"trailer-gross", "tongue-share", "tow-rating", "tire-load-trailer"} <= {
        f.code for f in found.findings
    }
    print(f"{kind}: {len(fields)} fields by {pages(fields)} answers")
    assert pages(fields) <= MOST


def test_what_is_left_out_of_them_is_not_passed() -> None:
    """Each of them is one that a check waits for, so the list holds no question that could be spared."""
    text, known = short("travel_trailer")
    spared = []
    fields = answered(text, known)[1]
    for field in fields:
        rig = read(answered(text, known, without=field)[0]).rig
        assert rig is not None
        unknown = [f for f in prepare(rig, DAY).outcome(Outcome.NOT_CHECKED) if MAIN.fullmatch(f.code)]
        if not unknown:
            spared.append(field)
    assert spared == ["vehicle.tow_rating.tongue"]  # not every maker states one; where it is lower it counts
