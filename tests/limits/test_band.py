"""Tongue share against advice and against an owner's band; instructions inside every plate."""

from __future__ import annotations

import pytest

from cardgen.model.results import Outcome
from tests.limits.bench import Changes, assessed

GUIDED: list[tuple[Changes, str, str]] = [
    ({"trailer.empty.tongue": "700 lb"}, "within", "more than advised"),
    ({"trailer.empty.tongue": "150 lb"}, "close", "move load before you tow"),
    ({"trailer.empty.tongue": "20 lb"}, "over", "less than half"),
    ({"trailer.empty.tongue": "250 lb +/- 600 lb"}, "over", "lift the hitch"),
]


@pytest.mark.parametrize(("changes", "outcome", "words"), GUIDED)
def test_advice_on_the_share_forbids_only_far_below_it(changes: Changes, outcome: str, words: str) -> None:
    found = next(f for f in assessed(changes).findings if f.code == "tongue-share")
    assert (found.outcome.value, words in found.message) == (outcome, True), found


@pytest.mark.parametrize("tongue", ["700 lb", "150 lb"])
def test_a_band_of_the_owners_own_is_a_limit(tongue: str) -> None:
    changes: Changes = {
        "trailer.empty.tongue": tongue,
        "limits.tongue_share": {"low": "10 %", "high": "15 %", "source": "trailer handbook"},
    }
    found = next(f for f in assessed(changes).findings if f.code == "tongue-share")
    assert found.outcome is Outcome.OVER
    assert found.critical
