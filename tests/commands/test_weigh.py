"""``cardgen weigh``: readings in by flag or by question, the lines out; never a file changed, never a unit guessed."""

from __future__ import annotations

import re
import shutil
import sys
from pathlib import Path

import pexpect
import pytest

from cardgen.bundle.reading import read_rig
from tests.commands.workspace import DAY, ROOT, Ran, Run, write
from tests.conftest import PATIENCE

RIG = """\
nickname: Finch
market: us
vehicle:
  kind: pickup
  wheelbase: 140 in
  overhang: 50 in
trailer: {type: ball, body: utility, axles: {count: 1, ball_to_center: 10 ft}}
cases: [{name: out}]
"""
PASSES = (
    "slack.front=2,980 lb", "slack.rear=3,580 lb", "slack.trailer=4,780 lb",
    "alone.front=3,240 lb", "alone.rear=2,580 lb",
)  # fmt: skip


@pytest.fixture
def finch(shed: Path) -> Path:
    """A rig without weighings."""
    return write(shed, "finch", RIG)


def squeezed(ran: Ran) -> str:
    return re.sub(r"\s+", " ", ran.err.replace("\u00a0", " "))


def test_the_lines_go_into_the_file_and_say_the_same(run: Run, finch: Path) -> None:
    before = finch.read_bytes()
    ran = run("weigh", "finch", "--date", DAY, "--read", *PASSES)
    assert ran.code == 0, ran.err
    assert finch.read_bytes() == before
    told = squeezed(ran)
    assert "tongue weight 740 lb" in told  # (2,980 + 3,580) - (3,240 + 2,580)
    assert "loaded trailer 5,520 lb" in told  # with 4,780
    finch.write_text(RIG + ran.out, "utf-8")
    rig = read_rig(finch).rig
    assert rig is not None
    (visit,) = rig.weighings
    assert (visit.date.isoformat(), visit.case) == (DAY, "out")
    assert visit.slack.trailer is not None
    assert visit.slack.trailer.text == "4,780 lb"
    assert "{" not in ran.out


def test_any_subset_of_passes_will_do(run: Run, finch: Path) -> None:
    for reading in (*PASSES, "coupler=420 lb", "trailer_alone=4,100 lb", "wheels.left 1=1,900 lb"):
        ran = run("weigh", "finch", "--date", DAY, "--read", reading)
        assert ran.code == 0, ran.err
        assert read_rig(write(finch.parent.parent, "again", RIG + ran.out)).rig is not None


def test_single_axles_become_a_list(run: Run, shed: Path) -> None:
    path = write(shed, "finch", RIG.replace("count: 1", "count: 2"))
    ran = run("weigh", "finch", "--date", DAY, "--read", "slack.axles[0]=1,900 lb", "slack.axles[1]=1,960 lb")
    assert ran.code == 0, ran.err
    path.write_text(path.read_text("utf-8") + ran.out, "utf-8")
    rig = read_rig(path).rig
    assert rig is not None
    assert [one.text for one in rig.weighings[0].slack.axles] == ["1,900 lb", "1,960 lb"]


def test_what_contradicts_is_told(run: Run, finch: Path) -> None:
    ran = run(
        "weigh", "finch", "--date", DAY, "--read", *PASSES[1:], "slack.front=3,235 lb", "coupler=400 lb"
    )
    assert "Not every way agrees on" in squeezed(ran)


@pytest.mark.parametrize(
    ("word", "told"),
    [
        ("slack.front=2,980", "without a unit"),
        ("slack.frnt=2,980 lb", "did you mean 'slack.front'?"),
        ("slack.axles=1,900 lb", "did you mean 'slack.axles[0]'?"),
        ("slack.front", "write FIELD=VALUE"),
        ("slack.front=2,980 ft", "slack.front: "),
        ("gvwr=1 lb", "no reading is called 'gvwr'"),
    ],
)
def test_a_reading_that_is_none_is_told(run: Run, finch: Path, word: str, told: str) -> None:
    ran = run("weigh", "finch", "--read", word)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err


def test_a_visit_that_is_wrong_as_a_whole_is_refused(run: Run, finch: Path) -> None:
    twice = run("weigh", "finch", "--read", PASSES[0], PASSES[0])
    assert twice.code == 2
    assert "given twice" in twice.err
    lost = run("weigh", "finch", "--case", "in", "--read", PASSES[0])
    assert lost.code == 2
    assert "known here: out" in lost.err
    assert run("weigh", "finch").code == 2


def test_a_second_visit_joins_the_list(run: Run, shed: Path) -> None:
    shutil.copytree(ROOT / "rigs", shed / "demos")
    words = ("weigh", "heron", "--rigs-dir", "demos", "--date", "2026-10-01", "--case", "leaving home")
    ran = run(*words, "--read", "slack.trailer=4,790 lb")
    assert ran.code == 0, ran.err
    assert "at the end of the list" in ran.err
    assert ran.out.startswith("  - date: 2026-10-01\n")


def test_it_asks_on_a_terminal(finch: Path) -> None:
    child = pexpect.spawn(
        sys.executable,
        ["-m", "cardgen", "weigh", "finch", "--date", DAY],
        cwd=str(finch.parent.parent),
        encoding="utf-8",
        timeout=PATIENCE,
    )
    for question, answer in (
        ("bars or with them slack", "y"),
        ("vehicle front axle", "2980"),
        ("without a unit", None),
        ("vehicle front axle", "2,980 lb"),
        ("vehicle rear axle", "3,580 lb"),
        ("all trailer axles", ""),
        ("weighed alone", "yes"),
        ("vehicle front axle", "3,240 lb"),
        ("vehicle rear axle", "2,580 lb"),
        ("by itself", ""),
        ("740", None),
        ("weighings:", None),
    ):
        child.expect(question)
        if answer is not None:
            child.sendline(answer)
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    assert finch.read_text("utf-8") == RIG
