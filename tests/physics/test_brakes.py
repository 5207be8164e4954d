"""Magnet current, wire and breakaway battery against printed and worked figures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.physics import brakes
from cardgen.tables.exact import FOOT
from cardgen.tables.lookup import OutOfTableError
from cardgen.tables.wire import awg_area
from tests.limits.bench import computed, rig

AH = 3600.0


def test_a_lower_voltage_draws_less() -> None:
    # an owners' forum has "at 9 V they draw 4 A instead of 3": magnets are resistances, it is 2.8
    assert brakes.magnet_current(9, 3.2, 1) < brakes.magnet_current(12, 3.2, 1)
    assert brakes.magnet_current(9, 3.2, 1) == pytest.approx(2.81, abs=0.005)
    with pytest.raises(OutOfTableError):
        brakes.magnet_current(12, 0, 2)


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
