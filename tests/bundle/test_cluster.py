"""A cluster: a scheduler and two worker processes of Dask's distributed, one of them killed."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen.bundle.errors import MissingError
from cardgen.bundle.workers import cluster
from tests.bundle.shed import Shed
from tests.bundle.test_kill import ROOT, start, wait_for

RIGS = 12


@pytest.fixture
def code(tmp_path: Path) -> Path:
    """A copy of cardgen, as every machine has one; an edit here meanwhile does not reach it."""
    copy = tmp_path / "code"
    skip = shutil.ignore_patterns("__pycache__")
    for name in ("cardgen", "templates", "tests/bundle"):
        shutil.copytree(ROOT / name, copy / name, ignore=skip)
    shutil.copy(ROOT / "tests" / "__init__.py", copy / "tests")
    return copy


def run(code: Path, *words: str) -> subprocess.Popen[bytes]:
    """Start a part of the cluster, quietly."""
    return subprocess.Popen(
        [sys.executable, "-m", *words],
        cwd=code,
        env={**os.environ, "PYTHONPATH": str(code)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


@pytest.fixture
def machines(tmp_path: Path, code: Path) -> Iterator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """Address of a scheduler with two workers, and the workers."""
    note = tmp_path / "scheduler.json"
    common = ("--scheduler-file", str(note))
    scheduler = run(
        code,
        "distributed.cli.dask_scheduler",
        *common,
        "--host",
        "127.0.0.1",
        "--port",
        "0",
        "--no-dashboard",
    )
    workers: list[subprocess.Popen[bytes]] = []
    try:
        until = time.monotonic() + 60
        while not note.exists() or not note.read_text():
            assert time.monotonic() < until, "the scheduler did not start"
            time.sleep(0.05)
        for number in range(2):
            own = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--host", "127.0.0.1")
            place = ("--local-directory", str(tmp_path / f"worker{number}"))
            workers.append(run(code, "distributed.cli.dask_worker", *common, *own, *place))
        yield json.loads(note.read_text())["address"], workers
    finally:
        for process in (*workers, scheduler):
            process.kill()
            process.wait()


def test_a_killed_worker_loses_nothing(
    tmp_path: Path, code: Path, machines: tuple[str, list[subprocess.Popen[bytes]]]
) -> None:
    address, workers = machines
    shed = Shed(tmp_path / "cluster")
    alone = Shed(tmp_path / "alone")
    for number in range(RIGS):
        for one in (shed, alone):
            one.rig(f"rig{number:02d}", pressure=f"{50 + number} psi", more="note: sleep 0.3\n")
    build = start(shed.root, "--scheduler", address, code=code)
    wait_for(build, "3 of 12")
    workers[0].kill()
    out, said = build.communicate(timeout=120)
    assert build.returncode == 0, said
    assert "12 rigs: 12 built, 0 unchanged" in out
    alone.build()
    assert shed.tree() == alone.tree()
    assert workers[1].poll() is None, "the other worker did the rest"


def test_a_scheduler_that_does_not_answer(tmp_path: Path) -> None:
    shed = Shed(tmp_path)
    shed.rig("wren")
    build = start(tmp_path, "--scheduler", "tcp://127.0.0.1:9")
    _, said = build.communicate(timeout=120)
    assert build.returncode == 4
    assert "does not answer" in said
    assert "Traceback" not in said
    assert shed.tree() == {}


def test_the_extra_is_named_when_it_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(MissingError, match=r"cardgen\[cluster\]"):
        cluster("tcp://127.0.0.1:9")
