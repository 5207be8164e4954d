"""Linear forms of what follows from the totals: single axles, sides, axles with bars engaged.

Source: the same statics as ``balance``, ``axles`` and ``distribution``; with a stated
restoration the moved load is proportional to tongue weight, with a stated moment it
is constant, so both stay linear in every load.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from cardgen.model.rig import Rig
from cardgen.physics import axles, distribution
from cardgen.physics.balance import Geometry
from cardgen.physics.distribution import STANDARD_GRAVITY, Shift
from cardgen.physics.engaged import stated_restoration
from cardgen.physics.linear import Linear, combine

_ENGAGED = (
    ("front_axle_engaged", "vehicle_front_axle", "front"),
    ("rear_axle_engaged", "vehicle_rear_axle", "rear"),
    ("trailer_axles_engaged", "trailer_axle_load", "trailer"),
)


def derived_forms(rig: Rig, place: Geometry, totals: Mapping[str, Linear]) -> dict[str, Linear]:
    """Build the forms of single axles, sides and engaged axles [kg] from those of the totals.

    Args:
        rig: the rig.
        place: lengths [m].
        totals: forms by id [kg].

    Returns:
        Forms by id; an axle whose share is only known as a range gets its upper end.

    Source: see the module.
    """
    group, side = totals["trailer_axle_load"], totals["side_difference"]
    made = {
        "left_wheels": combine([(0.5, group), (-0.5, side)]),
        "right_wheels": combine([(0.5, group), (0.5, side)]),
    }
    made |= _axles(rig, group, "")
    if rig.gear.weight_distribution is not None:
        made |= _engaged(rig, place, totals)
        if "trailer_axles_engaged" in made:
            made |= _axles(rig, made["trailer_axles_engaged"], "_engaged")
    return made


def _plus(form: Linear, value: float) -> Linear:
    return form if form.base is None else replace(form, base=form.base + value)


def _axles(rig: Rig, group: Linear, suffix: str) -> dict[str, Linear]:
    shared, count = axles.split(rig), rig.trailer.axles.count
    even = combine([(1.0 / count, group)]) if count else group
    return {f"axle_{i + 1}{suffix}": _plus(even, high) for i, (_, high) in enumerate(shared.offsets)}


def _engaged(rig: Rig, place: Geometry, totals: Mapping[str, Linear]) -> dict[str, Linear]:
    wheelbase, overhang, length = place.wheelbase, place.overhang, place.ball_to_axles
    if not wheelbase or not length or overhang is None or overhang <= 0:
        return {}
    fitted, share = rig.gear.weight_distribution, stated_restoration(rig)
    moment = fitted.moment.si / STANDARD_GRAVITY if fitted and fitted.moment else None
    if moment is None and share is None:
        return {}
    per_tongue = moved = Shift(0.0, 0.0, 0.0)
    if moment is not None:
        moved = distribution.shift(moment, wheelbase, overhang, length)
    elif share is not None:
        lever = distribution.moment_for_restoration(share, 1.0, overhang, length)
        per_tongue = distribution.shift(lever, wheelbase, overhang, length)
    tongue = totals["tongue_weight"]
    out = {}
    for name, slack, part in _ENGAGED:
        factor, constant = getattr(per_tongue, part), getattr(moved, part)
        out[name] = _plus(combine([(1.0, totals[slack]), (factor, tongue)]), constant)
    return out
