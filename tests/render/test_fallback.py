"""Printing without WeasyPrint: by a browser, or told what to install."""

from __future__ import annotations

from pathlib import Path

import pytest

import cardgen.render.fallback as fallback
import cardgen.render.printer as printer
from cardgen.render.engine import EngineMissingError
from cardgen.render.fallback import (
    INSTALL,
    BrowserError,
    find_browser,
    print_by_browser,
    print_page,
    what_to_install,
)
from tests.each import each
from tests.render import inspect_pdf, samples, samples_more

RELEASES = {
    "debian": 'ID=debian\nVERSION_ID="12"\n',
    "ubuntu": "NAME=x\nID=ubuntu\nID_LIKE=debian\n",
    "mint": 'ID=linuxmint\nID_LIKE="ubuntu debian"\n',
    "fedora": "ID=fedora\n",
    "rocky": 'ID="rocky"\nID_LIKE="rhel centos fedora"\n',
    "arch": "ID=arch\n",
}


@each(
    ("release", "system"),
    [
        ("debian", "debian"),
        ("ubuntu", "debian"),
        ("mint", "debian"),
        ("fedora", "fedora"),
        ("rocky", "fedora"),
        ("arch", "arch"),
    ],
)
def test_exact_command_for_the_system(release: str, system: str) -> None:
    said = "\n".join(what_to_install("no pango", RELEASES[release]))
    assert INSTALL[system] in said
    assert all(INSTALL[other] not in said for other in INSTALL if other != system)
    assert "no pango" in said
    assert "Chromium" in said


def test_unknown_system_gets_all_commands() -> None:
    said = "\n".join(what_to_install("no pango", "ID=plan9\n"))
    assert all(command in said for command in INSTALL.values())


@pytest.mark.parametrize(("kind", "system"), [("Darwin", "macos"), ("Windows", "windows")])
def test_other_systems(monkeypatch: pytest.MonkeyPatch, kind: str, system: str) -> None:
    monkeypatch.setattr("platform.system", lambda: kind)
    said = "\n".join(what_to_install("no pango"))
    assert INSTALL[system] in said
    assert INSTALL["debian"] not in said


def _no_engine(_: Path | None = None) -> None:
    raise EngineMissingError("cannot load library 'libpango-1.0-0'")


def test_without_engine_and_browser_nothing_is_printed_and_the_reason_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("cardgen.render.pdf.press", _no_engine)
    monkeypatch.setattr(fallback, "find_browser", lambda: None)
    made = printer.Printer(None).card(samples.glovebox(), "half-letter", False)
    assert made.pdf is None
    assert "libpango-1.0-0" in made.missing[0]


@pytest.mark.browser
@pytest.mark.parametrize("size", ["half-letter", "4x6"])
def test_without_engine_a_browser_prints_the_same_page(monkeypatch: pytest.MonkeyPatch, size: str) -> None:
    monkeypatch.setattr("cardgen.render.pdf.press", _no_engine)
    made = printer.Printer(None).card(samples.glovebox(), size, False)
    assert made.pdf is not None
    assert made.problems == ()
    assert "printed by" in made.notes[0]
    wanted = {"half-letter": (139.7, 215.9), "4x6": (101.6, 152.4)}[size]
    sizes = inspect_pdf.page_sizes(made.pdf)
    assert len(sizes) % 2 == 0
    for found in sizes:
        assert found == pytest.approx(wanted, abs=0.4)
    text = inspect_pdf.words(made.pdf)
    for words in ("Juniper", "Fit the latch pin", "3,124", "Computed is not weighed", "face 1 of"):
        assert words in text
    assert set(inspect_pdf.codes(made.pdf)) == {samples.URL}
    assert all("IBMPlexSansCond" in name for name in inspect_pdf.fonts(made.pdf))


@pytest.mark.browser
def test_missing_letters_are_told_by_the_browser_too() -> None:
    card = samples_more.hostile("Snow \u2603")
    made = print_by_browser(card, "half-letter", None, "no pango")
    assert made.pdf is not None
    assert any("SNOWMAN" in note for note in made.notes)


@pytest.mark.browser
def test_the_page_forbids_the_browser_every_fetch(tmp_path: Path) -> None:
    import http.server
    import threading

    asked: list[str] = []

    class Handler(http.server.BaseHTTPRequestHandler):
        def do_GET(self) -> None:  # name of the base class
            asked.append(self.path)
            self.send_response(404)
            self.end_headers()

        def log_message(self, *args: object) -> None:
            return

    server = http.server.HTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    (tmp_path / "cards" / "blocks").mkdir(parents=True)
    (tmp_path / "cards" / "blocks" / "heading.html.j2").write_text(
        "{% macro heading(b, pen) %}"
        f'<img alt="x" src="http://127.0.0.1:{server.server_port}/a">{{% endmacro %}}'
    )
    from dataclasses import replace

    from cardgen.present.blocks import Heading

    card = replace(samples.glovebox(), flow=(Heading("h"), samples.checklist()))
    made = print_by_browser(card, "half-letter", tmp_path, "no pango")
    server.shutdown()
    server.server_close()
    thread.join()
    assert made.pdf is not None
    assert asked == []


def test_a_browser_can_be_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    program = tmp_path / "my-browser"
    program.write_text("")
    monkeypatch.setenv(fallback.SETTING, str(program))
    assert find_browser() == program
    monkeypatch.setenv(fallback.SETTING, str(tmp_path / "none"))
    assert find_browser() is None


def test_a_browser_that_fails_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program = tmp_path / "broken"
    program.write_text("#!/bin/sh\necho 'no display' >&2\nexit 3\n")
    program.chmod(0o755)
    with pytest.raises(BrowserError, match="broken did not print: no display"):
        print_page(program, "<p>x</p>")
    monkeypatch.setenv(fallback.SETTING, str(program))
    made = print_by_browser(samples.glovebox(), "half-letter", None, "no pango")
    assert made.pdf is None
    assert "no display" in made.missing[0]
    assert any("Pango" in line for line in made.missing)
