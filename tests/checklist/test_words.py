"""Trade words by market: whole words only, no word replaced twice, owners' texts untouched."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from cardgen.checklist.catalog import catalog
from cardgen.checklist.features import features
from cardgen.checklist.fill import fill
from cardgen.checklist.select import build
from cardgen.checklist.words import adapt
from cardgen.model.rig import ChecklistChanges, OwnItem
from tests.checklist.rigs import caravan, change
from tests.each import each

MARKETS = ("us", "ca", "uk", "eu", "au", "nz")


@each(
    ("market", "text", "expected"),
    [
        ("us", "Tire, tongue weight and coupler", "Tire, tongue weight and coupler"),
        ("uk", "Tongue weight on the coupler", "Noseweight on the coupling head"),
        ("uk", "Sway: trucks pass; sway again", "Snaking: lorries pass; snaking again"),
        ("au", "Tongue weight, tires, surge brakes", "Ball weight, tyres, override brakes"),
        ("nz", "tongue weight at the center", "towball weight at the centre"),
        ("eu", "Tongue weight; stabilizers up", "Nose weight; corner steadies up"),
        ("ca", "the right license, tires", "the right licence, tires"),
        ("uk", "an off-center boat", "an off-centre boat"),
        ("uk", "Keep {tire_age_limit} and {tire}", "Keep {tire_age_limit} and {tire}"),
    ],
)
def test_words_of_a_market(market: str, text: str, expected: str) -> None:
    assert adapt(text, market) == expected


@each("market", MARKETS)
@each(
    "text",
    [
        "retired attire entire",
        "overtongued",
        "swayed Swaythling",
        "licensed",
        "centered",
        "curbside",
        "tires2",
    ],
)
def test_no_half_word_is_replaced(market: str, text: str) -> None:
    assert adapt(text, market) == text


@each("market", MARKETS)
@given(text=st.text(alphabet="tires wayongu{}_-.,", max_size=40))
def test_only_whole_words_of_the_table_change(market: str, text: str) -> None:
    words = catalog().words
    table = {w for group in words.markets[market] for w in words.groups[group]}
    if adapt(text, market) != text:
        assert any(re.search(rf"(?<!\w){re.escape(w)}(?!\w)", text, re.I) for w in table)


@each("market", ["uk", "eu", "au", "nz"])
def test_no_us_word_is_left_in_any_text(market: str) -> None:
    stray = re.compile(
        r"\b(tires?|tongue|coupler|stabilizers?|surge|license|faucets?|curb|center|aluminum|vapor|mold|fenders?)\b",
        re.I,
    )
    for item in catalog().items:
        for text in (fill(item, {}, market), adapt(item.done, market), adapt(item.why, market)):
            assert not stray.search(text), text
    for phase in catalog().scheme.phases:
        assert not stray.search(adapt(phase.title + phase.about, market))


@each("market", MARKETS)
def test_texts_stay_short_in_every_market(market: str) -> None:
    for item in catalog().items:
        assert len(adapt(item.text, market).split()) <= 14, item.id


@each("market", ["uk", "eu", "au", "nz"])
def test_every_replacement_of_a_market_is_met_by_some_text(market: str) -> None:
    """A word of the table that no text uses is a leftover."""
    words = catalog().words
    made = [i.text + " | " + i.done + " | " + i.why for i in catalog().items]
    made += [v.fallback for v in catalog().values.values()]
    made += [p.title + p.about for p in catalog().scheme.phases] + [d.title + d.note for d in catalog().due]
    made += ["stabilizer, stabilizers", *(s.first + s.never + s.brake for s in catalog().sway.values())]
    text = " | ".join(made)
    table = {w for group in words.markets[market] for w in words.groups[group]}
    assert {w for w in table if not re.search(rf"(?<!\w){re.escape(w)}(?!\w)", text, re.I)} == set()


def test_the_owners_words_are_left_alone() -> None:
    own = OwnItem(phase="hitching", text="Kick the tire", why="The tire likes it")
    rig = change(
        caravan(), checklist=ChecklistChanges(add=(own,), replace={"tires-look": "Look at {tire} and tongue"})
    )
    lines = {line.id: line for line in build(rig, features(rig), {}, None).lines()}
    assert lines["own-1"].text == "Kick the tire"
    assert lines["tires-look"].text == "Look at {tire} and tongue"
    assert lines["tires-look"].replaced
