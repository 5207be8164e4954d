"""The front of the glovebox card: its shapes, its numbers, what is printed where a number is not known."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from cardgen.limits.room import least, rooms
from cardgen.model.read import read_rig
from cardgen.model.results import Outcome
from cardgen.present import report_cases as cases_of_report
from cardgen.present.blocks import (
    Banner,
    Bars,
    Block,
    Cautions,
    Gauges,
    KeyNumbers,
    Pair,
    Paragraph,
    Steps,
    Table,
)
from cardgen.present.cards.front import BLANK, front
from cardgen.present.cards.loading import room_left, telling
from cardgen.present.format import Formatter
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import RigView
from cardgen.units import Quantity
from cardgen.units.show import NBSP
from tests.laws.documents import DAY
from tests.laws.rigs import random_rig
from tests.laws.subject import quick
from tests.limits.bench import rig

ROOT = Path(__file__).parents[2]


def view(file: str) -> RigView:
    rig = read_rig(ROOT / file).rig
    assert rig is not None
    return prepare(rig, DAY)


def every(rig_view: RigView) -> list[Block]:
    """The blocks of a front, those side by side one by one."""
    return [
        one
        for block in front(rig_view).blocks
        for one in ((block.left, block.right) if isinstance(block, Pair) else (block,))
    ]


def test_three_shapes() -> None:
    kinds = {
        "heron": [b.kind for b in every(view("rigs/heron.yaml"))],
        "over": [b.kind for b in every(view("tests/data/rigs/overloaded.yaml"))],
    }
    assert kinds["heron"][:3] == ["banner", "gauges", "key_numbers"]
    assert kinds["over"][:3] == ["banner", "table", "steps"]
    over = every(view("tests/data/rigs/overloaded.yaml"))
    assert not [
        b for b in over if isinstance(b, Gauges | Bars)
    ]  # no gauge and no room left where a limit is over
    little = quick({"nickname": "x", "market": "us", "vehicle": {}, "trailer": {"type": "ball", "body": "utility"}, "cases": [{"name": "a"}]})  # fmt: skip
    blocks = every(prepare(little, DAY))
    banner, table = blocks[0], next(b for b in blocks if isinstance(b, Table) and b.write)
    assert isinstance(banner, Banner)
    assert banner.tab == "NOT KNOWN"
    assert [row[0] for row in table.rows[-2:]] == ["Trailer, loaded and weighed", "Tongue weight, weighed"]
    assert all(row[2].isdigit() for row in table.rows[:-2])


def test_ends_are_printed_inside_the_band_of_every_case() -> None:
    """Rounded inward, in both systems, over random rigs."""
    outside = []
    for seed in range(40):
        rig_view = prepare(quick(random_rig(seed)), DAY)
        for gauges in (b for b in every(rig_view) if isinstance(b, Gauges)):
            cases = {c.name: c.figures for c in rig_view.assessment.computed.cases}
            for row in gauges.rows:
                low, high = (cases[row.label][n].value for n in ("band_low", "band_high"))
                for text, end, past in ((row.low, low, 1), (row.high, high, -1)):
                    if text and end is not None:
                        shown = float(text.replace(",", ""))
                        if past * (shown - rig_view.formatter.display(end, "mass")) < -1e-6:
                            outside.append((seed, row.label, text, end))
    assert not outside


def test_inward_rounds_to_what_a_bathroom_scale_shows() -> None:
    us, metric = Formatter("us", "us"), Formatter("metric", "uk")
    pound = 0.45359237
    assert [us.inward(x * pound, "lower") for x in (560, 552.4, 99.2, 1321)] == ["560", "560", "100", "1,330"]
    assert [us.inward(x * pound, "upper") for x in (828.0, 99.8, 1229.9)] == ["820", "99", "1,220"]
    assert [metric.inward(x, "lower") for x in (61.0, 49.2)] == ["65", "50"]
    assert [metric.inward(x, "upper") for x in (84.9, 49.9)] == ["80", "49"]


def test_more_than_three_cases_tell_the_most_the_least_and_the_heaviest() -> None:
    cases = view("rigs/heron.yaml").assessment.computed.cases
    one = cases[0]

    def case(name: str, tongue: float, trailer: float) -> object:
        figures = {
            "tongue_weight": replace(one.figures["tongue_weight"], value=tongue),
            "trailer_weight": replace(one.figures["trailer_weight"], value=trailer),
        }
        return replace(one, name=name, figures=figures)

    made = tuple(
        case(*row) for row in (("a", 300, 2000), ("b", 200, 2500), ("c", 350, 2100), ("d", 250, 2400))
    )
    assert [c.name for c in telling(made)] == ["b", "c"]  # type: ignore[arg-type]  # cases, made by replace
    assert telling(cases) == list(cases)


def test_least_room_is_the_figure_of_the_loading_card_and_of_the_report() -> None:
    """One decision: place, amount and what turns first, least first, on card and report alike."""
    wrong: list[tuple[str, object]] = []
    for file in ("rigs/heron.yaml", "rigs/otter.yaml", "rigs/stork.yaml", "tests/data/markets/elch.yaml"):
        rig_view = view(file)
        rows = [row for b in every(rig_view) if isinstance(b, Bars) for row in b.rows]
        card = {row[2] for row in room_left(rig_view, rooms(rig_view.assessment)).rows}
        report = {row[1] for row in cases_of_report.room(rig_view).rows}
        first = least(rooms(rig_view.assessment))
        amounts = [float(row.demand.partition("\u00a0")[0].replace(",", "")) for row in rows]
        if not rows or amounts != sorted(amounts) or len(rows) != min(4, len(first)):
            wrong.append((file, amounts))
        wrong += [(file, row.demand) for row in rows if row.demand not in report]
        places = [row for row, one in zip(rows, first, strict=False) if not one.key.startswith("tank.")]
        wrong += [(file, row.demand) for row in places if row.demand not in card]
    assert not wrong


def test_what_is_not_known_is_a_line_to_write_on() -> None:
    rig_view = view("tests/data/rigs/small.yaml")
    shown = [b.value for block in every(rig_view) if isinstance(block, KeyNumbers) for b in block.rows]
    assert "not checked" not in " ".join(shown)
    assert all(text == BLANK or any(c.isdigit() for c in text) for text in shown)


@pytest.mark.parametrize(
    ("gvwr", "tells"),
    [
        (None, (BLANK, "not checked: read its GVWR")),
        ("3,500 lb", ("3,500\u00a0lb", "trailer GVWR; others may allow less")),
    ],
)
def test_the_hitch_does_not_say_what_the_trailer_may_weigh(gvwr: str | None, tells: tuple[str, str]) -> None:
    rig_view = prepare(rig({"trailer.empty.weight": None, "trailer.gvwr": gvwr}), DAY)
    known = next(b.rows[0] for b in every(rig_view) if isinstance(b, KeyNumbers))
    assert (known.label, known.value, known.note) == ("Trailer, at most", *tells)


def test_the_note_and_what_is_due_have_a_line_each() -> None:
    wren = [(b.strong, b.text) for b in every(view("rigs/wren.yaml")) if isinstance(b, Paragraph)]
    assert wren[0] == ("Note", "Lent out by the neighbourhood shed")
    heron = [
        b.text
        for b in every(view("rigs/heron.yaml"))
        if isinstance(b, Paragraph) and b.strong.startswith("Due, ")
    ]
    assert len(heron) == 1
    assert "year" not in heron[0]  # dates, never ages


def test_stop_if_begins_with_the_list_overleaf() -> None:
    stops = next(b for b in every(view("rigs/heron.yaml")) if isinstance(b, Cautions))
    assert stops.rows[0].text == "A line overleaf cannot be ticked"
    assert all(len(row.text) <= 50 for row in stops.rows)


def test_cures_say_what_they_leave() -> None:
    steps = next(b for b in every(view("tests/data/rigs/overloaded.yaml")) if isinstance(b, Steps))
    assert 1 <= len(steps.rows) <= 3
    assert any("Cures" in row.text for row in steps.rows)
    assert all(
        ("Cures" in row.text) is not row.text.endswith("nothing listed does it.") for row in steps.rows
    )


def test_every_weight_that_is_over_has_a_line_that_brings_it_in_or_says_how_much_must_come_off() -> None:
    plate = replace(view("rigs/dormouse.yaml").rig, cases=view("rigs/dormouse.yaml").rig.cases[:1])
    trailer = replace(plate.trailer, gvwr=Quantity(1_050.4, "mass"), cargo=())
    bare = prepare(replace(plate, trailer=trailer), DAY)
    views = [
        bare,
        view("tests/data/rigs/overloaded.yaml"),
        *(prepare(quick(random_rig(n)), DAY) for n in range(12)),
    ]
    wrong, met = [], 0
    for rig_view in views:
        over = rig_view.outcome(Outcome.OVER)
        why = next((b for b in every(rig_view) if isinstance(b, Table) and b.title == "Why"), None)
        for row, finding in zip(why.rows if why else (), over, strict=False):
            met += finding.kind == "mass"
            if finding.kind == "mass" and finding.capacity is not None and row[-1] == "-":
                wrong.append((rig_view.rig.nickname, row))
    assert not wrong
    assert met > 8
    (text,) = (
        r.text
        for b in every(bare)
        if isinstance(b, Steps)
        for r in b.rows
        if "off the loaded trailer" in r.text
    )
    gross = next(f for f in bare.outcome(Outcome.OVER) if f.code == "trailer-gross")
    assert float(text.split(NBSP)[0].replace(",", "")) == math.ceil(-(gross.margin or 0.0) - 1e-9)


def test_a_plate_that_is_too_weak_is_named_with_what_it_must_bear() -> None:
    rig = view("tests/data/markets/elch.yaml").rig
    assert rig.vehicle.receiver is not None
    weak = replace(rig.vehicle.receiver, d_value="9 kN")
    made = prepare(replace(rig, vehicle=replace(rig.vehicle, receiver=weak)), DAY)
    need = 9.81 * 2350 * 1850 / (2350 + 1850)  # UN R55 with both plates of elch
    steps = next(b for b in every(made) if isinstance(b, Steps))
    said = next(row.text for row in steps.rows if "kN" in row.text).replace("\u00a0", " ")
    assert (
        said
        == f"Fit a towbar with a plate of {math.ceil(need / 10) / 100:.2f} kN or more: put this right first."
    )
