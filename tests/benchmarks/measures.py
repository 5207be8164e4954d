"""What is measured; each function adds its rows to a table."""

from __future__ import annotations

import datetime as dt
import json
import re
import shutil
import sys
from pathlib import Path

from cardgen.bundle.plan import MAKER
from tests.benchmarks import fleet, standin
from tests.benchmarks.harness import ROOT, Row, Table, calls, cardgen, wall

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


def one_edit(table: Table, folder: Path, rounds: int) -> None:
    """A line of one demo rig is edited and the rig built: a new process each time."""
    shutil.copytree(ROOT / "rigs", folder / "rigs", ignore=shutil.ignore_patterns("revisions"))
    build = ("build", "--date", DAY, "--quiet", "--jobs", "1")
    whole, _ = cardgen(folder, MAKER, *build)
    rig = folder / "rigs" / "otter.yaml"
    text = rig.read_text("utf-8")
    spent, printed, cpu = [], [], 0.0
    for number in range(rounds):
        rig.write_text(re.sub(r"drop: .*", f"drop: {5 + number % 2 / 2} in", text), "utf-8")
        seconds, used = cardgen(folder, MAKER, *build, "otter", "--summary-json", "done.json")
        spent.append(seconds)
        cpu += used["cpu"] / rounds
        done = json.loads((folder / "done.json").read_text("utf-8"))
        printed.append(done["counts"]["files_written"])
    note = f"{printed[-1]} files written, {cpu:.1f} s of processor time; all {len(list((folder / 'rigs').glob('*.yaml')))} rigs took {whole:.1f} s"
    table.add(Row("one line edited, the rig built, cold start", "s", spent, "under 2", note))
    runs = [cardgen(folder, MAKER, *build, "--again", "otter") for _ in range(rounds)]
    anew = Row("one rig, every card anew, cold start", "s", [one for one, _ in runs])
    anew.note = f"{sum(used['cpu'] for _, used in runs) / rounds:.1f} s of processor time"
    table.add(anew)
    spent = [cardgen(folder, MAKER, *build)[0] for _ in range(rounds)]
    table.add(Row("nothing edited, cold start, demo rigs", "s", spent))


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


def against_a_browser(table: Table, rounds: int) -> None:
    """One glovebox card by WeasyPrint, warm, and by an installed browser."""
    from cardgen.model.read import read_rig
    from cardgen.present.cards import KINDS
    from cardgen.present.prepare import prepare
    from cardgen.render.fallback import print_by_browser
    from cardgen.render.printer import Printer

    rig = read_rig(ROOT / "rigs" / "otter.yaml").rig
    assert rig is not None
    kind = KINDS["glovebox-card"]
    card = kind.make(prepare(rig, dt.date.fromisoformat(DAY)))
    printer = Printer(None)
    ours = table.add(
        Row(
            "one glovebox card, WeasyPrint, warm",
            "s",
            calls(lambda: printer.card(card, kind.us, False), rounds),
        )
    )
    browser = Row(
        "one glovebox card, installed browser",
        "s",
        calls(lambda: print_by_browser(card, kind.us, None, "benchmark", False), rounds),
    )
    browser.note = f"{browser.median / ours.median:.1f} times WeasyPrint"
    table.add(browser)


def assessments(table: Table, rounds: int) -> None:
    """Processor time of one full assessment; more in ``tests.benchmarks.assessment``."""
    from tests.benchmarks.assessment import measure
    from tests.physics.build import DEMO, demo

    spent = [measure(demo(name), rounds)[0] for name in DEMO]
    table.add(Row("assessment of a demo rig, processor time", "ms", spent))
