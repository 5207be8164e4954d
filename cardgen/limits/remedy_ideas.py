"""Candidate proposals for a finding, with amounts solved from the linear model.

Nothing here is believed: every candidate is checked again by the whole engine.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from cardgen.limits import remedy_change as change
from cardgen.limits.remedy_aim import ROOM, Aim, Guard, Slopes, slopes
from cardgen.limits.remedy_change import Idea, Step, Values
from cardgen.model.advice import RemedyKind, in_text
from cardgen.model.parts import TrailerLoad, VehicleLoad
from cardgen.model.results import Assessment, Finding
from cardgen.model.rig import Rig
from cardgen.physics import links
from cardgen.physics.aboard import called
from cardgen.physics.load_model import LoadModel
from cardgen.physics.loads import Load
from cardgen.physics.statics import SUMS
from cardgen.units import Quantity

POUND = 0.45359237
MOUNTS = re.compile(r"mount|shank|hole")
SLIDE = 1.0
"""How far at most a whole item is moved without a bay [m]; a project choice."""
FIRST, SECOND = 5, 12
"""Steps that are tried as first and as second of a pair [-], so that the answer stays quick."""


@dataclass(frozen=True)
class Bench:
    """What ideas are made from.

    Args:
        assessment: the assessment.
        ground: the model whose known state the rig's loads change (masses [kg]).
        metric: whether amounts are rounded to kilograms instead of pounds [-].
        number: the loads by key.
        steps: what can be done with each piece of cargo.
        guards: load limits that a change must keep.
        pulls: effects of the steps on the guards, worked out once [kg/kg].
    """

    assessment: Assessment
    ground: LoadModel
    metric: bool
    number: Mapping[str, Load] = field(default_factory=dict)
    steps: tuple[Step, ...] = ()
    guards: tuple[Guard, ...] = ()
    pulls: dict[str, tuple[float, ...]] = field(default_factory=dict)

    @cached_property
    def slopes(self) -> dict[str, Slopes]:
        """Answer of each total to a load put in anywhere, by id, worked out when a finding asks for it."""
        return slopes(self.ground)

    @property
    def rig(self) -> Rig:
        """The rig."""
        return self.assessment.rig

    def per_kg(self, aim: Aim | Guard, body: str, place: float) -> float | None:
        """What one kg at a place [m] adds to a gap of an aim [kg/kg]; None when unknown."""
        if aim.figure == "tongue_share":
            top, bottom = self.slopes.get("tongue_weight"), self.slopes.get("trailer_weight")
            if top is None or bottom is None:
                return None
            return aim.sign * (top.at(body, place) - aim.aim * bottom.at(body, place))
        if aim.figure in SUMS:  # what adds up what is aboard asks for no place
            sorts, where = SUMS[aim.figure]
            return aim.sign if body == where and "cargo" in sorts else 0.0
        total = self.slopes.get(aim.figure)
        return None if total is None else aim.sign * total.at(body, place)

    def shares(self, case: str, key: str) -> float:
        """Share of a load aboard in a case [-]; unknown counts as none."""
        for result in self.assessment.computed.cases:
            if result.name == case:
                return result.shares.get(key) or 0.0
        return 0.0

    def up(self, mass: float) -> float:
        """Round a mass [kg] up to a plain amount in the reader's unit."""
        unit = 1.0 if self.metric else POUND
        count = mass / unit
        step = 1.0 if count <= 20 else 5.0
        return math.ceil(count / step - 1e-9) * step * unit


def ideas(bench: Bench, finding: Finding, aim: Aim | None) -> list[Idea]:
    """List candidates for a finding, the smallest first, of one thing the smallest that breaks no load limit."""
    candidates = list(_gear(bench, finding))
    if aim is not None:
        for source in (_whole, _slides, _parts, _tanks, _sets, _less):
            candidates += source(bench, aim)
    best: dict[str, Idea] = {}
    for idea in sorted(candidates, key=lambda one: one.amount):
        best.setdefault(idea.about or idea.key, idea)
    return list(best.values())


