"""The measuring page in a real browser at phone size, from its own file, without a network."""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from cardgen.limits.plausible import doubts
from cardgen.model.read import ReadResult, read_rig
from cardgen.model.results import Outcome
from cardgen.model.starter import starter, wish_of
from cardgen.present.measure import MARK, FileText, MeasureView, build_measure
from cardgen.present.prepare import prepare
from cardgen.render.env import environment
from cardgen.render.site import measure_page
from cardgen.source.edit import Write, anchor, put, spans
from tests.packed import measure_data
from tests.site import shed
from tests.site.watch import watch

pytestmark = pytest.mark.browser
DAY = dt.date(2026, 11, 28)
KINDS = {
    "utility": ("mule", "utility"),
    "travel trailer": ("heron", "travel_trailer"),
    "horse": ("mule", "horse"),
}
"""Kinds of trailer, each with a demo rig whose figures somebody finds at it."""
TOLD = (
    "trailer-gross",
    "tow-rating",
    "tongue-share",
    "tire-load-trailer",
    "hitch-trailer-coupler",
    "vehicle-gross",
)
"""Checks for which the first card is made."""


@cache
def demo(name: str) -> ReadResult:
    return read_rig(shed.ROOT / "rigs" / f"{name}.yaml")


def blank(name: str, body: str) -> str:
    """The starter of such a rig: nothing is known of it."""
    rig = demo(name).rig
    assert rig is not None
    return starter(replace(wish_of(rig), nickname="Finch", body=body))


def laid_out(file: Path) -> tuple[ReadResult, MeasureView]:
    read = read_rig(file)
    assert read.rig is not None, read.faults
    assert read.tree is not None
    texts = [FileText(name.removeprefix(f"{file.parent}/"), name, text) for name, text in read.texts.items()]
    return read, build_measure(prepare(read.rig, DAY), read.tree, texts)


@contextmanager
def opened(
    browser: Browser, folder: Path, text: str, known: ReadResult | None = None
) -> Iterator[tuple[Page, MeasureView]]:
    """The page of a rig file, with answers that were kept."""
    file = folder / "rigs" / "finch.yaml"
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(text.encode())
    read, view = laid_out(file)
    assert read.rig is not None
    address = folder / "measure.html"
    address.write_bytes(measure_page(view, read.rig.market, environment()))
    with watch(browser, phone=True) as seen:
        if known is not None:
            kept = {"sha": "", "answers": answers(view, known), "units": {}}
            seen.page.add_init_script(
                f"try {{ if (!localStorage.getItem('cardgen-measure:{view.data['rig']}'))"
                f" localStorage.setItem('cardgen-measure:{view.data['rig']}', {json.dumps(json.dumps(kept))}) }} catch (none) {{}}"
            )
        seen.page.goto(address.as_uri())
        yield seen.page, view
        assert {one.partition(":")[0] for one in seen.asked} <= {"file", "blob"}


def given_back(page: Page) -> tuple[dict[str, Any], str]:
    """The mark, and the file that the page gives back."""
    page.evaluate("location.hash = '#file'")
    box = page.locator("textarea")
    expect(box).to_have_count(1)
    text: str = page.evaluate("document.querySelector('textarea').value")
    with page.expect_download() as saved:
        page.get_by_role("link", name=re.compile("^Save ")).click()
    whole = Path(saved.value.path()).read_bytes().decode()  # a text area turns CR LF into LF
    assert whole.replace("\r\n", "\n") == text.replace("\r\n", "\n")
    first, rest = re.split("\r?\n", whole, maxsplit=1)
    assert first.startswith(MARK)
    return json.loads(first.removeprefix(MARK)), rest


_NUMBER = re.compile(
    r"(-?(?:[\d,.]+(?: \d+/\d+)?|\d+/\d+)) ?([A-Za-z%][A-Za-z/ -]*)(?: ([\d.]+(?: \d+/\d+)?|\d+/\d+) in)?"
)


