"""Standard uncertainty of every figure of a loading case, and what it is made of.

Every input (stated weight, cargo item, place, length, filling) carries a standard
uncertainty; every figure carries its exact derivatives by them; first-order
propagation joins the two:

    u(y)^2 = sum over inputs of (dy/dx)^2 u(x)^2

Source: JCGM 100:2008 eq. (10), 5.1.2, inputs taken as uncorrelated; checked in the
tests against the ``uncertainties`` package and a Monte Carlo run.
"""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.model.ranges import Contribution
from cardgen.model.results import Figure
from cardgen.physics import axles
from cardgen.physics.attitude import attitude
from cardgen.physics.distribution import STANDARD_GRAVITY
from cardgen.physics.envelope import ABOARD
from cardgen.physics.footing import Footing
from cardgen.physics.inputs import Input, Origin
from cardgen.physics.loads import Aboard
from cardgen.physics.primitives import Found, load_mass, primitives
from cardgen.physics.sensed import Sensed, known


def with_u(footing: Footing, now: Aboard, made: Mapping[str, Figure]) -> dict[str, Figure]:
    """Give every figure of a case its standard uncertainty.

    Args:
        footing: the model (masses [kg], arms [m]).
        now: what is aboard in the case (shares [-]).
        made: figures of the case [SI].

    Returns:
        The same figures with ``u`` [SI unit of the figure]; unchanged where the
        value is unknown.

    Source: see the module.
    """
    found = sense(footing, now, made)
    out = dict(made)
    for name, number in found.items():
        if name in out and out[name].value is not None:
            out[name] = _sure(out[name], footing.inputs.u(number))
    return out


def _sure(old: Figure, u: float) -> Figure:
    """Copy a figure with its uncertainty; several times quicker than ``replace``."""
    return Figure(
        old.id, old.label, old.kind, old.value, old.formula, old.terms, old.source, u, old.needs, old.low, old.high
    )  # fmt: skip


def budget(
    footing: Footing, now: Aboard, made: Mapping[str, Figure], figure: str
) -> tuple[Contribution, ...]:
    """List what each input adds to the uncertainty of a figure, largest first [SI].

    Args:
        footing: the model (masses [kg], arms [m]).
        now: what is aboard in the case (shares [-]).
        made: figures of the case [SI].
        figure: id of the figure [-].

    Source: see the module.
    """
    found = sense(footing, now, made).get(figure)
    return () if found is None else footing.inputs.budget(found)


def sense(footing: Footing, now: Aboard, made: Mapping[str, Figure]) -> Found:
    """Work out figures of a case as sensed numbers [SI], by id; only those that are known.

    Args:
        footing: the model (masses [kg], arms [m]).
        now: what is aboard in the case (shares [-]).
        made: figures of the case, to tell which are known [SI].

    Source: see the module; the same statics as ``balance``, ``axles``, ``distribution``.
    """
    found = primitives(footing, now)
    found = {k: v for k, v in found.items() if k in made and made[k].value is not None}
    _attitude(footing, found)
    _combine(footing, now, made, found)
    _axles(footing, found, "trailer_axle_load", "")
    _engaged(footing, made, found)
    return found


def _attitude(footing: Footing, found: Found) -> None:
    """Let an unlevel ride of independent axles widen the tongue's uncertainty."""
    axle = footing.rig.trailer.axles
    tongue = found.get("tongue_weight")
    if tongue is None or axle.suspension != "independent" or axle.count < 2:
        return
    shared, rides = axles.split(footing.rig), attitude(footing.rig)
    widest = max(abs(shared.tongue[0]), abs(shared.tongue[1]))
    error = max(abs(rides.low), abs(rides.high))
    if not widest or not error:
        return
    half = Input("attitude", "length", 0.0, error / 3.0**0.5, rides.words, "height of the coupling off level")
    footing.inputs.add(half)
    found["tongue_weight"] = tongue + Sensed(0.0, {"attitude": widest / error})


def _aboard(footing: Footing, now: Aboard, sorts: tuple[str, ...], body: str) -> Sensed:
    total = known(0.0)
    for load in footing.loads:
        share = now.shares.get(load.key)
        if load.sort in sorts and load.body == body and share and load.full is not None:
            total = total + load_mass(footing, load, share, now)
    return total


