"""What the pages are made from: nothing left out, nothing passed, nothing that could break a page."""

from __future__ import annotations

import json
import math
import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.bundle.pages import known_rigs, match_of
from cardgen.checklist.views import for_arrival, for_departure, for_season
from cardgen.limits.assess import assess
from cardgen.model.gear import Gear
from cardgen.model.results import Outcome
from cardgen.model.shelf import PairRig, pair, read_shelf
from cardgen.model.starter import left_open
from cardgen.physics.compute import compute
from cardgen.present import report_gear
from cardgen.present.blocks import Banner, Bars, ChecklistBlock, Table
from cardgen.present.cards.pieces import becoming
from cardgen.present.figures import LimitBar
from cardgen.present.glossary import glossary
from cardgen.present.history import Revision
from cardgen.present.history import rows as history_rows
from cardgen.present.index import FEW, IndexRig, build_index
from cardgen.present.matrix import MOST, Cell, Matrix, cell, match
from cardgen.present.notice import currency, reckoned
from cardgen.present.page import Fold, Items, Page, Working
from cardgen.present.report_checks import LINE, anchor, missing
from cardgen.present.rig_view import LEVELS
from cardgen.present.whatif_view import WhatIf
from cardgen.render import figures
from cardgen.render.env import environment
from cardgen.render.live import FaultLine, faults_page, live
from cardgen.render.site import PageError, asset, data_block, index_page, moved, plain_svg, rig_page, tight
from cardgen.tables.words import listed
from cardgen.units import Quantity
from tests.each import each
from tests.site import shed
from tests.site.shed import DAY, DEMOS, DOWNLOADS, HISTORY, HOSTILE, ROOT

ALL = (*DEMOS, "gaps", "full", "over", "hostile")


@each("name", ALL)
def test_every_finding_is_on_the_workings_once(name: str) -> None:
    findings = shed.rig_view(name).findings
    checks = [one for one in shed.blocks(shed.pages(name)["workings"], "checks") if isinstance(one, Fold)]
    codes = [rows(one)["Code"] for one in checks]
    assert sorted(codes) == sorted(f.code for f in findings)
    assert len({one.id for one in checks}) == len(checks)
    by_code = {f.code: f for f in findings}
    for code, one in zip(codes, checks, strict=True):
        assert one.word == by_code[code].outcome.value
        assert rows(one)["Basis"]
        assert rows(one)["Source"]
        if one.word == Outcome.NOT_CHECKED.value:
            assert one.said.startswith("not checked")
            assert one.said != "not checked" or any(isinstance(b, Items) for b in one.blocks)


def rows(fold: Fold) -> dict[str, str]:
    """The pairs of a check."""
    return {row[0]: row[1] for block in fold.blocks if isinstance(block, Table) for row in block.rows}


def ids(page: Page) -> set[str]:
    """Every id that a page can be entered at."""
    folds = {one.id for one in shed.blocks(page) if isinstance(one, Fold) and one.id}
    items = {row.id for one in shed.blocks(page) if isinstance(one, Items) for row in one.rows if row.id}
    return folds | items | {section.id for section in page.sections}


def links(page: Page) -> Iterator[str]:
    """Every address that a page leads to, from the rig's folder."""
    for one in shed.blocks(page):
        if isinstance(one, Banner):
            yield from one.links
        elif isinstance(one, Bars):
            yield from (row.href for row in one.rows)
        elif isinstance(one, Items):
            yield from (row.href for row in one.rows if row.href)
        elif isinstance(one, Working) and one.see:
            yield f"#{one.see}"


@each("name", ALL)
def test_every_link_leads_to_something(name: str) -> None:
    pages = shed.pages(name)
    lost = []
    for page in pages.values():
        for href in links(page):
            file, _, place = href.partition("#")
            to = pages.get(file.removesuffix(".html") or page.name)
            if href.startswith("tel:") or file.endswith(".pdf"):
                continue
            if to is None or (place and place not in ids(to)):
                lost.append(f"{page.name}: {href}")
        lost += [f"{page.name}: up {s.up}" for s in page.sections if page.views and s.up not in ids(page)]
        lost += [f"{page.name}: next {s.next}" for s in page.sections if s.next and s.next not in ids(page)]
    assert lost == []