def raw_of(spec: dict[str, Any], value: Any, specs: list[dict[str, Any]]) -> dict[str, Any] | None:
    """What a person would type and press for a value of a rig file; None where no form takes it."""
    match spec["t"]:
        case "number":
            text = value.split(" +/-")[0]
            if text in spec.get("o", ()):
                return {"o": text}
            found = _NUMBER.fullmatch(text)
            assert found, text
            if found[3] or found[2] == "ft":
                return {"u": "ft in", "v": found[1], "i": found[3] or ""}
            return {"u": found[2], "v": found[1]}
        case "list":
            each = [raw_of(specs[spec["i"]], one, specs) for one in value]
            return {"l": each} if len(each) == spec["n"] else None
        case "form":
            return {"c": columns(spec, value, specs)}
        case "rows":
            rows = value.items() if spec["m"] else [("", one) for one in value]
            return {"rows": [{"name": name, "c": columns(spec, one, specs)} for name, one in rows]}
        case _:
            return {"v": value}


def columns(spec: dict[str, Any], value: Any, specs: list[dict[str, Any]]) -> list[dict[str, Any]]:
    made: list[dict[str, Any]] = []
    for one in spec["c"]:
        here = value
        for key in one["n"]:
            here = here.get(key) if isinstance(here, dict) else None
        made.append(
            {"o": "full"}
            if "a" in one
            else {}
            if here is None
            else raw_of(specs[one["k"]], here, specs) or {}
        )
    return made


def answers(view: MeasureView, read: ReadResult) -> dict[str, Any]:
    """What somebody who knows another rig would answer."""
    assert read.tree is not None
    made: dict[str, Any] = {}
    for question, row in zip(view.questions, view.data["questions"], strict=True):
        value = read.tree.get(*question.path)
        spec = view.data["specs"][row[7]]
        if value not in (None, {}, []) and question.path[0] != "weighings":
            raw = raw_of(spec, value, view.data["specs"])
            if raw is not None:
                made[json.dumps(question.path, separators=(",", ":"))] = raw
    return made


@pytest.mark.parametrize("kind", KINDS)
def test_from_nothing_to_numbers(browser: Browser, tmp_path: Path, kind: str) -> None:
    name, body = KINDS[kind]
    text, known = blank(name, body), demo(name)
    file = tmp_path / "rigs" / "finch.yaml"
    with opened(browser, tmp_path, text, known) as (page, _):
        mark, made = given_back(page)
        assert (
            page.locator(".flag").all_inner_texts()
            == [
                "The rig file has changed since you answered. Your answers are kept by the name of their field."
            ]
            or page.locator(".flag").all_inner_texts() == []
        )
    assert mark["file"] == "finch.yaml"
    file.write_text(made)
    read = read_rig(file)
    assert read.rig is not None, read.faults
    unknown = {f.code for f in prepare(read.rig, DAY).outcome(Outcome.NOT_CHECKED)}
    assert unknown.isdisjoint(TOLD)
    assert written_by_python(text, mark, file) == made


def written_by_python(text: str, mark: dict[str, Any], file: Path) -> str:
    """The same answers, written by ``cardgen.source.edit``."""
    from cardgen.commands.take import _new, _written
    from cardgen.model.rig import Rig
    from cardgen.source.shapes import shape_of, spot_at

    theirs = read_rig(file).tree
    file.write_text(text)
    ours = read_rig(file).tree
    assert theirs is not None
    assert ours is not None
    writes, known = [], spans(text)
    for steps in mark["fields"]:
        spot = spot_at(shape_of(Rig), tuple(steps))
        where = anchor(text, known, ours, tuple(steps), str(file))
        assert spot is not None
        assert where is not None, steps
        value = _new(theirs, ours, tuple(steps))
        writes.append(Write(where[0], tuple(map(str, where[1])), _written(value, spot.shape)))
    return put(text, writes)