def _effect(bench: Bench, aim: Aim | Guard, step: Step) -> float | None:
    """What one kg of a step adds to a gap [kg/kg]; None when unknown."""
    here = bench.per_kg(aim, step.body, step.arm)
    if here is None or step.there is None:
        return None if here is None else -here
    there = bench.per_kg(aim, step.to, step.there)
    return None if there is None else there - here


def _pulls(bench: Bench, step: Step) -> tuple[float, ...]:
    """What one kg of a step adds to each guarded limit [kg/kg], none where unknown."""
    if step.key not in bench.pulls:
        bench.pulls[step.key] = tuple(_effect(bench, guard, step) or 0.0 for guard in bench.guards)
    return bench.pulls[step.key]


def _fits(bench: Bench, taken: Sequence[tuple[Step, float]], cases: Sequence[str]) -> bool:
    """Whether steps of so many kg keep every load limit that is kept now, by the linear model."""
    rows = [(_pulls(bench, step), mass) for step, mass in taken]
    for number, guard in enumerate(bench.guards):
        total = sum(pulls[number] * mass for pulls, mass in rows)
        if total <= 0.0:
            continue
        if any(
            total > room * (1.0 + ROOM) + ROOM
            for case, room in guard.room.items()
            if not cases or case in cases
        ):
            return False
    return True


def _idea(
    bench: Bench, aim: Aim, kind: RemedyKind, taken: Sequence[tuple[Step, float]], whole: bool
) -> Idea | None:
    """Make a candidate of steps of so many kg; None when the linear model says that it breaks a limit."""
    cases = () if whole else aim.cases
    if not _fits(bench, taken, cases):
        return None
    texts, values = [], dict[str, tuple[float, str]]()
    for number, (step, mass) in enumerate(taken):
        end = str(number + 1) if number else ""
        words = step.whole if mass >= step.most - change.NOTHING else step.part
        texts.append(words.replace("{mass}", f"{{mass{end}}}").replace("{place}", f"{{place{end}}}"))
        values[f"mass{end}"] = (mass, "mass")
        if step.there is not None:
            values[f"place{end}"] = (step.there, "dimension")
    takes = [step.take(mass) for step, mass in taken]
    key = " + ".join(f"{step.key} {mass:.6f}" for step, mass in taken)
    return Idea(
        f"{key} {cases}", kind, " and ".join(texts), values, sum(mass for _, mass in taken),
        change.cargo(takes, cases), cases, f"{kind} {' '.join(s.item for s, _ in taken)}",
    )  # fmt: skip


def _whole(bench: Bench, aim: Aim) -> Iterator[Idea]:
    """Move a whole item to a bay, take it over into the trailer, or leave it at home."""
    for step in bench.steps:
        effect = _effect(bench, aim, step)
        if effect is None or not _helps(bench, aim, effect * step.most, step.load):
            continue
        made = _idea(bench, aim, "leave" if step.there is None else "move", [(step, step.most)], True)
        if made is not None:
            yield made


def _slides(bench: Bench, aim: Aim) -> Iterator[Idea]:
    """Move a whole item forward or rearward by a little, as a carried car is placed."""
    size, base = bench.rig.trailer.dimensions, bench.rig.vehicle.wheelbase
    room = {
        "trailer": (
            size.body_front.si if size.body_front else 0.0,
            size.body_rear.si if size.body_rear else math.inf,
        ),
        "vehicle": (0.0, base.si if base else 0.0),
    }
    for step in bench.steps:
        away, near = bench.per_kg(aim, step.body, step.arm + 1.0), bench.per_kg(aim, step.body, step.arm)
        aboard = min((bench.shares(case, step.load) for case in aim.cases), default=0.0)
        if step.there is not None or away is None or near is None or abs(away - near) < 1e-9 or aboard <= 0.0:
            continue
        far = max(aim.gaps.values()) / (abs(away - near) * step.most * aboard)
        unit, sign = 0.01 if bench.metric else 0.0254, -1.0 if away > near else 1.0
        place = math.ceil(sign * (step.arm + sign * far) / unit - 1e-6) * unit * sign
        low, high = room[step.body]
        if not max(low, 0.0) <= place <= high or not 0.0 < sign * (place - step.arm) <= SLIDE:
            continue
        to_rear = (sign > 0) == (step.body == "trailer")
        fixed = "behind the coupling" if step.body == "trailer" else "ahead of the rear axle"
        words = f"move '{step.name}' ({{mass}}) {'rearward' if to_rear else 'forward'} until its middle is {{place}} {fixed}"
        moved = replace(
            step, key=f"{step.key} slid {place:.4f}", to=step.body, there=place,
            place=Quantity(place, "length"), whole=f"{words}, where there is room",
        )  # fmt: skip
        made = _idea(bench, aim, "move", [(moved, step.most)], True)
        if made is not None:
            yield replace(made, about=f"slide {step.item}")


