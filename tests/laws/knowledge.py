"""Laws 1 to 3: less knowledge never passes more, more never hides, order never matters."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from functools import partial
from random import Random
from typing import Any

from pydantic import ValidationError

from cardgen.model.results import Finding
from cardgen.model.rig import Rig
from cardgen.present.prepare import prepare
from tests.laws.documents import DAY, Path_, changed, get, leaves, read
from tests.laws.model import Tree, at, si
from tests.laws.subject import (
    OPEN,
    OVER,
    RANK,
    Findings,
    Subject,
    Violation,
    dotted,
    findings,
    general,
    judged,
    law,
    quick,
    rated_by,
    rule_of,
    valid,
)

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
            if old.outcome is OVER and not code.startswith("weighed-"):  # a visit speaks of itself
                yield code, f"{old.outcome.value} -> no such check"
        elif new.outcome in (OPEN, old.outcome) or _doubted(old):
            continue
        elif RANK[new.outcome] < RANK[old.outcome] or new.outcome is OVER:
            yield code, f"{old.outcome.value} -> {new.outcome.value}"


_BALL = {"gear.ball.diameter", "gear.ball.measured"}
"""A stamp and a measure of one ball [-]."""


def _doubted(finding: Finding) -> bool:
    """Whether a check is open only because two statements contradict each other: one alone is believed."""
    return (
        finding.outcome is OPEN
        and bool(finding.needs)
        and (
            all(n.what.startswith("read it again") for n in finding.needs)
            or {n.path for n in finding.needs} == _BALL
        )
    )


_LEVEL = (
    "rate",
    "spacing",
    "height",
    "height_at",
    "height_hitched",
    "ball_height",
    "drop",
    "front_axle_rate",
    "rear_axle_rate",
    "fixed_ball",
    "diameter",
)
"""What tells how level independent axles ride; unknown, a stated range is taken, which may err either way [-]."""


_NOT_ALWAYS = (
    "trailer.gtm", "vehicle.tow_rating.tongue", "vehicle.tow_rating.weight_carrying",
    "vehicle.tow_rating.needs_distribution_above", "vehicle.tires.front.speed_limit",
    "vehicle.tires.rear.speed_limit", "trailer.tires.speed_limit", "water_temperature",
    "vehicle.receiver.d_value", "trailer.coupler.d_value", "trailer.spare.pressure", "trailer.breakaway.voltage",
)  # fmt: skip
"""What many makers do not state, markets do not use, or changes from day to day and stands on the checklist: held
against where stated, not asked everywhere [-]."""


def _assumed(subject: Subject, path: Path_) -> bool:
    """Whether something stands in for a leaf, or it is asked for elsewhere only: a range of heights, the scale for
    what the file says beside it, or that brakes of a stated kind work where no count of them says otherwise."""
    axles = subject.tree["trailer"]["axles"]
    leans = axles.get("suspension") == "independent" and axles.get("count", 1) > 1
    bars = at(subject.tree, "gear", "weight_distribution") is not None
    if path[:3] == ("gear", "mount", "ratings") and bars:
        return True  # the bars' own head carries the ball; a mount beside it counts where it states a rating
    papers = at(subject.tree, "market") not in ("us", "ca")
    label = at(subject.tree, "trailer", "tire_pressure") not in (None, "unknown")
    if path[:2] == ("trailer", "tires") and path[-1] in ("rim_max_pressure", "valve_max_pressure") and label:
        return True  # the trailer's own label vouches for rim and valve as delivered
    rates = (at(subject.tree, "vehicle", f"{end}_axle_rate") for end in ("front", "rear"))
    if path == ("vehicle", "receiver", "height_hitched") and None not in rates:
        return True  # how far the vehicle sits down is then worked out from the rates of its axles
    if path == ("trailer", "axles", "tires_per_axle"):
        return True  # two are taken, which carry less than four and ask for no less pressure
    if path[:2] == ("vehicle", "tires") and path[-1] in ("rim_max_pressure", "valve_max_pressure"):
        return True  # held against where stated; the maker of a vehicle chose its rims for its placard
    fixed = at(subject.tree, "vehicle", "receiver", "fixed_ball") is True
    bare = all(at(subject.tree, "gear", n) is None for n in ("mount", "adapter", "weight_distribution"))
    if path == ("gear", "weight") and fixed and bare:
        return True  # nothing is put on a vehicle with a fixed ball: that weighs nothing, by the file itself
    if (
        path[:2] == ("vehicle", "seats")
        and at(subject.tree, "vehicle", "curb", "includes", "driver") is not None
    ):
        return (
            True  # the driver counted in the curb weight sits in the foremost row: without it another one is
        )
    if path[-2:] == ("wiring", "awg") and get(subject.tree, path[:-1]).get("area") is not None:
        return True  # one wire stated twice
    if path == ("vehicle", "placard_capacity") and papers:
        return True  # a placard of North America
    if path == ("trailer", "cargo_capacity") and (papers or at(subject.tree, "trailer", "body") == "boat"):
        return True  # boat trailers mostly have no such label; papers state it as rating less empty weight
    if subject.anchored:
        return path not in {rating for rating, _ in rated_by(subject)}
    none_work = path[-1] == "braked_axles" and get(subject.tree, path) == 0
    return none_work or (leans and path[-1] in _LEVEL)


def _without(path: Path_, code: str, said: str, tree: Tree) -> bool:
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
    paths = [p for p in paths if dotted(p) not in _NOT_ALWAYS and not _assumed(subject, p)]
    before = subject.findings
    for path in paths if whole else dice.sample(paths, min(3, len(paths))):
        less = changed(subject.tree, path, None)
        broken = list(_passes(before, judged(less)))
        if broken and valid(less):
            for code, said in broken:
                yield Violation(
                    f"{rule_of(code)}: {said} without {general(path)}",
                    f"{code}: {said} when {dotted(path)} = {get(subject.tree, path)!r} is left out",
                    subject.tree,
                    partial(_without, path, code, said),
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


@law(1, "safety lines", every=5)
def safety_lines(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Leaving a feature out takes no safety-critical line off the checklist that the rig with it has.

    Lines marked "if fitted" are not counted before: what merely hints at a thing may go with its hint.
    """
    tree = subject.tree
    paths = [p for p in leaves(tree) if _feature(p) and _there(get(tree, p)) and not _nowhere(tree, p)]
    before = _critical(subject.rig, sure=True)
    for path in paths:
        less = changed(tree, path, None)
        gone = before - _critical(quick(less), sure=False)
        if gone and valid(less):
            for line in sorted(gone):
                yield Violation(
                    f"{general(path)}: {line}",
                    f"line {line} is gone when {dotted(path)} = {get(tree, path)!r} is left out",
                    tree,
                )


