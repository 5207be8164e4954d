"""Whatever stands in a text of a rig file, it comes out as that text and as nothing else."""

from __future__ import annotations

import io
import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import tinycss2  # type: ignore[import-untyped]  # it ships no types

from cardgen.cli import main
from cardgen.present.cards import KINDS
from cardgen.present.results import results
from cardgen.render.engine import press
from cardgen.render.pdf import render_card
from cardgen.render.sizes import SIZES
from tests.acceptance.reading import dense
from tests.acceptance.reading import pages as pdf_pages
from tests.conftest import long_run
from tests.each import each
from tests.hardening.hostile import (
    Anatomy,
    Poisoned,
    anatomy,
    judged,
    pages,
    poisoned,
    strings,
    view_of,
    whole,
)

PAYLOADS = {
    "script": "<script>alert(1)</script>",
    "closing": "</script></style></title></textarea></svg></li><script>alert(2)</script>",
    "attribute": "\" onmouseover=alert(3) x=\"' onfocus=alert(4) autofocus y='",
    "picture": "<img src=x onerror=alert(5)><svg onload=alert(6)><iframe src=//evil.example>",
    "comment": "<!--><!-- --!> ]]> <![CDATA[ <?php",
    "template": "{{ 271*373 }}{% include '/etc/passwd' %}{# x #}${271*373}#{271*373}{{''.__class__.__mro__}}",
    "format": "{0.__class__}{nickname}{}{tongue_high}%s%(x)d%n",
    "style": '"; } * { display: none } @import url(file:///etc/passwd); /* \\',
    "address": "javascript:alert(7)//https://evil.example/data:text/html,<script>alert(8)</script>",
    "entity": "&lt;script&gt;&#60;b&#62;&amp;quot;&",
    "markup": "[bold red]x[/bold red][link=https://evil.example]y[/link][/]",
    "yaml": "!!python/object:os.system *a &b |> --- # %YAML",
}
PAGES = ("index.html", "use.html", "check.html", "workings.html", "borrower.html")
SUM = "101083"  # 271 * 373, should a template or a shell ever have worked it out
REFUSED_BY_NATURE = 25
"""Most texts of the full rig that must be one of a list or of a form, such as ids of items [-]."""


TURNS = ("turn 0", "turn 4", "turn 8")
"""Rigs of which each text holds another payload: every text meets three of them."""
NAMES = tuple(PAYLOADS) if long_run() else TURNS
"""The long run has a rig for each payload."""


@cache
def bad(name: str) -> tuple[Poisoned, dict[str, str]]:
    turn, words = int(name.split()[-1]) if name in TURNS else 0, tuple(PAYLOADS.values())
    found = poisoned(*words[turn:], *words[:turn]) if name in TURNS else poisoned(PAYLOADS[name])
    return found, pages(found.read)


@cache
def good() -> dict[str, Anatomy]:
    """The same pages with harmless texts."""
    return {name: anatomy(page) for name, page in pages(poisoned("harmless words ").read).items()}


def test_nearly_every_text_takes_a_payload() -> None:
    found, _ = bad(NAMES[0])
    assert len(found.put) > 30
    assert len(found.kept) <= REFUSED_BY_NATURE, found.kept
    assert "Wee Bothy" in found.put


@each("name", NAMES)
def test_no_element_attribute_or_script_is_made_of_it(name: str) -> None:
    _, made = bad(name)
    assert set(made) == {*PAGES, "all index.html", *KINDS}
    for page, text in made.items():
        here, there = anatomy(text), good()[page]
        assert here.scripts == there.scripts, page
        assert here.comments == there.comments, page
        assert set(here.tags) <= set(there.tags) | {"text", "tspan", "line", "g", "path", "p", "br"}, page
        for tag in (
            "script",
            "style",
            "link",
            "meta",
            "base",
            "iframe",
            "img",
            "object",
            "embed",
            "form",
            "title",
        ):
            assert here.tags[tag] == there.tags[tag], f"{page}: {tag}"
        odd = {
            (tag, one)
            for tag, one in here.attributes - there.attributes
            if tag not in ("text", "line", "path")
        }
        assert odd == set(), page
        assert not [one for _, one in here.attributes if one.lower().startswith("on")], page


@each("name", NAMES)
def test_it_opens_and_fetches_nothing(name: str) -> None:
    _, made = bad(name)
    for page, text in made.items():
        here = anatomy(text)
        for address in here.addresses:
            assert re.match(
                r"(#[a-z0-9-]*$|\.\./assets/[0-9a-f]{16}\.(css|js)$|(\.\./)?[a-z0-9-]+(/[a-z0-9-]+)?(\.html|\.pdf)?(#|\?|$)|data:image/svg\+xml,|tel:\+?\d+$)",
                address,
            ), f"{page}: {address}"
        for style in here.styles:
            assert "/etc/passwd" not in style, page
            assert "display: none } @import" not in style, page


