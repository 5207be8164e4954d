"""The load model of a rig: a known state of trailer and vehicle, and every load that can change it.

The known state is the stated empty trailer and curb weight, or what a weighing found in
a loading case. Everything else is worked out as changes from it (``statics``): a load
that is aboard as it was then need not be known at all. The trailer's half stands by
itself; the vehicle's half may be absent.

Source: superposition of loads on a body on two supports, any statics textbook.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from cardgen.model.needs import Need
from cardgen.model.parts import LOPSIDED
from cardgen.model.rig import Rig
from cardgen.physics.axles import Attitude, Split, attitude, split
from cardgen.physics.inputs import Inputs, Origin
from cardgen.physics.loads import Aboard, Load, all_loads, empty_aboard
from cardgen.physics.needs import need
from cardgen.physics.number import Number, exact, unknown
from cardgen.units import Quantity

ONE = exact(1.0)


@dataclass(frozen=True, slots=True)
class TrailerHalf:
    """The trailer in its known state.

    Args:
        weight, tongue: trailer and its tongue [kg].
        side: its right wheels less its left wheels [kg].
        length: coupling centre to the load centroid of the axle group, L [m].
        track: left tire centre to right tire centre [m].
        coupled: whether tongue and weight were weighed as the trailer rode, not level.

    Source: the rig file or a weighing.
    """

    weight: Number
    tongue: Number
    side: Number
    length: Number
    track: Number
    coupled: bool = False


@dataclass(frozen=True, slots=True)
class VehicleHalf:
    """The vehicle without trailer in its known state.

    Args:
        weight, front: vehicle and its front axle [kg].
        gear: coupling gear on the vehicle [kg].
        driver: driver counted in the vehicle's weight [kg].
        seat: the driver's seat ahead of the rear axle [m].
        wheelbase: front axle to rear axle, wb [m].
        overhang: rear axle to coupling centre, e [m], negative when ahead of it.
        ready: whether gear is in the vehicle's weights and no driver is, as on a scale.
        unlisted: what a scale found in the vehicle beyond the file [kg]; None for nothing.

    Source: the rig file or a weighing.
    """

    weight: Number
    front: Number
    gear: Number
    driver: Number
    seat: Number
    wheelbase: Number
    overhang: Number
    ready: bool = False
    unlisted: Number | None = None


@dataclass(frozen=True, slots=True)
class Seen:
    """A figure that a scale read, which the file's own arithmetic does not replace.

    Args:
        date: day of the weighing.
        case: loading case the rig was in [-].
        at: what was aboard (shares [-]).
        measured: what the scale said [SI].
        offset: that less what the model has for the same state [SI]; None when the model has nothing.

    Source: a weighing.
    """

    date: dt.date
    case: str
    at: Aboard
    measured: Number
    offset: Number | None


@dataclass(frozen=True, slots=True)
class LoadModel:
    """A rig's known state and its loads, ready to be worked out for any filling.

    Args:
        rig: the rig.
        loads: every load (masses [kg], arms [m]).
        state: shares aboard in the known state [-].
        then: mass of each load aboard in the known state [kg].
        along: kg on the tongue per kg of a load in the trailer, kg on the front axle per kg
            of a load in the vehicle, in the order of the loads [-].
        across: kg by which the right wheels grow against the left per kg of a load [-].
        trailer, vehicle: the two halves; no vehicle, no figures of vehicle and combination.
        split: how the trailer's axles share their group's load [kg].
        ride: how the coupling stands against level under a tongue weight [m].
        inputs: the uncertain inputs used so far.
        seen: what scales said last, by figure.
        file: the model of the rig file alone, where a weighing set this one.

    Source: see the module.
    """

    rig: Rig
    loads: tuple[Load, ...]
    state: Aboard
    then: tuple[Number | None, ...]
    along: tuple[Number, ...]
    across: tuple[Number, ...]
    trailer: TrailerHalf
    vehicle: VehicleHalf | None
    split: Split
    ride: Attitude
    inputs: Inputs
    seen: Mapping[str, Seen] = field(default_factory=dict)
    file: LoadModel | None = None

    def lengths(self) -> dict[str, Number | None]:
        """Lengths that readings are solved with [m], ``L``, ``wb``, ``e``; None when unknown.

        Source: the rig file.
        """
        half = self.vehicle
        given = {
            "L": self.trailer.length,
            "wb": half.wheelbase if half else unknown(),
            "e": half.overhang if half else unknown(),
        }
        return {name: None if length.value is None else length for name, length in given.items()}


def by_file(model: LoadModel) -> LoadModel:
    """The model from which the sides are told [-]: the rig file's, where no scale read them.

    Args:
        model: the load model.

    Source: none.
    """
    return model if model.file is None or model.trailer.side.value is not None else model.file


def lopsided(model: LoadModel, group: float | None) -> float:
    """How far the trailer's own sides may differ, what the file lists aside, where nobody weighed them [kg].

    Args:
        model: the load model (masses [kg]).
        group: load of its axles, which stands for a weight that is not known [kg]; None when unknown.

    Source: ``cardgen.model.parts.LOPSIDED``.
    """
    source = by_file(model)
    if source.trailer.side.value is not None:
        return 0.0
    inside = {i for i, load in enumerate(model.loads) if load.body == "trailer"}
    listed = sum(change for i, change in changed(source, model.state).items() if i in inside)
    found = 0.0 if model.trailer.weight.value is None else model.trailer.weight.value - listed
    return LOPSIDED * (max(found, source.trailer.weight.value or 0.0) or group or 0.0)


def changed(model: LoadModel, now: Aboard) -> dict[int, float]:
    """Mass by which each load aboard differs from the known state [kg], where it is known and does.

    Args:
        model: the load model (masses [kg]).
        now: what is aboard (shares [-]).

    Source: see the module.
    """
    out = {}
    for i, load in enumerate(model.loads):
        was, share = model.state.shares.get(load.key), now.shares.get(load.key)
        if was is not None and share is not None and share != was and load.full:
            out[i] = load.full * (share - was)
    return out


def ball_to_axles(rig: Rig) -> Quantity | None:
    """Coupling centre to the load centroid of the axle group [m]: the one place that reads it.

    Source: the rig file.
    """
    return rig.trailer.axles.ball_to_center


def stated(rig: Rig) -> LoadModel:
    """Build the model from what the rig file states (masses [kg], lengths [m]).

    Source: see the module.
    """
    inputs = Inputs(rig.trailer.empty.source, rig.vehicle.curb.source)
    return _built(rig, empty_aboard(rig), _trailer(rig, inputs), _vehicle(rig, inputs), inputs)


def rebased(old: LoadModel, trailer: TrailerHalf, vehicle: VehicleHalf | None, state: Aboard) -> LoadModel:
    """Put the model on another known state (masses [kg], shares [-]).

    Source: see the module.
    """
    then = masses(old.loads, state, old.inputs)
    return replace(old, trailer=trailer, vehicle=vehicle, state=state, then=then)


def moved_onto(old: LoadModel, rig: Rig) -> LoadModel:
    """Keep the known state for a rig in which loads were put in or left out.

    Loads that are new were not aboard then. Masses [kg] and places [m] of the loads that
    stay must not have changed.

    Args:
        old: the model before the change.
        rig: the changed rig.

    Source: see the module.
    """
    inputs = old.inputs.copy()
    made = _moved(old, rig, inputs)
    seen = {name: replace(one, at=_within(one.at, made.loads)) for name, one in old.seen.items()}
    return replace(made, seen=seen, file=None if old.file is None else _moved(old.file, rig, inputs))


def _moved(old: LoadModel, rig: Rig, inputs: Inputs) -> LoadModel:
    return _built(rig, _within(old.state, all_loads(rig)), old.trailer, old.vehicle, inputs)


def _within(state: Aboard, loads: Iterable[Load]) -> Aboard:
    """The same state of other loads: what is new was not aboard then."""
    return replace(state, shares={load.key: state.shares.get(load.key, 0.0) for load in loads})


def _built(
    rig: Rig, state: Aboard, trailer: TrailerHalf, vehicle: VehicleHalf | None, inputs: Inputs
) -> LoadModel:
    loads, ride = all_loads(rig), attitude(rig, trailer.length, inputs)
    shared = split(rig, trailer.length, inputs)
    along, across = _levers(loads, trailer, vehicle, inputs)
    then = masses(loads, state, inputs)
    return LoadModel(rig, loads, state, then, along, across, trailer, vehicle, shared, ride, inputs)


def _trailer(rig: Rig, inputs: Inputs) -> TrailerHalf:
    empty, axles = rig.trailer.empty, rig.trailer.axles
    path = "trailer.empty"
    return TrailerHalf(
        inputs.field(f"{path}.weight", empty.weight, "trailer"),
        inputs.field(f"{path}.tongue", empty.tongue, "tongue"),
        -inputs.field(f"{path}.left_minus_right", empty.left_minus_right, "side"),
        inputs.field("trailer.axles.ball_to_center", ball_to_axles(rig), "length"),
        inputs.field("trailer.axles.track", axles.track, "length"),
    )


def _vehicle(rig: Rig, inputs: Inputs) -> VehicleHalf:
    """Read the vehicle's half; its weight and front axle are completed from two of three."""
    vehicle, curb, path = rig.vehicle, rig.vehicle.curb, "vehicle.curb"
    weight = inputs.field(f"{path}.weight", curb.weight, "vehicle", "{curb}")
    front = inputs.field(f"{path}.front", curb.front, "vehicle", "{curb}, front axle")
    rear = inputs.field(f"{path}.rear", curb.rear, "vehicle", "{curb}, rear axle")
    if curb.rear is not None and curb.weight is None and curb.front is not None:
        weight = front + rear
    elif curb.rear is not None and curb.front is None and curb.weight is not None:
        front = weight - rear
    gear = inputs.field("gear.weight", rig.gear.weight, "item", "coupling gear, weight")
    plain = not (rig.gear.mount or rig.gear.adapter or rig.gear.weight_distribution)
    if rig.gear.weight is None and vehicle.receiver is not None and vehicle.receiver.fixed_ball and plain:
        gear = exact(0.0)  # nothing is put on the vehicle
    driver = inputs.field(f"{path}.includes.driver", curb.includes.driver, "person")
    name, seat = max(
        vehicle.seats.items(), key=lambda row: row[1].si, default=("", None)
    )  # drivers sit foremost
    place = unknown(need("vehicle.seats")) if seat is None else inputs.take(
        Origin(f"vehicle.seats.{name}", seat, "place")
    )  # fmt: skip
    return VehicleHalf(
        weight,
        front,
        gear,
        exact(0.0) if driver.value == 0.0 else driver,
        place,
        inputs.field("vehicle.wheelbase", vehicle.wheelbase, "length"),
        inputs.field("vehicle.overhang", vehicle.overhang, "length"),
    )


