"""Room left: the most that may be added at a place or into a tank before any check leaves *within*.

Every weight is linear in what is added, so each threshold gives an amount straight from the
figure's gradient. The uncertainty grows with what is added: the engine is asked once at that
amount, and the line between the two states gives what is left for the added load's own
uncertainty. The end is what the engine has confirmed. Only a check that has no demand to follow,
a row of a pressure table, is searched for by halving.

What is added is reckoned as a person would write it into the rig file: one more thing aboard in
every loading case, on the middle line, with the uncertainty of cargo that was estimated.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

from cardgen.limits.fit import LEVEL
from cardgen.limits.registry import Context, rule_of, rules
from cardgen.limits.remedy_aim import Slopes, slopes
from cardgen.limits.weighing import adds
from cardgen.model.advice import Room
from cardgen.model.figure import COVERAGE
from cardgen.model.parts import TrailerLoad, VehicleLoad
from cardgen.model.results import RANK, Assessment, CaseResult, Finding, Need, Outcome, Thresholds
from cardgen.model.rig import Case, Rig
from cardgen.physics.compute import compute
from cardgen.physics.load_model import LoadModel, ball_to_axles
from cardgen.physics.loads import Load
from cardgen.physics.weighing import weigh
from cardgen.units import Quantity

ADDED = "(added here)"
"""Name of what is added in trying [-]."""
NEAR = 0.1
"""How far behind the axles' middle a place counts as behind them [m]; a project choice."""
BESIDE = 0.5
"""A bay so near to the middle of the axles stands for the place over them [m]; a project choice."""
GRAIN = 1.0
"""An amount is settled when it is known to so much [kg]; less than what is printed is rounded by."""
ROUNDS = 20
"""Times that the engine is asked at most before an amount is settled [-]; mostly two are enough."""
SOUGHT = "tire-pressure"
"""A pressure that is looked up for a load leaves the load's own limit as it is: it is not asked for here [-]."""
BODIES = {"trailer": "trailer.cargo[].weight", "vehicle": "vehicle.cargo[].weight"}
"""The field that a check asks for when it depends on what rides in a body [-]."""
RIDES = "mount-height"
"""A check that has no demand of its own: how far off level the trailer stands follows the tongue on a line [-]."""
_SLACK = 1e-9

Change = Callable[[float], Rig]
Left = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class _State:
    """Findings by code with so much added, and what is left before each threshold [kg or SI]."""

    findings: Mapping[str, Finding]
    left: Mapping[str, Left]


@dataclass(frozen=True, slots=True)
class _Bench:
    """What is asked again and again: the rig as it is, and the gradients of its weights."""

    assessment: Assessment
    ground: LoadModel
    slopes: Mapping[str, Slopes]
    stands: _State
    rules: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def unknown(self, body: str) -> tuple[Need, ...]:
        """What is missing for weighty checks that what rides in a body moves."""
        asked: dict[str, Need] = {}
        for code, finding in self.stands.findings.items():
            moved = [getattr(self.slopes[n], body) for n in finding.figures if n in self.slopes]
            still = len(moved) == len(finding.figures) > 0 and all(one == (0.0, 0.0) for one in moved)
            weighty = finding.critical and finding.outcome is Outcome.NOT_CHECKED
            weighty = weighty and not code.startswith(SOUGHT)
            if weighty and not still and BODIES[body] in self.rules[code]:
                asked.update({need.path: need for need in finding.needs})
        return tuple(asked.values())

    def after(self, rig: Rig, touched: tuple[str, ...]) -> _State:
        """Ask the engine about a changed rig; cases that were not touched are kept."""
        cases = self.assessment.computed.cases
        kept = {c.name: c for c in cases if touched and c.name not in touched}
        context = Context(compute(rig, deep=False, ground=self.ground, kept=kept), self.assessment.day)
        return _state(context)[0]

    def troubled(self, made: _State, room: Room) -> tuple[str, tuple[str, ...]]:
        """A weighty check that is close or over and gets worse with more; and those that get better."""
        helps = []
        for code, finding in self.stands.findings.items():
            if not finding.critical or finding.outcome not in (Outcome.CLOSE, Outcome.OVER):
                continue
            if code.startswith("weighed-") and adds(finding, self.slopes, room.body, room.arm):
                return code, ()
            before, after = self.stands.left.get(code), made.left.get(code)
            if before is None or after is None:
                if BODIES[room.body] in self.rules[code]:
                    return code, ()
                continue
            shift = [after[key] - end for key, end in before.items() if end < 0.0 and key in after]
            if any(step < -_SLACK for step in shift):
                return code, ()
            if any(step > _SLACK for step in shift):
                helps.append(code)
        return "", tuple(helps)

    def worse(self, made: _State) -> dict[str, Finding]:
        """The checks that came out worse than now, by code."""
        now = self.stands.findings
        return {
            code: f
            for code, f in made.findings.items()
            if RANK[f.outcome] > (RANK[now[code].outcome] if code in now else 0)
        }


