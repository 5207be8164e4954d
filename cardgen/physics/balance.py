"""Statics of trailer and tow vehicle as linear forms in every load.

The trailer is a rigid body carried by the ball and its axle group; the vehicle
is a beam on its two axles. With x behind the ball, a ahead of the rear axle,
L ball to axle group, wb wheelbase and e rear axle to ball (negative when the
coupling sits ahead of the axle):

    tongue = T0 + sum(dm * (1 - x/L))      trailer axles = weight - tongue
    front  = F0 + sum(dm * a/wb) - (tongue + gear) * e/wb
    rear   = vehicle weight - front

Source: equilibrium of a beam on two supports, any statics textbook; checked in
the tests against Beer & Johnston, Vector Mechanics for Engineers: Statics,
ch. 6 prob. 6.95, and an independent beam solver.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from cardgen.model.results import Need
from cardgen.model.rig import Rig
from cardgen.physics.linear import Linear, combine, constant, per_load
from cardgen.physics.loads import Load
from cardgen.physics.needs import need


@dataclass(frozen=True, slots=True)
class Geometry:
    """Lengths that the statics needs.

    Args:
        ball_to_axles: coupling centre to the load centroid of the axle group [m].
        wheelbase: front axle to rear axle [m].
        overhang: rear axle to coupling centre [m], negative when ahead of it.
        track: left tire centre to right tire centre of the trailer [m].
    """

    ball_to_axles: float | None
    wheelbase: float | None
    overhang: float | None
    track: float | None


@dataclass(frozen=True, slots=True)
class Bases:
    """Stated weights before any load is added or taken out [kg], None when unknown.

    Args:
        trailer, tongue: empty trailer and its tongue [kg].
        right_minus_left: its right wheels less its left wheels [kg].
        vehicle, front, rear: vehicle and its axles [kg].
        driver: driver counted in the vehicle's weight [kg], sitting ``driver_arm`` [m]
            ahead of the rear axle.
        gear: coupling gear on the vehicle [kg].
        vehicle_ready: whether gear is in the vehicle's weights and no driver is, as on a scale.
        missing: what to ask for where a base is None, by name; the field itself when absent.

    Source: the rig file or a weighing.
    """

    trailer: float | None
    tongue: float | None
    right_minus_left: float | None
    vehicle: float | None
    front: float | None
    rear: float | None
    driver: float | None
    driver_arm: float | None
    gear: float | None
    vehicle_ready: bool = False
    missing: Mapping[str, tuple[Need, ...]] = field(default_factory=dict)

    def needs(self, name: str, path: str) -> tuple[Need, ...]:
        """Say what is missing for a base that is None [-]; source: the model's own fields."""
        return () if getattr(self, name) is not None else self.missing.get(name, (need(path),))


def geometry(rig: Rig) -> Geometry:
    """Read the lengths [m] from a rig.

    Source: the rig file.
    """

    def si(quantity: object) -> float | None:
        return getattr(quantity, "si", None)

    axles, vehicle = rig.trailer.axles, rig.vehicle
    return Geometry(si(axles.ball_to_center), si(vehicle.wheelbase), si(vehicle.overhang), si(axles.track))


def bases(rig: Rig) -> Bases:
    """Read the stated weights [kg] from a rig, completing the vehicle's split from two of three.

    Source: the rig file; two parts of the curb weight give the third.
    """

    def si(quantity: object) -> float | None:
        return getattr(quantity, "si", None)

    curb, empty = rig.vehicle.curb, rig.trailer.empty
    weight, front, rear = si(curb.weight), si(curb.front), si(curb.rear)
    if weight is None and front is not None and rear is not None:
        weight = front + rear
    if weight is not None and front is None and rear is not None:
        front = weight - rear
    if weight is not None and rear is None and front is not None:
        rear = weight - front
    driver = si(curb.includes.driver)
    side = si(empty.left_minus_right)
    seats = list(rig.vehicle.seats.values())
    receiver = rig.vehicle.receiver
    gear = si(rig.gear.weight)
    if gear is None and receiver is not None and receiver.fixed_ball:
        gear = 0.0
    return Bases(
        si(empty.weight),
        si(empty.tongue),
        None if side is None else -side,
        weight,
        front,
        rear,
        driver,
        seats[0].si if seats else None,
        gear,
    )


def tongue_share_of_load(arm: float, ball_to_axles: float) -> float:
    """Part of a load that the tongue carries, ``1 - x/L`` [-].

    Args:
        arm: distance of the load behind the ball [m]; negative ahead of it.
        ball_to_axles: ball to the axle group's load centroid [m], above zero.

    Returns:
        kg on the tongue per kg of load; negative behind the axles.

    Raises:
        ValueError: when ``ball_to_axles`` is not above zero.

    Source: moments about the axle group.
    """
    if ball_to_axles <= 0:
        raise ValueError("the axle group must stand behind the ball")
    return 1.0 - arm / ball_to_axles


def front_share_of_load(arm: float, wheelbase: float) -> float:
    """Part of a load that the front axle carries, ``a/wb`` [-].

    Args:
        arm: distance of the load ahead of the rear axle [m]; negative behind it.
        wheelbase: front axle to rear axle [m], above zero.

    Raises:
        ValueError: when ``wheelbase`` is not above zero.

    Source: moments about the rear axle.
    """
    if wheelbase <= 0:
        raise ValueError("the wheelbase must be above zero")
    return arm / wheelbase


