"""What does not fit its place is found: too wide, too low, over other text, near the edge."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from cardgen.render.pdf import render_card
from cardgen.render.sizes import SIZES
from tests.render import samples

SIZE = SIZES["half-letter"]


@pytest.mark.parametrize(
    ("style", "code", "said"),
    [
        ("table { width: 150mm; table-layout: auto } td { white-space: nowrap }", "margin", "paper"),
        (".keys .value { white-space: nowrap; letter-spacing: 8mm }", "clipped", "wider"),
        (".banner { margin-left: -4mm }", "margin", "within 4.0 mm"),
        (".table th, .table td { line-height: .2 !important; padding: 0 }", "clipped", "over each"),
        (".cautions { height: 5mm }", "clipped", "higher than its place"),
        ("th { font-size: 7pt !important }", "small-type", "7.0 pt, under 8.5"),
        ("h2 { font-size: 10pt !important }", "small-type", "10.0 pt, under 10.75"),
        (".keys .value { font-size: 10pt !important }", "small-type", "10.0 pt, under 11"),
        (".note { font-size: 7pt !important }", "small-type", "7.0 pt, under 8"),
    ],
)
def test_faults_of_an_own_style_are_told(workspace: Path, style: str, code: str, said: str) -> None:
    (workspace / "styles" / "extra.css").write_text(style)
    made = render_card(samples.glovebox(), SIZE, workspace=workspace)
    messages = [p.message for p in made.problems if p.code == code]
    assert any(said in message for message in messages), made.problems
    assert all("glovebox-card" in problem.where for problem in made.problems)


def test_a_block_higher_than_a_face_is_told(workspace: Path) -> None:
    (workspace / "styles" / "extra.css").write_text(".qr svg { height: 300mm !important }")
    made = render_card(samples.glovebox(), SIZE, workspace=workspace)
    assert any("higher than its place" in problem.message for problem in made.problems)


def test_a_foot_that_is_too_long_is_told() -> None:
    made = render_card(replace(samples.glovebox(), foot="word " * 60), SIZE)
    assert any(problem.code in ("margin", "clipped") for problem in made.problems)


def test_places_are_named() -> None:
    made = render_card(replace(samples.glovebox(), foot="word " * 60), SIZE)
    assert {problem.where for problem in made.problems} == {
        "glovebox-card, face 1",
        "glovebox-card, face 2",
    }
    assert str(made.problems[0]).startswith("glovebox-card, face 1: ")
