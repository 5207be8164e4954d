"""Changes to a rig that a proposal can make: cargo moved, parted or left, tanks, gear, plan.

Cargo is changed as a person would write it into the file: the item as it was stays behind,
what is left of it and what is moved are items of their own. No change touches the mass or place
of a load that was there, so weights that were stated or weighed with it aboard keep their meaning.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from cardgen.model.advice import RemedyKind, in_text
from cardgen.model.gear import Mount
from cardgen.model.parts import TrailerLoad, VehicleLoad
from cardgen.model.rig import Case, Rig
from cardgen.physics.loads import Load
from cardgen.units import Quantity

Change = Callable[[Rig], Rig]
Values = dict[str, tuple[float, str]]
AWAY = "(left at home)"
ADVICE = "(advice)"
NOTHING = 1e-9
"""Mass under which nothing is left of an item [kg]."""

NEAR = 0.1
"""Distance at which a bay counts as the place an item is in already [m]; a project choice."""
HANDY = 100.0
"""Mass above which an item may be one piece that cannot be parted [kg]; a project choice."""
SAFETY = re.compile(r"extinguish|first.aid|chock|jack|spare|triangle|chain|strap|lamp|vest")
"""Words of what is carried for safety and is never proposed to stay at home."""


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


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that can be done with one piece of cargo.

    Args:
        key: stable name [-].
        item: the piece of cargo [-].
        load: key of its load [-].
        name: its name, for a sentence [-].
        body: where it rides, ``trailer`` or ``vehicle`` [-].
        index: its number in the cargo list [-].
        arm: where it lies [m].
        most: its mass [kg].
        to: body it goes to [-].
        there: where it goes [m]; None leaves it at home.
        place: the same as the file states it.
        whole, part: sentence for all of it and for part of it, with ``{mass}`` and ``{place}`` [-].
    """

    key: str
    item: str
    load: str
    name: str
    body: str
    index: int
    arm: float
    most: float
    to: str = ""
    there: float | None = None
    place: Quantity | None = None
    whole: str = ""
    part: str = ""

    @property
    def partable(self) -> bool:
        """Whether part of it can be taken [-]; an animal goes or stays."""
        return bool(self.part) and (self.body == "trailer" or self.there is None)

    def take(self, mass: float) -> Take:
        """Make the change of so many kg."""
        part = min(mass, self.most)
        if self.body != self.to and self.place is not None:
            return Take(self.body, self.index, part, bay=self.place)
        return Take(self.body, self.index, part, self.place)


def steps_of(rig: Rig, number: Mapping[str, Load]) -> tuple[Step, ...]:
    """List what can be done with each piece of cargo that may be moved and whose mass and place are known.

    Args:
        rig: the rig.
        number: its loads by key (masses [kg], arms [m]).
    """
    out = []
    bays = {
        name: (q, f"'{in_text(name)}' ({{place}} behind the coupling)")
        for name, q in rig.trailer.bays.items()
    }
    bodies: tuple[tuple[str, str, Sequence[TrailerLoad | VehicleLoad]], ...] = (
        ("trailer", "cargo", rig.trailer.cargo),
        ("vehicle", "carried", rig.vehicle.cargo),
    )
    animals = rig.trailer.body == "horse" or rig.trailer.features.livestock
    for body, word, items in bodies:
        for i, item in enumerate(items):
            load = number.get(f"{word}.{item.name}")
            if load is None or not item.movable or not load.full or load.full < 0 or load.arm is None:
                continue
            name = in_text(item.name)
            base = Step(f"{word} {i}", f"{word} {i}", load.key, name, body, i, load.arm, load.full)
            alive = bool(animals) and body == "trailer" and load.full > HANDY
            parted = "" if load.full <= HANDY else ", if it can be parted,"
            for bay, (q, where) in bays.items():
                if body == "trailer" and abs(q.si - load.arm) < NEAR:
                    continue
                verb, over = (
                    ("move", "") if body == "trailer" else ("take", " in the trailer, on the middle line")
                )
                out.append(
                    replace(
                        base, key=f"{base.key} to {bay}", to="trailer", there=q.si, place=q,
                        whole=f"{verb} '{name}' ({{mass}}) to {where}{over}",
                        part="" if alive else f"shift {{mass}} of '{name}'{parted} to {where}{over}",
                    )
                )  # fmt: skip
            if not SAFETY.search(item.name.lower()):
                out.append(
                    replace(
                        base, whole=f"leave '{name}' ({{mass}}) at home",
                        part="" if alive else f"leave {{mass}} of '{name}'{parted} at home",
                    )
                )  # fmt: skip
    return tuple(out)


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


def part(path: str, rating: float) -> Change:
    """Fit a part of the hitch gear with another rating [kg] at a path such as ``gear.ball.rating``."""

    def put(at: Any, names: Sequence[str]) -> Any:
        value = put(getattr(at, names[0]), names[1:]) if names[1:] else Quantity(rating, "mass", 0.0)
        return replace(at, **{names[0]: value})

    return lambda rig: put(rig, path.split("."))


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


@dataclass(frozen=True, slots=True)
class Idea:
    """A candidate: a change with its sentence.

    Args:
        key: stable name; equal keys make the same change [-].
        kind: what sort of change it is [-].
        text: sentence with places for ``values`` [-].
        values: numbers for the text, name to (SI value, kind).
        amount: how much is moved, taken out or put in [kg].
        change: makes the changed rig.
        cases: loading cases it applies to [-], empty for all.
        about: what it moves or fills; of several ideas about one thing the smallest is kept [-].
    """

    key: str
    kind: RemedyKind
    text: str
    values: Values
    amount: float
    change: Change
    cases: tuple[str, ...] = ()
    about: str = ""
