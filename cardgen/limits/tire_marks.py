"""Checks of what is printed on tires: age, size, spare, mixed tires, markings that contradict."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import replace

from cardgen.limits.becoming import Values
from cardgen.limits.cite import cite
from cardgen.limits.compare import also, judge, past, plain, up_to
from cardgen.limits.registry import TONGUE_WEIGHT, Context, rule, unknown
from cardgen.limits.tires import POSITIONS, WORDS, fitted, of_tires, path_of
from cardgen.model.results import Basis, Finding, Outcome
from cardgen.model.tires import Tire
from cardgen.physics.dates import age_steps, age_words, code_words, tire_made
from cardgen.physics.needs import need
from cardgen.physics.tires import COUNTED, PRESSURE_SLACK, load_need, plain_size, rated_load, uncounted
from cardgen.physics.wheels import same_size, spare_as_marked
from cardgen.tables.load_index import load_for_index
from cardgen.tables.lookup import TableError, holds
from cardgen.tables.sources import source
from cardgen.tables.tire_rules import (
    dual_ratio_plausible,
    load_divisor,
    unused_age,
    usual_pressure,
)

SMALL_RIM = 13.0
"""Rim diameter under which special trailer tires have pressures of their own [in]; note of the table."""
WIDE = 295.0
"""Section width from which light truck tires have pressures of their own [mm]; note of the table."""
_RIM = re.compile(r"[RDB-]\s*(\d{1,2}(?:\.\d)?)\s*(?:LT|ST|C)?\s*$", re.IGNORECASE)
_WIDTH = re.compile(r"(\d{3})/")
YEAR = 365.25 * 86400.0
AGREE = 0.03
"""How far a load index may be off the printed load [-]: 2 % for rows of published tables, plus rounding."""


@rule(
    "tire-age",
    "age of the tires",
    Basis.GUIDANCE,
    cite("tin-date", "tire-age-us", "tire-age-uk", "tire-age-unused"),
    "The last four digits of the tire identification number are week and year. Age weakens tires that look new; "
    "there is no legal limit for private trailers, the maker's or the owner's own limit counts. The steps are guidance: "
    "from one age on tires are inspected every year, by another they are replaced; on caravans in the UK and the EU "
    "sooner.",
    fields=(
        *of_tires("", "date_code"),
        "trailer.spare.date_code",
    ),
)
def tire_age(context: Context) -> Iterable[Finding]:
    """Reckon each tire's age [years] on the build date from its date code."""
    for position in (*POSITIONS, "spare"):
        tire = fitted(context, position)
        if position == "spare" and tire is None:
            continue
        code, title = f"tire-age-{position}", f"age of the {WORDS[position]}"
        made = tire_made(tire.date_code) if tire and tire.date_code else None
        if made is None or tire is None or tire.date_code is None:
            missing = need(path_of(position) if tire is None else f"{path_of(position)}.date_code")
            yield Finding(code, title, Outcome.NOT_CHECKED, needs=(missing,), critical=False)
            continue
        yield _aged(context, position, code, title, made, tire.date_code)


def _aged(context: Context, position: str, code: str, title: str, made: dt.date, tin: str) -> Finding:
    age = (context.day - made).days * 86400.0
    own, week = context.rig.limits.tire_age, code_words(tin)
    values = {"age": (max(age, 0.0), "years")}
    words = f"made in {week}, {{age}} old"
    if age < -6 * 86400.0:
        words = f"the date code says {week}, which is yet to come: read it again"
        return plain(code, Outcome.CLOSE, words, critical=False, title=title)
    if own is not None and age > own.si:
        return plain(
            code, Outcome.CLOSE, words + ", past the owner's own limit of {limit}", title=title,
            basis=Basis.OWNER, critical=False, values=values | {"limit": (own.si, "years")},
            source="owner's limit in the rig file",
        )  # fmt: skip
    steps = age_steps(context.rig, position)
    words = f"{words}: {age_words(steps, 2000 + int(tin.strip()[2:]))} (guidance)"
    close, based = age >= steps[0].years * YEAR, steps[1].source
    if position == "spare" and age >= unused_age().years * YEAR:
        words, based = f"{words}; {unused_age().advice}", unused_age().source
    return plain(
        code, Outcome.CLOSE if close else Outcome.WITHIN, words, critical=False, title=title, values=values,
        source=f"{source(based).words()}; {source('tin-date').words()}",
    )  # fmt: skip


