"""Checks of tires: load, axle rating, reserve, pressure and its ceilings, speed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from cardgen.limits.becoming import NEVER, Values, can_exceed
from cardgen.limits.cite import cite
from cardgen.limits.compare import TOO_CLOSE, also, judge, past, plain, up_to
from cardgen.limits.registry import FRONT_AXLE, REAR_AXLE, TRAILER_AXLE, Context, rule, unknown
from cardgen.model.figure import COVERAGE
from cardgen.model.parts import LOPSIDED
from cardgen.model.results import Basis, Finding, Need, Outcome, Thresholds, TirePlan
from cardgen.model.rig import Rig
from cardgen.model.tires import Tire
from cardgen.physics import tires as physics
from cardgen.physics.axles import highest_rating
from cardgen.physics.needs import need
from cardgen.physics.wheels import axle_figures
from cardgen.tables.sources import Stated, source
from cardgen.tables.tire_rules import default_speed, load_divisor, rear_overload, reserve
from cardgen.units import Quantity

POSITIONS = ("trailer", "front", "rear")
WORDS = {"trailer": "trailer tires", "front": "front tires", "rear": "rear tires", "spare": "spare"}
SIDEWALL = "rating on the sidewall"
RV_BODIES = ("camper", "travel_trailer", "caravan")
"""Trailers whose trade body asks for a reserve over the axle rating."""


def fitted(context: Context, position: str) -> Tire | None:
    """Return the tire of a position, None when the file does not describe it."""
    rig = context.rig
    if position == "trailer":
        return rig.trailer.tires
    if position == "spare":
        return rig.trailer.spare
    tire: Tire | None = getattr(rig.vehicle.tires, position)
    return tire


def path_of(position: str) -> str:
    """Return the field path of a position's tire [-]."""
    return {"trailer": "trailer.tires", "spare": "trailer.spare"}.get(position, f"vehicle.tires.{position}")


def of_tires(*names: str, positions: Iterable[str] = POSITIONS) -> tuple[str, ...]:
    """Fields of the tires of some positions [-]; an empty name stands for the tire itself."""
    return tuple(f"{path_of(p)}.{name}".rstrip(".") for p in positions for name in names)


LOADS = (
    *TRAILER_AXLE,
    *FRONT_AXLE,
    *REAR_AXLE,
    "vehicle.tires.rear_count",
    "trailer.axles.tires_per_axle",
    *of_tires("", "type", "max_load", "load_index", "max_load_at"),
)
"""What the load on every tire and the tire's own rating are made of."""


@rule(
    "tire-load",
    "tire load against the tire's rating",
    Basis.MAKER,
    f"{SIDEWALL}; {cite('fmvss-120-110')}",
    "Half the axle on each side must not be above what one tire may carry. Unless every wheel was weighed, an "
    "allowance for an uneven load is added; when only that goes past the rating, or little is left[us ca uk eu: , less "
    "than trade bodies advise], the margin is called close.",
    fields=LOADS,
)
def tire_load(context: Context) -> Iterable[Finding]:
    """Compare the wheel load [kg] with the tire's rating in this use [kg]."""
    for position in POSITIONS:
        plan, code = context.computed.tires[position], f"tire-load-{position}"
        title = f"load on the {WORDS[position]}"
        figures = axle_figures(context.rig, position)
        asked = (
            reserve(context.rig.market, context.rig.trailer.axles.count) if position == "trailer" else None
        )
        thresholds = up_to(plan.capacity, 1.0 - asked.value if asked else context.close)
        if plan.sure_load is None or plan.wheel_load is None or plan.capacity is None:
            needs = plan.needs or (need(path_of(position)),)
            yield Finding(
                code, title, Outcome.NOT_CHECKED, needs=needs, thresholds=thresholds, figures=figures
            )
            continue
        finding = _loaded(context, plan, plan.sure_load, plan.wheel_load, thresholds, asked)
        could = plan.could_load or 0.0
        if finding.outcome is not Outcome.OVER and past(could, plan.capacity, None):
            words = "past the rating " + _if(plan.needs)
            finding = replace(finding, outcome=Outcome.NOT_CHECKED, message=words, needs=plan.needs)
        elif finding.outcome is Outcome.WITHIN and past(could, thresholds.close_above, None):
            words = (
                "little may be left: not every place across the trailer is known, or nobody weighed its sides"
            )
            finding = replace(finding, outcome=Outcome.CLOSE, message=words)
        yield replace(finding, code=code, title=title, figures=figures)


