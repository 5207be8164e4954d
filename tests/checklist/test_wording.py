"""The lists in each market's words: none foreign, none too long, owners' texts untouched."""

from __future__ import annotations

import re

import pytest

from cardgen.checklist.catalog import catalog
from cardgen.checklist.features import features
from cardgen.checklist.fill import fill
from cardgen.checklist.select import build
from cardgen.model.rig import ChecklistChanges, OwnItem
from cardgen.tables.words import say
from tests.checklist.rigs import caravan, change

MARKETS = ("us", "ca", "uk", "eu", "au", "nz")


@pytest.mark.parametrize("market", ["uk", "eu", "au", "nz"])
def test_no_us_word_is_left_in_any_text(market: str) -> None:
    stray = re.compile(
        r"\b(tires?|(?<!towbar )tongue|coupler|stabilizers?|surge|license|faucets?|curb|center|aluminum|vapor|mold|fenders?)\b",
        re.I,
    )
    for item in catalog().items:
        for text in (fill(item.text, {}, market), say(item.seen, market), say(item.why, market)):
            assert not stray.search(text), text
    for phase in catalog().scheme.phases:
        assert not stray.search(say(phase.title + phase.about, market))


def test_texts_stay_short_in_every_market() -> None:
    """Twelve words at most, with the words of every market."""
    long = {
        f"{item.id}, {market}: {text}"
        for item in catalog().items
        for market in MARKETS
        for text in (say(item.text, market), say(item.say or "", market))
        if len(text.split()) > 12
    }
    assert not long


def test_the_owners_words_are_left_alone() -> None:
    own = OwnItem(phase="hitching", text="Kick the tire", why="The tire likes it")
    rig = change(
        caravan(), checklist=ChecklistChanges(add=(own,), replace={"tires-look": "Look at {tire} and tongue"})
    )
    lines = {line.id: line for line in build(rig, features(rig), {}, None).lines()}
    assert lines["own-1"].text == "Kick the tire"
    assert lines["tires-look"].text == "Look at {tire} and tongue"
    assert lines["tires-look"].replaced
