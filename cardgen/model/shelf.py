"""Every vehicle and trailer among the shared parts, read one by one, and the rig file of any two of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from cardgen.model.read import judge
from cardgen.model.rig import Rig
from cardgen.model.trailer import Trailer
from cardgen.model.vehicle import Vehicle
from cardgen.source.check import check
from cardgen.source.disk import Disk, Store
from cardgen.source.faults import Fault, Place
from cardgen.source.limits import Bounds
from cardgen.source.parts import Loaded, load
from cardgen.source.tree import Keyed, Node, branch, plain_tree

T = TypeVar("T")
APART = "bed-hitch"
"""Code of the fault that says that two parts cannot couple [-]."""


@dataclass(frozen=True, slots=True)
class Shelf:
    """The shared vehicles and trailers.

    Args:
        vehicles, trailers: by name of the part, for example ``vehicles/slate`` [-].
        faults: what could not be read.
        files: every file that was read.
        loaded: what was read of each part, by its name [-].
    """

    vehicles: dict[str, Vehicle]
    trailers: dict[str, Trailer]
    faults: tuple[Fault, ...]
    files: tuple[Path, ...]
    loaded: Mapping[str, Loaded]

    def uses(self, part: str, rig: Loaded) -> bool:
        """Whether a rig file takes in a part [-]."""
        return self.loaded[part].files[1] in rig.files


@dataclass(frozen=True, slots=True)
class PairRig:
    """A shared vehicle with a shared trailer.

    Args:
        rig: the rig that the file of the pair describes; None when it has faults.
        own: nickname of the rig that is this pair; empty when none is [-].
        refused: the first fault of the file, in words; empty when it has none [-].
        code: code of that fault [-].
        others: further rigs that are this pair, with other gear or loads.
    """

    rig: Rig | None
    own: str = ""
    refused: str = ""
    code: str = ""
    others: tuple[PairRig, ...] = ()


@dataclass(frozen=True, slots=True)
class Known:
    """A rig that was read, and what its file and parts hold."""

    rig: Rig
    loaded: Loaded


class _One:
    """A store that holds one more file, which does nothing but refer to a part."""

    def __init__(self, path: Path, text: str, under: Store) -> None:
        self._path = path
        self._text = text
        self._under = under

    def read_bytes(self, path: Path, limit: int) -> bytes:
        """Bytes of the extra file or of the store below."""
        return self._text.encode() if path == self._path else self._under.read_bytes(path, limit)

    def inside(self, path: Path, folder: Path) -> bool:
        """Whether a file lies inside a folder."""
        return self._under.inside(path, folder)

    def parts(self, folder: Path) -> Iterable[str]:
        """Names of the parts in a folder."""
        return self._under.parts(folder)


def read_shelf(rigs: Path, store: Store | None = None, bounds: Bounds | None = None) -> Shelf:
    """Read all parts below ``parts/vehicles`` and ``parts/trailers`` of a folder of rigs.

    Args:
        rigs: the folder.
        store: where bytes come from; the disk when None.
        bounds: how much a file may hold; the usual bounds when None.
    """
    under, limits = store or Disk(), bounds or Bounds()
    try:
        names = sorted(under.parts(rigs / "parts"))
    except OSError:
        names = []
    faults: list[Fault] = []
    files: dict[Path, None] = {}
    kept: dict[str, Loaded] = {}

    def read(prefix: str, shape: type[T]) -> dict[str, T]:
        found: dict[str, T] = {}
        for name in names:
            if not name.startswith(prefix):
                continue
            path = rigs / ".part.yaml"
            loaded = load(path, _One(path, f"part: {name}\n", under), limits)
            files.update(dict.fromkeys(loaded.files[1:]))
            problems = list(loaded.faults)
            value: T | None = None
            if loaded.top is not None and not problems:
                checked = check(plain_tree(loaded.top), shape, loaded.holes)
                problems += checked.faults
                value = checked.value
            faults.extend(problems)
            if value is not None and not problems:
                found[name], kept[name] = value, loaded
        return found

    vehicles, trailers = read("vehicles/", Vehicle), read("trailers/", Trailer)
    return Shelf(vehicles, trailers, tuple(faults), tuple(files), kept)


def pair(shelf: Shelf, vehicle: str, trailer: str, rigs: Sequence[Known]) -> PairRig:
    """Read the rig file that a vehicle and a trailer together would have.

    A rig that has both is the pair, and so is every further one. Otherwise the file is that of the first rig with the trailer, its
    loading cases, people and coupling gear, with the other vehicle in it: what belongs to the first
    vehicle alone (its weighings, an adapter for its socket, gear of a fixed ball, the seats of its people)
    stays away, and what the other vehicle carries rides along. A trailer that no rig has is taken full,
    nobody in the vehicle.

    Args:
        shelf: the shared parts.
        vehicle, trailer: names of the parts [-].
        rigs: the rigs of the folder, as read.
    """
    both = [one for one in rigs if shelf.uses(vehicle, one.loaded) and shelf.uses(trailer, one.loaded)]
    if both:
        first, *others = (PairRig(one.rig, one.rig.nickname) for one in both)
        return replace(first, others=tuple(others))
    base = next((known for known in rigs if shelf.uses(trailer, known.loaded)), None)
    own = [known.rig for known in rigs if shelf.uses(vehicle, known.loaded)]
    place = Place("pair")
    top = shelf.loaded[trailer].top if base is None else base.loaded.top
    assert top is not None  # a part or rig with faults is not among the known
    lines = (
        _full(shelf, vehicle, trailer, own, rigs, place) if base is None else _carried(shelf, vehicle, base)
    )
    lines["vehicle"] = _vehicle(shelf, vehicle, shelf.trailers[trailer].type, own)
    keyed = {key: Keyed(node.place, node) for key, node in lines.items() if node is not None}
    read = judge(Loaded(branch(keyed, top.place), [], (Path("pair"),), frozenset()), Path("pair"))
    if read.rig is not None:
        return PairRig(read.rig)
    fault = next((one for one in read.faults if one.code == APART), read.faults[0])
    return PairRig(None, "", fault.message, fault.code)


def _part(shelf: Shelf, name: str) -> Node:
    """The lines of a part."""
    top = shelf.loaded[name].top
    assert top is not None  # parts with faults are left out of the shelf
    return top


def _without(node: Node, *keys: str) -> Node:
    """A mapping without some of its lines."""
    if not isinstance(node.value, dict):
        return node
    return branch({key: line for key, line in node.value.items() if key not in keys}, node.place)


def _plain(value: object, place: Place) -> Node:
    """Lines that nobody wrote."""
    if isinstance(value, dict):
        return branch({str(k): Keyed(place, _plain(v, place)) for k, v in value.items()}, place)
    if isinstance(value, list):
        return branch([_plain(one, place) for one in value], place)
    return Node(str(value), place, True)


def _vehicle(shelf: Shelf, name: str, coupling: str, own: Sequence[Rig]) -> Node:
    """The vehicle; an overhang that was measured for another kind of coupling is not this one's."""
    vehicle, node = shelf.vehicles[name], _part(shelf, name)
    both = vehicle.receiver is not None and vehicle.bed_hitch is not None
    alike = any(rig.alone is None and (rig.trailer.type == "ball") == (coupling == "ball") for rig in own)
    return _without(node, "overhang") if both and not alike else node