def _if(needs: Sequence[Need]) -> str:
    """Under which condition a tire of which not everything is known is past its rating, and what to write [-]."""
    paths = [one.path for one in needs]
    parts = []
    if any(path.endswith(".y") for path in paths):
        parts.append("if all that has no place across lay on one side: write its y, 0 for the middle")
    if "trailer.empty.left_minus_right" in paths:
        parts.append(
            f"if one side of the empty trailer bore {LOPSIDED:.0%} of its weight more: write left_minus_right"
        )
    if not parts:
        return "at one end of what places and heights not measured can do"
    return "; ".join(parts) + ", or weigh each wheel"


def _loaded(
    context: Context, plan: TirePlan, sure: float, wheel: float, thresholds: Thresholds, asked: Stated | None
) -> Finding:
    capacity, spread = thresholds.over_above or 0.0, COVERAGE * (plan.u or 0.0)
    interval = (sure - spread, max(wheel, plan.most_load or sure + spread))
    outcome, message = judge(thresholds, wheel, interval, sure=sure), ""
    if outcome is Outcome.CLOSE:
        message = TOO_CLOSE
        if past(wheel, capacity, None):
            message = f"only {_assumed(context, plan)} is past the rating: weigh each side"
        elif past(wheel, thresholds.close_above, None):
            message = (
                f"less reserve than advised: {asked.words}" if asked else "little is left before the rating"
            )
    more = rear_overload(context.rig.market) if plan.position == "rear" else None
    if more is not None and outcome is not Outcome.WITHIN:
        note = (
            f"the type rules of cars let a coupled trailer load the rear tires by {more.share:.0%} more at up to "
            "100 km/h with 0.2 bar more pressure; the car's handbook decides"
        )
        message = also(message, note)
    becoming, values = NEVER if outcome is Outcome.OVER else _becoming(context, plan, capacity)
    words = f"{SIDEWALL}; {cite('fmvss-120-110')}" if plan.divisor > 1 else SIDEWALL
    if asked and outcome is Outcome.CLOSE:
        words += f"; {source(asked.source).words()}"
    return Finding(
        "", "", outcome, demand=sure if outcome is Outcome.OVER else wheel, capacity=capacity,
        case=plan.case, message=message, source=words, u=plan.u, can_become=becoming, values=values,
        thresholds=thresholds, interval=interval, sure=sure,
    )  # fmt: skip


def _assumed(context: Context, plan: TirePlan) -> str:
    """What the load of the heavier wheel holds beside what is known [-]."""
    heights = plan.position == "trailer" and any(
        one.low is not None
        for case in context.computed.cases
        for n, one in case.figures.items()
        if n.startswith("axle_")
    )
    return "the allowance for an uneven load" + (" and for heights that were not measured" if heights else "")


def _becoming(context: Context, plan: TirePlan, capacity: float) -> tuple[str, Values]:
    """Say which filling takes an axle over what its tires may carry together [kg]."""
    if not plan.even_load:
        return NEVER
    names = axle_figures(context.rig, plan.position)
    _, count, _ = axle_rating(context, plan.position)
    words, values = can_exceed(context, names, plan.case, capacity * count, "mass")
    return (f"{words} (the whole axle)", values) if words else NEVER


def axle_rating(context: Context, position: str) -> tuple[Quantity | None, int, str]:
    """Highest axle rating [kg] of a position, tires on such an axle [-], and the rating's field path."""
    rig = context.rig
    if position == "trailer":
        return highest_rating(rig), rig.trailer.axles.tires_per_axle or 2, "trailer.axles.gawr"
    rating: Quantity | None = getattr(rig.vehicle.gawr, position)
    count = rig.vehicle.tires.rear_count if position == "rear" else 2
    return rating, count or 2, f"vehicle.gawr.{position}"


