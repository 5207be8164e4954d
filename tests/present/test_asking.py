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
from cardgen.present.asking import FIRST, asked, briefly, questions, waiting
from cardgen.present.blocks import Paragraph, Table
from cardgen.present.cards.hitch_card import ratings
from cardgen.present.cards.unchecked import FEW, unchecked
from cardgen.present.prepare import prepare
from cardgen.present.report_checks import governs
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
    assert governs(view_of(BARE)) is None
    bars = governs(demo("wren"))
    assert bars is not None
    assert bars.rows


def test_an_unknown_rating_is_not_a_dash() -> None:
    rows = {row[0]: row[1:] for row in ratings(view_of(BARE)).rows}
    assert rows["receiver"] == ("not checked", "not checked")
    assert rows["trailer GVWR"] == ("not checked", "-")
    told = {row[0]: row[2].replace("\u00a0", " ") for row in ratings(demo("wren")).rows}
    assert told["vehicle tow rating"] == "350 lb"  # the demo vehicle's stated tongue rating


def test_an_empty_list_asks_for_its_first_item() -> None:
    """Whoever writes that there was no weighing yet is asked for one as who writes nothing."""
    told = Finding("x", "axles", Outcome.NOT_CHECKED, needs=(need("weighings[0].slack.axles"),))
    rig = view_of(BARE).rig
    nothing, empty = (
        questions((told,), rig, data) for data in (dict[str, object](), {"weighings": list[object]()})
    )
    assert nothing == empty
    assert ("weighings", 0, "slack", "axles") in [one.path for one in empty]
