"""README says what the program says: its tables are made from the program."""

from __future__ import annotations

import re

from cardgen.cli import COMMANDS
from cardgen.commands.exits import MEANINGS
from cardgen.commands.reference import SECTIONS, fill
from tests.commands.workspace import ROOT, Run

README = (ROOT / "README.md").read_text("utf-8")


def test_the_made_parts_are_up_to_date() -> None:
    """Write them anew with ``python -m cardgen.commands.reference README.md``."""
    for name in SECTIONS:
        assert f"<!-- made: {name} -->" in README
    assert fill(README) == README


def test_every_exit_code_is_told() -> None:
    section = README.partition("<!-- made: exits -->")[2].partition("<!-- end: exits -->")[0]
    for code, words in MEANINGS.items():
        assert f"| {int(code)} | {words} |" in section


def test_every_command_is_told_and_there_is_no_other() -> None:
    told = set(re.findall(r"^\| `cardgen ([a-z-]+)", README, re.MULTILINE))
    assert told == set(COMMANDS)


def test_options_told_in_readme_exist(run: Run) -> None:
    unknown = []
    for command in COMMANDS:
        ran = run(command, "--help")
        assert (ran.code, ran.err) == (0, "")
        assert "usage: cardgen" in ran.out
        for line in re.findall(rf"cardgen {command}\b[^`\n|]*", README):
            options = re.findall(r"(?<!\S)--[a-z-]+", line)
            unknown += [(command, option) for option in options if option not in ran.out]
    assert unknown == []


def test_files_told_in_readme_exist() -> None:
    for path in re.findall(r"\]\((?!http)([^)#]+)\)", README):
        assert (ROOT / path).exists(), path
