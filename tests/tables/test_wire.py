"""Wire against printed tables, magnets against the service table's currents."""

from __future__ import annotations

import math

import pytest

from cardgen.tables.exact import INCH
from cardgen.tables.lookup import NotInTableError, OutOfTableError
from cardgen.tables.wire import (
    automotive_area,
    awg_area,
    awg_diameter,
    conductor_resistance,
    copper_resistivity,
    magnet_resistance,
    magnets_per_braked_axle,
)
from tests.each import each


def test_the_two_defining_diameters() -> None:
    assert awg_diameter(36) / INCH == pytest.approx(0.005, rel=1e-15)
    assert awg_diameter(-3) / INCH == pytest.approx(0.46, rel=1e-12)


def test_three_gauges_double_the_area() -> None:
    # by the formula 92^(6/39) = 2.005
    for gauge in range(33):
        assert awg_area(gauge) / awg_area(gauge + 3) == pytest.approx(92 ** (6 / 39), rel=1e-12)


def test_copper_rises_with_temperature() -> None:
    assert 1 / copper_resistivity(293.15) == pytest.approx(58e6)
    assert copper_resistivity(348.15) / copper_resistivity(293.15) == pytest.approx(1 + 0.00393 * 55)


@each("gauge", [18, 16, 14, 12, 10, 8])
def test_automotive_wire_holds_less_copper(gauge: int) -> None:
    assert 1.08 <= awg_area(gauge) / automotive_area(gauge) <= 1.17


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


def test_lower_voltage_draws_less() -> None:
    low = magnet_resistance("12 in").low
    assert 9.0 / low < 12.0 / low


def test_other_drums_are_unknown() -> None:
    assert magnet_resistance("7 in").low < magnet_resistance("7 in").high
    with pytest.raises(NotInTableError, match="ask the brake maker"):
        magnet_resistance("9 in")
    assert magnets_per_braked_axle() == 2
