"""Candidate proposals for a finding, with amounts solved from the linear model.

Nothing here is believed: every candidate is checked again by the whole engine.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from cardgen.limits import remedy_change as change
from cardgen.limits.remedy_aim import Aim, Slopes
from cardgen.limits.remedy_change import Change
from cardgen.model.advice import RemedyKind, in_text
from cardgen.model.parts import TrailerLoad, VehicleLoad
from cardgen.model.results import Assessment, Finding
from cardgen.model.rig import Rig
from cardgen.physics.loads import Load

Values = dict[str, tuple[float, str]]
POUND = 0.45359237
NEAR = 0.1
"""Distance at which a bay counts as the place an item is in already [m]; a project choice."""
MOUNTS = re.compile(r"mount|shank|hole")


@dataclass(frozen=True, slots=True)
class Idea:
    """A candidate.

    Args:
        key: stable name; equal keys make the same change [-].
        kind: what sort of change it is [-].
        text: sentence with places for ``values`` [-].
        values: numbers for the text, name to (SI value, kind).
        amount: how much is moved, taken out or put in [kg].
        change: makes the changed rig.
        cases: loading cases it applies to [-], empty for all.
        about: what it moves or fills; of several ideas about one thing the smallest is kept [-].
    """

    key: str
    kind: RemedyKind
    text: str
    values: Values
    amount: float
    change: Change
    cases: tuple[str, ...] = ()
    about: str = ""


@dataclass(frozen=True, slots=True)
class Bench:
    """What ideas are made from.

    Args:
        assessment: the assessment.
        loads: loads of the rig (masses [kg], arms [m]).
        slopes: answer of each total to a load put in anywhere, by id.
        metric: whether amounts are rounded to kilograms instead of pounds [-].
    """

    assessment: Assessment
    loads: tuple[Load, ...]
    slopes: dict[str, Slopes]
    metric: bool
    number: dict[str, Load] = field(default_factory=dict)

    @property
    def rig(self) -> Rig:
        """The rig."""
        return self.assessment.rig

    def per_kg(self, aim: Aim, body: str, place: float) -> float | None:
        """What one kg at a place [m] adds to a gap of an aim [kg/kg]; None when unknown."""
        if aim.figure == "tongue_share":
            top, bottom = self.slopes.get("tongue_weight"), self.slopes.get("trailer_weight")
            if top is None or bottom is None:
                return None
            return aim.sign * (top.at(body, place) - aim.aim * bottom.at(body, place))
        slopes = self.slopes.get(aim.figure)
        return None if slopes is None else aim.sign * slopes.at(body, place)

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
    """List candidates for a finding, the smallest first."""
    candidates = list(_gear(bench, finding))
    if aim is not None:
        for source in (_moves, _tanks, _leaves, _shifts, _less):
            candidates += source(bench, aim)
    best: dict[str, Idea] = {}
    for idea in sorted(candidates, key=lambda one: one.amount):
        best.setdefault(idea.about or idea.key, idea)
    return list(best.values())


def _helps(bench: Bench, aim: Aim, effect: float, key: str = "") -> bool:
    """Whether an effect per unit aboard closes the gap of every case that has one [kg]."""
    return all(
        effect * (bench.shares(case, key) if key else 1.0) <= -aim.gaps[case] * (1.0 - 1e-6)
        for case in aim.cases
    )


def _moves(bench: Bench, aim: Aim) -> Iterator[Idea]:
    for i, item in enumerate(bench.rig.trailer.cargo):
        load = bench.number.get(f"cargo.{item.name}")
        if load is None or not item.movable or not load.full or load.arm is None:
            continue
        here = bench.per_kg(aim, "trailer", load.arm)
        for bay, place in bench.rig.trailer.bays.items():
            there = bench.per_kg(aim, "trailer", place.si)
            if here is None or there is None or abs(place.si - load.arm) < NEAR:
                continue
            if _helps(bench, aim, load.full * (there - here), load.key):
                text = f"move '{in_text(item.name)}' ({{mass}}) to '{in_text(bay)}'"
                yield Idea(
                    f"move {i} {bay}",
                    "move",
                    text,
                    {"mass": (load.full, "mass")},
                    load.full,
                    change.move(i, place),
                    about=f"item {i}",
                )


def _tanks(bench: Bench, aim: Aim) -> Iterator[Idea]:
    for name, tank in bench.rig.trailer.tanks.items():
        load = bench.number[f"tank.{name}"]
        if tank.holds == "heater" or not load.full or load.arm is None or tank.capacity is None:
            continue
        per_kg = bench.per_kg(aim, "trailer", load.arm)
        if not per_kg:
            continue
        words = name if name.endswith("tank") else f"{name} tank"
        levels = [_level(bench, aim, load, per_kg, case) for case in aim.cases]
        if any(level is None for level in levels):
            continue
        wanted = [level for level in levels if level is not None]
        share = min(wanted) if per_kg > 0 else max(wanted)
        now = [bench.shares(case, load.key) for case in aim.cases]
        amount = max(abs(old - share) for old in now) * load.full
        volume = share * tank.capacity.si
        text, kind, values = _tank_words(in_text(words), share, volume)
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


def _tank_words(words: str, share: float, volume: float) -> tuple[str, RemedyKind, Values]:
    if share <= 0.0:
        return f"travel with the {words} empty", "empty", {}
    if share >= 1.0:
        return f"travel with the {words} full", "fill", {}
    values: Values = {"share": (share, "fraction"), "volume": (volume, "volume")}
    return f"travel with the {words} at {{share}} ({{volume}})", "less", values


def _leaves(bench: Bench, aim: Aim) -> Iterator[Idea]:
    rig = bench.rig
    bodies: tuple[tuple[str, str, Sequence[TrailerLoad | VehicleLoad]], ...] = (
        ("trailer", "cargo", rig.trailer.cargo),
        ("vehicle", "carried", rig.vehicle.cargo),
    )
    for body, word, items in bodies:
        for i, item in enumerate(items):
            load = bench.number.get(f"{word}.{item.name}")
            if load is None or not item.movable or not load.full or load.arm is None:
                continue
            per_kg = bench.per_kg(aim, body, load.arm)
            if per_kg is not None and _helps(bench, aim, -load.full * per_kg, load.key):
                text = f"leave '{in_text(item.name)}' ({{mass}}) at home"
                yield Idea(
                    f"leave {body} {i}", "leave", text, {"mass": (load.full, "mass")}, load.full,
                    change.leave(i, body), about=f"item {i}" if body == "trailer" else "",
                )  # fmt: skip
    yield from _sets(bench, aim)


def _sets(bench: Bench, aim: Aim) -> Iterator[Idea]:
    for name in dict.fromkeys(load.set for load in bench.loads if load.set):
        members = [load for load in bench.loads if load.set == name]
        if len(members) < 2 or any(not m.full or m.arm is None or not m.movable for m in members):
            continue
        parts = [(m.full or 0.0, bench.per_kg(aim, m.body, m.arm or 0.0)) for m in members]
        if any(per_kg is None for _, per_kg in parts):
            continue
        effect = -sum(mass * (per_kg or 0.0) for mass, per_kg in parts)
        mass = sum(mass for mass, _ in parts)
        if _helps(bench, aim, effect, members[0].key):
            yield Idea(
                f"set {name} {aim.cases}", "leave", f"leave out cargo set '{in_text(name)}' ({{mass}})",
                {"mass": (mass, "mass")}, mass, change.leave_set(name, aim.cases), aim.cases,
            )  # fmt: skip


def _loose(bench: Bench, aim: Aim, body: str) -> list[tuple[float, float, float]]:
    """Movable cargo aboard in every case that needs a change: (mass [kg], place [m], side [m])."""
    weights = []
    for load in bench.loads:
        if load.sort != "cargo" or load.body != body or not load.movable or load.arm is None or not load.full:
            continue
        share = min((bench.shares(case, load.key) for case in aim.cases), default=0.0)
        if share > 0:
            weights.append((load.full * share, load.arm, load.side or 0.0))
    return weights


def _shifts(bench: Bench, aim: Aim) -> Iterator[Idea]:
    """Shift part of what sits nearest to one bay to another bay."""
    bays = {name: q.si for name, q in bench.rig.trailer.bays.items()}
    gap = max(aim.gaps.values(), default=0.0)
    held: dict[str, float] = dict.fromkeys(bays, 0.0)
    for mass, place, _ in _loose(bench, aim, "trailer"):
        if bays:
            held[min(bays, key=lambda name: abs(bays[name] - place))] += mass
    for start, there in ((a, b) for a in bays for b in bays if a != b):
        here_per, there_per = (bench.per_kg(aim, "trailer", bays[name]) for name in (start, there))
        if here_per is None or there_per is None or there_per >= here_per:
            continue
        mass = bench.up(gap / (here_per - there_per))
        if 0 < mass <= held[start] + 1e-9:
            text = f"shift {{mass}} of cargo from '{in_text(start)}' to '{in_text(there)}'"
            weights = ((-mass, bays[start], 0.0), (mass, bays[there], 0.0))
            yield Idea(
                f"shift {start} {there} {mass:.6f} {aim.cases}", "shift", text, {"mass": (mass, "mass")}, mass,
                change.trailer_weights(weights, aim.cases), aim.cases, f"shift {start}",
            )  # fmt: skip


def _less(bench: Bench, aim: Aim) -> Iterator[Idea]:
    """Carry less of the movable cargo, taken out evenly."""
    gap = max(aim.gaps.values(), default=0.0)
    for body in ("trailer", "vehicle"):
        loose = _loose(bench, aim, body)
        whole = sum(mass for mass, _, _ in loose)
        if whole <= 0:
            continue
        place = sum(mass * x for mass, x, _ in loose) / whole
        side = sum(mass * y for mass, _, y in loose) / whole
        per_kg = bench.per_kg(aim, body, place)
        if per_kg is None or per_kg <= 0:
            continue
        mass = bench.up(gap / per_kg)
        if not 0 < mass <= whole + 1e-9:
            continue
        edited = (
            change.trailer_weights(((-mass, place, side),), aim.cases)
            if body == "trailer"
            else change.vehicle_weight(-mass, place, aim.cases)
        )
        text = f"carry {{mass}} less cargo in the {body}, taken evenly"
        yield Idea(
            f"less {body} {mass:.6f} {aim.cases}", "less", text, {"mass": (mass, "mass")}, mass, edited, aim.cases
        )  # fmt: skip


def _gear(bench: Bench, finding: Finding) -> Iterator[Idea]:
    """Changes of gear and plan that no load can stand in for."""
    rig = bench.rig
    if MOUNTS.search(finding.code) or finding.governed_by == "{ball_mount}":
        for i, spare in enumerate(rig.gear.stock):
            name = in_text(spare.name) if spare.name else f"{{ball_mount}} {i + 1} on the shelf"
            yield Idea(
                f"mount {i}", "mount", f"use the {{ball_mount}} '{name}'", {}, 0.0, change.mount(spare)
            )
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


def listed(cases: Sequence[str]) -> str:
    """Name loading cases in a sentence [-]."""
    return " and ".join(f"'{in_text(name)}'" for name in cases)
