"""Every exit code happens, means what README says, and comes with a sentence on stderr."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from cardgen.commands.exits import MEANINGS, Exit
from cardgen.render import engine
from tests.commands.workspace import DAY, OVERLOADED, ROOT, Run, apart, write


def test_every_code_has_a_meaning() -> None:
    assert set(MEANINGS) == set(Exit)
    assert len({int(code) for code in Exit}) == len(Exit)


def test_help_lists_every_code(run: Run) -> None:
    ran = run("--help")
    assert ran.code == 0
    assert ran.err == ""
    for code, words in MEANINGS.items():
        assert f"{int(code):>3}  {words}" in ran.out


def test_fine(run: Run) -> None:
    assert run("check", "plover", "--date", DAY).code == 0 == int(Exit.FINE)


@pytest.mark.parametrize("command", ["check", "results", "build"])
def test_over(run: Run, shed: Path, command: str) -> None:
    more = ["--html-only"] if command == "build" else []
    ran = run(command, str(copy_of_overloaded(shed)), "--date", DAY, *more)
    assert ran.code == 1 == int(Exit.OVER)
    assert ran.out
    if command == "build":
        assert (shed / "build" / "walrus-and-pebble" / "index.html").is_file()


def copy_of_overloaded(shed: Path) -> Path:
    return write(shed, "walrus", OVERLOADED.read_text("utf-8"))


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["frob"],
        ["build", "--frob"],
        ["build", "nobody"],
        ["build", "--cards", "no-card"],
        ["build", "--size", "no-size"],
        ["build", "--units", "stone"],
        ["build", "--date", "yesterday"],
        ["build", "--date", "9999-12-31"],
        ["build", "--date", "0001-01-01"],
        ["build", "--jobs", "0"],
        ["build", "--jobs", "many"],
        ["build", "--base-url", "javascript:alert(1)"],
        ["build", "--rigs-dir", "nowhere"],
        ["check", "nobody"],
        ["check", "x" * 5000],
        ["check", "rigs"],
        ["results"],
        ["results", "nobody"],
        ["results", "plover", "sanderling"],
        ["changes", "nobody"],
        ["changes", "plover"],
        ["new"],
        ["new", "Finch", "--from", "nobody"],
        ["new", "Finch", "--from", "../rigs/mule"],
        ["new", "Finch", "--market", "mars"],
        ["explain", "no-such-code"],
        ["sheets", "nobody"],
        ["sheets", "--cards", "glove-card"],
        ["sheets", "--nudge", "far"],
        ["sheets", "--nudge", "50,50"],
        ["cargo", "plover"],
        ["preview", "--port", "99999"],
        ["preview", "nobody"],
    ],
    ids=lambda words: " ".join(words)[:40] or "nothing",
)
def test_usage(run: Run, shed: Path, words: list[str]) -> None:
    before = sorted(shed.rglob("*"))
    ran = run(*words)
    assert ran.code == 2 == int(Exit.USAGE)
    assert ran.out == ""
    assert ran.err.strip()
    assert "Traceback" not in ran.err
    assert len(ran.err) < 4000
    assert sorted(shed.rglob("*")) == before


@pytest.mark.parametrize("command", ["check", "results", "build", "sheets"])
def test_faults(run: Run, shed: Path, command: str) -> None:
    write(shed, "plover", "nickname: Plover\nmarket: mars\n")
    ran = run(command, "plover")
    assert ran.code == 3 == int(Exit.FAULTS)
    assert "rigs/plover.yaml:2:9: market: " in ran.err.replace(os.sep, "/")
    assert "[value-choice]" in ran.err
    assert not (shed / "build" / "plover").exists()


def test_one_faulty_rig_does_not_stop_the_others(run: Run, shed: Path) -> None:
    write(shed, "plover", "nickname: Plover\n")
    for words in (["check"], ["build", "--html-only"]):
        ran = run(*words, "--date", DAY)
        assert ran.code == Exit.FAULTS
        assert "Sanderling" in ran.out
    assert (shed / "build" / "sanderling" / "index.html").is_file()
    assert not (shed / "build" / "plover").exists()


def test_environment(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def gone() -> None:
        raise engine.EngineMissingError("cannot load library 'pango-1.0-0'")

    monkeypatch.setattr(engine, "load", gone)
    ran = run("doctor")
    assert ran.code == 4 == int(Exit.ENVIRONMENT)
    assert "MISSING" in ran.out
    assert "print engine" in ran.out
    assert "pango" in ran.out.lower()


def test_refused(run: Run, shed: Path) -> None:
    (shed / "file").write_text("mine", "utf-8")
    for words in (
        ["build", "--html-only", "--out", "file"],
        ["build", "--html-only", "--out", "file/inside"],
        ["build", "--html-only", "--summary-json", "no/such/folder.json"],
        ["new", "Plover"],
    ):
        ran = run(*words)
        assert ran.code == int(Exit.REFUSED), words
        assert "Traceback" not in ran.err
        assert ran.err.strip()
    assert (shed / "file").read_text("utf-8") == "mine"


def test_bug(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("made for this test")

    monkeypatch.setattr("cardgen.present.prepare.prepare", broken)
    ran = run("check", "plover")
    assert ran.code == 70 == int(Exit.BUG)
    assert "made for this test" in ran.err
    assert "this is a bug in cardgen" in ran.err


def test_interrupted_in_this_process(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("cardgen.present.prepare.prepare", stopped)
    ran = run("check", "plover")
    assert ran.code == 130 == int(Exit.INTERRUPTED)
    assert ran.err.strip() == "interrupted"


@pytest.mark.skipif(sys.platform == "win32", reason="that system has no such signal")
@pytest.mark.parametrize("jobs", ["1", "2"])
def test_ctrl_c_leaves_the_output_as_it_was(shed: Path, jobs: str) -> None:
    """A real signal to a real process in the middle of its work."""
    first = apart("build", "--html-only", "--date", DAY, cwd=shed)
    assert first.code == 0, first.err
    before = {path: path.read_bytes() for path in sorted((shed / "build").rglob("*")) if path.is_file()}
    for name in "abcdef":
        write(shed, name)
    path = os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH", ""))))
    build = subprocess.Popen(
        [sys.executable, "-m", "cardgen", "build", "--again", "--date", DAY, "--jobs", jobs],
        cwd=shed,
        env=os.environ | {"PYTHONPATH": path},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    stage = shed / "build" / ".cardgen" / "stage"
    end = time.monotonic() + 60
    while not (stage.is_dir() and any(stage.iterdir())) and build.poll() is None and time.monotonic() < end:
        time.sleep(0.02)
    os.killpg(build.pid, signal.SIGINT)
    _, err = build.communicate(timeout=60)
    assert build.returncode == 130, err
    assert "interrupted" in err
    assert "Traceback" not in err
    after = {path: path.read_bytes() for path in sorted((shed / "build").rglob("*")) if path.is_file()}
    assert after == before


def test_nobody_reads_the_output(shed: Path) -> None:
    """A pipe that closes early is no bug."""
    path = os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH", ""))))
    ran = subprocess.run(
        f"{sys.executable} -m cardgen results plover --json | head -c 10",
        shell=True,
        cwd=shed,
        env=os.environ | {"PYTHONPATH": path},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.stdout == '{\n  "format'[:10]
    assert ran.stderr == ""
