"""Workspaces for tests of the command line."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.cli import main
from tests.commands.workspace import Ran, Run, write


@pytest.fixture
def shed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workspace with two rigs, which is the current folder."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("FORCE_COLOR", raising=False)
    write(tmp_path, "plover")
    write(tmp_path, "sanderling")
    return tmp_path


@pytest.fixture
def run(shed: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run a command in the workspace, in this process."""

    def command(*words: str) -> Ran:
        capsys.readouterr()
        try:
            code = main(words)
        except SystemExit as stop:
            code = int(stop.code or 0)
        said = capsys.readouterr()
        return Ran(code, said.out, said.err)

    return command