def totals(
    loads: Sequence[Load], place: Geometry, base: Bases, gear_need: str = "gear.weight"
) -> dict[str, Linear]:
    """Build the linear form of every total of a rig.

    Args:
        loads: all loads (masses [kg], arms [m]).
        place: lengths [m].
        base: stated weights [kg].
        gear_need: field to ask for when the weight of the coupling gear is unknown [-].

    Returns:
        Forms by id: ``trailer_weight``, ``tongue_weight``, ``trailer_axle_load``,
        ``side_difference`` (right less left), ``vehicle_alone``, ``front_alone``,
        ``rear_alone``, ``vehicle_weight``, ``vehicle_front_axle``,
        ``vehicle_rear_axle``, ``combination_weight``, ``placard_used`` [kg].

    Source: equilibrium of a beam on two supports, see the module.
    """
    made = _trailer(loads, place, base)
    made |= _vehicle(loads, place, base, gear_need)
    tongue = made["tongue_weight"]
    gone = _missing(place.overhang, "vehicle.overhang") + _missing(place.wheelbase, "vehicle.wheelbase")
    lever = None
    if place.overhang is not None and place.wheelbase is not None:
        lever = front_share_of_load(-place.overhang, place.wheelbase)
    made["vehicle_weight"] = combine([(1.0, made["vehicle_alone"]), (1.0, tongue)])
    made["vehicle_front_axle"] = combine([(1.0, made["front_alone"]), (lever, tongue)], gone)
    back = None if lever is None else 1.0 - lever
    made["vehicle_rear_axle"] = combine([(1.0, made["rear_alone"]), (back, tongue)], gone)
    made["combination_weight"] = combine([(1.0, made["vehicle_alone"]), (1.0, made["trailer_weight"])])
    people = per_load(
        {x.key: 1.0 for x in loads if x.body == "vehicle" and x.sort in ("person", "cargo")}, loads
    )
    gear = constant(base.gear, len(loads), (need(gear_need),))
    made["placard_used"] = combine([(1.0, people), (1.0, gear), (1.0, tongue)])
    return made


def _missing(value: float | None, path: str) -> tuple[Need, ...]:
    return () if value is not None else (need(path),)


def _trailer(loads: Sequence[Load], place: Geometry, base: Bases) -> dict[str, Linear]:
    inside = [x for x in loads if x.body == "trailer"]
    weight = Linear(
        base.trailer,
        per_load({x.key: 1.0 for x in inside}, loads).coefficients,
        base.needs("trailer", "trailer.empty.weight"),
    )
    length, track = place.ball_to_axles, place.track
    lever = {
        x.key: None if x.arm is None or length is None else tongue_share_of_load(x.arm, length)
        for x in inside
    }
    tongue = Linear(
        base.tongue,
        per_load(lever, loads).coefficients,
        base.needs("tongue", "trailer.empty.tongue"),
        _missing(length, "trailer.axles.ball_to_center"),
    )
    sides = {x.key: None if x.side is None or not track else 2.0 * x.side / track for x in inside}
    side = Linear(
        base.right_minus_left,
        per_load(sides, loads).coefficients,
        base.needs("right_minus_left", "trailer.empty.left_minus_right"),
        _missing(track, "trailer.axles.track"),
        by_side=True,
    )
    return {
        "trailer_weight": weight,
        "tongue_weight": tongue,
        "trailer_axle_load": combine([(1.0, weight), (-1.0, tongue)]),
        "side_difference": side,
    }


def _vehicle(loads: Sequence[Load], place: Geometry, base: Bases, gear_need: str) -> dict[str, Linear]:
    aboard = [x for x in loads if x.body == "vehicle"]
    wheelbase, size = place.wheelbase, len(loads)
    gear = constant(base.gear, size, (need(gear_need),))
    driver = constant(base.driver, size, (need("vehicle.curb.includes.driver"),))
    gone = _missing(wheelbase, "vehicle.wheelbase") + _missing(place.overhang, "vehicle.overhang")

    def share(arm: float | None) -> float | None:
        return None if arm is None or wheelbase is None else front_share_of_load(arm, wheelbase)

    alone = Linear(
        base.vehicle,
        per_load({x.key: 1.0 for x in aboard}, loads).coefficients,
        base.needs("vehicle", "vehicle.curb.weight"),
    )
    if base.vehicle_ready:
        gear = driver = constant(0.0, size)
    alone = combine([(1.0, alone), (1.0, gear), (-1.0, driver)])
    front = Linear(
        base.front,
        per_load({x.key: share(x.arm) for x in aboard}, loads).coefficients,
        base.needs("front", "vehicle.curb.front"),
        _missing(wheelbase, "vehicle.wheelbase"),
    )
    ready = base.vehicle_ready
    seat = share(base.driver_arm) if base.driver != 0.0 and not ready else 0.0
    seat_needs = () if base.driver_arm is not None else (need("vehicle.seats"),)
    overhang = None if place.overhang is None else share(-place.overhang)
    front = combine([(1.0, front), (overhang if base.gear != 0.0 and not ready else 0.0, gear)], gone)
    front = combine([(1.0, front), (None if seat is None else -seat, driver)], seat_needs + gone)
    return {
        "vehicle_alone": alone,
        "front_alone": front,
        "rear_alone": combine([(1.0, alone), (-1.0, front)]),
    }
