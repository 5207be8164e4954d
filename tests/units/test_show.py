"""Values as people read them."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from cardgen.units import convert, feet_inches, inch_fraction, number, show
from cardgen.units.parse import parse
from tests.each import each

NBSP = "\u00a0"


@each(
    ("text", "kind", "us", "metric"),
    [
        ("3,500 lb", "mass", "3,500 lb", "1,588 kg"),
        ("65 psi", "pressure", "65 psi", "4.48 bar"),
        ("4.5 bar", "pressure", "65 psi", "4.50 bar"),
        ("20 gal", "volume", "20.0 gal", "76 L"),
        ("60 mph", "speed", "60 mph", "97 km/h"),
        ("68 F", "temperature", "68 °F", "20 °C"),
        ("12.3 %", "fraction", "12.3 %", "12.3 %"),
    ],
)
def test_both_systems(text: str, kind: str, us: str, metric: str) -> None:
    si = parse(text, kind).si
    assert show(si, kind, "us").replace(NBSP, " ") == us
    assert show(si, kind, "metric").replace(NBSP, " ") == metric


def test_number_and_unit_do_not_part() -> None:
    assert " " not in show(1000.0, "mass", "us")


def test_no_minus_zero() -> None:
    assert number(-0.1, "mass", "metric") == "0"


@each(
    ("inches", "text"),
    [(2.3125, "2 5/16 in"), (1.875, "1 7/8 in"), (2.0, "2 in"), (0.5, "1/2 in"), (0.0, "0 in")],
)
def test_inch_fractions(inches: float, text: str) -> None:
    assert inch_fraction(inches * 0.0254).replace(NBSP, " ") == text


def test_negative_fraction_keeps_its_sign() -> None:
    assert inch_fraction(-0.0381).replace(NBSP, " ") == "-1 1/2 in"


@each(("inches", "text"), [(74, "6 ft 2 in"), (71.6, "6 ft 0 in"), (-18, "-1 ft 6 in")])
def test_feet_and_inches(inches: float, text: str) -> None:
    assert feet_inches(inches * 0.0254).replace(NBSP, " ") == text


@given(st.floats(min_value=0, max_value=50_000))
def test_shown_mass_is_within_half_a_unit(kg: float) -> None:
    shown = float(number(kg, "mass", "us").replace(",", ""))
    assert abs(shown - convert(kg, "mass", "us")) <= 0.5 + 1e-9