def _there(value: Any) -> bool:
    return value not in (None, "unknown", False, "none", 0)


_GAS = ("living_space", "lp_appliances", "fridge")
_LIVED_IN = (
    *_GAS,
    "windows",
    "roof_vents",
    "screen_door",
    "converter",
    "awning",
    "slide_outs",
    "shore_power",
)
_HOLD = ("tiedowns", "carries_vehicle", "enclosed_cargo", "open_deck")


def _nowhere(tree: Tree, path: Path_) -> bool:
    """Whether nothing but this leaf tells that such a trailer could have the thing.

    What no such trailer has (animals on a boat, a stove on an open deck where nobody lives and no
    cylinder stands) is not asked for, or every list would be full of lines that nobody reads.
    """
    trailer, name, body = tree["trailer"], path[-1], tree["trailer"]["body"]
    features = trailer.get("features") or {}
    others = {key for key, value in features.items() if key != name and _there(value)}
    if path[1] == "breakaway":
        return bool(at(trailer, "brakes", "kind") == "none")  # it has no brake to apply
    if path[1] == "chains":  # a stated secondary coupling is one cable where nobody counted any
        return bool(trailer["type"] == "fifth_wheel" or trailer.get("secondary_coupling") is True)
    if name in (*_GAS, "generator"):
        water = any(one["holds"] in ("fresh", "grey", "black", "heater") for one in trailer["tanks"].values())
        told = bool(trailer["cylinders"]) or water or others & {*_LIVED_IN}
        denied = name != "living_space" and features.get("living_space") is False
        return not told and (denied or body in ("utility", "boat", "car_hauler"))
    if name == "livestock":
        return body not in ("horse", "cargo") and "partitions" not in others
    if name == "enclosed_cargo" and "open_deck" in others:
        return True  # an open deck is not closed
    if name in _HOLD:
        hinted = bool(others & {*_HOLD}) or ("ramp" in others and body != "horse")
        home = {"horse": name in ("carries_vehicle", "tiedowns"), "boat": True}
        return not (body != "boat" and hinted) and home.get(
            body, body in ("camper", "travel_trailer", "caravan")
        )
    return False