ORDER = ("workings.html#", "check.html#envelope", "use.html#due", "check.html#missing", "check.html#places")


@each("name", ALL)
def test_the_verdict_says_what_matters_in_order(name: str) -> None:
    rig_view = shed.rig_view(name)
    verdict = next(one for one in shed.blocks(shed.pages(name)["use"], "home") if isinstance(one, Banner))
    ranks = [next(i for i, start in enumerate(ORDER) if link.startswith(start)) for link in verdict.links]
    assert ranks == sorted(ranks)
    assert len(verdict.links) == len(verdict.lines) <= 16
    said = "\n".join(verdict.lines)
    over = rig_view.outcome(Outcome.OVER)
    assert ("more over" in said) == (len(over) > 6)
    assert sum(link.startswith("workings.html#check-") for link in verdict.links) >= min(len(over), 6)
    assert ("check.html#envelope" in verdict.links) == bool(becoming(rig_view))
    # What is longer than a line holds one name, and no more.
    assert [line for line in verdict.lines if len(line) > LINE and re.search(r"; |, \d", line)] == []
    assert ("Overdue" in said) == any(one.state == "due" for one in rig_view.checklist.due)
    assert ("ot checked" in said) == bool(rig_view.outcome(Outcome.NOT_CHECKED))


@each("name", ALL)
def test_a_borrower_sees_no_hint_for_the_owner(name: str) -> None:
    page = shed.pages(name)["borrower"]
    assert not re.search(r"\bdates\.|\b(vehicle|trailer|gear)\.[a-z_]+\b", repr(page.sections))
    assert "Overdue" not in repr(page.sections)
    assert not any(isinstance(one, Items) and any(row.code for row in one.rows) for one in shed.blocks(page))


def test_numbers_to_call_are_links_where_they_can_be_dialed() -> None:
    for name, there in (
        ("heron", {"tel:911", "tel:5550142"}),
        ("dormouse", {"tel:999", "tel:5550142"}),
        ("hostile", {"tel:911"}),
    ):
        for page in ("use", "borrower"):
            assert {one for one in links(shed.pages(name)[page]) if one.startswith("tel:")} == there, (
                name,
                page,
            )


@each("name", ALL)
def test_workings_add_up(name: str) -> None:
    """Terms of a weight that starts from a base add up to the result."""
    seen = 0
    for case in shed.rig_view(name).assessment.computed.cases:
        for figure in case.figures.values():
            if figure.value is None or not figure.terms or figure.terms[0].symbol != "base":
                continue
            assert math.isclose(sum(t.value for t in figure.terms), figure.value, rel_tol=1e-9, abs_tol=1e-9)
            seen += 1
    assert seen > 0 or name == "gaps"


@each("name", ALL)
def test_missing_names_every_need_once(name: str) -> None:
    rig_view = shed.rig_view(name)
    unknown = [n for f in rig_view.outcome(Outcome.NOT_CHECKED) for n in f.needs]
    needs = {(rig_view.say(rig_view.formatter.need(n)), n.path) for n in unknown}
    found = missing(rig_view)
    waited, idle = ([(m.text, m.code) for m in found if bool(m.lines) is opens] for opens in (True, False))
    assert len(waited) == len(set(waited))
    assert set(waited) >= needs
    assert {path for words, path in set(waited) - needs} <= set(left_open(rig_view.rig))  # asked for later on
    assert len(idle) == len({path for _, path in idle}) == len({p for _, p in idle} - {p for _, p in waited})
    assert {path for _, path in idle} <= set(left_open(rig_view.rig))
    assert all(m.text for m in found)


