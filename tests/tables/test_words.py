"""Market words against the comparison table of terms."""

from __future__ import annotations

from typing import get_args

import pytest

from cardgen.model.rig import Market
from cardgen.tables.lookup import NotInTableError
from cardgen.tables.words import MARKETS, concept, concepts, term, terms
from tests.each import each


def test_markets_are_those_of_the_model() -> None:
    assert get_args(Market) == MARKETS


@each("key", concepts())
@each("market", MARKETS)
def test_every_concept_has_a_term_everywhere(key: str, market: str) -> None:
    assert term(key, market)
    assert len(set(terms(key, market))) == len(terms(key, market))


@each("key", concepts())
def test_meaning_is_one_sentence_and_the_trap_a_short_note(key: str) -> None:
    found = concept(key)
    assert found.means[0].isupper()
    assert found.means.endswith(".")
    assert not found.trap.endswith(".")
    for text in (found.means, found.trap):
        assert ". " not in text
        assert len(text) < 130


@each(
    ("key", "market", "word"),
    [
        ("tongue_weight", "us", "tongue weight"),
        ("tongue_weight", "ca", "tongue weight"),
        ("tongue_weight", "uk", "noseweight"),
        ("tongue_weight", "eu", "nose weight"),
        ("tongue_weight", "au", "tow ball mass"),
        ("tongue_weight", "nz", "towball weight"),
        ("trailer_rating", "us", "GVWR"),
        ("trailer_rating", "uk", "MTPLM"),
        ("trailer_rating", "au", "ATM"),
        ("trailer_axle_load", "au", "GTM"),
        ("trailer_axle_load", "nz", "trailer axle load, coupled"),
        ("combination_rating", "us", "GCWR"),
        ("combination_rating", "uk", "GTW"),
        ("combination_rating", "au", "GCM"),
        ("surge_brakes", "uk", "overrun brakes"),
        ("receiver", "uk", "towbar"),
        ("coupler", "uk", "coupling head"),
    ],
)
def test_terms(key: str, market: str, word: str) -> None:
    assert term(key, market) == word


def test_one_word_for_two_things_is_named_as_a_trap() -> None:
    # GVM is the trailer in New Zealand, too, and there the vehicle alone is printed so
    assert "GVM" in terms("trailer_rating", "nz")
    assert (
        term("trailer_rating", "nz") != term("vehicle_rating", "nz") == term("vehicle_rating", "au") == "GVM"
    )
    assert "{gtm}" in concept("trailer_rating").trap


def test_unknown_is_refused() -> None:
    with pytest.raises(NotInTableError):
        term("flux", "us")
    with pytest.raises(NotInTableError):
        term("hitch_ball", "mars")
