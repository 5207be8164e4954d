"""Numbers of the what-if part: bases and gains, limits and tire steps as plain JSON values.

The page's script adds up ``base + sum(gain * (share - known share))`` and compares; every
base, gain, uncertainty, limit and pressure step comes from here. There is no second model.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from cardgen.limits.registry import Context
from cardgen.limits.tires import tire_load
from cardgen.model.results import CaseResult, Figure, Finding, Need
from cardgen.model.rig import Rig
from cardgen.physics import wheels
from cardgen.physics.load_model import LoadModel
from cardgen.physics.loads import Aboard
from cardgen.physics.number import Number
from cardgen.physics.statics import known_state, moved_by_loads, statics
from cardgen.physics.strip import REFERENCE
from cardgen.present.desk import Desk
from cardgen.tables import scales

LABEL = "label_cargo"
"""The one sum of what is aboard on the page; its shares count from nothing aboard [-]."""
FILLED = ("fresh", "waste", "liquid", "gas", "fuel")
"""Sorts of load that a slider fills in part; such a filling is as uncertain as one read off a
gauge [-]."""
FILL_U = scales.default_spread("fill", "estimate", 0.5).u
"""Standard uncertainty of a share that is neither empty nor full [-]."""
DEMANDS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("vehicle-front-axle", ("vehicle_front_axle", "front_alone", "front_axle_engaged")),
    ("trailer-axle-", ("axle_{}", "axle_{}_engaged")),
)
"""Checks whose demand is the largest of several totals; every other check has one."""


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
        return (moved_by_loads(name) and bool(number.levers or "engaged" not in name)) or name == LABEL

    return {name: number for name, number in known.items() if wanted(name, number)}


def form_data(desk: Desk, model: LoadModel, name: str, number: Number, words: str) -> dict[str, Any]:
    """Write one weight for the page: base, gain of each load that matters, what is missing.

    Args:
        desk: the desk, for words.
        model: the load model.
        name: id of the weight [-].
        number: the weight in the known state [kg].
        words: what it is [-].
    """
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
        rows.append([i, gain, was, _words(desk, missing)])
    return {
        "words": desk.say(words),
        "base": 0.0 if name == LABEL else number.base,
        "rows": rows,
        "needs": _words(desk, () if number.base is not None or name == LABEL else number.needs),
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


def _words(desk: Desk, needs: Sequence[Need]) -> list[str]:
    return list(dict.fromkeys(desk.say(desk.shower.need(n)) for n in needs))


def demands(finding: Finding) -> tuple[str, ...]:
    """Return the totals whose largest is the demand of a finding [-]; none when it is no such check."""
    for prefix, names in DEMANDS:
        if finding.code.startswith(prefix):
            part = finding.code.removeprefix(prefix)
            return tuple(name.format(part) for name in names)
    return (finding.demand_figure,) if finding.demand_figure else ()


def check_data(desk: Desk, known: Mapping[str, object], close: float) -> Iterator[dict[str, Any]]:
    """Write the limits that the page compares with: code, words, totals, limit, band, margin."""
    for finding in desk.findings:
        names = [n for n in demands(finding) if n in known or n == "tongue_share"]
        if not names or finding.kind not in ("mass", "fraction"):
            continue
        open_end = finding.capacity is None or finding.capacity == float("inf")
        if open_end and finding.low is None:
            continue
        yield {
            "code": finding.code,
            "words": desk.say(finding.title),
            "of": names,
            "limit": None if open_end else finding.capacity,
            "low": finding.low,
            "band": finding.low is not None,
            "kind": finding.kind,
            "close": close,
            "u": finding.u,
            "critical": finding.critical,
        }


def tire_totals(rig: Rig, place: str) -> tuple[str, ...]:
    """Return the totals whose largest loads the axle of a place [-]."""
    if place != "trailer":
        return (f"vehicle_{place}_axle", f"{place}_alone", f"{place}_axle_engaged")
    count = rig.trailer.axles.count
    return tuple(f"axle_{i + 1}{end}" for i in range(count) for end in ("", "_engaged"))


@dataclass(frozen=True, slots=True)
class Answer:
    """What tire plan and tire check say for one load of the heavier wheel [kg], [Pa gauge]."""

    wheel: float
    sure: float
    status: str
    pressure: float | None
    outcome: str

    @property
    def says(self) -> tuple[str, float | None, str]:
        """What the page prints."""
        return self.status, self.pressure, self.outcome


def tire_at(desk: Desk, place: str, load: float) -> Answer:
    """Ask the tire computation what holds when each axle of a place carries a load.

    Args:
        desk: the desk.
        place: ``trailer``, ``front`` or ``rear`` [-].
        load: load of one axle [kg].
    """
    computed = desk.assessment.computed
    unknown = {n: Figure(n, n, "mass", None, "") for n in ("left_wheels", "right_wheels")}
    known = {n: Figure(n, n, "mass", load, "") for n in tire_totals(computed.rig, place)}
    probe = replace(computed, cases=(CaseResult("", unknown | known),), figures={})
    plan = wheels.plans(probe)[place]
    probe = replace(probe, tires={**computed.tires, place: plan})
    found = tire_load(Context(probe, desk.assessment.day))
    outcome = next((f.outcome.value for f in found if f.code == f"tire-load-{place}"), "not checked")
    return Answer(plan.wheel_load or 0.0, plan.sure_load or 0.0, plan.status, plan.pressure, outcome)


GRID = 10.0
"""Distance of the loads at which the tire computation is asked [kg]; steps lie further apart."""


def tire_steps(desk: Desk, place: str, span: float) -> tuple[list[list[Any]], float | None]:
    """Tabulate pressure and outcome against the load of the heavier wheel; they change in steps.

    Every interval of the grid in which the answer changes is halved until the step is
    known to the last bit.

    Args:
        desk: the desk.
        place: ``trailer``, ``front`` or ``rear`` [-].
        span: largest axle load to tabulate [kg].

    Returns:
        Steps as [wheel load up to which it holds [kg], status, pressure [Pa gauge],
        outcome], the last without an end; and the surely carried load above which the
        tires are overloaded [kg].
    """
    steps: list[list[Any]] = []
    most: float | None = None
    low, before = 0.0, tire_at(desk, place, 0.0)
    while low < span and most is None:
        high, after = low + GRID, tire_at(desk, place, low + GRID)
        if after.says != before.says:
            high, before = _edge(desk, place, low, high, before)
            after = tire_at(desk, place, high)
            if after.status == "overloaded":
                most = before.sure
                break
            steps.append([before.wheel, *before.says])
        low, before = high, after
    steps.append([None, *before.says])
    return steps, most


def _edge(desk: Desk, place: str, low: float, high: float, before: Answer) -> tuple[float, Answer]:
    """Return the first load with another answer [kg], and the last answer before it."""
    while True:
        middle = (low + high) / 2.0
        if middle in (low, high):
            return high, before
        asked = tire_at(desk, place, middle)
        if asked.says == before.says:
            low, before = middle, asked
        else:
            high = middle


def tire_data(desk: Desk, place: str, known: Mapping[str, object]) -> dict[str, Any]:
    """Write how the heavier wheel's load follows from the totals, and the steps it is looked up in."""
    rig, plan = desk.rig, desk.assessment.computed.tires[place]
    on_trailer = place == "trailer"
    count = (
        rig.trailer.axles.tires_per_axle
        if on_trailer
        else rig.vehicle.tires.rear_count
        if place == "rear"
        else 2
    )
    scale = wheels.weighed_wheels(rig) if on_trailer else None
    stated = rig.limits.side_allowance
    capacity = plan.capacity if plan.capacity is not None else 1500.0
    steps, most = tire_steps(desk, place, capacity * count * 1.2)
    sides = ["left_wheels", "right_wheels"] if on_trailer and "left_wheels" in known else []
    return {
        "of": [n for n in tire_totals(rig, place) if n in known],
        "wheels": count,
        "sides": sides,
        "share": scale.share if scale is not None and scale.share is not None else 1.0,
        "weighed": scale.tire if scale is not None else 0.0,
        "every": scale is not None and scale.every,
        "allowance": wheels.SIDE_ALLOWANCE if stated is None else stated.si,
        "steps": steps,
        "most": most,
        "capacity": plan.capacity,
        "reference": desk.assessment.computed.strips[place].reference
        if place in desk.assessment.computed.strips
        else REFERENCE,
    }