@rule(
    "tire-size",
    "tire size against the label's",
    Basis.GUIDANCE,
    "[us: 72 FR 68442, 4 Dec 2007, summary: the size fitted is one listed on the tire label; ]sizes on placard or label",
    "Placard and label pressures hold for the size they name. Another size needs the pressure from its own maker's "
    "table, and must carry at least what the labelled one did.",
    fields=(
        "trailer.tire_size",
        "vehicle.tires.placard_size",
        *of_tires("", "size"),
    ),
)
def tire_size(context: Context) -> Iterable[Finding]:
    """Compare the size fitted with the size on placard or label [-]."""
    rig = context.rig
    for position in POSITIONS:
        trailer = position == "trailer"
        label = rig.trailer.tire_size if trailer else rig.vehicle.tires.placard_size
        where = "trailer.tire_size" if trailer else "vehicle.tires.placard_size"
        tire, path = fitted(context, position), path_of(position)
        code, title = f"tire-size-{position}", f"size of the {WORDS[position]} against the label"
        same = same_size(label, tire) if tire else None
        if same is None or tire is None:
            needs = [need(where)] if label is None else []
            if tire is None or tire.size is None:
                needs.append(need(path if tire is None else f"{path}.size"))
            yield Finding(code, title, Outcome.NOT_CHECKED, needs=tuple(needs), critical=False)
            continue
        words = f"{label}, as on the label"
        if not same:
            kind = plain_size(label or "") == plain_size(tire.size or "")
            other = (
                f"of type {tire.type}, {label} on the label is of another"
                if kind
                else f"the label says {label}"
            )
            words = f"fitted {tire.size}{' ' if kind else ', '}{other}: the label's pressure does not hold"
        yield plain(code, Outcome.WITHIN if same else Outcome.CLOSE, words, title=title, critical=False)


@rule(
    "tire-mixed",
    "the same tires all round",
    Basis.GUIDANCE,
    "common practice, no source",
    "Tires of different class, size or {load_range} on one vehicle steer and carry differently. The vehicle's "
    "handbook may name different sizes for front and rear.",
    fields=of_tires("size", "type", "load_range", "max_load", "load_index", positions=("front", "rear")),
)
def tire_mixed(context: Context) -> Iterable[Finding]:
    """Compare type, size and load of the vehicle's front and rear tires [-]."""
    front, rear = fitted(context, "front"), fitted(context, "rear")
    if front is None or rear is None:
        return  # asked for by the check of their load
    alike = _alike(front, rear)
    marks = ("type", "size", "load_range", "max_load", "load_index")
    given = {name: (getattr(front, name), getattr(rear, name)) for name in marks}
    carries = any(given[name] != (None, None) for name in marks[2:])
    rated = "load_range" if context.rig.market in ("us", "ca") else "load_index"
    asked = marks[:2] if carries else (*marks[:2], rated)
    needs = [
        need(f"vehicle.tires.{place}.{name}")
        for name, pair in given.items()
        for place, mark in zip(("front", "rear"), pair, strict=True)
        if mark is None and (name in asked or pair != (None, None))
    ]
    if alike is None or (alike and needs):
        yield unknown("tire-mixed", needs, critical=False)
        return
    words = (
        "front and rear alike"
        if alike
        else "front and rear tires differ: see whether the handbook names both"
    )
    yield plain("tire-mixed", Outcome.WITHIN if alike else Outcome.CLOSE, words, critical=False)


