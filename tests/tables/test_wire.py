"""Wire against printed tables, magnets against the service table's currents."""

from __future__ import annotations

import math

import pytest

from cardgen.tables.exact import FOOT, INCH
from cardgen.tables.lookup import NotInTableError, OutOfTableError
from cardgen.tables.wire import (
    automotive_area,
    awg_area,
    awg_diameter,
    breakaway_hold,
    conductor_resistance,
    copper_resistivity,
    magnet_resistance,
    magnets_per_braked_axle,
)
from tests.each import each


# ASTM B258: AWG, mm2, circular mils
@each(
    ("gauge", "mm2", "cmil"),
    [
        (18, 0.8230, 1624.3),
        (16, 1.3087, 2582.7),
        (14, 2.0809, 4106.7),
        (12, 3.3088, 6529.9),
        (10, 5.2612, 10383.0),
        (8, 8.3656, 16509.7),
        (6, 13.3018, 26251.4),
    ],
)
def test_areas(gauge: int, mm2: float, cmil: float) -> None:
    # mm2 printed to four decimals, the last of which copies round differently
    assert awg_area(gauge) * 1e6 == pytest.approx(mm2, abs=1.1e-4)
    mils = awg_diameter(gauge) / INCH * 1000
    assert mils**2 == pytest.approx(cmil, abs=0.06)


def test_the_two_defining_diameters() -> None:
    assert awg_diameter(36) / INCH == pytest.approx(0.005, rel=1e-15)
    assert awg_diameter(-3) / INCH == pytest.approx(0.46, rel=1e-12)


def test_three_gauges_double_the_area() -> None:
    # by the formula 92^(6/39) = 2.005
    for gauge in range(33):
        assert awg_area(gauge) / awg_area(gauge + 3) == pytest.approx(92 ** (6 / 39), rel=1e-12)


# NEC chapter 9 Table 8, ohm per 1000 ft of uncoated copper at 75 C: solid, stranded
@each(
    ("gauge", "solid", "stranded"),
    [
        (18, 7.77, 7.95),
        (16, 4.89, 4.99),
        (14, 3.07, 3.14),
        (12, 1.93, 1.98),
        (10, 1.21, 1.24),
        (8, 0.764, 0.778),
        (6, None, 0.491),
    ],
)
def test_nec_table_8(gauge: int, solid: float | None, stranded: float) -> None:
    area, length, hot = awg_area(gauge), 1000 * FOOT, 348.15
    if solid is not None:
        assert conductor_resistance(length, area, hot, stranded=False) == pytest.approx(solid, rel=0.005)
    assert conductor_resistance(length, area, hot) == pytest.approx(stranded, rel=0.006)


# ohm per 1000 ft at 20 C
@each(
    ("gauge", "ohm"),
    [
        (18, 6.3850),
        (16, 4.0156),
        (14, 2.5254),
        (12, 1.5883),
        (10, 0.9989),
        (8, 0.6282),
        (6, 0.3951),
    ],
)
def test_resistance_at_20_c(gauge: int, ohm: float) -> None:
    got = conductor_resistance(1000 * FOOT, awg_area(gauge), stranded=False)
    assert got == pytest.approx(ohm, abs=6e-5 if ohm < 1 else 3e-4)


# worked loops: 45 ft one way, AWG stranded, 20 C
@each(("gauge", "loop"), [(12, 0.1458), (10, 0.0917), (8, 0.0577)])
def test_loop(gauge: int, loop: float) -> None:
    assert 2 * conductor_resistance(45 * FOOT, awg_area(gauge)) == pytest.approx(loop, abs=6e-5)


def test_copper_rises_with_temperature() -> None:
    assert 1 / copper_resistivity(293.15) == pytest.approx(58e6)
    assert copper_resistivity(348.15) / copper_resistivity(293.15) == pytest.approx(1 + 0.00393 * 55)


# SAE J1128 mm2 and ohm per 1000 ft at 20 C, stranded: 8 to 14 percent less copper than AWG
@each(("gauge", "ohm"), [(18, 6.92), (16, 4.69), (14, 2.84), (12, 1.81), (10, 1.13), (8, 0.727)])
def test_automotive_wire(gauge: int, ohm: float) -> None:
    area = automotive_area(gauge)
    assert 1.08 <= awg_area(gauge) / area <= 1.17
    got = conductor_resistance(1000 * FOOT, area, stranded=False)
    assert got == pytest.approx(ohm, rel=0.003)


def test_outside_is_refused() -> None:
    for gauge in (-4, 37):
        with pytest.raises(OutOfTableError, match="wire gauge"):
            awg_area(gauge)
    for kelvin in (230.0, 380.0):
        with pytest.raises(OutOfTableError, match="temperature"):
            copper_resistivity(kelvin)
    for area in (0.0, -1.0, math.nan):
        with pytest.raises(OutOfTableError, match="area"):
            conductor_resistance(1.0, area)
    with pytest.raises(NotInTableError):
        automotive_area(13)


# service table: brakes, amperes at 12 to 13 V and at 9 to 10.5 V
@each(
    ("drum", "volts", "brakes", "amperes"),
    [
        ("7 in", 12.0, 2, 6.3),
        ("7 in", 13.0, 2, 6.8),
        ("7 in", 12.0, 4, 12.6),
        ("7 in", 13.0, 4, 13.7),
        ("7 in", 12.0, 6, 19.0),
        ("7 in", 13.0, 6, 20.6),
        ("12 in", 12.0, 2, 7.5),
        ("12 in", 13.0, 2, 8.2),
        ("12 in", 12.0, 4, 15.0),
        ("12 in", 13.0, 4, 16.3),
        ("10 in", 13.0, 6, 24.5),
        ("10 in", 9.0, 2, 5.6),
        ("10 in", 10.5, 2, 6.6),
    ],
)
def test_magnet_currents(drum: str, volts: float, brakes: int, amperes: float) -> None:
    # the table is N V / R at the low end of its resistance band, printed to 0.1 A
    assert brakes * volts / magnet_resistance(drum).low == pytest.approx(amperes, abs=0.13)


# ohm per magnet, as the service table prints its band
@each(("drum", "low", "high"), [("7 in", 3.8, 4.0), ("10 in", 3.2, 3.5), ("12 in", 3.2, 3.5)])
def test_magnet_resistance(drum: str, low: float, high: float) -> None:
    found = magnet_resistance(drum)
    assert (found.low, found.high) == (low, high)


def test_lower_voltage_draws_less() -> None:
    low = magnet_resistance("12 in").low
    assert 9.0 / low < 12.0 / low


def test_other_drums_are_unknown() -> None:
    assert magnet_resistance("7 in").low < magnet_resistance("7 in").high
    with pytest.raises(NotInTableError, match="ask the brake maker"):
        magnet_resistance("9 in")
    assert magnets_per_braked_axle() == 2


def test_breakaway_holds_15_minutes() -> None:
    # four magnets of 16.3 A for 15 minutes take 4.08 Ah
    hold = breakaway_hold().value
    assert hold == 900.0
    assert 16.3 * hold / 3600 == pytest.approx(4.08, abs=0.005)
