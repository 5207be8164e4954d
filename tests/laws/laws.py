"""The ten laws, each as parts that look at one rig and yield what breaks them.

A part gets a ``Subject`` and dice; it knows the program only by what the program says about a
document and about the same document changed.
"""

from __future__ import annotations

import datetime as dt
import itertools
import re
from collections.abc import Callable, Iterable, Iterator
from copy import deepcopy
from dataclasses import dataclass, field
from functools import cache, cached_property
from random import Random
from typing import Any

from pydantic import TypeAdapter, ValidationError

from cardgen.limits.registry import assess, rules
from cardgen.model.advice import Remedy
from cardgen.model.results import Assessment, Basis, Computed, Finding, Outcome
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from cardgen.present.desk import Desk
from cardgen.present.prepare import prepare
from tests.laws import model
from tests.laws.model import Figures, Tree, at, number, si
from tests.laws.rigs import DAY, FLUIDS, Path_, changed, drop, get, leaves, put, read

OVER, CLOSE, WITHIN, OPEN = Outcome.OVER, Outcome.CLOSE, Outcome.WITHIN, Outcome.NOT_CHECKED
RANK = {WITHIN: 0, CLOSE: 1, OPEN: 2, OVER: 3}
Findings = dict[str, Finding]


@cache
def _adapter() -> TypeAdapter[Rig]:
    return TypeAdapter(Rig)


def known(tree: Any) -> Any:
    """The document without what is unknown, as the reader hands it on."""
    if isinstance(tree, dict):
        return {name: known(inner) for name, inner in tree.items() if inner != "unknown"}
    return [known(inner) for inner in tree] if isinstance(tree, list) else tree


def quick(tree: Tree) -> Rig:
    """A changed document as a rig, without the checks of meaning; ``valid`` asks those."""
    return _adapter().validate_python(known(tree))


def valid(tree: Tree) -> bool:
    """Whether the program takes a document."""
    return read(tree).rig is not None


def findings(rig: Rig, day: dt.date = DAY) -> Findings:
    """All findings by code, without advice and reach."""
    return {f.code: f for f in assess(compute(rig, deep=False), day, advise=False).findings}


def judged(tree: Tree) -> Findings:
    """Findings of a document."""
    return findings(quick(tree))


@dataclass
class Subject:
    """One random rig and what the program says about it."""

    seed: str
    tree: Tree

    @cached_property
    def rig(self) -> Rig:
        """The rig as the program reads it."""
        found = read(self.tree)
        assert found.rig is not None, found.faults
        return found.rig

    @cached_property
    def computed(self) -> Computed:
        """All figures."""
        return compute(self.rig)

    @cached_property
    def plain(self) -> Assessment:
        """The assessment without advice."""
        return assess(self.computed, DAY, advise=False)

    @cached_property
    def findings(self) -> Findings:
        """Findings by code."""
        return {f.code: f for f in self.plain.findings}

    @cached_property
    def desk(self) -> Desk:
        """What cards and pages are made from, advice included."""
        return prepare(self.rig, DAY)

    @cached_property
    def figures(self) -> list[Figures]:
        """Figures of every case by the model of this folder [kg]."""
        return [model.figures(self.tree, i, FLUIDS) for i in range(len(self.tree["cases"]))]

    def most(self, *names: str) -> float | None:
        """Largest value over the cases by the model; None when a case does not know one."""
        values = [f.get(name) for f in self.figures for name in names if name in f]
        sure = [v for v in values if v is not None]
        return max(sure) if sure and len(sure) == len(values) else None

    @property
    def weighed(self) -> bool:
        """Whether a scale was asked."""
        return bool(self.tree.get("weighings"))


@dataclass(frozen=True)
class Violation:
    """One break of a law.

    Args:
        key: rule or kind of number that breaks it, by which breaks are grouped.
        says: what happened, in words and numbers.
        tree: the document that shows it.
        redo: says whether a smaller document still shows it.
        seed: of the rig.
        part: part of the law.
    """

    key: str
    says: str
    tree: Tree = field(repr=False)
    redo: Callable[[Tree], bool] | None = field(repr=False, default=None)
    seed: str = ""
    part: str = ""


Check = Callable[[Subject, Random, bool], Iterable[Violation]]


@dataclass(frozen=True)
class Part:
    """A part of a law: its number, its name, what it holds, the function and on which rigs it is tried."""

    law: int
    name: str
    words: str
    check: Check
    every: int = 1


PARTS: dict[str, Part] = {}


def law(number_: int, name: str, every: int = 1) -> Callable[[Check], Check]:
    """Register a part of a law; ``every`` skips rigs of the short run where a part is slow."""

    def keep(check: Check) -> Check:
        PARTS[f"{number_} {name}"] = Part(number_, name, (check.__doc__ or "").strip(), check, every)
        return check

    return keep


@cache
def _codes() -> tuple[str, ...]:
    return tuple(sorted((r.code for r in rules()), key=len, reverse=True))


def rule_of(code: str) -> str:
    """The rule that gave a finding: ``trailer-axle-2`` is of ``trailer-axle``; weighed ones keep the word."""
    if code.startswith("weighed-") and code != "weighed-limit":
        return f"weighed-{rule_of(code.removeprefix('weighed-'))}"
    return next((one for one in _codes() if code == one or code.startswith(f"{one}-")), code)


def dotted(path: Path_) -> str:
    """A path as the program writes it."""
    return "".join(f"[{s}]" if isinstance(s, int) else f".{s}" for s in path).lstrip(".")


def general(path: Path_) -> str:
    """A path without the names and numbers that belong to one rig."""
    out: list[str] = []
    for i, step in enumerate(path):
        named = i > 0 and path[i - 1] in ("tanks", "cylinders", "bays", "seats", "wheels")
        out.append("[]" if isinstance(step, int) else ".<name>" if named else f".{step}")
    return "".join(out).lstrip(".")


# --- 1: less knowledge never passes more ---------------------------------------------------

_OWNERS = (
    "contacts",
    "note",
    "gain_start",
    "places",
    "use",
    "nickname",
    "market",
    "limits",
    "preferences",
    "weighings",
    "checklist",
    "dates",
)
_NO_STATE = ("name", "source", "set", "movable", "same", "note", "links")


def states(path: Path_) -> bool:
    """Whether a leaf states a rating, measure, position or state, and may be unknown."""
    if path[0] in _OWNERS or path[-1] in _NO_STATE or "rows" in path or "bays" in path or "stock" in path:
        return False
    if path[0] == "cases":
        return len(path) > 2 and path[2] in ("tanks", "cylinders", "fuel")
    return path[-1] not in ("type", "body", "holds", "without", "cargo", "tires_by_table") and (
        path[-1] != "kind" or path[-2] == "brakes" or path == ("vehicle", "kind")
    )


def _passes(before: Findings, after: Findings) -> Iterator[tuple[str, str]]:
    for code, old in before.items():
        new = after.get(code)
        if new is None:
            if old.outcome is OVER and not code.startswith("weighed-"):
                yield code, f"{old.outcome.value} -> no such check"
        elif new.outcome in (OPEN, old.outcome):
            continue
        elif RANK[new.outcome] < RANK[old.outcome] or new.outcome is OVER:
            yield code, f"{old.outcome.value} -> {new.outcome.value}"


