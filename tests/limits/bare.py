"""Rigs that lack something: bare ones, and whole ones less one thing; and what every check asks for on them."""

from __future__ import annotations

import datetime as dt
import itertools
import json
from collections.abc import Iterable, Iterator
from contextlib import suppress
from copy import deepcopy
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from cardgen.bundle.reading import read_rig
from cardgen.commands.fieldpath import canonical
from cardgen.limits.registry import Context, rules
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from cardgen.source.shapes import Shape, shape_of, slots_of
from cardgen.tables.law import known_places
from cardgen.units.field import Kind
from cardgen.units.kinds import SAMPLE
from tests.limits.bench import BASES, tree_of

DAY = dt.date(2026, 1, 1)
"""Some day; what is missing does not depend on it."""
MARKETS = ("us", "ca", "uk", "eu", "au", "nz")
TYPES = ("ball", "gooseneck", "fifth_wheel")
BRAKES = ("electric", "surge", "none", "")
Kind3 = tuple[str, str, str]
ALL_KINDS: tuple[Kind3, ...] = tuple(itertools.product(MARKETS, TYPES, BRAKES))
"""Market, coupling and brakes of every rig that could make a difference."""
STOCKED: dict[str, Any] = {
    "cases": [{
        "name": "out", "cargo": ["trip"], "tanks": {"fresh": "1/2"}, "cylinders": {"left": "1/2"},
        "fuel": "1/2", "without": ["right", "one"],
    }],
    "trailer.batteries": [{"name": "one", "weight": "60 lb", "x": "2 ft", "y": "0 in"}],
    "trailer.tanks": {"fresh": {"holds": "fresh", "capacity": "20 gal", "x": "12 ft", "y": "0 in"}},
    "trailer.cylinders": {
        "left": {"water_capacity": "47.6 lb", "tare": "17 lb", "x": "1 ft", "y": "0 in"},
        "right": {"water_capacity": "47.6 lb", "tare": "17 lb", "x": "1 ft", "y": "0 in"},
    },
    "trailer.empty.includes": {"tanks": {"fresh": "empty"}, "cylinders": {"left": "full", "right": "full"}},
    "vehicle.curb.includes.driver": "150 lb",
    "vehicle.cargo": [{"name": "tools", "weight": "60 lb", "ahead_of_rear_axle": "1 ft"}],
    "gear.adapter": {"inside": "2 in", "outside": "2 in", "ratings": {"trailer": "6,000 lb", "tongue": "600 lb"}},
}  # fmt: skip
"""Something of every kind that can be aboard, and a case that leaves some of it out."""
BARS = {"restoration": "50 %", "ratings": {"trailer": "6,000 lb", "tongue": "600 lb"}}
FULLER: tuple[tuple[str, dict[str, Any]], ...] = (
    ("fern", STOCKED),
    ("elm", {**STOCKED, "gear.adapter": None}),
    ("teal", {**STOCKED, "gear.weight_distribution": BARS}),
    (
        "fern",
        {
            **STOCKED,
            "market": "au",
            "places": ["au"],
            "trailer.gtm": "3,400 lb",
            "trailer.axles": {
                "count": 2, "gawr": ["3,200 lb", "3,200 lb"], "ball_to_center": "14 ft", "track": "6 ft",
                "suspension": "independent", "spacing": "3 ft", "rate": "900 lb/in",
            },
            "trailer.tires": {
                "type": "LT", "size": "LT245/75R16", "load_range": "E", "max_load": "3,042 lb",
                "max_load_at": "80 psi", "speed_symbol": "R",
            },
            "gear.weight_distribution": BARS,
        },
    ),
    ("fern", {"places": list(known_places())}),
    ("fern", {"vehicle.tires.placard_size": "LT235/75R16", "trailer.year": 2005}),
)  # fmt: skip
"""Whole rigs with more to ask about than those of the bench: base and changes."""
_ADAPTER: TypeAdapter[Rig] = TypeAdapter(Rig)
_LEFT_OUT = frozenset(
    {"weighings", "checklist", "contacts", "preferences", "dates", "limits", "table", "stock"}
)


