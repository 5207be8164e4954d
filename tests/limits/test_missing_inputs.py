"""Deleting any one number never turns an over into a within, and units never change a finding."""

from __future__ import annotations

import re
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from cardgen.limits.assess import assess
from cardgen.model.results import Finding, Outcome
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from tests.limits.bench import BASES, DAY

NUMBER = re.compile(r"^-?[\d,.]+(?: \d+/\d+)? ?[a-zA-Z%/]+(?: [\d.]+ [a-z]+)*(?: \+/- .+)?$")
OWN = re.compile(r"^(limits|preferences)\b|needs_distribution_above")
"""Wishes of the owner, and a rating that lifts its own check: without them there is nothing to check."""

HEAVY: dict[str, dict[str, Any]] = {
    "fern": {
        "trailer.cargo": [
            {"name": "boxes", "weight": "1,900 lb", "x": "12 ft", "y": "4 in", "set": "trip"},
            {"name": "barrels", "weight": "800 lb", "x": "6 ft", "y": "-4 in"},
        ],
        "vehicle.cargo": [{"name": "bricks", "weight": "1,500 lb", "ahead_of_rear_axle": "1 ft"}],
    },
    "teal": {"trailer.cargo": [{"name": "boxes", "weight": "900 kg", "x": "5 m", "y": "0 m", "set": "trip"}]},
    "elm": {
        "trailer.cargo": [{"name": "boxes", "weight": "3,000 lb", "x": "4 ft", "y": "0 in", "set": "trip"}]
    },
}


def tree_of(base: str) -> dict[str, Any]:
    """The overloaded rig as plain data."""
    tree = deepcopy(BASES[base])
    for path, value in HEAVY[base].items():
        *steps, last = path.split(".")
        node = tree
        for step in steps:
            node = node.setdefault(step, {})
        node[last] = deepcopy(value)
    return tree


def numbers(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Paths of every number with a unit, and of every filling."""
    if isinstance(node, dict):
        for key, inner in node.items():
            yield from numbers(inner, (*path, key))
    elif isinstance(node, list):
        for index, inner in enumerate(node):
            yield from numbers(inner, (*path, index))
    elif isinstance(node, str) and (NUMBER.match(node) or node in ("full", "empty", "1/2")):
        yield path


def without(tree: dict[str, Any], path: tuple[Any, ...]) -> dict[str, Any]:
    """The tree less one leaf."""
    copy = deepcopy(tree)
    node: Any = copy
    for step in path[:-1]:
        node = node[step]
    del node[path[-1]]
    return copy


_ADAPTER: TypeAdapter[Rig] = TypeAdapter(Rig)


def findings(tree: dict[str, Any]) -> dict[str, Finding]:
    """Findings of a rig by code."""
    made = assess(compute(_ADAPTER.validate_python(tree)), DAY, advise=False)
    return {f.code: f for f in made.findings}


@pytest.mark.parametrize("base", HEAVY)
def test_no_over_becomes_within_for_want_of_a_number(base: str) -> None:
    tree = tree_of(base)
    before = findings(tree)
    over = {code for code, f in before.items() if f.outcome is Outcome.OVER}
    assert len(over) >= 3, sorted(over)
    tried = 0
    for path in numbers(tree):
        words = ".".join(str(step) for step in path)
        if OWN.search(words):
            continue
        try:
            after = findings(without(tree, path))
        except ValidationError:
            continue  # a number the file may not leave out: the reader refuses it
        tried += 1
        for code in over & set(after):
            if code.startswith("tire-pressure-"):
                # Special trailer tires are set to their sidewall pressure whatever the load;
                # whether they carry it is the question of tire-load.
                assert after["tire-load-trailer"].outcome is not Outcome.WITHIN, (words, code)
                continue
            assert after[code].outcome in (Outcome.OVER, Outcome.NOT_CHECKED), (words, code, after[code])
    assert tried > 40


@pytest.mark.parametrize("base", BASES)
def test_whatever_is_missing_is_told_where_to_find(base: str) -> None:
    """Every finding that is not checked names a field."""
    tree = deepcopy(BASES[base])
    faults: set[str] = set()
    for path in numbers(tree):
        try:
            after = findings(without(tree, path))
        except ValidationError:
            continue
        for one in after.values():
            if one.outcome is not Outcome.NOT_CHECKED:
                continue
            if not one.needs and not one.message:
                faults.add(f"{one.code} is silent without {path}")
    assert sorted(faults) == []


LENGTHS = {"ft": 0.3048, "in": 0.0254}
METRIC = {"lb": (0.45359237, "kg"), "gal": (3.785411784, "L"), "mph": (1.609344, "km/h")}


def metric(text: str) -> str:
    """The same quantity in metric units, to full precision."""
    if found := re.fullmatch(r"(-?)([\d,.]+) (lb|gal|mph)", text):
        factor, unit = METRIC[found[3]]
        return f"{found[1]}{float(found[2].replace(',', '')) * factor:.12f} {unit}"
    if re.fullmatch(r"-?[\d.]+ (ft|in)( [\d.]+ in)?", text):
        parts = re.findall(r"([\d.]+) (ft|in)", text)
        total = sum(float(n) * LENGTHS[unit] for n, unit in parts)
        return f"{'-' if text.startswith('-') else ''}{total:.12f} m"
    if found := re.fullmatch(r"([\d.]+) psi", text):
        return f"{float(found[1]) * 6.894757293168361:.12f} kPa"
    return text


def translated(node: Any) -> Any:
    """A tree with every quantity in metric units."""
    if isinstance(node, dict):
        return {key: inner if key == "drum" else translated(inner) for key, inner in node.items()}
    if isinstance(node, list):
        return [translated(inner) for inner in node]
    return metric(node) if isinstance(node, str) else node


@pytest.mark.parametrize("base", ["fern", "elm"])
@pytest.mark.parametrize("heavy", [False, True])
def test_metric_and_us_inputs_give_the_same_findings(base: str, heavy: bool) -> None:
    tree = tree_of(base) if heavy else deepcopy(BASES[base])
    other = translated(tree)
    assert other != tree
    assert "lb" not in str(other["trailer"]["gvwr"])
    before, after = findings(tree), findings(other)
    assert list(before) == list(after)
    for code, one in before.items():
        same = after[code]
        assert same.outcome is one.outcome, code
        for ours, theirs in ((one.demand, same.demand), (one.capacity, same.capacity), (one.u, same.u)):
            assert theirs == pytest.approx(ours, rel=1e-9) if ours is not None else theirs is None, code
