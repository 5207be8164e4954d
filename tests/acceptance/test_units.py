"""The same rig in US and in metric units: the same findings, and numbers that agree."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from cardgen.model.read import judge
from cardgen.model.rig import Rig
from cardgen.model.written import quantities
from cardgen.present.format import ENDS, SAID
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import RigView
from cardgen.source.disk import Disk
from cardgen.source.faults import dotted
from cardgen.source.limits import Bounds
from cardgen.source.parts import load
from cardgen.source.tree import Node
from cardgen.units import Quantity, System, convert
from cardgen.units.show import style_of
from tests.acceptance.shed import DAY, DEMO, OVERLOADED, RIGS, here, results_of
from tests.each import each
from tests.model.test_mutations import changed, fields

FILES = [*(RIGS / f"{name}.yaml" for name in DEMO), OVERLOADED]
POUND_FORCE = 4.4482216152605  # N, exact: pound times 9.80665 m/s2
SI = {
    "mass": {"kg": 1.0, "lb": 0.45359237},
    "length": {"m": 1.0, "in": 0.0254},
    "distance": {"km": 1000.0, "mi": 1609.344},
    "volume": {"L": 0.001, "US gal": 0.003785411784},
    "speed": {"km/h": 1 / 3.6, "mph": 0.44704},
    "pressure": {"kPa": 1000.0, "psi": POUND_FORCE / 0.0254**2},
    "torque": {"N m": 1.0, "lb-ft": POUND_FORCE * 0.3048},
    "rate": {"N/mm": 1000.0, "lb/in": POUND_FORCE / 0.0254},
    "force": {"kN": 1000.0, "lbf": POUND_FORCE},
}
"""The metric and the US spelling of every kind with its size in SI units.

Source: NIST Special Publication 811 (2008), Appendix B.8: pound 0.453 592 37 kg, inch 0.0254 m,
mile 1609.344 m, US gallon 3.785 411 784 L, all exact; the others are made of these.
"""
CLOSE = 1e-9


def rewritten(quantity: Quantity) -> str | None:
    """The same quantity in the other system of units; None where there is only one spelling."""
    units = SI.get(quantity.kind)
    if units is None:
        return None
    metric, us = units
    target = us if re.search(rf"({metric}|cm|mm|bar|\bm|\bg|\bt)\s*($|\+)", quantity.text) else metric
    words = f"{quantity.si / units[target]:.14f} {target}"
    if quantity.half_width is not None:
        words += f" +/- {quantity.half_width / units[target]:.14f} {target}"
    return words


def translated(file: Path) -> tuple[Rig, Rig, int]:
    """A rig, the same rig in other units, and how many texts differ."""
    whole = load(file, Disk(), Bounds())
    first = judge(whole, file).rig
    assert first is not None
    assert whole.top is not None
    paths = {dotted(path): path for path in fields(whole.top)}
    top, count = whole.top, 0
    for _, quantity in quantities(first):
        words = rewritten(quantity)
        if words is not None and quantity.path in paths:
            path = paths[quantity.path]
            node: Node = top
            top, count = changed(top, path, Node(words, node.place)), count + 1
    found = judge(replace(whole, top=top), file)
    assert found.rig is not None, found.faults
    return first, found.rig, count


@each("file", FILES, ids=lambda path: path.stem)
def test_a_rig_written_in_the_other_units_is_found_the_same(file: Path) -> None:
    first, second, count = translated(file)
    assert count > 50
    day = dt.date.fromisoformat(DAY)
    one, other = prepare(first, day, None, "us"), prepare(second, day, None, "us")
    assert findings(one) == findings(other)
    assert items(one) == items(other)
    compare(figures(one), figures(other))


def findings(rig_view: RigView) -> list[tuple[str, str, str, str | None]]:
    return [(f.code, f.outcome.value, f.title, f.case) for f in rig_view.assessment.findings]


def items(rig_view: RigView) -> list[tuple[str, str, str]]:
    """Every item with its text, numbers rounded for people included.

    A ball's size is printed as it is stamped, which is what the file says, so it is left out.
    """
    lines = [line for phase in rig_view.checklist.phases for line in phase.items]
    return [
        (line.id, *(("", "") if line.id in ("ball-size", "lend-ball") else (line.text, line.seen)))
        for line in lines
    ]


def figures(rig_view: RigView) -> dict[str, float | None]:
    computed = rig_view.assessment.computed
    found = {f"{c.name} {name}": f.value for c in computed.cases for name, f in c.figures.items()}
    found |= {name: figure.value for name, figure in computed.figures.items()}
    found |= {f"demand {f.code}": f.demand for f in rig_view.assessment.findings}
    return found | {f"capacity {f.code}": f.capacity for f in rig_view.assessment.findings}


def compare(one: dict[str, float | None], other: dict[str, float | None]) -> None:
    assert one.keys() == other.keys()
    assert sum(value is not None for value in one.values()) > 50
    for name, value in one.items():
        if value is None:
            assert other[name] is None, name
        else:
            assert other[name] == pytest.approx(value, rel=CLOSE, abs=CLOSE), name


@each("file", FILES, ids=lambda path: path.stem)
def test_units_asked_for_change_the_words_only(file: Path) -> None:
    us, metric = results_of(file, "--units", "us"), results_of(file, "--units", "metric")
    assert (us["units"], metric["units"]) == ("us", "metric")
    assert us["outcome"] == metric["outcome"]
    assert [key_of(f) for f in us["findings"]] == [key_of(f) for f in metric["findings"]]
    assert lines_of(us) == lines_of(metric)
    one, other = dict(values(us)), dict(values(metric))
    assert one.keys() == other.keys()
    assert len(one) > 200
    for path, value in one.items():
        assert other[path]["si"] == value["si"], path
        assert other[path]["unit"] == value["unit"], path
        assert (other[path]["shown"] is None) == (value["shown"] is None), path


def key_of(finding: dict[str, Any]) -> tuple[Any, ...]:
    return tuple(finding[name] for name in ("code", "outcome", "case", "critical", "basis"))


def lines_of(rig: dict[str, Any]) -> list[str]:
    return [item["id"] for phase in rig["checklist"]["phases"] for item in phase["items"]]


def values(node: Any, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every value of the results with its path."""
    if isinstance(node, dict):
        if {"si", "unit", "shown"} <= node.keys():
            yield path, node
        for name, inner in node.items():
            yield from values(inner, f"{path}.{name}")
    elif isinstance(node, list):
        for number, inner in enumerate(node):
            yield from values(inner, f"{path}[{number}]")


