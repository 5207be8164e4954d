"""What the linear model stands on: loads, lengths, stated weights and the state they hold for.

The stated weights come from the rig file, or from a weighing that the owner lets
set them (``anchored``). Every base is kept as a sensed number too, so that a
weighing's readings, and not the brochure's, carry the uncertainty.

Source: superposition of loads on a body on two supports, any statics textbook.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from cardgen.model.rig import Rig
from cardgen.physics.balance import Bases, Geometry, bases, geometry, totals
from cardgen.physics.inputs import Inputs, Origin, Sort
from cardgen.physics.linear import Linear
from cardgen.physics.loads import Aboard, Load, all_loads, empty_aboard
from cardgen.physics.sensed import Sensed, known
from cardgen.units import Quantity

Sensing = Mapping[str, Sensed | None]


@dataclass(frozen=True, slots=True)
class Footing:
    """A rig's model, ready to be evaluated for any filling.

    Args:
        rig: the rig.
        loads: every load (masses [kg], arms [m]).
        place: lengths [m].
        base: stated weights [kg].
        state: shares aboard when the bases held [-].
        inputs: the uncertain inputs used so far.
        sensed: lengths [m] and bases [kg] with their sensitivities, by name.
        forms: linear form of every total [kg].

    Source: see the module.
    """

    rig: Rig
    loads: tuple[Load, ...]
    place: Geometry
    base: Bases
    state: Aboard
    inputs: Inputs
    sensed: Sensing
    forms: Mapping[str, Linear]


def stated(rig: Rig) -> Footing:
    """Build the model from what the rig file states (masses [kg], lengths [m]).

    Source: see the module.
    """
    inputs = Inputs(rig.trailer.empty.source, rig.vehicle.curb.source)
    loads, place, base = all_loads(rig), geometry(rig), bases(rig)
    sensed = {**_lengths(rig, inputs), **_bases(rig, base, inputs)}
    forms = totals(loads, place, base)
    return Footing(rig, loads, place, base, empty_aboard(rig), inputs, sensed, forms)


def rebased(old: Footing, base: Bases, state: Aboard, sensed: Sensing) -> Footing:
    """Put the model on other bases [kg] that hold for another state (shares [-]).

    Source: see the module.
    """
    forms = totals(old.loads, old.place, base)
    return replace(old, base=base, state=state, sensed={**old.sensed, **sensed}, forms=forms)


def moved_onto(old: Footing, rig: Rig) -> Footing:
    """Keep the bases and their state for a rig in which loads were put in or left out.

    Loads that are new were not aboard when the bases held. Masses [kg] and places [m] of
    the loads that stay must not have changed.

    Args:
        old: the model before the change.
        rig: the changed rig.

    Source: see the module.
    """
    loads = all_loads(rig)
    shares = {load.key: old.state.shares.get(load.key, 0.0) for load in loads}
    state = Aboard(shares, old.state.needs, old.state.fills)
    forms = totals(loads, old.place, old.base)
    return replace(old, rig=rig, loads=loads, state=state, forms=forms, inputs=old.inputs.copy())


def _take(inputs: Inputs, path: str, quantity: Quantity | None, sort: Sort, label: str = "") -> Sensed | None:
    return None if quantity is None else inputs.take(Origin(path, quantity, sort, label))


def _lengths(rig: Rig, inputs: Inputs) -> dict[str, Sensed | None]:
    axles, vehicle = rig.trailer.axles, rig.vehicle
    return {
        "L": _take(inputs, "trailer.axles.ball_to_center", axles.ball_to_center, "length"),
        "track": _take(inputs, "trailer.axles.track", axles.track, "length"),
        "wb": _take(inputs, "vehicle.wheelbase", vehicle.wheelbase, "length"),
        "e": _take(inputs, "vehicle.overhang", vehicle.overhang, "length"),
    }


def _bases(rig: Rig, base: Bases, inputs: Inputs) -> dict[str, Sensed | None]:
    """Give every base its inputs; the vehicle's split is completed as in ``balance.bases``."""
    empty, curb = rig.trailer.empty, rig.vehicle.curb
    side = _take(inputs, "trailer.empty.left_minus_right", empty.left_minus_right, "side")
    weight = _take(inputs, "vehicle.curb.weight", curb.weight, "vehicle", "{curb}")
    front = _take(inputs, "vehicle.curb.front", curb.front, "vehicle", "{curb}, front axle")
    rear = _take(inputs, "vehicle.curb.rear", curb.rear, "vehicle", "{curb}, rear axle")
    if weight is None and front is not None and rear is not None:
        weight = front + rear
    if front is None and weight is not None and rear is not None:
        front = weight - rear
    seat = next(iter(rig.vehicle.seats.items()), None)
    driver_arm = None if seat is None else _take(inputs, f"vehicle.seats.{seat[0]}", seat[1], "place")
    gear = _take(inputs, "gear.weight", rig.gear.weight, "item", "coupling gear, weight")
    driver = _take(inputs, "vehicle.curb.includes.driver", curb.includes.driver, "person")
    if driver is not None and driver.value == 0.0:
        driver = known(0.0)
    return {
        "trailer": _take(inputs, "trailer.empty.weight", empty.weight, "trailer"),
        "tongue": _take(inputs, "trailer.empty.tongue", empty.tongue, "tongue"),
        "right_minus_left": None if side is None else -side,
        "vehicle": weight,
        "front": front,
        "driver": driver,
        "driver_arm": driver_arm,
        "gear": known(0.0) if gear is None and base.gear == 0.0 else gear,
    }
