"""Magnet current, wire and breakaway battery against printed and worked figures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.physics import brakes
from cardgen.tables.exact import FOOT, POUND
from cardgen.tables.lookup import OutOfTableError
from cardgen.tables.wire import awg_area
from tests.limits.bench import computed, rig

AH = 3600.0


# service table of an axle maker (secondary copies): 7 in drums 3.8 ohm, 10 and 12 in 3.2 ohm, at 12 to 13 V
@pytest.mark.parametrize(
    ("volts", "ohms", "count", "amps"),
    [
        (12, 3.8, 2, 6.3), (13, 3.8, 2, 6.8), (12, 3.2, 2, 7.5), (13, 3.2, 2, 8.2),
        (12, 3.8, 4, 12.6), (12, 3.2, 4, 15.0), (13, 3.2, 4, 16.3), (12, 3.2, 6, 22.6), (13, 3.2, 6, 24.5),
        (9, 3.2, 2, 5.6), (10.5, 3.2, 2, 6.6), (10.5, 3.8, 2, 5.6),
    ],
)  # fmt: skip
def test_magnet_table(volts: float, ohms: float, count: int, amps: float) -> None:
    assert brakes.magnet_current(volts, ohms, count) == pytest.approx(amps, abs=0.16)


def test_a_lower_voltage_draws_less() -> None:
    # an owners' forum has "at 9 V they draw 4 A instead of 3": magnets are resistances, it is 2.8
    assert brakes.magnet_current(9, 3.2, 1) < brakes.magnet_current(12, 3.2, 1)
    assert brakes.magnet_current(9, 3.2, 1) == pytest.approx(2.81, abs=0.005)
    with pytest.raises(OutOfTableError):
        brakes.magnet_current(12, 0, 2)


# four 12 in magnets (0.8 ohm), 13.0 V, 20 ft vehicle and 25 ft trailer, AWG stranded, 20 C (worked by hand)
@pytest.mark.parametrize(
    ("gauge", "loop", "amps", "volts", "drop", "percent", "shortcut"),
    [
        (12, 0.1458, 13.75, 11.00, 2.00, 15.4, 2.37),
        (10, 0.0917, 14.58, 11.66, 1.34, 10.3, 1.49),
        (8, 0.0577, 15.16, 12.13, 0.87, 6.7, 0.94),
    ],
)
def test_worked_rows(
    gauge: int, loop: float, amps: float, volts: float, drop: float, percent: float, shortcut: float
) -> None:
    ohms = brakes.loop_resistance(45 * FOOT, awg_area(gauge))
    assert ohms == pytest.approx(loop, abs=6e-5)
    flows, left = brakes.through_wire(13.0, 0.8, ohms)
    assert flows == pytest.approx(amps, abs=0.006)
    assert left == pytest.approx(volts, abs=0.006)
    assert 13.0 - left == pytest.approx(drop, abs=0.006)
    assert (13.0 - left) / 13.0 * 100 == pytest.approx(percent, abs=0.06)
    assert 16.25 * ohms == pytest.approx(shortcut, abs=0.006)  # the constant-current shortcut overstates


def test_field_reading_is_plausible() -> None:
    # eight 12 in magnets on 14 AWG, 13.2 V at the plug and 10.2 V at the magnets (retailer's answer page)
    flows, left = brakes.through_wire(13.2, 3.2 / 8, brakes.loop_resistance(32 * FOOT, awg_area(14)))
    assert left == pytest.approx(10.2, abs=0.9)
    assert flows * 3.2 / 8 == pytest.approx(left)


@given(volts=st.floats(6, 15), load=st.floats(0.3, 5), loop=st.floats(0, 1))
def test_voltages_add_up(volts: float, load: float, loop: float) -> None:
    flows, left = brakes.through_wire(volts, load, loop)
    assert left + flows * loop == pytest.approx(volts)
    assert flows <= volts / load + 1e-9
    assert volts - left <= volts / load * loop + 1e-9


# 15 minutes at full current: 8.2 A 2.05 Ah, 16.3 A 4.08 Ah, 24.5 A 6.13 Ah
@pytest.mark.parametrize(("amps", "ah"), [(8.2, 2.05), (16.3, 4.08), (24.5, 6.13)])
def test_hold_charge(amps: float, ah: float) -> None:
    assert brakes.hold_charge(amps, 900) / AH == pytest.approx(ah, abs=0.006)


# Peukert with k = 1.2 and 2, 4, 6 magnets: 5, 7, 9 and 12 Ah batteries (computed rows)
@pytest.mark.parametrize(
    ("ah", "minutes"),
    [(5, (18.2, 8.0, 4.9)), (7, (27.3, 12.0, 7.3)), (9, (36.9, 16.2, 9.9)), (12, (52.0, 22.8, 14.0))],
)
def test_peukert_rows(ah: float, minutes: tuple[float, float, float]) -> None:
    got = [brakes.peukert_time(ah * AH, amps) / 60 for amps in (8.2, 16.3, 24.5)]
    assert got == pytest.approx(minutes, abs=0.15)


# published examples of 49 CFR 393.48(d): vehicle 6,000 lb, trailer at most 10,500; 15,000 lb at most 18,750
@pytest.mark.parametrize(
    ("vehicle", "trailer", "allowed"),
    [
        (6000, 10500, True), (6000, 10501, False), (15000, 18750, True), (15000, 18751, False),
        (6571, 11500, False), (6572, 11500, True), (20000, 20001, False), (20000, 20000, True),
    ],
)  # fmt: skip
def test_surge_share(vehicle: float, trailer: float, allowed: bool) -> None:
    share = brakes.surge_share(vehicle * POUND, trailer * POUND)
    assert (share is not None and trailer <= share * vehicle) is allowed


def test_circuit_of_a_rig() -> None:
    made = computed().wiring.brakes
    assert made is not None
    assert (made.magnets, made.magnet) == (2, 3.2)
    assert made.drop is not None
    assert made.at_magnets == pytest.approx(made.supply - made.drop)
    hold = computed().wiring.breakaway
    assert hold is not None
    assert hold.charge == pytest.approx(made.current * 900)
    assert hold.battery == pytest.approx(12 * AH)


def test_unknown_wire_is_asked_for() -> None:
    made = computed({"trailer.brakes.wiring": {}}).wiring.brakes
    assert made is not None
    assert made.drop is None
    assert {n.path for n in made.needs} == {"trailer.brakes.wiring.length", "trailer.brakes.wiring.awg"}
    assert computed({"trailer.brakes": {"kind": "surge"}}).wiring.brakes is None
    assert brakes.wire_area(rig({"trailer.brakes.wiring": {"awg": 99}})) is None


# 12 gauge is 3.31 mm2 as American wire gauge (ASTM B258), 2.91 mm2 as automotive wire (SAE J1128)
@pytest.mark.parametrize(
    ("wiring", "area", "contradicts"),
    [
        ({"awg": 12}, 2.91, False),
        ({"awg": 12, "sold_as": "awg"}, 3.309, False),
        ({"awg": 12, "sold_as": "automotive"}, 2.91, False),
        ({"awg": 11}, 4.17, False),  # no automotive wire has that number
        ({"area": "5.3 mm2"}, 5.3, False),
        ({"awg": 12, "area": "3.3 mm2"}, 2.91, False),
        ({"awg": 12, "area": "5.3 mm2"}, 2.91, True),
        ({"awg": 12, "area": "2 mm2"}, 2.0, True),
    ],
)
def test_the_smallest_area_that_is_stated_counts(
    wiring: dict[str, object], area: float, contradicts: bool
) -> None:
    stated = rig({"trailer.brakes.wiring": wiring})
    assert brakes.wire_area(stated) == pytest.approx(area * 1e-6, rel=2e-3)
    assert brakes.wire_contradicts(stated) is contradicts
