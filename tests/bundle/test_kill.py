"""Builds killed at points chosen by count: the earlier output is there, whole, or the swap is finished.

A build counts its own points: before each call that changes the disk, after each file is
opened and still empty, and after each is written. Between two points the disk stays as it
is. It is killed at one of them, half of the time at one after the journal is in place, so
that nothing here depends on how fast the machine is.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from cardgen.bundle.build import build
from tests.bundle.shed import Shed, tree_of
from tests.conftest import long_run

ROOT = Path(__file__).parents[2]
PARTS = 4
KILLS = (200 if long_run() else 40) // PARTS
RIGS = ("heron", "mule", "otter", "wren")

# Runs builds in forks of one process that has imported everything, so that 40 kills take
# seconds. Reads lines "all|swap number" from stdin, answers with what happened.
NURSERY = """
import os, signal, sys
from tests.bundle.shed import Shed
import cardgen.model.read, cardgen.bundle.make

shed = Shed.__new__(Shed)
from pathlib import Path
shed.root = Path(sys.argv[1]); shed.rigs = shed.root / "rigs"; shed.out = shed.root / "build"
CHANGES = {"os.rename", "os.mkdir", "os.remove", "os.rmdir"}
WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT
points = {"all": 0, "swap": 0}
swapping = False
kind, last = "", 0

def point():
    points["all"] += 1
    points["swap"] += swapping
    if kind and points[kind] == last:
        os.kill(os.getpid(), signal.SIGKILL)

def hook(event, arguments):
    global swapping
    if event in CHANGES or (event == "open" and arguments[2] & WRITES):
        point()
    if event == "os.rename" and str(arguments[1]).endswith("journal.json"):
        swapping = True

real = os.open
def opened(path, flags, *more, **named):
    handle = real(path, flags, *more, **named)
    if flags & WRITES:
        point()
    return handle

os.open = opened
os.fsync = lambda handle: point()  # nothing more: a kill loses nothing that was given to the system
shed.build(again=True)
print("ready", flush=True)
for line in sys.stdin:
    words = line.split()
    child = os.fork()
    if child == 0:
        points.update(all=0, swap=0)
        kind, last = words[0], int(words[1])
        sys.addaudithook(hook)
        shed.build()
        last = 0
        Path(sys.argv[1], "points").write_text(f"{points['all']} {points['swap']}")
        os._exit(0)
    _, status = os.waitpid(child, 0)
    print("killed" if os.WIFSIGNALED(status) else f"ended {os.waitstatus_to_exitcode(status)}", flush=True)
"""


class Nursery:
    """Makes builds that are killed."""

    def __init__(self, root: Path) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-c", NURSERY, str(root)],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self._answer() == "ready"

    def _answer(self) -> str:
        assert self.process.stdout is not None
        return self.process.stdout.readline().strip()

    def build(self, words: str) -> str:
        """Build once; ``all 0`` lets it live."""
        assert self.process.stdin is not None
        self.process.stdin.write(words + "\n")
        self.process.stdin.flush()
        return self._answer()

    def end(self) -> None:
        """Let it go."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.close()
        self.process.wait()
        self.process.stdout.close()


def edit(shed: Shed, version: int) -> None:
    """Change two rigs, and let a third come and go."""
    shed.rig("heron", pressure=f"{50 + version % 7} psi")
    shed.rig("mule", drop=f"{2 + version % 5} in")
    if version % 2:
        shed.rig("wren")
    else:
        (shed.rigs / "wren.yaml").unlink(missing_ok=True)


@pytest.mark.skipif(sys.platform == "win32", reason="needs fork")
@pytest.mark.parametrize("part", range(PARTS))
def test_kills(tmp_path: Path, part: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "fsync", lambda handle: None)
    shed = Shed(tmp_path)
    for name in RIGS:
        shed.rig(name)
    shed.build()
    nursery = Nursery(tmp_path)
    try:
        # Count the points of one build like those that follow; some of them have half as many again.
        edit(shed, 1)
        assert nursery.build("all 0") == "ended 0"
        points, swap = map(int, (tmp_path / "points").read_text().split())
        met = kill_many(shed, nursery, {"all": points, "swap": swap}, Random(20261125 + part))
    finally:
        nursery.end()
    print(met)  # seen with pytest -s
    # The kills must have met the stages of a build, or this test shows nothing.
    assert sum(met.values()) == KILLS
    assert met["before the swap"] >= KILLS // 10
    assert met["within the swap"] >= KILLS * 3 // 10