@lru_cache(maxsize=8)
def rooms(assessment: Assessment) -> tuple[Room, ...]:
    """Work out the room left at every stowage place and in every tank, in the order of the file.

    Why: the most useful question before a trip. Remembered for the assessments in hand, as cards,
    pages and results ask for it in turn.

    Args:
        assessment: the assessment (SI inside).

    Returns:
        Amounts [kg] with the check that turns first. A check that is close or over and gets worse
        leaves no room; where a weighty check could not be made, the amount is None.
    """
    rig = assessment.rig
    ground, _ = weigh(rig)
    now, asked = _state(Context(assessment.computed, assessment.day))
    bench = _Bench(assessment, ground, slopes(ground), now, asked)
    made = [_place(bench, room) for room in places(rig)]
    return (*made, *(_tank(bench, load) for load in ground.loads if load.key.startswith("tank.")))


def least(found: tuple[Room, ...]) -> tuple[Room, ...]:
    """The places and tanks where something may be added and a check would turn, least room first.

    Args:
        found: what ``rooms`` gave (amounts [kg]).
    """
    return tuple(sorted((r for r in found if r.amount is not None and r.code), key=lambda r: r.amount or 0.0))


def places(rig: Rig) -> tuple[Room, ...]:
    """The stowage places of a rig without their room: its bays, over its axles, the vehicle's rear axle [m].

    Args:
        rig: the rig.
    """
    centre = ball_to_axles(rig)
    middle = None if centre is None else centre.si
    found = [(f"bay.{name}", name, q.si) for name, q in rig.trailer.bays.items()]
    if middle is not None and all(abs(x - middle) > BESIDE for _, _, x in found):
        found = sorted([*found, ("axles", "over the axles", middle)], key=lambda row: row[2])
    inside = [
        Room(key, label, "trailer", x, None, behind=middle is not None and x > middle + NEAR)
        for key, label, x in found
    ]
    vehicle = Room("vehicle", "in the vehicle, over its rear axle", "vehicle", 0.0, None)
    return tuple(inside) if rig.alone else (*inside, vehicle)


def with_added(rig: Rig, room: Room, mass: float) -> Rig:
    """Put one more thing at a place, aboard in every loading case.

    Args:
        rig: the rig.
        room: the place.
        mass: what is added [kg].
    """
    weight, where = Quantity(mass, "mass"), Quantity(room.arm or 0.0, "length")
    if room.body == "vehicle":
        thing = VehicleLoad(name=ADDED, weight=weight, ahead_of_rear_axle=where)
        return replace(rig, vehicle=replace(rig.vehicle, cargo=(*rig.vehicle.cargo, thing)))
    item = TrailerLoad(name=ADDED, weight=weight, x=where, y=Quantity(0.0, "length"))
    return replace(rig, trailer=replace(rig.trailer, cargo=(*rig.trailer.cargo, item)))


def with_filled(rig: Rig, load: Load, mass: float, cases: tuple[str, ...]) -> Rig:
    """Fill more into a tank in some loading cases, never past full.

    Args:
        rig: the rig.
        load: the tank (full mass [kg]).
        mass: what is added [kg].
        cases: names of the cases [-].
    """
    name, full = load.key.removeprefix("tank."), load.full or 0.0

    def filled(case: Case) -> Case:
        level = case.tanks.get(name)
        if case.name not in cases or level is None or not full:
            return case
        brim = 1.0 if level.kind == "fraction" else rig.trailer.tanks[name].capacity
        top = brim if isinstance(brim, float) else brim.si if brim else level.si
        more = replace(level, si=min(top, level.si + top * mass / full))
        return replace(case, tanks={**case.tanks, name: more})

    return replace(rig, cases=tuple(filled(case) for case in rig.cases))


