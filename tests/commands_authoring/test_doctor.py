"""The doctor finds each part that is missing and gives the command for this very system."""

from __future__ import annotations

import platform
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cardgen.cli import main
from cardgen.commands import demo, doctor
from cardgen.render import engine, env, fallback
from cardgen.render.fonts import font_file
from tests.each import each


@pytest.fixture
def no_engine(monkeypatch: pytest.MonkeyPatch) -> None:
    """WeasyPrint finds no Pango."""

    def load() -> Any:
        raise engine.EngineMissingError("cannot load library 'libpango-1.0-0'")

    monkeypatch.setattr(engine, "load", load)
    monkeypatch.setattr(fallback, "find_browser", lambda: None)


def test_a_sound_installation(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["doctor", "--out", str(tmp_path / "build")]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[-1] == "all that is needed is here"
    assert "MISSING" not in "\n".join(lines)
    assert not list(tmp_path.iterdir())


@each(
    ("release", "command"),
    [
        ("ID=debian\n", "sudo apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"),
        ('ID=ubuntu\nID_LIKE="debian"\n', "sudo apt install libpango-1.0-0"),
        ("ID=fedora\n", "sudo dnf install pango"),
        ("ID=arch\n", "sudo pacman -S pango"),
    ],
)
@pytest.mark.usefixtures("no_engine")
def test_the_fix_is_that_of_the_system(release: str, command: str) -> None:
    found = doctor.engine(release)
    assert found.state == "MISSING"
    assert "libpango" in found.words
    fixes = "\n".join(found.fix)
    assert command in fixes
    assert [
        tool
        for tool in ("apt", "dnf", "pacman", "brew")
        if f"{tool} install" in fixes or f"{tool} -S" in fixes
    ] == [command.split()[1]]


@pytest.mark.parametrize(("system", "command"), [("Darwin", "brew install pango"), ("Windows", "MSYS2")])
@pytest.mark.usefixtures("no_engine")
def test_other_systems(system: str, command: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(platform, "system", lambda: system)
    fixes = "\n".join(doctor.engine().fix)
    assert command in fixes
    assert "sudo" not in fixes


def test_a_browser_that_helps_meanwhile_is_named(monkeypatch: pytest.MonkeyPatch, no_engine: None) -> None:
    monkeypatch.setattr(fallback, "find_browser", lambda: Path("/usr/bin/some-browser"))
    assert "until then cards are printed by some-browser" in "\n".join(doctor.engine().fix)


@pytest.mark.usefixtures("no_engine")
def test_without_the_engine_the_command_fails(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["doctor", "--out", str(tmp_path / "build")]) == 4
    out = capsys.readouterr().out
    assert "MISSING  print engine" in out
    assert "none     a printed page: not tried" in out
    assert out.splitlines()[-1].startswith("mend what is MISSING")


class _Broken:
    """An engine that loads and then fails, or writes nothing of use."""

    __version__ = "70.0"

    def __init__(self, page: Callable[[], bytes]) -> None:
        self._page = page

    def HTML(self, string: str) -> _Broken:  # noqa: N802 - the engine's own name
        return self

    def write_pdf(self) -> bytes:
        return self._page()


def _fails() -> bytes:
    raise OSError("cannot find glyphs")


@pytest.mark.parametrize(("page", "words"), [(_fails, "cannot find glyphs"), (lambda: b"", "no PDF")])
def test_an_engine_that_prints_nothing(
    page: Callable[[], bytes], words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "load", lambda: _Broken(page))
    found = doctor.prints()
    assert found.state == "MISSING"
    assert words in found.words
    assert found.fix == (f"{sys.executable} -m pip install --force-reinstall weasyprint",)


def test_a_missing_font(monkeypatch: pytest.MonkeyPatch) -> None:
    font_file.cache_clear()
    monkeypatch.setitem(sys.modules, "fontpkg", None)
    found = doctor.fonts()
    font_file.cache_clear()
    assert found.state == "MISSING"
    assert found.fix == (
        f"{sys.executable} -m pip install --force-reinstall fontpkg-ibm-plex-sans-condensed",
    )


def test_missing_templates(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(env, "PACKAGE", tmp_path / "cardgen")
    assert doctor.templates().state == "MISSING"


def test_missing_demo_rigs(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(demo, "demo_rigs", lambda: tmp_path)
    found = doctor.demos()
    assert found.state == "MISSING"
    assert str(tmp_path) in found.words


def test_a_missing_package(monkeypatch: pytest.MonkeyPatch) -> None:
    assert doctor.packages().state == "good"
    wanted = list(doctor.required())
    assert any(one.startswith("weasyprint") for one in wanted)
    assert not any("pytest" in one for one in wanted)
    monkeypatch.setattr(doctor, "required", lambda: iter([*wanted, "no-such-package-here>=2,<3"]))
    found = doctor.packages()
    assert found.state == "MISSING"
    assert found.fix == (f"{sys.executable} -m pip install 'no-such-package-here>=2,<3'",)


def test_an_old_python(monkeypatch: pytest.MonkeyPatch) -> None:
    assert doctor.python().state == "good"
    monkeypatch.setattr(sys, "version_info", (3, 10, 4, "final", 0))
    found = doctor.python()
    assert found.state == "MISSING"
    assert found.words.startswith("3.10.4")


def test_a_folder_that_cannot_be_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert main(["doctor", "--out", str(tmp_path / "file" / "build")]) == 4
    out = capsys.readouterr().out
    assert "MISSING  output folder" in out
    assert "choose another with --out" in out


def test_rigs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert doctor.rigs_folder(tmp_path).fix == ("write a first rig: cardgen new NAME",)
    assert doctor.rigs_folder(tmp_path / "none").state == "none"
    (tmp_path / "a.yaml").write_text("", encoding="utf-8")
    assert doctor.rigs_folder(tmp_path).words.startswith("1 in ")

    def refuse(**_: object) -> Any:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("tempfile.TemporaryFile", refuse)
    found = doctor.rigs_folder(tmp_path)
    assert found.state == "MISSING"
    assert "revisions are kept there" in found.words


@pytest.mark.parametrize(
    ("encoding", "state"), [("utf-8", "good"), ("ascii", "none"), ("cp1252", "none"), ("no-such", "none")]
)
def test_the_terminal(encoding: str, state: str, monkeypatch: pytest.MonkeyPatch) -> None:
    class Out:
        def __init__(self) -> None:
            self.encoding = encoding

    monkeypatch.setattr(sys, "stdout", Out())
    found = doctor.terminal()
    monkeypatch.undo()
    assert found.state == state


def test_the_browser_is_never_needed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fallback, "find_browser", lambda: None)
    assert doctor.browser().state == "none"
    monkeypatch.setattr(fallback, "find_browser", lambda: Path("/opt/browser"))
    assert doctor.browser().state == "good"
