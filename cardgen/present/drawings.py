"""Drawings of a rig as plain numbers and ready labels; ``render.figures`` draws them.

Heights of floors and tires are not in the rig file; usual ones are drawn and the note
under the drawing says so. Nothing is computed from them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cardgen.model.advice import Room
from cardgen.model.rig import Rig
from cardgen.physics.allowances import tongue_parts
from cardgen.physics.effects import Effect, effects, tongue_at
from cardgen.present.figures import (
    Arrow,
    BandGauge,
    Body,
    Centre,
    Curve,
    DrawnLoad,
    FillingChart,
    HitchGeometry,
    Shape,
    SideView,
    TopView,
    Wheelset,
)
from cardgen.present.format import NEAR
from cardgen.present.rig_view import LEVELS, RigView
from cardgen.units import Quantity, style_of

TIRE_RADIUS = 0.34
FLOOR = 0.55
_SHAPES = {
    "camper": "box", "travel_trailer": "box", "caravan": "box", "utility": "open", "cargo": "box",
    "boat": "boat", "horse": "horse", "car_hauler": "open",
}  # fmt: skip
SIDES = 0.45
"""Height of the sides over the floor of an open body as drawn [m]; nothing is computed from it."""
NECK = 0.4
"""How far a neck is drawn ahead of its coupling at least [m]; a drawing's choice."""
_KINDS = {
    "fresh": "tank",
    "waste": "tank",
    "liquid": "tank",
    "gas": "gas",
    "battery": "battery",
    "cargo": "cargo",
}
NOTE = "Lengths to scale; heights are typical, not measured."