def _parts(bench: Bench, aim: Aim) -> Iterator[Idea]:
    """Shift part of an item from where it lies to a bay."""
    gap = max(aim.gaps.values(), default=0.0)
    for step in bench.steps:
        effect = _effect(bench, aim, step)
        if step.there is None or not step.partable or effect is None or effect >= 0:
            continue
        if any(bench.shares(case, step.load) < 1.0 for case in aim.cases):
            continue
        mass = bench.up(gap / -effect)
        if 0 < mass < step.most:
            made = _idea(bench, aim, "shift", [(step, mass)], False)
            if made is not None:
                yield made


def pairs(bench: Bench, aim: Aim) -> list[Idea]:
    """List candidates of two steps, amounts at a corner of what the load limits leave, the smallest first."""
    gap = max(aim.gaps.values(), default=0.0)
    able = [
        (effect, step)
        for step in bench.steps
        if step.partable
        and (effect := _effect(bench, aim, step)) is not None
        and all(bench.shares(case, step.load) >= 1.0 for case in aim.cases)
    ]
    able.sort(key=lambda row: row[0] * row[1].most)
    out = []
    tried = set[frozenset[str]]()
    for first, a in [row for row in able if row[0] < 0][:FIRST]:
        for second, b in able[:SECOND]:
            two = frozenset((a.key, b.key))
            if a.item == b.item or two in tried:
                continue
            tried.add(two)
            corner = _corner(bench, aim, gap, (first, a), (second, b))
            made = (
                None
                if corner is None
                else _idea(bench, aim, "shift", [(a, corner[0]), (b, corner[1])], False)
            )
            if made is not None:
                out.append(made)
    return sorted(out, key=lambda one: one.amount)


def _corner(
    bench: Bench, aim: Aim, gap: float, one: tuple[float, Step], two: tuple[float, Step]
) -> tuple[float, float] | None:
    """Least masses [kg] of two steps that close a gap [kg] and keep every limit; None when there are none.

    The least sum of two amounts lies where the line of the gap meets a limit or an end of an amount.
    """
    (e1, a), (e2, b) = one, two
    rows = [
        (g1, g2, min(room for case, room in guard.room.items() if case in aim.cases))
        for guard, g1, g2 in zip(bench.guards, _pulls(bench, a), _pulls(bench, b), strict=True)
        if max(g1, 0.0) * a.most + max(g2, 0.0) * b.most > 0.0 and not guard.room.keys().isdisjoint(aim.cases)
    ]
    rows = [row for row in rows if max(row[0], 0.0) * a.most + max(row[1], 0.0) * b.most > row[2]]
    corners = [((-gap - e2 * b.most) / e1, b.most)]
    corners += [(a.most, (-gap - e1 * a.most) / e2)] if e2 else []
    for g1, g2, room in rows:
        turn = e1 * g2 - e2 * g1
        if abs(turn) > 1e-9:
            corners.append(((-gap * g2 - e2 * room) / turn, (e1 * room + gap * g1) / turn))
    good = []
    for m1, m2 in corners:
        masses = tuple(min(bench.up(m), s.most) for m, s in ((m1, a), (m2, b)) if m > 0)
        if len(masses) < 2 or e1 * masses[0] + e2 * masses[1] > -gap * (1.0 - ROOM):
            continue
        if all(g1 * masses[0] + g2 * masses[1] <= room * (1.0 + ROOM) + ROOM for g1, g2, room in rows):
            good.append((masses[0], masses[1]))
    return min(good, key=sum, default=None)


