"""Everything physics knows about one rig: figures per loading case and for the rig as a whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from cardgen.model.results import CaseResult, Computed, Figure, Need, Term
from cardgen.model.rig import Rig
from cardgen.physics import allowances, balance, figures, heights, wheels
from cardgen.physics.band import band_figures
from cardgen.physics.engaged import engaged
from cardgen.physics.equip import equip
from cardgen.physics.linear import Linear
from cardgen.physics.loads import Aboard, Load, all_loads, case_aboard, empty_aboard
from cardgen.physics.needs import need


def compute(rig: Rig) -> Computed:
    """Work out every figure of a rig.

    Args:
        rig: the rig as described (SI inside).

    Returns:
        Figures per case and rig-wide; an unknown figure carries what is missing.
        Nothing is read, no clock is used.
    """
    loads = all_loads(rig)
    forms = balance.totals(loads, balance.geometry(rig), balance.bases(rig))
    state = empty_aboard(rig)
    cases = tuple(
        _case(rig, case.name, loads, forms, case_aboard(rig, case, i), state)
        for i, case in enumerate(rig.cases)
    )
    partial = Computed(rig, cases, {})
    tires = wheels.plans(partial)
    wide = heights.rig_figures(partial) | _extremes(cases) | wheels.pressure_figures(tires)
    allowed = allowances.allowances(partial)
    wide |= allowances.figures_of(allowed) | band_figures(partial)
    return equip(Computed(rig, cases, wide, tires, allowed))


def _case(
    rig: Rig,
    name: str,
    loads: Sequence[Load],
    forms: Mapping[str, Linear],
    now: Aboard,
    state: Aboard,
) -> CaseResult:
    made = {key: figures.figure(key, form, loads, now, state) for key, form in forms.items()}
    made["tongue_share"] = figures.ratio(
        "tongue_share",
        "tongue weight as a share of the loaded trailer",
        made["tongue_weight"],
        made["trailer_weight"],
        "T / W",
        figures.STATICS,
    )
    for key, words, sorts in (
        ("water_weight", "fresh water aboard", ("fresh",)),
        ("waste_weight", "waste aboard", ("waste",)),
        ("gas_weight", "LP gas aboard", ("gas",)),
        ("cargo_weight", "cargo aboard the trailer", ("cargo",)),
        (
            "label_cargo",
            "cargo and liquids aboard the trailer",
            ("cargo", "fresh", "waste", "liquid"),
        ),
        ("label_cargo_old", "cargo and waste aboard the trailer", ("cargo", "waste", "liquid")),
    ):
        made[key] = figures.aboard_mass(key, words, sorts, loads, now)
    made["occupant_weight"] = figures.aboard_mass(
        "occupant_weight", "people in the vehicle", ("person",), loads, now, "vehicle"
    )
    made |= _axles(rig, made)
    made |= engaged(rig, made)
    return CaseResult(name, made)


def _axles(rig: Rig, made: Mapping[str, Figure]) -> dict[str, Figure]:
    """Share the axle group's load among its axles and between left and right."""
    axles, group, side = rig.trailer.axles, made["trailer_axle_load"], made["side_difference"]
    equal = axles.count == 1 or axles.suspension == "equalized"
    needs: tuple[Need, ...] = group.needs
    if not equal:
        needs = (
            *needs,
            need("weighings[0].slack.axles") if axles.suspension else need("trailer.axles.suspension"),
        )
    value = group.value / axles.count if group.value is not None and equal and axles.count else None
    terms = [] if group.value is None else [Term("A", group.label, group.value, "mass", group.id)]
    out = {
        f"axle_{i + 1}": figures.derived(
            f"axle_{i + 1}",
            f"trailer axle {i + 1}" if axles.count > 1 else "trailer axle",
            "mass",
            value,
            f"A / {axles.count}",
            terms,
            "equal-arm equalizer shares load evenly" if axles.count > 1 else figures.SUM,
            needs,
        )
        for i in range(axles.count)
    }
    for name, sign in (("left_wheels", -1.0), ("right_wheels", 1.0)):
        both = None
        if group.value is not None and side.value is not None:
            both = (group.value + sign * side.value) / 2.0
        out[name] = figures.derived(
            name,
            name.replace("_", " ") + " of the trailer",
            "mass",
            both,
            f"(A {'+' if sign > 0 else '-'} D) / 2",
            [Term(f.id, f.label, f.value, f.kind, f.id) for f in (group, side) if f.value is not None],
            figures.STATICS,
            (*group.needs, *side.needs),
        )
    return out


def _extremes(cases: Sequence[CaseResult]) -> dict[str, Figure]:
    """Largest and smallest tongue weight and the heaviest trailer over the declared cases."""
    out: dict[str, Figure] = {}
    for name, base, words, pick in (
        ("tongue_weight_max", "tongue_weight", "largest tongue weight of the loading cases", max),
        ("tongue_weight_min", "tongue_weight", "smallest tongue weight of the loading cases", min),
        ("trailer_weight_max", "trailer_weight", "heaviest trailer of the loading cases", max),
    ):
        seen = [c.figures[base] for c in cases]
        known = [f.value for f in seen if f.value is not None]
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