@each("name", ALL)
def test_every_line_of_the_checklist_is_there_with_its_sources(name: str) -> None:
    found = shed.rig_view(name).checklist
    folds = [one for one in shed.blocks(shed.pages(name)["workings"], "reasons") if isinstance(one, Fold)]
    *phases, sources = [
        [row for b in fold.blocks if isinstance(b, Items) for row in b.rows] for fold in folds
    ]
    told = [row for phase in phases for row in phase]
    for row, line in zip(told, found.lines(), strict=True):
        assert line.text in row.text
        cited = re.search(r" \[([\d, ]+)\]$", row.note)
        numbers = [int(n) for n in cited[1].split(", ")] if cited else []
        assert tuple(sources[n - 1].text for n in numbers) == line.source_words


@each("name", ALL)
def test_every_line_that_is_ticked_stands_in_one_list_of_its_page(name: str) -> None:
    found = shed.rig_view(name).checklist
    lists = {
        page: [
            (section.id, line.id)
            for section in shed.pages(name)[page].sections
            for block in section.blocks
            if isinstance(block, ChecklistBlock)
            for phase in block.phases
            for line in phase.lines
        ]
        for page in ("use", "check")
    }
    for page, ticked in lists.items():
        assert len(set(ticked)) == len(ticked), page  # ticks are kept by list and line
    there = {line for _, line in lists["use"]}
    for phases in (for_departure(found), for_arrival(found)):
        assert {line.id for phase in phases for line in phase.items if line.kind != "ban"} <= there
    assert {line.id for phase in for_season(found) for line in phase.items} <= {
        line for _, line in lists["check"]
    }


@each("name", ALL)
def test_what_if_data_is_plain_json(name: str) -> None:
    (what,) = (one for one in shed.blocks(shed.pages(name)["check"]) if isinstance(one, WhatIf))
    text = json.dumps(what.data, allow_nan=False)
    assert json.loads(text) == json.loads(json.dumps(what.data))
    places = len(what.data["loads"])
    for form in what.data["forms"].values():
        assert all(0 <= row[0] < places for row in form["rows"])
    for preset in what.data["presets"]:
        assert len(preset["at"]) == len(what.data["controls"])
        assert len(preset["shares"]) == places


@given(
    st.recursive(
        st.text() | st.none() | st.integers() | st.just(HOSTILE),
        lambda s: st.lists(s) | st.dictionaries(st.text(), s),
    )
)
def test_data_blocks_cannot_be_left(value: object) -> None:
    text = data_block({"value": value})
    assert not set(text) & set("<>&\u2028\u2029")
    assert json.loads(text) == {"value": value}


@each("text", ["a</style>", "x</script >", "<!-- x"])
def test_an_asset_cannot_end_its_element(text: str) -> None:
    with pytest.raises(PageError):
        asset(text)


def test_tight_keeps_what_counts() -> None:
    text = "/* gone */\n  a { b: c }\n\n// gone\n  'x // stays'\n"
    assert tight(text) == "a { b: c }\n'x // stays'"


def test_plain_svg_keeps_labels_and_shortens_numbers() -> None:
    svg = '<svg xmlns="x" width="9mm" height="1mm" viewBox="0 0 1 1" font-family="F"><title>t</title>'
    svg += '<path d="M0.12345 -1.5678L10.9999 2" fill="none" stroke="#000"/><text>1.23456 lb</text></svg>'
    made = plain_svg(svg)
    assert made == (
        '<svg viewBox="0 0 1 1" aria-hidden="true" focusable="false">'
        '<path d="M0.12 -1.57L11 2" class="k"/><text>1.23456 lb</text></svg>'
    )
    real = plain_svg(figures.limit_bar(LimitBar(1.1, "over"), 60, 3, "title").svg)
    assert "title" not in real
    assert "xmlns" not in real


# matrix

RIGS = ROOT / "rigs"
SHELF = read_shelf(RIGS)


def paired(vehicle: str, trailer: str, *names: str) -> PairRig:
    """A demo vehicle and a demo trailer, with some of the demo rigs beside them."""
    known = known_rigs([RIGS / f"{name}.yaml" for name in names])
    return pair(SHELF, f"vehicles/{vehicle}", f"trailers/{trailer}", tuple(known))


