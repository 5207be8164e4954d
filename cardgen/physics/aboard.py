"""What is aboard: in each loading case, and in the stated empty and curb states.

Shares are per load of ``full``; an unknown share carries what is missing.

Source: the rig file.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from cardgen.model.needs import Need
from cardgen.model.rig import Case, Rig
from cardgen.physics.inputs import Origin
from cardgen.physics.needs import need
from cardgen.units import Quantity


def called(name: str, noun: str) -> str:
    """A thing by its owner's name, its kind said once: ``fresh`` is the fresh tank, ``fuel tank`` the fuel tank [-].

    Args:
        name: what the owner calls it [-].
        noun: its kind, such as ``tank`` [-].

    Source: none; words only.
    """
    return name if name.lower().endswith(noun) else f"{name} {noun}"


@dataclass(frozen=True, slots=True)
class Aboard:
    """How much of each load is aboard, as a share of ``full`` [-]; None when unknown.

    Args:
        shares: share by load key [-].
        needs: what is missing where a share is None.
        fills: the field behind a share, where there is one.
    """

    shares: Mapping[str, float | None]
    needs: Mapping[str, tuple[Need, ...]]
    fills: Mapping[str, Origin] = field(default_factory=dict)


PAPERS = ("uk", "eu", "au", "nz")
"""Markets whose papers state what the trailer weighs without gas, water and battery, and count these as payload [-].

Common practice, no source; the file says where its papers count otherwise."""
FROM_PAPERS = ("label", "brochure")
"""Evidence of an empty weight that papers state [-]."""


def put_in(rig: Rig) -> tuple[str, ...]:
    """Keys of cylinders, their gas and batteries that the papers of the trailer count as payload [-].

    None in North America; elsewhere all but those of which the file says that they are in the weight of the papers.

    Source: common practice, no source.
    """
    if rig.market not in PAPERS:
        return ()
    state = empty_aboard(rig).shares if rig.trailer.empty.source in FROM_PAPERS else {}
    keys = [f"{part}.{name}" for name in rig.trailer.cylinders for part in ("cylinder", "gas")]
    keys += [f"battery.{battery.name}" for battery in rig.trailer.batteries]
    told = {f"cylinder.{name}" for name in rig.trailer.empty.includes.cylinders}
    kept = {key for key in keys if state.get(key) == 1.0 and (key in told or not key.startswith("cylinder."))}
    return tuple(key for key in keys if key not in kept)


def perhaps_kept(rig: Rig) -> tuple[str, ...]:
    """Keys of what counts as payload although it may be in the weight of the papers: the file says neither [-].

    Source: see ``put_in``.
    """
    empty = rig.trailer.empty
    if empty.source not in (None, *FROM_PAPERS):
        return ()
    shares = empty_aboard(rig).shares
    return tuple(key for key in put_in(rig) if shares.get(key) in (None, 1.0))


def _missing(value: object | None, path: str) -> tuple[Need, ...]:
    return () if value is not None else (need(path),)


def _share(quantity: Quantity | None, full_volume: Quantity | None) -> float | None:
    """Turn a fill into a share of the tank [-]; a volume needs the tank's capacity."""
    if quantity is None:
        return None
    if quantity.kind == "fraction":
        return quantity.si
    if quantity.kind == "volume" and full_volume is not None and full_volume.si > 0:
        return quantity.si / full_volume.si
    return None


def nobody(rig: Rig) -> bool:
    """Whether some loading case has nobody aboard: no vehicle drives itself, so a driver is asked for [-].

    Args:
        rig: the rig.

    Source: plain sense.
    """
    return any(not rig.occupants or case.occupants == () for case in rig.cases)


