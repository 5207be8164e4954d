"""Numbers of the what-if part: linear forms, limits and tire steps as plain JSON values.

The page's script adds up ``base + sum(c * full * (share - state share))`` and compares; every
coefficient, base, limit and pressure step comes from here. There is no second model.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from cardgen.limits.registry import Context
from cardgen.limits.tires import tire_load
from cardgen.model.results import CaseResult, Figure, Finding, Need
from cardgen.model.rig import Rig
from cardgen.physics import balance, distribution, wheels
from cardgen.physics.engaged import stated_restoration
from cardgen.physics.footing import Footing
from cardgen.physics.linear import Linear, combine, constant, per_load
from cardgen.physics.loads import Aboard, Load
from cardgen.physics.strip import REFERENCE
from cardgen.physics.weighing import weigh
from cardgen.present.desk import Desk

LABEL_SORTS = ("cargo", "fresh", "waste", "liquid")
DEMANDS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("vehicle-front-axle", ("vehicle_front_axle", "front_alone", "front_axle_engaged")),
    ("trailer-axle-", ("axle_{}", "axle_{}_engaged")),
)
"""Checks whose demand is the largest of several totals; every other check has one."""


@dataclass(frozen=True, slots=True)
class Form:
    """A total of the what-if part.

    Args:
        words: what it is [-].
        linear: its linear form [kg].
        absolute: whether shares count from zero instead of from the stated empty state [-].
    """

    words: str
    linear: Linear
    absolute: bool = False


def forms(footing: Footing, figures: Mapping[str, Figure]) -> dict[str, Form]:
    """Make every linear total of a rig, bars engaged included when they are fitted.

    Args:
        footing: the rig's model (masses [kg], arms [m]).
        figures: figures of one case, for their words [-].
    """
    rig, loads, totals = footing.rig, footing.loads, footing.forms
    made = dict(totals)
    group, side, count = totals["trailer_axle_load"], totals["side_difference"], rig.trailer.axles.count
    equal = count == 1 or rig.trailer.axles.suspension == "equalized"
    if equal:
        made |= {f"axle_{i + 1}": combine([(1.0 / count, group)]) for i in range(count)}
    made["left_wheels"] = combine([(0.5, group), (-0.5, side)])
    made["right_wheels"] = combine([(0.5, group), (0.5, side)])
    if rig.gear.weight_distribution is not None:
        made |= _engaged(rig, totals, equal)
    out = {
        name: Form(figures[name].label if name in figures else name.replace("_", " "), form)
        for name, form in made.items()
    }
    label = per_load({x.key: 1.0 for x in loads if x.body == "trailer" and x.sort in LABEL_SORTS}, loads)
    out["label_cargo"] = Form("cargo and liquids aboard the trailer", label, absolute=True)
    return out


def _engaged(rig: Rig, totals: Mapping[str, Linear], equal: bool) -> dict[str, Linear]:
    """Axle loads with the bars engaged, linear in the tongue weight or shifted by a fixed moment."""
    place, fitted = balance.geometry(rig), rig.gear.weight_distribution
    wheelbase, overhang, length = place.wheelbase, place.overhang, place.ball_to_axles
    size = len(totals["tongue_weight"].coefficients)
    if fitted is None or not wheelbase or not overhang or not length or overhang <= 0:
        return {}
    share = stated_restoration(rig)
    if fitted.moment is not None:
        moved = distribution.shift(
            fitted.moment.si / distribution.STANDARD_GRAVITY, wheelbase, overhang, length
        )
        added = [constant(v, size) for v in (moved.front, moved.rear, moved.trailer)]
    elif share is not None:
        moment = distribution.moment_for_restoration(share, 1.0, overhang, length)
        moved = distribution.shift(moment, wheelbase, overhang, length)
        added = [combine([(v, totals["tongue_weight"])]) for v in (moved.front, moved.rear, moved.trailer)]
    else:
        return {}
    bases = ("vehicle_front_axle", "vehicle_rear_axle", "trailer_axle_load")
    names = ("front_axle_engaged", "rear_axle_engaged", "trailer_axles_engaged")
    made = {
        name: combine([(1.0, totals[base]), (1.0, extra)])
        for name, base, extra in zip(names, bases, added, strict=True)
    }
    count = rig.trailer.axles.count
    if equal:
        group = made["trailer_axles_engaged"]
        made |= {f"axle_{i + 1}_engaged": combine([(1.0 / count, group)]) for i in range(count)}
    return made


def form_data(form: Form, desk: Desk, loads: Sequence[Load], state: Aboard) -> dict[str, Any]:
    """Write one total for the page: base, the loads that matter, what is missing."""
    rows: list[list[Any]] = []
    for index, (load, coefficient) in enumerate(zip(loads, form.linear.coefficients, strict=True)):
        if coefficient == 0.0:
            continue
        was = 0.0 if form.absolute else state.shares.get(load.key)
        missing: list[Need] = []
        if was is None:
            missing += state.needs.get(load.key, ())
        if load.full is None:
            missing += load.mass_needs
        elif coefficient is None:
            missing += [*load.arm_needs, *form.linear.geometry_needs]
        rows.append([index, coefficient, was, _words(desk, missing)])
    return {
        "words": desk.say(form.words),
        "base": form.linear.base,
        "rows": rows,
        "needs": _words(desk, form.linear.base_needs),
    }


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


def footing_of(rig: Rig) -> Footing:
    """Return the model that the rig's figures are computed from, weighings that anchor it included."""
    return weigh(rig)[0]
