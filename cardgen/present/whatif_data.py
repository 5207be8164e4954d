"""Numbers of the what-if part: linear forms, limits and tire steps as plain JSON values.

The page's script adds up ``base + sum(c * full * (share - state share))`` and compares; every
coefficient, base, limit and pressure step comes from here. There is no second model.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from cardgen.limits.tires import settled
from cardgen.model.results import Figure, Need, Thresholds
from cardgen.model.rig import Rig
from cardgen.physics import balance, distribution, wheels
from cardgen.physics.engaged import stated_restoration
from cardgen.physics.footing import Footing
from cardgen.physics.linear import Linear, combine, constant, per_load
from cardgen.physics.loads import Aboard, Load
from cardgen.physics.pressure import Job, steps
from cardgen.physics.strip import REFERENCE
from cardgen.physics.weighing import weigh
from cardgen.present.desk import LEVELS, Desk

LABEL_SORTS = ("cargo", "fresh", "waste", "liquid")


@dataclass(frozen=True, slots=True)
class Form:
    """A total of the what-if part.

    Args:
        words: what it is [-].
        linear: its linear form [kg].
        absolute: whether shares count from zero instead of from the stated empty state [-].
    """

    words: str
    linear: Linear
    absolute: bool = False


def forms(footing: Footing, figures: Mapping[str, Figure]) -> dict[str, Form]:
    """Make every linear total of a rig, bars engaged included when they are fitted.

    Args:
        footing: the rig's model (masses [kg], arms [m]).
        figures: figures of one case, for their words [-].
    """
    rig, loads, totals = footing.rig, footing.loads, footing.forms
    made = dict(totals)
    group, side, count = totals["trailer_axle_load"], totals["side_difference"], rig.trailer.axles.count
    equal = count == 1 or rig.trailer.axles.suspension == "equalized"
    if equal:
        made |= {f"axle_{i + 1}": combine([(1.0 / count, group)]) for i in range(count)}
    made["left_wheels"] = combine([(0.5, group), (-0.5, side)])
    made["right_wheels"] = combine([(0.5, group), (0.5, side)])
    if rig.gear.weight_distribution is not None:
        made |= _engaged(rig, totals, equal)
    out = {
        name: Form(figures[name].label if name in figures else name.replace("_", " "), form)
        for name, form in made.items()
    }
    label = per_load({x.key: 1.0 for x in loads if x.body == "trailer" and x.sort in LABEL_SORTS}, loads)
    out["label_cargo"] = Form("cargo and liquids aboard the trailer", label, absolute=True)
    return out


def _engaged(rig: Rig, totals: Mapping[str, Linear], equal: bool) -> dict[str, Linear]:
    """Axle loads with the bars engaged, linear in the tongue weight or shifted by a fixed moment."""
    place, fitted = balance.geometry(rig), rig.gear.weight_distribution
    wheelbase, overhang, length = place.wheelbase, place.overhang, place.ball_to_axles
    size = len(totals["tongue_weight"].coefficients)
    if fitted is None or not wheelbase or not overhang or not length or overhang <= 0:
        return {}
    share = stated_restoration(rig)
    if fitted.moment is not None:
        moved = distribution.shift(
            fitted.moment.si / distribution.STANDARD_GRAVITY, wheelbase, overhang, length
        )
        added = [constant(v, size) for v in (moved.front, moved.rear, moved.trailer)]
    elif share is not None:
        moment = distribution.moment_for_restoration(share, 1.0, overhang, length)
        moved = distribution.shift(moment, wheelbase, overhang, length)
        added = [combine([(v, totals["tongue_weight"])]) for v in (moved.front, moved.rear, moved.trailer)]
    else:
        return {}
    bases = ("vehicle_front_axle", "vehicle_rear_axle", "trailer_axle_load")
    names = ("front_axle_engaged", "rear_axle_engaged", "trailer_axles_engaged")
    made = {
        name: combine([(1.0, totals[base]), (1.0, extra)])
        for name, base, extra in zip(names, bases, added, strict=True)
    }
    count = rig.trailer.axles.count
    if equal:
        group = made["trailer_axles_engaged"]
        made |= {f"axle_{i + 1}_engaged": combine([(1.0 / count, group)]) for i in range(count)}
    return made


def form_data(form: Form, desk: Desk, loads: Sequence[Load], state: Aboard) -> dict[str, Any]:
    """Write one total for the page: base, the loads that matter, what is missing."""
    rows: list[list[Any]] = []
    for index, (load, coefficient) in enumerate(zip(loads, form.linear.coefficients, strict=True)):
        if coefficient == 0.0:
            continue
        was = 0.0 if form.absolute else state.shares.get(load.key)
        missing: list[Need] = []
        if was is None:
            missing += state.needs.get(load.key, ())
        if load.full is None:
            missing += load.mass_needs
        elif coefficient is None:
            missing += [*load.arm_needs, *form.linear.geometry_needs]
        rows.append([index, coefficient, was, _words(desk, missing)])
    return {
        "words": desk.say(form.words),
        "base": form.linear.base,
        "rows": rows,
        "needs": _words(desk, form.linear.base_needs),
    }


def _words(desk: Desk, needs: Sequence[Need]) -> list[str]:
    return list(dict.fromkeys(desk.say(desk.shower.need(n)) for n in needs))


def check_data(desk: Desk, known: Container[str]) -> Iterator[dict[str, Any]]:
    """Write the checks whose demand the page can work out: words, totals and what they are held against."""
    for finding in desk.findings:
        names = [n for n in finding.figures if n in known]
        limits = finding.thresholds
        if finding.code.startswith("tire-load-") or not names or limits == Thresholds():
            continue
        yield {
            "code": finding.code,
            "words": desk.say(finding.title),
            "of": names,
            "limit": finding.capacity,
            "low": finding.low,
            "kind": finding.kind,
            "thresholds": asdict(limits),
            "u": finding.u,
        }


def tire_data(desk: Desk, place: str, known: Container[str]) -> dict[str, Any]:
    """Write how the heavier wheel's load follows from the totals, what it is held against, and the
    pressures: [wheel load up to which one holds [kg], status, pressure [Pa gauge], level]."""
    computed = desk.assessment.computed
    asked = wheels.job(computed, place)
    load = next(f for f in desk.findings if f.code == f"tire-load-{place}")
    if asked is None:
        return {"of": []}
    scale = wheels.weighed_wheels(desk.rig) if place == "trailer" else None
    strip = computed.strips.get(place)
    return {
        "of": [n for n in load.figures if n in known],
        "wheels": asked.tires_on_axle,
        "sides": ["left_wheels", "right_wheels"] if place == "trailer" and "left_wheels" in known else [],
        "share": scale.share if scale is not None and scale.share is not None else 1.0,
        "weighed": asked.weighed or 0.0,
        "every": asked.every_wheel,
        "allowance": asked.side_allowance,
        "steps": tire_steps(asked),
        "thresholds": asdict(load.thresholds),
        "u": None if load.u is None else load.u * asked.tires_on_axle,
        "reference": REFERENCE if strip is None else strip.reference,
    }


def tire_steps(asked: Job) -> list[list[Any]]:
    """List the pressures of a tire, neighbours that say the same put together."""
    rows: list[list[Any]] = []
    for end, held in steps(asked):
        said = [held.status, held.pressure, LEVELS[settled(held)]]
        if rows and rows[-1][1:] == said:
            rows.pop()
        rows.append([end, *said])
    return rows


def footing_of(rig: Rig) -> Footing:
    """Return the model that the rig's figures are computed from, weighings that anchor it included."""
    return weigh(rig)[0]
