"""What may be aboard at all: tanks, cylinders, cargo sets, people and fuel as groups.

Every load of a rig belongs to one group, and the groups do not depend on each
other, so the best filling for a linear total is found group by group, exactly.

- tanks and fuel: anywhere from empty to full;
- waste tanks: likewise, as a hookup fills them whatever the fresh tank holds. When the
  owner declares that the rig never stands on one, together no more than fresh tank and
  water heater can supply in one tankful, or than a loading case declares, whichever is
  larger. Water may be refilled before the waste is dumped, so what the fresh tank
  holds at the moment does not count against it. Without a fresh tank or heater, or
  when a capacity is unknown, there is no such limit, which only widens the range;
- LP cylinders: gas from empty to full; the whole cylinder aboard or not when a
  loading case leaves it at home;
- batteries: likewise when a loading case leaves one at home; one of a cargo set never without its set;
- cargo sets: all of a set or nothing, in trailer and vehicle together;
- people: those who ride in every case always do; of the others never fewer in all
  than the case with the fewest people.

Source: a convention of this project, no source.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from cardgen.model.rig import Rig
from cardgen.physics.loads import Load, case_aboard


@dataclass(frozen=True, slots=True)
class Group:
    """Loads whose shares are chosen together.

    Args:
        key: stable name [-].
        kind: ``free``, ``waste``, ``cylinder``, ``all`` (all or nothing) or ``people`` [-].
        members: numbers of the loads [-]; a cylinder's steel comes before its gas.
        volumes: capacity of each member [m3], for ``waste``.
        limit: largest sum of filled volumes [m3], for ``waste``.
        loose: members that may be left at home by themselves, of a cylinder its steel with the gas [-].
        least: fewest people aboard, of the members, for ``people`` [-].

    Source: see the module.
    """

    key: str
    kind: str
    members: tuple[int, ...]
    volumes: tuple[float, ...] = ()
    limit: float = float("inf")
    loose: tuple[int, ...] = ()
    least: int = 0


@dataclass(frozen=True, slots=True)
class Fillings:
    """All that can be aboard.

    Args:
        groups: loads that can change.
        fixed: share of each load that is always the same, by its number [-].

    Source: see the module.
    """

    groups: tuple[Group, ...]
    fixed: Mapping[int, float]


def fillings(rig: Rig, loads: Sequence[Load]) -> Fillings:
    """Sort the loads of a rig into groups.

    Args:
        rig: the rig, whose loading cases say what is ever left at home.
        loads: its loads (masses [kg]).

    Source: see the module.
    """
    number = {load.key: i for i, load in enumerate(loads)}
    groups: list[Group] = []
    fixed: dict[int, float] = {}
    left = {name for case in rig.cases for name in case.without}
    groups += _tanks(rig, number)
    for name in rig.trailer.cylinders:
        pair = (number[f"cylinder.{name}"], number[f"gas.{name}"])
        groups.append(Group(f"cylinder.{name}", "cylinder", pair, loose=pair[:1] if name in left else ()))
    for battery in rig.trailer.batteries:
        at = number[f"battery.{battery.name}"]
        if battery.set is None and battery.name in left:
            groups.append(Group(f"battery.{battery.name}", "all", (at,)))
        elif battery.set is None:
            fixed[at] = 1.0
    groups += _sets(
        loads, fixed, {number[f"battery.{b.name}"] for b in rig.trailer.batteries if b.name in left}
    )
    groups += _people(rig, number, fixed)
    if "fuel" in number:
        groups.append(Group("fuel", "free", (number["fuel"],)))
    return Fillings(tuple(groups), fixed)


def _tanks(rig: Rig, number: Mapping[str, int]) -> list[Group]:
    tanks = rig.trailer.tanks
    waste = [n for n, t in tanks.items() if t.holds in ("grey", "black")]
    groups = [Group(f"tank.{n}", "free", (number[f"tank.{n}"],)) for n in tanks if n not in waste]
    limit = waste_limit(rig)
    if limit is None:
        return groups + [Group(f"tank.{n}", "free", (number[f"tank.{n}"],)) for n in waste]
    members = tuple(number[f"tank.{n}"] for n in waste)
    sizes = tuple(q.si for n in waste if (q := tanks[n].capacity) is not None)
    return [*groups, Group("waste", "waste", members, sizes, limit)]


def waste_limit(rig: Rig) -> float | None:
    """Largest volume of waste that may be aboard [m3]; None when it is not limited.

    Source: see the module.
    """
    tanks = rig.trailer.tanks
    waste = {n: t for n, t in tanks.items() if t.holds in ("grey", "black")}
    water = [t for t in tanks.values() if t.holds in ("fresh", "heater")]
    if not rig.limits.water_from_fresh_only or not waste or not water:
        return None
    if any(t.capacity is None for t in (*waste.values(), *water)):
        return None
    supply = sum(t.capacity.si for t in water if t.capacity is not None)
    declared = 0.0
    for i, case in enumerate(rig.cases):
        shares = case_aboard(rig, case, i).shares
        filled = [(shares.get(f"tank.{n}") or 0.0, t.capacity) for n, t in waste.items()]
        declared = max(declared, sum(share * q.si for share, q in filled if q is not None))
    return max(supply, declared)


def _sets(loads: Sequence[Load], fixed: dict[int, float], left: Collection[int]) -> list[Group]:
    sets: dict[str, list[int]] = {}
    for i, load in enumerate(loads):
        if load.set:
            sets.setdefault(load.set, []).append(i)
        elif load.sort == "cargo":
            fixed[i] = 1.0
    return [
        Group(f"set.{name}", "all", tuple(members), loose=tuple(i for i in members if i in left))
        for name, members in sets.items()
    ]


def _people(rig: Rig, number: Mapping[str, int], fixed: dict[int, float]) -> list[Group]:
    aboard = [
        {p.name for p in rig.occupants if case.occupants is None or p.name in case.occupants}
        for case in rig.cases
    ]
    if "driver" in number:
        fixed[number["driver"]] = 1.0
    always = set.intersection(*aboard) if aboard else set()
    free = []
    for person in rig.occupants:
        at = number[f"person.{person.name}"]
        if person.name in always:
            fixed[at] = 1.0
        else:
            free.append(at)
    least = min((len(names) for names in aboard), default=0) - len(always)
    return [Group("people", "people", tuple(free), least=least)] if free else []


def best(group: Group, gains: Mapping[int, float]) -> dict[int, float]:
    """Choose the shares of a group that make a linear total largest.

    Args:
        group: the group.
        gains: change of the total per unit of share, by load number [any unit]; absent is zero.

    Returns:
        Share by load number [-].

    Source: separable linear program; the waste group is a continuous knapsack, solved
    by filling in order of gain per volume.
    """
    values = {i: gains.get(i, 0.0) for i in group.members}
    if group.kind == "all":
        home = {i for i in group.loose if values[i] <= 0}
        along = sum(value for i, value in values.items() if i not in home) > 0
        return {i: float(along and i not in home) for i in group.members}
    if group.kind == "cylinder":
        steel, gas = group.members
        full = 1.0 if values[gas] > 0 else 0.0
        if group.loose and values[steel] + full * values[gas] <= 0:
            return {steel: 0.0, gas: 0.0}
        return {steel: 1.0, gas: full}
    if group.kind == "people":
        order = sorted(group.members, key=lambda i: -values[i])
        return {i: 1.0 if values[i] > 0 or at < group.least else 0.0 for at, i in enumerate(order)}
    if group.kind == "waste":
        return _knapsack(group, values)
    return {i: 1.0 if v > 0 else 0.0 for i, v in values.items()}


def _knapsack(group: Group, values: Mapping[int, float]) -> dict[int, float]:
    shares = dict.fromkeys(group.members, 0.0)
    room = group.limit
    sized = [(i, v) for i, v in zip(group.members, group.volumes, strict=True) if v > 0]
    for i, volume in sorted(sized, key=lambda pair: -values[pair[0]] / pair[1]):
        if values[i] <= 0 or room <= 0:
            break
        shares[i] = min(1.0, room / volume)
        room -= shares[i] * volume
    return shares