@rule(
    "tire-axle",
    "tires of an axle cover its {axle_rating}",
    Basis.MAKER,
    "[us: 49 CFR 571.120 S5.1.2, quoted in NHTSA letters nht76-1.47, 17 Nov 1976 (official text), and 77-3.29; ]"
    "rating on the sidewall, rating of the axle",
    "The ratings of all tires on an axle, passenger tires divided by 1.10 where that applies, must reach the "
    "axle's rating. [us ca uk eu: Of a {camper}'s tires the trade asks for about 10 % more than the {axle_rating}; less "
    "is called close. ]Fitting a smaller tire lowers what the axle may carry.",
    fields=(
        "trailer.axles.gawr",
        "vehicle.gawr.front",
        "vehicle.gawr.rear",
        "vehicle.tires.rear_count",
        "trailer.axles.tires_per_axle",
        *of_tires("", "type", "max_load", "load_index"),
    ),
)
def tire_axle(context: Context) -> Iterable[Finding]:
    """Compare the axle rating [kg] with the sum of its tires' ratings [kg]."""
    for position in POSITIONS:
        code, title = f"tire-axle-{position}", f"{WORDS[position]} cover the {{axle_rating}}"
        tire = fitted(context, position)
        rating, count, where = axle_rating(context, position)
        load = physics.rated_load(tire, count == 4) if tire else None
        if tire is not None and tire.type is not None and load is None and rating is not None:
            single = physics.rated_load(tire, dual=False)  # never more in duals
            found = None if single is None else _covers(
                context, position, code, title, rating.si, count * single, tire.type
            )  # fmt: skip
            if found is not None and found.outcome is Outcome.OVER:
                yield _of_kind(context, position, found, tire.type)
                continue
        if tire is None or tire.type is None or load is None or rating is None:
            needs = _missing(position, tire, load, rating, where, count == 4)
            yield Finding(code, title, Outcome.NOT_CHECKED, needs=needs)
            continue
        found = _covers(context, position, code, title, rating.si, count * load, tire.type)
        if found.outcome is Outcome.OVER and physics.uncounted(context.rig, position):
            four = 4 * (physics.rated_load(tire, dual=True) or load)
            covered = _covers(context, position, code, title, rating.si, four, tire.type)
            if covered.outcome is not Outcome.OVER:
                words = "two tires do not cover the {axle_rating}, four could: say how many the axle has"
                asked = (need(physics.COUNTED[position]),)
                found = Finding(code, title, Outcome.NOT_CHECKED, message=words, needs=asked)
        yield _of_kind(context, position, found, tire.type)


def _of_kind(context: Context, position: str, found: Finding, tire_type: str) -> Finding:
    """Ask for the kind of vehicle where passenger tires do not cover the rating on a truck, but on a car, and for
    the rating of each axle where only that of all together is known."""
    if found.outcome is Outcome.OVER and position == "trailer" and not context.rig.trailer.axles.gawr:
        return unknown(found.code, (need("trailer.axles.gawr"),))
    if position == "trailer" or context.rig.vehicle.kind is not None or found.outcome is not Outcome.OVER:
        return found
    whole = (found.capacity or 0.0) * load_divisor(tire_type, "truck", context.rig.market).value
    if judge(up_to(whole), found.demand) is Outcome.OVER:
        return found
    words = "tires do not cover the {axle_rating} on a truck, on a car they would: say which it is"
    return Finding(found.code, found.title, Outcome.NOT_CHECKED, message=words, needs=(need("vehicle.kind"),))


def _missing(
    position: str, tire: Tire | None, load: float | None, rating: Quantity | None, where: str, dual: bool
) -> tuple[Need, ...]:
    path = path_of(position)
    needs = [need(where)] if rating is None else []
    if tire is None:
        return (*needs, need(path))
    needs += [physics.load_need(tire, path, dual)] if load is None else []
    needs += [need(f"{path}.type")] if tire.type is None else []
    return tuple(needs)