def test_a_pair_that_is_a_rig_comes_out_like_the_rig() -> None:
    for name in DEMOS:
        rig = shed.rigs()[name]
        (vehicle,) = [n for n, v in SHELF.vehicles.items() if v.name == rig.vehicle.name]
        made = cell(paired(vehicle.split("/")[1], name, *DEMOS), DAY)
        outcome = shed.rig_view(name).assessment.outcome()
        assert (made.word, made.level, made.own) == (outcome.value, LEVELS[outcome], rig.nickname)


def test_of_several_rigs_that_are_a_pair_the_worst_speaks() -> None:
    fine = paired("anvil", "heron", "heron", "heron")
    assert [one.own for one in (fine, *fine.others)] == [shed.rigs()["heron"].nickname] * 2
    assert fine.rig is not None
    heavy = replace(fine.rig, trailer=replace(fine.rig.trailer, gvwr=Quantity(1_000.0, "mass")))
    for pair_ in (
        replace(fine, others=(PairRig(heavy, "heavy"),)),
        PairRig(heavy, "heavy", others=(replace(fine, others=()),)),
    ):
        made = cell(pair_, DAY)
        assert (made.word, made.own) == ("over", "heavy")


def test_every_vehicle_meets_every_trailer() -> None:
    assert SHELF.faults == ()
    made = match_of([RIGS / f"{name}.yaml" for name in DEMOS], DAY)
    assert made is not None
    assert [name.split(" ")[0] for name, _ in made.rows] == ["Anvil", "Pebble", "Sixpence", "Slate"]
    assert all(len(cells) == len(made.trailers) == len(DEMOS) for _, cells in made.rows)
    assert all(c.limit for _, cells in made.rows for c in cells)
    table = dict(made.rows)
    heron = next(i for i, name in enumerate(made.trailers) if name.startswith("Heron"))
    assert table["Pebble (SUV)"][heron].level == "over"  # a small SUV and the tandem travel trailer
    assert "over" in table["Pebble (SUV)"][heron].limit
    stork = next(i for i, name in enumerate(made.trailers) if name.startswith("Stork"))
    assert table["Pebble (SUV)"][stork].word == "does not couple"  # no hitch in the bed of an SUV


def test_gear_of_a_fixed_ball_does_not_move_to_a_receiver() -> None:
    made = paired("sixpence", "heron", *DEMOS)
    assert made.rig is not None
    assert made.rig.gear == Gear()
    assert cell(made, DAY).word in ("not checked", "over")  # missing gear is never passed


def test_what_belongs_to_the_first_vehicle_alone_stays_with_it(tmp_path: Path) -> None:
    """Its weighings, the adapter for its socket and the seats of its people; what the other carries rides along."""
    shutil.copytree(RIGS, tmp_path / "rigs", ignore=shutil.ignore_patterns("revisions"))
    part = tmp_path / "rigs" / "parts" / "vehicles" / "pebble.yaml"
    more = "cargo: [{name: tool chest, weight: 200 lb, ahead_of_rear_axle: 2 ft, set: work}]\n"
    part.write_text(part.read_text("utf-8") + more, "utf-8")
    files = [tmp_path / "rigs" / "heron.yaml"]
    made = pair(read_shelf(files[0].parent), "vehicles/pebble", "trailers/heron", tuple(known_rigs(files)))
    assert made.rig is not None
    assert made.rig.weighings == ()
    assert made.rig.gear.plug_adapter is None
    assert {p.seat for p in made.rig.occupants if p.seat is not None} <= set(made.rig.vehicle.seats)
    sets = {c.set for c in made.rig.vehicle.cargo if c.set is not None}
    assert sets == {"work"}
    assert all(sets <= set(case.cargo) for case in made.rig.cases)


def test_nothing_known_is_not_checked_and_never_within() -> None:
    made = cell(PairRig(shed.rigs()["gaps"]), DAY)
    assert made.word == "not checked"
    assert "missing" in made.limit