def _helps(bench: Bench, aim: Aim, effect: float, key: str = "") -> bool:
    """Whether an effect per unit aboard closes the gap of every case that has one [kg]."""
    return all(
        effect * (bench.shares(case, key) if key else 1.0) <= -aim.gaps[case] * (1.0 - 1e-6)
        for case in aim.cases
    )


def _tanks(bench: Bench, aim: Aim) -> Iterator[Idea]:
    for name, tank in bench.rig.trailer.tanks.items():
        load = bench.number[f"tank.{name}"]
        if tank.holds == "heater" or not load.full or load.arm is None or tank.capacity is None:
            continue
        per_kg = bench.per_kg(aim, "trailer", load.arm)
        if not per_kg:
            continue
        words = called(name, "tank")
        levels = [_level(bench, aim, load, per_kg, case) for case in aim.cases]
        if any(level is None for level in levels):
            continue
        wanted = [level for level in levels if level is not None]
        share = min(wanted) if per_kg > 0 else max(wanted)
        now = [bench.shares(case, load.key) for case in aim.cases]
        amount = max(abs(old - share) for old in now) * load.full
        text, kind, values = _tank_words(in_text(words), share, tank.capacity.si)
        yield Idea(
            f"tank {name} {share:.6f} {aim.cases}", kind, text, values, amount,
            change.tank(name, share, aim.cases), aim.cases, f"tank {name}",
        )  # fmt: skip


def _level(bench: Bench, aim: Aim, load: Load, per_kg: float, case: str) -> float | None:
    """Share to which a tank must be filled or emptied in a case [-]; None when that is not enough."""
    full, share = load.full or 0.0, bench.shares(case, load.key)
    wanted = share - aim.gaps[case] / (per_kg * full)
    if per_kg > 0:
        if share <= 0.0 or wanted < -1e-9:
            return None
        return math.floor(max(wanted, 0.0) * 20.0 + 1e-9) / 20.0
    if share >= 1.0 or wanted > 1.0 + 1e-9:
        return None
    return math.ceil(min(wanted, 1.0) * 20.0 - 1e-9) / 20.0


def _tank_words(words: str, share: float, capacity: float) -> tuple[str, RemedyKind, Values]:
    if share <= 0.0:
        return f"travel with the {words} empty", "empty", {}
    if share >= 1.0:
        return f"travel with the {words} full", "fill", {}
    values: Values = {"share": (share, "fraction"), "capacity": (capacity, "volume")}
    return f"travel with the {words} at {{share}} of its {{capacity}}", "less", values


def _sets(bench: Bench, aim: Aim) -> Iterator[Idea]:
    for name in dict.fromkeys(load.set for load in bench.ground.loads if load.set):
        members = [step for step in bench.steps if step.there is None and bench.number[step.load].set == name]
        if len(members) < 2 or len(members) < sum(load.set == name for load in bench.ground.loads):
            continue
        effects = [_effect(bench, aim, step) for step in members]
        if any(effect is None for effect in effects):
            continue
        total = sum((effect or 0.0) * step.most for effect, step in zip(effects, members, strict=True))
        mass = sum(step.most for step in members)
        if _helps(bench, aim, total, members[0].load):
            yield Idea(
                f"set {name} {aim.cases}", "leave", f"leave out cargo set '{in_text(name)}' ({{mass}})",
                {"mass": (mass, "mass")}, mass, change.leave_set(name, aim.cases), aim.cases,
            )  # fmt: skip