BEFORE = """\
# \U0001f69a what the labels say
nickname: "Fin</script>ch"
market: us
vehicle:
  kind: pickup
  year: unknown  # model year
  gvwr: unknown               # door
  gawr: {front: unknown, rear: 3900 lb}
  connector: unknown
  tires: {placard_size: ~}
  fuel:
trailer:
  type: ball
  body: travel_trailer
  tanks: {}  # water
  axles:
    count: 2
    gawr: []
    ball_to_center: unknown # tape
  chains:
    count: unknown   # look
  tire_pressure: unknown
gear:
  plug_adapter: unknown
cases:
  - name: leaving home
    fuel: full
dates: {last_tow: unknown}
"""
AFTER = """\
# \U0001f69a what the labels say
nickname: "Fin</script>ch"
market: us
vehicle:
  kind: pickup
  year: 2019     # model year
  gvwr: 6350 lb               # door
  gawr: {front: 3650 lb, rear: 3900 lb}
  connector: 7-blade
  tires: {placard_size: "P265/70R17: \\"E\\""}
  fuel:
    kind: gasoline
    capacity: 26 gal
trailer:
  type: ball
  body: travel_trailer
  tanks:  # water
    fresh:
      holds: fresh
      capacity: 40 gal
      x: 9 ft 2 1/2 in
    "no":
      holds: grey
  axles:
    count: 2
    gawr:
      - 3500 lb
      - 3500 lb
    ball_to_center: 15 ft 3 5/8 in  # tape
  chains:
    count: unknown   # look (count: not there, looked %s)
  tire_pressure: 65 psi
  empty:
    includes:
      tanks:
        fresh: empty
    weight: 4870 lb
gear:
  plug_adapter: true
cases:
  - name: leaving home
    fuel: full
    tanks:
      fresh: full
      "no": 1/4
dates: {last_tow: 2026-04-30}
"""


def ask(page: Page, view: MeasureView, *path: str | int) -> None:
    """Open the question for a field."""
    numbers = [n for n, one in enumerate(view.questions) if one.path == path]
    assert numbers, path
    page.evaluate(f"location.hash = '#q-{numbers[0]}'")
    expect(page.locator("h1")).to_have_text(view.questions[numbers[0]].ask)


def reply(page: Page, *typed: str, pressed: tuple[str, ...] = ()) -> None:
    """Press what is to be chosen, type into the boxes in their order, and continue."""
    for value in pressed:
        page.locator(f"main input[type=radio][value='{value}']").first.check(force=True)
    for box, text in zip(page.locator("main input:not([type=radio])").all(), typed, strict=False):
        box.fill(text)
    page.get_by_role("button", name="Continue").click()


def test_every_kind_of_field_goes_to_its_place(browser: Browser, tmp_path: Path) -> None:
    """Line ends of two characters, and a letter of two units of UTF-16 before all places, change nothing."""
    text = BEFORE.replace("\n", "\r\n")
    with opened(browser, tmp_path, text) as (page, view):
        ask(page, view, "vehicle", "year")
        reply(page, "2019")
        ask(page, view, "vehicle", "gvwr")
        reply(page, "6,350", pressed=("lb",))
        ask(page, view, "vehicle", "gawr", "front")
        reply(page, "3650", "1656", pressed=("lb",))
        ask(page, view, "vehicle", "connector")
        reply(page, pressed=("7-blade",))
        ask(page, view, "vehicle", "tires", "placard_size")
        reply(page, 'P265/70R17: "E"')
        ask(page, view, "vehicle", "fuel")
        page.locator("input[value=gasoline]").check(force=True)
        page.locator("fieldset").nth(1).locator("input[value=gal]").check(force=True)
        page.locator("fieldset").nth(1).locator("input.big").fill("26")
        page.get_by_role("button", name="Continue").click()
        ask(page, view, "trailer", "axles", "gawr")
        page.locator("fieldset").first.locator("input[value=lb]").check(force=True)
        page.locator("fieldset").first.locator("input.big").fill("3500")
        page.get_by_role("button", name="All axles alike").click()
        page.get_by_role("button", name="Continue").click()
        ask(page, view, "trailer", "axles", "ball_to_center")
        page.locator("input[value='ft in']").check(force=True)
        page.get_by_label("fraction").select_option("5/8")
        reply(page, "15", "3")
        ask(page, view, "trailer", "chains", "count")
        page.get_by_role("button", name="Not there").click()
        ask(page, view, "trailer", "tire_pressure")
        reply(page, "65", pressed=("psi",))
        ask(page, view, "trailer", "empty", "weight")
        reply(page, "4870", pressed=("lb",))
        ask(page, view, "gear", "plug_adapter")
        reply(page, pressed=("true",))
        ask(page, view, "dates", "last_tow")
        reply(page, "2026-04-30")
        ask(page, view, "trailer", "tanks")
        tank(page, 0, "fresh", "fresh", "40", ("9", "2", "1/2"), ("empty", "full"))
        page.get_by_role("button", name="One more").click()
        tank(page, 1, "no", "grey", "", None, ("", "1/4"))
        page.get_by_role("button", name="Continue").click()
        _, made = given_back(page)
        looked = page.evaluate("new Date().toISOString().slice(0, 10)")
    assert made == (AFTER % looked).replace("\n", "\r\n")
    assert read_rig_text(tmp_path, made).rig is not None


