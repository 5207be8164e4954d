"""Pydantic's errors in the words of a rig file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cardgen.source.faults import Fault, Path, dotted, fault
from cardgen.source.shapes import Shape, Spot, homes, slots_of, spot_at
from cardgen.source.suggest import nearest, suggest
from cardgen.source.tree import Tree
from cardgen.units.field import Doc, Kind


def in_words(error: Mapping[str, Any], top: Shape, tree: Tree) -> Fault:
    """Turn one error of pydantic into a located fault.

    Args:
        error: as ``ValidationError.errors()`` lists it.
        top: shape of the whole file.
        tree: data and marks.
    """
    path: Path = tuple(error["loc"])
    kind = error["type"]
    if kind == "unexpected_keyword_argument":
        return _unknown_key(path, top, tree)
    spot = spot_at(top, path)
    if kind == "missing":
        return _missing(path, spot, tree)
    place, value = tree.place(path), tree.get(*path)
    if "hint" in error.get("ctx", {}) and isinstance(value, str):
        ctx = error["ctx"]
        return fault(ctx["code"], place, path, ctx["message"], ctx["hint"])
    if kind == "literal_error" and spot and isinstance(value, str):
        message = f"'{value[:80]}' is not one of the words for this field"
        return fault("value-choice", place, path, message, suggest(value, spot.shape.choices))
    message = f"{_expected(spot)} is expected here, not {_found(value)}"
    return fault("node-kind", place, path, message, _how(spot))


def _unknown_key(path: Path, top: Shape, tree: Tree) -> Fault:
    name = str(path[-1])
    above = spot_at(top, path[:-1])
    known = list(slots_of(above.shape.hint)) if above else []
    given = tree.get(*path[:-1])
    free = [one for one in known if not isinstance(given, dict) or one not in given]
    place = tree.place(path, key=True)
    message = f"there is no field '{name[:80]}' here"
    home = None if nearest(name, free, 0.8) else _home(name, path[:-1], top)
    hint = f"it belongs under '{home}'" if home else suggest(name, free or known)
    return fault("key-unknown", place, path, message, hint)


def _home(name: str, here: Path, top: Shape) -> str | None:
    """The group in which a field of this very name belongs, the nearest to here if several."""

    def nearness(group: Path) -> tuple[int, int]:
        shared = next((i for i, (a, b) in enumerate(zip(group, here, strict=False)) if a != b), None)
        return -(min(len(group), len(here)) if shared is None else shared), len(group)

    groups = [group for group in homes(top).get(name, ()) if group]
    return dotted(min(groups, key=nearness)) if groups else None


def _missing(path: Path, spot: Spot | None, tree: Tree) -> Fault:
    given = path in tree.marks
    place = tree.place(path if given else path[:-1], key=True)
    doc = spot.shape.doc if spot else None
    what = f" ({doc.what})" if doc else ""
    message = f"the field '{path[-1]}'{what} is needed" + (" and cannot be unknown" if given else "")
    return fault("key-missing", place, path, message, f"add '{path[-1]}: {_sample(spot)}'")


def _sample(spot: Spot | None) -> str:
    if spot is None:
        return "..."
    shape = spot.shape
    if shape.choices:
        return shape.choices[0]
    doc = shape.doc
    if isinstance(doc, Doc) and doc.example:
        return doc.example
    kinds = [mark for mark in shape.extra if isinstance(mark, Kind)]
    if kinds:
        return kinds[0].hint().split("'")[1]
    return "..."


def _expected(spot: Spot | None) -> str:
    if spot is None:
        return "something else"
    if spot.shape.form == "list":
        return "a list"
    return "a text" if spot.shape.form == "leaf" else "a group of fields"


def _found(value: object) -> str:
    if isinstance(value, dict):
        return "a group of fields"
    if isinstance(value, (list, tuple)):
        return "a list"
    return f"'{str(value)[:80]}'" if value is not None else "nothing"


def _how(spot: Spot | None) -> str:
    if spot is None:
        return ""
    shape = spot.shape
    if shape.form == "list":
        return "start each item on its own line with '- '"
    if shape.form == "leaf":
        return f"write it on one line, like '{_sample(spot)}'"
    if shape.form == "record":
        names = ", ".join(list(slots_of(shape.hint))[:8])
        return f"write indented lines below it, of: {names}"
    return "write indented lines 'name: value' below it"
