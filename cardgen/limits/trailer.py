"""Checks of the trailer against its own ratings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cardgen.limits.compare import at_most, demand, judge, plain
from cardgen.limits.registry import TRAILER_AXLE, TRAILER_WEIGHT, Context, rule, unknown
from cardgen.model.results import Basis, Finding, Outcome, Thresholds
from cardgen.physics.axles import guesses_rate
from cardgen.physics.needs import need

LABEL = "rating on the trailer's {maker_label}"


@rule(
    "trailer-gross",
    "loaded trailer against its {trailer_rating_in_full}",
    Basis.MAKER,
    "[us: 49 CFR 571.3 (GVWR), quoted in NHTSA letter nht76-3.20, 15 Jan 1976; ]" + LABEL,
    "The whole loaded trailer, {coupling_load} included, must not weigh more than its {gross_trailer}. "
    "Weigh it {tongue_on_scale}, or hitched: axle load plus {coupling_load}.",
    fields=("trailer.gvwr", *TRAILER_WEIGHT),
)
def trailer_gross(context: Context) -> Iterable[Finding]:
    """Compare the heaviest declared trailer [kg] with its GVWR [kg]."""
    words = "nothing loaded is listed" if context.computed.unloaded else ""
    worst, limit = demand(context, "trailer_weight"), context.rig.trailer.gvwr
    yield at_most(context, "trailer-gross", worst, limit, "trailer.gvwr", message=words)


@rule(
    "trailer-registered",
    "loaded trailer against the weight it is registered for",
    Basis.GUIDANCE,
    "registration papers; the rules of the places were not read, so it forbids nothing here",
    "Some trailers are registered for less than their plate allows. Loaded above it a trailer may stand inside every "
    "plate and still not be allowed on the road: look the place's rule up.",
    fields=("trailer.registered_gross", *TRAILER_WEIGHT),
)
def trailer_registered(context: Context) -> Iterable[Finding]:
    """Compare the heaviest declared trailer [kg] with the weight it is registered for [kg]."""
    code, limit = "trailer-registered", context.rig.trailer.registered_gross
    if limit is None:
        return
    made = at_most(
        context, code, demand(context, "trailer_weight"), limit, "trailer.registered_gross", critical=False
    )
    if made.outcome is Outcome.OVER and made.demand is not None:
        words = "{demand} loaded, {limit} registered: leave load at home, or have it registered for more"
        values = {"demand": (made.demand, "mass"), "limit": (limit.si, "mass")}
        made = plain(code, Outcome.CLOSE, words, critical=False, values=values, basis=Basis.GUIDANCE)
    yield made


@rule(
    "trailer-axle",
    "trailer axle against its {axle_rating_in_full}",
    Basis.MAKER,
    "[us: 49 CFR 571.3 (GAWR, at the tire-ground interface), quoted in NHTSA letter nht76-3.20, 15 Jan 1976; ]"
    + LABEL,
    "Each axle has its own {gross_axle} and is checked with weight distribution engaged when it "
    "is fitted, because the bars move load onto the trailer's axles. Axles that no link joins are held together against "
    "the sum of their ratings as well, and each by how level the trailer rides; where nobody knows how stiff they are, "
    "by their ratings, which is said. Where the plate rates them together only, that rating counts and none of one axle.",
    fields=("trailer.axles.gawr[]", *TRAILER_AXLE),
)
def trailer_axles(context: Context) -> Iterable[Finding]:
    """Compare each axle's load [kg], bars engaged when fitted, with its GAWR [kg]."""
    axles = context.rig.trailer.axles
    words = (
        "how they share is taken from their ratings: weigh each axle to know"
        if guesses_rate(context.rig)
        else ""
    )
    together = sum(q.si for q in axles.gawr) if len(axles.gawr) == axles.count else None
    as_group = (
        together is None and context.rig.trailer.gtm is not None
    )  # what the plate rates, in a check of its own
    if axles.count > 1 and axles.suspension != "equalized" and not as_group:
        names = ["trailer_axle_load"]
        if context.rig.gear.weight_distribution is not None:
            names.append("trailer_axles_engaged")
        title = "all trailer axles against the sum of their ratings"
        yield at_most(
            context,
            "trailer-axle-group",
            demand(context, *names),
            together,
            "trailer.axles.gawr",
            title=title,
        )
    for i in range(axles.count):
        code = f"trailer-axle-{i + 1}"
        names = [f"axle_{i + 1}"]
        if context.rig.gear.weight_distribution is not None:
            names.append(f"axle_{i + 1}_engaged")
        rating = axles.gawr[i] if i < len(axles.gawr) else None
        title = f"trailer axle {i + 1} against its {{axle_rating_in_full}}" if axles.count > 1 else ""
        if rating is None and axles.count > 1 and context.rig.trailer.gtm is not None:
            words = "the plate rates the axles together, see that check; none rates one axle"
            missing = unknown(code, (need(f"trailer.axles.gawr[{i}]"),), words, critical=False)
            yield replace(missing, title=title)
            continue
        yield at_most(
            context,
            code,
            demand(context, *names),
            rating,
            f"trailer.axles.gawr[{i}]",
            title=title,
            message=words,
        )


@rule(
    "trailer-label-sum",
    "axle ratings and {tongue_load} cover the {trailer_rating}",
    Basis.GUIDANCE,
    "[us: NHTSA letters nht75-5.2, 27 May 1975, and nht72-6.32, 4 Jan 1972 (the tow vehicle carries part of the "
    "GVWR); ]ratings on the trailer's {maker_label}",
    "A trailer's {trailer_rating} includes the part that rests on the tow vehicle, so the axle ratings may add up to less. "
    "Axle ratings and {coupling_load} together should reach it, the {coupling_load} taken at the largest share of the "
    "loading cases and the full {trailer_rating}; if not, one of the labels was misread.",
)
def label_sum(context: Context) -> Iterable[Finding]:
    """Check ``sum(GAWR) + tongue >= GVWR`` [kg], the tongue of a trailer loaded to its rating."""
    trailer = context.rig.trailer
    tongue = demand(context, "tongue_weight")
    if trailer.gvwr is None or len(trailer.axles.gawr) < trailer.axles.count or tongue.value is None:
        return
    share = demand(context, "tongue_share").value or 0.0
    total = sum(q.si for q in trailer.axles.gawr) + max(tongue.value, share * trailer.gvwr.si)
    thresholds = Thresholds(close_above=total)
    outcome = judge(thresholds, trailer.gvwr.si)
    if outcome is not Outcome.WITHIN:
        yield Finding(
            "trailer-label-sum",
            "",
            outcome,
            demand=trailer.gvwr.si,
            capacity=total,
            critical=False,
            thresholds=thresholds,
            message="axle ratings and {coupling_load} add up to less than the {trailer_rating}: read the labels again",
        )
