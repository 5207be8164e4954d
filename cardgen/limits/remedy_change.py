"""Changes to a rig that a proposal can make: items moved or left, tanks, weights shifted, gear.

No change touches the mass or place of a load that stays: an item that is moved is left
out and put in again elsewhere, so weights that were stated or weighed with it aboard
keep their meaning.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from cardgen.model.gear import Mount
from cardgen.model.parts import TrailerLoad, VehicleLoad
from cardgen.model.rig import Case, Rig
from cardgen.units import Quantity

Change = Callable[[Rig], Rig]
AWAY = "(left at home)"
ADVICE = "(advice)"


def exact(value: float, kind: str) -> Quantity:
    """Make a quantity [SI unit of the kind] that is as sure as the advice that names it."""
    return Quantity(value, kind, 0.0)


def _cargo(rig: Rig, items: Iterable[TrailerLoad]) -> Rig:
    return replace(rig, trailer=replace(rig.trailer, cargo=tuple(items)))


def _carried(rig: Rig, items: Iterable[VehicleLoad]) -> Rig:
    return replace(rig, vehicle=replace(rig.vehicle, cargo=tuple(items)))


def _cases(rig: Rig, names: Sequence[str], change: Callable[[Case], Case]) -> Rig:
    return replace(rig, cases=tuple(change(c) if c.name in names else c for c in rig.cases))


def move(index: int, place: Quantity) -> Change:
    """Move a cargo item of the trailer to another distance behind the coupling [m]."""

    def change(rig: Rig) -> Rig:
        item = rig.trailer.cargo[index]
        items = [*rig.trailer.cargo]
        items[index] = replace(item, set=AWAY)
        return _cargo(rig, [*items, replace(item, name=f"{item.name} {ADVICE}", x=place)])

    return change


def leave(index: int, body: str) -> Change:
    """Leave a cargo item of trailer or vehicle at home."""

    def change(rig: Rig) -> Rig:
        if body == "trailer":
            return _cargo(
                rig, [replace(c, set=AWAY) if i == index else c for i, c in enumerate(rig.trailer.cargo)]
            )
        return _carried(
            rig, [replace(c, set=AWAY) if i == index else c for i, c in enumerate(rig.vehicle.cargo)]
        )

    return change


def leave_set(name: str, cases: Sequence[str]) -> Change:
    """Leave out a cargo set in some loading cases."""

    def change(rig: Rig) -> Rig:
        return _cases(rig, cases, lambda c: replace(c, cargo=tuple(n for n in c.cargo if n != name)))

    return change


def tank(name: str, share: float, cases: Sequence[str]) -> Change:
    """Fill a tank to a share [-] in some loading cases."""

    def change(rig: Rig) -> Rig:
        level = exact(share, "fraction")
        return _cases(rig, cases, lambda c: replace(c, tanks={**c.tanks, name: level}))

    return change


def trailer_weights(added: Sequence[tuple[float, float, float]], cases: Sequence[str]) -> Change:
    """Put weights into the trailer in some cases: (mass [kg], behind the coupling [m], right of middle [m]).

    A negative mass takes cargo out.
    """

    def change(rig: Rig) -> Rig:
        items = [
            TrailerLoad(
                name=f"{ADVICE} {i}",
                weight=exact(mass, "mass"),
                x=exact(x, "length"),
                y=exact(y, "length"),
                set=ADVICE,
            )
            for i, (mass, x, y) in enumerate(added)
        ]
        rig = _cargo(rig, [*rig.trailer.cargo, *items])
        return _cases(rig, cases, lambda c: replace(c, cargo=(*c.cargo, ADVICE)))

    return change


def vehicle_weight(mass: float, place: float, cases: Sequence[str]) -> Change:
    """Put a weight [kg] into the vehicle in some cases, ahead of the rear axle [m]; negative takes out."""

    def change(rig: Rig) -> Rig:
        item = VehicleLoad(
            name=ADVICE, weight=exact(mass, "mass"), ahead_of_rear_axle=exact(place, "length"), set=ADVICE
        )
        rig = _carried(rig, [*rig.vehicle.cargo, item])
        return _cases(rig, cases, lambda c: replace(c, cargo=(*c.cargo, ADVICE)))

    return change


def mount(fitted: Mount) -> Change:
    """Use another ball mount from the shelf."""
    return lambda rig: replace(rig, gear=replace(rig.gear, mount=fitted))


def speed(value: float) -> Change:
    """Plan another top speed [m/s]."""

    def change(rig: Rig) -> Rig:
        planned = exact(value, "speed")
        return replace(rig, preferences=replace(rig.preferences, planned_speed=planned))

    return change


def restoration(share: float) -> Change:
    """Set the bars to another front-axle load restoration [-]."""

    def change(rig: Rig) -> Rig:
        fitted = rig.gear.weight_distribution
        if fitted is None:
            return rig
        old = fitted.restoration
        target = Quantity(share, "fraction", None if old is None else old.half_width)
        bars = replace(fitted, restoration=target, moment=None)
        return replace(rig, gear=replace(rig.gear, weight_distribution=bars))

    return change
