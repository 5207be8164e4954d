"""Timing of commands and calls, and a table of the results."""

from __future__ import annotations

import json
import os
import resource
import shutil
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
_code = ROOT
GOOD = (0, 1, 3)
"""Exit codes with which a measurement counts: fine, a check over, some rigs with faults."""


def snapshot(folder: Path) -> None:
    """Measure a copy of the checkout from now on, so that edits meanwhile change nothing."""
    global _code
    skip = shutil.ignore_patterns("__pycache__", "revisions", "build")
    for name in ("cardgen", "templates", "rigs", "tests/benchmarks"):
        shutil.copytree(ROOT / name, folder / name, ignore=skip)
    for name in ("tests/__init__.py", "pyproject.toml"):
        shutil.copy(ROOT / name, folder / name)
    subprocess.run([sys.executable, "-m", "compileall", "-q", str(folder)], check=True)
    _code = folder


# Runs cardgen and leaves its resources behind; ru_maxrss is in KiB on Linux, in bytes on macOS.
_RUNNER = """
import json, resource, sys
from cardgen.bundle import plan
from cardgen.cli import main
plan.MAKER = sys.argv[2]
code = main(sys.argv[3:])
unit = 1 if sys.platform == "darwin" else 1024
peak = {name: resource.getrusage(who).ru_maxrss * unit
        for name, who in (("own", resource.RUSAGE_SELF), ("worker", resource.RUSAGE_CHILDREN))}
spent = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
cpu = sum(one.ru_utime + one.ru_stime for one in spent)
tops = {name.partition(".")[0] for name in sys.modules}
heavy = sorted(tops & {"PIL", "fontTools", "numpy", "pikepdf", "pint", "qrcode", "rich", "weasyprint"})
used = {"code": code, "cpu": cpu, "modules": len(sys.modules), "heavy": heavy, **peak}
open(sys.argv[1], "w").write(json.dumps(used))
sys.exit(code)
"""


@dataclass(slots=True)
class Row:
    """One line of the table.

    Args:
        name: what was measured.
        unit: unit of the values.
        values: every single measurement.
        aim: what is aimed at, in words.
        note: ratio or remark.
    """

    name: str
    unit: str
    values: list[float]
    aim: str = ""
    note: str = ""

    @property
    def median(self) -> float:
        """Median of the measurements [unit]."""
        return statistics.median(self.values)

    def line(self) -> str:
        """The row as text."""
        spread = f"{min(self.values):.3g} to {max(self.values):.3g}" if len(self.values) > 1 else "once"
        aim = f"aim {self.aim}" if self.aim else ""
        return (
            f"{self.name:<52} {self.median:>9.3g} {self.unit:<8} {spread:<20} {aim:<16} {self.note}".rstrip()
        )


@dataclass(slots=True)
class Table:
    """All rows of a run, printed as they come."""

    rows: list[Row] = field(default_factory=list)

    def add(self, row: Row) -> Row:
        """Keep and print a row."""
        self.rows.append(row)
        print(row.line(), flush=True)
        return row

    def write(self, file: Path) -> None:
        """Write all rows as JSON."""
        data = [{**asdict(row), "median": row.median} for row in self.rows]
        file.write_text(json.dumps({"python": sys.version, "rows": data}, indent=1) + "\n", "utf-8")


def wall(command: Sequence[str], folder: Path) -> float:
    """Seconds from start to end of a command; its output is dropped.

    Raises:
        RuntimeError: it failed.
    """
    began = time.perf_counter()
    done = subprocess.run(command, cwd=folder, env=environment(), capture_output=True, text=True, check=False)
    spent = time.perf_counter() - began
    if done.returncode not in GOOD:
        raise RuntimeError(f"{command} ended with {done.returncode}:\n{done.stderr[-4000:]}")
    return spent


def environment() -> dict[str, str]:
    """This process's environment with the measured code in front; what is compiled is kept, as it is for users."""
    own = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**own, "PYTHONPATH": str(_code)}


def cardgen(folder: Path, maker: str, *words: str) -> tuple[float, dict[str, Any]]:
    """Run a command in a process of its own; returns seconds and what it used [bytes]."""
    note = folder / "used.json"
    spent = wall([sys.executable, "-c", _RUNNER, str(note), maker, *words], folder)
    used: dict[str, Any] = json.loads(note.read_text("utf-8"))
    return spent, used


@cache
def empty() -> float:
    """Processor time of an empty Python program [s], the median of some."""
    spent = []
    for _ in range(9):
        before = children()
        wall([sys.executable, "-c", ""], ROOT)
        spent.append(children() - before)
    return statistics.median(spent)


def children() -> float:
    """Processor time of all programs that this process has started and that have ended [s]."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def runs(
    table: Table, name: str, folder: Path, maker: str, rounds: int, *words: str, aim: str = ""
) -> tuple[Row, dict[str, Any]]:
    """Add the processor time of a command in processes of its own; also what the last of them used."""
    made = [cardgen(folder, maker, *words) for _ in range(rounds)]
    row = Row(name, "s cpu", [used["cpu"] for _, used in made], aim)
    row.note = f"{row.median / empty():.0f} times an empty program, {statistics.median(s for s, _ in made):.1f} s of the clock"
    return table.add(row), made[-1][1]


def calls(
    call: Callable[[], object], rounds: int, clock: Callable[[], float] = time.perf_counter
) -> list[float]:
    """Seconds of each of some calls, after one that does not count, by the clock on the wall unless told."""
    call()
    spent = []
    for _ in range(rounds):
        began = clock()
        call()
        spent.append(clock() - began)
    return spent
