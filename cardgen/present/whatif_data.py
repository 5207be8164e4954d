"""Numbers of the what-if part: bases and gains, limits and tire steps as plain JSON values.

The page's script adds up ``base + sum(gain * (share - known share))`` and compares; every
base, gain, uncertainty, limit and pressure step comes from here. There is no second model.
"""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import asdict, replace
from typing import Any

from cardgen.limits.assess import assess
from cardgen.limits.tires import settled
from cardgen.model.results import Assessment, CaseResult, Finding, Need, Outcome, Thresholds, TirePlan
from cardgen.model.rig import Case, Rig
from cardgen.physics import wheels
from cardgen.physics.compute import compute
from cardgen.physics.load_model import LoadModel, by_file, lopsided
from cardgen.physics.loads import Aboard
from cardgen.physics.needs import heights_asked
from cardgen.physics.number import BASE, LAST, Number
from cardgen.physics.pressure import Job, steps, unloaded
from cardgen.physics.statics import known_state, moved_by_loads, statics
from cardgen.physics.strip import REFERENCE
from cardgen.present.rig_view import LEVELS, RigView
from cardgen.tables import scales
from cardgen.units import Quantity

LABEL = "label_cargo"
"""The one sum of what is aboard on the page; its shares count from nothing aboard [-]."""
FILLED = ("fresh", "waste", "liquid", "gas", "fuel")
"""Sorts of load that a slider fills in part; such a filling is as uncertain as one read off a
gauge [-]."""
FILL_U = scales.default_spread("fill", "estimate", 0.5).u
"""Standard uncertainty of a share that is neither empty nor full [-]."""


def shown(model: LoadModel, known: Mapping[str, Number]) -> dict[str, Number]:
    """Pick the weights that the page can add up, by id [kg].

    Args:
        model: the load model.
        known: every number in the known state.
    """
    axles = model.rig.trailer.axles
    even = axles.count == 1 or axles.suspension == "equalized"

    def wanted(name: str, number: Number) -> bool:
        if name.startswith("axle_") and not even:
            return False
        return (
            moved_by_loads(name) and bool(number.levers or name in model.seen or "engaged" not in name)
        ) or name == LABEL

    return {name: number for name, number in known.items() if wanted(name, number)}


def form_data(rig_view: RigView, model: LoadModel, name: str, number: Number, words: str) -> dict[str, Any]:
    """Write one weight for the page: base, gain of each load that matters, what is missing.

    Args:
        rig_view: the rig_view, for words.
        model: the load model.
        name: id of the weight [-].
        number: the weight in the known state [kg].
        words: what it is [-].
    """
    if name == "side_difference":
        model = by_file(model)
    rows: list[list[Any]] = []
    for i in sorted((*number.levers, *number.unsure)):
        load, lever = model.loads[i], number.levers.get(i)
        if lever == 0.0:
            continue
        was = 0.0 if name == LABEL else model.state.shares.get(load.key)
        missing: list[Need] = []
        if was is None:
            missing += model.state.needs.get(load.key, ())
        if load.full is None:
            missing += load.mass_needs
        else:
            missing += number.unsure.get(i, ())
        gain = None if load.full is None or lever is None else lever * load.full
        rows.append([i, gain, was, words_of(rig_view, missing)])
    always = number.needs if number.base is None else [n for at, n in number.wanted if at in (BASE, LAST)]
    return {
        "words": rig_view.say(words),
        "base": 0.0 if name == LABEL else number.base,
        "rows": rows,
        "needs": words_of(rig_view, () if name == LABEL else always),
    }


Row = tuple[float, Mapping[int, float], int | None]
SHARED = ("tongue_weight", "trailer_weight")
"""Weights whose inputs are kept apart, as their ratio needs to know what they share [-]."""


