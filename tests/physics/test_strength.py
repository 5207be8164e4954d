"""D value, chains and bench figures against printed numbers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.physics.strength import as_mass, chains_hold, required_d, stated_d, trailer_for_d
from cardgen.tables.lookup import OutOfTableError
from cardgen.units.parse import parse

LB = 0.45359237


@given(t=st.floats(500, 5000), r=st.floats(100, 5000))
def test_solving_for_the_trailer_inverts_the_formula(t: float, r: float) -> None:
    assert trailer_for_d(required_d(t, r), t) == pytest.approx(r, rel=1e-9)


def test_a_strong_plate_sets_no_limit() -> None:
    assert trailer_for_d(9.81 * 2000, 2000) is None
    assert trailer_for_d(50000, 2000) is None
    with pytest.raises(OutOfTableError):
        required_d(0.0, 1000)
    with pytest.raises(OutOfTableError):
        trailer_for_d(0.0, 1000)


@pytest.mark.parametrize(
    ("text", "newtons"), [("8.5 kN", 8500.0), ("8500 N", 8500.0), ("8.5", None), (None, None), ("8 kg", None)]
)
def test_plates_are_read_with_their_unit(text: str | None, newtons: float | None) -> None:
    assert stated_d(text) == (None if newtons is None else pytest.approx(newtons))


# two chains of 5,000 lb: 49 CFR 393.70(d) lets them add up for 7,000 lb, New Hampshire and J684 do not
def test_each_or_together() -> None:
    assert chains_hold(5000 * LB, 2, 7000 * LB, "together")
    assert not chains_hold(5000 * LB, 2, 7000 * LB, "each")
    assert chains_hold(5000 * LB, 2, 5000 * LB, "each")
    assert not chains_hold(5000 * LB, 0, 0.0, "each")


def test_force_and_weight_are_one_strength() -> None:
    assert as_mass(parse("5,000 lb", "mass")) == pytest.approx(5000 * LB)
    assert as_mass(parse("22.2411 kN", "force")) == pytest.approx(5000 * LB, rel=1e-5)
