"""Checks of mirrors, lamps and of the trailer's axle load when coupled (GTM)."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.limits.cite import cite
from cardgen.limits.compare import at_most, demand
from cardgen.limits.registry import BARS, TONGUE_WEIGHT, Context, rule, unknown
from cardgen.model.results import Basis, Finding, Need, Outcome
from cardgen.physics.needs import need

AUTHORITY = "the lighting rules of the place, or the trailer maker"


@rule(
    "mirror-span",
    "mirrors reach past the trailer",
    Basis.GUIDANCE,
    f"plane geometry; {cite('law-mirror-summaries')}; [uk: {cite('law-uk-mirrors')}]",
    "Both outside mirrors must show the road behind along the trailer's sides[us: ; several places name 200 ft]. "
    "Mirrors whose outer edges are no wider than the trailer cannot. Fold or take off towing mirrors when alone.",
    fields=("trailer.dimensions.width", "vehicle.mirrors.span"),
)
def mirror_span(context: Context) -> Iterable[Finding]:
    """Compare the trailer's width [m] with the mirrors' outer edges [m]."""
    rig, code = context.rig, "mirror-span"
    width, span = rig.trailer.dimensions.width, rig.vehicle.mirrors.span
    if width is None or span is None:
        given = (("trailer.dimensions.width", width), ("vehicle.mirrors.span", span))
        yield unknown(code, [need(p) for p, v in given if v is None], critical=False)
        return
    narrow = width.si >= span.si
    words = "the mirrors do not reach past the trailer: fit towing mirrors" if narrow else ""
    outcome = Outcome.CLOSE if narrow else Outcome.WITHIN
    yield Finding(
        code, "", outcome, "dimension", width.si, span.si, message=words, critical=False,
    )  # fmt: skip


@rule(
    "lamp-list",
    "which lamps the trailer must show",
    Basis.LAW,
    cite("lamps-us", "lamps-80in", "lamps-30ft"),
    "Width (rigid {fenders} included) and length decide which lamps and reflectors a trailer must show[us: : from 80 in "
    "wide clearance and identification lamps, from 30 ft long intermediate side markers]. The report lists them for "
    "the walk around; whether they light is for the eye.",
    fields=("trailer.dimensions.width", "trailer.dimensions.length", "market"),
)
def lamp_list(context: Context) -> Iterable[Finding]:
    """Say when the list of lamps is not whole for want of a dimension [m] or of a rule that was read."""
    plan = context.computed.lamps
    if plan is not None and plan.complete:
        return
    if plan is None or plan.lamps is None:
        missing: tuple[Need, ...] = (Need("market", "lamps this trailer must show", AUTHORITY),)
    else:
        missing = tuple(need(f"trailer.dimensions.{name}") for name in plan.missing)
    words = plan.reason if plan is not None else "lamps not checked: width and length cannot be right"
    known = context.rig.market == "us"
    yield Finding(
        "lamp-list", "", Outcome.NOT_CHECKED, message=words, needs=missing, critical=False,
        basis=Basis.MAKER if known else Basis.GUIDANCE, source="" if known else "no text was read for this market",
    )  # fmt: skip


@rule(
    "trailer-gtm",
    "trailer axles, coupled, against the {axle_group}",
    Basis.MAKER,
    "{axle_group} on the trailer plate: mass on the ground through the axles when coupled and fully loaded[au:  "
    "(Australian design rules, definitions, secondary copy)]",
    "Beside the {trailer_rating} for the whole trailer a plate may rate all axles together, in Australia as {gtm}: what "
    "they carry when coupled. Weight distribution moves load onto the axles, so this rating can be exceeded while the "
    "{trailer_rating} is not.",
    fields=("trailer.gtm", "trailer.empty.weight", *TONGUE_WEIGHT, *BARS),
)
def trailer_gtm(context: Context) -> Iterable[Finding]:
    """Compare the coupled load of all trailer axles [kg] with what the plate rates them for together [kg]."""
    rig = context.rig
    if rig.trailer.gtm is None and rig.market != "au":
        return
    names = ["trailer_axle_load"]
    if rig.gear.weight_distribution is not None:
        names.append("trailer_axles_engaged")
    yield at_most(context, "trailer-gtm", demand(context, *names), rig.trailer.gtm, "trailer.gtm")