def _without(tree: Tree, path: Path_, code: str, said: str) -> bool:
    """Whether taking a leaf out still changes an outcome in the forbidden way."""
    try:
        get(tree, path)
    except (KeyError, IndexError, TypeError):
        return False
    less = changed(tree, path, None)
    return valid(less) and (code, said) in set(_passes(judged(tree), judged(less)))


@law(1, "left out")
def left_out(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Taking out a leaf that states a rating, measure, position or state only makes checks *not checked*."""
    paths = [p for p in leaves(subject.tree) if states(p) and get(subject.tree, p) != "unknown"]
    before = subject.findings
    for path in paths if whole else dice.sample(paths, min(4, len(paths))):
        less = changed(subject.tree, path, None)
        broken = list(_passes(before, judged(less)))
        if broken and valid(less):
            for code, said in broken:
                yield Violation(
                    f"{rule_of(code)}: {said} without {general(path)}",
                    f"{code}: {said} when {dotted(path)} = {get(subject.tree, path)!r} is left out",
                    subject.tree,
                    lambda t, p=path, c=code, s=said: _without(t, p, c, s),
                )


@law(1, "written unknown", every=6)
def written_unknown(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A leaf written ``unknown`` counts as one left out."""
    paths = [p for p in leaves(subject.tree) if states(p) and get(subject.tree, p) != "unknown"]
    for path in dice.sample(paths, min(12 if whole else 1, len(paths))):
        if isinstance(get(subject.tree, path), list):
            continue
        unknown, less = changed(subject.tree, path, "unknown"), changed(subject.tree, path, None)
        first, second = read(unknown).rig, read(less).rig
        if first is None or second is None:
            continue  # the reader refuses one of them: that is said, not passed
        one, two = findings(first), findings(second)
        for code in {
            c
            for c in one.keys() | two.keys()
            if c not in one or c not in two or one[c].outcome is not two[c].outcome
        }:
            yield Violation(
                f"{rule_of(code)}: unknown is not left out, {general(path)}",
                f"{code} with {dotted(path)} unknown: {one[code].outcome.value if code in one else 'none'}, left out: {two[code].outcome.value if code in two else 'none'}",
                unknown,
            )


@law(1, "safety lines", every=6)
def safety_lines(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Leaving a feature out takes no safety-critical line off the checklist that a rig with it has."""
    tree = subject.tree
    paths = [p for p in leaves(tree) if _feature(p) and get(tree, p) not in ("unknown", False, "none", 0)]
    before = _critical(subject.rig)
    for path in paths if whole else dice.sample(paths, min(3, len(paths))):
        less = changed(tree, path, None)
        gone = before - _critical(quick(less)) if valid(less) else set()
        for line in sorted(gone):
            yield Violation(
                f"{general(path)}: {line}",
                f"line {line} is gone when {dotted(path)} = {get(tree, path)!r} is left out",
                tree,
            )


def _feature(path: Path_) -> bool:
    wanted: tuple[Path_, ...] = (
        ("trailer", "features"), ("trailer", "brakes"), ("trailer", "breakaway"), ("trailer", "chains"),
        ("trailer", "connector"), ("trailer", "jack"), ("trailer", "dimensions"), ("trailer", "spare"),
        ("vehicle", "mirrors"), ("vehicle", "width"), ("vehicle", "brake_controller"), ("gear", "sway_control"),
        ("gear", "plug_adapter"), ("trailer", "axles", "count"),
    )  # fmt: skip
    return any(path[: len(one)] == one for one in wanted)


def _critical(rig: Rig) -> set[str]:
    from cardgen.checklist.features import features
    from cardgen.checklist.select import build
    from cardgen.checklist.values import values
    from cardgen.present.format import system_of

    assessment = assess(compute(rig, deep=False), DAY, advise=False)
    made = build(rig, features(rig), values(assessment, system_of(rig, None)), DAY)
    return {line.id for phase in made.phases for line in phase.items if line.severity == "safety_critical"}


def starters() -> Iterator[Violation]:
    """A field that the starter writes ``unknown`` is listed as missing in the report."""
    from cardgen.model.starter import Wish, starter
    from cardgen.present.report_checks import missing
    from tests.laws.rigs import FILE, Store, read_rig

    kinds = (
        ("us", "ball", "travel_trailer", 2, True), ("us", "ball", "utility", 1, False), ("us", "ball", "boat", 1, False),
        ("us", "fifth_wheel", "travel_trailer", 2, False), ("us", "gooseneck", "horse", 2, False), ("ca", "ball", "car_hauler", 2, True),
        ("uk", "ball", "caravan", 1, False), ("eu", "ball", "caravan", 2, False), ("au", "ball", "camper", 1, False), ("nz", "ball", "cargo", 1, False),
    )  # fmt: skip
    for market, kind, body, count, bars in kinds:
        for brakes in ("electric", "surge", "none"):
            wish = Wish("Starter", market, kind, body, axles=count, brakes=brakes, bars=bars)
            found = read_rig(FILE, Store(starter(wish)))
            assert found.rig is not None, found.faults
            desk = prepare(found.rig, DAY)
            listed = {re.sub(r"\[\d+\]", "[]", one.path) for one in missing(desk)}
            words = starter(wish)
            for path in _unknowns(words):
                if path not in listed and not any(
                    one.startswith((f"{path}.", f"{path}[")) or path.startswith(f"{one}.") for one in listed
                ):
                    yield Violation(
                        path,
                        f"{path} is unknown in the starter ({market}, {kind}, {body}, {brakes}) and not listed as missing",
                        {"starter": words},
                    )


def _unknowns(words: str) -> Iterator[str]:
    """Paths of the fields that a starter writes ``unknown`` [-]; items of lists as ``[]``."""
    import yaml

    def walk(node: Any, path: str) -> Iterator[str]:
        if isinstance(node, dict):
            for name, inner in node.items():
                yield from walk(inner, f"{path}.{name}" if path else name)
        elif isinstance(node, list):
            for inner in node:
                yield from walk(inner, f"{path}[]")
        elif node == "unknown":
            yield path

    yield from walk(yaml.load(words, Loader=yaml.BaseLoader), "")


# --- 2: more knowledge never hides ---------------------------------------------------------


def _hidden(
    subject: Subject, more: Tree, what: str, spared: Callable[[str, Finding], bool]
) -> Iterator[Violation]:
    try:
        after = judged(more)
    except ValidationError:
        return
    for code, old in subject.findings.items():
        if old.outcome is not OVER or spared(code, old):
            continue
        new = after.get(code) or after.get(f"weighed-{code}") or after.get(code.removeprefix("weighed-"))
        if new is None or new.outcome is not OVER:
            said = "no such check" if new is None else new.outcome.value
            if valid(more):
                yield Violation(
                    f"{rule_of(code)}: over -> {said} with {what}",
                    f"{code}: over -> {said} with {what}",
                    more,
                )


@law(2, "another case")
def another_case(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Another loading case never removes an *over*."""
    more = deepcopy(subject.tree)
    case = deepcopy(dice.choice(more["cases"]))
    case["name"] = "one more"
    for tanks in (case.get("tanks") or {}, case.get("cylinders") or {}):
        for name in tanks:
            tanks[name] = dice.choice(["empty", "full", "1/2", "unknown"])
    case["cargo"] = [] if dice.random() < 0.5 else case.get("cargo", [])
    more["cases"].append(case)
    yield from _hidden(subject, more, "another case", lambda code, old: False)


@law(2, "another person")
def another_person(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A person more in the list, riding in every case that takes everybody, never removes an *over*."""
    seats = at(subject.tree, "vehicle", "seats") or {}
    rows = [name for name, text in seats.items() if si(text) is not None]
    if not rows:
        return
    more = deepcopy(subject.tree)
    more.setdefault("occupants", []).append(
        {"name": "one more", "weight": "70 kg", "seat": dice.choice(rows)}
    )
    yield from _hidden(
        subject, more, "another person",
        # more people lift nothing, but bars set by restoration, weighed states and shares of the vehicle follow
        lambda code, old: rule_of(code).startswith(("law-", "tire-pressure")),
    )  # fmt: skip


OPTIONAL = (
    ("vehicle", "tow_rating", "tongue"), ("vehicle", "tow_rating", "weight_carrying"),
    ("vehicle", "tow_rating", "needs_distribution_above"), ("trailer", "gtm"), ("vehicle", "placard_capacity"),
    ("trailer", "cargo_capacity"), ("vehicle", "gcwr"), ("vehicle", "gvwr"), ("vehicle", "gawr", "front"),
    ("vehicle", "gawr", "rear"), ("trailer", "gvwr"), ("trailer", "coupler", "ratings", "trailer"),
    ("trailer", "coupler", "ratings", "tongue"), ("gear", "ball", "rating"),
    ("trailer", "tires", "rim_max_pressure"), ("trailer", "tires", "valve_max_pressure"), ("trailer", "tires", "max_load"),
)  # fmt: skip


@law(2, "another rating")
def another_rating(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A rating that was not in the file never removes an *over*, however high it is."""
    for path in OPTIONAL if whole else dice.sample(OPTIONAL, 4):
        if at(subject.tree, *path) is not None or at(subject.tree, *path[:-1]) is None:
            continue
        text = (
            "6 bar"
            if path[-1].endswith("pressure")
            else "20000 kg"
            if path[-1] != "cargo_capacity"
            else "50 kg"
        )
        yield from _hidden(
            subject,
            changed(subject.tree, path, text),
            f"another rating {dotted(path)}",
            lambda code, old: False,
        )


TONGUE_SIDE = (
    "tongue",
    "s-value",
    "vehicle-",
    "placard",
    "combination",
    "tire-",
    "trailer-axle",
    "trailer-gtm",
    "trailer-label",
)


@law(2, "another weighing")
def another_weighing(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A later visit that weighed one other figure never removes an *over* of the rest."""
    case = dice.choice(subject.tree["cases"])["name"]
    tongue = subject.most("tongue_weight")
    front = subject.most("front_alone")
    visits: list[tuple[str, Tree, tuple[str, ...]]] = []
    if tongue is not None and tongue > 0:
        text = f"{tongue * 0.9:.0f} kg"
        visits.append(("a scale under the coupler", {"coupler": text}, (*TONGUE_SIDE, "hitch-tongue")))
    if front is not None and front > 0:
        spared = ("vehicle-", "combination", "placard", "tire-", "front-restoration")
        visits.append(("the front axle alone", {"alone": {"front": f"{front * 0.9:.0f} kg"}}, spared))
    for what, readings, spared in visits:
        more = deepcopy(subject.tree)
        more.setdefault("weighings", []).append({"date": "2026-11-01", "case": case, **readings})
        yield from _hidden(
            subject, more, f"a later weighing of {what}",
            lambda code, old, s=spared: rule_of(code).removeprefix("weighed-").startswith(s) or code.startswith("law-"),
        )  # fmt: skip


# --- 3: order never matters ----------------------------------------------------------------

_ORDERED = ("gawr", "axles", "rows", "retorque", "cards")


def shuffled(tree: Any, dice: Random, name: str = "") -> Any:
    """The same document with maps and lists in another order."""
    if isinstance(tree, dict):
        items = [(key, shuffled(inner, dice, key)) for key, inner in tree.items()]
        dice.shuffle(items)
        return dict(items)
    if isinstance(tree, list):
        made = [shuffled(inner, dice) for inner in tree]
        if name not in _ORDERED:
            dice.shuffle(made)
        return made
    return tree


@law(3, "order", every=2)
def order(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Maps, lists, seats, cases and weighings in another order say the same."""
    other = shuffled(subject.tree, dice)
    found = read(other)
    if found.rig is None:
        yield Violation(
            f"reader: {found.faults[0].code}", f"refused in another order: {found.faults[0]}", other
        )
        return
    one, two = (_told(f) for f in (subject.findings, findings(found.rig)))
    for key in sorted(one.keys() | two.keys()):
        if one.get(key) != two.get(key):
            first = next(
                (a for a, b in itertools.zip_longest(one.get(key, []), two.get(key, [])) if a != b), "nothing"
            )
            second = next(
                (b for a, b in itertools.zip_longest(one.get(key, []), two.get(key, [])) if a != b), "nothing"
            )
            yield Violation(key, f"{key}: {first} in one order, {second} in another", subject.tree)


def _told(found: Findings) -> dict[str, list[str]]:
    """What is said by rule, without the numbers of visits."""
    out: dict[str, list[str]] = {}
    for code, one in found.items():
        amount = "" if one.demand is None else f"{one.demand:.6g}"
        out.setdefault(rule_of(code), []).append(
            f"{re.sub(r'-[0-9]+', '', code)} {one.outcome.value} {amount}"
        )
    return {rule: sorted(lines) for rule, lines in out.items()}


# --- 4: every stated rating is held against its demand -------------------------------------


def rated_by(subject: Subject) -> Iterator[tuple[Path_, float | None]]:
    """Every rating of a document that applies to this rig, with its demand by the model [kg]."""
    tree = subject.tree
    trailer, vehicle, gear = tree["trailer"], tree["vehicle"], tree.get("gear") or {}
    gross, tongue = subject.most("trailer_weight"), subject.most("tongue_weight")
    ball = trailer["type"] == "ball"
    bars = at(gear, "weight_distribution") is not None and ball
    fixed = at(vehicle, "receiver", "fixed_ball") is True
    yield ("trailer", "gvwr"), gross
    yield ("trailer", "gtm"), subject.most("trailer_axle_load")
    for i in range(len(at(trailer, "axles", "gawr") or ())):
        names = (f"axle_{i + 1}", f"axle_{i + 1}_engaged")
        yield (
            ("trailer", "axles", "gawr", i),
            subject.most(*names) if f"axle_{i + 1}" in subject.figures[0] else None,
        )
    pairs: list[Path_] = [("trailer", "coupler", "ratings")]
    if not ball:
        pairs.append(("vehicle", "bed_hitch", "ratings"))
    else:
        pairs.append(("vehicle", "receiver", "weight_distributing" if bars else "weight_carrying"))
        pairs += [("gear", "adapter", "ratings"), ("gear", "mount", "ratings")] if not fixed else []
        pairs += [("gear", "weight_distribution", "ratings")] if bars else []
    for pair in pairs:
        yield (*pair, "trailer"), gross
        yield (*pair, "tongue"), tongue
    if trailer["type"] != "fifth_wheel":
        yield ("gear", "ball", "rating"), gross
    yield ("vehicle", "gvwr"), subject.most("vehicle_weight")
    yield (
        ("vehicle", "gawr", "front"),
        subject.most("vehicle_front_axle", "front_alone", "front_axle_engaged"),
    )
    yield ("vehicle", "gawr", "rear"), subject.most("vehicle_rear_axle")
    yield ("vehicle", "gcwr"), subject.most("combination_weight")
    yield ("vehicle", "placard_capacity"), subject.most("placard_used")
    brakes = at(trailer, "brakes", "kind")
    if brakes is not None:
        yield ("vehicle", "tow_rating", "unbraked" if brakes == "none" else "braked"), gross
    yield ("vehicle", "tow_rating", "tongue"), tongue
    if ball and not bars:
        yield ("vehicle", "tow_rating", "weight_carrying"), gross
        yield ("vehicle", "tow_rating", "needs_distribution_above"), gross


@law(4, "ratings")
def ratings(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A stated rating that is set to 60 % of what the rig asks of the part brings an *over* with that rating."""
    if subject.weighed:
        return
    todo = [
        (p, d) for p, d in rated_by(subject) if at(subject.tree, *p) is not None and d is not None and d > 20
    ]
    for path, demand in todo if whole else dice.sample(todo, min(4, len(todo))):
        yield from _held(subject.tree, path, demand)


def _held(tree: Tree, path: Path_, demand: float) -> Iterator[Violation]:
    limit = round(0.6 * demand, 1)
    low = changed(tree, path, f"{limit} kg")
    found = judged(low)
    if not any(
        f.outcome is OVER and f.capacity is not None and abs(f.capacity - limit) < 0.2 for f in found.values()
    ):
        if not valid(low):
            return
        yield Violation(
            general(path),
            f"{dotted(path)} of {limit} kg stands against {demand:.0f} kg and nothing is over",
            low,
        )


@law(4, "tire ratings")
def tire_ratings(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Each marking of a tire that says what it carries is held against the load, alone and as the lowest."""
    if subject.weighed:
        return
    trailer = subject.tree["trailer"]
    group = subject.most("trailer_axle_load")
    count, per = int(at(trailer, "axles", "count") or 1), int(at(trailer, "axles", "tires_per_axle") or 2)
    front = subject.most("vehicle_front_axle", "front_alone")
    todo: list[tuple[Path_, float | None, str, str]] = [
        (("trailer", "tires"), None if group is None else group / count / per, "trailer", "max_load_dual" if per == 4 else "max_load"),
        (("vehicle", "tires", "front"), None if front is None else front / 2, "front", "max_load"),
    ]  # fmt: skip
    for path, wheel, where, marking in todo:
        tire = at(subject.tree, *path)
        if not tire or wheel is None or wheel < 80 or at(tire, "type") is None:
            continue
        changes: list[tuple[str, Any]] = [(marking, f"{0.6 * wheel:.0f} kg")]
        if at(tire, "type") in ("EURO", "C") and marking == "max_load" and at(tire, "max_load") is not None:
            changes.append(("load_index", 20))
        for name, value in changes:
            low = changed(subject.tree, (*path, name), value)
            if name == "max_load":
                low = deepcopy(low)
                for other in ("max_load_dual", "table"):
                    get(low, path).pop(other, None)
            found = judged(low)
            told = [found[c] for c in (f"tire-load-{where}", f"tire-pressure-{where}") if c in found]
            if any(f.outcome is OVER for f in told):
                continue
            passed = [f.code for f in told if f.outcome in (WITHIN, CLOSE)]
            if passed and valid(low):
                yield Violation(
                    f"tires {name}",
                    f"{dotted(path)}.{name} = {value} under {wheel:.0f} kg: {', '.join(passed)} passes",
                    low,
                )


def view(rig: Rig) -> str:
    """Everything the program says about a rig, but for the time-consuming what-if part."""
    from cardgen.present.borrower_page import build_borrower_page
    from cardgen.present.cards import KINDS
    from cardgen.present.results import results

    desk = prepare(rig, DAY)
    said = [results(desk), build_borrower_page(desk), *(kind.make(desk) for kind in KINDS.values())]
    return re.sub(r"0x[0-9a-f]+", "", repr(said))


def other(path: Path_, value: Any, tree: Tree) -> list[Any]:
    """Other values of a field that would be as right to write."""
    from cardgen.commands.fieldpath import find

    found = find(dotted(path))
    choices = () if found is None else found.shape.choices
    if isinstance(value, bool):
        return [not value]
    if isinstance(value, int):
        return [value + 1, value + 2, max(value - 1, 0)]
    if isinstance(value, list):
        return [value[:-1]] if value else []
    if choices:
        return [one for one in choices if one != value]
    if path[-1] == "seat":
        return [one for one in at(tree, "vehicle", "seats") or {} if one != value]
    if path[-1] == "case":
        return [one["name"] for one in tree["cases"] if one["name"] != value]
    if (
        found is not None
        and isinstance(value, str)
        and re.match(r"-?\d", value)
        and not re.fullmatch(r"\d{4}", value)
    ):
        scaled = [
            re.sub(
                r"-?[\d,]+(?:\.\d+)?",
                lambda m, f=f: f"{float(m[0].replace(',', '')) * f:.2f}",
                value,
                count=1,
            )
            for f in (0.5, 0.8, 1.25, 3.0)
        ]
        return [one for one in scaled if "/" not in value] or ["1 in", "2 in"]
    if value in ("empty", "full", "1/2", "1/4", "3/4", "half"):
        return ["empty", "full", "40 %"]
    return {"speed_symbol": ["J", "Y"], "date_code": ["0219"], "load_range": ["B", "G"]}.get(
        str(path[-1]), [f"{value} x"]
    )


def silent(
    subjects: Iterable[Subject], tries: int, only: Iterable[str] = ()
) -> tuple[dict[str, Tree], set[str]]:
    """Fields that never changed anything said, with a document each; and those no rig states."""
    from cardgen.commands.fieldpath import fields

    todo = {
        re.sub(r"^\.", "", f.path)
        for f in fields()
        if f.shape.form not in ("record",) and (f.shape.item is None or f.shape.item.form == "leaf")
    }
    tried: dict[str, int] = {}
    done: set[str] = set()
    shown: dict[str, Tree] = {}
    for subject in subjects:
        said = ""
        for path in leaves(subject.tree):
            name = general(path)
            if (
                (only and name not in only)
                or name in done
                or tried.get(name, 0) >= tries
                or get(subject.tree, path) in ("unknown", [], {})
            ):
                continue
            tried[name] = tried.get(name, 0) + 1
            said = said or view(subject.rig)
            for value in other(path, get(subject.tree, path), subject.tree):
                made = read(changed(subject.tree, path, value)).rig
                if made is not None and view(made) == said:
                    continue  # the reader may also refuse it: then the field counts
                done.add(name)
                break
            else:
                shown[name] = subject.tree
    quiet = {name: tree for name, tree in shown.items() if name not in done}
    return quiet, {name for name in todo if name.replace("[]", "[]") not in tried}


# --- 5: a measured load above a rating is over ---------------------------------------------


def measured(tree: Tree) -> Iterator[tuple[str, Path_, float, tuple[str, ...]]]:
    """The newest reading of every figure: (figure, rating's path, reading [kg], codes that may say over)."""
    newest: dict[str, tuple[str, Path_, float, tuple[str, ...]]] = {}
    bars = at(tree, "gear", "weight_distribution") is not None
    for visit in sorted(tree.get("weighings") or (), key=lambda w: w["date"]):
        case = visit["case"]

        def add(figure: str, path: Path_, value: float | None, *codes: str, case: str = case) -> None:
            if value is not None and value > 0:
                newest[f"{case} {figure}"] = (figure, path, value, codes)

        for state in ("alone", "slack", *(("engaged",) if bars else ())):
            front, rear, group = (number(visit, state, n) for n in ("front", "rear", "trailer"))
            add(f"{state}.front", ("vehicle", "gawr", "front"), front, "vehicle-front-axle")
            add(f"{state}.rear", ("vehicle", "gawr", "rear"), rear, "vehicle-rear-axle")
            for i, text in enumerate(at(visit, state, "axles") or ()):
                add(
                    f"{state}.axles",
                    ("trailer", "axles", "gawr", i),
                    si(text),
                    f"trailer-axle-{i + 1}",
                    f"trailer-axle-{i + 1}",
                )
            if state == "slack" and front is not None and rear is not None:
                add("vehicle hitched, slack", ("vehicle", "gvwr"), front + rear, "vehicle-gross")
            if state != "alone" and None not in (front, rear, group):
                add(
                    f"all axles, {state}",
                    ("vehicle", "gcwr"),
                    (front or 0) + (rear or 0) + (group or 0),
                    "combination",
                )
        add("trailer_alone", ("trailer", "gvwr"), number(visit, "trailer_alone"), "trailer-gross")
        add(
            "coupler",
            ("trailer", "coupler", "ratings", "tongue"),
            number(visit, "coupler"),
            "hitch-tongue-coupler",
        )
        wheels = at(visit, "wheels") or {}
        for i in range(int(at(tree, "trailer", "axles", "count") or 1)):
            pair = [si(wheels.get(f"{side} {i + 1}")) for side in ("left", "right")]
            if None not in pair:
                add(
                    f"wheels {i + 1}",
                    ("trailer", "axles", "gawr", i),
                    sum(p or 0 for p in pair),
                    f"trailer-axle-{i + 1}",
                )
        one = max((v for text in wheels.values() if (v := si(text)) is not None), default=None)
        if (at(tree, "trailer", "axles", "tires_per_axle") or 2) == 2:
            add(
                "one wheel",
                ("trailer", "tires", "max_load"),
                one,
                "tire-load-trailer",
                "tire-pressure-trailer",
            )
    yield from newest.values()


@law(5, "measured")
def weighed_over(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A rating 3 % below the newest reading of its figure brings an *over* of that check."""
    known_ = list(measured(subject.tree))
    for figure, path, value, codes in known_ if whole else dice.sample(known_, min(4, len(known_))):
        if at(subject.tree, *path[:-1] if isinstance(path[-1], int) else path) is None:
            continue
        yield from _under(subject.tree, figure, path, value, codes)


def _under(tree: Tree, figure: str, path: Path_, value: float, codes: tuple[str, ...]) -> Iterator[Violation]:
    low = changed(tree, path, f"{value * 0.97:.1f} kg")
    if path[-1] == "max_load":
        for other in ("max_load_dual", "table", "load_index"):
            get(low, path[:-1]).pop(other, None)
    found = judged(low)
    said = [f for c, f in found.items() if f.outcome is OVER and c.removeprefix("weighed-") in codes]
    if not said and valid(low):
        others = {c: f.outcome.value for c, f in found.items() if c.removeprefix("weighed-") in codes}
        yield Violation(
            re.sub(r"\d", "n", figure),
            f"{figure} weighed {value:.0f} kg, {dotted(path)} {value * 0.97:.0f} kg: {others}",
            low,
        )


# --- 6: a proposal carried out does what it promised ---------------------------------------

_MOVE = re.compile(r"move '(.+)' \(\{mass\}\) to '(.+?)'")
_LEAVE = re.compile(r"leave '(.+)' \(\{mass\}\) at home")
_SET = re.compile(r"leave out cargo set '(.+)' \(\{mass\}\)")
_TANK = re.compile(r"travel with the (.+?) (empty|full|at \{share\})")
_SHIFT = re.compile(r"shift \{mass\} of cargo from '(.+?)' to '(.+?)'")
_LESS = re.compile(r"carry \{mass\} less cargo in the (trailer|vehicle)")
_MOUNT = re.compile(r"use the ball mount '(.+)'")
GONE = "left at home"


def carried_out(tree: Tree, remedy: Remedy) -> Tree | None:
    """Edit the document as a person would who reads the proposal; None when its words are not known here."""
    made = deepcopy(tree)
    cases = [c for c in made["cases"] if not remedy.cases or c["name"] in remedy.cases]
    if _by_case(made, cases, remedy) or _by_gear(made, remedy):
        return made
    return made if len(cases) == len(made["cases"]) and _by_cargo(made, remedy) else None


def _by_case(made: Tree, cases: list[Tree], remedy: Remedy) -> bool:
    if found := _TANK.match(remedy.text):
        tanks = at(made, "trailer", "tanks") or {}
        name = next(n for n in tanks if found[1] in (n, f"{n} tank"))
        share = {"empty": 0.0, "full": 1.0}.get(found[2], remedy.values.get("share", (0.0, ""))[0])
        for case in cases:
            put(case, ("tanks", name), f"{100 * share:.6f} %")
    elif found := _SET.match(remedy.text):
        for case in cases:
            case["cargo"] = [name for name in case.get("cargo", ()) if name != found[1]]
    return found is not None


def _by_gear(made: Tree, remedy: Remedy) -> bool:
    if found := _MOUNT.match(remedy.text):
        made["gear"]["mount"] = next(m for m in made["gear"]["stock"] if m.get("name") == found[1])
    elif remedy.kind == "speed":
        made["preferences"]["planned_speed"] = f"{remedy.values['speed'][0]:.9f} m/s"
    elif remedy.kind == "ease":
        bars = made["gear"]["weight_distribution"]
        bars.pop("moment", None)
        bars["restoration"] = "100 %"
    else:
        return False
    return True


def _by_cargo(made: Tree, remedy: Remedy) -> bool:
    mass = remedy.values.get("mass", (0.0, ""))[0]
    if found := _LEAVE.match(remedy.text):
        for one in [*(at(made, "trailer", "cargo") or ()), *(at(made, "vehicle", "cargo") or ())]:
            if one["name"] == found[1]:
                one["set"] = GONE
    elif found := _MOVE.match(remedy.text):
        _take(made, "trailer", found[1], None, made["trailer"]["bays"][found[2]])
    elif found := _SHIFT.match(remedy.text):
        return _shifted(made, found[1], found[2], mass)
    elif found := _LESS.match(remedy.text):
        loose = [(one["name"], number(one, "weight") or 0.0) for one in _loose(made, found[1])]
        whole = sum(weight for _, weight in loose)
        for name, weight in loose:
            _take(made, found[1], name, weight * mass / whole, None)
    return found is not None


def _shifted(made: Tree, start: str, there: str, mass: float) -> bool:
    """Take a mass [kg] from what sits nearest to one bay, the first in the list first, to another bay."""
    bays = {name: si(text) or 0.0 for name, text in made["trailer"]["bays"].items()}
    for one in _loose(made, "trailer"):
        where = number(one, "x")
        if where is None or min(bays, key=lambda name: abs(bays[name] - where)) != start:
            continue
        part = min(mass, number(one, "weight") or 0.0)
        if part > 0:
            _take(made, "trailer", one["name"], part, made["trailer"]["bays"][there])
            mass -= part
    return mass < 1e-6


def _loose(tree: Tree, body: str) -> list[Tree]:
    """Cargo that may be moved and is aboard in every case."""
    aboard = [set(c.get("cargo", ())) for c in tree["cases"]]
    return [
        one
        for one in at(tree, body, "cargo") or ()
        if one.get("movable") is not False
        and one.get("set") != GONE
        and (at(one, "set") is None or all(one["set"] in names for names in aboard))
    ]


def _take(tree: Tree, body: str, name: str, part: float | None, bay: str | None) -> None:
    """Take part of an item [kg] away, and put it down at a bay when one is named."""
    items = tree[body]["cargo"]
    old = next(one for one in items if one["name"] == name)
    weight = number(old, "weight") or 0.0
    gone = weight if part is None else part
    rest, moved = {**old, "name": f"{name} rest"}, {**old, "name": f"{name} moved"}
    old["set"] = GONE
    rest["weight"], moved["weight"] = f"{weight - gone:.9f} kg", f"{gone:.9f} kg"
    if weight - gone > 1e-9:
        items.append(rest)
    if bay is not None:
        moved["x"] = bay
        items.append(moved)


@law(6, "carried out", every=2)
def kept_promise(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A proposal carried out on the file brings the outcome it promised and makes no other check worse."""
    if subject.weighed:
        return
    before = subject.findings
    for code, proposals in subject.desk.assessment.remedies.items():
        for remedy in proposals if whole else proposals[:2]:
            if remedy.kind in ("weigh", "short"):
                continue
            made = carried_out(subject.tree, remedy)
            if made is None:
                continue
            try:
                after = judged(made)
            except Exception as fault:
                yield Violation(
                    f"{remedy.kind}: cannot be written", f"{code}: {remedy.text}: {fault}"[:300], subject.tree
                )
                continue
            now = after.get(code)
            if now is None or RANK[now.outcome] > RANK[Outcome(remedy.after)]:
                said = "gone" if now is None else now.outcome.value
                yield Violation(
                    f"{remedy.kind}: promise not kept",
                    f"{code}: '{_filled(remedy)}' promises {remedy.after}, gives {said}", subject.tree,
                )  # fmt: skip
            for other, old in before.items():
                new = after.get(other)
                if other != code and new is not None and RANK[new.outcome] > RANK[old.outcome]:
                    yield Violation(
                        f"{remedy.kind}: makes another check worse",
                        f"{code}: '{_filled(remedy)}' turns {other} from {old.outcome.value} to {new.outcome.value}", subject.tree,
                    )  # fmt: skip


def _filled(remedy: Remedy) -> str:
    return re.sub(r"\{(\w+)\}", lambda m: f"{remedy.values[m[1]][0]:.4g} SI", remedy.text)


# --- 7: every number printed as an instruction is inside every limit -----------------------

LOADED = (
    "trailer-gross", "trailer-axle", "trailer-gtm", "tow-rating", "distribution-needed", "combination", "vehicle-gross",
    "vehicle-front-axle", "vehicle-rear-axle", "placard", "hitch-trailer", "hitch-tongue", "s-value", "tire-load",
)  # fmt: skip


def ballasted(tree: Tree, index: int, weight: float, tongue: float) -> Tree | None:
    """One case of a rig with this weight [kg] added to the trailer and this much to its tongue.

    None when that trailer would weigh nothing.
    """
    made = deepcopy(tree)
    made["cases"] = [made["cases"][index]]
    made["weighings"] = []
    empty = made["trailer"]["empty"]
    for name, more in (("weight", weight), ("tongue", tongue)):
        value = (number(empty, name) or 0.0) + more
        if value <= 1.0:
            return None
        empty[name] = f"{value:.9f} kg"
    return made


def _new_overs(tree: Tree | None, only: tuple[str, ...]) -> list[str]:
    return (
        []
        if tree is None
        else [c for c, f in judged(tree).items() if f.outcome is OVER and rule_of(c) in only]
    )


@law(7, "allowed trailer")
def allowed(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A trailer of the allowed weight at this rig's tongue share is over nowhere."""
    figure = subject.computed.figures["allowed_trailer"]
    if figure.value is None or subject.weighed or figure.value <= 0:
        return
    for index, known_ in enumerate(subject.figures):
        weight, share = known_["trailer_weight"], known_["tongue_share"]
        if weight is None or share is None or not 0 < share < 0.5:
            continue
        more = figure.value * (1 - 1e-6) - weight
        made = ballasted(subject.tree, index, more, more * share)
        for code in _new_overs(made, LOADED):
            yield Violation(
                f"{rule_of(code)}",
                f"allowed trailer {figure.value:.0f} kg; at that weight {code} is over (now {weight:.0f} kg)",
                subject.tree,
            )


@law(7, "allowed trailer is known")
def allowed_known(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Where the market has no vehicle placard the allowed trailer is not unknown for want of one."""
    figure = subject.computed.figures["allowed_trailer"]
    if subject.tree["market"] in ("us", "ca"):
        return
    if figure.needs and {n.path for n in figure.needs} <= {"vehicle.placard_capacity"}:
        yield Violation(
            "placard asked for",
            f"market {subject.tree['market']}: allowed trailer asks for the placard alone",
            subject.tree,
        )


@law(7, "tongue band")
def tongue_band(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Both printed ends of the tongue band are inside every plate of the tongue."""
    if subject.weighed:
        return
    figures = subject.computed.figures
    low, high = figures["band_low"].value, figures["band_high"].value
    if low is None or high is None:
        return
    plates = [(p, number(subject.tree, *p)) for p, _ in rated_by(subject) if p[-1] == "tongue"]
    for path, plate in plates:
        for end, value in (("upper", high), ("lower", low)):
            if plate is not None and value > plate * (1 + 1e-9):
                yield Violation(
                    f"{end} end above a plate",
                    f"keep {low:.0f} to {high:.0f} kg, {dotted(path)} {plate:.0f} kg",
                    subject.tree,
                )


@law(7, "tongue band kept")
def tongue_band_kept(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A tongue weight at either printed end is over nowhere that it was not before."""
    figures = subject.computed.figures
    low, high = figures["band_low"].value, figures["band_high"].value
    if low is None or high is None or subject.weighed:
        return
    rules_ = (
        "hitch-tongue",
        "s-value",
        "tongue-share",
        "tongue-weight",
        "vehicle-rear-axle",
        "vehicle-gross",
        "placard",
    )
    for index, known_ in enumerate(subject.figures):
        tongue = known_["tongue_weight"]
        if tongue is None:
            continue
        for end, value in (("upper", high * (1 - 1e-6)), ("lower", low * (1 + 1e-6))):
            made = ballasted(subject.tree, index, 0.0, value - tongue)
            for code in _new_overs(made, rules_):
                yield Violation(
                    f"{rule_of(code)} at the {end} end",
                    f"keep {low:.0f} to {high:.0f} kg; at the {end} end {code} is over in case {index + 1}",
                    subject.tree,
                )


@law(7, "pressure")
def pressures(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A printed pressure is at most every marked limit, and the tire carries its load at it."""
    places: dict[str, Path_] = {
        "trailer": ("trailer", "tires"), "front": ("vehicle", "tires", "front"),
        "rear": ("vehicle", "tires", "rear"), "spare": ("trailer", "spare"),
    }  # fmt: skip
    for place, path in places.items():
        plan, tire = subject.computed.tires.get(place), at(subject.tree, *path)
        if plan is None or plan.pressure is None or not tire:
            continue
        passenger = at(tire, "type") in ("P", "EURO")
        own = (
            "max_pressure",
            "rim_max_pressure",
            "valve_max_pressure",
            *(() if passenger else ("max_load_at",)),
        )
        for name in own:
            if name == "max_load_at" and at(tire, "max_pressure") is not None:
                continue
            limit = number(tire, name)
            if limit is not None and plan.pressure > limit * (1 + 1e-9):
                yield Violation(
                    f"{place}: above {name}",
                    f"set {plan.pressure / 1e3:.0f} kPa of {limit / 1e3:.0f} kPa {dotted(path)}.{name}",
                    subject.tree,
                )


@law(7, "rounding", every=4)
def rounding(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """As printed, upper ends are rounded down and lower ends up."""
    show, figures = subject.desk.shower, subject.computed.figures
    for name, upper in (
        ("allowed_trailer", True),
        ("band_high", True),
        ("band_low", False),
        ("planned_speed_limit", True),
    ):
        figure = figures[name]
        if figure.value is None or figure.value <= 0:
            continue
        printed = show.figure(figure).replace("\u00a0", " ")
        value = si(printed)
        slack = 1e-6 * figure.value
        if value is not None and (value > figure.value + slack if upper else value < figure.value - slack):
            yield Violation(name, f"{name} {figure.value:.4f} SI is printed as {printed}", subject.tree)


@law(7, "tongue band as printed", every=2)
def band_order(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """The lower printed end is not above the upper one."""
    figures = subject.computed.figures
    low, high = figures["band_low"].value, figures["band_high"].value
    if low is not None and high is not None and low > high:
        yield Violation("ends swapped", f"keep {low:.1f} to {high:.1f} kg", subject.tree)


@law(7, "top speed")
def top_speed(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Planning the printed top speed is over for no tire and no place."""
    figure = subject.computed.figures["planned_speed_limit"]
    if figure.value is None or figure.value <= 0:
        return
    made = deepcopy(subject.tree)
    made.setdefault("preferences", {})["planned_speed"] = f"{figure.value / 0.44704 * (1 - 1e-9):.9f} mph"
    for code in _new_overs(made, ("tire-speed", "law-speed")):
        yield Violation(
            rule_of(code), f"top speed {figure.value / 0.44704:.1f} mph; {code} is over at it", subject.tree
        )


# --- 8: the envelope is brute force's ------------------------------------------------------


@law(8, "envelope")
def envelope(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Both ends of every range over all fillings are those of trying every corner."""
    if any(w.get("anchor") for w in subject.tree.get("weighings") or ()):
        return
    ends: dict[str, tuple[float, float]] = {}
    lost: set[str] = set()
    for loads in model.fillings(subject.tree, FLUIDS, 1500 if not whole else 20000):
        for name, value in model.totals(subject.tree, loads).items():
            if value is None:
                lost.add(name)
                continue
            low, high = ends.get(name, (value, value))
            ends[name] = (min(low, value), max(high, value))
    stated = at(subject.tree, "limits", "water_from_fresh_only")
    for name, (low, high) in ends.items():
        reach = subject.computed.envelope.get(name)
        if reach is None or name in lost or reach.low is None or reach.high is None:
            continue
        slack = 1e-6 * max(1.0, abs(high), abs(low)) if name != "tongue_share" else 1e-9
        if abs(reach.low - low) > slack or abs(reach.high - high) > slack:
            yield Violation(
                f"{name}, water_from_fresh_only {stated}",
                f"{name}: {reach.low:.3f} to {reach.high:.3f}, brute force {low:.3f} to {high:.3f}", subject.tree,
            )  # fmt: skip


@law(8, "statics")
def statics(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Every figure of every case that no scale set is the model's."""
    if subject.weighed:
        return
    for case, known_ in zip(subject.computed.cases, subject.figures, strict=True):
        for name, value in known_.items():
            figure = case.figures.get(name)
            if figure is None:
                continue
            if (figure.value is None and value is not None) or (figure.value is not None and value is None):
                yield Violation(
                    f"{name}: unknown", f"{name}: {figure.value} here, {value} by the model", subject.tree
                )
            elif (
                value is not None
                and figure.value is not None
                and abs(figure.value - value) > 1e-6 * max(1.0, abs(value))
            ):
                yield Violation(
                    name, f"{name}: {figure.value:.3f} here, {value:.3f} by the model", subject.tree
                )


# --- 9: who may say "Do not tow" -----------------------------------------------------------

FORBID = (Basis.MAKER, Basis.LAW, Basis.COMMERCIAL_LAW)
NO_COUPLING = ("ball-size", "ball-wear", "shank-fit", "adapter-fit", "ball-hole-fit", "connector")


def _forbids(subject: Subject, bases: tuple[Basis, ...]) -> Iterator[Violation]:
    for code, one in subject.findings.items():
        rule = rule_of(code).removeprefix("weighed-")
        if one.outcome is not OVER or one.basis not in bases or rule in (*NO_COUPLING, "tongue-share"):
            continue
        if one.basis is Basis.OWNER and rule == "tongue-weight":
            continue
        yield Violation(
            f"{rule}: {one.basis.value}",
            f"{code} is over by {one.basis.value}: {one.message[:120]}",
            subject.tree,
        )


@law(9, "guidance")
def guidance_forbids(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Guidance, habit and rules read in part are never *over*."""
    yield from _forbids(subject, (Basis.GUIDANCE, Basis.PRACTICE))


@law(9, "standards")
def standard_forbids(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A voluntary standard is never *over*."""
    yield from _forbids(subject, (Basis.STANDARD,))


@law(9, "age and equipment")
def others_forbid(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Age, and parts that couple but lack something, are never *over*; the owner's own tongue band may be."""
    yield from _forbids(subject, (Basis.OWNER, Basis.PHYSICS))


@law(9, "critical")
def critical(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """What is *over* forbids towing: there is no *over* that the exit code may or may not count."""
    for code, one in subject.findings.items():
        if one.outcome is OVER and not one.critical:
            yield Violation(
                f"{rule_of(code)}: {one.basis.value}", f"{code} is over and not critical", subject.tree
            )


@law(9, "tongue share")
def tongue_share(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Too little on the tongue is *close*, far too little or a lifting tongue *over*; more than a band is *within*."""
    if subject.weighed or "tongue-share" not in subject.findings:
        return
    from cardgen.tables.tongue import share_band  # the published band itself

    tree, found = subject.tree, subject.findings["tongue-share"]
    trailer = tree["trailer"]
    owner = at(tree, "limits", "tongue_share")
    published = share_band(trailer["type"], trailer["body"], tree["market"])
    low, high = (
        (number(owner, "low") or 0.0, number(owner, "high") or 1.0)
        if owner
        else (published.low, published.high)
    )
    tongues = [c.figures["tongue_weight"] for c in subject.computed.cases]
    shares = [f["tongue_share"] for f in subject.figures]
    if any(s is None for s in shares) or any(t.value is None for t in tongues):
        return
    lifts = any(t.value is not None and t.value - 2 * (t.u or 0.0) <= 0 for t in tongues)
    sure = [s for s in shares if s is not None]
    outside = min(sure) < low - 1e-9 or max(sure) > high + 1e-9
    if lifts or (owner and outside) or min(sure) < low / 2 - 1e-9:
        wanted: tuple[Outcome, ...] = (OVER,)
    elif min(sure) < low - 1e-9:
        wanted = (CLOSE,)
    else:
        wanted = (WITHIN, CLOSE)
    why = "lifts" if lifts else "owner's band" if owner else "guidance"
    if found.outcome not in wanted:
        end = "below" if min(sure) < low else "above" if max(sure) > high else "inside"
        yield Violation(
            f"{why}, {end}: {found.outcome.value}",
            f"shares {', '.join(f'{s:.1%}' for s in sure)} of {low:.0%} to {high:.0%} ({why}): {found.outcome.value}, wanted {wanted[0].value}", tree,
        )  # fmt: skip


# --- 10: one decision everywhere -----------------------------------------------------------


@law(10, "exit code")
def exit_code(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """The rig as a whole is over when, and only when, a check that forbids towing is."""
    forbids = sorted(c for c, f in subject.findings.items() if f.outcome is OVER and f.critical)
    told = subject.plain.outcome()
    if (told is OVER) != bool(forbids):
        only = sorted({rule_of(c) for c, f in subject.findings.items() if f.outcome is OVER})
        yield Violation(
            f"{told.value} by {', '.join(only)}",
            f"outcome {told.value}, forbidding checks {forbids}",
            subject.tree,
        )


@law(10, "card", every=4)
def card(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """The banner of the cards, the JSON and the report say the same level."""
    from cardgen.present.cards.pieces import banner
    from cardgen.present.desk import LEVELS
    from cardgen.present.results import results

    told = subject.desk.assessment.outcome()
    said = results(subject.desk)
    if said["outcome"] != told.value:
        yield Violation("JSON", f"JSON says {said['outcome']}, the assessment {told.value}", subject.tree)
    level = banner(subject.desk).level
    if level != LEVELS[told]:
        yield Violation(
            f"banner {level}", f"the banner says {level}, the assessment {told.value}", subject.tree
        )
    for one in said["findings"]:
        if subject.findings[one["code"]].outcome.value != one["outcome"]:
            yield Violation(rule_of(one["code"]), f"{one['code']} is {one['outcome']} in JSON", subject.tree)


@law(10, "matrix", every=4)
def matrix(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """The cell of a rig's own vehicle and trailer says what the rig's own assessment says, and knows its own."""
    from cardgen.present.matrix import cell

    vehicle, trailer = shelved(subject.tree)
    made = cell(vehicle, trailer, [subject.rig], DAY)
    told = subject.plain.outcome()
    if made.own != subject.rig.nickname:
        yield Violation(
            "own pair not found",
            "the rig's own vehicle and trailer from the shelf are not its own pair",
            subject.tree,
        )
    if made.word != told.value:
        yield Violation(
            f"cell {made.word}, rig {told.value}",
            f"the cell says {made.word}, the rig {told.value}",
            subject.tree,
        )


def shelved(tree: Tree) -> tuple[Any, Any]:
    """Vehicle and trailer as the shelf reads them from parts of their own."""
    from cardgen.model.trailer import Trailer
    from cardgen.model.vehicle import Vehicle
    from cardgen.source.check import check
    from cardgen.source.limits import Bounds
    from cardgen.source.parts import load
    from cardgen.source.tree import plain_tree
    from tests.laws.rigs import FILE, Store, text_of

    out = []
    for name, shape in (("vehicle", Vehicle), ("trailer", Trailer)):
        loaded = load(FILE, Store(text_of(tree[name])), Bounds())
        assert loaded.top is not None, loaded.faults
        out.append(check(plain_tree(loaded.top), shape, loaded.holes).value)
    return out[0], out[1]


@law(10, "what-if", every=8)
def what_if(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """The what-if page at the rig's own cases says what the checks say, the worst case speaking."""
    from cardgen.present.whatif import what_if as page
    from tests.laws.page import Sheet

    laid = page(subject.desk)
    if laid is None:
        return
    sheet = Sheet(laid.data)
    for check in laid.data["checks"]:
        said = [sheet.judge(check, preset["shares"]) for preset in laid.data["presets"]]
        worst = max(said, key=lambda word: RANK[Outcome(word)])
        told = subject.findings[check["code"]].outcome
        if Outcome(worst) is not told:
            yield Violation(
                f"{rule_of(check['code'])}: page {worst}, rig {told.value}",
                f"{check['code']}: the page says {worst} at the rig's own cases, the rig {told.value}", subject.tree,
            )  # fmt: skip
    for place, plan in laid.data["tires"].items():
        said = [sheet.tire(plan, preset["shares"]) for preset in laid.data["presets"]]
        worst = max(said, key=lambda word: RANK[Outcome(word)])
        load, pressure = (
            subject.findings.get(f"tire-load-{place}"),
            subject.findings.get(f"tire-pressure-{place}"),
        )
        told = max((f.outcome for f in (load, pressure) if f is not None), key=lambda o: RANK[o])
        if (worst == OVER.value) != (told is OVER) or (worst in (WITHIN.value, CLOSE.value) and told is OPEN):
            yield Violation(
                f"tires {place}: page {worst}, rig {told.value}",
                f"{place} tires: the page says {worst}, the rig {told.value}",
                subject.tree,
            )


def drop_quietly(tree: Tree, path: Path_) -> Tree | None:
    """A copy without a path; None when there is nothing."""
    made = deepcopy(tree)
    try:
        drop(made, path)
    except (KeyError, IndexError, TypeError):
        return None
    return made


_GOOD: tuple[type, ...] = (dict, list)


def nodes(tree: Any, path: Path_ = ()) -> Iterator[Path_]:
    """Every node below the top, groups before what is in them."""
    inner: Iterable[tuple[str | int, Any]] = ()
    if isinstance(tree, dict):
        inner = tree.items()
    elif isinstance(tree, list):
        inner = enumerate(tree)
    for step, value in inner:
        yield (*path, step)
        if isinstance(value, _GOOD):
            yield from nodes(value, (*path, step))


def smallest(broken: Violation, part: Part, most: int = 300) -> Tree:
    """Take out whatever can go while the break stays; what remains is the example."""

    def still(tree: Tree) -> bool:
        if broken.redo is not None:
            return valid(tree) and broken.redo(tree)
        if not valid(tree):
            return False
        again = part.check(Subject(broken.seed, tree), Random(broken.seed), True)
        return any(one.key == broken.key for one in again)

    tree, tries = deepcopy(broken.tree), 0
    if not still(tree):
        return tree
    again = True
    while again:
        again = False
        for path in list(nodes(tree)):
            less = drop_quietly(tree, path)
            if less is None or tries >= most:
                continue
            tries += 1
            try:
                if still(less):
                    tree, again = less, True
            except Exception:
                continue
        if tries >= most:
            break
    return tree
