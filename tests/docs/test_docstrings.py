"""Docstrings: every public thing has one; numbers carry their unit, formulas their source."""

from __future__ import annotations

import argparse
import ast
import re
from pathlib import Path

import pytest

from cardgen.cli import parser
from cardgen.limits.registry import Rule, rules
from cardgen.model.results import Basis
from tests.docs.reading import PACKAGE, Function, classes, functions, modules

UNIT = re.compile(r"\[[^\]\n]+\]")
SOURCE = re.compile(r"\b[Ss]ources?\b")
STANDING = re.compile(r"official text|secondary copy|from memory|no source|exact definition")
EXACT_ROOMS = ("physics", "tables")


def room(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0]


def of_rooms(*names: str) -> list[Function]:
    return [function for path in modules() if room(path) in names for function in functions(path)]


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(PACKAGE)))
def test_everything_public_says_what_it_is(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    if text.strip():
        assert ast.get_docstring(ast.parse(text)), path
    for one in classes(path):
        assert ast.get_docstring(one), f"{path}:{one.lineno} {one.name}"
    for function in functions(path):
        first = function.doc.split("\n\n")[0]
        assert first, function.where
        assert first.rstrip().endswith((".", ";", ":", '"', "?")) or "\n" in first, function.where


@pytest.mark.parametrize("function", of_rooms(*EXACT_ROOMS), ids=lambda f: f.where)
def test_units_and_source(function: Function) -> None:
    assert UNIT.search(function.doc), f"{function.where}: no unit in brackets"
    assert SOURCE.search(function.doc), f"{function.where}: no source"


@pytest.mark.parametrize("function", of_rooms(*EXACT_ROOMS), ids=lambda f: f.where)
def test_every_number_given_to_a_formula_has_its_unit(function: Function) -> None:
    """Each float argument is named in the docstring, and its entry holds a unit."""
    for argument in function.arguments():
        kind = ast.unparse(argument.annotation) if argument.annotation else ""
        if not re.fullmatch(r"float( \| None)?", kind):
            continue
        entry = re.search(
            rf"^    (?:\w+, )*{argument.arg}(?:, \w+)*: (.*(?:\n      .*)*)", function.doc, re.MULTILINE
        )
        told = entry[1] if entry else function.doc
        assert argument.arg in function.doc, f"{function.where}: {argument.arg} is not mentioned"
        assert UNIT.search(told), f"{function.where}: {argument.arg} has no unit"


@pytest.mark.parametrize("rule", rules(), ids=lambda rule: rule.code)
def test_every_check_has_basis_source_and_meaning(rule: Rule) -> None:
    assert isinstance(rule.basis, Basis)
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", rule.code)
    assert len(rule.title) >= 10
    assert rule.title == rule.title.strip(" .")
    assert len(rule.source) >= 15
    assert len(rule.meaning) >= 60
    assert rule.meaning.endswith(".")
    assert rule.run.__doc__
    if rule.basis in (Basis.LAW, Basis.COMMERCIAL_LAW, Basis.STANDARD):
        assert STANDING.search(rule.source), rule.source


def test_public_arguments_of_commands_have_help() -> None:
    for action in parser()._actions:
        if isinstance(action, argparse._SubParsersAction):
            for name, inner in action.choices.items():
                for one in inner._actions:
                    assert one.help, f"{name}: {one.dest}"
