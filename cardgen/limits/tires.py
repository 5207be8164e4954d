"""Checks of tires: load, axle rating, pressure, speed, age."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from cardgen.limits.compare import outcome_of, plain
from cardgen.limits.registry import Context, rule, unknown
from cardgen.model.results import Basis, Finding, Need, Outcome, TirePlan
from cardgen.model.tires import Tire
from cardgen.physics import tires as physics
from cardgen.physics.dates import tire_made
from cardgen.physics.needs import need
from cardgen.tables.sources import source
from cardgen.tables.tire_rules import age_guidance, default_speed, load_divisor, reserve

POSITIONS = ("trailer", "front", "rear")
WORDS = {"trailer": "trailer tires", "front": "front tires", "rear": "rear tires", "spare": "spare"}
DIVISOR = (
    "FMVSS 120 S5.1.2 quoted in NHTSA interpretation nht76-1.47, 17 Nov 1976 (passenger tires: rating / 1.10)"
)


def fitted(context: Context, position: str) -> Tire | None:
    """Return the tire of a position, None when the file does not describe it."""
    rig = context.rig
    if position == "trailer":
        return rig.trailer.tires
    if position == "spare":
        spare = rig.trailer.spare
        return None if spare is None else spare
    tire: Tire | None = getattr(rig.vehicle.tires, position)
    return tire


def path_of(position: str) -> str:
    """Return the field path of a position's tire [-]."""
    return {"trailer": "trailer.tires", "spare": "trailer.spare"}.get(position, f"vehicle.tires.{position}")


@rule(
    "tire-load",
    "tire load against the tire's rating",
    Basis.MAKER,
    "rating on the sidewall; " + DIVISOR,
    "Half the axle on each side must not be above what one tire may carry. With the side allowance for a load "
    "that sits off the middle the margin is called close when it would not hold.",
)
def tire_load(context: Context) -> Iterable[Finding]:
    """Compare the wheel load [kg] with the tire's rating in this use [kg]."""
    for position in POSITIONS:
        plan, code = context.computed.tires[position], f"tire-load-{position}"
        title = f"load on the {WORDS[position]}"
        if plan.even_load is None or plan.capacity is None:
            made = unknown(code, plan.needs or (need(path_of(position)),))
            yield Finding(code, title, made.outcome, needs=made.needs)
            continue
        yield _loaded(context, plan, code, title)


def _loaded(context: Context, plan: TirePlan, code: str, title: str) -> Finding:
    assert plan.even_load is not None  # the caller looked
    assert plan.capacity is not None  # the same
    assert plan.wheel_load is not None  # set together with the even load
    axles = context.rig.trailer.axles.count if plan.position == "trailer" else 1
    asked = reserve(context.rig.market, axles) if plan.position == "trailer" else None
    limit = plan.capacity * (asked.value if asked else 1.0 - context.close)
    outcome = outcome_of(plan.even_load, plan.capacity, 0.0)
    if plan.status == "overloaded":
        outcome = Outcome.OVER
    message = ""
    if outcome is not Outcome.OVER and plan.wheel_load > limit:
        outcome = Outcome.CLOSE
        message = (
            f"less reserve than advised: {asked.words}"
            if asked
            else "little is left before the tire's rating"
        )
    return Finding(
        code,
        title,
        outcome,
        demand=plan.wheel_load,
        capacity=plan.capacity,
        case=plan.case,
        message=message,
        source="rating on the sidewall; " + DIVISOR if plan.divisor > 1 else "rating on the sidewall",
    )


@rule(
    "tire-axle",
    "tires of an axle cover its GAWR",
    Basis.MAKER,
    "FMVSS 120 S5.1.2 quoted in NHTSA letters nht76-1.47, 17 Nov 1976, and 77-3.29",
    "The ratings of all tires on an axle, passenger tires divided by 1.10 where that applies, must reach the "
    "axle's rating. Fitting a smaller tire lowers what the axle may carry.",
)
def tire_axle(context: Context) -> Iterable[Finding]:
    """Compare the axle rating [kg] with the sum of its tires' ratings [kg]."""
    rig = context.rig
    for position in POSITIONS:
        code, title = f"tire-axle-{position}", f"{WORDS[position]} cover the axle rating"
        tire = fitted(context, position)
        if position == "trailer":
            rating = min(rig.trailer.axles.gawr, key=lambda q: -q.si, default=None)
            count, where, runs_on = rig.trailer.axles.tires_per_axle, "trailer.axles.gawr", "trailer"
        else:
            rating = getattr(rig.vehicle.gawr, position)
            count = rig.vehicle.tires.rear_count if position == "rear" else 2
            where, runs_on = f"vehicle.gawr.{position}", rig.vehicle.kind or "truck"
        load = physics.rated_load(tire, count == 4) if tire else None
        if tire is None or tire.type is None or load is None or rating is None:
            needs = [need(where)] if rating is None else []
            path = path_of(position)
            needs += [need(path)] if tire is None else [need(f"{path}.max_load")] if load is None else []
            needs += [need(f"{path}.type")] if tire is not None and tire.type is None else []
            yield Finding(code, title, Outcome.NOT_CHECKED, needs=tuple(needs))
            continue
        total = count * load / load_divisor(tire.type, runs_on, rig.market).value
        outcome = Outcome.OVER if rating.si > total * (1 + 1e-9) else Outcome.WITHIN
        yield Finding(code, title, outcome, demand=rating.si, capacity=total)


