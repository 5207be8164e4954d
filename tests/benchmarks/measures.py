"""What is measured; each function adds its rows to a table."""

from __future__ import annotations

import datetime as dt
import json
import re
import shutil
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cardgen.bundle.plan import MAKER
from tests.benchmarks import fleet, standin
from tests.benchmarks.harness import ROOT, Row, Table, calls, cardgen, children, empty, runs, wall

if TYPE_CHECKING:
    from playwright.sync_api import Page

    from cardgen.render.engine import Press
    from cardgen.render.problems import Problem

DAY = "2026-11-25"


def start_up(table: Table, rounds: int) -> None:
    """``cardgen --help`` against an empty Python program."""
    python = table.add(
        Row(
            "empty Python program",
            "ms",
            [1e3 * wall([sys.executable, "-c", ""], ROOT) for _ in range(rounds)],
        )
    )
    words = [sys.executable, "-m", "cardgen", "--help"]
    helped = Row("cardgen --help", "ms", [1e3 * wall(words, ROOT) for _ in range(rounds)], "under 150")
    helped.note = f"{helped.median / python.median:.1f} times an empty program"
    table.add(helped)


def one_report(table: Table, rounds: int) -> None:
    """Every page of a demo rig, warm, from its assessed figures on and with all that comes before."""
    from cardgen.bundle.ledger import RevisionInfo
    from cardgen.bundle.maker import Draft, RigMaker
    from cardgen.bundle.pages import measuring_of, report_files
    from cardgen.bundle.work import Options
    from cardgen.model.read import read_rig

    day, maker = dt.date.fromisoformat(DAY), RigMaker()
    options = Options(day=day, html_only=True)
    files = sorted((ROOT / "rigs").glob("*.yaml"))
    parts: dict[str, list[float]] = {}

    def timed(name: str, began: float) -> float:
        now = time.process_time()
        parts.setdefault(name, []).append(1e3 * (now - began))
        return now

    for _ in range(rounds + 1):
        for file in files:
            at = start = time.process_time()
            read = read_rig(file)
            at = timed("reading", at)
            described = maker.describe(read, options)
            at = timed("assessing, and the cards in words", at)
            maker.mark(described, options, {}, ())
            at = timed("the cards' pages, for their fingerprints", at)
            draft = described.model
            assert isinstance(draft, Draft)  # described above
            info = RevisionInfo(1, day, {}, (), {})
            report_files(draft.rig_view, info, draft.kinds, options, measuring_of(draft.rig_view, read))
            timed("all pages", at)
            timed("in all", start)
    for name, spent in parts.items():
        aim = "30" if name == "in all" else ""
        table.add(Row(f"report of one rig, {name}", "ms cpu", spent[len(files) :], aim))


def one_edit(table: Table, folder: Path, rounds: int) -> None:
    """A line of one demo rig is edited and the rig built: a new process each time."""
    shutil.copytree(ROOT / "rigs", folder / "rigs", ignore=shutil.ignore_patterns("revisions"))
    build = ("build", "--date", DAY, "--quiet", "--jobs", "1")
    runs(table, "all demo rigs built, cold start", folder, MAKER, 1, *build)
    rig = folder / "rigs" / "otter.yaml"
    text = rig.read_text("utf-8")
    spent, printed, seconds = [], 0, []
    for number in range(rounds):
        rig.write_text(re.sub(r"drop: .*", f"drop: {5 + number % 2 / 2} in", text), "utf-8")
        took, used = cardgen(folder, MAKER, *build, "otter", "--summary-json", "done.json")
        seconds.append(took)
        spent.append(used["cpu"])
        printed = json.loads((folder / "done.json").read_text("utf-8"))["counts"]["files_written"]
    row = Row("one line edited, the rig built, cold start", "s cpu", spent, "1.3")
    row.note = f"{row.median / empty():.0f} times an empty program, {printed} files written, {min(seconds):.1f} s of the clock at least"
    table.add(row)
    again = (*build, "--again", "otter")
    runs(table, "one rig, every card anew, cold start", folder, MAKER, rounds, *again)
    runs(table, "nothing edited, cold start, demo rigs", folder, MAKER, rounds, *build)