def tank(
    page: Page,
    n: int,
    name: str,
    holds: str,
    gallons: str,
    x: tuple[str, str, str] | None,
    fills: tuple[str, str],
) -> None:
    """Fill in one row of the form for tanks."""
    row = page.locator("fieldset.row").nth(n)
    row.get_by_label("name").fill(name)
    cells = row.locator("fieldset")
    cells.nth(0).locator(f"input[value={holds}]").check(force=True)
    if gallons:
        cells.nth(1).locator("input[value=gal]").check(force=True)
        cells.nth(1).locator("input.big").fill(gallons)
    if x:
        cells.nth(2).locator("input[value='ft in']").check(force=True)
        cells.nth(2).locator("select").select_option(x[2])
        for box, words in zip(cells.nth(2).locator("input.big").all(), x, strict=False):
            box.fill(words)
    for at, words in enumerate(fills, 4):
        if words:
            cells.nth(at).locator(f"input[value='{words}']").check(force=True)


def read_rig_text(folder: Path, text: str) -> ReadResult:
    """Read a text as a rig file."""
    file = folder / "rigs" / "finch.yaml"
    file.write_bytes(text.encode())
    return read_rig(file)


LARGEST = 80_000
"""What the page of a rig of which nothing is known may take [bytes]; a phone's mail takes it, an aim of this project."""


def test_a_page_of_which_nothing_is_known_stays_small(tmp_path: Path) -> None:
    """It holds every datum once, and what the view holds comes out of it again."""
    large = {}
    for name, body in KINDS.values():
        file = tmp_path / "rigs" / "finch.yaml"
        file.parent.mkdir(exist_ok=True)
        file.write_text(blank(name, body).replace("Finch", "^~Finch\U0001f69a & <b>"), "utf-8")
        _, view = laid_out(file)
        page = tmp_path / "measure.html"
        page.write_bytes(measure_page(view, "us", environment()))
        large[body] = page.stat().st_size
        told = measure_data(page)
        assert {**told, "questions": 0} == json.loads(json.dumps({**view.data, "questions": 0}))
        assert [row[:12] for row in told["questions"]] == json.loads(
            json.dumps([row[:12] for row in view.data["questions"]])
        )
    assert {body: size for body, size in large.items() if size > LARGEST} == {}


HOSTILE = (
    "a: b # c",
    "'single' \"double\" \\back",
    "- [x, y]: {z}",
    "\u0634\u0627\u062d\u0646\u0629\u200f 5 \u200e(x)",
    "</script><script>alert(1)</script>",
    "\U0001f69a unknown",
    "x" * 2000,
)
REFUSED = {
    "x" * 10_000: "longer than 2,000 letters",
    "a\u202eb": "invisible character (U+202E)",
    "a\u200bb": "invisible character (U+200B)",
    "\u2800": "can be seen",
}
"""Texts that come back as they were typed, and texts that are told to be typed anew."""


