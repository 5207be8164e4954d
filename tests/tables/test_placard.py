"""Placard and label arithmetic against published examples."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.exact import POUND
from cardgen.tables.lookup import NotInTableError, OutOfTableError
from cardgen.tables.placard import (
    dealer_added_limit,
    is_cdl_group_a,
    is_commercial_size,
    label_era,
    label_meaning,
    seat_mass,
)
from tests.each import each


def test_owner_text_example() -> None:
    # 49 CFR 575.6(a)(4) example: 1,400 lb less five people of 150 lb leave 650 lb;
    # its metric twin in one manual: 640 - 5 x 68 = 300 kg
    assert 1400 - 5 * seat_mass("lb").value / POUND == pytest.approx(650)
    assert 640 - 5 * seat_mass("kg").value == pytest.approx(300)
    assert seat_mass("lb").value == pytest.approx(seat_mass("kg").value, abs=0.05)


@each(("year", "era"), [(1996, "before"), (2007, "before"), (2008, None), (2009, "after"), (2026, "after")])
def test_era_by_model_year(year: int, era: str | None) -> None:
    assert label_era(year) == era


def test_meaning_of_the_cargo_figure() -> None:
    assert label_meaning("after").water_is_cargo
    assert not label_meaning("after").gas_is_cargo
    assert not label_meaning("before").water_is_cargo
    for odd in ("changed", "source", "between"):
        with pytest.raises(NotInTableError):
            label_meaning(odd)  # type: ignore[arg-type]  # the refusal is tested


# 72 FR 68442: the lesser of 1.5 percent of GVWR and 100 lb, crossing at 6,666.7 lb
@each(("gvwr", "limit"), [(3500, 52.5), (5000, 75.0), (6666.67, 100.0), (9000, 100.0)])
def test_dealer_added_weight(gvwr: float, limit: float) -> None:
    assert dealer_added_limit(gvwr * POUND).value / POUND == pytest.approx(limit, abs=1e-3)


def test_dealer_added_needs_a_weight() -> None:
    with pytest.raises(OutOfTableError):
        dealer_added_limit(0.0)


@given(st.floats(100, 20000))
def test_dealer_added_never_exceeds_either_part(gvwr: float) -> None:
    limit = dealer_added_limit(gvwr).value
    assert limit <= 0.015 * gvwr * (1 + 1e-12)
    assert limit <= 100 * POUND * (1 + 1e-12)


def test_commercial_size() -> None:
    # 390.5: 10,001 lb (4,536 kg)
    assert not is_commercial_size(10000 * POUND)
    assert is_commercial_size(10001 * POUND)


@each(
    ("combination", "towed", "answer"),
    [(26001, 10001, True), (26000, 10001, False), (26001, 10000, False)],
)
def test_cdl_group_a(combination: float, towed: float, answer: bool) -> None:
    assert is_cdl_group_a(combination * POUND, towed * POUND) is answer
