"""Texts of the project speak of the project alone, and of nobody's makes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.docs.reading import ROOT, ours

# Each word is written in two halves, so that this file does not hold what it looks for.
FORBIDDEN = tuple(
    re.compile(first + second, re.IGNORECASE)
    for first, second in (
        (r"\btrans", r"cripts?\b"),
        (r"\bseed", r" (document|file|text)"),
        (r"(?<![\w.])/wor", r"k/"),
        (r"/home", r"/\w"),
        (r"\blanguage", r" models?\b"),
        (r"\bCE", r"O\b"),
        (r"\bsub", r"agents?\b"),
        (r"\bAI", r" (assistant|agent|model)"),
        (r"\bpypi", r"\.org\b"),
        (r"\bnpm", r"js\b"),
        (r"\bgithub", r"\.com\b"),
        (r"\b(this|the|a) prom", r"pt\b"),
        (r"\bLL", r"Ms?\b"),
    )
)
OUR_OWN = re.compile(r"(?<![\w.])/tm" + r"p\b")
"""A folder of this machine; tests of hostile names may hold it, the project's own texts not."""
MARKS = re.compile("[\u00ae\u2122]")
"""Signs of registered and other trade marks."""


@pytest.mark.parametrize("path", ours(), ids=lambda path: str(path.relative_to(ROOT)))
def test_no_word_that_does_not_belong(path: Path) -> None:
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return  # a sample of a wrong encoding, for the reader's tests
    for number, line in enumerate(text.splitlines(), 1):
        for word in FORBIDDEN:
            found = [match.group() for match in word.finditer(line)]
            assert found == [], f"{path.relative_to(ROOT)}:{number}"
        hostile = path.relative_to(ROOT).parts[0] == "tests"
        assert hostile or not OUR_OWN.search(line), f"{path.relative_to(ROOT)}:{number}"
        assert not MARKS.search(line), f"{path.relative_to(ROOT)}:{number}: a trade mark"


def test_the_whole_project_is_read() -> None:
    names = {path.relative_to(ROOT).parts[0] for path in ours()}
    assert {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "cardgen",
        "templates",
        "rigs",
        "tests",
        ".ci",
    } <= names


def test_the_top_level_holds_nothing_else() -> None:
    allowed = {
        "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "cardgen", "templates", "rigs", "tests",
        "build", "dist",
    }  # fmt: skip
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert found <= allowed
