"""Rigs of which nothing but the kind is known, and what every check asks for on them."""

from __future__ import annotations

import datetime as dt
import itertools
import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from cardgen.bundle.reading import read_rig
from cardgen.commands.fieldpath import canonical
from cardgen.limits.registry import Context, rules
from cardgen.model.needs import Need
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from cardgen.source.shapes import Shape, shape_of, slots_of
from cardgen.tables.law import known_places
from cardgen.units.field import Kind
from cardgen.units.kinds import SAMPLE

DAY = dt.date(2026, 1, 1)
"""Some day; what is missing does not depend on it."""
MARKETS = ("us", "ca", "uk", "eu", "au", "nz")
TYPES = ("ball", "gooseneck", "fifth_wheel")
BRAKES = ("electric", "surge", "none", "")
Kind3 = tuple[str, str, str]
ALL_KINDS: tuple[Kind3, ...] = tuple(itertools.product(MARKETS, TYPES, BRAKES))
"""Market, coupling and brakes of every rig that could make a difference."""
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


def asked_of_all() -> Mapping[str, Mapping[str, Need]]:
    """What each check asks for on all of them, by code and by field."""
    found: dict[str, dict[str, Need]] = {rule.code: {} for rule in rules()}
    for kind in ALL_KINDS:
        places = known_places() if kind[0] in ("us", "ca") else ()
        context = Context(compute(barest(kind, places)), DAY)
        for rule in rules():
            for finding in rule.run(context):
                for need in finding.needs:
                    found[rule.code].setdefault(canonical(need.path), need)
    return found
