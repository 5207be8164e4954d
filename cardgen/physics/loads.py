"""Every mass that can change, with its place: tanks, gas, cargo, batteries, people, fuel.

The rig's totals are linear in these masses, so one list of loads serves the
loading cases, the envelope over all fillings, the uncertainty and the report's
what-if page.

Source: the rig file; densities from ``cardgen.tables``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from cardgen.model.parts import Cylinder, PlacedMass, Tank, TrailerLoad, VehicleLoad
from cardgen.model.results import Need
from cardgen.model.rig import Occupant, Rig
from cardgen.physics.aboard import Aboard as Aboard  # handed on: loads and shares are read together
from cardgen.physics.aboard import called, nobody, perhaps_kept
from cardgen.physics.aboard import case_aboard as case_aboard
from cardgen.physics.aboard import empty_aboard as empty_aboard
from cardgen.physics.fluids import cylinder_gas, tank_density
from cardgen.physics.inputs import Origin
from cardgen.physics.inputs import Sort as InputSort
from cardgen.physics.needs import need
from cardgen.units import Quantity

Sort = Literal["fresh", "waste", "liquid", "gas", "cylinder", "battery", "cargo", "person", "fuel", "gear"]
Body = Literal["trailer", "vehicle"]


@dataclass(frozen=True, slots=True)
class Load:
    """One mass that can be aboard, in part aboard, or not.

    Args:
        key: stable name, for example ``tank.fresh`` [-].
        label: words for people [-].
        sort: what it is, which groups it on the report [-].
        body: whether it rides in trailer or vehicle [-].
        full: its mass when full or aboard [kg]; None when unknown.
        arm: trailer: distance behind the coupling centre [m]; vehicle: distance
            ahead of the rear axle [m]; None when unknown.
        side: distance right of the centre line [m]; None when unknown.
        height: height of its middle above the ground [m]; None when unknown.
        mass_needs: what is missing to know ``full``.
        arm_needs: what is missing to know ``arm``.
        path: field path of the item [-].
        movable: whether advice may propose to move or leave it [-].
        mass_from, arm_from, side_from: the fields behind ``full``, ``arm`` and ``side``;
            ``full`` is proportional to its field.
        set: cargo set it belongs to [-]; empty when it is always aboard.
        side_needs: what is missing to know ``side``.
    """

    key: str
    label: str
    sort: Sort
    body: Body
    full: float | None
    arm: float | None
    side: float | None = None
    height: float | None = None
    mass_needs: tuple[Need, ...] = ()
    arm_needs: tuple[Need, ...] = ()
    path: str = ""
    movable: bool = False
    mass_from: Origin | None = None
    arm_from: Origin | None = None
    side_from: Origin | None = None
    set: str = ""
    side_needs: tuple[Need, ...] = ()


def _si(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.si


def _from(path: str, quantity: Quantity | None, sort: InputSort, label: str) -> Origin | None:
    return None if quantity is None else Origin(path, quantity, sort, label)


def _missing(value: object | None, path: str) -> tuple[Need, ...]:
    return () if value is not None else (need(path),)


def tank_load(name: str, tank: Tank, water_temperature: float | None) -> Load:
    """Make the load of one trailer tank.

    Args:
        name: name of the tank [-].
        tank: the tank.
        water_temperature: temperature of the water [K], None for 20 C.

    Source: the rig file; density from ``fluids.tank_density``.
    """
    path = f"trailer.tanks.{name}"
    density = tank_density(tank.holds, water_temperature)
    full = None if tank.capacity is None else tank.capacity.si * density
    sort: Sort = {"fresh": "fresh", "heater": "fresh", "grey": "waste", "black": "waste"}.get(  # type: ignore[assignment]  # values are Sort words
        tank.holds, "liquid"
    )
    return Load(
        f"tank.{name}",
        called(name, "tank"),
        sort,
        "trailer",
        full,
        _si(tank.x),
        _si(tank.y),
        _si(tank.z),
        _missing(tank.capacity, f"{path}.capacity"),
        _missing(tank.x, f"{path}.x"),
        path,
        mass_from=_from(f"{path}.capacity", tank.capacity, "volume", f"{called(name, 'tank')}, capacity"),
        arm_from=_from(f"{path}.x", tank.x, "place", f"{called(name, 'tank')}, place"),
        side_from=_from(f"{path}.y", tank.y, "place", f"{called(name, 'tank')}, side"),
        side_needs=_missing(tank.y, f"{path}.y"),
    )


def cylinder_loads(name: str, cylinder: Cylinder) -> tuple[Load, Load]:
    """Make the loads of one LP cylinder: its gas and its steel [kg].

    Source: the rig file; gas from ``fluids.cylinder_gas``.
    """
    path = f"trailer.cylinders.{name}"
    gas = cylinder_gas(_si(cylinder.water_capacity), _si(cylinder.size))
    place = (_si(cylinder.x), _si(cylinder.y), _si(cylinder.z))
    arm_needs = _missing(cylinder.x, f"{path}.x")
    gas_needs = () if gas is not None else (need(f"{path}.size"),)
    stamp, size = cylinder.water_capacity, cylinder.size
    gas_from = _from(f"{path}.water_capacity", stamp, "stamp", f"{called(name, 'cylinder')}, water capacity")
    if stamp is None:
        gas_from = _from(f"{path}.size", size, "size", f"{called(name, 'cylinder')}, size")
    arm_from = _from(f"{path}.x", cylinder.x, "place", f"{called(name, 'cylinder')}, place")
    side_from = _from(f"{path}.y", cylinder.y, "place", f"{called(name, 'cylinder')}, side")
    return (
        Load(
            f"gas.{name}",
            called(name, "gas"),
            "gas",
            "trailer",
            gas,
            *place,
            gas_needs,
            arm_needs,
            path,
            mass_from=gas_from,
            arm_from=arm_from,
            side_from=side_from,
            side_needs=_missing(cylinder.y, f"{path}.y"),
        ),
        Load(
            f"cylinder.{name}",
            called(name, "cylinder"),
            "cylinder",
            "trailer",
            _si(cylinder.tare),
            *place,
            _missing(cylinder.tare, f"{path}.tare"),
            arm_needs,
            path,
            mass_from=_from(f"{path}.tare", cylinder.tare, "stamp", f"{called(name, 'cylinder')}, tare"),
            arm_from=arm_from,
            side_from=side_from,
            side_needs=_missing(cylinder.y, f"{path}.y"),
        ),
    )


def _item(sort: Sort, item: PlacedMass, path: str) -> Load:
    loose = sort == "cargo"
    return Load(
        f"{sort}.{item.name}",
        item.name,
        sort,
        "trailer",
        _si(item.weight),
        _si(item.x),
        _si(item.y),
        _si(item.z),
        _missing(item.weight, f"{path}.weight"),
        _missing(item.x, f"{path}.x"),
        path,
        isinstance(item, TrailerLoad) and item.movable,
        _from(f"{path}.weight", item.weight, "cargo" if loose else "item", f"{item.name}, weight"),
        _from(f"{path}.x", item.x, "cargo place" if loose else "place", f"{item.name}, place"),
        _from(f"{path}.y", item.y, "cargo place" if loose else "place", f"{item.name}, side"),
        item.set or "",
        _missing(item.y, f"{path}.y"),
    )


def _carried(item: VehicleLoad, path: str) -> Load:
    return Load(
        f"carried.{item.name}",
        item.name,
        "cargo",
        "vehicle",
        _si(item.weight),
        _si(item.ahead_of_rear_axle),
        None,
        None,
        _missing(item.weight, f"{path}.weight"),
        _missing(item.ahead_of_rear_axle, f"{path}.ahead_of_rear_axle"),
        path,
        item.movable,
        _from(f"{path}.weight", item.weight, "cargo", f"{item.name}, weight"),
        _from(f"{path}.ahead_of_rear_axle", item.ahead_of_rear_axle, "cargo place", f"{item.name}, place"),
        set=item.set or "",
    )


def _person(person: Occupant, seats: Mapping[str, Quantity], path: str) -> Load:
    seat = seats.get(person.seat or "")
    where = need(f"{path}.seat") if person.seat is None else need(f"vehicle.seats.{person.seat}")
    return Load(
        f"person.{person.name}",
        person.name,
        "person",
        "vehicle",
        _si(person.weight),
        _si(seat),
        None,
        None,
        _missing(person.weight, f"{path}.weight"),
        () if seat is not None else (where,),
        path,
        mass_from=_from(f"{path}.weight", person.weight, "person", f"{person.name}, weight"),
        arm_from=_from(f"vehicle.seats.{person.seat}", seat, "place", f"{person.seat} seat, place"),
    )


def _fuel(rig: Rig) -> list[Load]:
    fuel = rig.vehicle.fuel
    if fuel is None:
        return [
            Load(
                "fuel",
                "fuel",
                "fuel",
                "vehicle",
                None,
                None,
                mass_needs=(need("vehicle.fuel"),),
                arm_needs=(need("vehicle.fuel"),),
                path="vehicle.fuel",
            )
        ]
    if fuel.kind == "none":
        return []
    density = tank_density("diesel" if fuel.kind == "diesel" else "fuel", None)  # gasoline or petrol
    full = None if fuel.capacity is None else fuel.capacity.si * density
    return [
        Load(
            "fuel",
            "fuel",
            "fuel",
            "vehicle",
            full,
            _si(fuel.ahead_of_rear_axle),
            None,
            None,
            _missing(fuel.capacity, "vehicle.fuel.capacity"),
            _missing(fuel.ahead_of_rear_axle, "vehicle.fuel.ahead_of_rear_axle"),
            "vehicle.fuel",
            mass_from=_from("vehicle.fuel.capacity", fuel.capacity, "volume", "fuel tank, capacity"),
            arm_from=_from(
                "vehicle.fuel.ahead_of_rear_axle", fuel.ahead_of_rear_axle, "place", "fuel tank, place"
            ),
        )
    ]


def all_loads(rig: Rig) -> tuple[Load, ...]:
    """List every load of a rig, trailer first, in the order of the file (masses [kg], arms [m]).

    Source: the rig file.
    """
    trailer = rig.trailer
    warm = _si(rig.water_temperature)
    made: list[Load] = [tank_load(n, t, warm) for n, t in trailer.tanks.items()]
    for name, cylinder in trailer.cylinders.items():
        made += cylinder_loads(name, cylinder)
    made += [_item("battery", b, f"trailer.batteries[{i}]") for i, b in enumerate(trailer.batteries)]
    made += [_item("cargo", c, f"trailer.cargo[{i}]") for i, c in enumerate(trailer.cargo)]
    made += [_person(p, rig.vehicle.seats, f"occupants[{i}]") for i, p in enumerate(rig.occupants)]
    if nobody(rig):
        asked = (need("occupants"),)
        made.append(
            Load("driver", "driver", "person", "vehicle", None, None, None, None, asked, asked, "occupants")
        )
    made += [_carried(c, f"vehicle.cargo[{i}]") for i, c in enumerate(rig.vehicle.cargo)]
    made += _fuel(rig)
    return tuple(made)


def perhaps_held(rig: Rig, loads: Iterable[Load], now: Aboard) -> float:
    """Mass of what counts as payload now although the weight of the papers may hold it [kg].

    Args:
        rig: the rig.
        loads: its loads [kg].
        now: what is aboard (shares [-]).

    Source: ``aboard.perhaps_kept``.
    """
    keys = perhaps_kept(rig)
    return sum(
        load.full * (now.shares.get(load.key) or 0.0) for load in loads if load.key in keys and load.full
    )
