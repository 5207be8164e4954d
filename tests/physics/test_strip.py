"""Gas law on absolute pressure, against worked figures and the standard atmosphere."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.physics.strip import SEA_LEVEL, gauge_at, note, per_ten_f, strip
from cardgen.tables.atmosphere import standard_pressure
from cardgen.tables.lookup import OutOfTableError
from tests.limits.bench import computed

PSI, FOOT = 6894.757293168361, 0.3048


def fahrenheit(f: float) -> float:
    return (f - 32) / 1.8 + 273.15


def test_using_the_gauge_as_absolute_is_the_usual_error() -> None:
    wrong = 35 * PSI * fahrenheit(78) / fahrenheit(68) - 35 * PSI
    assert wrong / PSI == pytest.approx(0.66, abs=0.01)  # instead of 0.94
    assert per_ten_f(35 * PSI, fahrenheit(68)) > 1.4 * wrong


def test_descent_takes_pressure_away() -> None:
    high = standard_pressure(7000 * FOOT)
    assert gauge_at(65 * PSI, fahrenheit(68), fahrenheit(68), high, SEA_LEVEL) / PSI == pytest.approx(
        61.6, abs=0.05
    )


@given(p=st.floats(1e5, 8e5), t1=st.floats(240, 330), t2=st.floats(240, 330))
def test_there_and_back(p: float, t1: float, t2: float) -> None:
    there = gauge_at(p, t1, t2)
    assert gauge_at(max(there, 0.0), t2, t1) == pytest.approx(p, rel=1e-9)
    assert (there > p) == (t2 > t1) or t1 == pytest.approx(t2)


def test_strip_rows_and_note() -> None:
    made = strip("trailer", 80 * PSI, fahrenheit(68), "us")
    assert [round((r.temperature - 273.15) * 1.8 + 32) for r in made.rows] == [0, 20, 40, 60, 80, 100]
    cold = made.rows[0]
    assert cold.reads < cold.rule < 80 * PSI  # the thumb rule says 73, the law 67.8
    assert cold.reads / PSI == pytest.approx(67.80, abs=0.01)
    assert cold.rule / PSI == pytest.approx(73.2, abs=0.01)
    assert "1.8 times" in made.note
    assert "standard" in made.source.lower()
    metric = strip("trailer", 4.5e5, 293.15, "metric")
    assert [round(r.temperature - 273.15) for r in metric.rows] == [-20, -10, 0, 10, 20, 30, 40]
    assert metric.rows[4].reads == pytest.approx(4.5e5)


@pytest.mark.parametrize(("psi", "word"), [(38, "about right"), (65, "too small"), (25, "too large")])
def test_rule_of_thumb_in_words(psi: float, word: str) -> None:
    assert word in note(per_ten_f(psi * PSI, fahrenheit(68)))


def test_out_of_range_is_refused() -> None:
    with pytest.raises(OutOfTableError):
        gauge_at(3e5, 150.0, 293.0)
    with pytest.raises(OutOfTableError):
        gauge_at(-1.0, 293.0, 293.0)


def test_a_rig_has_strips_for_what_is_set() -> None:
    made = computed()
    assert set(made.strips) == {"trailer", "front", "rear", "spare"}
    assert made.strips["trailer"].reference == pytest.approx(293.15)
    morning = computed({"preferences.morning_temperature": "40 F"})
    assert morning.strips["trailer"].reference == pytest.approx(fahrenheit(40))
    unknown = computed({"trailer.tires.max_load_at": None})
    assert "trailer" not in unknown.strips