def tongue_share_of_load(arm: Number, length: Number) -> Number:
    """Part of a load that the tongue carries, ``1 - x/L`` [-]; negative behind the axles.

    Args:
        arm: distance of the load behind the ball [m]; negative ahead of it.
        length: ball to the axle group's load centroid [m], above zero.

    Raises:
        ValueError: when ``length`` is not above zero.

    Source: moments about the axle group.
    """
    if length.value is not None and length.value <= 0:
        raise ValueError("the axle group must stand behind the ball")
    return 1.0 - arm / length


def front_share_of_load(arm: Number, wheelbase: Number) -> Number:
    """Part of a load that the front axle carries, ``a/wb`` [-].

    Args:
        arm: distance of the load ahead of the rear axle [m]; negative behind it.
        wheelbase: front axle to rear axle [m], above zero.

    Raises:
        ValueError: when ``wheelbase`` is not above zero.

    Source: moments about the rear axle.
    """
    if wheelbase.value is not None and wheelbase.value <= 0:
        raise ValueError("the wheelbase must be above zero")
    return arm / wheelbase


def _levers(
    loads: Iterable[Load], trailer: TrailerHalf, vehicle: VehicleHalf | None, inputs: Inputs
) -> tuple[tuple[Number, ...], tuple[Number, ...]]:
    """Work out what each load does to tongue or front axle, and to the two sides."""
    along, across, none = [], [], exact(0.0)
    for load in loads:
        arm = _place(load, load.arm_from, load.arm, load.arm_needs, inputs)
        if load.body == "trailer":
            off = _place(load, load.side_from, load.side, load.side_needs or load.arm_needs, inputs)
            along.append(tongue_share_of_load(arm, trailer.length))
            across.append(2.0 * off / trailer.track if trailer.track.value != 0.0 else _placeless(load))
        else:
            along.append(none if vehicle is None else front_share_of_load(arm, vehicle.wheelbase))
            across.append(none)
    return tuple(along), tuple(across)


