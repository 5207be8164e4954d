"""Date codes of tires (49 CFR 574.5 as owner's manuals reproduce it)."""

from __future__ import annotations

import datetime as dt

import pytest

from cardgen.physics.dates import code_words, tire_made


@pytest.mark.parametrize(
    ("code", "day", "words"),
    [
        ("0126", dt.date(2025, 12, 29), "week 1 of 2026"),
        ("5320", dt.date(2020, 12, 28), "week 53 of 2020"),
        (" 2323 ", dt.date(2023, 6, 5), "week 23 of 2023"),
    ],
)
def test_codes(code: str, day: dt.date, words: str) -> None:
    assert tire_made(code) == day
    assert code_words(code) == words


@pytest.mark.parametrize("code", ["0023", "5423", "123", "12345", "ab12", "", "١٢٢٣"])
def test_what_is_no_code(code: str) -> None:
    assert tire_made(code) is None
    assert code_words(code) == ""
