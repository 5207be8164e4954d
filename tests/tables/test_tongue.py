"""Tongue bands by trailer and market."""

from __future__ import annotations

import pytest

from cardgen.tables.lookup import NotInTableError
from cardgen.tables.sources import source
from cardgen.tables.tongue import share_band
from tests.each import each

BODIES = ["camper", "travel_trailer", "caravan", "utility", "cargo", "boat", "horse", "car_hauler"]
MARKETS = ["us", "ca", "uk", "eu", "au", "nz"]


@each("market", MARKETS)
@each("kind", ["ball", "gooseneck", "fifth_wheel"])
@each("body", BODIES)
def test_every_rig_of_the_model_has_one_and_none_is_law(kind: str, body: str, market: str) -> None:
    found = share_band(kind, body, market)
    assert 0 < found.low < found.high < 0.3
    assert not source(found.source).is_law_text


@each("market", ["uk", "eu"])
def test_europe_judges_by_a_fixed_limit(market: str) -> None:
    assert share_band("ball", "caravan", market).fixed_limit
    assert not share_band("ball", "caravan", "us").fixed_limit


def test_unknown_is_refused() -> None:
    with pytest.raises(NotInTableError):
        share_band("pintle", "utility", "us")
    with pytest.raises(NotInTableError):
        share_band("ball", "utility", "mars")
