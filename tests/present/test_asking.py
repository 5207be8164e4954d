"""What is missing: whose it is, what comes first, and how a card tells it."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from cardgen.model.needs import Need
from cardgen.model.read import read_rig
from cardgen.model.results import Finding, Outcome
from cardgen.physics.needs import need
from cardgen.present.asking import FIRST, asked, briefly, waiting
from cardgen.present.blocks import Bars, Paragraph, Table
from cardgen.present.cards import front
from cardgen.present.cards.hitch_card import ratings
from cardgen.present.cards.unchecked import FEW, unchecked
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import RigView
from cardgen.tables.words import say
from tests.source.memory import Memory

DAY = dt.date(2026, 11, 25)
BARE = """
nickname: Finch
market: us
vehicle: {kind: pickup}
trailer: {type: ball, body: travel_trailer, axles: {count: 1}}
cases: [{name: leaving home}]
"""


def view_of(text: str) -> RigView:
    found = read_rig(Path("r.yaml"), Memory({"r.yaml": text.encode()}))
    assert found.rig is not None, found.faults
    return prepare(found.rig, DAY)


def demo(name: str) -> RigView:
    rig = read_rig(Path(__file__).parents[2] / "rigs" / f"{name}.yaml").rig
    assert rig is not None
    return prepare(rig, DAY)


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("vehicle.gvwr", "gross vehicle weight rating (vehicle)"),
        ("trailer.gvwr", "gross vehicle weight rating (trailer)"),
        ("vehicle.gawr.rear", "rear axle (vehicle GAWR)"),
        ("vehicle.curb.weight", "curb weight (vehicle)"),
        ("trailer.empty.weight", "empty weight of the whole trailer"),
        ("vehicle.tires.front.size", "size as marked (vehicle front tire)"),
        ("gear.mount.ratings.tongue", "largest tongue or pin weight (ball mount)"),
        ("occupants[1].weight", "weight with clothes (occupant 2)"),
        ("preferences.planned_speed", "planned top speed"),
    ],
)
def test_whose_it_is(path: str, words: str) -> None:
    assert say(asked(need(path)), "us") == words


def test_a_card_leaves_the_explanation_to_the_report() -> None:
    assert briefly(need("trailer.tires.type")) == "type of tire (trailer tires)"
    assert briefly(need("vehicle.overhang")) == "rear axle center to coupling center (vehicle)"


def test_what_opens_most_checks_comes_first() -> None:
    one, two = Need("a", "a"), Need("b", "b")
    base = demo("wren").findings[0]
    found: list[Finding] = [
        replace(base, code=code, needs=needs) for code, needs in (("x", (one, two)), ("y", (two,)))
    ]
    assert [(n.path, [f.code for f in opened]) for n, opened in waiting(found, view_of(BARE).rig)] == [
        ("b", ["x", "y"]),
        ("a", ["x"]),
    ]


def test_every_check_not_made_is_named_and_what_to_measure_is_told_once() -> None:
    rig_view = view_of(BARE)
    unknown = [f for f in rig_view.outcome(Outcome.NOT_CHECKED) if f.critical]
    assert len(unknown) > FEW
    names, table = unchecked(rig_view)
    assert isinstance(names, Paragraph)
    assert isinstance(table, Table)
    assert names.text.startswith("Not checked: ")
    assert names.text.count(";") + 1 == len({f.title for f in unknown})
    assert len(table.rows) == len({row[0] for row in table.rows}) == FIRST
    opened = [int(row[-1]) for row in table.rows]
    assert opened == sorted(opened, reverse=True)
    assert table.note == f"{len(waiting(unknown, rig_view.rig)) - FIRST} more in the full report."


def test_few_checks_are_told_one_by_one() -> None:
    rig_view = demo("wren")
    finding = rig_view.findings[0]
    lost = replace(finding, outcome=Outcome.NOT_CHECKED, critical=True, needs=(need("vehicle.gcwr"),))
    (table,) = unchecked(replace(rig_view, assessment=replace(rig_view.assessment, findings=(lost,))))
    assert isinstance(table, Table)
    assert [row[0] for row in table.rows] == [rig_view.say(finding.title)]
    assert "owner's manual or towing guide" in table.rows[0][1]


def test_nothing_is_said_of_checks_that_were_made() -> None:
    assert unchecked(demo("wren")) == ()


def test_no_bars_without_a_rating() -> None:
    assert not [one for one in front.room(view_of(BARE)) if isinstance(one, Bars)]
    (bars,) = front.room(demo("wren"))
    assert isinstance(bars, Bars)
    assert bars.rows


def test_an_unknown_rating_is_not_a_dash() -> None:
    rows = {row[0]: row[1:] for row in ratings(view_of(BARE)).rows}
    assert rows["receiver"] == ("not checked", "not checked")
    assert rows["trailer GVWR"] == ("not checked", "-")
    told = {row[0]: row[2].replace("\u00a0", " ") for row in ratings(demo("wren")).rows}
    assert told["vehicle tow rating"] == "350 lb"  # the demo vehicle's stated tongue rating


def test_every_question_has_words_and_a_place() -> None:
    """A field that a starter or a check asks for says its question and where one stands, in every market."""
    from cardgen.limits.registry import rules
    from cardgen.model.rig import Rig
    from cardgen.model.starter import Wish
    from cardgen.model.starter import asked as asked_by
    from cardgen.model.starter_fields import KINDS
    from cardgen.present.asking import PLACES
    from cardgen.source.shapes import shape_of, spot_at

    paths = {path for one in rules() for path in one.fields if "<" not in path and "[" not in path}
    for coupling, body, told in KINDS.values():
        paths |= {
            p
            for p in asked_by(Wish("", "us", coupling, body, "pickup", 2, "electric", True, (), told))
            if "[" not in p
        }
    silent, lost = [], []
    for path in sorted(paths):
        steps = tuple(path.split("."))
        spots = [spot_at(shape_of(Rig), steps[:n]) for n in range(1, len(steps) + 1)]
        docs = [spot.shape.doc for spot in spots if spot is not None]
        last = spots[-1]
        assert last is not None
        if last.shape.form == "leaf" and docs[-1] and not docs[-1].ask and path not in ("market",):
            silent.append(path)
        stands = [doc.stand for doc in docs if doc is not None and doc.stand]
        lost += [path for stand in stands[-1:] if stand not in PLACES]
        lost += [path] if not stands and path != "market" else []
    assert (silent, lost) == ([], [])