@each("name", NAMES)
def test_people_read_it_as_it_was_written(name: str) -> None:
    found, made = bad(name)
    report = anatomy("".join(made[page] for page in PAGES))
    everything = dense(report.text)
    seen = [text for text in found.put.values() if dense(text) in everything]
    assert len(seen) > len(found.put) // 3, f"{len(seen)} of {len(found.put)}"
    nickname = found.put["Wee Bothy"]
    for page in (*PAGES, "all index.html", "glovebox-card"):
        assert nickname in anatomy(made[page]).text, page
    for page, text in made.items():
        assert SUM not in text or SUM in good()[page].text, page


@each("name", NAMES)
def test_data_blocks_are_json_that_no_parser_leaves(name: str) -> None:
    _, made = bad(name)
    blocks = 0
    for page, text in made.items():
        for raw in re.findall(r'<script type="application/json"[^>]*>(.*?)</script>', text, re.DOTALL):
            blocks += 1
            assert not re.search(r"[<>&\u2028\u2029]", raw), page
            json.loads(raw)
        assert len(anatomy(text).data) == len(good()[page].data)
    assert blocks >= 1


@each("name", NAMES)
def test_the_style_of_a_card_is_not_changed_by_it(name: str) -> None:
    """Names reach the running heads as CSS strings; a longer name may only make more pages of a kind."""
    _, made = bad(name)
    for card in KINDS:
        assert style_words(made[card]) == style_words(pages_of_good()[card]), card


@cache
def pages_of_good() -> dict[str, str]:
    return pages(poisoned("harmless words ").read)


def style_words(page: str) -> set[str]:
    """Every word of the style sheets that is neither a string, a number nor the name of a page."""
    found: set[str] = set()

    def walk(tokens: list[Any]) -> None:
        for token in tokens:
            assert token.type != "error", token
            if token.type in ("ident", "at-keyword", "hash", "url", "literal"):
                found.add(f"{token.type} {token.value}")
            elif token.type == "function":
                found.add(f"function {token.name}")
                walk(token.arguments)
            elif token.type.endswith("block"):
                walk(token.content)

    for sheet in anatomy(page).styles:
        walk(tinycss2.parse_component_value_list(sheet))
    return {word for word in found if not re.fullmatch(r"(ident|hash) (face\d+|flow|notes)", word)}


@pytest.mark.parametrize("name", NAMES)
def test_the_printed_card_shows_it_and_fetches_nothing(name: str, tmp_path: Path) -> None:
    found, _ = bad(name)
    kind = KINDS["glovebox-card"]
    made = render_card(kind.make(view_of(found.read)), SIZES[kind.us])
    assert [one for one in made.problems if one.code in ("fetch", "engine")] == []
    file = tmp_path / "card.pdf"
    file.write_bytes(made.pdf)
    words = dense("".join(page.text for page in pdf_pages(file)))
    assert dense(found.put["Wee Bothy"])[:24] in words  # a long name is cut for its line
    with pikepdf.open(io.BytesIO(made.pdf)) as document:
        assert not [name for name in ("/OpenAction", "/AA", "/AcroForm") if name in document.Root]
        names = document.Root.get("/Names")
        assert names is None or not {"/JavaScript", "/EmbeddedFiles"} & set(names.keys())
        kinds = {
            str(note.A.S)
            for page in document.pages
            if "/Annots" in page
            for note in page.Annots.as_list()
            if "/A" in note
        }
        assert kinds <= {"/URI"}
    assert press(None).fetcher.refused == []


def test_results_hold_it_unchanged() -> None:
    for name in NAMES:
        found, _ = bad(name)
        text = json.dumps(results(view_of(found.read)), ensure_ascii=False, allow_nan=False)
        assert found.put["Wee Bothy"] in set(strings(json.loads(text)))


@pytest.mark.parametrize("name", ["markup", "format", "template"])
def test_the_terminal_shows_it_unchanged(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = PAYLOADS[name][:28]  # as long as a card has room for
    text = (
        f"nickname: '{words.replace(chr(39), chr(39) * 2)}'\nmarket: us\nvehicle: {{wheelbase: 120 in}}\n"
        "trailer: {type: ball, body: utility}\ncases:\n  - name: '[red]{x}[/red]'\n"
    )
    file = tmp_path / "rig.yaml"
    file.write_text(text, "utf-8")
    assert main(["check", str(file), "--all"]) == 0
    assert words in capsys.readouterr().out.replace("\n", "")


def test_control_characters_never_reach_the_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "rig.yaml"
    for letter in ("\x1b]0;owned\x07", "\x1b[2J", "\x9b31m", "\x08\x08", "\u202e", "\u2066", "\x00"):
        for place in ("nickname: 'a{}b'\n", "{}: x\n", 'nickname: "a\\e[2J"\nk{}: 1\n', "part: 'x{}'\n"):
            file.write_bytes(place.format(letter).encode())
            main(["check", str(file)])
            said = capsys.readouterr()
            assert not re.search(
                r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", said.err + said.out
            )


def test_the_plain_rig_is_sound() -> None:
    top = whole().top
    assert top is not None
    assert judged(top).rig is not None