def _place(
    load: Load, origin: Origin | None, place: float | None, needs: tuple[Need, ...], inputs: Inputs
) -> Number:
    """Place of a load [m]; never unknown without saying what is missing."""
    if origin is not None:
        return inputs.take(origin)
    if place is not None:
        return exact(place)
    return unknown(*needs) if needs else _placeless(load)


def _placeless(load: Load) -> Number:
    return unknown(Need(load.path or load.key, f"place of {load.label}"))


def masses(loads: Iterable[Load], aboard: Aboard, inputs: Inputs) -> tuple[Number | None, ...]:
    """Mass of what is aboard of every load [kg]; None for nothing at all.

    Args:
        loads: the loads (full masses [kg]).
        aboard: how much of them (shares [-]).
        inputs: keeper of the uncertain inputs.

    Source: ``m = share * full``; ``m = rho V`` for a filling given as a volume.
    """
    return tuple(_mass(load, aboard, inputs) for load in loads)


def _mass(load: Load, aboard: Aboard, inputs: Inputs) -> Number | None:
    share = aboard.shares.get(load.key)
    if share is None:
        return unknown(*aboard.needs.get(load.key, ()))
    if share == 0.0 and load.key not in aboard.fills:
        return None
    if load.full is None:
        return None if share == 0.0 else unknown(*load.mass_needs)
    weight, fill = load.mass_from, aboard.fills.get(load.key)
    known = weight is not None and weight.quantity.si
    if fill is not None and fill.quantity.kind == "volume" and weight is not None and known:
        return inputs.take(fill) * (load.full / weight.quantity.si)
    full = exact(load.full)
    if weight is not None and known:
        full = inputs.take(weight) * (load.full / weight.quantity.si)
    return full * share if fill is None else inputs.take(fill) * full