def loaded(table: Table, folder: Path, rounds: int) -> None:
    """What commands that print no card load, and what it costs; sizes of the pages of a rig."""
    shutil.copytree(ROOT / "rigs", folder / "rigs", ignore=shutil.ignore_patterns("revisions"))
    for words in (
        ("check", "otter"),
        ("results", "otter", "--json"),
        ("build", "otter", "--html-only", "--again", "--date", DAY, "--quiet", "--jobs", "1"),
    ):
        name = " ".join(word for word in words[:3] if word != "otter")
        _, used = runs(table, f"{name}, one rig", folder, MAKER, rounds, *words)
        print(f"  {used['modules']} modules, of the heavy ones: {', '.join(used['heavy']) or 'none'}")
    for place in sorted((folder / "build").iterdir()):
        pages = {one.name: one.stat().st_size / 1e3 for one in sorted(place.glob("*.html"))}
        if pages:
            told = ", ".join(f"{name} {size:.0f}" for name, size in pages.items())
            table.add(Row("pages of one rig", "kB", [sum(pages.values())], "150", told))


def reports(table: Table, folder: Path, sizes: tuple[int, ...]) -> None:
    """Fleets of several sizes, pages only; memory has to stay flat."""
    first = 0.0
    for size in sizes:
        place = folder / f"reports{size}"
        place.mkdir()
        fleet.write(place / "rigs", size)
        words = ("build", "--html-only", "--date", DAY, "--quiet", "--jobs", "2")
        row, used = runs(
            table,
            f"{size} rigs, reports only, 2 jobs",
            place,
            MAKER,
            1,
            *words,
            aim=f"{size / 40:g} of the clock",
        )
        each = Row(f"{size} rigs, reports only, each", "ms cpu", [1e3 * row.median / size])
        first = first or each.median
        each.note = f"{each.median / first:.2f} times that of {sizes[0]}; peak memory {used['own'] / 1e6:.0f} MB, of a worker {used['worker'] / 1e6:.0f} MB"
        table.add(each)
        shutil.rmtree(place)


def growth(table: Table, folder: Path, sizes: tuple[int, ...], rounds: int) -> None:
    """Building and looking at fleets of several sizes, printing left out."""
    first: dict[str, float] = {}
    for size in sizes:
        place = folder / f"fleet{size}"
        place.mkdir()
        fleet.write(place / "rigs", size)
        build = ("build", "--date", DAY, "--quiet", "--jobs", "2")
        spent, _ = cardgen(place, standin.NAME, *build)
        made = Row(f"{size} rigs built, printing left out, 2 jobs", "s", [spent])
        idle = [cardgen(place, standin.NAME, *build) for _ in range(rounds)]
        still = Row(f"{size} rigs unchanged", "s", [one for one, _ in idle])
        still.aim = "under 3" if size == 1000 else ""
        for row in (made, still):
            kind = row.name.split(" ", 2)[-1]
            each = 1e3 * row.median / size
            row.note = f"{each:.1f} ms per rig"
            if kind in first:
                row.note += f", {each / first[kind]:.2f} times that of {sizes[0]}"
            first.setdefault(kind, each)
            table.add(row)
        peak = max(used["own"] for _, used in idle)
        table.add(Row(f"{size} rigs unchanged, peak memory", "MB", [peak / 1e6]))
        shutil.rmtree(place)


def printing(table: Table, folder: Path, size: int, jobs: tuple[int, ...]) -> None:
    """A fleet printed for real: cards per second and memory by the number of jobs."""
    folder.mkdir()
    fleet.write(folder / "rigs", size)
    speeds: dict[int, float] = {}
    for count in jobs:
        shutil.rmtree(folder / "build", ignore_errors=True)
        words = ("build", "--date", DAY, "--quiet", "--jobs", str(count), "--summary-json", "done.json")
        spent, used = cardgen(folder, MAKER, *words)
        done = json.loads((folder / "done.json").read_text("utf-8"))
        cards = len(list((folder / "build").glob("*/*.pdf")))
        speeds[count] = cards / spent
        built, failed = done["counts"]["built"], done["counts"]["failed"]
        row = Row(f"{size} rigs printed, {count} jobs", "cards/s", [speeds[count]])
        row.note = f"{cards} cards of {built} rigs in {spent:.1f} s, {failed} failed"
        row.note += f", {1e3 * used['cpu'] / cards:.0f} ms of processor time per card"
        if len(speeds) > 1:
            row.note += f", {speeds[count] / speeds[jobs[0]]:.2f} times {jobs[0]} job"
        table.add(row)
        if count == 1:
            table.add(Row("peak memory, printing in this process", "MB", [used["own"] / 1e6]))
        else:
            table.add(Row(f"peak memory of a worker, {count} jobs", "MB", [used["worker"] / 1e6]))
            table.add(Row(f"peak memory of the parent, {count} jobs", "MB", [used["own"] / 1e6]))