def _si(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.si


def side_view(
    rig_view: RigView, loads: bool = True, places: Sequence[tuple[str, Room]] = ()
) -> SideView | None:
    """The rig from the side; None when the trailer's own dimensions are not known.

    Args:
        rig_view: the rig.
        loads: whether the loads on ball and axles are told [-].
        places: stowage places with their letters; with them, what is aboard goes unnamed.
    """
    rig = rig_view.rig
    size, axles = rig.trailer.dimensions, rig.trailer.axles
    front, rear, length = _si(size.body_front), _si(size.body_rear), _si(axles.ball_to_center)
    if front is None or rear is None or length is None:
        return None
    roof = _si(size.height) or FLOOR + 1.2
    shape = _SHAPES[rig.trailer.body]
    if shape == "open":
        roof = min(roof, FLOOR + SIDES)
    if rig.trailer.type != "ball" and shape != "boat":
        shape = "neck" if shape == "open" else "fifth_wheel"
        roof = max(roof, (_si(rig.trailer.coupler.height) or FLOOR) + SIDES)
        front = min(
            front, -NECK
        )  # where the body is measured from behind the neck, the neck still reaches the coupling
    body = Body(front, rear, FLOOR, roof, shape, rig.trailer.name or "trailer")  # type: ignore[arg-type]  # shapes of the table
    coupler = _si(rig.trailer.coupler.height) or 0.45
    vehicle, wheels = _vehicle(rig)
    found = effects(rig)
    items = tuple(_items(rig_view, found))
    if places:
        items = (*_spots(rig, places, roof), *(i for i in items if i.kind in ("tank", "gas")))
    note = " ".join(filter(None, (NOTE, LARGEST if loads else "", "" if places else _undrawn(found))))
    return SideView(
        body, tuple(Wheelset(x, TIRE_RADIUS) for x in axle_places(rig, length)), coupler, vehicle, wheels, items,
        None if places else _centre(rig_view, length), _arrows(rig_view, length) if loads else (), rig_view.say(note),
    )  # fmt: skip


LARGEST = "Loads: the largest of each over the loading cases."


def _spots(rig: Rig, places: Sequence[tuple[str, Room]], roof: float) -> Iterable[DrawnLoad]:
    """Stowage places under the roof of the trailer, and in the vehicle."""
    overhang = _si(rig.vehicle.overhang)
    for letter, room in places:
        if room.body == "trailer" and room.arm is not None:
            yield DrawnLoad(room.arm, max(roof - 0.45, FLOOR + 0.3), letter, "place")
        elif room.body == "vehicle" and room.arm is not None and overhang is not None:
            yield DrawnLoad(-overhang - room.arm, 1.0, letter, "place")


def _undrawn(found: Iterable[Effect]) -> str:
    """Name what is aboard and has no place in the file."""
    names = [e.label for e in found if e.arm is None and e.sort in _KINDS]
    return f"Not drawn, place not stated: {', '.join(names)}." if names else ""


def axle_places(rig: Rig, center: float) -> tuple[float, ...]:
    """Positions of the axles [m behind the coupling] around the center of the group [m]."""
    count, spacing = rig.trailer.axles.count, _si(rig.trailer.axles.spacing) or 0.85
    first = center - spacing * (count - 1) / 2
    return tuple(first + i * spacing for i in range(count))


def _vehicle(rig: Rig) -> tuple[Body | None, tuple[Wheelset, ...]]:
    vehicle = rig.vehicle
    wheelbase, overhang = _si(vehicle.wheelbase), _si(vehicle.overhang)
    if wheelbase is None or overhang is None:
        return None, ()
    front_axle, rear_axle = -(overhang + wheelbase), -overhang
    nose = front_axle - (_si(vehicle.front_overhang) or 0.9)
    tail = nose + vehicle.length.si if vehicle.length else rear_axle + max(overhang - 0.15, 0.9)
    kind = vehicle.kind or "suv"
    shape: Shape = "pickup" if kind == "truck" else "van" if kind == "motorhome" else kind
    body = Body(nose, tail, 0.4, _si(vehicle.height) or 1.7, shape, vehicle.name or "vehicle")
    return body, (Wheelset(front_axle, TIRE_RADIUS), Wheelset(rear_axle, TIRE_RADIUS))


def _items(rig_view: RigView, found: Iterable[Effect]) -> Iterable[DrawnLoad]:
    rig = rig_view.rig
    heights = {f"tank.{n}": (_si(t.z), _si(t.y)) for n, t in rig.trailer.tanks.items()}
    heights |= {f"gas.{n}": (_si(c.z), _si(c.y)) for n, c in rig.trailer.cylinders.items()}
    heights |= {f"cargo.{c.name}": (_si(c.z), _si(c.y)) for c in rig.trailer.cargo}
    heights |= {f"battery.{b.name}": (_si(b.z), _si(b.y)) for b in rig.trailer.batteries}
    for effect in found:
        if effect.arm is None or effect.sort not in _KINDS:
            continue
        z, y = heights.get(effect.key, (None, None))
        yield DrawnLoad(effect.arm, z, effect.label, _KINDS[effect.sort], y)  # type: ignore[arg-type]  # kinds of the table


def _centre(rig_view: RigView, length: float) -> Centre | None:
    """Centre of gravity of the heaviest case: where weight and tongue put it."""
    cases = rig_view.assessment.computed.cases
    known = [c for c in cases if c.figures["tongue_share"].value is not None]
    if not known or len(known) < len(cases):
        return None
    heavy = max(known, key=lambda c: c.figures["trailer_weight"].value or 0.0)
    tongue_share = heavy.figures["tongue_share"].value or 0.0
    return Centre(length * (1.0 - tongue_share), None, rig_view.say("center of gravity"))


def _arrows(rig_view: RigView, length: float) -> tuple[Arrow, ...]:
    rig, made = rig_view.rig, []
    tongue = rig_view.worst("tongue_weight")
    made.append(Arrow(0.0, f"{rig_view.say('{tongue_load}')} {tongue}", up=False))
    made.append(Arrow(length, f"axles {rig_view.worst('trailer_axle_load')}"))
    wheelbase, overhang = _si(rig.vehicle.wheelbase), _si(rig.vehicle.overhang)
    if wheelbase is not None and overhang is not None:
        made.append(Arrow(-overhang, f"rear {rig_view.worst('vehicle_rear_axle')}"))
        made.append(Arrow(-overhang - wheelbase, f"front {rig_view.worst('vehicle_front_axle')}"))
    return tuple(made)


def top_view(rig_view: RigView) -> TopView | None:
    """The trailer from above with the loads of both sides; None without its dimensions."""
    rig = rig_view.rig
    size, axles = rig.trailer.dimensions, rig.trailer.axles
    front, rear, width = _si(size.body_front), _si(size.body_rear), _si(size.width)
    track, length = _si(axles.track), _si(axles.ball_to_center)
    if None in (front, rear, width, track, length):
        return None
    left, right = rig_view.worst("left_wheels"), rig_view.worst("right_wheels")
    first = rig_view.assessment.computed.cases[0].figures
    unknown = first["left_wheels"].value is None or first["right_wheels"].value is None
    note = "Left and right are not known: weigh both sides." if unknown else ""
    items = tuple(i for i in _items(rig_view, effects(rig)) if i.y is not None)
    return TopView(
        front or 0.0, rear or 0.0, width or 0.0, track or 0.0, axle_places(rig, length or 0.0), items,
        f"left {left}", f"right {right}", note,
    )  # fmt: skip


def hitch_geometry(rig_view: RigView) -> HitchGeometry | None:
    """Receiver, mount and coupler heights; None when they are not all known."""
    rig, show = rig_view.rig, rig_view.formatter
    receiver = _si(rig.vehicle.receiver.height) if rig.vehicle.receiver else None
    drop, top = rig_view.figure("drop_needed"), rig_view.figure("ball_height_needed")
    if receiver is None or drop is None or drop.value is None or top is None or top.value is None:
        return None
    word = "drop" if drop.value >= 0 else "rise"
    ball = rig.gear.ball.diameter if rig.gear.ball else None
    return HitchGeometry(
        receiver, receiver - drop.value, top.value,
        show.value(receiver, "height"), show.value(top.value, "height"),
        f"{show.value(abs(drop.value), 'height')} {word}", f"ball {show.ball(ball.si)}" if ball else "",
    )  # fmt: skip


def filling_chart(rig_view: RigView, case: int = 0) -> FillingChart | None:
    """Tongue weight against the filling of each tank, the rest as in a loading case.

    Args:
        rig_view: the rig.
        case: number of the loading case, from 0 [-].
    """
    rig, show = rig_view.rig, rig_view.formatter
    tanks = [e for e in effects(rig) if e.sort in ("fresh", "waste", "liquid") and e.tongue is not None]
    shares = (0.0, 0.25, 0.5, 0.75, 1.0)
    curves, values = [], []
    for tank in sorted(tanks, key=lambda e: -abs(e.tongue or 0.0))[:4]:
        line = tongue_at(rig, case, tank.key, shares)
        if any(v is None for v in line):
            continue
        shown = [show.display(v, "mass") for v in line if v is not None]
        curves.append(Curve(tuple(zip(shares, shown, strict=True)), tank.label))
        values += shown
    if not curves:
        return None
    low, high = tongue_band(rig_view, case)
    low = None if show.ends(low, high)[0] == NEAR else low
    rating = min((q.si for _, q, _ in tongue_parts(rig) if q is not None), default=None)
    ends = [show.display(v, "mass") for v in (low, high, rating) if v is not None]
    ticks = _ticks(min([*values, *ends]), max([*values, *ends]))
    unit = style_of("mass", show.system).printed
    return FillingChart(
        tuple(curves),
        None if low is None else show.display(low, "mass"),
        None if high is None else show.display(high, "mass"),
        "" if low is None else show.bound(low, "mass", "lower"),
        "" if high is None else show.bound(high, "mass", "upper"),
        tuple((t, f"{t:g}") for t in ticks),
        f"{rig_view.say('{coupling_load}')}, {unit}",
        f"filling of one tank, the rest as in '{rig.cases[case].name}'",
        rating=None if rating is None else show.display(rating, "mass"),
        rating_label="" if rating is None else f"lowest rating {show.bound(rating, 'mass', 'upper')}",
    )


def tongue_band(rig_view: RigView, index: int) -> tuple[float | None, float | None]:
    """Band of tongue weight [kg] of a loading case; None for an open or unknown end."""
    figures = rig_view.assessment.computed.cases[index].figures
    return figures["band_low"].value, figures["band_high"].value


def _ticks(low: float, high: float) -> tuple[float, ...]:
    """Round marks that cover a range, four to six of them [unit of the range]."""
    span = max(high - low, 1.0)
    for step in (10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000):
        if span / step <= 5:
            break
    first = int(low // step) * step
    return tuple(float(first + i * step) for i in range(int((high - first) // step) + 2))


def band_gauge(rig_view: RigView) -> BandGauge | None:
    """The largest tongue weight on a scale with its band; None when the band is unknown."""
    finding = next((f for f in rig_view.findings if f.code == "tongue-share"), None)
    tongue = rig_view.figure("tongue_weight_max")
    cases = rig_view.assessment.computed.cases
    worst = max(range(len(cases)), key=lambda i: cases[i].figures["tongue_weight"].value or 0.0)
    low, high = tongue_band(rig_view, worst)
    show = rig_view.formatter
    if finding is None or low is None or high is None or show.ends(low, high)[0] == NEAR:
        return None
    value = tongue.value if tongue else None
    end = max(high * 1.4, (value or 0.0) * 1.1)
    shown = rig_view.shown("tongue_weight_max")
    return BandGauge(
        None if value is None else show.display(value, "mass"), show.display(low, "mass"),
        show.display(high, "mass"), 0.0, show.display(end, "mass"), shown, show.bound(low, "mass", "lower"),
        show.bound(high, "mass", "upper"), LEVELS[finding.outcome],
    )  # fmt: skip
