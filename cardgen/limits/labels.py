"""Checks of weight labels and notes on legal classes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cardgen.limits.cite import cite
from cardgen.limits.compare import at_most, demand, judge, past, plain, up_to
from cardgen.limits.plausible import doubts
from cardgen.limits.registry import Context, rule, unknown
from cardgen.model.needs import Need
from cardgen.model.results import Basis, Finding, Outcome
from cardgen.model.rig import Rig
from cardgen.physics import labels as physics
from cardgen.physics.aboard import PAPERS, perhaps_kept
from cardgen.physics.needs import need
from cardgen.tables import placard

RV_BODIES = ("camper", "travel_trailer", "caravan")


@rule(
    "trailer-cargo-label",
    "cargo and water against the trailer's {cargo_label}",
    Basis.MAKER,
    cite("rv-label-rule", "label-before-2008"),
    "The {trailer_payload}[us ca:  on the weight label] caps everything put into the trailer[us ca: . Since 2 June 2008 the label "
    "counts water as cargo and full LP cylinders as part of the trailer; older labels took both off first. A label "
    "of 2008 is read the stricter way].",
    fields=(
        "trailer.cargo_capacity",
        "trailer.year",
        "trailer.gvwr",
        "trailer.empty.weight",
        "trailer.empty.source",
        "trailer.empty.includes.cylinders.<name>",
        "trailer.cargo[].weight",
        "trailer.tanks.<name>.capacity",
        "trailer.cylinders.<name>.size",
        "trailer.cylinders.<name>.tare",
        "cases[].tanks.<name>",
        "cases[].cylinders.<name>",
    ),
)
def cargo_label(context: Context) -> Iterable[Finding]:
    """Compare cargo and liquids [kg] with the label's capacity [kg], by the label's own era."""
    trailer, papers = context.rig.trailer, context.rig.market in PAPERS
    limit = physics.payload(context.rig)
    if limit is None:
        missing = physics.room(context.rig)[1] if papers else ()
        if trailer.body != "boat":
            asked = missing or (need("trailer.cargo_capacity"),)
            yield unknown("trailer-cargo-label", asked, critical=False)
        return
    figure, words, title = (
        "label_cargo",
        physics.PAPERS_SAY,
        "all that is put in against the {trailer_payload}",
    )
    if not papers:
        if trailer.year is None:
            yield unknown("trailer-cargo-label", (need("trailer.year"),), critical=False)
            return
        meaning = placard.label_meaning(placard.label_era(trailer.year) or "after")
        figure, words = "label_cargo" if meaning.water_is_cargo else "label_cargo_old", cite(meaning.source)
        title = ""
    yield at_most(
        context,
        "trailer-cargo-label",
        demand(context, figure),
        trailer.cargo_capacity or limit,
        "trailer.cargo_capacity",
        source=words,
        title=title,
        unsaid=(
            "unless the weight of the papers holds what the file says nothing of",
            _kept_asked(context.rig),
        ),
    )


def _kept_asked(rig: Rig) -> tuple[Need, ...]:
    """What tells whether gas and batteries are in the weight of the papers [-]."""
    names = dict.fromkeys(key.split(".", 1)[1] for key in perhaps_kept(rig) if not key.startswith("battery."))
    cylinders = tuple(need(f"trailer.empty.includes.cylinders.{name}") for name in names)
    return cylinders if rig.trailer.empty.source else (need("trailer.empty.source"), *cylinders)


@rule(
    "label-room",
    "{cargo_label} against the trailer's real weight",
    Basis.GUIDANCE,
    "[us: 49 CFR 567.4(g)(3) quoted in NHTSA letter nht76-3.20, 15 Jan 1976: GVWR covers empty weight and cargo; ]"
    "meaning of the {trailer_rating}: empty weight and cargo",
    "Options fitted later make a trailer heavier than its label assumed. What is really left is the {trailer_rating} less the "
    "weight without cargo; when that is less than the label's figure, the smaller one counts. Batteries and full "
    "cylinders that were away at the empty weighing belong to the trailer and are put back.",
    fields=(
        "trailer.empty.includes.cylinders.<name>",
        "trailer.empty.includes.tanks.<name>",
        "trailer.empty.source",
        "trailer.cylinders.<name>.size",
        "trailer.cylinders.<name>.tare",
        "trailer.batteries[].weight",
    ),
)
def label_room(context: Context) -> Iterable[Finding]:
    """Compare the label's cargo capacity [kg] with GVWR less the empty weight, batteries and full gas put back [kg]."""
    trailer = context.rig.trailer
    label, given = trailer.cargo_capacity, (trailer.gvwr, trailer.empty.weight)
    if label is None or None in given or trailer.empty.includes.cargo:
        return  # the label itself is asked for by its own check
    left, needs = physics.room(context.rig)
    if left is None:
        yield unknown("label-room", needs, critical=False)
        return
    short = label.si > left * (1 + 1e-9)
    words = "{trailer_rating} less the weight without cargo leaves {left}" + (
        ", less than the label says" if short else ""
    )
    yield plain(
        "label-room", Outcome.CLOSE if short else Outcome.WITHIN, words, critical=False,
        values={"left": (left, "mass")},
    )  # fmt: skip


