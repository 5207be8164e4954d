"""Docstrings: every public thing has one; numbers carry their unit, formulas their source."""

from __future__ import annotations

import argparse
import ast
import importlib
import re
from collections.abc import Iterator
from pathlib import Path

from cardgen.cli import parser
from cardgen.limits.registry import rules
from cardgen.model.results import Basis
from cardgen.tables.sources import all_sources
from tests.docs.reading import PACKAGE, Function, classes, functions, modules

UNIT = re.compile(r"\[[^\]\n]+\]")
SOURCE = re.compile(r"\b[Ss]ources?\b")
STANDING = re.compile(
    r"official text|word-for-word copy|secondary copy|from memory|no source|exact definition"
)
KEY = re.compile(r"``([a-z0-9]+(?:-[a-z0-9]+)+)``")
OF_TABLES = ("rule", "facts", "condition")
"""Arguments of the tables that are records of the tables and have no unit."""
NO_RESULT = ("check_range",)


def room(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0]


def of_rooms(*names: str) -> list[Function]:
    return [function for path in modules() if room(path) in names for function in functions(path)]


def without_words() -> Iterator[str]:
    """Modules, public classes, functions and methods that do not say what they are."""
    for path in modules():
        text = path.read_text(encoding="utf-8")
        if text.strip() and not ast.get_docstring(ast.parse(text)):
            yield str(path.relative_to(PACKAGE))
        for one in classes(path):
            if not ast.get_docstring(one):
                yield f"{path.relative_to(PACKAGE)}:{one.lineno} {one.name}"
        for function in functions(path):
            first = function.doc.split("\n\n")[0]
            if not first or not (first.rstrip().endswith((".", ";", ":", '"', "?")) or "\n" in first):
                yield function.where


def entry(function: Function, name: str) -> str:
    """What a docstring says about one argument, empty when it has no entry for it."""
    found = re.search(rf"^    (?:\w+, )*{name}(?:, \w+)*: (.*(?:\n      .*)*)", function.doc, re.MULTILINE)
    return found[1] if found else ""


def without_unit_or_source() -> Iterator[str]:
    """What a formula or a table does not tell: unit of result or argument, source."""
    for function in of_rooms("physics", "tables"):
        if not UNIT.search(function.doc) and function.name not in NO_RESULT:
            yield f"{function.where}: no unit in brackets"
        if not SOURCE.search(function.doc):
            yield f"{function.where}: no source"
        for argument in function.arguments():
            kind = ast.unparse(argument.annotation) if argument.annotation else ""
            told = entry(function, argument.arg)
            public = "." not in function.name
            if room(function.path) == "tables" and public and argument.arg not in OF_TABLES:
                if not UNIT.search(told):
                    yield f"{function.where}: {argument.arg} is not told with a unit"
            elif re.fullmatch(r"float( \| None)?", kind) and not (
                argument.arg in function.doc and UNIT.search(told or function.doc)
            ):
                yield f"{function.where}: {argument.arg} has no unit"


def records_of_tables_untold() -> Iterator[str]:
    """Records of the tables whose fields or source are not told."""
    for path in modules():
        if room(path) != "tables":
            continue
        module = importlib.import_module(f"cardgen.tables.{path.stem}")
        for one in classes(path):
            kind = getattr(module, one.name)
            doc = ast.get_docstring(one) or ""
            if issubclass(kind, Exception):
                continue
            if "Source: " not in doc:
                yield f"{path.stem}.{one.name}: no source"
            for field in getattr(kind, "__dataclass_fields__", {}):
                if one.name not in ("Every", "Some") and f"    {field}: " not in doc:
                    yield f"{path.stem}.{one.name}: {field} is not told"


def test_everything_public_says_what_it_is() -> None:
    assert list(without_words()) == []


def test_formulas_and_tables_tell_units_and_sources() -> None:
    assert len(of_rooms("physics", "tables")) > 150  # the walk finds them
    assert list(without_unit_or_source()) == []
    assert list(records_of_tables_untold()) == []


def test_sources_named_exist_and_every_record_is_used() -> None:
    known = all_sources()
    unknown = [
        f"{function.where}: {key}"
        for function in of_rooms("tables")
        for said in re.findall(r"Source: (.+?)(?=\n\n|\Z)", function.doc, re.DOTALL)
        for key in KEY.findall(said)
        if key not in known
    ]
    assert unknown == []
    folder = PACKAGE / "tables"
    text = "\n".join(
        path.read_text(encoding="utf-8")
        for path in (*folder.glob("*.py"), *(folder / "data").glob("*.yaml"))
        if not path.name.endswith("sources.yaml")
    )
    unused = {key for key in known if not re.search(rf"(?<![\w-]){key}(?![\w-])", text)}
    assert unused == set()


def test_every_check_has_basis_source_and_meaning() -> None:
    untold = [
        rule.code
        for rule in rules()
        if not re.fullmatch(r"[a-z]+(-[a-z]+)*", rule.code)
        or len(rule.title) < 10
        or rule.title != rule.title.strip(" .")
        or len(rule.source) < 15
        or len(rule.meaning) < 60
        or not rule.meaning.endswith(".")
        or not rule.run.__doc__
        or (
            rule.basis in (Basis.LAW, Basis.COMMERCIAL_LAW, Basis.STANDARD)
            and not STANDING.search(rule.source)
        )
    ]
    assert len(rules()) > 30
    assert untold == []


def test_public_arguments_of_commands_have_help() -> None:
    (commands,) = (one for one in parser()._actions if isinstance(one, argparse._SubParsersAction))
    silent = [
        f"{name}: {one.dest}"
        for name, inner in commands.choices.items()
        for one in inner._actions
        if not one.help
    ]
    assert silent == []
    for inner in commands.choices.values():
        assert inner.format_help().startswith("usage: cardgen ")