def _kept_open(table: Table, rounds: int, pages: list[str], faces: int) -> None:
    """The same pages by one browser: what its processes take beyond starting and ending, and the clock."""
    from playwright.sync_api import sync_playwright

    from cardgen.render.fallback import find_browser

    seconds: list[float] = []
    spent = []
    for times in (0, rounds):
        began = children()
        with sync_playwright() as play:
            browser = play.chromium.launch(executable_path=find_browser(), args=["--no-sandbox"])
            tab = browser.new_page()

            def printed(tab: Page = tab) -> None:
                for page in pages:
                    tab.set_content(page)
                    tab.pdf(prefer_css_page_size=True)

            if times:
                seconds = calls(printed, times)
            browser.close()
        spent.append(children() - began)
    own = 1e3 * (spent[1] - spent[0]) / (rounds + 1) / faces
    table.add(Row("a face, a browser kept open", "ms cpu", [own], "", "its own processes"))
    table.add(Row("a face, a browser kept open, by the clock", "ms", [1e3 * one / faces for one in seconds]))


def against_a_browser(table: Table, rounds: int) -> None:
    """The usual cards of a rig by WeasyPrint, warm, by the engine alone, and by a browser that is kept open.

    The floor is the engine's: each card's last page laid out and painted once more, with nothing of ours but
    the page itself. All in one run, a face each; of the browser also what its own processes take.
    """
    from unittest import mock

    from cardgen.bundle.maker import chosen
    from cardgen.model.read import read_rig
    from cardgen.present.prepare import prepare
    from cardgen.render.engine import press
    from cardgen.render.fallback import browser_page
    from cardgen.render.fixed import plain
    from cardgen.render.pdf import render_card
    from cardgen.render.sizes import size_of

    rig = read_rig(ROOT / "rigs" / "otter.yaml").rig
    assert rig is not None
    rig_view = prepare(rig, dt.date.fromisoformat(DAY))
    cards = [(kind.make(rig_view), size_of(kind.us)) for kind in chosen((), rig)]
    machine, pages, laid = press(None), list[str](), 0
    layout = machine.layout
    faces = 0

    def seen(_: Press, page: str) -> tuple[Any, tuple[Problem, ...]]:
        pages.append(page)
        return layout(page)

    with mock.patch.object(type(machine), "layout", seen):
        for card, size in cards:
            before = len(pages)
            faces += render_card(card, size).faces
            laid += len(pages) - before
            pages[before:] = pages[-1:]

    def ours() -> None:
        for card, size in cards:
            render_card(card, size)

    def floor() -> None:
        for page in pages:
            machine.paint(layout(page)[0])

    def a_face(name: str, values: list[float], note: str = "", aim: str = "") -> Row:
        return table.add(Row(name, "ms cpu", [1e3 * one / faces for one in values], aim, note))

    said = f"{faces} faces of {len(cards)} cards, laid out {laid} times"
    whole = a_face("a face, warm", calls(ours, rounds, time.process_time), said, "35")
    least = a_face("a face, the engine alone, once", calls(floor, rounds, time.process_time))
    print(f"  ours is {whole.median / least.median:.2f} times the floor of the engine")
    wide = [browser_page(card, size, plain(card, size, False), None) for card, size in cards]
    _kept_open(table, rounds, wide, faces)


def assessments(table: Table, rounds: int) -> None:
    """Processor time of one full assessment; more in ``tests.benchmarks.assessment``."""
    from tests.benchmarks.assessment import measure
    from tests.physics.build import DEMO, demo

    spent = [measure(demo(name), rounds)[0] for name in DEMO]
    table.add(Row("assessment of a demo rig, processor time", "ms", spent))
