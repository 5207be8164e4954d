"""Every public name of cardgen.tables says its units and its source; nothing imports a room."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

import cardgen.tables
from cardgen.tables.sources import all_sources

MODULES: list[ModuleType] = [
    importlib.import_module(f"cardgen.tables.{m.name}") for m in pkgutil.iter_modules(cardgen.tables.__path__)
]
FOR_OTHER_ROOMS = {"tin-date", "d-value"}
"""Records kept for figures that other rooms work out."""


def public(module: ModuleType) -> list[tuple[str, Any]]:
    """Functions and classes that a module defines for others."""
    return [
        (f"{module.__name__.rpartition('.')[2]}.{name}", thing)
        for name, thing in vars(module).items()
        if not name.startswith("_") and getattr(thing, "__module__", "") == module.__name__
    ]


THINGS = [pair for module in MODULES for pair in public(module)]
FUNCTIONS = [(n, t) for n, t in THINGS if not inspect.isclass(t) and callable(t)]
CLASSES = [(n, t) for n, t in THINGS if inspect.isclass(t) and not issubclass(t, Exception)]


def doc_of(thing: Any) -> str:
    """Docstring, cleaned."""
    return inspect.cleandoc(thing.__doc__ or "")


def parameters(function: Callable[..., Any]) -> list[str]:
    """Names of the parameters."""
    return list(inspect.signature(function).parameters)


def test_the_walk_finds_the_modules() -> None:
    assert len(MODULES) >= 18
    assert len(FUNCTIONS) > 70
    assert len(CLASSES) > 12


@pytest.mark.parametrize(("name", "thing"), FUNCTIONS, ids=[n for n, _ in FUNCTIONS])
def test_functions_name_units_and_source(name: str, thing: Any) -> None:
    doc = doc_of(thing)
    assert re.search(r"^Source: .+", doc, re.MULTILINE), f"{name} names no source"
    for parameter in parameters(thing):
        entry = re.search(rf"^    {parameter}: (.+?)(?=^    \w+: |\n\n|\Z)", doc, re.MULTILINE | re.DOTALL)
        assert entry, f"{name} does not explain {parameter}"
        if parameter not in ("rule", "facts", "condition"):
            assert "[" in entry[1], f"{name}: {parameter} has no unit"
    returns = re.search(r"^Returns:\n(.+?)(?=\n\n|\Z)", doc, re.MULTILINE | re.DOTALL)
    said = returns[1] if returns else doc.split("Source:")[0]
    if name not in ("lookup.check_range",):
        assert re.search(r"\[[^\]]+\]", said), f"{name} gives no unit for its result"


@pytest.mark.parametrize(("name", "thing"), CLASSES, ids=[n for n, _ in CLASSES])
def test_classes_name_units_and_source(name: str, thing: Any) -> None:
    doc = doc_of(thing)
    assert re.search(r"Source: .+", doc), f"{name} names no source"
    fields = getattr(thing, "__dataclass_fields__", {})
    for field in fields:
        if name.split(".")[1] in ("Every", "Some"):
            continue
        assert re.search(rf"^    {field}: ", doc, re.MULTILINE), f"{name} does not explain {field}"
    for member, value in vars(thing).items():
        if isinstance(value, property) or (inspect.isfunction(value) and not member.startswith("_")):
            text = doc_of(value)
            assert "ource" in text, f"{name}.{member} names no source"


@pytest.mark.parametrize(("name", "thing"), FUNCTIONS + CLASSES, ids=[n for n, _ in FUNCTIONS + CLASSES])
def test_named_source_keys_exist(name: str, thing: Any) -> None:
    line = re.search(r"Source: (.+?)(?=\n\n|\Z)", doc_of(thing), re.DOTALL)
    assert line
    known = all_sources()
    for key in re.findall(r"``([a-z0-9]+(?:-[a-z0-9]+)+)``", line[1]):
        assert key in known, f"{name} cites '{key}', which is not in the records"


@pytest.mark.parametrize("module", MODULES, ids=[m.__name__ for m in MODULES])
def test_tables_stand_on_the_ground_floor(module: ModuleType) -> None:
    assert module.__file__
    tree = ast.parse(Path(module.__file__).read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module:
            inside = node.module.startswith("cardgen")
            assert not inside or node.module.startswith("cardgen.tables"), node.module
        if isinstance(node, ast.Import):
            assert all(not a.name.startswith("cardgen") for a in node.names)


def test_every_record_is_used() -> None:
    folder = Path(cardgen.tables.__path__[0])
    text = "\n".join(
        p.read_text(encoding="utf-8")
        for p in (*folder.glob("*.py"), *(folder / "data").glob("*.yaml"))
        if not p.name.endswith("sources.yaml")
    )
    unused = [key for key in all_sources() if not re.search(rf"(?<![\w-]){key}(?![\w-])", text)]
    assert set(unused) == FOR_OTHER_ROOMS
