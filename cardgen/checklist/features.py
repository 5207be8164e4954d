"""Derive the features that conditions ask for from a rig.

What a missing field means
--------------------------
- Objects the rig file describes (spare wheel, weight-distributing hitch, tanks,
  batteries, LP cylinders) are there when they are described. A living space that
  lists no cylinder may still have one, so ``lp`` is then unknown (None).
- What the trailer's body tells is taken from it: a boat trailer carries a boat,
  a horse trailer animals, a caravan, camper or travel trailer has rooms.
- What a body has no place for is not there: rooms, gas and a refrigerator on an
  open trailer, straps and carried vehicles in a caravan, animals on a car hauler,
  chains on a fifth wheel.
  One thing that is stated makes room for its kin: cylinders on any body leave open
  whether people use it, a ramp on a caravan whether it has a hold.
  A boat's straps have lines of their own, so ``tiedowns`` is no feature of it.
- Everything else that is left out is None. A condition that rests on it keeps a
  safety-critical line, marked "if fitted"; for other lines the feature's
  ``left_out`` decides (see ``features.yaml``).
"""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.checklist.conditions import Value
from cardgen.model.rig import Rig
from cardgen.tables.connectors import carries
from cardgen.units import Quantity

WIDE = 2.032
"""Trailer width [m] from which US law asks for clearance and identification lamps:
80 in, 49 CFR 393.11 and FMVSS 108, as charted by the Texas DPS."""
REVERSE_WIRE = ("5-flat", "7-blade", "7-flat-au", "12-flat-au", "13-pin")
"""Plugs with a reverse lamp circuit (ISO 11446, SAE J2863 family; flat AU plugs from memory)."""
SLACK = 5e-4
"""Half a millimetre [m]: a width within it of another is not told from it; a project choice."""
ROOMS = ("camper", "travel_trailer", "caravan")
MAY_HAVE_ROOMS = ("horse", "cargo")
DECKS = ("utility", "car_hauler")
HOLDS = (*DECKS, "cargo")


def features(rig: Rig) -> dict[str, Value]:
    """Return every feature of a rig; None where the rig file does not say.

    Args:
        rig: the rig as the model holds it.

    Returns:
        feature name to text, flag or count [-], with the names of ``features.yaml``.
    """
    made: dict[str, Value] = {}
    for part in (_coupling, _brakes, _electric, _running_gear, _tanks_gas, _rooms, _cargo, _vehicle):
        made |= part(rig)
    return made


def _coupling(rig: Rig) -> dict[str, Value]:
    trailer, vehicle, gear = rig.trailer, rig.vehicle, rig.gear
    ball = trailer.type == "ball"
    chains, secondary = trailer.chains.count, trailer.secondary_coupling
    if secondary and chains == 0:  # a cable is no chain, and is hooked all the same
        chains = 1
    friction = trailer.coupler.friction
    if trailer.type == "fifth_wheel" or (friction is None and rig.market in ("us", "ca")):
        friction = False
    mount: bool | None = None
    if not ball or (vehicle.receiver is not None and vehicle.receiver.fixed_ball):
        mount = False
    elif vehicle.receiver is not None or gear.mount is not None:
        mount = True
    tailgate = vehicle.tailgate
    if tailgate is None and vehicle.kind is not None and vehicle.kind != "pickup":
        tailgate = False
    bars: bool | None = gear.weight_distribution is not None
    if "gear" in rig.absent:
        bars = None  # the gear of a vehicle that is not known
    return {
        "coupler": trailer.type,
        "market": rig.market,
        "commercial": rig.use == "commercial",
        "lending": rig.use == "lending",
        "address": bool(rig.preferences.base_url),
        "ball_mount": mount,
        "friction_coupler": friction,
        "chains": 0 if chains is None and trailer.type == "fifth_wheel" else chains,
        "jack": trailer.jack,
        "weight_distribution": bars if ball else False,
        "sway_control": gear.sway_control if ball else "none",
        "tailgate": tailgate,
    }


def _brakes(rig: Rig) -> dict[str, Value]:
    brakes = rig.trailer.brakes
    kind = brakes.kind
    breakaway, parking = rig.trailer.breakaway.fitted, brakes.parking
    if kind == "none":
        breakaway, parking = breakaway or False, parking or False
    elif parking is None and rig.market in ("us", "ca"):
        parking = False
    return {
        "brakes": kind,
        "cab_brakes": None if kind is None else kind in ("electric", "electric_hydraulic"),
        "breakaway": breakaway,
        "parking_brake": parking,
    }


def _electric(rig: Rig) -> dict[str, Value]:
    plug = rig.trailer.connector
    return {
        "connector": plug,
        "reverse_wire": _reverse_wire(plug, rig.vehicle.connector),
        "charge_wire": rig.vehicle.charge_wire,
        "plug_adapter": rig.gear.plug_adapter,
        "trailer_battery": bool(rig.trailer.batteries),
        "sway_electronics": rig.trailer.features.sway_electronics,
    }


def _reverse_wire(plug: str | None, socket: str | None) -> bool | None:
    """Whether the reverse lamp circuit goes through plug and socket [-]; None when the plug is unknown."""
    if plug is None:
        return None
    return plug in REVERSE_WIRE and (socket is None or carries(socket, "reverse") is not False)