def _place(bench: _Bench, room: Room) -> Room:
    needs = bench.unknown(room.body)
    if needs:
        return replace(room, needs=needs)
    return _most(bench, room, lambda mass: with_added(bench.assessment.rig, room, mass), (), math.inf)


def _tank(bench: _Bench, load: Load) -> Room:
    """Room in a tank: full in every case, or the least that turns a check in one of them."""
    rig, centre = bench.assessment.rig, ball_to_axles(bench.assessment.rig)
    behind = centre is not None and load.arm is not None and load.arm > centre.si + NEAR
    room = Room(load.key, load.label, "trailer", load.arm, None, behind=behind)
    shares = {c.name: c.shares.get(load.key) for c in bench.assessment.computed.cases}
    name = load.key.removeprefix("tank.")
    asked = tuple(
        Need(f"cases[].tanks.{name}", f"filling of {load.label}") for v in shares.values() if v is None
    )
    needs = (*load.mass_needs, *load.arm_needs, *bench.unknown("trailer"), *asked)
    if needs or load.full is None:
        return replace(room, needs=tuple({n.path: n for n in needs}.values()))
    space = {case: load.full * (1.0 - (share or 0.0)) for case, share in shares.items()}
    most = max(space.values(), default=0.0)
    brim = bench.after(with_filled(rig, load, most, tuple(space)), ())
    stuck, helps = bench.troubled(brim, room)
    if not stuck and not bench.worse(brim):
        return replace(room, amount=most, full=True, helps=helps)
    single = [
        _most(bench, room, lambda mass, case=case: with_filled(rig, load, mass, (case,)), (case,), left)  # type: ignore[misc]  # the case is bound now
        for case, left in space.items()
        if left > GRAIN
    ]
    turned = [r for r in single if r.code or r.amount is None]
    return min(turned, key=lambda r: r.amount or 0.0, default=replace(room, amount=most, full=True))


def _most(bench: _Bench, room: Room, change: Change, touched: tuple[str, ...], space: float) -> Room:
    """The most [kg] up to some space that keeps every check that is within so, and what turns then."""
    trial = min(space, _by_gradient(bench, room, touched))
    if not math.isfinite(trial):
        return room
    good, start, high, worse = 0.0, bench.stands, math.inf, dict[str, Finding]()
    bad, helps = bench.stands, tuple[str, ...]()
    for _ in range(ROUNDS):
        made = bench.after(change(trial), touched)
        stuck, helps = bench.troubled(made, room)
        if stuck:
            return replace(room, amount=0.0, code=stuck, helps=helps)
        turned = bench.worse(made)
        if turned:
            high, bad, worse = trial, made, turned
        elif trial >= space:
            return replace(room, amount=space, full=True, helps=helps)
        else:
            good, start = trial, made
            if not worse and (code := _next(bench.stands, made, trial)):
                return replace(room, amount=good, code=code, helps=helps)
        if not worse:
            trial = min(space, 1.1 * trial + GRAIN)
            continue
        roots = {code: root for code in worse if (root := _root(start, bad, code)) is not None}
        blind = [worse[code] for code in worse if code not in roots]
        needs = {n.path: n for f in blind if f.outcome is Outcome.NOT_CHECKED for n in f.needs}
        if needs:
            return replace(room, needs=tuple(needs.values()))
        first = min(roots, key=lambda code: roots[code], default="")
        trial = good + (roots[first] if roots else 0.5) * (high - good)
        if (trial if roots else high) - good < GRAIN:
            break
    return replace(room, amount=good, code=first or next(iter(worse)), helps=helps)


def _by_gradient(bench: _Bench, room: Room, touched: tuple[str, ...]) -> float:
    """The least amount [kg] at which a figure meets a threshold, its uncertainty left as it is."""
    amounts = [math.inf]
    weight = bench.slopes.get("trailer_weight")
    for finding in bench.stands.findings.values():
        if not finding.demand_figure or room.arm is None:
            continue
        for case in bench.assessment.computed.cases:
            if touched and case.name not in touched:
                continue
            for name in finding.figures:
                share = name == "tongue_share"
                slope = bench.slopes.get("tongue_weight" if share else name)
                if slope is None or name not in case.figures:
                    continue
                gain = slope.at(room.body, room.arm)
                by = weight.at(room.body, room.arm) if share and weight is not None else 0.0
                amounts += _meeting(finding, case, name, gain, by)
    return min(amounts)


