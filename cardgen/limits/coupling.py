"""Checks of the coupling's ratings, classes and balls."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from cardgen.limits.becoming import Values
from cardgen.limits.cite import cite
from cardgen.limits.compare import at_most, demand, judge, lowest, plain, up_to
from cardgen.limits.facts import facts_of, places
from cardgen.limits.registry import TONGUE_WEIGHT, TRAILER_WEIGHT, Context, rule, unknown
from cardgen.model.results import Basis, Finding, Outcome
from cardgen.model.rig import Rig
from cardgen.physics import links, strength
from cardgen.physics.allowances import asks_d
from cardgen.physics.needs import need
from cardgen.tables import couplings, law
from cardgen.tables.conditions import Compare, leaves
from cardgen.tables.lookup import OutOfTableError, holds
from cardgen.tables.words import say
from cardgen.units import Quantity

TONGUE_PARTS = (
    "vehicle.receiver.weight_carrying.tongue", "vehicle.receiver.weight_distributing.tongue",
    "gear.adapter.ratings.tongue", "gear.mount.ratings.tongue", "gear.weight_distribution.ratings.tongue",
    "trailer.coupler.ratings.tongue", "vehicle.tow_rating.tongue",
)  # fmt: skip
"""Ratings for the tongue weight of all that is between vehicle and trailer on a ball."""
STAMP = "rating stamped or labelled on the part"
TONGUE_RULE = (
    "[us: tongue weight is the static force with weight distribution slack: WAC 204-70-040(5); every hitch carries "
    "both ratings: WAC 204-70-060; ]"
)


BALL_PARTS = (
    "vehicle.receiver.weight_distributing.trailer",
    "vehicle.receiver.weight_carrying.trailer",
    "gear.adapter.ratings.trailer",
    "gear.weight_distribution.ratings.trailer",
    "gear.ball.rating",
    "gear.mount.ratings.trailer",
    "trailer.coupler.ratings.trailer",
)
"""Ratings of the parts that a ball trailer hangs on [-]."""


@rule(
    "hitch-trailer",
    "loaded trailer against each coupling part",
    Basis.MAKER,
    STAMP,
    "{Receiver}, adapter, {ball_mount} or [us ca: weight-distributing hitch][uk eu au nz: weight distribution], ball, {coupler} or bed hitch: each part has a "
    "largest trailer of its own and the lowest governs. An adapter or extension counts with its own lower rating.",
    fields=(*TRAILER_WEIGHT, *BALL_PARTS, "vehicle.bed_hitch.ratings.trailer"),
)
def hitch_trailer(context: Context) -> Iterable[Finding]:
    """Compare the loaded trailer [kg] with the trailer rating of each part [kg]."""
    worst = demand(context, "trailer_weight")
    for part, rating, path in links.trailer_parts(context.rig):
        code = f"hitch-trailer-{_word(part)}"
        title = f"loaded trailer against the {part}"
        yield at_most(context, code, worst, rating, path, title=title, governed_by=part)


@rule(
    "hitch-tongue",
    "{coupling_load} against each coupling part",
    Basis.MAKER,
    TONGUE_RULE + STAMP,
    "Each part that carries the {coupling_load} has a rating for it. It is the static one, with no credit "
    "for weight distribution.",
    fields=(
        *TONGUE_PARTS,
        *TONGUE_WEIGHT,
        "vehicle.bed_hitch.ratings.tongue",
    ),
)
def hitch_tongue(context: Context) -> Iterable[Finding]:
    """Compare the static tongue weight [kg] with the tongue rating of each part [kg]."""
    worst = demand(context, "tongue_weight")
    for part, rating, path in links.tongue_parts(context.rig):
        code = f"hitch-tongue-{_word(part)}"
        title = f"{{coupling_load}} against the {part}"
        words = "" if context.rig.market in ("us", "ca") else STAMP
        yield at_most(context, code, worst, rating, path, title=title, governed_by=part, source=words)


def _word(part: str) -> str:
    return say(part, "us").replace(" ", "-")


@rule(
    "s-value",
    "{coupling_load_in_full} against the lowest plate (S value)",
    Basis.MAKER,
    "S is the permitted static load on the coupling; the lowest of vehicle, towbar, coupling head and trailer "
    "plate binds (NCC towing guide, secondary copy); UN R55 marking, from memory",
    "In Europe the plates state a permitted static load S. The lowest plate binds. Within it the advice is to run "
    "with a {coupling_load} near it rather than far below. What to set is the upper end of the advice, or the lowest "
    "plate where that is less; more than the advice but inside the plate is no fault. Where a rule of a place states a "
    "least load, it stands beside the plate.",
    fields=(*TONGUE_PARTS, *TONGUE_WEIGHT),
)
def s_value(context: Context) -> Iterable[Finding]:
    """Compare the largest {coupling_load} [kg] with the lowest tongue rating of all parts [kg]."""
    rig = context.rig
    if rig.market not in ("uk", "eu") or rig.trailer.type != "ball":
        return
    parts = links.tongue_parts(rig)
    part, rating, path = lowest(parts)
    missing = [need(p) for _, value, p in parts if value is None]
    words, values = _to_keep(context, part, rating)
    finding = at_most(
        context, "s-value", demand(context, "tongue_weight"), rating, path,
        governed_by=part, message=words,
    )  # fmt: skip
    if missing and finding.outcome is not Outcome.OVER:
        yield unknown("s-value", (*missing, *finding.needs))
        return
    yield replace(finding, values={**finding.values, **values}, needs=(*missing, *finding.needs))


def _to_keep(context: Context, part: str, rating: Quantity | None) -> tuple[str, Values]:
    """Say which {coupling_load} to set, the least by law and the most by the lowest plate [kg]."""
    words = "the lowest plate binds; keep the {coupling_load} near it, never above"
    if rating is None:
        return words, {}
    low, high = (context.computed.figures[name].value for name in ("band_low", "band_high"))
    values: Values = {"plate": (rating.si, "mass")}
    told = f"(lowest plate: {{plate}}, {part})"
    if high is not None and math.floor(high) >= (low or 0.0):
        values, told = values | {"set": (math.floor(high), "mass")}, f"set {{set}} {told}"
    least = _least(context)
    if least is not None:
        values, told = values | {"least": (least, "mass")}, f"{told}, by law at least {{least}}"
    return f"{told}; {words}", values


def _least(context: Context) -> float | None:
    """Least {coupling_load} that the places travelled ask for with the heaviest trailer [kg]; None where none does."""
    gross, found = demand(context, "trailer_weight").value, []
    for place in places(context.rig):
        for clause in law.rules(place, "nose_weight"):
            for case in context.computed.cases:
                facts = facts_of(context.computed, case, context.day)
                if clause.asks is None or law.evaluate(clause, facts) is not True or gross is None:
                    continue
                ends = [c for c in leaves(clause.asks) if isinstance(c, Compare) and c.quantity == "tongue"]
                found.append(min(c.value * (gross if c.over == "gross" else 1.0) for c in ends))
    return max(found, default=None)


@rule(
    "d-value",
    "strength of {towbar} and {coupling_head} (D value)",
    Basis.MAKER,
    "D value on the plates; " + cite("d-value"),
    "European couplings carry a D value, a force in kN. The combination asks for "
    "D = g T R / (T + R) with g = 9.81 m/s2, T the vehicle's and R the trailer's permitted mass. The lower plate counts.",
    fields=("vehicle.receiver.d_value", "trailer.coupler.d_value", "vehicle.gvwr", "trailer.gvwr"),
)
def d_value(context: Context) -> Iterable[Finding]:
    """Compare the D value asked for [N] with the lowest on the plates [N]."""
    rig = context.rig
    if not asks_d(rig):
        return
    vehicle, trailer = rig.vehicle.gvwr, rig.trailer.gvwr
    plates = strength.d_plates(rig)
    needs = [need(path) for _, value, path in plates if value is None]
    needs += [need("vehicle.gvwr")] if vehicle is None else []
    needs += [need("trailer.gvwr")] if trailer is None else []
    known = [(value, part) for part, value, _ in plates if value is not None]
    if vehicle is None or trailer is None or not known or not vehicle.si > 0 or not trailer.si > 0:
        yield unknown("d-value", needs or (need("vehicle.gvwr"),))
        return
    asked, (least, part) = strength.required_d(vehicle.si, trailer.si), min(known)
    thresholds = up_to(least, context.close)
    outcome = judge(thresholds, asked, complete=not needs)
    if outcome is Outcome.NOT_CHECKED:
        yield unknown("d-value", needs)
        return
    allowed = strength.trailer_for_d(least, vehicle.si)
    values = {} if allowed is None else {"allowed": (allowed, "mass")}
    words = "" if allowed is None else "behind this vehicle the lower plate allows a trailer of {allowed}"
    yield Finding(
        "d-value", "", outcome, "force", asked, least, message=words, values=values, governed_by=part,
        thresholds=thresholds,
    )  # fmt: skip


@rule(
    "coupling-class",
    "ball size for the trailer's coupling class",
    Basis.STANDARD,
    cite("comar-classes", "comar-ball"),
    "In North America trailers are sorted into classes by gross weight: 1 up to 2,000 lb, 2 up to 3,500, 3 up to "
    "5,000, 4 up to 10,000. Each class up to 3 has a smallest ball; a part of one class may tow that class or a smaller one. "
    "Above 10,000 lb only the makers' ratings count.",
    fields=("trailer.gvwr", "gear.ball.diameter", *BALL_PARTS),
)
def coupling_class(context: Context) -> Iterable[Finding]:
    """Compare the ball [m] with the smallest of the class that the trailer's GVWR [kg] gives."""
    rig, code = context.rig, "coupling-class"
    if rig.market not in ("us", "ca") or rig.trailer.type != "ball":
        return
    gvwr, ball = rig.trailer.gvwr, rig.gear.ball.diameter if rig.gear.ball else None
    if gvwr is None or ball is None:
        given = (("trailer.gvwr", gvwr), ("gear.ball.diameter", ball))
        yield unknown(code, [need(path) for path, value in given if value is None])
        return
    try:
        number = couplings.class_for(gvwr.si)
    except OutOfTableError as beyond:
        yield plain(code, Outcome.WITHIN, str(beyond), critical=False)
        return
    least = couplings.minimum_ball(number)
    if least is not None and ball.si < least and not couplings.same_ball_size(ball.si, least):
        words = f"class {number} trailer: its ball is at least {{least}}, fitted is {{ball}}"
        values = {"least": (least, "ball"), "ball": (ball.si, "ball")}
        yield plain(code, Outcome.CLOSE, words, critical=False, values=values)  # a standard never forbids
        return
    part, rating, _ = lowest(links.trailer_parts(rig))
    if rating is not None and not holds(rating.si, ">=", gvwr.si):
        words = f"class {number} trailer by its {{trailer_rating}}; the {part} is rated for {{rating}} only"
        yield plain(code, Outcome.CLOSE, words, critical=False, values={"rating": (rating.si, "mass")})
        return
    unstated = [path for _, stated, path in links.trailer_parts(rig) if stated is None]
    if unstated:
        yield unknown(code, [need(path) for path in unstated], critical=False)
        return
    words = f"class {number} trailer; ball size and ratings cover its {{trailer_rating}}"
    yield plain(code, Outcome.WITHIN, words)


