"""A field of a rig file named on the command line: ``trailer.axles.gawr[0]``, ``trailer.tanks.fresh.x``."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from cardgen.model.rig import Rig
from cardgen.source.shapes import Shape, shape_of, slots_of

_INDEX = re.compile(r"(.*?)\[\d*\]$")


@dataclass(frozen=True, slots=True)
class Field:
    """One field.

    Args:
        path: with ``[]`` for items of lists and ``<name>`` for free names [-].
        shape: what it may hold.
        required: whether it must be there.
        default: what holds when it is left out; None for unknown.
    """

    path: str
    shape: Shape
    required: bool = True
    default: object = None


def fields(shape: Shape | None = None, path: str = "") -> Iterator[Field]:
    """Every field, depth first, groups before what is in them."""
    for name, slot in slots_of((shape or shape_of(Rig)).hint).items():
        here = f"{path}.{name}" if path else name
        yield Field(here, slot.shape, slot.required, slot.default)
        yield from _inner(slot.shape, here)


def _inner(shape: Shape, path: str) -> Iterator[Field]:
    if shape.form == "record":
        yield from fields(shape, path)
    elif shape.item is not None and shape.item.form != "leaf":
        yield from _inner(shape.item, path + ("[]" if shape.form == "list" else ".<name>"))


def find(path: str) -> Field | None:
    """Find the field a path names; None when there is none.

    List indices may be left out, any name stands for a free name, also one with points in it.

    Args:
        path: for example ``cases[0].tanks.fresh`` [-].
    """
    steps = path.strip().split(".")
    return _walk(Field("", shape_of(Rig)), steps) if all(steps) else None


def _walk(at: Field, steps: list[str]) -> Field | None:
    if not steps:
        return at
    shape = at.shape
    if shape.form == "list" and shape.item is not None:
        return _walk(Field(f"{at.path}[]", _told(shape.item, shape)), steps)
    if shape.form == "map" and shape.item is not None:
        inside = Field(f"{at.path}.<name>", _told(shape.item, shape))
        ways = (_walk(inside, steps[taken:]) for taken in range(1, len(steps) + 1))
        return next((found for found in ways if found is not None), None)
    if shape.form != "record":
        return None
    indexed = _INDEX.fullmatch(steps[0])
    name = indexed[1] if indexed else steps[0]
    slot = slots_of(shape.hint).get(name)
    if slot is None or (indexed and slot.shape.form != "list"):
        return None
    inner = Field(f"{at.path}.{name}" if at.path else name, slot.shape, slot.required, slot.default)
    if indexed and slot.shape.item is not None:
        inner = Field(f"{inner.path}[]", _told(slot.shape.item, slot.shape))
    return _walk(inner, steps[1:])


def _told(item: Shape, around: Shape) -> Shape:
    """An item says of itself what its list or map says, when it has no words of its own."""
    if item.doc is not None or around.doc is None:
        return item
    return Shape(item.form, item.hint, item.optional, item.item, (*item.extra, around.doc), item.choices)


def canonical(path: str) -> str:
    """Write a path with ``[]`` and ``<name>``; a path that names no field stays as it is."""
    found = find(path)
    return found.path if found else path
