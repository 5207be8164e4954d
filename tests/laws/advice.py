"""Laws 6 and 7: proposals keep their promise, and printed instructions lie inside every limit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from copy import deepcopy
from random import Random

from cardgen.model.advice import Remedy
from cardgen.model.results import Outcome
from tests.laws.documents import Path_, put
from tests.laws.model import Tree, at, number, si
from tests.laws.subject import (
    OVER,
    RANK,
    Subject,
    Violation,
    dotted,
    judged,
    law,
    rated_by,
    rule_of,
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
