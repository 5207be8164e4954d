"""Placard and label arithmetic against published examples."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.tables.exact import POUND
from cardgen.tables.lookup import NotInTableError, OutOfTableError
from cardgen.tables.placard import (
    dealer_added_limit,
    label_era,
    label_meaning,
    seat_mass,
)
from tests.each import each


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


def test_both_masses_of_a_person_are_one() -> None:
    assert seat_mass("lb").value == pytest.approx(seat_mass("kg").value, abs=0.05)


def test_dealer_added_needs_a_weight() -> None:
    with pytest.raises(OutOfTableError):
        dealer_added_limit(0.0)


@given(st.floats(100, 20000))
def test_dealer_added_never_exceeds_either_part(gvwr: float) -> None:
    limit = dealer_added_limit(gvwr).value
    assert limit <= 0.015 * gvwr * (1 + 1e-12)
    assert limit <= 100 * POUND * (1 + 1e-12)
