"""Nothing is fetched but our two fonts and small pictures in the page itself."""

from __future__ import annotations

import socket
from pathlib import Path

import pytest

from cardgen.cli import main
from cardgen.render.engine import DATA_LIMIT, Fetcher, press
from cardgen.render.fonts import font_file
from tests.acceptance.shed import DAY
from tests.commands.workspace import write
from tests.each import each

FOREIGN = [
    "file:///etc/passwd", "FILE:///etc/passwd", "file://localhost/etc/passwd", "file:/etc/passwd", "/etc/passwd",
    "../../etc/passwd", "http://127.0.0.1/", "https://evil.example/x.png", "HTTP://evil.example", "//evil.example/x",
    "ftp://evil.example/", "gopher://x", "data:text/html,<script>", "data:image/png;base64,AAAA", "data:,x",
    "data:image/svg+xml;base64,PHN2Zz4=", "DATA:image/svg+xml,<svg", "cardgen:", "cardgen:../x", "font:", "font:italic",
    "font:../../etc/passwd", "font:regular#x", "font:regular/../x", "Font:regular", "jar:file:///x!/y", "blob:x",
    "javascript:alert(1)", "", " ", "\x00", "font:regular\x00", "data:image/svg+xml,<svg" + "x" * DATA_LIMIT,
    "data:image/svg+xml,%3Csvg", "about:blank", "chrome://settings", "\\\\evil\\share\\x", "C:\\windows\\win.ini",
]  # fmt: skip


@each("address", FOREIGN, ids=lambda text: repr(text)[:30])
def test_foreign_addresses_are_refused_and_remembered(address: str) -> None:
    fetcher = Fetcher()
    with pytest.raises(ValueError, match="refused"):
        fetcher(address)
    assert fetcher.refused == [address]


def test_our_fonts_are_served() -> None:
    for weight in ("regular", "bold"):
        got = Fetcher()(f"font:{weight}")
        assert got.read() == font_file(weight).read_bytes()


@pytest.fixture
def no_network(monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """Every try to reach another machine is remembered and fails."""
    tries: list[object] = []

    def refused(*words: object, **_: object) -> None:
        tries.append(words)
        raise OSError("no network in this test")

    monkeypatch.setattr(socket.socket, "connect", refused)
    monkeypatch.setattr(socket, "getaddrinfo", refused)
    return tries


STYLES = [
    "body { background: url(file:///etc/passwd) }",
    "body { background: url(http://127.0.0.1:9/x.png) }",
    "@import url(https://evil.example/x.css);",
    "@import 'file:///etc/passwd';",
    "@font-face { font-family: x; src: url(https://evil.example/x.woff2) } h1 { font-family: x }",
    "h1::before { content: url(file:///etc/passwd) }",
    "h1 { display: list-item; list-style: inside url('//evil.example/x') }",
]


@pytest.mark.parametrize("style", STYLES)
def test_a_style_of_the_workspace_cannot_fetch(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
    no_network: list[object], style: str,
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    write(tmp_path, "plover")
    own = tmp_path / "templates" / "styles" / "extra.css"
    own.parent.mkdir(parents=True)
    own.write_text(style, "utf-8")
    code = main(["build", "--date", DAY, "--cards", "hitch-card"])
    said = capsys.readouterr()
    press.cache_clear()
    assert code != 0
    assert "which is not part of cardgen" in said.err or "whole rule was ignored" in said.err
    assert not (tmp_path / "build" / "plover").exists()
    assert no_network == []


def test_a_picture_inside_a_picture_cannot_fetch(no_network: list[object], tmp_path: Path) -> None:
    """An SVG picture in the page names another file: the engine asks the same fetcher, which refuses."""
    machine = press(None)
    secret = tmp_path / "secret.svg"
    secret.write_text("<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>", "utf-8")
    for address in (secret.as_uri(), "http://127.0.0.1:9/x.svg"):
        svg = f"<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><image href='{address}' width='9' height='9'/></svg>"
        for page in (f'<img src="data:image/svg+xml,{svg}">', f"<body>{svg}</body>"):
            document, early = machine.layout(page)
            _, late = machine.paint(document)
            assert "fetch" in {problem.code for problem in (*early, *late)}
    assert no_network == []


def test_a_whole_build_reaches_no_network(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, no_network: list[object]
) -> None:
    monkeypatch.chdir(tmp_path)
    write(tmp_path, "plover")
    assert main(["build", "--date", DAY, "--jobs", "1"]) == 0
    assert main(["check", "--date", DAY]) == 0
    assert no_network == []
