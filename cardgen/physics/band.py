"""The tongue band of a rig as a share and as weights, and the speed its tires allow."""

from __future__ import annotations

from cardgen.model.results import Computed, Figure, Term
from cardgen.model.rig import Rig
from cardgen.physics import figures, tires
from cardgen.physics.needs import need
from cardgen.tables.sources import source
from cardgen.tables.tongue import share_band


def band_for(rig: Rig) -> tuple[float, float, str]:
    """Return low end [-], high end [-] and source of the tongue share band of a rig.

    The owner's own band wins over the market's for this kind of trailer.

    Source: ``cardgen.tables.tongue``.
    """
    own = rig.limits.tongue_share
    if own is not None:
        return own.low.si, own.high.si, own.source or "owner's limit in the rig file"
    band = share_band(rig.trailer.type, rig.trailer.body, rig.market)
    return band.low, band.high, source(band.source).words()


def band_figures(computed: Computed) -> dict[str, Figure]:
    """Make ``band_low`` and ``band_high`` [kg] for the heaviest case, and ``planned_speed_limit`` [m/s].

    An owner's band in weights narrows the ends. The speed is the lowest of the planned
    speed and what every tire that is known allows; unknown when a tire's speed is.

    Source: share of the heaviest loaded trailer; ``cardgen.tables.tongue``.
    """
    rig = computed.rig
    low, high, words = band_for(rig)
    weight = computed.worst("trailer_weight")
    own = rig.limits.tongue_weight
    out: dict[str, Figure] = {}
    for name, share, stated, pick in (
        ("band_low", low, own.low if own else None, max),
        ("band_high", high, own.high if own else None, min),
    ):
        value = None if weight is None else share * weight[1]
        if value is not None and stated is not None:
            value = pick(value, stated.si)
        terms = [] if weight is None else [Term("W", "heaviest trailer", weight[1], "mass", "trailer_weight")]
        terms.append(Term("share", "end of the band", share, "fraction"))
        needs = [need("trailer.empty.weight")] if weight is None else []
        label = f"{'lower' if pick is max else 'upper'} end of the {{coupling_load}} band"
        out[name] = figures.derived(name, label, "mass", value, "share * W", terms, words, needs)
    return out | {"planned_speed_limit": _speed(rig)}


def _speed(rig: Rig) -> Figure:
    planned = rig.preferences.planned_speed
    needs = [] if planned else [need("preferences.planned_speed")]
    speeds = [planned.si] if planned else []
    for path, tire in (
        ("trailer.tires", rig.trailer.tires),
        ("vehicle.tires.front", rig.vehicle.tires.front),
        ("vehicle.tires.rear", rig.vehicle.tires.rear),
    ):
        allowed = tires.speed_limit(tire) if tire else None
        if allowed is None:
            needs.append(need(f"{path}.speed_symbol" if tire else path))
        else:
            speeds.append(allowed)
    return figures.derived(
        "planned_speed_limit",
        "highest speed the owner planned and the tires allow",
        "speed",
        min(speeds) if speeds and not needs else None,
        "lowest of planned speed and tire speeds",
        [Term("v", "speed", v, "speed") for v in speeds],
        "speed symbol on the sidewall",
        needs,
    )