def _combine(footing: Footing, now: Aboard, made: Mapping[str, Figure], found: Found) -> None:
    """Add the totals that follow from others."""
    at = footing.sensed
    weight, tongue = found.get("trailer_weight"), found.get("tongue_weight")
    alone, front = found.get("vehicle_alone"), found.get("front_alone")
    wheelbase, overhang = at["wb"], at["e"]
    for name, (sorts, body) in ABOARD.items():
        if name in made and made[name].value is not None:
            found[name] = _aboard(footing, now, sorts, body)
    if weight is not None and tongue is not None:
        found["trailer_axle_load"] = group = weight - tongue
        if weight.value:
            found["tongue_share"] = tongue / weight
        side = found.get("side_difference")
        if side is not None:
            found["left_wheels"] = (group - side) * 0.5
            found["right_wheels"] = (group + side) * 0.5
    if alone is not None and front is not None:
        found["rear_alone"] = alone - front
    if alone is not None and weight is not None:
        found["combination_weight"] = alone + weight
    if tongue is None:
        return
    if alone is not None:
        found["vehicle_weight"] = alone + tongue
    if front is not None and wheelbase is not None and overhang is not None:
        found["vehicle_front_axle"] = on_front = front - tongue * overhang / wheelbase
        if alone is not None:
            found["vehicle_rear_axle"] = alone + tongue - on_front
    gear = at["gear"]
    if gear is not None:
        found["placard_used"] = gear + tongue + _aboard(footing, now, ("person", "cargo"), "vehicle")


def _axles(footing: Footing, found: Found, group: str, suffix: str) -> None:
    """Share the group's load; a range covers what is not known about the ride."""
    whole, count = found.get(group), footing.rig.trailer.axles.count
    if whole is None:
        return
    for i, (_, high) in enumerate(axles.split(footing.rig).offsets):
        found[f"axle_{i + 1}{suffix}"] = whole / float(count) + high


def _engaged(footing: Footing, made: Mapping[str, Figure], found: Found) -> None:
    """Move load by the bars, as ``engaged`` does."""
    fitted, at = footing.rig.gear.weight_distribution, footing.sensed
    tongue, wheelbase, overhang, length = found.get("tongue_weight"), at["wb"], at["e"], at["L"]
    if fitted is None or "restoration" not in made or made["distribution_moment"].value is None:
        return
    if tongue is None or wheelbase is None or overhang is None or length is None:
        return
    lever = overhang * length / (length + overhang)
    share = _restoration(footing)
    if fitted.moment is not None:
        path = "gear.weight_distribution.moment"
        moment = footing.inputs.take(Origin(path, fitted.moment, "moment")) / STANDARD_GRAVITY
        share = share if share is not None else moment / (tongue * lever) if tongue.value > 0 else None
    elif share is not None:
        moment = share * tongue * lever
    else:
        return
    if share is not None and made["restoration"].value is not None:
        found["restoration"] = share
    found["distribution_moment"] = moment * STANDARD_GRAVITY
    front = moment * (length + overhang) / (wheelbase * length)
    trailer = moment / length
    for name, slack, moved in (
        ("front_axle_engaged", "vehicle_front_axle", front),
        ("rear_axle_engaged", "vehicle_rear_axle", -front - trailer),
        ("trailer_axles_engaged", "trailer_axle_load", trailer),
    ):
        if slack in found:
            found[name] = found[slack] + moved
    _axles(footing, found, "trailer_axles_engaged", "_engaged")


def _restoration(footing: Footing) -> Sensed | None:
    """Restoration as stated, or from three wheel-arch heights ``(H2 - H1)/(H2 - H3)`` [-]."""
    fitted = footing.rig.gear.weight_distribution
    path = "gear.weight_distribution"
    if fitted is None:
        return None
    if fitted.restoration is not None:
        return footing.inputs.take(Origin(f"{path}.restoration", fitted.restoration, "restoration"))
    arches = fitted.arches
    if arches.alone is None or arches.slack is None or arches.engaged is None:
        return None
    alone, slack, engaged = (
        footing.inputs.take(Origin(f"{path}.arches.{name}", quantity, "height"))
        for name, quantity in (("alone", arches.alone), ("slack", arches.slack), ("engaged", arches.engaged))
    )
    return (slack - engaged) / (slack - alone) if slack.value > alone.value else None
