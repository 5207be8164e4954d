"""The rooms of the package import in one direction only."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import cardgen

ROOT = Path(cardgen.__file__).parent
GROUND = ("units", "tables")
ROOMS = ("source", "model", "physics", "limits", "checklist", "present", "render", "bundle", "commands")
ONLY_IMPORTER = {"pint": "units/registry.py", "weasyprint": "render/engine.py"}


def imports(path: Path) -> Iterator[tuple[str, int]]:
    """Every imported module of a file with its line, lazy imports included."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: relative import"
            yield node.module or "", node.lineno
            if node.module == "cardgen":
                yield from ((f"cardgen.{alias.name}", node.lineno) for alias in node.names)


def files() -> list[Path]:
    """All modules of the package."""
    return sorted(ROOT.rglob("*.py"))


def room_of(module: str) -> str | None:
    """The room of a module of ours, None for others and for the top level."""
    parts = module.split(".")
    known = (*GROUND, *ROOMS)
    return parts[1] if len(parts) > 1 and parts[0] == "cardgen" and parts[1] in known else None


@pytest.mark.parametrize("path", files(), ids=lambda p: str(p.relative_to(ROOT)))
def test_no_step_back(path: Path) -> None:
    own = path.relative_to(ROOT).parts[0]
    if own not in (*GROUND, *ROOMS):
        return
    rank = ROOMS.index(own) if own in ROOMS else -1
    for module, line in imports(path):
        room = room_of(module)
        if room is None or room == own:
            continue
        allowed = GROUND if own in GROUND else (*GROUND, *ROOMS[:rank])
        assert room in allowed, f"{path}:{line}: {own} imports {module}"


def test_every_folder_is_a_room() -> None:
    folders = {p.parent.relative_to(ROOT).parts[0] for p in files() if p.parent != ROOT}
    assert folders == {*GROUND, *ROOMS}


@pytest.mark.parametrize("library", ONLY_IMPORTER)
def test_only_one_importer(library: str) -> None:
    found = {
        str(path.relative_to(ROOT))
        for path in files()
        for module, _ in imports(path)
        if module.split(".")[0] == library
    }
    assert found == {ONLY_IMPORTER[library]}


def test_pure_rooms_read_no_clock_and_no_file() -> None:
    pure = ("units", "model", "physics", "limits", "present")
    for path in files():
        room = path.relative_to(ROOT).parts[0]
        if room not in pure or path.name in ("read.py", "shelf.py"):  # these two read rig files
            continue
        tree = ast.parse(path.read_text(encoding="utf-8"))
        names = {n.attr for n in ast.walk(tree) if isinstance(n, ast.Attribute)}
        calls = {
            n.func.id for n in ast.walk(tree) if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)
        }
        assert not names & {"today", "now", "utcnow", "time_ns", "read_text", "read_bytes", "write_text"}, (
            path
        )
        assert "open" not in calls, path


def test_files_stay_small() -> None:
    long = {str(p.relative_to(ROOT)): n for p in files() if (n := len(p.read_text().splitlines())) > 400}
    assert long == {}


def test_functions_stay_small() -> None:
    long = [
        f"{path.relative_to(ROOT)}:{node.name}"
        for path in files()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))
        and (node.end_lineno or 0) - node.lineno >= 60
    ]
    assert long == []
