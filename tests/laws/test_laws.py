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
BROKEN: dict[str, str] = {
    "1 left out": "tires, plugs and rules of places pass when a weight, a place or a state is not known",
    "2 another case": "one case of which something is unknown hides an over of the tires in another",
    "2 another rating": "a printed load beside a load index replaces it, however high it is",
    "2 another weighing": "a later visit that weighed something else hides an older over of the same case",
    "3 order": "the curb driver sits in the seat row listed first; of visits on several days order matters",
    "4 ratings": "a ball mount's ratings are not asked when weight-distributing bars are listed",
    "4 tire ratings": "a load index below the printed load is not held against the load",
    "5 measured": "only the newest visit of a case and the figure that is worst as computed are compared",
    "6 carried out": "advice is checked without the uncertainty of what the file will state, and by the bay's place",
    "7 allowed trailer": "the vehicle's axles and tires, and what bars move, are left out of the allowed trailer",
    "7 allowed trailer is known": "a placard is asked for where the market has none",
    "7 tongue band": "the printed band is not held against the plates of the tongue",
    "7 tongue band kept": "the printed band is that of the heaviest case alone, without the vehicle's ratings",
    "7 tongue band as printed": "the owner's band in weights can turn the ends round",
    "7 pressure": "the spare takes the pressure of the others past its own marking",
    "7 rounding": "upper ends are rounded to the nearest, not down; lower ends not up",
    "7 top speed": "the printed top speed does not know the limits of places",
    "8 envelope": "waste that a hookup can fill is left out when the owner declares nothing",
    "8 statics": "the curb driver sits in the seat row listed first, not the foremost",
    "9 standards": "voluntary standards are called over",
    "9 age and equipment": "tire age and a missing controller are called over",
    "9 critical": "some overs forbid nothing",
    "9 tongue share": "a guidance band is held like a rating",
    "10 exit code": "an over that forbids nothing sets the outcome of the rig",
}
"""Parts that the program breaks, with the reason."""
QUIET = (
    "gear.adapter.kind",
    "trailer.batteries[].movable",
    "trailer.batteries[].set",
    "trailer.chains.grade",
    "trailer.spare.extra_load",
    "trailer.spare.load_index",
    "trailer.spare.max_pressure",
    "trailer.spare.speed_symbol",
)
"""Documented fields that change nothing and are not refused."""


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


def test_what_the_starter_leaves_unknown_is_missing() -> None:
    found = list(knowledge.starters())
    assert not found, told(found)


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(n, marks=pytest.mark.xfail(strict=True, reason="the field changes nothing"))
        for n in QUIET
    ],
)
def test_field_changes_something(name: str) -> None:
    quiet, unstated = rated.silent(subjects(), 4, (name,))
    assert name not in quiet
    assert name not in unstated


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