def _sets(vehicle: Vehicle) -> list[str]:
    return list(dict.fromkeys(one.set for one in vehicle.cargo if one.set is not None))


def _carried(shelf: Shelf, name: str, base: Known) -> dict[str, Node | None]:
    """Lines of the rig that has the trailer, less what belongs to its vehicle alone."""
    vehicle, top = shelf.vehicles[name], base.loaded.top
    assert top is not None  # the rig was read without a fault
    assert isinstance(top.value, dict)
    lines: dict[str, Node | None] = {key: line.value for key, line in top.value.items()}
    lines["weighings"] = None
    gear = lines.get("gear")
    if gear is not None:
        fixed = _fixed(vehicle)
        fits = not fixed if base.rig.alone else _fixed(base.rig.vehicle) == fixed
        lines["gear"] = _without(gear, "plug_adapter") if fits else None
    people = lines.get("occupants")
    if people is not None and isinstance(people.value, list):
        lines["occupants"] = branch([_seated(one, vehicle) for one in people.value], people.place)
    cases = lines.get("cases")
    if cases is not None and isinstance(cases.value, list):
        lines["cases"] = branch([_loaded(one, _sets(vehicle)) for one in cases.value], cases.place)
    return lines


def _fixed(vehicle: Vehicle) -> bool | None:
    return None if vehicle.receiver is None else vehicle.receiver.fixed_ball


def _seated(person: Node, vehicle: Vehicle) -> Node:
    """A person, in a seat row only where the vehicle has one of that name."""
    seat = person.value.get("seat") if isinstance(person.value, dict) else None
    return person if seat is None or seat.value.value in vehicle.seats else _without(person, "seat")


def _loaded(case: Node, sets: Sequence[str]) -> Node:
    """A loading case with everything aboard that the vehicle can carry."""
    if not isinstance(case.value, dict) or not sets:
        return case
    line = case.value.get("cargo")
    listed = line.value.value if line is not None and isinstance(line.value.value, list) else []
    named = [node.value for node in listed]
    more = [_plain(one, case.place) for one in sets if one not in named]
    cargo = branch([*listed, *more], case.place)
    return branch({**case.value, "cargo": Keyed(case.place, cargo)}, case.place)


def _full(
    shelf: Shelf, vehicle: str, trailer: str, own: Sequence[Rig], rigs: Sequence[Known], place: Place
) -> dict[str, Node | None]:
    """A rig with everything aboard: clean water and gas full, waste empty, every cargo set, fuel full."""
    known = own or [one.rig for one in rigs]
    carrier, carried = shelf.vehicles[vehicle], shelf.trailers[trailer]
    tanks = {n: "empty" if t.holds in ("grey", "black") else "full" for n, t in carried.tanks.items()}
    sets = list(
        dict.fromkeys(
            [*(c.set for c in (*carried.cargo, *carried.batteries) if c.set is not None), *_sets(carrier)]
        )
    )
    case: dict[str, object] = {"name": "everything aboard", "tanks": tanks, "fuel": "full", "cargo": sets}
    case["cylinders"] = dict.fromkeys(carried.cylinders, "full")
    plain = {"nickname": "pair", "market": known[0].market if known else "us", "cases": [case]}
    lines: dict[str, Node | None] = {key: _plain(value, place) for key, value in plain.items()}
    return lines | {"trailer": _part(shelf, trailer)}
