"""Public functions of the physics name units and source; every check names basis and source."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import cardgen.physics
from cardgen.limits.registry import Rule, rules
from cardgen.model.results import Basis

ROOM = Path(cardgen.physics.__file__).parent
UNIT = re.compile(r"\[(?:-|SI|any|°?[A-Za-z][^\]]*|1/[^\]]+)\]")
SOURCE = re.compile(r"\b[Ss]ource:|\bSource\b|cardgen\.tables")
Public = ast.FunctionDef | ast.ClassDef


def published() -> Iterator[tuple[str, str, Public]]:
    """Every public function, class and method: file, module docstring, node."""
    for path in sorted(ROOM.glob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        words = ast.get_docstring(tree) or ""
        for node in tree.body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
                yield path.name, words, node
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                for inner in node.body:
                    if isinstance(inner, ast.FunctionDef) and not inner.name.startswith("_"):
                        yield path.name, words, inner


FUNCTIONS = [
    pytest.param(words, node, id=f"{name}:{node.name}")
    for name, words, node in published()
    if isinstance(node, ast.FunctionDef)
]


@pytest.mark.parametrize(
    "name", sorted(path.name for path in ROOM.glob("*.py") if path.name != "__init__.py")
)
def test_every_module_says_what_it_is(name: str) -> None:
    assert ast.get_docstring(ast.parse((ROOM / name).read_text(encoding="utf-8")))


@pytest.mark.parametrize(("module", "node"), FUNCTIONS)
def test_public_functions_name_units_and_source(module: str, node: ast.FunctionDef) -> None:
    words = ast.get_docstring(node) or ""
    assert words, f"{node.name} has no docstring"
    assert UNIT.search(words), f"{node.name} names no unit, not even [-]"
    assert SOURCE.search(words) or SOURCE.search(module), f"{node.name} names no source"


@pytest.mark.parametrize(("module", "node"), FUNCTIONS)
def test_every_number_has_a_unit(module: str, node: ast.FunctionDef) -> None:
    """A float argument is told with its unit beside its name."""
    words = ast.get_docstring(node) or ""
    for argument in (*node.args.args, *node.args.kwonlyargs):
        kind = ast.unparse(argument.annotation) if argument.annotation else ""
        if kind not in ("float", "float | None"):
            continue
        line = rf"(?m)^\s*(?:\w+, )*{argument.arg}(?:, \w+)*:(?:[^\n]|\n(?!\s*\w+(?:, \w+)*:))*"
        told = re.findall(line, words)
        assert told or "Args:" not in words, f"{node.name}: {argument.arg} is not explained"
        assert any(UNIT.search(text) for text in told or [words]), f"{node.name}: {argument.arg} has no unit"


@pytest.mark.parametrize("one", rules(), ids=lambda one: one.code)
def test_every_check_has_basis_and_source(one: Rule) -> None:
    assert isinstance(one.basis, Basis)
    assert one.source.strip()
    assert one.meaning.strip()
    assert one.title.strip()
    assert one.run.__doc__ or one.meaning


def test_there_is_something_to_check() -> None:
    assert len(FUNCTIONS) > 80
    assert len(rules()) > 30
