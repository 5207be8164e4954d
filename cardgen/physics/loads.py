"""Every mass that can change, with its place: tanks, gas, cargo, batteries, people, fuel.

The rig's totals are linear in these masses, so one list of loads serves the
loading cases, the envelope over all fillings, the uncertainty and the report's
what-if page.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from cardgen.model.parts import Cylinder, Tank, TrailerLoad, VehicleLoad
from cardgen.model.results import Need
from cardgen.model.rig import Case, Occupant, Rig
from cardgen.physics.fluids import cylinder_gas, tank_density
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


@dataclass(frozen=True, slots=True)
class Aboard:
    """How much of each load is aboard, as a share of ``full`` [-]; None when unknown."""

    shares: Mapping[str, float | None]
    needs: Mapping[str, tuple[Need, ...]]


def _si(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.si


def _missing(value: object | None, path: str) -> tuple[Need, ...]:
    return () if value is not None else (need(path),)


def tank_load(name: str, tank: Tank, water_temperature: float | None) -> Load:
    """Make the load of one trailer tank.

    Args:
        name: name of the tank [-].
        tank: the tank.
        water_temperature: temperature of the water [K], None for 20 C.
    """
    path = f"trailer.tanks.{name}"
    density = tank_density(tank.holds, water_temperature)
    full = None if tank.capacity is None else tank.capacity.si * density
    sort: Sort = {"fresh": "fresh", "heater": "fresh", "grey": "waste", "black": "waste"}.get(  # type: ignore[assignment]  # values are Sort words
        tank.holds, "liquid"
    )
    return Load(
        f"tank.{name}",
        f"{name} tank",
        sort,
        "trailer",
        full,
        _si(tank.x),
        _si(tank.y),
        _si(tank.z),
        _missing(tank.capacity, f"{path}.capacity"),
        _missing(tank.x, f"{path}.x"),
        path,
    )


def cylinder_loads(name: str, cylinder: Cylinder) -> tuple[Load, Load]:
    """Make the loads of one LP cylinder: its gas and its steel (masses in kg)."""
    path = f"trailer.cylinders.{name}"
    gas = cylinder_gas(_si(cylinder.water_capacity), _si(cylinder.size))
    place = (_si(cylinder.x), _si(cylinder.y), _si(cylinder.z))
    arm_needs = _missing(cylinder.x, f"{path}.x")
    gas_needs = () if gas is not None else (need(f"{path}.water_capacity"),)
    return (
        Load(f"gas.{name}", f"{name} gas", "gas", "trailer", gas, *place, gas_needs, arm_needs, path),
        Load(
            f"cylinder.{name}",
            f"{name} cylinder",
            "cylinder",
            "trailer",
            _si(cylinder.tare),
            *place,
            _missing(cylinder.tare, f"{path}.tare"),
            arm_needs,
            path,
        ),
    )


def _item(sort: Sort, item: TrailerLoad, path: str) -> Load:
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
        item.movable and sort == "cargo",
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
    density = tank_density("diesel" if fuel.kind == "diesel" else "fuel", None)
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
        )
    ]


def all_loads(rig: Rig) -> tuple[Load, ...]:
    """List every load of a rig, trailer first, in the order of the file (masses kg, arms m)."""
    trailer = rig.trailer
    warm = _si(rig.water_temperature)
    made: list[Load] = [tank_load(n, t, warm) for n, t in trailer.tanks.items()]
    for name, cylinder in trailer.cylinders.items():
        made += cylinder_loads(name, cylinder)
    made += [_item("battery", b, f"trailer.batteries[{i}]") for i, b in enumerate(trailer.batteries)]
    made += [_item("cargo", c, f"trailer.cargo[{i}]") for i, c in enumerate(trailer.cargo)]
    made += [_person(p, rig.vehicle.seats, f"occupants[{i}]") for i, p in enumerate(rig.occupants)]
    made += [_carried(c, f"vehicle.cargo[{i}]") for i, c in enumerate(rig.vehicle.cargo)]
    made += _fuel(rig)
    return tuple(made)


def _share(quantity: Quantity | None, full_volume: Quantity | None) -> float | None:
    """Turn a fill into a share of the tank [-]; a volume needs the tank's capacity."""
    if quantity is None:
        return None
    if quantity.kind == "fraction":
        return quantity.si
    if quantity.kind == "volume" and full_volume is not None and full_volume.si > 0:
        return quantity.si / full_volume.si
    return None


def case_aboard(rig: Rig, case: Case, index: int) -> Aboard:
    """Say how much of each load is aboard in a loading case (shares [-])."""
    path = f"cases[{index}]"
    shares: dict[str, float | None] = {}
    needs: dict[str, tuple[Need, ...]] = {}
    _fluids(rig, case.tanks, case.cylinders, case.without, path, shares, needs)
    for item in rig.trailer.cargo:
        shares[f"cargo.{item.name}"] = float(item.set is None or item.set in case.cargo)
    for carried in rig.vehicle.cargo:
        shares[f"carried.{carried.name}"] = float(carried.set is None or carried.set in case.cargo)
    for person in rig.occupants:
        shares[f"person.{person.name}"] = float(case.occupants is None or person.name in case.occupants)
    capacity = rig.vehicle.fuel.capacity if rig.vehicle.fuel else None
    shares["fuel"] = _share(case.fuel, capacity)
    needs["fuel"] = _missing(shares["fuel"], f"{path}.fuel")
    return Aboard(shares, needs)


def _fluids(
    rig: Rig,
    tanks: Mapping[str, Quantity],
    cylinders: Mapping[str, Quantity],
    without: Iterable[str],
    path: str,
    shares: dict[str, float | None],
    needs: dict[str, tuple[Need, ...]],
) -> None:
    """Fill in tanks, cylinders and batteries of a case or of the empty state."""
    left = set(without)
    for name, tank in rig.trailer.tanks.items():
        share = _share(tanks.get(name), tank.capacity)
        shares[f"tank.{name}"] = share
        needs[f"tank.{name}"] = _missing(share, f"{path}.tanks.{name}")
    for name in rig.trailer.cylinders:
        share = 0.0 if name in left else _share(cylinders.get(name), None)
        shares[f"gas.{name}"] = share
        needs[f"gas.{name}"] = _missing(share, f"{path}.cylinders.{name}")
        shares[f"cylinder.{name}"] = 0.0 if name in left else 1.0
    for battery in rig.trailer.batteries:
        shares[f"battery.{battery.name}"] = 0.0 if battery.name in left else 1.0


def empty_aboard(rig: Rig) -> Aboard:
    """Say what was aboard when trailer empty weight and vehicle curb weight held (shares [-])."""
    state = rig.trailer.empty.includes
    path = "trailer.empty.includes"
    shares: dict[str, float | None] = {}
    needs: dict[str, tuple[Need, ...]] = {}
    _fluids(rig, state.tanks, state.cylinders, state.without, path, shares, needs)
    for item in rig.trailer.cargo:
        shares[f"cargo.{item.name}"] = float(item.name in state.cargo)
    for carried in rig.vehicle.cargo:
        shares[f"carried.{carried.name}"] = 0.0
    for person in rig.occupants:
        shares[f"person.{person.name}"] = 0.0
    capacity = rig.vehicle.fuel.capacity if rig.vehicle.fuel else None
    shares["fuel"] = _share(rig.vehicle.curb.includes.fuel, capacity)
    needs["fuel"] = _missing(shares["fuel"], "vehicle.curb.includes.fuel")
    return Aboard(shares, needs)
