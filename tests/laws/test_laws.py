"""The ten laws over random rigs; what the program still breaks is marked with its reason.

The long run is ``python -m tests.laws``. A mark must go when its part is mended: it is strict.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from random import Random

import pytest
from hypothesis import given, settings

from tests.laws import knowledge, model, rated
from tests.laws.documents import read
from tests.laws.laws import PARTS
from tests.laws.model import Tree
from tests.laws.rigs import random_rig, rig_documents
from tests.laws.subject import OVER, Part, Subject, Violation

RIGS = 200
BROKEN: dict[str, str] = {}
"""Parts that the program breaks, with the reason."""


@cache
def subjects() -> tuple[Subject, ...]:
    """The rigs that all parts look at."""
    return tuple(Subject(str(seed), random_rig(seed)) for seed in range(RIGS))


def told(broken: list[Violation]) -> str:
    """Breaks by what breaks, the most frequent first, with one example each."""
    counts, first = Counter(one.key for one in broken), {one.key: one for one in reversed(broken)}
    return "\n".join(
        f"{n} x {key}: rig {first[key].seed}: {first[key].says}" for key, n in counts.most_common()
    )


def broken_by(part: Part, name: str) -> list[Violation]:
    """What breaks a part among the rigs of the suite."""
    found = []
    for number, subject in enumerate(subjects()):
        if number % part.every == 0:
            found += [
                Violation(v.key, v.says, v.tree, v.redo, subject.seed, name)
                for v in part.check(subject, Random(f"{name} {subject.seed}"), False)
            ]
    return found


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(name, marks=pytest.mark.xfail(strict=True, reason=BROKEN[name]))
        if name in BROKEN
        else name
        for name in PARTS
    ],
)
def test_law(name: str) -> None:
    found = broken_by(PARTS[name], name)
    assert not found, f"{PARTS[name].words}\n{told(found)}"


ONCE = (
    ("1 left out", 4254),
    ("1 left out", 4347),
    ("1 left out", 4690),
    ("1 left out", 5224),
    ("1 left out", 5735),
    ("1 left out", 5995),
    ("1 left out", 6071),
    ("1 left out", 6210),
    ("2 another rating", 5540),
    ("10 what-if", 4392),
    ("10 what-if moved", 5225),
    ("10 what-if moved", 5230),
    ("10 what-if moved", 5396),
)
"""Parts and rigs of long runs that broke them once [-]."""


def test_what_long_runs_found_stays_mended() -> None:
    found = [
        one
        for name, seed in ONCE
        for one in PARTS[name].check(Subject(str(seed), random_rig(seed)), Random(f"{name} {seed}"), False)
    ]
    assert not found, told(found)


def test_what_the_starter_leaves_unknown_is_missing() -> None:
    found = list(knowledge.starters())
    assert not found, told(found)


def test_fields_of_words_alone_change_something() -> None:
    names = ("gear.adapter.kind", "trailer.chains.grade")
    quiet, unstated = rated.silent(subjects(), 4, names)
    assert not quiet.keys()
    assert not unstated & {*names}


@settings(max_examples=25)
@given(rig_documents)
def test_documents_are_valid(tree: Tree) -> None:
    assert read(tree).rig is not None


def test_every_outcome_comes_up() -> None:
    seen = {f.outcome for one in subjects() for f in one.findings.values()}
    calm = [one for one in subjects() if all(f.outcome is not OVER for f in one.findings.values())]
    assert len(seen) == 4
    assert len(calm) >= 5


@pytest.mark.parametrize(
    ("text", "value"),
    [("3,500 lb", 1587.5733), ("6 ft 2 in", 1.8796), ("2 5/16 in", 0.0587375), ("-1 ft 6 in", -0.4572), ("half", 0.5),
     ("80 %", 0.8), ("30 gal", 0.11356235), ("100 kg +/- 2 kg", 100.0), ("unknown", None)],
)  # fmt: skip
def test_model_reads_units(text: str, value: float | None) -> None:
    found = model.si(text)
    assert found == value if value is None or found is None else abs(found - value) < 1e-4