def test_a_trailer_without_a_rig_is_taken_full() -> None:
    made = paired("anvil", "heron").rig
    assert made is not None
    assert made.occupants == ()
    assert {n for n, q in made.cases[0].tanks.items() if q.si == 1.0} == {"fresh", "heater"}
    finding = next(f for f in assess(compute(made, deep=False), DAY).findings if f.code == "trailer-gross")
    loaded = shed.rig_view("heron").assessment.computed.worst("trailer_weight")
    assert loaded is not None
    assert finding.demand is not None
    assert finding.demand > loaded[1] - 120  # fresh and heater full, waste empty


def test_too_many_pairs_are_not_worked_out() -> None:
    heron = shed.rigs()["heron"]
    many = {f"vehicles/{i}": heron.vehicle for i in range(MOST + 1)}

    def none(vehicle: str, trailer: str) -> PairRig:
        raise AssertionError(f"{vehicle} and {trailer} are worked out")

    made = match(many, {"trailers/a": heron.trailer}, none, DAY, "us")
    assert made is not None
    assert made.rows == ()
    assert str(MOST) in made.notes[0]
    assert match({}, {"trailers/a": heron.trailer}, none, DAY, "us") is None


# history


def test_history_is_newest_first_in_words() -> None:
    told = history_rows(HISTORY, DOWNLOADS)
    assert [row.id for row in told] == ["revision-3", "revision-2", "revision-1"]
    assert told[0].note == "cards: Tire tag"
    assert history_rows([Revision(4, DAY, ("a card withdrawn",), ())], DOWNLOADS)[0].note == "cards: none"
    assert told[2].lines == ("first revision",)
    assert told[2].note == "cards: all cards"


def test_currency_carries_what_the_page_needs() -> None:
    made = currency(shed.rig_view("over"), DOWNLOADS)
    assert (made["revision"], made["date"].replace("\u00a0", " ")) == (3, "25 Nov 2026")
    cards = {letter: (card["changed"], card["mark"]) for letter, card in made["cards"].items()}
    assert (cards["g"], cards["t"]) == ((2, "abc123"), (3, ""))
    assert made["cards"]["g"]["prints"][0]["lines"] == shed.PRINTS[0].lines
    assert made["over"]
    assert not currency(shed.rig_view("heron"), DOWNLOADS)["over"]
    assert reckoned(shed.rig_view("heron")).startswith("Ages and what is due were reckoned on 25")


# words, index, preview pages


def test_glossary_speaks_the_markets_words() -> None:
    heron = {term.text for term in glossary(shed.rig_view("heron"))}
    dormouse = {term.text for term in glossary(shed.rig_view("dormouse"))}
    assert "tongue weight" in heron
    assert "noseweight" in dormouse
    assert "GVWR of the trailer" in heron
    assert "MTPLM" in dormouse
    assert len(heron) == len(dormouse) == len(listed())


def entry(name: str, level: str, **more: object) -> IndexRig:
    """A rig of the page of all rigs; the outcome is its level."""
    return IndexRig(name, f"{name}/index.html", level, level, **more)  # type: ignore[arg-type]  # made up


def test_index_counts_and_puts_the_worst_first() -> None:
    rigs = [entry("b", "within"), entry("a", "within", behind="trailers/x"), entry("z", "over")]
    rigs.append(entry("y", "over", faulty=True))
    view = build_index(rigs)
    assert [r.nickname for r in view.rigs] == ["y", "z", "a", "b"]
    assert view.counts == (("faults", "faulty", 1), ("over", "over", 1), ("within", "within", 2))
    page = index_page(view, environment()).decode()
    assert "The rig file has faults now. This is the last output that could be made: over." in page
    assert page.count("Behind: trailers/x changed after its pages were made.") == page.count("Behind:") == 1
    assert index_page(build_index([]), environment()).decode().count("No rigs yet") == 1


def test_index_writes_services_by_day_and_of_many_each_name_once() -> None:
    due = {"Bearings": "2027-02-03", "Brakes": "", "Tires": "2026-11-05", "Spare": "2026-11-05"}
    few = build_index([entry("a", "within", due=due)])
    assert few.due == ("Tires + Spare 5 Nov 2026; Bearings 3 Feb 2027; 1 undated",)
    assert few.letters == ()
    many = build_index([entry(f"r{n}", "within", due=due) for n in range(FEW)])
    assert set(many.due) == {"B + C 5 Nov 2026; A 3 Feb 2027; 1 undated"}
    assert dict(many.letters) == {"A": "Bearings", "B": "Tires", "C": "Spare"}
    names = {f"service {n}": "2027-02-03" for n in range(FEW + 1)}
    assert len(dict(build_index([entry("a", "within", due=names)]).letters)) == FEW + 1


