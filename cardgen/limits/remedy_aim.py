"""What a finding asks for: by how much its figure must change in which loading cases.

Every demand is a total of the linear model, or the ratio of two. Its limit turns into
``top - aim * bottom <= 0`` (or ``>= 0``), which stays linear, so amounts are solved
exactly before the engine checks the whole changed rig again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from cardgen.limits.legal import free_below
from cardgen.limits.registry import Context
from cardgen.model.figure import COVERAGE
from cardgen.model.parts import TrailerLoad, VehicleLoad
from cardgen.model.results import Assessment, CaseResult, Finding, Outcome
from cardgen.physics.load_model import LoadModel, moved_onto
from cardgen.physics.statics import known_state, moved_by_loads
from cardgen.units import Quantity

BEHIND = {
    "tire-load-trailer": "trailer_axle_load",
    "tire-load-front": "vehicle_front_axle",
    "tire-load-rear": "vehicle_rear_axle",
}
"""Total that a demand without a figure of its own is proportional to [-]."""
COUNTED = ("label_cargo", "label_cargo_old")
"""What a label counts: no weight on anything, and yet as much as is put in [-]."""
ROOM = 1e-6
"""Relative room left so that rounding does not spoil a re-check [-]."""


@dataclass(frozen=True, slots=True)
class Aim:
    """What has to change.

    Args:
        finding: the finding.
        figure: id of the total or ratio [-].
        aim: value to reach [SI].
        sign: +1 when the figure must come down, -1 when it must go up [-].
        gaps: what is too much in each case, ``sign * (top - aim * bottom)`` [kg], above zero
            only for the cases that need a change.
    """

    finding: Finding
    figure: str
    aim: float
    sign: float
    gaps: Mapping[str, float]

    @property
    def cases(self) -> tuple[str, ...]:
        """Loading cases that need a change [-]."""
        return tuple(name for name, gap in self.gaps.items() if gap > 0)


@dataclass(frozen=True, slots=True)
class Slopes:
    """Change of a total per kg put in at a place: ``start + slope * place`` for each body.

    Args:
        trailer: start [-] and slope [1/m] for a place behind the coupling.
        vehicle: the same for a place ahead of the rear axle.
    """

    trailer: tuple[float, float]
    vehicle: tuple[float, float]

    def at(self, body: str, place: float) -> float:
        """Change per kg at a place [m] of trailer or vehicle [-]."""
        start, slope = self.trailer if body == "trailer" else self.vehicle
        return start + slope * place


def slopes(ground: LoadModel) -> dict[str, Slopes]:
    """Read from the statics how each total answers to a load put in anywhere.

    Two probes of trailer and vehicle, at place 0 and 1 m, give start and slope, as every
    coefficient is linear in the place.
    """
    rig, none = ground.rig, Quantity(0.0, "length")
    one, mass = Quantity(1.0, "length"), Quantity(1.0, "mass")
    inside = tuple(TrailerLoad(name=f"probe {q.si}", weight=mass, x=q, y=none) for q in (none, one))
    carried = tuple(VehicleLoad(name=f"probe {q.si}", weight=mass, ahead_of_rear_axle=q) for q in (none, one))
    probed = replace(
        rig,
        trailer=replace(rig.trailer, cargo=(*rig.trailer.cargo, *inside)),
        vehicle=replace(rig.vehicle, cargo=(*rig.vehicle.cargo, *carried)),
    )
    model = moved_onto(ground, probed)
    number = {load.key: i for i, load in enumerate(model.loads)}
    probes = [number[f"{key}.probe {q}"] for key in ("cargo", "carried") for q in (0.0, 1.0)]
    out = {}
    for name, total in known_state(model).items():
        if (
            (moved_by_loads(name) or name in COUNTED)
            and total.levers
            and not total.unsure.keys() & set(probes)
        ):
            a0, a1, b0, b1 = (total.levers.get(i, 0.0) for i in probes)
            out[name] = Slopes((a0, a1 - a0), (b0, b1 - b0))
    return out


def top_and_bottom(case: CaseResult, figure: str) -> tuple[float, float] | None:
    """Numerator and denominator of a figure in a case [kg, -]; None when unknown."""
    if figure == "tongue_share":
        top, bottom = case.figures["tongue_weight"].value, case.figures["trailer_weight"].value
        return None if top is None or bottom is None else (top, bottom)
    total = case.figures.get(figure)
    return None if total is None or total.value is None else (total.value, 1.0)


def aim_for(assessment: Assessment, finding: Finding, *, clear: bool = True) -> Aim | None:
    """Turn a finding into an aim; None when it is no matter of load.

    Args:
        assessment: the assessment.
        finding: a finding that is close or over.
        clear: whether it must come in with its whole interval of uncertainty and with what is
            to be left, or the value only [-].
    """
    figure, target = finding.demand_figure or BEHIND.get(finding.code, ""), None
    if finding.code.startswith("law-") and finding.outcome is Outcome.OVER:
        free = free_below(Context(assessment.computed, assessment.day), finding.code)
        figure, target = "trailer_weight", None if free is None else (free, 1.0)
    elif finding.demand is not None and figure:
        target = _target(finding, clear)
    if target is None:
        return None
    value, sign = target
    if finding.code in BEHIND and not finding.demand_figure and finding.demand:
        cases = [c for c in assessment.computed.cases if c.name == finding.case]
        pair = top_and_bottom(cases[0], figure) if cases else None
        if pair is None:
            return None
        value = pair[0] * value / finding.demand
    gaps = {}
    for case in assessment.computed.cases:
        pair = top_and_bottom(case, figure)
        if pair is None:
            return None
        gap = sign * (pair[0] - value * pair[1])
        gaps[case.name] = gap if gap > ROOM * abs(value * pair[1]) else 0.0
    return Aim(finding, figure, value, sign, gaps) if any(g > 0 for g in gaps.values()) else None


def more(aim: Aim | None, factor: float) -> Aim | None:
    """The same aim with larger gaps.

    Args:
        aim: an aim, or None.
        factor: by what its gaps are multiplied [-].
    """
    return None if aim is None else replace(aim, gaps={name: gap * factor for name, gap in aim.gaps.items()})


def _ends(finding: Finding, clear: bool) -> tuple[float | None, float | None]:
    """Least and largest value [SI] that is in; with ``clear`` with its whole interval and what is to be left."""
    limits = finding.thresholds
    top, bottom = limits.over_above, limits.over_below
    if clear:
        spread = COVERAGE * (finding.u or 0.0)
        top = (
            None
            if top is None
            else min(top - spread, top if limits.close_above is None else limits.close_above)
        )
        lows = [bottom + spread if bottom is not None else None, limits.close_below]
        lows.append(None if limits.close_unless_above is None else limits.close_unless_above + spread)
        bottom = max((low for low in lows if low is not None), default=None) if bottom is not None else None
    if top is not None and bottom is not None and bottom > top:
        bottom = top = ((limits.over_above or 0.0) + (limits.over_below or 0.0)) / 2.0
    return bottom, top


def _target(finding: Finding, clear: bool) -> tuple[float, float] | None:
    """Value to reach [SI] and whether to come down (+1) or go up (-1) to it."""
    demand = finding.demand or 0.0
    bottom, top = _ends(finding, clear)
    if bottom is None:
        return None if top is None else (top, 1.0)
    if top is not None and demand > top:
        return top, 1.0
    return (bottom, -1.0) if demand < bottom else None


@dataclass(frozen=True, slots=True)
class Guard:
    """A limit that a change must not cross: ``sign * change of (top - value * bottom) <= room``.

    Args:
        figure: id of the total or ratio [-].
        aim: the limit [SI].
        sign: +1 for an upper limit, -1 for a lower one [-].
        room: what is left in each case [kg].
    """

    figure: str
    aim: float
    sign: float
    room: Mapping[str, float]


def guards(assessment: Assessment) -> tuple[Guard, ...]:
    """List what a change must leave in: every load limit that is kept now, as well as it is kept now.

    Args:
        assessment: the assessment before the change.
    """
    made = []
    for finding in assessment.findings:
        figure = finding.demand_figure or BEHIND.get(finding.code, "")
        if not figure or not finding.demand or finding.outcome is Outcome.NOT_CHECKED:
            continue
        ends = _ends(finding, finding.outcome is Outcome.WITHIN)
        for value, sign in zip(ends, (-1.0, 1.0), strict=True):
            if value is None:
                continue
            if finding.outcome is Outcome.OVER:
                value = max(value * sign, finding.demand * sign) * sign
            row = _room(assessment, finding, figure, value, sign)
            if row is not None:
                made.append(row)
    return tuple(made)


def _room(assessment: Assessment, finding: Finding, figure: str, value: float, sign: float) -> Guard | None:
    pairs = {case.name: top_and_bottom(case, figure) for case in assessment.computed.cases}
    known = {name: pair for name, pair in pairs.items() if pair is not None}
    if not finding.demand_figure and finding.case in known and finding.demand:
        value = known[finding.case][0] * value / finding.demand
    room = {name: max(-sign * (top - value * bottom), 0.0) for name, (top, bottom) in known.items()}
    return Guard(figure, value, sign, room) if room else None
