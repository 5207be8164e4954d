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
    taken,
    usual,
)
from cardgen.tables.lookup import NotInTableError, read
from cardgen.tables.words import MARKETS
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


def test_numbers_of_pins_and_where_they_are_seen_from() -> None:
    assert [len(connector(name).pins) for name in ("4-flat", "7-blade", "13-pin")] == [4, 7, 13]
    assert "vehicle socket" in connector("7-blade").view
    assert connector("13-pin").pins[11].copper is None  # a reserved pin


def test_12n_is_the_first_seven_of_the_13_pin() -> None:
    seven, thirteen = connector("7-pin-12n").pins, connector("13-pin").pins[:7]
    for a, b in zip(seven, thirteen, strict=True):
        assert a.at == b.at
        assert a.colours == b.colours
        assert a.does.split()[0] == b.does.split()[0]


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
        lambda: taken("8-square", "7-blade"),
        lambda: carries("8-square", "brake"),
        lambda: carries("7-blade", "water"),  # type: ignore[arg-type]  # the refusal is tested
    ):
        with pytest.raises(NotInTableError):
            ask()


def test_a_market_is_offered_the_connectors_it_uses() -> None:
    names = tuple(read("connectors")["connectors"])
    offered = {market: set(usual(names, market)) for market in MARKETS}
    assert offered["uk"] == offered["eu"] == {"7-pin-12n", "13-pin"}
    assert offered["us"] == offered["ca"]
    assert offered["us"].isdisjoint(offered["uk"])
    assert set().union(*offered.values()) == set(names)
    assert usual(("none", "electric"), "uk") == ("none", "electric")