def test_hostile_answers_come_back_or_are_refused(browser: Browser, tmp_path: Path) -> None:
    with opened(browser, tmp_path, BEFORE) as (page, view):
        for typed, told in REFUSED.items():
            ask(page, view, "vehicle", "tires", "placard_size")
            page.locator("main input").fill(typed)
            page.get_by_role("button", name="Continue").click()
            expect(page.get_by_role("alert")).to_contain_text(told)
        for typed in HOSTILE:
            ask(page, view, "vehicle", "tires", "placard_size")
            reply(page, typed)
            _, made = given_back(page)
            read = read_rig_text(tmp_path, made)
            assert read.tree is not None, typed
            assert read.tree.get("vehicle", "tires", "placard_size") == typed
            page.evaluate("location.hash = ''")


def test_slips_are_asked_back(browser: Browser, tmp_path: Path) -> None:
    with opened(browser, tmp_path, BEFORE) as (page, view):
        say = page.get_by_role("alert")
        ask(page, view, "vehicle", "gvwr")
        for typed, pressed, told in (
            (("2900",), (), "Choose the unit"),
            (("2,9",), ("lb",), "A comma only groups thousands"),
            (("990000",), (), "outside what a rig can have"),
            (("6350", "2000"), (), "6350 lb is not 2000 kg"),
            (("2900", ""), (), "2,900 kg is 6,393 lb"),
        ):
            reply(page, *typed, pressed=pressed)
            expect(say).to_contain_text(told.replace("2,900", "2900"))
        page.get_by_role("button", name="Yes, it is 2900 kg").click()
        ask(page, view, "trailer", "axles", "ball_to_center")
        page.locator("input[value='ft in']").check(force=True)
        reply(page, "15", "13")
        expect(say).to_contain_text("Twelve inches are another foot")
        _, made = given_back(page)
        page.reload()
        page.evaluate("location.hash = '#'")
        expect(page.get_by_role("link", name="Give the file back")).to_be_visible()
    assert "  gvwr: 2900 kg               # door\n" in made


LINES = {
    "ST205/75R14 LR C": {"type": "ST", "size": "ST205/75R14", "load_range": "C"},
    "p265/70 R17 113S": {"type": "P", "size": "P265/70R17", "load_index": "113", "speed_symbol": "S"},
    "LT275/70R18 125/122R Load Range E": {
        "type": "LT", "size": "LT275/70R18", "load_index": "125", "speed_symbol": "R", "load_range": "E",
    },
    "185R14C 102/100P": {"type": "C", "size": "185R14C", "load_index": "102", "speed_symbol": "P"},
    "225/55R17 101W XL": {"size": "225/55R17", "load_index": "101", "speed_symbol": "W", "extra_load": "true"},
    "5.30-12": {"type": "BIAS", "size": "5.30-12"},
    "ST205/75D14": {"size": "ST205/75D14"},
    "31 x 10.50": {"size": "31 x 10.50"},
}  # fmt: skip
"""Lines as they are moulded on a tire, and what each tells; a size that tells no type leaves it open."""