def barest(kind: Kind3, places: Iterable[str] = ()) -> Rig:
    """Make a rig that has every part and of which nothing but its kind is known."""
    market, coupling, brakes = kind
    made: dict[str, Any] = _bare(shape_of(Rig), True)
    made |= {"nickname": "Bare", "market": market, "places": list(places)}
    vehicle, trailer = made["vehicle"], made["trailer"]
    vehicle["seats"] = {}
    vehicle["fuel"]["kind"] = "gasoline"
    trailer["type"] = coupling
    trailer["axles"]["count"] = 2
    trailer["batteries"][0]["name"] = "two"
    trailer["brakes"]["kind"] = brakes or None
    if coupling == "ball":
        del vehicle["bed_hitch"]
    else:
        vehicle["bed_hitch"]["kind"] = coupling
        del made["gear"]["weight_distribution"]
    name = Path("barest.yaml")
    read = read_rig(name, _OneFile(name, json.dumps(made)))
    assert read.rig is not None, read.faults  # the rig above is right for every kind; a test makes them all
    return read.rig


def _bare(shape: Shape, required: bool) -> Any:
    """The least that may stand at a place, with every group there; None for what is left unknown."""
    if shape.form == "record":
        inner = {
            name: _bare(slot.shape, slot.required)
            for name, slot in slots_of(shape.hint).items()
            if name not in _LEFT_OUT
        }
        return {name: value for name, value in inner.items() if value is not None}
    if shape.item is not None and shape.form == "map":
        return {"one": _bare(shape.item, True)}
    if shape.item is not None:
        return [_bare(shape.item, True)] if shape.item.form == "record" else None
    if not required:
        return None
    kind = next((mark for mark in shape.extra if isinstance(mark, Kind)), None)
    if kind is not None:
        return kind.words[0][0] if kind.words else SAMPLE[kind.names[0]]
    return shape.choices[0] if shape.choices else "one"


class _OneFile:
    """A store with a single file and no parts."""

    def __init__(self, path: Path, text: str) -> None:
        self._path = path
        self._text = text.encode("utf-8")

    def read_bytes(self, path: Path, limit: int) -> bytes:
        """Bytes of the file."""
        if path != self._path:
            raise FileNotFoundError(2, "No such file or directory", str(path))
        return self._text[: limit + 1]

    def inside(self, path: Path, folder: Path) -> bool:
        """Whether a file lies inside a folder."""
        return path.is_relative_to(folder)

    def parts(self, folder: Path) -> Iterable[str]:
        """There are no parts."""
        return ()


def asked_of_bare() -> dict[str, set[str]]:
    """Fields each check asks for on all of them, by its code."""
    found: dict[str, set[str]] = {rule.code: set() for rule in rules()}
    for kind in ALL_KINDS:
        places = known_places() if kind[0] in ("us", "ca") else ()
        _ask(barest(kind, places), found)
    return found


def asked_of_gaps() -> dict[str, set[str]]:
    """Fields each check asks for on whole rigs from which one thing was taken, by its code."""
    found: dict[str, set[str]] = {rule.code: set() for rule in rules()}
    for whole in (*(tree_of(changes, base) for base, changes in FULLER), *BASES.values()):
        for path in _things(whole):
            with suppress(ValidationError):  # a thing the file may not leave out: the reader refuses it
                _ask(_ADAPTER.validate_python(_without(whole, path)), found)
    return found


def _ask(rig: Rig, found: dict[str, set[str]]) -> None:
    context = Context(compute(rig, deep=False), DAY)
    for rule in rules():
        found[rule.code] |= {canonical(need.path) for finding in rule.run(context) for need in finding.needs}


def _things(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every leaf and group, except the list of cases, of which the reader wants one, and the two halves of a rig."""
    inner = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, value in inner:
        if (*path, key) not in (("cases",), ("cases", 0), ("vehicle",), ("trailer",)):
            yield (*path, key)
        yield from _things(value, (*path, key))


def _without(tree: dict[str, Any], path: tuple[Any, ...]) -> dict[str, Any]:
    copy = deepcopy(tree)
    node: Any = copy
    for step in path[:-1]:
        node = node[step]
    del node[path[-1]]
    return copy