def _covers(
    context: Context, position: str, code: str, title: str, rating: float, loads: float, tire_type: str
) -> Finding:
    runs_on = "trailer" if position == "trailer" else context.rig.vehicle.kind or "truck"
    total = loads / load_divisor(tire_type, runs_on, context.rig.market).value
    advised = reserve(context.rig.market)
    american = context.rig.market in ("us", "ca")
    rv = position == "trailer" and context.rig.trailer.body in RV_BODIES
    thresholds = up_to(total, 1.0 - advised.value if rv and advised else 0.0)
    outcome, message, words = judge(thresholds, rating), "", "" if american else SIDEWALL
    if outcome is Outcome.CLOSE and advised is not None:
        message = f"less reserve over the {{axle_rating}} than advised: {advised.words}"
        words = cite("fmvss-120-110", advised.source) if american else f"{SIDEWALL}; {cite(advised.source)}"
    return Finding(
        code, title, outcome, demand=rating, capacity=total, message=message, source=words,
        thresholds=thresholds,
    )  # fmt: skip


def label_too_low(rig: Rig, plan: TirePlan) -> Quantity | None:
    """The trailer's label [Pa gauge] where the pressure that is set is more; None where it is not.

    Args:
        rig: the rig.
        plan: the plan of its trailer tires.
    """
    label = rig.trailer.tire_pressure
    if plan.position != "trailer" or label is None or plan.pressure is None:
        return None
    return label if label.si + physics.PRESSURE_SLACK < plan.pressure else None


def settled(rig: Rig, plan: TirePlan) -> Outcome:
    """Whether a plan sets a pressure: within when it does and nothing is missing, over when none is safe.

    Close where the label says less: both are said, and what is set is inside every limit.
    """
    if plan.status == "set" and plan.pressure is not None and not plan.needs:
        return Outcome.WITHIN if label_too_low(rig, plan) is None else Outcome.CLOSE
    return Outcome.OVER if plan.status in ("overloaded", "conflict") else Outcome.NOT_CHECKED


@rule(
    "tire-pressure",
    "a cold pressure can be set",
    Basis.MAKER,
    "sidewall, maker's load and inflation table, tire placard and label",
    "The pressure must carry the load by a published row, stay at or above placard or label, and stay at or "
    "below the limit of tire, rim and valve. If one of them cannot be met, no pressure is printed. The trailer maker's "
    "label wins where it carries the load, also for special trailer tires; where it carries too little both are said, "
    "the pressure that carries it is set, and the check is close.",
    fields=(
        *LOADS,
        *of_tires("type", "max_load_at", "max_pressure", positions=("spare",)),
        *of_tires("table", positions=("trailer",)),
        "trailer.tire_pressure",
        *of_tires("extra_load", "table", "max_pressure", positions=("front", "rear")),
        "vehicle.placard.front",
        "vehicle.placard.rear",
        "vehicle.tires.placard_size",
        "vehicle.tires.placard_load.front",
        "vehicle.tires.placard_load.rear",
    ),
)
def tire_pressure(context: Context) -> Iterable[Finding]:
    """Say for each position whether a cold pressure [Pa] follows from what is published."""
    for position, plan in context.computed.tires.items():
        code, title = f"tire-pressure-{position}", f"cold pressure of the {WORDS[position]}"
        critical = position != "spare"
        reason = plan.reasons[-1] if plan.reasons else ""
        outcome = settled(context.rig, plan)
        critical &= outcome is not Outcome.CLOSE
        if outcome is Outcome.OVER and not critical:
            outcome = Outcome.CLOSE  # it is carried, not driven on
        if outcome in (Outcome.OVER, Outcome.CLOSE) and plan.pressure is None:
            yield plain(code, outcome, reason, title=title, critical=critical)
            continue
        values, words = {}, reason
        if plan.pressure is not None:
            values, words = {"pressure": (plan.pressure, "pressure")}, "set {pressure} cold: " + reason
        needs = plan.needs or (Need(path_of(position), reason or "tire data"),)
        needs = () if outcome in (Outcome.WITHIN, Outcome.CLOSE) else needs
        yield plain(code, outcome, words, title=title, values=values, critical=critical, needs=needs)