def _alike(a: Tire, b: Tire) -> bool | None:
    """Whether two tires are of one class, size and load; None when too little is known [-]."""
    pairs: list[tuple[object, object]] = [
        (a.type, b.type),
        (plain_size(a.size) if a.size else None, plain_size(b.size) if b.size else None),
        (a.load_range, b.load_range),
        (a.max_load.si if a.max_load else None, b.max_load.si if b.max_load else None),
        (a.load_index, b.load_index),
    ]
    known = [(x, y) for x, y in pairs if x is not None and y is not None]
    if any(x != y for x, y in known):
        return False
    said = [x is not None and y is not None for x, y in pairs]
    return True if all(said[:2]) and any(said[2:]) else None


@rule(
    "tire-spare",
    "spare wheel like the others",
    Basis.GUIDANCE,
    "common practice, no source; rating on the sidewall",
    "A spare of another size or type, or one that carries less than the wheel load, only serves to reach the next "
    "tire shop slowly. It ages unused and loses air unseen. What its own sidewall says counts, also where the file "
    "says that it is the same; type and size alone do not tell what it carries. A weak spare forbids nothing.",
    fields=(
        "trailer.spare.same",
        *of_tires("max_load", "load_index", positions=("spare",)),
        "trailer.empty.weight",
        *TONGUE_WEIGHT,
    ),
)
def tire_spare(context: Context) -> Iterable[Finding]:
    """Compare the spare with the trailer's tires: marks [-], load [kg], stated pressure [Pa]."""
    rig, code = context.rig, "tire-spare"
    spare, others = rig.trailer.spare, rig.trailer.tires
    if spare is None:
        return
    like, differ = spare_as_marked(spare, others)
    alike = spare.same and not differ
    if spare.same is None and others is not None:
        alike = _alike(like, others)
    plan = context.computed.tires["trailer"]
    weak = _weaker(context, like, plan.sure_load)
    wanted = context.computed.tires["spare"].pressure
    soft: Values = {}
    if spare.pressure is not None and wanted is not None and holds(spare.pressure.si, "<", wanted):
        soft = {"kept": (spare.pressure.si, "pressure"), "wanted": (wanted, "pressure")}
    if (
        weak is not None
        and uncounted(rig, "trailer", weak.demand)
        and holds((weak.demand or 0.0) / 2.0, "<=", weak.capacity or 0.0)
    ):
        yield unknown(code, (need(COUNTED["trailer"]),), critical=False)  # of four tires each carries half
    elif weak is not None:
        yield weak
    elif alike is None:
        yield unknown(code, (need("trailer.spare.same"),), critical=False)
    elif differ or not alike or soft:
        marks = ", ".join(differ).replace("max_load_at", "pressure for max load").replace("_", " ")
        words = (
            f"said to be the same tire, yet marked otherwise ({marks}): its own marks count" if differ else ""
        )
        if not differ and not alike:
            words = "the spare differs from the trailer's tires: only to reach the next tire shop slowly"
        words = also(words, "the spare is kept at {kept}, it needs {wanted}") if soft else words
        yield plain(code, Outcome.CLOSE, words, critical=False, values=soft)
    elif spare.pressure is not None and (wanted is None or context.computed.tires["spare"].needs):
        asked = context.computed.tires["spare"].needs
        if asked:
            yield unknown(code, asked, critical=False)
        else:
            words = "no pressure fits tire, rim and valve of the spare"
            yield plain(code, Outcome.CLOSE, words, critical=False)
    elif _carried(context, like) is None:
        missing = load_need(like, "trailer.spare", context.rig.trailer.axles.tires_per_axle == 4)
        yield unknown(code, (missing,), critical=False)
    elif plan.sure_load is None or past(plan.could_load or 0.0, _carried(context, like), None):
        yield unknown(code, plan.needs or (need("trailer.tires"),), critical=False)
    else:
        yield plain(code, Outcome.WITHIN, "same tire as the others", critical=False)


