"""Connector pins against the printed tables, and the ids of the rig model."""

from __future__ import annotations

from typing import get_args

import pytest

from cardgen.model.parts import Connector
from cardgen.tables.connectors import (
    Circuit,
    carries,
    compatible,
    connector,
    has_brake_circuit,
)
from cardgen.tables.lookup import NotInTableError, read
from tests.each import each


def test_every_connector_of_the_model_is_in_the_table() -> None:
    assert set(read("connectors")["connectors"]) == set(get_args(Connector))


@each("name", get_args(Connector))
def test_pins_or_a_reason(name: str) -> None:
    found = connector(name)
    assert bool(found.pins) != bool(found.unknown)
    if found.pins:
        assert found.view
        places = [p.at for p in found.pins]
        assert len(places) == len(set(places))


# SAE J2863 family, into the vehicle socket, key up, as two independent copies agree
@each(
    ("at", "does"),
    [
        ("11 o'clock", "tail"),
        ("1 o'clock", "battery"),
        ("3 o'clock", "right stop"),
        ("5 o'clock", "electric brakes"),
        ("7 o'clock", "ground"),
        ("9 o'clock", "left stop"),
        ("center", "reverse"),
    ],
)
def test_seven_blade(at: str, does: str) -> None:
    pins = {p.at: p for p in connector("7-blade").pins}
    assert len(pins) == 7
    assert does in pins[at].does
    assert "vehicle socket" in connector("7-blade").view


# ISO 11446, pin: function, mm2
@each(
    ("pin", "does", "area"),
    [
        (1, "left indicator", 1.5),
        (2, "rear fog", 1.5),
        (3, "return for pins 1 to 8", 2.5),
        (4, "right indicator", 1.5),
        (5, "right tail", 1.5),
        (6, "stop", 1.5),
        (7, "left tail", 1.5),
        (8, "reverse", 1.5),
        (9, "permanent", 2.5),
        (10, "ignition", 2.5),
        (11, "return for pin 10", 2.5),
        (12, "reserved", None),
        (13, "return for pin 9", 2.5),
    ],
)
def test_thirteen_pin(pin: int, does: str, area: float | None) -> None:
    pins = {p.at: p for p in connector("13-pin").pins}
    found = pins[str(pin)]
    assert does in found.does
    assert found.copper == (None if area is None else pytest.approx(area * 1e-6))


def test_12n_is_the_first_seven_of_the_13_pin() -> None:
    seven, thirteen = connector("7-pin-12n").pins, connector("13-pin").pins[:7]
    for a, b in zip(seven, thirteen, strict=True):
        assert a.at == b.at
        assert a.colours == b.colours
        assert a.does.split()[0] == b.does.split()[0]


def test_four_flat_functions() -> None:
    assert [p.does for p in connector("4-flat").pins] == [
        "ground",
        "tail and marker lamps",
        "left stop and turn",
        "right stop and turn",
    ]


def test_brown_is_ambiguous_on_the_blade() -> None:
    brown = [p for p in connector("7-blade").pins if "brown" in p.colours]
    assert len(brown) == 2
    assert all(p.ambiguous for p in brown)
    safe = {p.does for p in connector("7-blade").pins if not p.ambiguous}
    assert safe == {"electric brakes", "ground"}


@each(
    ("name", "brake", "charge", "reverse"),
    [
        ("4-flat", False, False, False),
        ("7-blade", True, True, True),
        ("7-pin-12n", False, False, False),
        ("13-pin", False, True, True),
        ("5-flat", None, False, None),
        ("7-round-truck", False, None, False),
    ],
)
def test_circuits(name: str, brake: bool | None, charge: bool | None, reverse: bool | None) -> None:
    assert has_brake_circuit(name) is brake
    assert carries(name, "charge") is charge
    assert carries(name, "reverse") is reverse


@each("name", get_args(Connector))
@each(("circuit", "word"), [("brake", "electric brakes"), ("reverse", "reverse")])
def test_circuits_agree_with_pins(name: str, circuit: Circuit, word: str) -> None:
    found = connector(name)
    if found.pins:
        assert carries(name, circuit) is any(word in p.does for p in found.pins)


def test_only_the_same_kind_fits() -> None:
    names = get_args(Connector)
    for plug in names:
        assert [compatible(plug, socket) for socket in names] == [plug == s for s in names]


def test_unknown_is_refused() -> None:
    for ask in (
        lambda: connector("8-square"),
        lambda: compatible("8-square", "7-blade"),
        lambda: compatible("7-blade", "8-square"),
        lambda: carries("8-square", "brake"),
        lambda: carries("7-blade", "water"),  # type: ignore[arg-type]  # the refusal is tested
    ):
        with pytest.raises(NotInTableError):
            ask()