@each("units", ["us", "metric"])
@each("file", FILES, ids=lambda path: path.stem)
def test_shown_numbers_are_the_si_numbers_rounded(file: Path, units: str) -> None:
    """Half of the last printed digit is the most that a shown number is off; instructions round inward."""
    checked = 0
    for path, value in values(results_of(file, "--units", units)):
        found = re.fullmatch(r"(-?[\d,]+)(\.\d+)? ?(lb|kg|psi|bar|%|mph|km/h|in|mm)", value["shown"] or "")
        if found is None:
            continue
        kind = {"lb": "mass", "kg": "mass", "psi": "pressure", "bar": "pressure", "%": "fraction"}.get(
            found[3], "speed" if found[3] in ("mph", "km/h") else "length"
        )
        shown = float((found[1] + (found[2] or "")).replace(",", ""))
        system: System = "us" if found[3] in ("lb", "psi", "mph", "in") else "metric"
        exact = convert(value["si"], kind, system)
        step = 10.0 ** -len((found[2] or ".")[1:])
        if found[3] == "in":
            step = 1.0 / 8 if step == 1.0 else step
        assert style_of(kind, system).printed == found[3]
        assert system == units or kind in ("length", "fraction", "speed"), (
            path
        )  # balls as stamped, speeds as signed
        last = path.rsplit(".", 1)[-1]
        end = SAID.get(last) if ".values." in path and kind == "mass" else ENDS.get(last)
        if end is None:
            assert abs(shown - exact) <= step / 2 + 1e-9, f"{path}: {value}"
        else:  # an instruction: what is printed lies inside what is allowed
            inward = exact - shown if end == "upper" else shown - exact
            assert -1e-6 <= inward < step, f"{path}: {value}"
        checked += 1
    assert checked > 80


def test_without_a_wish_the_market_decides() -> None:
    assert results_of(RIGS / "wren.yaml")["units"] == "us"
    assert results_of(RIGS / "dormouse.yaml")["units"] == "metric"


def test_no_other_units_than_these() -> None:
    with pytest.raises(SystemExit) as stop:
        here("results", str(RIGS / "wren.yaml"), "--units", "stone")
    assert stop.value.code == 2
