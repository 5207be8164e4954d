"""Fields that hold one another: each comparison tells on one side of its end and not on the other."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

from cardgen.model.rig import Rig
from cardgen.model.sense.against import CONTRADICTIONS, Contradiction
from cardgen.source.codes import FAULT_CODES
from cardgen.source.shapes import shape_of, spot_at
from cardgen.units.field import Kind
from cardgen.units.parse import parse
from tests.each import each

GRAIN = 1e-3
"""How far from its end a comparison is tried [kg or m]."""


def kind_of(path: str) -> str:
    """What is measured in a field, ``mass`` or ``length``."""
    spot = spot_at(shape_of(Rig), tuple(path.split(".")))
    assert spot is not None, path
    marks = [mark for mark in (spot.shape.item or spot.shape).extra if isinstance(mark, Kind)]
    return marks[0].names[0]


def rig_with(values: dict[str, str], market: str = "us") -> Rig:
    """A rig that states these fields and nothing else."""
    rig = SimpleNamespace(market=market, trailer=SimpleNamespace(type="ball"), vehicle=SimpleNamespace())
    for path, text in values.items():
        node: Any = rig
        *groups, leaf = path.split(".")
        for group in groups:
            node.__dict__.setdefault(group, SimpleNamespace())
            node = getattr(node, group)
        setattr(node, leaf, parse(text, kind_of(path)))
    return cast("Rig", rig)


def sides(one: Contradiction) -> tuple[str, str]:
    """What is told just inside and just outside of the end."""
    unit = {"mass": "kg", "length": "m"}[kind_of(one.terms[0][0])]
    scale = 1000.0 if unit == "kg" else 1.0
    fixed = {path: (2.0 if by > 0 else 9.0) * scale for path, by in one.terms}
    moved, by = next((path, by) for path, by in one.terms if by > 0)
    rest = sum(by * fixed[path] for path, by in one.terms if path != moved)
    told = []
    for off in (-GRAIN, GRAIN):
        values = {path: f"{fixed[path]} {unit}" for path, _ in one.terms}
        values[moved] = f"{(one.most - rest) / by + off:.6f} {unit}"
        told.append(one.told(rig_with(values, one.market or "us")))
    return told[0], told[1]


@each("one", CONTRADICTIONS, ids=lambda one: f"{one.code or 'doubt'}-{one.fields[0]}")
def test_each_tells_on_one_side_of_its_end(one: Contradiction) -> None:
    inside, outside = sides(one)
    assert inside == ""
    assert outside != ""
    assert "{a}" not in outside
    assert not one.code or one.code in FAULT_CODES
    assert {*one.fields} <= {path for path, _ in one.terms}


def test_what_is_unknown_or_written_with_its_range_is_not_doubted() -> None:
    rated = {"trailer.gvwr": "4000 kg", "trailer.axles.gawr": "1500 kg"}
    (doubt,) = (one for one in CONTRADICTIONS if "trailer.axles.gawr" in one.fields)
    assert doubt.told(rig_with(rated)) == "the axles, '1500 kg', are rated for far less than '4000 kg'"
    assert doubt.told(rig_with({**rated, "trailer.axles.gawr": "2400 kg"})) == ""
    assert doubt.told(rig_with({"trailer.gvwr": "4000 kg"})) == ""
    sure = {"trailer.gvwr": "4000 kg +/- 1 kg", "trailer.axles.gawr": "1500 kg +/- 1 kg"}
    assert doubt.told(rig_with(sure)) == ""
