"""Tongue weight bands: by kind of trailer, and the owner's own."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.limits.compare import demand
from cardgen.limits.registry import Context, rule
from cardgen.model.results import Basis, Finding, Need, Outcome
from cardgen.physics.band import band_for


@rule(
    "tongue-share",
    "tongue weight as a share of the loaded trailer",
    Basis.GUIDANCE,
    "bands by kind of trailer and market, see the source of the band",
    "Too little tongue weight lets a trailer sway, too much takes load off the steering axle. Bands differ by "
    "kind of trailer and by country; the vehicle's and the trailer maker's own figures win.",
)
def tongue_share(context: Context) -> Iterable[Finding]:
    """Check the tongue share of every case [-] against the band [-]."""
    low, high, words = band_for(context.rig)
    yield _band(context, "tongue-share", "tongue_share", "fraction", low, high, words)


@rule(
    "tongue-weight",
    "tongue weight inside the owner's own band",
    Basis.OWNER,
    "owner's limit in the rig file",
    "The owner may set a band in pounds or kilograms, as is common for small campers.",
)
def tongue_weight(context: Context) -> Iterable[Finding]:
    """Check the tongue weight of every case [kg] against the owner's band [kg]."""
    own = context.rig.limits.tongue_weight
    if own is None:
        return
    low = own.low.si if own.low else 0.0
    high = own.high.si if own.high else float("inf")
    yield _band(context, "tongue-weight", "tongue_weight", "mass", low, high, own.source or "")


def _band(
    context: Context, code: str, figure: str, kind: str, low: float, high: float, source: str
) -> Finding:
    """Judge every case against a band; the case that is worst speaks."""
    most, least = demand(context, figure), demand(context, figure, smallest=True)
    needs: tuple[Need, ...] = most.needs
    if most.value is None or least.value is None:
        return Finding(
            code, "", Outcome.NOT_CHECKED, kind, None, high, low, source=source, needs=needs, critical=False
        )
    above, below = most.value - high, low - least.value
    worst = most if above >= below else least
    slack = 1e-9
    outcome, message = Outcome.WITHIN, ""
    if max(above, below) > slack:
        outcome = Outcome.OVER
        message = "too much on the tongue" if above >= below else "too little on the tongue"
    elif needs:
        outcome = Outcome.NOT_CHECKED
    elif max(above, below) > -context.close * (high - low if high < float("inf") else low):
        outcome = Outcome.CLOSE
        message = "near the top of the band" if above >= below else "near the bottom of the band"
    return Finding(
        code,
        "",
        outcome,
        kind,
        worst.value,
        high,
        low,
        worst.case,
        source=source,
        message=message,
        needs=needs,
        critical=True,
        demand_figure=figure,
    )