def _less(bench: Bench, aim: Aim) -> Iterator[Idea]:
    """Carry less of the movable cargo, taken evenly from every item; not where one of them has no place."""
    gap, rig = max(aim.gaps.values(), default=0.0), bench.rig
    bodies: tuple[tuple[str, str, Sequence[TrailerLoad | VehicleLoad]], ...] = (
        ("trailer", "cargo", rig.trailer.cargo),
        ("vehicle", "carried", rig.vehicle.cargo),
    )
    placed = {step.load for step in bench.steps if step.there is None}
    for body, word, items in bodies:
        kept = [f"{word}.{one.name}" for one in items if one.movable and one.weight is not None]
        if any(key not in placed and not change.SAFETY.search(key.lower()) for key in kept):
            continue
        loose = [
            (step, effect)
            for step in bench.steps
            if step.body == body
            and step.there is None
            and all(bench.shares(case, step.load) >= 1.0 for case in aim.cases)
            and (effect := _effect(bench, aim, step)) is not None
        ]
        whole = sum(step.most for step, _ in loose)
        total = sum(effect * step.most for step, effect in loose)
        if whole <= 0 or total >= 0 or not all(step.partable for step, _ in loose):
            continue
        mass = bench.up(gap * whole / -total)
        taken = [(step, step.most * mass / whole) for step, _ in loose]
        if not 0 < mass <= whole + 1e-9 or not _fits(bench, taken, aim.cases):
            continue
        big = any(step.most > change.HANDY for step, _ in loose)
        only = loose[0][0].part if len(loose) == 1 else ""  # of one thing nothing is taken evenly
        parted = ", where it can be parted" if big else ""
        text = only or f"carry {{mass}} less cargo in the {body}, taken evenly{parted}"
        yield Idea(
            f"less {body} {mass:.6f} {aim.cases}", "less", text, {"mass": (mass, "mass")}, mass,
            change.cargo([step.take(part) for step, part in taken], aim.cases), aim.cases,
        )  # fmt: skip


def _gear(bench: Bench, finding: Finding) -> Iterator[Idea]:
    """Changes of gear and plan that no load can stand in for."""
    rig = bench.rig
    if MOUNTS.search(finding.code) or finding.governed_by == "{ball_mount}":
        for i, spare in enumerate(rig.gear.stock):
            if spare.ratings.trailer is None or spare.ratings.tongue is None or spare.drop is None:
                continue
            name = in_text(spare.name) if spare.name else f"{{ball_mount}} {i + 1} on the shelf"
            yield Idea(
                f"mount {i}", "mount", f"use the {{ball_mount}} '{name}'", {}, 0.0, change.mount(spare)
            )
    yield from _stronger(bench, finding)
    if finding.kind == "speed" and finding.capacity is not None:
        values: Values = {"speed": (finding.capacity, "speed")}
        text = "plan no more than {speed}"
        yield Idea(
            f"speed {finding.capacity:.6f}", "speed", text, values, 0.0, change.speed(finding.capacity)
        )
    if finding.code == "front-restoration":
        values = {"share": (1.0, "fraction")}
        text = "ease the bars until they put back no more than {share}"
        yield Idea("ease", "ease", text, values, 0.0, change.restoration(1.0))


def _stronger(bench: Bench, finding: Finding) -> Iterator[Idea]:
    """Fit a part of the hitch gear that is rated for the load, with the reserve that is kept elsewhere."""
    limits, ways = finding.thresholds, {"trailer": links.trailer_parts, "tongue": links.tongue_parts}
    parts = ways.get(finding.code.removeprefix("hitch-").split("-")[0])
    if parts is None or finding.interval is None or not limits.over_above:
        return
    reserve = (limits.close_above or limits.over_above) / limits.over_above
    for part, _, path in parts(bench.rig):
        if part == finding.governed_by and path.startswith("gear."):
            mass = bench.up(finding.interval[1] / reserve)
            text = f"fit a {part} rated for {{mass}} or more"
            yield Idea(
                f"{path} {mass:.6f}", "part", text, {"mass": (mass, "mass")}, 0.0, change.part(path, mass)
            )


def listed(cases: Sequence[str]) -> str:
    """Name loading cases in a sentence [-]."""
    return " and ".join(f"'{in_text(name)}'" for name in cases)