@rule(
    "bed-hitch-reach",
    "trailer within the reach of the bed-hitch standard",
    Basis.STANDARD,
    cite("j2638"),
    "The standard of North America covers fifth-wheel and gooseneck attachments up to 30,000 lb; it is asked of no "
    "other rig. The hitch's own rating counts in any case.",
    fields=("trailer.gvwr",),
)
def bed_hitch_reach(context: Context) -> Iterable[Finding]:
    """Compare the trailer's GVWR [kg] with the standard's reach [kg]; information only."""
    rig = context.rig
    if rig.trailer.type == "ball" or rig.market not in ("us", "ca"):
        return
    gvwr, reach = rig.trailer.gvwr, couplings.bed_hitch_limit()
    if gvwr is None:
        yield unknown("bed-hitch-reach", (need("trailer.gvwr"),), critical=False)
        return
    inside = holds(gvwr.si, "<=", reach.value)
    words = "the standard reaches to {reach}" + ("" if inside else "; ask the hitch maker")
    outcome, values = Outcome.WITHIN if inside else Outcome.CLOSE, {"reach": (reach.value, "mass")}
    yield plain("bed-hitch-reach", outcome, words, critical=False, values=values)


@rule(
    "ball-size",
    "ball and {coupler} have the same size",
    Basis.PHYSICS,
    cite("comar-ball", "ball-50"),
    "The size stamped on the {coupler} and the size stamped on the ball must be the same. A {coupler} on a smaller "
    "ball can latch and still jump off. 50 mm and 2 in (50.8 mm) are different sizes.",
    fields=("gear.ball.diameter", "trailer.coupler.ball"),
)
def ball_size(context: Context) -> Iterable[Finding]:
    """Compare ball diameter [m] with the coupler's stamped size [m]; they must be one trade size."""
    rig = context.rig
    if rig.trailer.type == "fifth_wheel":
        return
    coupler = rig.trailer.coupler.ball
    ball = rig.gear.ball.diameter if rig.gear.ball else None
    if coupler is None or ball is None:
        given = (("gear.ball.diameter", ball), ("trailer.coupler.ball", coupler))
        yield unknown("ball-size", [need(p) for p, v in given if v is None])
        return
    same = couplings.same_ball_size(ball.si, coupler.si)
    other = _other_size(rig) if same else None
    if other is not None:
        measured, name = other
        words = (
            f"the ball measures {{measured}}, nearer to {name} than to its stamp: find out which ball it is"
        )
        yield plain(
            "ball-size", Outcome.NOT_CHECKED, words, values={"measured": (measured, "ball")},
            needs=(need("gear.ball.diameter"), need("gear.ball.measured")),
        )  # fmt: skip
        return
    words = (
        "ball {ball} and {coupler} {coupler_size} match"
        if same
        else "ball {ball} does not fit {coupler} {coupler_size}"
    )
    values = {"ball": (ball.si, "ball"), "coupler_size": (coupler.si, "ball")}
    yield plain("ball-size", Outcome.WITHIN if same else Outcome.OVER, words, values=values)


