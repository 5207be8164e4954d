"""The totals that all others follow from, with their derivatives by every input.

Source: ``balance``, differentiated by hand; the tests compare with central differences
and with the ``uncertainties`` package.
"""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.physics.footing import Footing
from cardgen.physics.loads import Aboard, Load
from cardgen.physics.sensed import Sensed, known

Found = dict[str, Sensed]


def change(footing: Footing, load: Load, now: Aboard) -> Sensed | None:
    """Mass of a load aboard now less what was aboard in the model's state [kg].

    None when unknown; zero without sensitivities when nothing changed.

    Source: ``m = share * full``; a filling given as a volume does not depend on the tank.
    """
    was, share = footing.state.shares.get(load.key), now.shares.get(load.key)
    if was is None or share is None or load.full is None:
        return known(0.0) if was is not None and was == share else None
    if was == share:
        return known(0.0)
    return load_mass(footing, load, share, now) - load_mass(footing, load, was, footing.state)


def load_mass(footing: Footing, load: Load, share: float, aboard: Aboard) -> Sensed:
    """Mass of what is aboard of a load [kg].

    Args:
        footing: the model, as keeper of the inputs.
        load: the load, whose full mass is known [kg].
        share: how much of it is aboard [-].
        aboard: where the share comes from.

    Source: ``m = share * full``; ``m = rho V`` for a filling given as a volume.
    """
    full = load.full or 0.0
    stated, fill = load.mass_from, aboard.fills.get(load.key)
    if fill is not None and fill.quantity.kind == "volume" and stated is not None and stated.quantity.si:
        return footing.inputs.take(fill) * (full / stated.quantity.si)
    whole = known(full)
    if stated is not None and stated.quantity.si:
        whole = footing.inputs.take(stated) * (full / stated.quantity.si)
    if fill is None:
        return whole * share
    return footing.inputs.take(fill) * whole


def _add(into: dict[str, float], more: Mapping[str, float], factor: float) -> None:
    for key, value in more.items():
        into[key] = into.get(key, 0.0) + factor * value


class _Total:
    """A total that grows load by load."""

    def __init__(self, base: Sensed | None) -> None:
        self.base = base
        self.value = base.value if base else 0.0
        self.grad: dict[str, float] = dict(base.grad) if base else {}

    def add(self, number: Sensed) -> None:
        self.value += number.value
        _add(self.grad, number.grad, 1.0)

    def lever(self, mass: Sensed, arm: Sensed, factor: float, start: float = 0.0) -> None:
        """Add ``mass * (start + factor * arm)``."""
        self.value += mass.value * (start + factor * arm.value)
        _add(self.grad, mass.grad, start + factor * arm.value)
        _add(self.grad, arm.grad, factor * mass.value)

    def slope(self, path: Sensed, slope: float) -> None:
        _add(self.grad, path.grad, slope)

    def done(self) -> Sensed:
        return Sensed(self.value, self.grad)


def primitives(footing: Footing, now: Aboard) -> Found:
    """Weight, tongue, side difference, vehicle and its front axle [kg] with their sensitivities.

    One pass over the loads; the lengths enter through moment sums at the end.

    Args:
        footing: the model (masses [kg], arms [m]).
        now: what is aboard (shares [-]).

    Source: the forms of ``balance``, differentiated.
    """
    at = footing.sensed
    weight, tongue, side = (_Total(at[k]) for k in ("trailer", "tongue", "right_minus_left"))
    vehicle, front = _Total(at["vehicle"]), _Total(at["front"])
    length, track, wheelbase = at["L"], at["track"], at["wb"]
    ahead = behind = across = 0.0
    for load in footing.loads:
        mass = change(footing, load, now)
        if mass is None or (mass.value == 0.0 and not mass.grad):
            continue
        arm = None if load.arm_from is None else footing.inputs.take(load.arm_from)
        off = None if load.side_from is None else footing.inputs.take(load.side_from)
        if load.body == "trailer":
            weight.add(mass)
            if arm is not None and length is not None:
                tongue.lever(mass, arm, -1.0 / length.value, 1.0)
                behind += mass.value * arm.value
            if off is not None and track is not None and track.value:
                side.lever(mass, off, 2.0 / track.value)
                across += 2.0 * mass.value * off.value
        else:
            vehicle.add(mass)
            if arm is not None and wheelbase is not None:
                front.lever(mass, arm, 1.0 / wheelbase.value)
                ahead += mass.value * arm.value
    if length is not None:
        tongue.slope(length, behind / length.value**2)
    if track is not None and track.value:
        side.slope(track, -across / track.value**2)
    out = {"trailer_weight": weight, "tongue_weight": tongue, "side_difference": side}
    if wheelbase is not None:
        front.slope(wheelbase, -ahead / wheelbase.value**2)
    done = {name: total.done() for name, total in out.items()}
    return done | _vehicle(footing, vehicle.done(), front.done())


def _vehicle(footing: Footing, vehicle: Sensed, front: Sensed) -> Found:
    """Put gear on and take the counted driver off, unless the vehicle was weighed ready."""
    at = footing.sensed
    gear, driver, seat = at["gear"], at["driver"], at["driver_arm"]
    wheelbase, overhang = at["wb"], at["e"]
    if not footing.base.vehicle_ready:
        if gear is not None:
            vehicle = vehicle + gear
            if wheelbase is not None and overhang is not None:
                front = front - gear * overhang / wheelbase
        if driver is not None:
            vehicle = vehicle - driver
            if driver.value and wheelbase is not None and seat is not None:
                front = front - driver * seat / wheelbase
    return {"vehicle_alone": vehicle, "front_alone": front}