@rule(
    "label-dealer-added",
    "weight added before the first sale",
    Basis.LAW,
    cite("rv-label-rule"),
    "If more than the lesser of 1.5 % of {trailer_rating} and 100 lb is added to an RV trailer before its first sale, the "
    "{cargo_label} must be corrected or supplemented. The duty is the dealer's; smaller additions need nothing.",
)
def dealer_added(context: Context) -> Iterable[Finding]:
    """Compare the weight a dealer added [kg] with the lesser of 1.5 % of GVWR and 100 lb [kg]."""
    rig, code = context.rig, "label-dealer-added"
    added, gvwr = rig.trailer.dealer_added, rig.trailer.gvwr
    if rig.market != "us" or rig.trailer.body not in RV_BODIES or added is None:
        return
    if gvwr is None or not gvwr.si > 0:
        yield unknown(code, (need("trailer.gvwr"),), critical=False)
        return
    limit = placard.dealer_added_limit(gvwr.si)
    thresholds = replace(up_to(limit.value, context.close), over_above=None)  # the duty is the dealer's
    outcome = judge(thresholds, added.si)
    words = limit.words
    if past(added.si, limit.value, None):
        words = f"more than {limit.words}: the {{cargo_label}} must be corrected or supplemented"
    yield Finding(
        code, "", outcome, demand=added.si, capacity=limit.value, message=words, critical=False,
        thresholds=thresholds,
    )  # fmt: skip


@rule(
    "legal-class",
    "size of the combination for commercial rules",
    Basis.COMMERCIAL_LAW,
    cite("cmv-10001", "cdl-group-a"),
    "In US commercial use a combination of 10,001 lb or more is a commercial motor vehicle; from 26,001 lb with more "
    "than 10,000 lb towed a Group A license is asked for. Private trips are not meant, states have their own rules.",
)
def legal_class(context: Context) -> Iterable[Finding]:
    """Compare the combination's ratings [kg] with the commercial thresholds [kg]; a note, no limit."""
    rig, code = context.rig, "legal-class"
    if rig.market != "us" or rig.use != "commercial":
        return
    total, towed = physics.combination_rating(context.computed), rig.trailer.gvwr
    if total is None or towed is None:
        given = (("vehicle.gvwr", rig.vehicle.gvwr), ("trailer.gvwr", towed))
        yield unknown(code, [need(p) for p, v in given if v is None], critical=False)
        return
    values = {"total": (total, "mass")}
    if placard.is_cdl_group_a(total, towed.si):
        words = "{total} together: commercial motor vehicle, Group A license class"
    elif placard.is_commercial_size(total):
        words = "{total} together: commercial motor vehicle from 10,001 lb"
    else:
        needs = demand(
            context, "vehicle_alone", "trailer_weight"
        ).needs  # a unit that weighs more counts by that
        outcome, words = Outcome.NOT_CHECKED if needs else Outcome.WITHIN, "{total} together: below 10,001 lb"
        words += " by the ratings" if needs else ""
        yield plain(code, outcome, words, critical=False, values=values, needs=needs)
        return
    yield plain(code, Outcome.CLOSE, words, critical=False, values=values)


@rule(
    "plausible",
    "figures that contradict each other",
    Basis.GUIDANCE,
    "plain comparison of the file's own figures; the bounds are a project choice, no source",
    "Some figures cannot both be right, or are what nobody would expect: an unbraked rating above the braked one, a "
    "placard with more room than the ratings leave, a person of a few pounds. The file is asked about them, and "
    "a check that rests on such a figure is not passed. A figure that is right is written with its +/-.",
)
def plausible(context: Context) -> Iterable[Finding]:
    """Ask about each doubted field [-]; the checks that rest on it are not passed."""
    found = doubts(context.rig)
    if found:
        words = "; ".join(sorted({doubt.words for doubt in found}))
        yield unknown("plausible", [doubt.need for doubt in found], words, critical=False)