def case_aboard(rig: Rig, case: Case, index: int) -> Aboard:
    """Say how much of each load is aboard in a loading case (shares [-]).

    Source: the rig file.
    """
    path = f"cases[{index}]"
    shares: dict[str, float | None] = {}
    needs: dict[str, tuple[Need, ...]] = {}
    fills: dict[str, Origin] = {}
    _fluids(rig, case.tanks, case.cylinders, case.without, path, shares, needs, fills, case.cargo)
    for item in rig.trailer.cargo:
        shares[f"cargo.{item.name}"] = float(item.set is None or item.set in case.cargo)
    for carried in rig.vehicle.cargo:
        shares[f"carried.{carried.name}"] = float(carried.set is None or carried.set in case.cargo)
    for person in rig.occupants:
        shares[f"person.{person.name}"] = float(case.occupants is None or person.name in case.occupants)
    if nobody(rig):
        shares["driver"] = float(not rig.occupants or case.occupants == ())
    capacity = rig.vehicle.fuel.capacity if rig.vehicle.fuel else None
    shares["fuel"] = _share(case.fuel, capacity)
    needs["fuel"] = _missing(shares["fuel"], f"{path}.fuel")
    _keep(fills, "fuel", f"{path}.fuel", case.fuel, "fuel, filling")
    return Aboard(shares, needs, fills)


def _fluids(
    rig: Rig,
    tanks: Mapping[str, Quantity],
    cylinders: Mapping[str, Quantity],
    without: Iterable[str],
    path: str,
    shares: dict[str, float | None],
    needs: dict[str, tuple[Need, ...]],
    fills: dict[str, Origin],
    sets: Iterable[str] | None = None,
) -> None:
    """Fill in tanks, cylinders and batteries of a case or of the empty state."""
    left = set(without)
    for name, tank in rig.trailer.tanks.items():
        share = _share(tanks.get(name), tank.capacity)
        shares[f"tank.{name}"] = share
        needs[f"tank.{name}"] = _missing(share, f"{path}.tanks.{name}")
        _keep(
            fills, f"tank.{name}", f"{path}.tanks.{name}", tanks.get(name), f"{called(name, 'tank')}, filling"
        )
    for name in rig.trailer.cylinders:
        share = 0.0 if name in left else _share(cylinders.get(name), None)
        shares[f"gas.{name}"] = share
        needs[f"gas.{name}"] = _missing(share, f"{path}.cylinders.{name}")
        shares[f"cylinder.{name}"] = 0.0 if name in left else 1.0
        if name not in left:
            label = f"{called(name, 'gas')}, filling"
            _keep(fills, f"gas.{name}", f"{path}.cylinders.{name}", cylinders.get(name), label)
    for battery in rig.trailer.batteries:
        home = battery.name in left or not (sets is None or battery.set is None or battery.set in sets)
        shares[f"battery.{battery.name}"] = 0.0 if home else 1.0


def _keep(fills: dict[str, Origin], key: str, path: str, stated: Quantity | None, label: str) -> None:
    if stated is not None:
        fills[key] = Origin(path, stated, "fill", label)


def empty_aboard(rig: Rig) -> Aboard:
    """Say what was aboard when trailer empty weight and vehicle curb weight held (shares [-]).

    Source: the rig file.
    """
    state = rig.trailer.empty.includes
    path = "trailer.empty.includes"
    shares: dict[str, float | None] = {}
    needs: dict[str, tuple[Need, ...]] = {}
    fills: dict[str, Origin] = {}
    _fluids(rig, state.tanks, state.cylinders, state.without, path, shares, needs, fills)
    if rig.market in PAPERS and rig.trailer.empty.source in (None, *FROM_PAPERS):
        for battery in rig.trailer.batteries:
            if battery.name not in (*state.cargo, *state.without):
                key, told = f"battery.{battery.name}", rig.trailer.empty.source
                shares[key], needs[key] = (
                    (None if told is None else 0.0),
                    _missing(told, "trailer.empty.source"),
                )
    for item in rig.trailer.cargo:
        shares[f"cargo.{item.name}"] = float(item.name in state.cargo)
    for carried in rig.vehicle.cargo:
        shares[f"carried.{carried.name}"] = 0.0
    for person in rig.occupants:
        shares[f"person.{person.name}"] = 0.0
    if nobody(rig):
        shares["driver"] = 0.0
    capacity = rig.vehicle.fuel.capacity if rig.vehicle.fuel else None
    shares["fuel"] = _share(rig.vehicle.curb.includes.fuel, capacity)
    needs["fuel"] = _missing(shares["fuel"], "vehicle.curb.includes.fuel")
    stated = rig.vehicle.curb.includes.fuel
    _keep(fills, "fuel", "vehicle.curb.includes.fuel", stated, "fuel at {curb}, filling")
    return Aboard(shares, needs, fills)
