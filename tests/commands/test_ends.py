"""However a command is stopped or whatever it is given: the documented code, one sentence, nothing left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen.commands.exits import Exit
from tests.commands.workspace import DAY, ROOT, Run, apart, write
from tests.conftest import PATIENCE

BUILD = ["build", "--html-only", "--date", DAY]


@pytest.fixture
def started(shed: Path) -> Iterator[subprocess.Popen[str]]:
    """A build by two workers that prints for a while; ended in any case."""
    for name in "abcdef":
        write(shed, name)
    path = os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH", ""))))
    with subprocess.Popen(
        [sys.executable, "-m", "cardgen", "build", "--date", DAY, "--jobs", "2"],
        cwd=shed,
        env=os.environ | {"PYTHONPATH": path},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as build:
        yield build
        build.kill()


def test_told_to_end_it_leaves_nothing_behind(shed: Path, started: subprocess.Popen[str]) -> None:
    """The system ends the program alone, not its workers, in the middle of its work."""
    stage, until = shed / "build" / ".cardgen" / "stage", time.monotonic() + PATIENCE
    while not (stage.is_dir() and any(stage.iterdir())) and started.poll() is None:
        assert time.monotonic() < until
        time.sleep(0.02)
    started.send_signal(signal.SIGTERM)
    _, err = started.communicate(timeout=PATIENCE)
    assert started.returncode == Exit.INTERRUPTED, err
    assert "Traceback" not in err
    assert not (shed / "build").exists()
    assert not (shed / "rigs" / "revisions").exists()


def shell(shed: Path, line: str) -> tuple[int, str]:
    """Exit code and stderr of a line of the shell, in which ``cardgen`` is the program."""
    ran = subprocess.run(
        ["sh", "-c", line.replace("cardgen", f"'{sys.executable}' -m cardgen")],
        cwd=shed,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
        timeout=PATIENCE,
    )
    return ran.returncode, ran.stderr


STREAMS = {
    "cardgen check plover >/dev/full": (Exit.REFUSED, "no space left on device"),
    "cardgen results plover --json >/dev/full": (Exit.REFUSED, "no space left on device"),
    f"cardgen {' '.join(BUILD)} >/dev/full": (Exit.REFUSED, "no space left on device"),
    "cardgen results plover --json >&-": (Exit.REFUSED, "stdout is closed"),
    "cardgen check nobody 2>&-": (Exit.USAGE, ""),
    "cardgen check nobody 2>/dev/full": (Exit.REFUSED, ""),
    "cardgen schema <&-": (Exit.FINE, ""),
}


def test_streams_that_take_nothing(shed: Path) -> None:
    wrong = {}
    for line, (code, words) in STREAMS.items():
        got, err = shell(shed, line)
        if got != code or words not in err.lower() or "Traceback" in err or len(err.splitlines()) > 1:
            wrong[line] = (got, err)
    assert wrong == {}


REFUSED = {
    "a name that is too long": (["--out", "x" * 300], "name too long"),
    "a circle of links": (["--out", "circle"], ""),
    "the ledger": (["--out", "rigs/revisions"], "choose another folder with --out"),
    "below the ledger": (["--out", "rigs/../rigs/revisions/x"], "choose another folder with --out"),
    "the parts": (["--out", "rigs/parts"], "choose another folder with --out"),
    "a link to the ledger": (["--out", "ledger"], "choose another folder with --out"),
}


def test_output_folders_that_cannot_be(run: Run, shed: Path) -> None:
    (shed / "circle").symlink_to("circle")
    (shed / "ledger").symlink_to("rigs/revisions")
    before = sorted(shed.rglob("*"))
    wrong = {}
    for name, (words, said) in REFUSED.items():
        ran = run(*BUILD, *words)
        if ran.code != Exit.REFUSED or said not in ran.err or len(ran.err.splitlines()) != 1:
            wrong[name] = ran
    assert wrong == {}
    assert sorted(shed.rglob("*")) == before


def test_force_is_named_only_where_it_helps(run: Run, shed: Path) -> None:
    (shed / "build").mkdir()
    mine = shed / "build" / "index.html"
    mine.write_text("mine", "utf-8")
    assert "--force" in run(*BUILD).err
    mine.unlink()
    mine.mkdir()
    for more in ([], ["--force"]):
        ran = run(*BUILD, *more)
        assert ran.code == Exit.REFUSED
        assert "--force" not in ran.err
        assert "move them elsewhere" in ran.err


USAGE = [["--wait", text] for text in ("nan", "inf", "-1", "1e9", "soon")] + [
    ["--date", text] for text in ("20261125", "2026-W48-3", "2026-330", "2026-11-25T00:00", "２０２６-11-25", " ")
]  # fmt: skip


def test_waits_and_days_that_are_none(run: Run, shed: Path) -> None:
    before = sorted(shed.rglob("*"))
    ran = {tuple(words): run("build", "--html-only", *words) for words in USAGE}
    wrong = {words: one for words, one in ran.items() if one.code != Exit.USAGE or "Traceback" in one.err}
    assert wrong == {}
    assert sorted(shed.rglob("*")) == before


def test_a_pipe_in_the_place_of_a_file_keeps_nobody_waiting(shed: Path) -> None:
    """A file of the ledger, a rig, the manifest or the journal that is a pipe is told, not opened."""
    first = apart(*BUILD, cwd=shed)
    assert first.code == Exit.FINE, first.err
    ledger = next((shed / "rigs" / "revisions" / "plover").iterdir())
    own = shed / "build" / ".cardgen"
    wrong = {}
    for path, code in (
        (ledger, Exit.FAULTS),
        (shed / "rigs" / "sanderling.yaml", Exit.FAULTS),
        (own / "manifest.json", Exit.REFUSED),
        (own / "journal.json", Exit.REFUSED),
    ):
        kept = path.read_bytes() if path.exists() else b""
        path.unlink(missing_ok=True)
        os.mkfifo(path)
        got, err = shell(shed, f"cardgen {' '.join(BUILD)} --again")
        path.unlink()
        if kept:
            path.write_bytes(kept)
        if got != code or path.name not in err or "Traceback" in err:
            wrong[path.name] = (got, err)
    assert wrong == {}
