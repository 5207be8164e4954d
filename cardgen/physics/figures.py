"""Turn linear totals into figures with provenance: base, then what every load adds.

Source: see each figure; this file only puts value, formula and terms together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cardgen.model.results import Figure, Need, Term
from cardgen.physics.linear import Linear, evaluate
from cardgen.physics.loads import Aboard, Load

STATICS = "equilibrium of a beam on two supports (any statics textbook)"
SUM = "sum of masses"


@dataclass(frozen=True, slots=True)
class Label:
    """Words, formula and source of one total."""

    words: str
    formula: str
    source: str
    base: str


LABELS: dict[str, Label] = {
    "trailer_weight": Label("loaded trailer", "W = W0 + sum(dm)", SUM, "stated empty weight"),
    "tongue_weight": Label(
        "{coupling_load}",
        "T = T0 + sum(dm * (1 - x/L))",
        STATICS,
        "{coupling_load} of the stated empty trailer",
    ),
    "trailer_axle_load": Label(
        "trailer axles together", "A = W - T", STATICS, "axle load of the stated empty trailer"
    ),
    "side_difference": Label(
        "right wheels less left wheels",
        "D = D0 + sum(dm * 2y/t)",
        STATICS,
        "difference of the stated empty trailer",
    ),
    "vehicle_alone": Label(
        "tow vehicle without trailer",
        "V = V0 + sum(dm)",
        SUM,
        "stated weight with gear, driver aside",
    ),
    "front_alone": Label(
        "front axle without trailer",
        "F = F0 + sum(dm * a/wb)",
        STATICS,
        "curb front axle with gear",
    ),
    "rear_alone": Label("rear axle without trailer", "R = V - F", STATICS, "curb rear axle with gear"),
    "vehicle_weight": Label(
        "tow vehicle with {coupling_load}", "V + T", SUM, "{curb} and empty {tongue_load}"
    ),
    "vehicle_front_axle": Label(
        "front axle, hitched",
        "F - T * e/wb",
        STATICS,
        "front axle at {curb} with the empty {tongue_load}",
    ),
    "vehicle_rear_axle": Label(
        "rear axle, hitched",
        "R + T * (1 + e/wb)",
        STATICS,
        "rear axle at {curb} with the empty {tongue_load}",
    ),
    "combination_weight": Label("combination", "V + W", SUM, "{curb} and empty trailer"),
    "placard_used": Label(
        "occupants, cargo, gear and {tongue_load}",
        "people + cargo + gear + T",
        SUM,
        "gear and the empty {tongue_load}",
    ),
}


def figure(name: str, total: Linear, loads: Sequence[Load], now: Aboard, state: Aboard) -> Figure:
    """Make the figure of one total in one state.

    Args:
        name: id of the total, a key of ``LABELS`` [-].
        total: its linear form [kg].
        loads: the loads in the order of the coefficients.
        now: shares aboard now [-].
        state: shares aboard when the base held [-].

    Source: the label of the total names it.
    """
    label = LABELS[name]
    value = evaluate(total, loads, now, state)
    terms: list[Term] = []
    if value.value is not None and total.base is not None:
        terms.append(Term("base", label.base, total.base, "mass"))
        for load, coefficient in zip(loads, total.coefficients, strict=True):
            was, share = state.shares.get(load.key), now.shares.get(load.key)
            if coefficient is None or load.full is None or was is None or share is None:
                continue
            added = coefficient * load.full * (share - was)
            if added:
                terms.append(Term(load.key, load.label, added, "mass", load.path))
    return Figure(
        name,
        label.words,
        "mass",
        value.value,
        label.formula,
        tuple(terms),
        label.source,
        needs=value.needs,
    )


def ratio(name: str, words: str, top: Figure, bottom: Figure, formula: str, source: str) -> Figure:
    """Divide one figure by another; the result is a fraction [-].

    Source: the caller's, kept in the figure.
    """
    needs = tuple({n.path: n for n in (*top.needs, *bottom.needs)}.values())
    value = top.value / bottom.value if top.value is not None and bottom.value else None
    terms = tuple(Term(f.id, f.label, f.value, f.kind, f.id) for f in (top, bottom) if f.value is not None)
    return Figure(name, words, "fraction", value, formula, terms, source, needs=needs)


def derived(
    name: str,
    words: str,
    kind: str,
    value: float | None,
    formula: str,
    terms: Sequence[Term],
    source: str,
    needs: Sequence[Need] = (),
) -> Figure:
    """Make a figure from an already computed value [SI unit of the kind].

    Source: the caller's, kept in the figure.
    """
    unique = tuple({n.path: n for n in needs}.values())
    return Figure(
        name,
        words,
        kind,
        value,
        formula,
        tuple(terms),
        source,
        needs=unique if value is None else (),
    )


def ranged(made: Figure, low: float, high: float) -> Figure:
    """Give a figure the ends between which it lies; its value stays.

    Args:
        made: the figure.
        low, high: ends [SI unit of its kind].

    Source: the figure's own.
    """
    return replace(made, low=low, high=high)


def aboard_mass(
    name: str,
    words: str,
    sorts: Sequence[str],
    loads: Sequence[Load],
    now: Aboard,
    body: str = "trailer",
) -> Figure:
    """Add up what is aboard of some sorts of load [kg].

    Args:
        name, words: id and label [-].
        sorts: sorts of load, see ``cardgen.physics.loads.Sort`` [-].
        loads: all loads.
        now: shares aboard [-].
        body: ``trailer`` or ``vehicle`` [-].

    Source: sum of masses.
    """
    value = 0.0
    terms: list[Term] = []
    needs: list[Need] = []
    for load in loads:
        if load.sort not in sorts or load.body != body:
            continue
        share = now.shares.get(load.key)
        if share == 0.0:
            continue
        if share is None:
            needs += now.needs.get(load.key, ())
        elif load.full is None:
            needs += load.mass_needs
        else:
            value += share * load.full
            terms.append(Term(load.key, load.label, share * load.full, "mass", load.path))
    result = None if needs else value
    return derived(name, words, "mass", result, "sum(share * full)", terms, SUM, needs)
