"""Quantities as people write them."""

from __future__ import annotations

import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.units.kinds import RANGES, SAMPLE, SPELLINGS, Believable
from cardgen.units.parse import parse
from cardgen.units.quantity import UnitError
from cardgen.units.registry import to_si
from tests.each import each

# Exact by definition: NIST SP 811 (2008) App. B for the pound and the inch; NIST HB 44
# App. C for the US gallon (231 cubic inches); UK Weights and Measures Act 1985 Sch. 1 for
# the imperial gallon; 1 bar = 100 kPa.
POUND = 0.45359237
US_GALLON = 3.785411784e-3
IMPERIAL_GALLON = 4.54609e-3
INCH = 0.0254


@each(
    ("text", "kind", "expected"),
    [
        ("3,500 lb", "mass", 3500 * POUND),
        ("1600 kg", "mass", 1600.0),
        ("2.5 t", "mass", 2500.0),
        ("20 gal", "volume", 20 * US_GALLON),
        ("20 US gal", "volume", 20 * US_GALLON),
        ("20 imp gal", "volume", 20 * IMPERIAL_GALLON),
        ("6 ft 2 in", "length", 74 * INCH),
        ("6' 2\"", "length", 74 * INCH),
        ("1 7/8 in", "length", 1.875 * INCH),
        ("2-5/16 in", "length", 2.3125 * INCH),
        ("1/2 in", "length", 0.5 * INCH),
        (".5 in", "length", 0.5 * INCH),
        ("50 mm", "length", 0.05),
        ("4.5 bar", "pressure", 450_000.0),
        ("250 kPa", "pressure", 250_000.0),
        ("68 F", "temperature", 293.15),
        ("-10 C", "temperature", 263.15),
        ("60 mph", "speed", 60 * 1609.344 / 3600),
        ("12 %", "fraction", 0.12),
        ("2.5 mm2", "area", 2.5e-6),
        ("7 Ah", "charge", 7 * 3600.0),
    ],
)
def test_value_in_si(text: str, kind: str, expected: float) -> None:
    assert parse(text, kind).si == pytest.approx(expected, rel=1e-12)


def test_psi_is_pound_force_per_square_inch() -> None:
    # standard gravity 9.80665 m/s2, exact (3rd CGPM, 1901)
    assert parse("65 psi", "pressure").si == pytest.approx(65 * POUND * 9.80665 / INCH**2, rel=1e-12)


def test_gallons_are_told_apart() -> None:
    ratio = parse("1 imp gal", "volume").si / parse("1 US gal", "volume").si
    assert ratio == pytest.approx(1.200949925504855, rel=1e-12)


@each(
    ("text", "kind", "code"),
    [
        ("3500", "mass", "quantity-bare"),
        ("6 ft 2", "length", "quantity-bare"),
        ("4,5 bar", "pressure", "quantity-number"),
        ("20,00 lb", "mass", "quantity-number"),
        ("nan lb", "mass", "quantity-number"),
        ("inf lb", "mass", "quantity-number"),
        ("1/0 in", "length", "quantity-number"),
        ("", "mass", "quantity-number"),
        ("65 psi 3 psi", "pressure", "quantity-number"),
        ("6 ft -2 in", "length", "quantity-number"),
        ("x" * 100, "mass", "quantity-number"),
        ("65 psia", "pressure", "quantity-absolute"),
        ("35 lbf", "mass", "quantity-kind"),
        ("35 kg", "force", "quantity-kind"),
        ("3 stone", "mass", "quantity-unit"),
        ("-3 lb", "mass", "quantity-negative"),
        ("900000 lb", "mass", "quantity-range"),
        ("3 lb +/- -1 lb", "mass", "quantity-number"),
    ],
)
def test_refused_with_code_and_hint(text: str, kind: str, code: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse(text, kind)
    assert caught.value.code == code
    assert caught.value.hint


def test_bare_number_hint_repeats_the_number_with_a_unit() -> None:
    with pytest.raises(UnitError, match="like '3500 lb'"):
        parse("3500", "mass")


@each(
    ("text", "half"),
    [("3,120 lb +/- 40 lb", 40 * POUND), ("3120 lb ± 40 lb", 40 * POUND), ("3120 lb +/- 40", 40 * POUND),
     ("1000 kg ± 2 %", 20.0)],
)  # fmt: skip
def test_stated_half_width(text: str, half: float) -> None:
    assert parse(text, "mass").half_width == pytest.approx(half, rel=1e-12)


def test_a_signed_range_allows_a_length_ahead() -> None:
    value = parse("-1 ft 6 in", "length", Believable(-40, 40))
    assert value.si == pytest.approx(-18 * INCH)


@each("kind", sorted(SPELLINGS))
def test_every_spelling_converts_and_every_sample_reads(kind: str) -> None:
    for unit in SPELLINGS[kind].values():
        factor, _ = to_si(unit, kind)
        assert factor > 0
    sample = parse(SAMPLE[kind], kind)
    assert RANGES[kind].low <= sample.si <= RANGES[kind].high


@given(st.text(max_size=60), st.sampled_from(sorted(SPELLINGS)))
def test_any_text_reads_or_is_refused(text: str, kind: str) -> None:
    with contextlib.suppress(UnitError):
        assert math.isfinite(parse(text, kind).si)


@given(st.floats(min_value=0.001, max_value=50_000, allow_nan=False))
def test_written_numbers_come_back(number: float) -> None:
    text = f"{number:,.3f} kg"
    assert parse(text, "mass").si == pytest.approx(float(f"{number:.3f}"), rel=1e-12)


@each(
    ("text", "metres"),
    [
        ("-0 ft 7 in", -0.1778),
        ("-7 in", -0.1778),
        ("-1 ft 7 in", -0.4826),
        ("0 ft 7 in", 0.1778),
        ("-0 m 5 cm", -0.05),
    ],
)
def test_a_sign_before_zero_holds_for_what_follows(text: str, metres: float) -> None:
    assert parse(text, "length", Believable(-40.0, 40.0)).si == pytest.approx(metres)


def test_thousands_with_a_gap_are_offered_without() -> None:
    """And what is offered reads; feet, inches and fractions keep their gaps."""
    wrong = {
        "1 350 kg": ("mass", "1350 kg"),
        "1'350.5 kg": ("mass", "1350.5 kg"),
        "1\u202f350 lb": ("mass", "1350 lb"),
        "4 050 mm": ("length", "4050 mm"),
    }
    for text, (kind, offered) in wrong.items():
        with pytest.raises(UnitError, match="gap inside") as caught:
            parse(text, kind)
        assert f"'{offered}'" in caught.value.hint
        assert parse(offered, kind).text == offered
    assert parse("6 ft 2 in", "length").si == pytest.approx(1.8796)
    assert parse("6' 200 in", "length").si == pytest.approx(6.9088)
    assert parse("6 100/200 ft", "length").si == pytest.approx(1.9812)