def _other_size(rig: Rig) -> tuple[float, str] | None:
    """Measured ball [m] and the trade size that it is nearer to than to its stamp; None when there is none."""
    ball = rig.gear.ball
    if ball is None or ball.diameter is None or ball.measured is None:
        return None
    measured, stamped = ball.measured.si, ball.diameter.si
    near = min(couplings.trade_balls(), key=lambda b: abs(b.diameter - measured))
    if couplings.same_ball_size(near.diameter, stamped):
        return None
    return (measured, near.name) if abs(near.diameter - measured) < abs(stamped - measured) else None


@rule(
    "ball-wear",
    "ball worn below its size",
    Basis.PHYSICS,
    cite("ball-worn"),
    "A worn ball lets the {coupler} ride up. {Coupling_heads} are tested on a ball of 49.00 to 49.13 mm that stands for "
    "a worn one, so a 50 mm ball at 49 mm is to be replaced; for other sizes the ball maker's limit counts.",
    fields=("gear.ball.measured",),
)
def ball_wear(context: Context) -> Iterable[Finding]:
    """Compare the measured ball [m] with its trade size [m] and with a worn 50 mm ball [m]."""
    ball = context.rig.gear.ball
    if ball is None or ball.diameter is None:
        return
    worn = couplings.worn_ball(ball.diameter.si)
    if ball.measured is None:
        if worn is not None:
            yield unknown("ball-wear", (need("gear.ball.measured"),), critical=False)
        return
    values = {"measured": (ball.measured.si, "ball"), "stamped": (ball.diameter.si, "ball")}
    other = _other_size(context.rig)
    if other is not None:
        words = (
            f"stamped {{stamped}} but measures {{measured}}, nearer to {other[1]}: find out which ball it is"
        )
        yield plain("ball-wear", Outcome.CLOSE, words, values=values, critical=False)
        return
    if worn is not None:
        gone = holds(ball.measured.si, "<=", worn.value)
        words = "the ball measures {measured}" + (": replace it before you tow" if gone else ", not worn out")
        yield plain(
            "ball-wear", Outcome.CLOSE if gone else Outcome.WITHIN, words, values=values, critical=False
        )
        return
    words = "the ball measures {measured}; its maker's wear limit counts"
    yield plain("ball-wear", Outcome.WITHIN, words, values=values, critical=False)
