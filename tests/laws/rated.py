"""Laws 4 and 5: every stated rating is held against its demand, and every reading against its rating."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from copy import deepcopy
from random import Random
from typing import Any

from cardgen.model.rig import Rig
from cardgen.present.prepare import prepare
from tests.laws.documents import DAY, Path_, changed, get, leaves, read
from tests.laws.model import Tree, at, height_assumed, number, si
from tests.laws.subject import (
    CLOSE,
    OPEN,
    OVER,
    WITHIN,
    Subject,
    Violation,
    dotted,
    general,
    judged,
    law,
    rated_by,
    valid,
)

# --- 4: every stated rating is held against its demand -------------------------------------


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
    # a tongue that rests on a height nobody measured is asked about and forbids nothing
    enough = (OVER, OPEN) if height_assumed(tree) else (OVER,)
    if not any(
        f.outcome in enough and f.capacity is not None and abs(f.capacity - limit) < 0.2
        for f in found.values()
    ):
        if not valid(low):
            return
        yield Violation(
            general(path),
            f"{dotted(path)} of {limit} kg stands against {demand:.0f} kg and nothing is over",
            low,
        )


def _tires_on(tree: Tree, side: float | None) -> int | None:
    """Tires on a trailer axle with a load on one side [kg]; None where the program asks, as it may have four."""
    axles = tree["trailer"]["axles"]
    ratings = [kg for text in axles.get("gawr") or () if (kg := si(text)) is not None]
    may = (not ratings or max(ratings) >= 2700.0) and (side is None or side >= 675.0)
    stated = axles.get("tires_per_axle")
    return int(stated) if stated not in (None, "unknown") else None if may else 2


@law(4, "tire ratings")
def tire_ratings(subject: Subject, dice: Random, whole: bool) -> Iterator[Violation]:
    """Each marking of a tire that says what it carries is held against the load, alone and as the lowest."""
    if subject.weighed:
        return
    trailer = subject.tree["trailer"]
    group = subject.most("trailer_axle_load")
    count = int(at(trailer, "axles", "count") or 1)
    per = _tires_on(subject.tree, None if group is None else group / count / 2)
    front = subject.most("vehicle_front_axle", "front_alone")
    todo: list[tuple[Path_, float | None, str, str]] = [
        (("trailer", "tires"), None if group is None or per is None else group / count / per, "trailer", "max_load_dual" if per == 4 else "max_load"),
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
    from cardgen.present.report_gear import hitch
    from cardgen.present.results import results

    rig_view = prepare(rig, DAY)
    said = [
        results(rig_view),
        build_borrower_page(rig_view),
        hitch(rig_view),
        *(kind.make(rig_view) for kind in KINDS.values()),
    ]
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
        number_ = re.match(r"-?[\d,]+(?:\.\d+)?", value)
        assert number_ is not None  # the condition above saw a digit
        first = float(number_[0].replace(",", ""))
        scaled = [f"{first * f:.2f}{value[number_.end() :]}" for f in (0.5, 0.8, 1.25, 3.0)]
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
    """The newest reading of every figure: (figure, rating's path, reading [kg], codes that may say over).

    Wheels of an axle, added up, are a newer reading of that axle as its bars are set, a jack one of the tongue, and
    passes with and without the trailer one of tongue and trailer.
    """
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
                    f"{state}.axles {i + 1}",
                    ("trailer", "axles", "gawr", i),
                    si(text),
                    f"trailer-axle-{i + 1}",
                )
            if state != "alone" and int(at(tree, "trailer", "axles", "count") or 1) == 1:
                add(f"{state}.axles 1", ("trailer", "axles", "gawr", 0), group, "trailer-axle-1")
            if state == "slack" and front is not None and rear is not None:
                add("vehicle hitched, slack", ("vehicle", "gvwr"), front + rear, "vehicle-gross")
            if state != "alone" and None not in (front, rear, group):
                add(
                    f"all axles, {state}",
                    ("vehicle", "gcwr"),
                    (front or 0) + (rear or 0) + (group or 0),
                    "combination",
                )
        both = [number(visit, state, end) for state in ("alone", "slack") for end in ("front", "rear")]
        if number(visit, "jack") is not None or None not in both:
            newest.pop(f"{case} coupler", None)
        if None not in (*both, number(visit, "slack", "trailer")):
            newest.pop(f"{case} trailer_alone", None)
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
                    f"{'engaged' if bars else 'slack'}.axles {i + 1}",
                    ("trailer", "axles", "gawr", i),
                    sum(p or 0 for p in pair),
                    f"trailer-axle-{i + 1}",
                )
        one = max((v for text in wheels.values() if (v := si(text)) is not None), default=None)
        if _tires_on(tree, one) == 2:
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
