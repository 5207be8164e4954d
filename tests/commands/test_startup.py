"""What asks for little loads little: help, errors and plain texts import no heavy library."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from cardgen.cli import COMMANDS
from tests.commands.workspace import ROOT

HEAVY = (
    "PIL", "distributed", "fontTools", "fontpkg", "hypothesis", "jinja2", "multiprocessing", "numpy", "pikepdf",
    "pint", "pydantic", "pydantic_core", "pydyf", "qrcode", "rich", "tinycss2", "weasyprint", "yaml",
)  # fmt: skip
NO_PRINTING = ("PIL", "numpy", "pint", "fontTools", "pikepdf", "pydyf", "qrcode", "weasyprint")
"""Nor pint, which is asked for units beside the known ones alone and looks for numpy and the like."""


def imported(words: list[str], cwd: Path) -> tuple[set[str], int]:
    """Top-level packages that a command imports, and how many modules in all."""
    ran = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "cardgen", *words],
        cwd=cwd,
        env={"PYTHONPATH": str(ROOT), "PATH": "/usr/bin:/bin", "HOME": str(cwd)},
        capture_output=True,
        text=True,
        check=False,
    )
    names = re.findall(r"^import time:.*\| +([\w.]+)$", ran.stderr, re.MULTILINE)
    assert "cardgen.cli" in names
    return {name.partition(".")[0] for name in names}, len(names)


@pytest.mark.parametrize("words", [["--help"], ["--version"], [], ["frob"]], ids=" ".join)
def test_the_program_itself(shed: Path, words: list[str]) -> None:
    found, count = imported(words, shed)
    assert found & set(HEAVY) == set()
    assert count < 400


def test_help_of_a_command(shed: Path) -> None:
    heavy = {command: imported([command, "--help"], shed)[0] & set(HEAVY) for command in COMMANDS}
    assert {command: names for command, names in heavy.items() if names} == {}


@pytest.mark.parametrize(
    "words", [["check", "plover"], ["results", "plover", "--json"], ["schema"]], ids=" ".join
)
def test_what_prints_no_card_loads_no_print_engine(shed: Path, words: list[str]) -> None:
    found, _ = imported(words, shed)
    assert found & set(NO_PRINTING) == set()


def test_pages_alone_load_no_print_engine(shed: Path) -> None:
    found, _ = imported(["build", "--html-only"], shed)
    assert (shed / "build" / "plover" / "index.html").is_file()
    assert (
        found
        & {"weasyprint", "pydyf", "tinycss2", "cssselect2", "pikepdf", "pint", "pyphen", "PIL", "qrcode"}
        == set()
    )


def test_an_unknown_rig_is_told_before_anything_is_loaded(shed: Path) -> None:
    found, _ = imported(["build", "nobody"], shed)
    assert found & set(NO_PRINTING) == set()
