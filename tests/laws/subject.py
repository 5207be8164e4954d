"""One random rig, what the program says about it, and the register of the laws' parts."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Iterator
from copy import deepcopy
from dataclasses import dataclass, field
from functools import cache, cached_property
from random import Random
from typing import Any

from pydantic import TypeAdapter

from cardgen.limits.assess import assess
from cardgen.limits.registry import rules
from cardgen.model.results import Assessment, Computed, Finding, Outcome
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import RigView
from tests.laws import model
from tests.laws.documents import DAY, Path_, drop, fluids_of, read
from tests.laws.model import Figures, Tree, at

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
    def rig_view(self) -> RigView:
        """What cards and pages are made from, advice included."""
        return prepare(self.rig, DAY)

    @cached_property
    def figures(self) -> list[Figures]:
        """Figures of every case by the model of this folder [kg]."""
        return [model.figures(self.tree, i, fluids_of(self.tree)) for i in range(len(self.tree["cases"]))]

    def most(self, *names: str) -> float | None:
        """Largest value over the cases by the model; None when a case does not know one."""
        values = [f.get(name) for f in self.figures for name in names if name in f]
        sure = [v for v in values if v is not None]
        return max(sure) if sure and len(sure) == len(values) else None

    @property
    def weighed(self) -> bool:
        """Whether a scale was asked."""
        return bool(self.tree.get("weighings"))

    @property
    def anchored(self) -> bool:
        """Whether what a scale said may count more than what is computed."""
        return any(one.get("anchor") is not False for one in self.tree.get("weighings") or ())


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
        without = brakes == "none" or at(trailer, "brakes", "braked_axles") == 0
        yield ("vehicle", "tow_rating", "unbraked" if without else "braked"), gross
    yield ("vehicle", "tow_rating", "tongue"), tongue
    if ball and not bars:
        yield ("vehicle", "tow_rating", "weight_carrying"), gross
        yield ("vehicle", "tow_rating", "needs_distribution_above"), gross


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