def _running_gear(rig: Rig) -> dict[str, Value]:
    trailer, vehicle = rig.trailer, rig.vehicle
    width, other = trailer.dimensions.width, vehicle.width
    return {
        "spare": trailer.spare is not None,
        "axles": trailer.axles.count,
        "dual_tires": trailer.axles.tires_per_axle == 4,
        "tpms": trailer.features.tpms,
        "chocks": trailer.features.chocks,
        "stabilizers": _living(rig, trailer.features.stabilizers, 0),
        "wide_trailer": None if width is None else _most(width) >= WIDE - SLACK,
        "wider_than_vehicle": None if width is None or other is None else _most(width) > other.si + SLACK,
    }


def _most(width: Quantity) -> float:
    """The most that a stated width can be [m]."""
    return width.si + (width.half_width or 0.0)


def _tanks_gas(rig: Rig) -> dict[str, Value]:
    trailer, gear = rig.trailer, rig.trailer.features
    held = {tank.holds for tank in trailer.tanks.values()}
    count: int | None = len(trailer.cylinders)
    burners = gear.lp_appliances
    if burners is None and not _may_live_in(rig):
        burners = False
    lp: bool | None = bool(count)
    if not count and burners is not False:
        lp, count = burners, None
    return {
        "lp": lp,
        "lp_cylinders": count,
        "lp_appliances": burners,
        "fresh_tank": "fresh" in held,
        "waste_tanks": bool(held & {"grey", "black"}),
        "black_tank": "black" in held,
        "water_heater": "heater" in held,
        "fuel_tank": bool(held & {"fuel", "diesel"}),
        "fridge": _living(rig, gear.fridge, "none"),
        "generator": _living(rig, gear.generator, False),
    }


def _rooms(rig: Rig) -> dict[str, Value]:
    gear = rig.trailer.features
    flags: Mapping[str, Value] = {
        "windows": gear.windows,
        "screen_door": gear.screen_door,
        "converter": gear.converter,
        "awning": gear.awning,
        "steps": gear.steps,
        "antenna": gear.antenna,
        "shore_power": gear.shore_power,
    }
    made = {name: _living(rig, value, False) for name, value in flags.items()}
    made["roof_vents"] = _living(rig, gear.roof_vents, 0)
    made["slide_outs"] = _living(rig, gear.slide_outs, 0)
    made["outside_hatches"] = gear.outside_hatches
    made["living_space"] = _has_rooms(rig)
    return made


def _has_rooms(rig: Rig) -> bool | None:
    stated = rig.trailer.features.living_space
    if stated is not None or rig.trailer.body in ROOMS:
        return stated is not False
    return None if rig.trailer.body in MAY_HAVE_ROOMS or _homely(rig) else False


def _may_live_in(rig: Rig) -> bool:
    return _has_rooms(rig) is not False or _homely(rig)


def _homely(rig: Rig) -> bool:
    """Whether something is stated that is found where people live."""
    trailer, gear = rig.trailer, rig.trailer.features
    water = {tank.holds for tank in trailer.tanks.values()} & {"fresh", "grey", "black", "heater"}
    kin = (gear.lp_appliances, gear.windows, gear.screen_door, gear.converter, gear.awning, gear.shore_power)
    many = (gear.roof_vents, gear.slide_outs)
    return bool(trailer.cylinders or water or gear.fridge not in (None, "none") or any(kin) or any(many))


def _living(rig: Rig, value: Value, absent: Value) -> Value:
    """Leave out what a trailer that nobody can live in has no place for, unless it is stated."""
    return absent if value is None and not _may_live_in(rig) else value


def _cargo(rig: Rig) -> dict[str, Value]:
    body, gear = rig.trailer.body, rig.trailer.features
    boat = body == "boat"
    kin = any((gear.tiedowns, gear.carries_vehicle, gear.enclosed_cargo, gear.open_deck))
    kin = not boat and (kin or (bool(gear.ramp) and body != "horse"))
    hold = body in HOLDS or kin
    boxed = (hold or body == "horse") and not gear.open_deck
    enclosed: bool | None = body == "cargo" or (None if boxed else False)
    if gear.enclosed_cargo is not None:
        enclosed = gear.enclosed_cargo
    carried: bool | None = body == "car_hauler" or (None if hold else False)
    if gear.carries_vehicle is not None:
        carried = gear.carries_vehicle
    animals: bool | None = body == "horse" or (None if gear.partitions or body == "cargo" else False)
    deck = gear.open_deck
    if deck is None:
        deck = body in DECKS and not enclosed
    return {
        "tiedowns": False if boat or (gear.tiedowns is None and not hold) else gear.tiedowns,
        "carries_vehicle": carried,
        "open_deck": deck,
        "enclosed_cargo": enclosed,
        "ramp": gear.ramp,
        "bike_rack": gear.bike_rack,
        "boat": boat,
        "outboard": gear.outboard if boat else False,
        "winch": gear.winch if boat else False,
        "livestock": animals if gear.livestock is None else gear.livestock,
        "partitions": gear.partitions,
    }


def _vehicle(rig: Rig) -> dict[str, Value]:
    vehicle = rig.vehicle
    return {
        "tow_mirrors": vehicle.mirrors.towing,
        "camera": vehicle.camera,
        "tow_mode": vehicle.tow_mode,
    }
