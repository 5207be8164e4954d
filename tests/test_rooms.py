"""The rooms of the package import in one direction, and files, functions and class names stay few and small."""

from __future__ import annotations

import ast
from collections import defaultdict
from functools import cache
from pathlib import Path

import pytest
from importlinter.cli import lint_imports

import cardgen

ROOT = Path(cardgen.__file__).parent
PURE = ("units", "model", "physics", "limits", "present")
READERS = ("read.py", "shelf.py")
"""Files of pure rooms that read rig files."""
CLOCK_OR_FILE = {"today", "now", "utcnow", "time_ns", "read_text", "read_bytes", "write_text"}


@cache
def trees() -> dict[str, ast.Module]:
    """Syntax tree of every module, by its path in the package."""
    return {
        path.relative_to(ROOT).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
        for path in sorted(ROOT.rglob("*.py"))
    }


def test_imports_keep_the_contracts(capsys: pytest.CaptureFixture[str]) -> None:
    """Direction of the rooms, no circle inside one, one importer of each heavy library: see ``pyproject.toml``."""
    code = lint_imports(str(ROOT.parent / "pyproject.toml"), no_cache=True, no_logo=True)
    said = capsys.readouterr().out
    assert code == 0, said
    assert "4 kept, 0 broken" in said


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
    lengths = {name: len((ROOT / name).read_text(encoding="utf-8").splitlines()) for name in trees()}
    assert {name: length for name, length in lengths.items() if length > 400} == {}


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