def test_own_pairs_of_the_matrix_say_what_their_rigs_say() -> None:
    cells = (
        Cell("within", "within", "9 lb left", "a"),
        Cell("over", "over", "9 lb over", "b"),
        Cell("close", "close", ""),
    )
    matrix = Matrix(("t", "u", "v"), (("w", cells),), ())
    shown = build_index([entry("a", "over", over=("tires: 5 lb over",)), entry("b", "over")], matrix).matrix
    assert shown is not None
    assert shown.rows == (("w", (Cell("over", "over", "tires: 5 lb over", "a"), *cells[1:])),)
    found = [
        (cell.own, cell.word, shed.rig_view(name).assessment.outcome().value)
        for name in shed.DEMOS
        for _, row in shed.matrix().rows
        for cell in row
        if cell.own == shed.rigs()[name].nickname
    ]
    assert len(found) == len(shed.DEMOS)
    assert [one for one in found if one[1] != one[2]] == []


def test_live_adds_one_script_and_names_it() -> None:
    env = environment()
    page = index_page(build_index([]), env)
    made = live(page, 7, env).decode()
    assert 'data-version="7"' in made
    assert made.count("<script>") == page.decode().count("<script>") + 1
    assert "connect-src 'self'" in made
    assert "script-src 'sha256-" in made
    with pytest.raises(PageError):
        live(b"<html><body></body></html>", 1, env)


def test_faults_are_escaped() -> None:
    page = faults_page(
        HOSTILE, [(HOSTILE, [FaultLine(HOSTILE, HOSTILE, HOSTILE, HOSTILE, HOSTILE)])], environment()
    )
    assert HOSTILE not in page.decode()
    assert page.decode().count("&lt;script&gt;alert(1)") == 8


def test_anchor_is_stable() -> None:
    assert anchor("trailer-gross") == "check-trailer-gross"


def test_a_part_that_does_not_apply_is_left_out() -> None:
    mule, heron = (ids(shed.pages(name)["check"]) for name in ("mule", "heron"))
    assert shed.rigs()["mule"].weighings == ()
    assert "weighings" not in mule
    assert {"weighings", "drawings", "what-if", "envelope"} <= heron
    assert "plug" not in ids(shed.pages("stork")["use"]) or shed.rigs()["stork"].trailer.connector
    page = shed.pages("mule")["check"]
    bare = replace(page, sections=tuple(one for one in page.sections if one.id != "what-if"))
    assert b'id="what-if"' not in rig_page(bare, environment())


def test_old_names_are_known_to_the_page_behind_the_cards() -> None:
    """Every name that the one page of old could be entered at leads to a place that exists."""
    pages = shed.pages("heron")
    known = moved(tuple(pages.values()))
    for name in (
        "verdict", "remedies", "governs", "missing", "drawings", "cases", "envelope", "what-if", "checks", "weighings",
        "tires", "hitch", "brakes", "sway", "labels", "due", "checklist", "cards", "cautions", "glossary", "revisions",
    ):  # fmt: skip
        to = known["names"].get(name, "use.html")
        file, _, place = to.partition("#")
        wanted = place or name
        there = ids(pages[file.removesuffix(".html")]) | {
            "verdict",
            "remedies",
        }  # within the first view; not this rig
        assert wanted in there, name
    assert known["starts"] == {"check-": "workings.html", "w=": "check.html", "revision-": "workings.html"}


def test_a_hitch_set_goes_by_its_owners_name() -> None:
    rows = [
        row
        for block in report_gear.hitch(shed.rig_view("heron"))
        if isinstance(block, Table)
        for row in block.rows
    ]
    assert ("Hitch set", shed.rigs()["heron"].gear.name) in rows
