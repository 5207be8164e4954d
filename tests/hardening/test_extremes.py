"""Every field at both ends of what it takes, and at every word it takes: a rig or faults, no exception."""

from __future__ import annotations

import datetime as dt
import json
import math
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from cardgen.bundle.maker import Draft
from cardgen.bundle.reading import FURTHER
from cardgen.limits.assess import assess
from cardgen.model.read import judge
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from cardgen.present.results import results
from cardgen.source.disk import Disk
from cardgen.source.faults import Path as Field
from cardgen.source.faults import dotted
from cardgen.source.limits import Bounds
from cardgen.source.parts import Loaded, load
from cardgen.source.shapes import Shape, shape_of, spot_at
from cardgen.source.tree import Node
from cardgen.units.field import Kind
from cardgen.units.kinds import RANGES
from cardgen.units.scalars import Scalar
from tests.conftest import long_run
from tests.hardening.hostile import FULL, MAKER, OPTIONS
from tests.hardening.inputs import DATA, RIGS
from tests.model.test_mutations import changed, fields

FILES = (FULL, DATA / "overloaded.yaml", *(RIGS / f"{name}.yaml" for name in ("otter", "stork", "dormouse")))
"""The fullest rig, and one of each sort: overloaded, surge brakes, bed hitch, metric."""
UNIT = {
    "mass": "kg", "length": "m", "distance": "m", "volume": "L", "pressure": "kPa", "temperature": "K", "speed": "m/s",
    "torque": "N m", "force": "N", "rate": "N/mm", "fraction": "%", "voltage": "V", "current": "A", "charge": "Ah",
    "resistance": "ohm", "area": "mm2", "duration": "days", "angle": "deg",
}  # fmt: skip
SIZE = {
    "volume": 1e-3,
    "pressure": 1e3,
    "rate": 1e3,
    "fraction": 1e-2,
    "charge": 3600,
    "area": 1e-6,
    "duration": 86400,
    "angle": 0.017453,
}
"""One unit of ``UNIT`` in SI units, where that is not 1."""
SCALARS = {
    "boolean": ("true", "false"),
    "integer": ("0", "1", "2", "3", "4", "9999"),
    "number": ("0", "0.000001", "999999"),
    "string": ("1940-01-01", "2000-02-29", "2026-11-25", "2100-12-31"),
}


def ends(shape: Shape) -> Iterator[str]:
    """Texts at the ends of what a leaf takes."""
    yield from shape.choices
    for mark in shape.extra:
        if isinstance(mark, Kind):
            yield from (word for word, _ in mark.words)
            for kind in mark.names:
                limits, size = RANGES[kind], SIZE.get(kind, 1.0)
                low = -limits.high if mark.signed else limits.low
                for si in (low, low + (limits.high - low) * 1e-6, limits.high):
                    yield f"{si / size:.9f} {UNIT[kind]}"
                yield f"{(low + limits.high) / 2 / size:.9f} {UNIT[kind]} +/- 500 %"
        if isinstance(mark, Scalar):
            yield from SCALARS[str(mark.schema["type"])]


@cache
def loaded(file: Path) -> Loaded:
    return load(file, Disk(), Bounds())


def top_of(file: Path) -> Node:
    """The whole of a file, which can be read."""
    top = loaded(file).top
    assert top is not None
    return top


def test_ends_of_every_field() -> None:
    """One in 23 of the ends of the fields in the first file that has it; in the long run every end in every file."""
    shape, counts, wrong = shape_of(Rig), {"rig": 0, "faults": 0}, []
    tried: set[tuple[str, str]] = set()
    for file, path in ((one, path) for one in FILES for path in fields(top_of(one))):
        spot, whole = spot_at(shape, path), loaded(file)
        if spot is None or spot.shape.form != "leaf":
            continue
        for text in ends(spot.shape):
            alike = (dotted(tuple("*" if isinstance(step, int) else step for step in path)), text)
            if alike in tried and not long_run():
                continue
            tried.add(alike)
            if len(tried) % 23 and not long_run():
                continue
            try:
                counts[outcome(whole, file, path, text)] += 1
            except Exception as problem:
                wrong.append(f"{file.stem} {dotted(path)}: {text}: {type(problem).__name__}: {problem}")
    assert wrong == []
    assert counts["rig"] > 30, counts
    assert counts["faults"] > 2, counts


def outcome(whole: Loaded, file: Path, path: Field, text: str) -> str:
    """What came of one field at one end."""
    assert whole.top is not None
    top = changed(whole.top, path, Node(text, whole.top.place, True))
    found = judge(Loaded(top, whole.faults, whole.files, whole.holes), file, FURTHER)
    if found.rig is None:
        return "faults"
    described = MAKER.describe(found, OPTIONS)
    assert described.cards
    assert isinstance(described.model, Draft)
    json.dumps(results(described.model.rig_view), allow_nan=False)
    return "rig"


def test_zero_below_zero_nearly_zero_and_far_too_much() -> None:
    """Every quantity of a whole rig: a fault at the field's own line, or figures that are numbers."""
    file = RIGS / "otter.yaml"
    whole, shape, wrong = loaded(file), shape_of(Rig), []
    assert whole.top is not None
    for path in fields(whole.top):
        spot = spot_at(shape, path)
        kinds = [mark.names[0] for mark in spot.shape.extra if isinstance(mark, Kind)] if spot else []
        for text in (
            f"{size} {UNIT[kind]}" for kind in kinds for size in ("0", "-1", "0.000000001", "1000000000")
        ):
            top = changed(whole.top, path, Node(text, whole.top.place, True))
            found = judge(Loaded(top, whole.faults, whole.files, whole.holes), file, FURTHER)
            if found.rig is None:
                wrong += [f"{dotted(path)}: {text}: {fault}" for fault in found.faults if fault.line < 1]
                continue
            made = assess(compute(found.rig), dt.date(2026, 11, 25), advise=False)
            values = [f.value for case in made.computed.cases for f in case.figures.values()]
            values += [number for finding in made.findings for number in (finding.demand, finding.capacity)]
            if not all(value is None or math.isfinite(value) for value in values):
                wrong.append(f"{dotted(path)}: {text}: a figure is no number")
    assert wrong == []
