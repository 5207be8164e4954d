"""The rooms of the package import in one direction, and files, functions and class names stay few and small."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections import defaultdict
from functools import cache
from pathlib import Path

import cardgen

ROOT = Path(cardgen.__file__).parent
PURE = ("units", "model", "physics", "limits", "present")
READERS = ("read.py", "shelf.py")
"""Files of pure rooms that read rig files."""
CLOCK_OR_FILE = {"today", "now", "utcnow", "time_ns", "read_text", "read_bytes", "write_text"}

LARGER = {
    "limits/legal.py": 420,
    "limits/remedy_ideas.py": 435,
    "limits/tires.py": 430,
    "model/starter.py": 430,
    "model/trailer.py": 590,
    "model/vehicle.py": 570,
    "physics/allowances.py": 435,
    "physics/figures.py": 415,
    "physics/pressure.py": 475,
    "present/blocks.py": 470,
    "present/cards/front.py": 515,
    "present/report.py": 415,
}
"""Files that may have more lines than the rest: one thing each, which two files would say half of."""


@cache
def trees() -> dict[str, ast.Module]:
    """Syntax tree of every module, by its path in the package."""
    return {
        path.relative_to(ROOT).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
        for path in sorted(ROOT.rglob("*.py"))
    }


def test_imports_keep_the_contracts() -> None:
    """Direction of the rooms, no circle inside one, one importer of each heavy library: see ``pyproject.toml``."""
    code = "from importlinter.cli import lint_imports_command as run; run()"  # its set-up turns loggers off
    ran = subprocess.run(
        [sys.executable, "-c", code, "--no-cache"],
        cwd=ROOT.parent,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert "4 kept, 0 broken" in ran.stdout


def test_pure_rooms_read_no_clock_and_no_file() -> None:
    found = [
        f"{name}:{node.lineno}"
        for name, tree in trees().items()
        if name.split("/")[0] in PURE and name.split("/")[-1] not in READERS
        for node in ast.walk(tree)
        if (isinstance(node, ast.Attribute) and node.attr in CLOCK_OR_FILE)
        or (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "open")
    ]
    assert found == []


def test_files_stay_small() -> None:
    """At most 400 lines, and those that a split would only scatter as they are: they may shrink, not grow."""
    lengths = {name: len((ROOT / name).read_text(encoding="utf-8").splitlines()) for name in trees()}
    assert {name: n for name, n in lengths.items() if n > LARGER.get(name, 400)} == {}
    assert [name for name in LARGER if lengths[name] <= 400] == []


def test_functions_stay_small() -> None:
    long = [
        f"{name}:{node.name}"
        for name, tree in trees().items()
        for node in ast.walk(tree)
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))
        and (node.end_lineno or 0) - node.lineno >= 60
    ]
    assert long == []


def test_a_class_name_has_one_meaning() -> None:
    where = defaultdict(list)
    for name, tree in trees().items():
        for node in tree.body:
            if isinstance(node, ast.ClassDef):
                where[node.name].append(name)
    twice = {name: files for name, files in where.items() if len(files) > 1}
    assert twice == {}
