"""Laws 6 and 7: proposals keep their promise, and printed instructions lie inside every limit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from copy import deepcopy
from random import Random

from cardgen.checklist.values import values
from cardgen.model.advice import Remedy
from cardgen.model.results import Outcome
from cardgen.model.written import units_of
from tests.laws import model
from tests.laws.documents import Path_, fluids_of
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
from tests.limits.carry import carried_out

# --- 6: a proposal carried out does what it promised ---------------------------------------


@law(6, "carried out", every=2)
def kept_promise(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A proposal carried out on the file brings the outcome it promised and makes no other check worse."""
    if subject.weighed:
        return
    before = subject.findings
    for code, proposals in subject.rig_view.assessment.remedies.items():
        for remedy in proposals if whole else proposals[:2]:
            if remedy.kind in ("weigh", "short"):
                continue
            made = carried_out(subject.tree, remedy)
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
    """One case of a rig with this weight [kg] added to the trailer and this much to its tongue as it rides.

    None when that trailer would weigh nothing.
    """
    made = _on_paper(tree, index, weight, tongue)
    if made is None or at(tree, "trailer", "axles", "suspension") != "independent":
        return made
    more = _on_paper(tree, index, weight, tongue + 10.0)
    assert more is not None
    was, first, second = (
        model.figures(one, at_, fluids_of(tree))["tongue_weight"]
        for one, at_ in ((tree, index), (made, 0), (more, 0))
    )
    if was is None or first is None or second is None:
        return made
    # a level trailer's tongue is what a file states; riding, it eases as the coupling sinks under it
    return _on_paper(tree, index, weight, tongue + (was + tongue - first) * 10.0 / (second - first))


def _on_paper(tree: Tree, index: int, weight: float, tongue: float) -> Tree | None:
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
    """A trailer of the allowed weight is over nowhere at this rig's tongue share, or at what its plates bear."""
    figure = subject.computed.figures["allowed_trailer"]
    if figure.value is None or subject.weighed or figure.value <= 0:
        return
    kept = [p for p, _ in rated_by(subject) if p[-1] == "tongue"] + [("limits", "tongue_weight", "high")]
    plates = (number(subject.tree, *p) for p in kept)
    most = min((p * (1 - 1e-6) for p in plates if p is not None), default=float("inf"))
    for index, known_ in enumerate(subject.figures):
        weight, share = known_["trailer_weight"], known_["tongue_share"]
        if weight is None or share is None or not 0 < share < 0.5:
            continue
        more = figure.value * (1 - 1e-6) - weight
        tongue = known_["tongue_weight"] or 0.0
        made = ballasted(subject.tree, index, more, min(more * share, most - tongue))
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
        for end, value in (("upper", high * (1 - 1e-6)), ("lower", min(low * (1 + 1e-6), high * (1 - 1e-6)))):
            made = ballasted(subject.tree, index, 0.0, value - tongue)
            for code in _new_overs(made, rules_):
                yield Violation(
                    f"{rule_of(code)} at the {end} end",
                    f"keep {low:.0f} to {high:.0f} kg; at the {end} end {code} is over in case {index + 1}",
                    subject.tree,
                )


ROUND = 0.5e3
"""What the print of a pressure in another unit than the marked one may round up by [Pa]: half of a kilopascal."""


@law(7, "pressure")
def pressures(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """A printed pressure is at most every marked limit, and the tire carries its load at it."""
    places: dict[str, Path_] = {
        "trailer": ("trailer", "tires"), "front": ("vehicle", "tires", "front"),
        "rear": ("vehicle", "tires", "rear"), "spare": ("trailer", "spare"),
    }  # fmt: skip
    for place, path in places.items():
        plan, tire = subject.computed.tires.get(place), at(subject.tree, *path)
        said = subject.rig_view.texts.get(f"pressure_{place}")
        values = (None if plan is None else plan.pressure, si(said.replace("\u00a0", " ")) if said else None)
        pressure = max((v for v in values if v is not None), default=None)
        if pressure is None or not tire:
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
            if limit is not None and pressure > limit * (1 + 1e-6) + ROUND:
                yield Violation(
                    f"{place}: above {name}",
                    f"set {pressure / 1e3:.0f} kPa of {limit / 1e3:.0f} kPa {dotted(path)}.{name}",
                    subject.tree,
                )


@law(7, "rounding", every=4)
def rounding(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """As printed, upper ends are rounded down and lower ends up."""
    show, figures = subject.rig_view.formatter, subject.computed.figures
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
    """Planning the top speed that the checklist prints is over for no tire and no place."""
    printed = values(subject.plain, units_of(subject.plain.rig))["max_speed"]
    if not printed:
        return
    made = deepcopy(subject.tree)
    said = str(printed).split(" (")[0].replace("\u00a0", " ")
    made.setdefault("preferences", {})["planned_speed"] = said
    for code in _new_overs(made, ("tire-speed", "law-speed")):
        yield Violation(rule_of(code), f"top speed {said}; {code} is over at it", subject.tree)
