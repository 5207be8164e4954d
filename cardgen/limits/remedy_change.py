"""Changes to a rig that a proposal can make: cargo moved, parted or left, tanks, gear, plan.

Cargo is changed as a person would write it into the file: the item as it was stays behind,
what is left of it and what is moved are items of their own. No change touches the mass or place
of a load that was there, so weights that were stated or weighed with it aboard keep their meaning.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from cardgen.model.gear import Mount
from cardgen.model.parts import TrailerLoad
from cardgen.model.rig import Case, Rig
from cardgen.units import Quantity

Change = Callable[[Rig], Rig]
AWAY = "(left at home)"
ADVICE = "(advice)"
NOTHING = 1e-9
"""Mass under which nothing is left of an item [kg]."""


@dataclass(frozen=True, slots=True)
class Take:
    """Cargo taken from its place.

    Args:
        body: ``trailer`` or ``vehicle`` [-].
        index: its number in the cargo list [-].
        part: how much of it [kg].
        place: where it goes, in its own body; None leaves it at home or, with ``bay``, moves it over.
        bay: place in the trailer for what rode in the vehicle, put on the middle line.
    """

    body: str
    index: int
    part: float
    place: Quantity | None = None
    bay: Quantity | None = None


def _cases(rig: Rig, names: Sequence[str], change: Callable[[Case], Case]) -> Rig:
    return replace(rig, cases=tuple(change(c) if c.name in names else c for c in rig.cases))


def cargo(takes: Sequence[Take], cases: Sequence[str]) -> Change:
    """Take cargo from its place in some loading cases; none named means all."""

    def change(rig: Rig) -> Rig:
        for number, take in enumerate(takes):
            rig = _taken(rig, take, cases or tuple(c.name for c in rig.cases), f"{ADVICE} {number}")
        return rig

    return change


def _taken(rig: Rig, take: Take, cases: Sequence[str], name: str) -> Rig:
    """Put one item differently in some cases; in the others it stays as it is."""
    inside, carried = [*rig.trailer.cargo], [*rig.vehicle.cargo]
    item = inside[take.index] if take.body == "trailer" else carried[take.index]
    weight, keep = item.weight, f"{AWAY} {name}"
    if weight is None:
        return rig
    rest, moved = weight.si - take.part, replace(weight, si=take.part)
    if isinstance(item, TrailerLoad):
        inside[take.index] = replace(item, set=keep)
        if rest > NOTHING:
            inside.append(
                replace(item, name=f"{item.name} rest {name}", weight=replace(weight, si=rest), set=name)
            )
        if take.place is not None:
            inside.append(
                replace(item, name=f"{item.name} moved {name}", weight=moved, x=take.place, set=name)
            )
    else:
        carried[take.index] = replace(item, set=keep)
        if rest > NOTHING:
            carried.append(
                replace(item, name=f"{item.name} rest {name}", weight=replace(weight, si=rest), set=name)
            )
        if take.place is not None:
            carried.append(
                replace(
                    item,
                    name=f"{item.name} moved {name}",
                    weight=moved,
                    ahead_of_rear_axle=take.place,
                    set=name,
                )
            )
        if take.bay is not None:
            inside.append(
                TrailerLoad(
                    name=f"{item.name} moved {name}",
                    weight=moved,
                    x=take.bay,
                    y=Quantity(0.0, "length"),
                    set=name,
                )
            )
    rig = replace(
        rig,
        trailer=replace(rig.trailer, cargo=tuple(inside)),
        vehicle=replace(rig.vehicle, cargo=tuple(carried)),
    )
    aboard = [c.name for c in rig.cases if item.set is None or item.set in c.cargo]
    rig = _cases(rig, [c for c in aboard if c in cases], lambda c: replace(c, cargo=(*c.cargo, name)))
    return _cases(rig, [c for c in aboard if c not in cases], lambda c: replace(c, cargo=(*c.cargo, keep)))


def leave_set(name: str, cases: Sequence[str]) -> Change:
    """Leave out a cargo set in some loading cases."""

    def change(rig: Rig) -> Rig:
        return _cases(rig, cases, lambda c: replace(c, cargo=tuple(n for n in c.cargo if n != name)))

    return change


def tank(name: str, share: float, cases: Sequence[str]) -> Change:
    """Fill a tank to a share [-] in some loading cases, as exactly as a person can read it."""

    def change(rig: Rig) -> Rig:
        level = Quantity(share, "fraction")
        return _cases(rig, cases, lambda c: replace(c, tanks={**c.tanks, name: level}))

    return change


def mount(fitted: Mount) -> Change:
    """Use another ball mount from the shelf."""
    return lambda rig: replace(rig, gear=replace(rig.gear, mount=fitted))


def speed(value: float) -> Change:
    """Plan another top speed [m/s]."""

    def change(rig: Rig) -> Rig:
        planned = Quantity(value, "speed", 0.0)
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
