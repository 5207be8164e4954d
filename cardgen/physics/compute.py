"""Everything physics knows about one rig: figures per loading case and for the rig as a whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from cardgen.model.results import CaseResult, Computed, Figure, Term
from cardgen.model.rig import Rig
from cardgen.physics import allowances, figures, heights, wheels
from cardgen.physics.band import band_figures, least_share, with_bands
from cardgen.physics.cases import case_result
from cardgen.physics.envelope import envelope
from cardgen.physics.equip import equip
from cardgen.physics.load_model import LoadModel, moved_onto
from cardgen.physics.weighing import weigh

NONE: Mapping[str, CaseResult] = MappingProxyType({})


def compute(
    rig: Rig, *, deep: bool = True, ground: LoadModel | None = None, kept: Mapping[str, CaseResult] = NONE
) -> Computed:
    """Work out every figure of a rig.

    Args:
        rig: the rig as described [SI].
        deep: whether to add what no check of a declared case needs: the reach over all
            fillings and the pressure strips [-].
        ground: the model of the same rig before loads were left out or put in; its stated
            or weighed weights are kept (masses [kg]).
        kept: results of loading cases that the change does not touch, by name (SI).

    Returns:
        Figures per case and rig-wide; an unknown figure carries what is missing.
        Nothing is read, no clock is used.

    Source: see the functions it calls.
    """
    model, weighings = weigh(rig) if ground is None else (moved_onto(ground, rig), ())
    cases = tuple(kept.get(case.name) or case_result(model, i) for i, case in enumerate(rig.cases))
    made = restricted(Computed(rig, cases, {}, weighings=weighings))
    made = equip(made, deep=deep)
    return replace(made, envelope=envelope(model)) if deep else made


def restricted(partial: Computed) -> Computed:
    """Add what follows from the cases alone: tire plans, extremes, allowances [SI].

    Why: a comparison of single cases needs it for one case at a time.

    Args:
        partial: rig and cases; whatever else it has is kept.

    Source: see the functions it calls.
    """
    limits = {case.name: allowances.bounds(partial, case) for case in partial.cases}
    partial = with_bands(partial, limits)
    tires = wheels.plans(partial)
    wide = heights.rig_figures(partial) | _extremes(partial.cases) | wheels.pressure_figures(tires)
    allowed = allowances.allowances(partial, limits, least_share(partial.rig))
    wide |= allowances.figures_of(allowed) | band_figures(partial)
    return replace(partial, figures=wide, tires=tires, allowances=allowed)


def _extremes(cases: Sequence[CaseResult]) -> dict[str, Figure]:
    """Largest and smallest tongue weight and the heaviest trailer over the declared cases."""
    out: dict[str, Figure] = {}
    for name, base, words, pick in (
        ("tongue_weight_max", "tongue_weight", "largest {coupling_load} of the loading cases", max),
        ("tongue_weight_min", "tongue_weight", "smallest {coupling_load} of the loading cases", min),
        ("trailer_weight_max", "trailer_weight", "heaviest trailer of the loading cases", max),
    ):
        seen = [c.figures[base] for c in cases]
        known = [v for f in seen if f.value is not None for v in (f.value, *(f.rival or ())[:1])]
        needs = [n for f in seen for n in f.needs]
        value = pick(known) if known and not needs else None
        terms = [
            Term(c.name, c.name, f.value, "mass", base)
            for c, f in zip(cases, seen, strict=True)
            if f.value is not None
        ]
        out[name] = figures.derived(
            name, words, "mass", value, f"{pick.__name__} over the cases", terms, figures.SUM, needs
        )
    return out