@rule(
    "tire-pressure",
    "a cold pressure can be set",
    Basis.MAKER,
    "sidewall, maker's load and inflation table, tire placard",
    "The pressure must carry the load by a published row, stay at or above placard or label, and stay at or "
    "below the limit of tire, rim and valve. If one of them cannot be met, no pressure is printed.",
)
def tire_pressure(context: Context) -> Iterable[Finding]:
    """Say for each position whether a cold pressure [Pa] follows from what is published."""
    for position, plan in context.computed.tires.items():
        code, title = f"tire-pressure-{position}", f"cold pressure of the {WORDS[position]}"
        reason = plan.reasons[-1] if plan.reasons else ""
        if plan.status == "set" and plan.pressure is not None:
            values = {"pressure": (plan.pressure, "pressure")}
            yield plain(code, Outcome.WITHIN, "set {pressure} cold: " + reason, title=title, values=values)
        elif plan.status in ("overloaded", "conflict"):
            yield plain(code, Outcome.OVER, reason, title=title)
        else:
            needs = plan.needs or (Need(path_of(position), reason or "tire data"),)
            yield Finding(code, title, Outcome.NOT_CHECKED, message=reason, needs=needs)


@rule(
    "tire-speed",
    "planned speed against the tires' speed",
    Basis.MAKER,
    "speed symbol on the sidewall (ISO 4000-1 / UN R54 table, secondary copies); special trailer tires without a "
    "symbol: 65 mph, Tire and Rim Association as reported in secondary copies",
    "The planned top speed must not be above the tires' speed symbol. Special trailer tires that carry no symbol "
    "are taken as good for 65 mph. More pressure buys no more speed here.",
)
def tire_speed(context: Context) -> Iterable[Finding]:
    """Compare planned top speed [m/s] with what the tires allow [m/s]."""
    rig = context.rig
    planned = rig.preferences.planned_speed
    for position in POSITIONS:
        code, title = f"tire-speed-{position}", f"planned speed against the {WORDS[position]}"
        tire = fitted(context, position)
        allowed = physics.speed_limit(tire) if tire else None
        if planned is None or allowed is None:
            needs = [need("preferences.planned_speed")] if planned is None else []
            needs += [need(f"{path_of(position)}.speed_symbol")] if allowed is None else []
            yield Finding(code, title, Outcome.NOT_CHECKED, needs=tuple(needs), critical=False)
            continue
        outcome = Outcome.OVER if planned.si > allowed + 0.05 else Outcome.WITHIN
        assumed = (
            tire is not None and tire.speed_symbol is None and default_speed(tire.type or "") is not None
        )
        yield Finding(
            code,
            title,
            outcome,
            "speed",
            planned.si,
            allowed,
            message="no speed symbol: 65 mph taken" if assumed else "",
        )


@rule(
    "tire-age",
    "age of the tires",
    Basis.GUIDANCE,
    "guidance of tire industry bodies, no legal limit (see the age table of this project)",
    "The last four digits of the tire identification number are week and year. Age weakens tires that look new; "
    "there is no legal limit for private trailers, the maker's or the owner's own limit counts.",
)
def tire_age(context: Context) -> Iterable[Finding]:
    """Reckon each tire's age [years] on the build date from its date code."""
    own = context.rig.limits.tire_age
    for position in (*POSITIONS, "spare"):
        tire = fitted(context, position)
        if position == "spare" and tire is None:
            continue
        code, title = f"tire-age-{position}", f"age of the {WORDS[position]}"
        made = tire_made(tire.date_code) if tire and tire.date_code else None
        if made is None:
            yield Finding(
                code,
                title,
                Outcome.NOT_CHECKED,
                needs=(need(f"{path_of(position)}.date_code"),),
                critical=False,
            )
            continue
        yield _aged(context, code, title, made, None if own is None else own.si)


def _aged(context: Context, code: str, title: str, made: dt.date, own: float | None) -> Finding:
    age = (context.day - made).days * 86400.0
    year = 365.25 * 86400.0
    values = {"age": (age, "years")}
    if age < -7 * 86400.0:
        return plain(
            code,
            Outcome.CLOSE,
            "the date code lies in the future: read it again",
            critical=False,
            title=title,
        )
    if own is not None and age > own:
        words = "{age} old, past the owner's own limit of {limit}"
        return plain(
            code,
            Outcome.OVER,
            words,
            title=title,
            basis=Basis.OWNER,
            critical=False,
            values=values | {"limit": (own, "years")},
            source="owner's limit in the rig file",
        )
    steps = [s for s in age_guidance(context.rig.market) if age >= s.years * year]
    if not steps:
        return plain(code, Outcome.WITHIN, "{age} old", critical=False, title=title, values=values)
    last = steps[-1]
    return plain(
        code,
        Outcome.CLOSE,
        "{age} old: " + last.advice,
        critical=False,
        title=title,
        values=values,
        source=source(last.source).words(),
    )
