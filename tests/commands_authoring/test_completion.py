"""Completion scripts name every command and flag; bash itself completes rigs, cards and codes."""

from __future__ import annotations

import argparse
import shutil
import subprocess
from pathlib import Path

import pytest

from cardgen.cli import COMMANDS, main, parser
from cardgen.commands.completion import SHELLS, script, words
from cardgen.present.cards import KINDS
from cardgen.render.sizes import CHOICES
from tests.each import each

ROOT = Path(__file__).parent.parent.parent
RIGS = sorted(path.stem for path in (ROOT / "rigs").glob("*.yaml"))
_DRIVER = """
source "$1"; shift
COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMP_LINE="$*"; COMP_POINT=${#COMP_LINE}
main=$(complete -p cardgen | sed 's/.*-F \\([^ ]*\\).*/\\1/')
COMPREPLY=()
"$main" cardgen "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
printf '%s\\n' "${COMPREPLY[@]}"
"""


@pytest.fixture(scope="module")
def bash_script(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("completion") / "cardgen.bash"
    path.write_text(script("bash", parser()), encoding="utf-8")
    return path


def complete(script_file: Path, *typed: str) -> list[str]:
    """What bash offers for the last word."""
    bash = shutil.which("bash")
    assert bash is not None
    run = subprocess.run(
        [bash, "--norc", "-c", _DRIVER, "driver", str(script_file), "cardgen", *typed],
        capture_output=True, text=True, check=False, cwd=ROOT,
    )  # fmt: skip
    assert run.stderr == ""
    return sorted(run.stdout.split())


@each(
    ("typed", "offered"),
    [
        ([""], sorted(COMMANDS)),
        (["ch"], ["changes", "check"]),
        (["check", ""], RIGS),
        (["check", "ot"], ["otter"]),
        (["check", "otter", "he"], ["heron"]),
        (["check", "rigs/ott"], ["rigs/otter.yaml"]),
        (["check", "--rigs-dir", "tests/data/rigs", "sm"], ["small"]),
        (["build", "--cards", "glo"], ["glovebox-card"]),
        (["build", "--size", ""], sorted(CHOICES)),
        (["build", "--html"], ["--html-only"]),
        (["new", "X", "--from", "do"], ["dormouse"]),
        (["new", "X", "--market", ""], ["au", "ca", "eu", "nz", "uk", "us"]),
        (["cargo", "otter", "--separator", "s"], ["semicolon"]),
        (["explain", "trailer-gr"], ["trailer-gross"]),
        (["explain", "trailer.gv"], ["trailer.gvwr"]),
        (["explain", "quantity-b"], ["quantity-bare"]),
        (["completion", ""], sorted(SHELLS)),
    ],
)
def test_bash_completes(bash_script: Path, typed: list[str], offered: list[str]) -> None:
    assert complete(bash_script, *typed) == offered


def flags(top: argparse.ArgumentParser) -> set[str]:
    found: set[str] = set()
    for action in top._actions:
        if isinstance(action, argparse._SubParsersAction):
            for inner in action.choices.values():
                found |= flags(inner)
        found |= {flag for flag in action.option_strings if flag.startswith("--")}
    return found


@each("shell", SHELLS)
def test_every_command_flag_and_list_is_in_the_script(shell: str) -> None:
    text = script(shell, parser())
    for name in COMMANDS:
        assert name in text
    for flag in flags(parser()):
        assert (flag if shell != "fish" else f"-l {flag[2:]}") in text
    for name, found in words().items():
        assert name in text
        assert " ".join(found) in text
    assert "_cardgen_rigs" in text
    assert set(words()["_cardgen_cards"]) == set(KINDS)


def test_zsh_completes_more_than_one_rig() -> None:
    assert '"*:rig file, or its name in the rigs folder:_cardgen_rigs"' in script("zsh", parser())
    assert '"(*)::' not in script("zsh", parser())


def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", "fish"]) == 0
    assert capsys.readouterr().out == script("fish", parser())
    with pytest.raises(SystemExit, match="2"):
        main(["completion", "csh"])
