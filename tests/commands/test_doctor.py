"""``cardgen doctor``: every part of an installation missing in turn, each told with its cure."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

from cardgen.render import engine, env, fallback, fonts
from tests.commands.workspace import Run


def test_all_is_well_here(run: Run, shed: Path) -> None:
    before = sorted(shed.rglob("*"))
    ran = run("doctor")
    assert ran.code == 0, ran.out
    assert "MISSING" not in ran.out
    for part in ("python", "print engine", "font", "templates", "output folder", "browser"):
        assert re.search(rf"^good +.*{part}.*: ", ran.out, re.MULTILINE), part
    assert sorted(shed.rglob("*")) == before


def test_no_print_engine(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def gone() -> None:
        raise engine.EngineMissingError("cannot load library 'libpango-1.0-0'")

    monkeypatch.setattr(engine, "load", gone)
    ran = run("doctor")
    assert ran.code == 4
    assert "install" in ran.out
    assert "Traceback" not in ran.err


def test_no_fonts(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    fonts.font_file.cache_clear()
    monkeypatch.setitem(sys.modules, "fontpkg", None)
    try:
        ran = run("doctor")
    finally:
        fonts.font_file.cache_clear()
    assert ran.code == 4
    assert re.search(r"^MISSING +.*font", ran.out, re.MULTILINE)
    assert "pip install" in ran.out


def test_no_templates(run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(env, "PACKAGE", tmp_path / "cardgen")
    ran = run("doctor")
    assert ran.code == 4
    assert re.search(r"^MISSING +templates", ran.out, re.MULTILINE)
    assert "install cardgen again" in ran.out


def test_a_folder_that_cannot_be_written(run: Run, shed: Path) -> None:
    (shed / "file").write_text("", "utf-8")
    for out in ("file", "file/inside", "file/deep/inside"):
        ran = run("doctor", "--out", out)
        assert ran.code == 4, out
        assert re.search(r"^MISSING +output folder", ran.out, re.MULTILINE)
        assert "--out" in ran.out


def test_no_browser_is_no_fault(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fallback, "find_browser", lambda: None)
    ran = run("doctor")
    assert ran.code == 0
    assert not re.search(r"^(good|MISSING) +browser", ran.out, re.MULTILINE)
