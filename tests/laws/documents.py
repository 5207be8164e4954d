"""Rig documents as plain data: read as the program reads a file, leaves found and changed."""

from __future__ import annotations

import datetime as dt
import itertools
import json
from collections.abc import Iterable
from copy import deepcopy
from pathlib import Path
from typing import Any

from cardgen.model.read import ReadResult, read_rig
from cardgen.tables import fluids as liquid
from cardgen.tables import lp
from tests.laws.model import Fluids, Tree, at

DAY = dt.date(2026, 11, 25)
_LIQUIDS = {one: liquid.liquid_density(one) for one in ("grey", "black", "fuel", "diesel", "salt")}


def fluids_of(tree: Tree) -> Fluids:
    """Published densities of what the tanks of a document hold, its water at its own temperature."""
    text = at(tree, "water_temperature")
    degrees, unit = (20.0, "C") if text is None else (float(text.split()[0]), text.split()[1])
    celsius = degrees if unit == "C" else (degrees - 32.0) / 1.8
    water = liquid.fresh_water_density(273.15 + celsius)
    return Fluids({"fresh": water, "heater": water} | _LIQUIDS, lp.usual_water_capacity)


FILE = Path("rig.yaml")


class Store:
    """A store with one file and no parts."""

    def __init__(self, text: str) -> None:
        self._text = text.encode()

    def read_bytes(self, path: Path, limit: int) -> bytes:
        """Bytes of the file."""
        if path != FILE:
            raise FileNotFoundError(2, "No such file or directory", str(path))
        return self._text[: limit + 1]

    def inside(self, path: Path, folder: Path) -> bool:
        """Whether a file lies inside a folder."""
        return path.is_relative_to(folder)

    def parts(self, folder: Path) -> Iterable[str]:
        """There are no parts."""
        return ()


def read(tree: Tree) -> ReadResult:
    """Read a document as the program reads a file; JSON is YAML, but for the bare word ``unknown``."""
    return read_rig(FILE, Store(text_of(tree)))


def text_of(tree: Tree) -> str:
    """The document as the text of a file."""
    return json.dumps(tree).replace('"unknown"', "unknown")


Path_ = tuple[str | int, ...]
_NEEDED = frozenset(
    {
        "nickname",
        "market",
        "name",
        "type",
        "body",
        "holds",
        "date",
        "case",
        "source",
        "pressure",
        "load",
        "kind",
    }
)


def optional(path: Path_) -> bool:
    """Whether a leaf may be left out or unknown, so that the file still reads."""
    if any(isinstance(step, int) for step in path[-1:]) or path[0] in ("places", "use"):
        return False
    if path[-1] in ("kind",):
        return path[-2] == "brakes" or path == ("vehicle", "kind")
    if path[-1] in ("pressure", "load") and "rows" in path:
        return False
    if path[:2] == ("limits", "tongue_share") or (path[0] in ("weighings", "cases") and len(path) == 1):
        return False
    if path[-1] == "source" and "table" in path:
        return False
    return path[-1] not in _NEEDED - {"pressure", "load", "source"} or path == ("trailer", "empty", "source")


def leaves(tree: Any, path: Path_ = ()) -> Iterable[Path_]:
    """Paths of all values that are no mapping and no list of mappings."""
    if isinstance(tree, dict):
        for name, inner in tree.items():
            yield from leaves(inner, (*path, name))
    elif isinstance(tree, list) and any(isinstance(one, dict) for one in tree):
        for index, inner in enumerate(tree):
            yield from leaves(inner, (*path, index))
    else:
        yield path


def get(tree: Any, path: Path_) -> Any:
    """The value at a path."""
    for step in path:
        tree = tree[step]
    return tree


def put(tree: Any, path: Path_, value: Any) -> None:
    """Write a value; groups on the way are made."""
    for step, following in itertools.pairwise(path):
        if isinstance(tree, dict) and step not in tree:
            tree[step] = [] if isinstance(following, int) else {}
        tree = tree[step]
    tree[path[-1]] = value


def drop(tree: Any, path: Path_) -> None:
    """Take a value out."""
    del get(tree, path[:-1])[path[-1]]


def changed(tree: Tree, path: Path_, value: Any) -> Tree:
    """A copy with another value at a path; None takes it out."""
    made = deepcopy(tree)
    if value is None:
        drop(made, path)
    else:
        put(made, path, value)
    return made