def _meeting(finding: Finding, case: CaseResult, name: str, gain: float, by: float) -> Iterator[float]:
    """Amounts [kg] at which what is left before each threshold is used up."""
    limits = finding.thresholds
    for key, left in _left(finding, (case,), name).items():
        limit = getattr(limits, key) or 0.0
        rate = (gain - limit * by) * (-1.0 if key in ABOVE else 1.0)
        if left > 0.0 and rate < 0.0:
            yield left / -rate


ABOVE = ("over_above", "close_above")
"""Thresholds that a demand must stay below [-]."""


def _left(finding: Finding, cases: tuple[CaseResult, ...], *names: str) -> dict[str, float]:
    """What is left before each threshold over some cases [SI]; of the tongue's share times the trailer [kg].

    A share is a ratio of two weights; times the trailer's weight its distance from a threshold is
    linear again.
    """
    ends: dict[str, list[float]] = {}
    for case in cases:
        for name in names:
            figure = case.figures.get(name)
            if figure is None or figure.value is None:
                continue
            times = case.figures["trailer_weight"].value if name == "tongue_share" else 1.0
            for value, u in ((figure.value, figure.u), *((figure.rival,) if figure.rival else ())):
                spread = COVERAGE * (u or 0.0)
                for key, end in _ends(finding, value, (value - spread, value + spread)):
                    ends.setdefault(key, []).append(end * (times or 1.0))
    return {key: min(found) for key, found in ends.items()}


def _ends(finding: Finding, value: float, interval: tuple[float, float]) -> Iterator[tuple[str, float]]:
    """Distance of a demand from each threshold of its check [SI], above zero while it holds."""
    limits = finding.thresholds
    for key, limit, end in (
        ("over_above", limits.over_above, interval[1]),
        ("close_above", limits.close_above, value),
        ("close_below", limits.close_below, value),
        ("over_below", limits.over_below, interval[0]),
        ("over_unless_above", limits.over_unless_above, interval[0]),
        ("close_unless_above", limits.close_unless_above, interval[0]),
    ):
        if limit is not None:
            yield key, limit - end if key in ABOVE else end - limit


def _state(context: Context) -> tuple[_State, dict[str, tuple[str, ...]]]:
    """Run every check; also the fields that each finding's rule may ask for."""
    findings: dict[str, Finding] = {}
    left: dict[str, Left] = {}
    asked: dict[str, tuple[str, ...]] = {}
    for one in rules():
        for finding in context.found(one):
            findings[finding.code], asked[finding.code] = finding, one.fields
            if finding.demand_figure:
                left[finding.code] = _left(finding, context.computed.cases, *finding.figures)
            elif finding.code == RIDES and finding.outcome is not Outcome.NOT_CHECKED:
                level = replace(finding, thresholds=Thresholds(close_above=LEVEL, close_below=-LEVEL))
                left[finding.code] = _left(level, context.computed.cases, "height_error")
            elif finding.demand is not None and finding.interval is not None:
                left[finding.code] = dict(_ends(finding, finding.demand, finding.interval))
    if context.rig.gear.weight_distribution is not None:  # what bars move to the axles depends on the vehicle
        for finding in context.waiting:
            one_ = rule_of(finding.code)
            findings[finding.code], asked[finding.code] = finding, one_.fields if one_ else ()
    return _State(findings, left), asked


def _next(now: _State, made: _State, amount: float) -> str:
    """The check whose threshold is met before there is a grain [kg] more than an amount that keeps all; empty for none.

    The line from now to that amount tells, as it does between any two states.
    """
    roots: dict[str, float] = {}
    for code, before in now.left.items():
        finding, after = now.findings[code], made.left.get(code, {})
        for key, end in before.items():
            turns = finding.outcome is Outcome.WITHIN or key.startswith("over")
            if turns and 0.0 <= after.get(key, -1.0) < end:
                root = amount * end / (end - after[key])
                roots[code] = min(root, roots.get(code, math.inf))
    first = min(roots, key=lambda code: roots[code], default="")
    return first if first and roots[first] - amount < GRAIN else ""


def _root(start: _State, made: _State, code: str) -> float | None:
    """Share of the step at which the first threshold of a check is met [-]; None without a demand."""
    before, after = start.left.get(code, {}), made.left.get(code, {})
    found = [
        end / (end - after[key]) for key, end in before.items() if key in after and end >= 0.0 > after[key]
    ]
    return min(found, default=None)
