"""Tongue weight bands: by kind of trailer, and the owner's own."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cardgen.limits.compare import band
from cardgen.limits.registry import TONGUE_WEIGHT, Context, rule
from cardgen.model.results import Basis, Finding
from cardgen.physics.band import band_for

WORDS = ("too little {on_tongue}", "too much {on_tongue}")


@rule(
    "tongue-share",
    "{coupling_load} as a share of the loaded trailer",
    Basis.GUIDANCE,
    "bands by kind of trailer and market, see the source of the band",
    "Too little {coupling_load} lets a trailer {sway_v}, too much takes load off the steering axle. Bands differ by "
    "kind of trailer and by country; the vehicle's and the trailer maker's own figures win. More than a band advises is "
    "within as long as every rating holds, less is close. Less than half of the lower end is over, a choice of our own, "
    "and so is what may be zero or less: the trailer would lift the {hitch}.",
    fields=(*TONGUE_WEIGHT, "trailer.empty.weight"),
)
def tongue_share(context: Context) -> Iterable[Finding]:
    """Check the tongue share of every case [-] against the band [-]."""
    low, high, words = band_for(context.rig)
    advice = context.rig.limits.tongue_share is None
    found = band(context, "tongue-share", "tongue_share", "fraction", low, high, words, WORDS, advice=advice)
    yield found if advice else replace(found, basis=Basis.OWNER)


@rule(
    "tongue-weight",
    "{coupling_load} inside the owner's own band",
    Basis.OWNER,
    "owner's limit in the rig file",
    "The owner may set a band in pounds or kilograms, as is common for small campers.",
)
def tongue_weight(context: Context) -> Iterable[Finding]:
    """Check the tongue weight of every case [kg] against the owner's band [kg]."""
    own = context.rig.limits.tongue_weight
    if own is None:
        return
    low = own.low.si if own.low else None
    high = own.high.si if own.high else None
    yield band(context, "tongue-weight", "tongue_weight", "mass", low, high, own.source or "", WORDS)