def _feature(path: Path_) -> bool:
    wanted: tuple[Path_, ...] = (
        ("trailer", "features"), ("trailer", "brakes"), ("trailer", "breakaway"), ("trailer", "chains"),
        ("trailer", "connector"), ("trailer", "jack"), ("trailer", "dimensions"), ("trailer", "spare"),
        ("vehicle", "mirrors"), ("vehicle", "width"), ("vehicle", "brake_controller"), ("gear", "sway_control"),
        ("gear", "plug_adapter"), ("trailer", "axles", "count"),
    )  # fmt: skip
    return "table" not in path and any(path[: len(one)] == one for one in wanted)


def _critical(rig: Rig, sure: bool) -> set[str]:
    """The safety-critical lines of a rig [-]; ``sure`` leaves out those marked "if fitted"."""
    from cardgen.checklist.catalog import catalog
    from cardgen.checklist.features import features
    from cardgen.checklist.select import build

    made = build(rig, features(rig), dict.fromkeys(catalog().values), DAY)
    lines = (line for phase in made.phases for line in phase.items)
    return {line.id for line in lines if line.severity == "safety_critical" and not (sure and line.if_fitted)}


def starters() -> Iterator[Violation]:
    """A field that the starter writes ``unknown`` is listed as missing in the report."""
    from cardgen.model.read import read_rig
    from cardgen.model.starter import Wish, starter
    from cardgen.present.report_checks import missing
    from tests.laws.documents import FILE, Store

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
            rig_view = prepare(found.rig, DAY)
            listed = {re.sub(r"\[\d+\]", "[]", one.code) for one in missing(rig_view)}
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
    names = [one["name"] for one in more.get("occupants") or ()]
    scaled = {visit["case"] for visit in more.get("weighings") or ()}
    for case in more["cases"]:
        if case["name"] in scaled and "occupants" not in case:
            case["occupants"] = names  # who rode on the scale is not changed afterwards
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

    def replaced(spared: tuple[str, ...], code: str, old: Finding) -> bool:
        return rule_of(code).removeprefix("weighed-").startswith(spared) or code.startswith("law-")

    if tongue is not None and tongue > 0:
        text = f"{tongue * 0.9:.0f} kg"
        visits.append(("a scale under the coupler", {"coupler": text}, (*TONGUE_SIDE, "hitch-tongue")))
    if front is not None and front > 0:
        ends: tuple[str, ...] = ("vehicle-", "combination", "placard", "tire-", "front-restoration")
        visits.append(("the front axle alone", {"alone": {"front": f"{front * 0.9:.0f} kg"}}, ends))
    for what, readings, spared in visits:
        more = deepcopy(subject.tree)
        more.setdefault("weighings", []).append({"date": "2026-11-01", "case": case, **readings})
        yield from _hidden(
            subject, more, f"a later weighing of {what}",
            partial(replaced, spared),
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
