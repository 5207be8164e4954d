"""Letters that the card font lacks are replaced visibly and named."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from cardgen.present.blocks import Qr
from cardgen.render.glyphs import SUBSTITUTE, Cleaner, clean_card
from cardgen.tables.letters import letters, metrics
from tests.each import each
from tests.render import samples


@given(st.text(max_size=60))
def test_what_comes_out_can_be_printed(text: str) -> None:
    cleaner = Cleaner()
    out = cleaner.text(text)
    assert all(ord(char) in letters() for char in out)
    assert out.count(SUBSTITUTE) >= len(cleaner.missing)
    if not cleaner.missing:
        assert Cleaner().text(out) == out


@each(
    ("text", "printed"),
    [
        ("3\u202f124 kg", "3\u00a0124 kg"),
        ("re\u00adtorque", "retorque"),
        ("7\u2011way", "7-way"),
        ("5 \u03a9", "5 ohm"),
        ("a\tb\nc", "a b c"),
        ("Caf\u0065\u0301", "Caf\u00e9"),
        ("≤ ≥ → ½ ° × – — …", "≤ ≥ → ½ ° × – — …"),
    ],
)
def test_look_alikes_are_no_fault(text: str, printed: str) -> None:
    cleaner = Cleaner()
    assert cleaner.text(text) == printed
    assert cleaner.missing == {}


@each("char", ["\u2603", "\u4e2d", "\u0416", "\U0001f690", "\u202e", "\x07"])
def test_missing_letters_are_named_once(char: str) -> None:
    card = replace(samples.glovebox(), nickname=f"a{char}b", subtitle=char * 3)
    cleaned, problems = clean_card(card)
    assert cleaned.nickname == "a?b"
    assert cleaned.subtitle == "???"
    assert [problem.code for problem in problems] == ["glyph"]
    assert f"U+{ord(char):04X}" in problems[0].message


def test_the_payload_of_a_code_is_left_alone() -> None:
    code = Qr("https://example.org/\u2603", "snow \u2603")
    cleaned, problems = clean_card(replace(samples.glovebox(), flow=(code,)))
    assert cleaned.flow == (Qr("https://example.org/\u2603", "snow ?"),)
    assert len(problems) == 1


def test_a_clean_card_is_not_copied() -> None:
    card = samples.glovebox()
    cleaned, problems = clean_card(card)
    assert cleaned is card
    assert problems == ()


def test_figures_have_equal_width_and_letters_can_be_told_apart() -> None:
    for weight in ("regular", "bold"):
        widths = metrics(weight).widths
        assert len({widths[ord(digit)] for digit in "0123456789"}) == 1
