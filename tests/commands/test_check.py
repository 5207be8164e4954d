"""``cardgen check``: the verdict first, what to do about it next, in the width of a plain terminal."""

from __future__ import annotations

import re
import shutil
from itertools import pairwise
from pathlib import Path

from cardgen.commands.topics import find_topics
from tests.commands.workspace import DAY, OVERLOADED, ROOT, Run, apart, write

BARE = """\
nickname: Finch
market: us
vehicle: {kind: pickup}
trailer: {type: ball, body: travel_trailer, axles: {count: 1}}
cases: [{name: leaving home}]
"""


def measured(out: str) -> list[tuple[str, int]]:
    """Fields of the table, with how many checks each opens."""
    lines = out.splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("Measure these first"))
    rows = [line.split() for line in lines[start + 1 :] if line[:1] not in ("", " ")]
    return [(words[0], int(words[-1])) for words in rows if words[-1].isdigit()]


def test_the_verdict_comes_first_and_then_what_to_measure(run: Run, shed: Path) -> None:
    write(shed, "finch", BARE)
    ran = run("check", "finch", "--date", DAY)
    lines = ran.out.splitlines()
    assert ran.code == 0
    assert lines[0].startswith("Finch: Not enough data: ")
    assert lines[1].endswith(" not checked")
    rows = measured(ran.out)
    counts = [count for _, count in rows]
    assert len(rows) == 12
    assert counts == sorted(counts, reverse=True)
    assert counts[0] > 10
    assert [path for path, _ in rows if not find_topics(path)] == []
    assert "more to measure" in lines[-1]
    assert "--all" in lines[-1]
    assert len(lines) < 40


def test_all_prints_every_check_and_every_field(run: Run, shed: Path) -> None:
    write(shed, "finch", BARE)
    few, every = (run("check", "finch", "--date", DAY, *more).out for more in ([], ["--all"]))
    assert "trailer-gross" in every
    assert "trailer-gross" not in few
    rows = measured(every)
    assert len(rows) == 12 + int(few.splitlines()[-1].split()[0])
    assert "trailer.gvwr" in dict(rows)


def test_what_is_asked_next_counts_as_well(run: Run, shed: Path) -> None:
    """The trailer's own weight matters to every check of an axle, although they ask for the brakes first."""
    write(shed, "finch", BARE)
    first = dict(measured(run("check", "finch", "--date", DAY).out))
    write(shed, "finch", BARE.replace("axles: {count: 1}", "axles: {count: 1}, brakes: {kind: electric}"))
    then = dict(measured(run("check", "finch", "--date", DAY).out))
    assert first["trailer.empty.weight"] >= then["trailer.empty.weight"]


def test_what_is_over_or_close_stands_before_what_is_missing(run: Run, shed: Path) -> None:
    write(shed, "walrus", OVERLOADED.read_text("utf-8"))
    ran = run("check", "walrus", "--date", DAY)
    assert ran.code == 1
    assert ran.out.startswith("Walrus and Pebble: Do not tow as described\n10 over, ")
    assert ran.out.index("over   ") < ran.out.index("close  ") < ran.out.index("Measure these first")
    assert "\nwithin" not in ran.out


def test_everything_fits_eighty_columns(shed: Path) -> None:
    shutil.copytree(ROOT / "rigs", shed / "demos")
    write(shed, "finch", BARE)
    for words in (["--rigs-dir", "demos"], ["finch"], ["finch", "--all"]):
        ran = apart("check", *words, "--date", DAY, cwd=shed, NO_COLOR="1", COLUMNS="80")
        assert [line for line in ran.out.splitlines() if len(line) > 80] == []


def test_the_count_is_the_one_of_the_card(run: Run, shed: Path) -> None:
    """What the verdict calls close, or could not be made, is counted alike in the title and below it."""
    shutil.copytree(ROOT / "rigs", shed / "demos")
    write(shed, "finch", BARE)
    wrong, met = [], 0
    for words in (["--rigs-dir", "demos"], ["finch"]):
        for title, counts in pairwise(run("check", *words, "--date", DAY).out.splitlines()):
            told = re.search(r"limit; (\d+) (?:is|are) (close)|data: (\d+) checks? could (not) be", title)
            if told:
                met += 1
                count, word = told[1] or told[3], "close" if told[2] else "not checked"
                if f"{count} {word}" not in counts.partition(";")[0].split(", "):
                    wrong.append((title, counts))
    assert met >= 2
    assert not wrong