def test_one_line_of_a_label_answers_all_that_stands_in_it(browser: Browser, tmp_path: Path) -> None:
    with opened(browser, tmp_path, BEFORE) as (page, view):
        button = page.get_by_role("button", name=re.compile("^First card: "))
        count = int(re.findall(r"\d+", button.inner_text())[0])
        assert count < sum(one.first for one in view.questions)
        button.click()
        expect(page.locator("h1")).to_have_text(next(one.ask for one in view.questions if one.first))
        for typed, told in LINES.items():
            ask(page, view, "vehicle", "tires", "front", "size")
            reply(page, typed)
            _, made = given_back(page)
            read = read_rig_text(tmp_path, made)
            assert read.tree is not None
            assert read.tree.get("vehicle", "tires", "front") == told
        ask(page, view, "vehicle", "tires", "front", "size")
        reply(page, next(iter(LINES)))
        ask(page, view, "vehicle", "tires", "rear", "size")
        page.get_by_role("button", name="Marked like the front ones: take the same 3 answers").click()
        ask(page, view, "trailer", "coupler", "ratings", "trailer")
        page.locator("input[value=lb]").first.check(force=True)
        reply(page, "3500", "350")
        ask(page, view, "trailer", "tires", "max_load")
        page.locator("input[value=lb]").check(force=True)
        reply(page, "1760", "50", pressed=("psi",))
        _, made = given_back(page)
        rig = read_rig_text(tmp_path, made).rig
    assert rig is not None
    assert rig.trailer.tires is not None
    assert rig.vehicle.tires.rear == rig.vehicle.tires.front
    assert [one.text for one in (rig.trailer.coupler.ratings.trailer, rig.trailer.coupler.ratings.tongue) if one] == [
        "3500 lb", "350 lb",
    ]  # fmt: skip
    assert (rig.trailer.tires.max_load, rig.trailer.tires.max_load_at) != (None, None)


def test_what_two_answers_contradict_is_told_at_once(browser: Browser, tmp_path: Path) -> None:
    """The program's own comparisons, of answers with one another and with what the file states."""
    with opened(browser, tmp_path, BEFORE) as (page, view):
        say = page.get_by_role("alert")
        ask(page, view, "vehicle", "gvwr")
        reply(page, "6350", pressed=("lb",))
        ask(page, view, "vehicle", "gawr", "front")
        reply(page, "1650", pressed=("lb",))
        expect(say).to_contain_text(
            "'6350 lb' is more than both axle ratings together, '1650 lb' and '3900 lb'."
        )
        expect(say.get_by_role("link")).to_have_text(
            "What is the gross vehicle weight rating of the vehicle?"
        )
        page.get_by_role("button", name="Yes, it is 1650 kg").click()
        for field, typed, told in (
            ("braked", "3500", None),
            ("unbraked", "5000", "Unbraked '5000 lb' is more than braked '3500 lb'."),
        ):
            ask(page, view, "vehicle", "tow_rating", field)
            reply(page, typed, pressed=("lb",))
            if told:
                expect(say).to_contain_text(told)
        page.get_by_role("button", name="5000 lb is right").click()
        for field, typed, told in (
            ("length", "17", None),
            ("wheelbase", "12", None),
            ("overhang", "7", "'7 ft' does not go with a length of '17 ft' and a wheelbase of '12 ft'."),
        ):
            ask(page, view, "vehicle", field)
            page.locator("input[value='ft in']").check(force=True)
            reply(page, typed)
            if told:
                expect(say).to_contain_text(told)
        reply(page, "5")
        page.evaluate("location.hash = '#file'")
        flags = page.locator(".flag").all_inner_texts()
        _, made = given_back(page)
        rig = read_rig_text(tmp_path, made).rig
    assert rig is not None
    assert [doubt.words for doubt in doubts(rig)] == ["unbraked '5000 lb' is more than braked '3500 lb'"] * 2
    assert len(flags) == 1
    assert flags[0].startswith("Unbraked '5000 lb' is more than braked '3500 lb'.")


def test_nobody_is_kept_out(browser: Browser, tmp_path: Path) -> None:
    with opened(browser, tmp_path, BEFORE) as (page, view):
        for path in ((), ("vehicle", "gvwr"), ("trailer", "axles", "ball_to_center"), ("trailer", "tanks")):
            if path:
                ask(page, view, *path)
                page.get_by_role("button", name="Continue").click()
            found = Axe().run(page)
            assert found.violations_count == 0, found.generate_report()
            wide = page.evaluate("document.documentElement.scrollWidth")
            assert wide <= 390
