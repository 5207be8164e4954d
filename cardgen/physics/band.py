"""The tongue band of a rig as a share and as weights, and the speed its tires allow."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from cardgen.model.results import CaseResult, Computed, Figure, Need, Term
from cardgen.model.rig import Rig
from cardgen.physics import figures, tires
from cardgen.physics.allowances import Bound
from cardgen.physics.needs import need
from cardgen.tables.sources import source
from cardgen.tables.tongue import share_band

LEAST = 0.5
"""Share of an advised lower end below which a tongue is far too light [-]; our choice, no source."""
LABELS = {
    "band_low": "lower end of the {coupling_load} to keep",
    "band_high": "upper end of the {coupling_load} to keep",
}
"""Words of both ends [-]."""


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


def least_share(rig: Rig) -> float:
    """Tongue share below which a trailer is over [-]: the owner's lower end, else ``LEAST`` of the advised one.

    Args:
        rig: the rig.

    Source: ``band_for``.
    """
    return band_for(rig)[0] * (1.0 if rig.limits.tongue_share is not None else LEAST)


def with_bands(computed: Computed, limits: Mapping[str, Sequence[Bound]]) -> Computed:
    """Give every loading case ``band_low`` and ``band_high`` [kg]: the tongue weights to keep.

    The upper end is the least of the band and of every rating that the tongue bears on, with
    the part named. Where the band begins above a rating, both ends are that rating: as near
    it as possible. There is no band where nothing fits every limit.

    Args:
        computed: rig and cases.
        limits: the bounds of each case, by its name.

    Source: ends of the band times the trailer's weight; ``allowances.bounds``.
    """
    cases = tuple(
        replace(case, figures={**case.figures, **_of_case(computed.rig, case, limits[case.name])})
        for case in computed.cases
    )
    return replace(computed, cases=cases)


End = tuple[float, str, str]
"""A tongue weight [kg], the part that sets it, and the formula."""


def _of_case(rig: Rig, case: CaseResult, limits: Sequence[Bound]) -> dict[str, Figure]:
    weight, share = case.figures["trailer_weight"], case.figures["tongue_share"]
    if weight.value is None:
        return {
            name: figures.derived(name, words, "mass", None, "share * W", (), "", weight.needs)
            for name, words in LABELS.items()
        }
    total = weight.value
    low, high, source_words = band_for(rig)
    own = rig.limits.tongue_weight
    advised: list[End] = [(low * total, "band", "share * W")]
    tops: list[End] = [(high * total, "band", "share * W")]
    least: list[End] = [(least_share(rig) * total, "band", "share * W")]
    if own and own.low:
        least.append((own.low.si, "band", "owner's limit"))
    if own and own.high:
        tops.append((own.high.si, "band", "owner's limit"))
    for bound in limits:
        end = bound.tongue(total)
        if end is not None:
            (tops if bound.by_tongue > 0 else least).append((end, bound.part, "what is left / lever"))
    top, bottom = min(tops, key=lambda e: e[0]), max(advised + least, key=lambda e: e[0])
    fits = max(e[0] for e in least) <= top[0] and top[0] > 0
    ends = {"band_low": min(bottom, top, key=lambda e: e[0]), "band_high": top}
    return {
        name: figures.derived(
            name, LABELS[name], "mass", end[0] if fits else None, end[2],
            [Term("W", "trailer", total, "mass", "trailer_weight"), Term("T", end[1], end[0], "mass")],
            source_words if end[1] == "band" else end[1],
            () if fits else (Need(name, "no {coupling_load} fits every limit: lighten trailer or vehicle"), *share.needs),
        )
        for name, end in ends.items()
    }  # fmt: skip


SHARE = "share"
"""Why a vehicle must bear so much on the coupling: the upper end of the band at the largest trailer [-]."""


def asked_tongue(computed: Computed) -> tuple[float | None, str, float | None]:
    """What a vehicle that is not known must bear on the coupling [kg], why [-], and the most of all fillings [kg].

    The upper end of the band at the largest trailer by its own plates, or what the owner's limit or the trailer's
    coupler allows where that is less; never under the largest of all fillings, as nobody knows the load.

    Args:
        computed: rig, cases and reach.

    Source: ``band_for``; ratings on the parts.
    """
    rig = computed.rig
    ends: list[tuple[float, str]] = []
    if rig.trailer.gvwr is not None:
        plates = (rig.trailer.gvwr, rig.trailer.registered_gross)
        ends.append((band_for(rig)[1] * min(q.si for q in plates if q is not None), SHARE))
    own, coupler = rig.limits.tongue_weight, rig.trailer.coupler.ratings.tongue
    if own is not None and own.high is not None:
        ends.append((own.high.si, "the owner's limit"))
    if coupler is not None and ends:
        ends.append((coupler.si, "the {coupler} bears no more"))
    reach, most = computed.envelope.get("tongue_weight"), computed.figures.get("tongue_weight_max")
    ranged = (None if reach is None else reach.high, None if most is None else most.value)
    seen = max((v for v in ranged if v is not None), default=None)
    load, why = min(ends, default=(None, ""))
    if seen is not None and (load is None or seen > load):
        return seen, "the largest of all fillings", seen
    return load, why, seen


def band_figures(computed: Computed) -> dict[str, Figure]:
    """Make ``band_low`` and ``band_high`` [kg], right in every case, and ``planned_speed_limit`` [m/s].

    Both ends are unknown when no one band serves every case; the cases carry their own.

    Args:
        computed: with the bands of the cases.

    Source: ``with_bands``.
    """
    out: dict[str, Figure] = {}
    for name, worst in (("band_low", max), ("band_high", min)):
        seen = [(c.figures[name].value, c.name, c.figures[name]) for c in computed.cases]
        known = [(v, case, figure) for v, case, figure in seen if v is not None]
        needs = [n for _, _, figure in seen for n in figure.needs]
        value, _, figure = worst(known, key=lambda e: e[0]) if known else (None, "", None)
        terms = [Term(case, case, v, "mass", name) for v, case, _ in known]
        words = figure.source if figure else ""
        value = None if needs else value
        out[name] = figures.derived(
            name, LABELS[name], "mass", value, worst.__name__ + " over the cases", terms, words, needs
        )
    low, high = out["band_low"].value, out["band_high"].value
    if low is not None and high is not None and low > high:
        apart = Need("band_low", "each loading case has a band of its own")
        out = {name: replace(figure, value=None, needs=(apart,)) for name, figure in out.items()}
    return out | {"planned_speed_limit": _speed(computed.rig)}


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
        "highest speed the owner planned and the tires that are known allow",
        "speed",
        min(speeds) if planned else None,
        "lowest of planned speed and tire speeds",
        [Term("v", "speed", v, "speed") for v in speeds],
        "speed symbol on the sidewall",
        needs,
    )