def spreads(model: LoadModel, names: Sequence[str]) -> dict[str, list[list[Any]]]:
    """Tabulate what each uncertain input adds to some weights as the sliders stand.

    A weight's derivative by an input is linear in the shares aboard, as the weight is, so
    two fillings of every load give ``a`` and ``b`` of ``a + sum(b share)``; the squares add
    up to the square of the uncertainty (JCGM 100:2008 5.1.2). What a slider says of a
    filling is counted by the page, see ``FILLED``.

    Args:
        model: the load model (masses [kg], arms [m]).
        names: ids of the weights [-].

    Returns:
        By weight, rows of ``a``, ``b`` by number of the load, both times the input's standard
        uncertainty [kg], and the number of the input unless several were put together.
    """
    shares, needs = {key: share or 0.0 for key, share in model.state.shares.items()}, model.state.needs
    at = known_state(model)
    rows: dict[str, dict[str, tuple[float, dict[int, float]]]] = {name: {} for name in names}
    for name in names:
        for path, slope in (at[name].by_input if name != LABEL else {}).items():
            rows[name][path] = (slope, {})
    for i, load in enumerate(model.loads):
        if load.full is None:
            continue
        was = shares.get(load.key, 0.0)
        one, two = (statics(model, Aboard({**shares, load.key: was + k}, needs)) for k in (1.0, 2.0))
        for name in names:
            start, first, second = (found[name].by_input for found in (at, one, two))
            for path in second:
                per_share = second[path] - first.get(path, 0.0)
                a, b = rows[name].get(path, (0.0, {}))
                if name != LABEL:
                    a += first.get(path, 0.0) - per_share * (was + 1.0) - start.get(path, 0.0)
                rows[name][path] = (a, {**b, i: per_share} if per_share else b)
    inputs = {path: i for i, path in enumerate(dict.fromkeys(p for found in rows.values() for p in found))}
    u = {path: model.inputs.u(Number(0.0, 0.0, {path: 1.0})) for path in inputs}
    out = {}
    for name, found in rows.items():
        table = [
            (a * u[path], {i: slope * u[path] for i, slope in b.items()}, inputs[path])
            for path, (a, b) in found.items()
            if u[path] and (a or b)
        ]
        out[name] = _brief(table if name in SHARED else _joined(table))
    return out


def _joined(table: Sequence[Row]) -> list[Row]:
    """Put rows that go up and down together into one, whose square is the sum of theirs."""
    together: dict[Any, Row] = {}
    for a, b, number in table:
        key: Any = number
        if len(b) < 2:
            at = next(iter(b), -1)
            key = (at, round(a / b[at], 9) if b else 0.0)
        old_a, old_b, _ = together.get(key, (0.0, {}, None))
        joined = {i: math.hypot(slope, old_b.get(i, 0.0)) for i, slope in b.items()}
        if len(b) == 1:
            together[key] = (key[1] * joined[key[0]], joined, None)
        else:
            together[key] = (math.hypot(a, old_a), {}, None) if not b else (a, b, None)
    return list(together.values())


def _brief(table: Sequence[Row]) -> list[list[Any]]:
    """Cut the rows to the digits that can matter, so that the page stays small."""

    def cut(value: float) -> float:
        short = float(f"{value:.4g}")
        return int(short) if short.is_integer() else short

    return [
        [cut(a), {i: cut(slope) for i, slope in b.items()}, *([] if number is None else [number])]
        for a, b, number in table
    ]


def words_of(rig_view: RigView, needs: Sequence[Need]) -> list[str]:
    """What is missing, in words, each once [-]."""
    return list(dict.fromkeys(rig_view.say(rig_view.formatter.need(n)) for n in needs))


def known_case(rig_view: RigView, case: CaseResult, names: Sequence[str]) -> dict[str, Any]:
    """What the program itself says of a declared case, by weight: its value, or what is missing.

    Args:
        rig_view: the rig_view, for words.
        case: the loading case.
        names: ids of the figures [-]; those of another case are left to the page.
    """
    seen = {name: case.figures[name] for name in names if name in case.figures}
    return {
        "values": {n: None if f.value is None else float(f"{f.value:.11g}") for n, f in seen.items()},
        "missing": {
            n: words_of(rig_view, figure.needs) for n, figure in seen.items() if figure.value is None
        },
    }


def rivals(cases: Sequence[CaseResult], names: Sequence[str]) -> dict[str, list[float | None]]:
    """How far the rig file lies from the scale where the two differ, and its standard uncertainty; the worse
    of the two counts for each limit.

    Args:
        cases: loading cases of which the first that differs speaks.
        names: ids of the figures [-].
    """
    out: dict[str, list[float | None]] = {}
    for figure in (case.figures[name] for case in cases for name in names if name in case.figures):
        if figure.rival is not None and figure.value is not None:
            out.setdefault(figure.id, [figure.rival[0] - figure.value, figure.rival[1]])
    return out


OPEN = Outcome.NOT_CHECKED


def _lost(
    finding: Finding, cases: Sequence[CaseResult], known: Container[str], apart: Container[str]
) -> list[Need]:
    """What is missing for figures that a check looks at and the page has no total of, and what keeps the
    check open whatever is aboard, such as a rating that is in doubt.

    Args:
        finding: the check.
        cases: the loading cases it looked at.
        known: weights that the page adds up, by id [-].
        apart: fields that the page itself asks for [-].
    """
    figures = finding.figures
    lost = [cases[0].figures[n] for n in figures if n not in known and n in cases[0].figures]
    needs = [need for figure in lost if figure.value is None for need in figure.needs]
    told = {
        need.path for case in cases for n in figures if n in case.figures for need in case.figures[n].needs
    }
    if finding.outcome in (
        OPEN,
        Outcome.OVER,
    ):  # past a limit at one setting, at another what is missing counts
        needs += [n for n in finding.needs if n.path not in told and n.path not in apart]
    return needs