def kill_many(shed: Shed, nursery: Nursery, points: Mapping[str, int], random: Random) -> Mapping[str, int]:
    met = {"before the swap": 0, "within the swap": 0, "after the swap": 0}
    version, before = 1, dict(shed.tree())
    while sum(met.values()) < KILLS:
        version += 1
        edit(shed, version)
        kind = "all" if sum(met.values()) % 2 == 0 else "swap"
        words = f"{kind} {random.randint(1, points[kind] * 3 // 2)}"
        end = nursery.build(words)
        assert end in ("killed", "ended 0"), (version, words)
        after_kill = dict(shed.tree())
        swapping = (shed.out / ".cardgen" / "journal.json").exists()
        result = shed.build()
        expected = fresh_tree(shed)
        assert [rig.status == "failed" for rig in result.rigs] == [False] * len(result.rigs)
        assert shed.tree() == expected, (version, words)
        if swapping:
            whole = {*before.items(), *expected.items()}
            assert set(after_kill.items()) <= whole, (version, words)
        else:
            assert after_kill in (before, expected), (version, words)
        if end == "killed":
            stage = "within" if swapping else "before" if after_kill == before else "after"
            met[f"{stage} the swap"] += 1
        before = expected
    return met


def fresh_tree(shed: Shed) -> dict[str, str]:
    """What an undisturbed build of these rigs and this ledger gives."""
    out = shed.root / "fresh"
    build(replace(shed.request(), out=out, again=True))
    return tree_of(out)


@pytest.mark.skipif(sys.platform == "win32", reason="needs POSIX signals")
@pytest.mark.parametrize("ending", ["SIGKILL", "SIGINT"])
def test_worker_processes_end_with_the_build(tmp_path: Path, ending: str) -> None:
    shed = Shed(tmp_path)
    for number in range(8):
        shed.rig(f"rig{number}", more="note: sleep 0.4\n")
    build = start(tmp_path, "--jobs", "2")
    wait_for(build, "1 of 8")
    workers = children(build.pid)
    assert len(workers) >= 2
    os.kill(build.pid, getattr(signal, ending))
    _, said = build.communicate(timeout=30)
    assert build.returncode == (130 if ending == "SIGINT" else -signal.SIGKILL)
    assert "Traceback" not in said
    until = time.monotonic() + 20
    while any(map(alive, workers)):
        assert time.monotonic() < until, "a worker outlived its build"
        time.sleep(0.05)
    assert shed.tree() == {}
    assert not (shed.rigs / "revisions").exists()
    assert {rig.status for rig in shed.build().rigs} == {"built"}


COMMAND = """
import sys
from cardgen.bundle import plan
plan.MAKER = "tests.bundle.fake:FakeMaker"
from cardgen.cli import main
if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
"""


def start(root: Path, *more: str, code: Path = ROOT) -> subprocess.Popen[str]:
    """Start ``cardgen build`` with the fake maker in a workspace; ``code`` is where cardgen lies."""
    script = root / "command.py"
    script.write_text(COMMAND)
    return subprocess.Popen(
        [sys.executable, str(script), "build", "--date", "2026-11-25", *more],
        cwd=root,
        env={**os.environ, "PYTHONPATH": str(code)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def wait_for(process: subprocess.Popen[str], words: str) -> None:
    """Read stderr until it says something."""
    assert process.stderr is not None
    for line in process.stderr:
        if words in line:
            return
    raise AssertionError(f"never said '{words}'")


def children(pid: int) -> list[int]:
    """Processes started by one, by the process table."""
    listed = subprocess.run(["ps", "-e", "-o", "pid=,ppid="], capture_output=True, text=True, check=True)
    pairs = [tuple(map(int, line.split())) for line in listed.stdout.splitlines()]
    return [child for child, parent in pairs if parent == pid]


def alive(pid: int) -> bool:
    """Whether a process still runs."""
    listed = subprocess.run(
        ["ps", "-o", "stat=", "-p", str(pid)], capture_output=True, text=True, check=False
    )
    return bool(listed.stdout.strip()) and not listed.stdout.startswith("Z")
