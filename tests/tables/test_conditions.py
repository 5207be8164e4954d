"""Three-valued conditions."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.conditions import Compare, facts_of, judge, leaves, missing, parse
from cardgen.tables.exact import POUND
from cardgen.tables.facts import FACT_WORDS, Facts, fact_names, value_of
from cardgen.tables.lookup import NotInTableError
from tests.each import each


def test_a_comparison_keeps_quantity_operator_value_and_text() -> None:
    made = parse("gross >= 3,000 lb")
    assert isinstance(made, Compare)
    assert (made.quantity, made.operator, made.original) == ("gross", ">=", "gross >= 3,000 lb")
    assert made.value == pytest.approx(3000 * POUND)


@each(
    ("text", "facts", "answer"),
    [
        ("gross > 750 kg", Facts(gross=750.0), False),
        ("gross > 750 kg", Facts(gross=751.0), True),
        ("gross > 750 kg", Facts(), None),
        ("gross / tow_gross > 40 %", Facts(gross=900.0, tow_gross=2000.0), True),
        ("gross / tow_gross > 40 %", Facts(gross=800.0, tow_gross=2000.0), False),
        ("gross / tow_gross > 40 %", Facts(gross=800.0), None),
        ("gvwr <= 1.75 x tow_gvwr", Facts(gvwr=3500.0, tow_gvwr=2000.0), True),
        ("gvwr <= 1.75 x tow_gvwr", Facts(gvwr=3501.0, tow_gvwr=2000.0), False),
        ("gvwr <= 1.75 x tow_gvwr", Facts(gvwr=3501.0), None),
        ("brakes in electric, surge", Facts(brakes="surge"), True),
        ("brakes in electric, surge", Facts(brakes="none"), False),
        ("brakes in electric, surge", Facts(), None),
        ("breakaway is true", Facts(breakaway=True), True),
        ("breakaway is true", Facts(breakaway=False), False),
        ("breakaway is false", Facts(breakaway=False), True),
        ("coupling is ball", Facts(coupling="gooseneck"), False),
    ],
)
def test_leaves(text: str, facts: Facts, answer: bool | None) -> None:
    assert judge(parse(text), facts) is answer


THREE = st.sampled_from([True, False, None])


@given(st.lists(THREE, min_size=1, max_size=3))
def test_all_and_any_are_three_valued(values: list[bool | None]) -> None:
    names = ["breakaway", "tow_abs", "dampers"][: len(values)]
    flags = dict(zip(names, values, strict=True))
    facts = Facts(**flags)  # type: ignore[arg-type]  # flags only, which mypy cannot see
    tests = [f"{name} is true" for name in names]
    every, some = judge(parse({"all": tests}), facts), judge(parse({"any": tests}), facts)
    assert every is (False if False in values else None if None in values else True)
    assert some is (True if True in values else None if None in values else False)


def test_only_what_decides_is_missing() -> None:
    condition = parse({"any": ["gross > 3,000 lb", "gross / tow_gross > 40 %"]})
    assert missing(condition, Facts()) == ("gross", "tow_gross")
    assert missing(condition, Facts(gross=1000.0)) == ("tow_gross",)
    assert missing(condition, Facts(gross=2000.0)) == ()
    assert facts_of(condition) == ("gross", "tow_gross")
    assert len(list(leaves(condition))) == 2


@each(
    "node",
    [
        "gross == 3 lb",
        "gross",
        "",
        "gros > 3 lb",
        "gross > 1.5 x tow_gvw",
        "colour is red",
        {"some": []},
        {"all": [], "any": []},
    ],
)
def test_what_cannot_be_read_is_refused(node: Any) -> None:
    with pytest.raises(NotInTableError):
        parse(node)


def test_every_fact_has_words() -> None:
    assert set(FACT_WORDS) == fact_names()
    assert all(value_of(Facts(), name) is None for name in fact_names())
    with pytest.raises(NotInTableError):
        value_of(Facts(), "colour")