def otherwise(rig_view: RigView, model: LoadModel) -> Assessment:
    """What the program says with nothing aboard but who drives, for what keeps a check open at any other setting.

    Args:
        rig_view: the rig_view.
        model: its load model.
    """
    rig = rig_view.rig
    people = sorted(
        (p for p in rig.occupants if p.weight is not None), key=lambda p: p.weight.si if p.weight else 0.0
    )
    empty = Quantity(0.0, "fraction")
    bare = Case(
        name="what if",
        tanks=dict.fromkeys(rig.trailer.tanks, empty),
        cylinders=dict.fromkeys(rig.trailer.cylinders, empty),
        occupants=tuple(p.name for p in (people or rig.occupants)[:1]),
        fuel=empty if rig.vehicle.fuel else None,
    )
    made = compute(replace(rig, cases=(bare,)), deep=False, ground=model)
    return assess(made, rig_view.assessment.day, advise=False)


def check_data(rig_view: RigView, model: LoadModel, known: Container[str]) -> Iterator[dict[str, Any]]:
    """Write the checks whose demand the page can work out: words, totals and what they are held against."""
    cases, apart = rig_view.assessment.computed.cases, {n.path for n in heights_asked(rig_view.rig)}
    bare = otherwise(rig_view, model)
    moved = {f.code: _lost(f, bare.computed.cases, known, apart) for f in bare.findings}
    for finding in rig_view.findings:
        names = [n for n in finding.figures if n in known]
        limits = finding.thresholds
        if finding.code.startswith("tire-load-") or not names or limits == Thresholds():
            continue
        needs = _lost(finding, cases, known, apart)
        yield {
            "code": finding.code,
            "words": rig_view.say(finding.title),
            "of": names,
            "needs": words_of(rig_view, needs),
            "moved": words_of(rig_view, moved.get(finding.code, needs)),
            "limit": finding.capacity,
            "low": finding.low,
            "kind": finding.kind,
            "thresholds": asdict(limits),
            "open": _left_open(rig_view, names),
        }


def _left_open(rig_view: RigView, names: Sequence[str]) -> dict[str, float]:
    """How far some figures may lie either way as nobody measured how level the trailer rides [SI], by id."""
    cases = rig_view.assessment.computed.cases
    figures = [case.figures[name] for case in cases for name in names if name in case.figures]
    return {f.id: f.value - f.low for f in figures if f.value is not None and f.low is not None}


def tire_data(rig_view: RigView, model: LoadModel, place: str, known: Container[str]) -> dict[str, Any]:
    """Write how the heavier wheel's load follows from the totals, what it is held against, and the
    pressures: [wheel load up to which one holds [kg], status, pressure [Pa gauge], level]."""
    computed = rig_view.assessment.computed
    asked = wheels.job(computed, place)
    load = next((f for f in rig_view.findings if f.code == f"tire-load-{place}"), None)
    if asked is None or load is None:
        return {"of": []}
    scale = wheels.weighed_wheels(rig_view.rig) if place == "trailer" else None
    strip = computed.strips.get(place)
    groups = (case.figures["trailer_axle_load"].value for case in computed.cases)
    return {
        "of": [n for n in load.figures if n in known],
        "needs": _missing(rig_view, load, known),
        "wheels": asked.tires_on_axle,
        "lean": [
            n
            for n in ("side_difference", "trailer_axle_load", "trailer_weight")
            if n in known and place == "trailer"
        ],
        "sides": ["left_wheels", "right_wheels"] if place == "trailer" and "left_wheels" in known else [],
        "share": scale.share if scale is not None and scale.share is not None else 1.0,
        "weighed": asked.weighed or 0.0,
        "assumed": asked.assumed,
        "every": asked.every_wheel,
        "allowance": asked.side_allowance,
        "lopsided": lopsided(model, max((load for load in groups if load is not None), default=None)),
        "steps": tire_steps(rig_view.rig, asked),
        "unloaded": _said(rig_view.rig, unloaded(asked)),
        "thresholds": asdict(load.thresholds),
        "reference": REFERENCE if strip is None else strip.reference,
        "kind": f"pressure {place}",
    }


def _missing(rig_view: RigView, load: Finding, known: Container[str]) -> list[str]:
    """What is missing for loads of tires that the page has no total of."""
    figures = rig_view.assessment.computed.cases[0].figures
    lost = [figures[n] for n in load.figures if n not in known and n in figures]
    return words_of(rig_view, [need for figure in lost if figure.value is None for need in figure.needs])


def tire_steps(rig: Rig, asked: Job) -> list[list[Any]]:
    """List the pressures of a tire, neighbours that say the same put together."""
    rows: list[list[Any]] = []
    for end, held in steps(asked):
        said = _said(rig, held)
        if rows and rows[-1][1:] == said:
            rows.pop()
        rows.append([end, *said])
    return rows


def _said(rig: Rig, held: TirePlan) -> list[Any]:
    return [held.status, held.pressure, LEVELS[settled(rig, held)]]
