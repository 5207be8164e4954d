"""Text from a rig file stays text, and a page reaches nothing outside itself."""

from __future__ import annotations

import base64
import http.server
import threading
from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

from cardgen.present.blocks import Note
from cardgen.render.engine import DATA_LIMIT, Fetcher
from cardgen.render.pdf import render_card
from cardgen.render.sizes import SIZES
from tests.each import each
from tests.render import inspect_pdf, samples_more

SIZE = SIZES["half-letter"]
HOSTILE = [
    "</h1><script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{ 7 * 7 }} {% raw %}",
    "</style><style>*{display:none}",
    "</title></svg><svg><text>x</text></svg>",
    '"; } @page { size: 1mm } "',
    "\\22 } * { color: red }",
    "<!-- --> <![CDATA[ ]]> &amp; &lt;",
    '<link rel=attachment href="file:///etc/hosts">',
]


@each("text", HOSTILE)
def test_markup_in_any_field_is_printed_as_written(text: str) -> None:
    made = render_card(samples_more.hostile(text), SIZE)
    assert [problem for problem in made.problems if problem.code != "clipped"] == []
    assert {round(w, 1) for w, _ in inspect_pdf.page_sizes(made.pdf)} == {139.7}
    printed = "".join(inspect_pdf.words(made.pdf).split())
    assert printed.count("".join(text.split())) >= 8
    assert "49" not in printed


@each("text", HOSTILE)
def test_nothing_is_attached_or_linked(text: str) -> None:
    made = render_card(samples_more.hostile(text), SIZE)
    assert inspect_pdf.links(made.pdf) == []
    with pikepdf.open(BytesIO(made.pdf)) as document:
        assert len(document.attachments) == 0


@pytest.fixture(scope="module")
def listener() -> Iterator[tuple[str, list[str]]]:
    """A web server on this machine that notes what it is asked for."""
    asked: list[str] = []

    class Handler(http.server.BaseHTTPRequestHandler):
        def do_GET(self) -> None:  # name of the base class
            asked.append(self.path)
            self.send_response(200)
            self.end_headers()
            self.wfile.write(b"body{}")

        def log_message(self, *args: object) -> None:
            return

    server = http.server.HTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}", asked
    server.shutdown()
    server.server_close()
    thread.join()


VECTORS = [
    '<img alt="x" src="{url}/img">',
    '<link rel="stylesheet" href="{url}/css">',
    "<style>@import '{url}/import'; h1 {{ background: url({url}/back) }}</style>",
    "<style>@font-face {{ font-family: x; src: url({url}/font) }}</style>",
    '<object data="{url}/object"></object>',
    '<svg xmlns="http://www.w3.org/2000/svg"><title>t</title><image href="{url}/svg"/></svg>',
    '<link rel="attachment" href="{url}/attachment">',
]


@pytest.mark.parametrize("vector", VECTORS)
@pytest.mark.parametrize("kind", ["http", "file"])
def test_own_template_cannot_reach_out(
    workspace: Path, listener: tuple[str, list[str]], vector: str, kind: str, tmp_path: Path
) -> None:
    address, asked = listener
    secret = tmp_path / "secret.css"
    secret.write_text("body{}")
    url = address if kind == "http" else secret.as_uri()
    (workspace / "cards" / "blocks" / "note.html.j2").write_text(
        "{% macro note(b, pen) %}" + vector.format(url=url).replace("{{", "{").replace("}}", "}")
        + "{% endmacro %}"
    )  # fmt: skip
    card = replace(samples_more.barest(), flow=(Note("x"),))
    made = render_card(card, SIZE, workspace=workspace)
    assert asked == []
    codes = {problem.code for problem in made.problems}
    assert "fetch" in codes
    assert any(url[:30] in problem.message for problem in made.problems)


def test_fetcher_serves_our_fonts_and_small_pictures_only() -> None:
    fetcher = Fetcher()
    assert fetcher("font:regular").read()[:4] == b"\x00\x01\x00\x00"
    picture = "data:image/svg+xml,<svg xmlns='http://www.w3.org/2000/svg'/>"
    assert b"svg" in fetcher(picture).read()
    refused = [
        "http://127.0.0.1/",
        "https://example.org/",
        "file:///etc/hosts",
        "ftp://example.org/",
        "font:../../etc/hosts",
        "data:text/html,x",
        "data:image/png;base64," + base64.b64encode(b"x").decode(),
        picture + " " * DATA_LIMIT,
        "cardgen:secret",
    ]
    for url in refused:
        with pytest.raises(ValueError, match="refused"):
            fetcher(url)
    assert fetcher.refused == refused