def _carried(context: Context, like: Tire) -> float | None:
    """Load the spare may carry on this trailer [kg]; None when unknown."""
    rating = rated_load(like, context.rig.trailer.axles.tires_per_axle == 4)
    if rating is None or like.type is None:
        return None
    return rating / load_divisor(like.type, "trailer", context.rig.market).value


def _weaker(context: Context, like: Tire, load: float | None) -> Finding | None:
    """The finding for a spare that cannot carry the wheel load [kg]; it is not driven on, so it only warns."""
    rating = _carried(context, like)
    thresholds = replace(up_to(rating), over_above=None)
    if rating is None or load is None or judge(thresholds, load) is Outcome.WITHIN:
        return None
    words = "the spare carries less than the wheel load: it cannot stand in"
    return Finding(
        "tire-spare", "", Outcome.CLOSE, demand=load, capacity=rating, message=words, critical=False,
        thresholds=thresholds,
    )  # fmt: skip


@rule(
    "tire-marking",
    "markings of the tires agree",
    Basis.GUIDANCE,
    cite("load-index", "tra-max-load-pressure", "dual-ratio"),
    "A load index far from the printed load, a pressure unusual for the load range or a dual load that cannot be "
    "right mostly mean a slip of the pen. Where index and printed load differ the lower counts until the sidewall "
    "is read again.",
)
def tire_marking(context: Context) -> Iterable[Finding]:
    """Compare load index with printed load [kg], pressure with load range [Pa], dual with single load [kg]."""
    for position in (*POSITIONS, "spare"):
        tire = fitted(context, position)
        if tire is None:
            continue
        odd = [words for words in (_index(tire), _range(tire), _dual(tire)) if words]
        if odd:
            title = f"markings of the {WORDS[position]}"
            words = "; ".join(odd) + ": read the sidewall again"
            yield plain(f"tire-marking-{position}", Outcome.CLOSE, words, title=title, critical=False)


def _index(tire: Tire) -> str:
    if tire.load_index is None:
        return ""
    try:
        by_index = load_for_index(tire.load_index)
    except TableError:
        return f"no tire carries load index {tire.load_index}, so its load is taken as unknown"
    if tire.max_load is None:
        return ""
    off = abs(by_index - tire.max_load.si) > AGREE * tire.max_load.si
    words = f"load index {tire.load_index} does not agree with the printed load, the lower of the two counts"
    return words if off else ""


def _range(tire: Tire) -> str:
    """Unusual pressure for the letter; makers differ, so this is a question, no fault.

    Small special trailer tires and wide light truck tires have pressures of their own: nothing is
    said of them, nor of a size that is not known.
    """
    if tire.load_range is None or tire.max_load_at is None or tire.type not in ("ST", "LT"):
        return ""
    rim, width = _RIM.search(tire.size or ""), _WIDTH.search(tire.size or "")
    if rim is None or float(rim[1]) < SMALL_RIM:
        return ""
    if tire.type == "LT" and (width is None or float(width[1]) >= WIDE):
        return ""
    try:
        usual = usual_pressure(tire.type, tire.load_range)
    except TableError:
        return ""
    off = abs(usual.value - tire.max_load_at.si) > PRESSURE_SLACK
    return f"load range {tire.load_range} mostly goes with {usual.words}" if off else ""


def _dual(tire: Tire) -> str:
    if tire.max_load is None or tire.max_load_dual is None or tire.type is None or tire.max_load.si <= 0:
        return ""
    likely = dual_ratio_plausible(tire.type, tire.max_load.si, tire.max_load_dual.si)
    return (
        "the dual load is unusual beside the single one (some tables print it per pair)"
        if likely is False
        else ""
    )
