"""Sway advice in the words of the market's own authority."""

from __future__ import annotations

import re
from typing import Literal

from cardgen.checklist.catalog import catalog
from cardgen.checklist.features import features
from cardgen.checklist.select import build
from cardgen.checklist.types import Line
from cardgen.checklist.values import values
from cardgen.model.rig import Rig
from cardgen.model.trailer import Brakes
from tests.checklist.rigs import DAY, assessment, ball_rig, change
from tests.each import each

MARKETS = ("us", "ca", "uk", "eu", "au", "nz")


def lines(rig: Rig) -> dict[str, Line]:
    made = build(rig, features(rig), values(assessment(rig), "us"), DAY)
    return {line.id: line for line in made.lines()}


@each("market", MARKETS)
def test_nobody_is_told_to_speed_up_or_to_brake_hard(market: str) -> None:
    sway = catalog().sway[market]
    assert not re.search(r"accelerate|faster|power|speed up\b(?!$)", sway.first + sway.brake)
    assert re.search(r"no vehicle brakes|no hard braking|do not brake", sway.never)


@each(
    ("market", "first", "source"),
    [
        ("us", "off the accelerator", "US NHTSA"),
        ("ca", "steer gently back into line", "Ontario"),
        ("uk", "ease off the accelerator slowly", "GOV.UK"),
        ("au", "keep a steady speed", "Queensland Government"),
        ("eu", "no sudden move", "none of this market's own authority was read"),
        ("nz", "no sudden move", "none of this market's own authority was read"),
    ],
)
def test_each_market_speaks_with_its_own_authority(market: str, first: str, source: str) -> None:
    rig = ball_rig(market, brakes=Brakes(kind="electric"))
    made = lines(rig)
    assert first in made["sway-first"].text
    assert any(source in words for words in made["sway-first"].source_words)
    assert first in made["lend-sway"].text


def test_where_authorities_contradict_each_other_neither_is_averaged() -> None:
    """UK: ease off. Queensland: steady speed. The two are not mixed."""
    assert "ease off" not in catalog().sway["au"].first
    assert "steady" not in catalog().sway["uk"].first


@each("market", MARKETS)
@each("kind", ["none", "surge"])
def test_without_a_control_in_the_cab_no_trailer_brake_is_spoken_of(
    market: str, kind: Literal["none", "surge"]
) -> None:
    rig = change(ball_rig(market), trailer__brakes=Brakes(kind=kind))
    made = lines(rig)
    assert "sway-brake" not in made
    assert "trailer brake" not in made["lend-sway"].text


def test_with_it_the_trailer_brake_is_named_and_sourced() -> None:
    made = lines(ball_rig(brakes=Brakes(kind="electric")))
    assert "trailer brake" in made["sway-brake"].text
    assert any("NHTSA" in words for words in made["sway-brake"].source_words)
    assert "trailer brake" in made["lend-sway"].text


def test_no_speed_to_go_on_at_is_printed() -> None:
    assert not re.search(r"\d", lines(ball_rig())["sway-after"].text)