@rule(
    "tire-ceiling",
    "pressure against the limits of tire, rim and valve",
    Basis.MAKER,
    "sidewall, stamp on the rim, data of the valve's maker; the trailer's own label vouches for rim and valve as "
    "delivered",
    "Rim and valve have pressure limits of their own; a rubber snap-in valve may end below what a high {load_range} "
    "asks. Where the trailer's label asks for the same pressure or more, its maker vouches for them.",
    fields=(
        "trailer.tires.rim_max_pressure",
        "trailer.tires.valve_max_pressure",
        "trailer.tires.max_pressure",
    ),
)
def tire_ceiling(context: Context) -> Iterable[Finding]:
    """Compare the cold pressure of the trailer's tires [Pa] with the lowest known limit [Pa]."""
    plan, tire, code = context.computed.tires["trailer"], context.rig.trailer.tires, "tire-ceiling-trailer"
    label = context.rig.trailer.tire_pressure
    if tire is None or plan.pressure is None:
        return  # the check of the pressure itself asks for what is missing
    limits = physics.pressure_limits(tire, "trailer.tires")
    vouched = label is not None and plan.pressure <= label.si + physics.PRESSURE_SLACK
    given = {"rim": tire.rim_max_pressure, "valve": tire.valve_max_pressure}
    needs = [need(f"trailer.tires.{part}_max_pressure") for part, q in given.items() if q is None]
    if needs and not vouched:
        yield unknown(code, needs, critical=False)
    elif limits and not (needs and plan.needs):  # else more may be needed, and the label vouches for no more
        lowest = limits[0]
        message = "rim and valve: the trailer's label asks for this pressure" if needs else ""
        thresholds = up_to(lowest.pressure)
        yield Finding(
            code, "", judge(thresholds, plan.pressure), "pressure", plan.pressure, lowest.pressure,
            governed_by=lowest.part, message=message, thresholds=thresholds,
        )  # fmt: skip
    elif not limits:
        yield unknown(code, (need("trailer.tires.max_pressure"),), critical=False)


@rule(
    "tire-speed",
    "planned speed against the tires' speed",
    Basis.MAKER,
    cite("speed-symbol", "tra-st-speed", "tra-lt-speed"),
    "The planned top speed must not be above the tires' speed symbol or a speed stated on the sidewall. [us ca: Special "
    "trailer and light][au nz: Light][us ca au nz:  truck tires that carry no symbol are taken as good for ][us: 65 mph. ][ca au nz: 104 km/h. ]More pressure buys no more "
    "speed here. The legal limit counts besides.",
    fields=(
        "preferences.planned_speed",
        *of_tires("", "speed_symbol"),
    ),
)
def tire_speed(context: Context) -> Iterable[Finding]:
    """Compare planned top speed [m/s] with what the tires allow [m/s]."""
    planned = context.rig.preferences.planned_speed
    for position in POSITIONS:
        code, title = f"tire-speed-{position}", f"planned speed against the {WORDS[position]}"
        tire = fitted(context, position)
        allowed = physics.speed_limit(tire) if tire else None
        path = path_of(position)
        if planned is None or allowed is None or tire is None:
            needs = [need("preferences.planned_speed")] if planned is None else []
            if allowed is None:
                needs.append(need(path if tire is None else f"{path}.speed_symbol"))
            symbol = tire.speed_symbol if tire else None
            message = f"'{symbol}' names no one speed" if symbol and allowed is None else ""
            yield Finding(
                code, title, Outcome.NOT_CHECKED, message=message, needs=tuple(needs), critical=False
            )
            continue
        thresholds = up_to(allowed, context.close)
        outcome = judge(thresholds, planned.si)
        assumed = tire.speed_symbol is None and default_speed(tire.type or "") is not None
        taken = {"taken": (allowed, "speed")} if assumed else {}
        message = "no speed symbol: {taken} taken" if assumed and tire.speed_limit is None else ""
        if message and outcome is Outcome.OVER:  # a symbol may allow more: no figure of the maker is exceeded
            words, missing = f"{message}, the plan is faster", (need(f"{path}.speed_symbol"),)
            yield Finding(
                code, title, Outcome.NOT_CHECKED, message=words, needs=missing, values=taken, critical=False
            )
            continue
        yield Finding(
            code,
            title,
            outcome,
            "speed",
            planned.si,
            allowed,
            message=message,
            values=taken,
            thresholds=thresholds,
        )
