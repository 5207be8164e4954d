"""Templates: found, overridden file by file and block by block, strict, escaped, sandboxed."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import cardgen.render.env as env_module
from cardgen.present.blocks import Card
from cardgen.render.env import (
    TemplatesMissingError,
    css_string,
    environment,
    source_of,
    templates_dir,
)
from cardgen.render.html import CardTemplateError, PartSetting, Plan, card_html
from cardgen.render.pdf import render_card
from cardgen.render.sizes import SIZES
from tests.each import each
from tests.render import inspect_pdf, samples, samples_more

SIZE = SIZES["half-letter"]
PLAN = Plan((PartSetting(10),), PartSetting(10))


def page(workspace: Path | None = None) -> str:
    """The HTML of the sample card."""
    return card_html(samples.glovebox(), SIZE, PLAN, workspace)


def test_templates_of_the_checkout_are_found() -> None:
    assert templates_dir() == Path(env_module.__file__).parents[2] / "templates"


def test_packaged_templates_are_the_second_choice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "cardgen"
    monkeypatch.setattr(env_module, "PACKAGE", package)
    with pytest.raises(TemplatesMissingError):
        templates_dir()
    (package / "_templates" / "cards").mkdir(parents=True)
    (package / "_templates" / "cards" / "card.html.j2").write_text("x")
    assert templates_dir() == package / "_templates"


def test_one_file_can_be_replaced(workspace: Path) -> None:
    (workspace / "cards" / "blocks" / "note.html.j2").write_text(
        "{% macro note(b, pen) %}<p class='note'>OWN {{ b.text }}</p>{% endmacro %}"
    )
    html = card_html(samples_more.fullest(), SIZE, PLAN, workspace)
    assert "OWN Water 8.33" in html
    assert "Departure checklist" not in page(workspace) or "Juniper" in page(workspace)


def test_one_named_block_can_be_replaced(workspace: Path) -> None:
    (workspace / "cards" / "card.html.j2").write_text(
        '{% extends "cardgen/cards/card.html.j2" %}'
        "{% block header %}<header class='head'><h1>Our shed: {{ card.nickname }}</h1></header>"
        "{% endblock %}"
    )
    made = render_card(samples.glovebox(), SIZE, workspace=workspace)
    text = inspect_pdf.words(made.pdf)
    assert "Our shed: Juniper" in text
    assert "neighbourhood" not in text
    assert "Fit the latch pin" in text
    assert made.problems == ()


def test_own_styles_are_read_after_ours(workspace: Path) -> None:
    (workspace / "styles" / "extra.css").write_text("h1 { letter-spacing: 3mm }")
    own = render_card(samples.glovebox(), SIZE, workspace=workspace)
    plain = render_card(samples.glovebox(), SIZE)
    assert own.problems == ()
    assert _name_end(own.pdf) > _name_end(plain.pdf) + 15


def _name_end(pdf: bytes) -> float:
    """Right end of the nickname on the first face [mm]."""
    chars = [char for char in inspect_pdf.chars(pdf) if char.page == 0]
    largest = max(char.pt for char in chars)
    return max(char.right for char in chars if char.pt == largest)


def test_own_template_in_too_small_type_is_a_problem(workspace: Path) -> None:
    (workspace / "styles" / "extra.css").write_text(".fixed .phase li { font-size: 8pt }")
    made = render_card(samples.glovebox(), SIZE, workspace=workspace)
    assert {problem.code for problem in made.problems} == {"small-type"}
    assert any("8.0 pt, under 9" in problem.message for problem in made.problems)


def test_mistakes_in_own_styles_are_told(workspace: Path) -> None:
    (workspace / "styles" / "extra.css").write_text("h1 { colour: red }")
    made = render_card(samples.glovebox(), SIZE, workspace=workspace)
    assert {problem.code for problem in made.problems} == {"engine"}
    assert "colour" in made.problems[0].message


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{{ card.nickmane }}", "nickmane"),
        ("{{ nothing }}", "nothing"),
        ("{% if %}", "card.html.j2:1"),
        ("{{ ''.__class__.__mro__ }}", "unsafe"),
        ('{% include "no/such.html" %}', "no/such.html"),
    ],
)
def test_faulty_template_is_an_error_with_its_name(workspace: Path, text: str, said: str) -> None:
    (workspace / "cards" / "card.html.j2").write_text(text)
    with pytest.raises(CardTemplateError, match=said) as caught:
        page(workspace)
    assert "template " in str(caught.value)


@each("size", list(SIZES))
@each("card", [samples_more.fullest(), samples_more.barest()])
def test_every_template_renders_with_barest_and_fullest_card(size: str, card: Card) -> None:
    assert card.nickname in card_html(card, SIZES[size], PLAN)


def test_every_kind_of_block_has_its_own_file() -> None:
    env = environment()
    for block in (*samples_more.every_block(), *samples.glovebox().faces[0].blocks):
        assert f"macro {block.kind}(" in source_of(env, f"cards/blocks/{block.kind}.html.j2")


@given(st.text())
def test_css_string_holds_nothing_that_ends_it(text: str) -> None:
    written = str(css_string(text))
    assert written[0] == written[-1] == '"'
    body = written[1:-1]
    assert set(body) <= set("\\ 0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")
    back, rest = "", body
    while rest:
        if rest[0] == "\\":
            code, _, rest = rest[1:].partition(" ")
            back += chr(int(code, 16))
        else:
            back, rest = back + rest[0], rest[1:]
    assert back == text


def test_our_templates_are_compiled_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is kept is used, what changed is compiled anew, and a folder that cannot be written is done without."""
    monkeypatch.setattr(env_module, "templates_dir", lambda: tmp_path)
    monkeypatch.setattr(env_module, "PACKAGE", tmp_path / "package")
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    page = tmp_path / "page.j2"
    make = environment.__wrapped__
    seen, kept = [], []
    for text in ("one", "one", "two"):
        page.write_text(text, "utf-8")
        seen.append(make().get_template("page.j2").render())
        (file,) = tmp_path.rglob("*.cache")
        kept.append((file.stat().st_ino, file.read_bytes()))
    assert seen == ["one", "one", "two"]
    assert kept[0] == kept[1] != kept[2]
    monkeypatch.setattr(env_module, "PACKAGE", page)
    assert make().get_template("page.j2").render() == "two"
    assert make(tmp_path).bytecode_cache is None
