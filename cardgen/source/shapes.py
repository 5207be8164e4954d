"""The shape a file must have, worked out from the type hints of dataclasses."""

from __future__ import annotations

import dataclasses
import re
import types
import typing
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any, Literal

from cardgen.source.faults import Path
from cardgen.tables.words import say
from cardgen.units.field import Doc

_STAMPED = re.compile(r"\d+ mm|\d+/\d+R\d+C?")
"""Sizes of coupling parts and tires, which Canadian ones are stamped with as in the US."""


@dataclass(frozen=True, slots=True)
class Shape:
    """What may stand at one place.

    Args:
        form: record (fixed keys), map (free keys), list, or leaf (text).
        hint: the dataclass of a record, or the bare type of a leaf.
        optional: whether unknown is an answer.
        item: shape of the values of a map or list.
        extra: markers of the field and of its type.
        choices: words a leaf may be, empty when free.
    """

    form: Literal["record", "map", "list", "leaf"]
    hint: Any
    optional: bool = False
    item: Shape | None = None
    extra: tuple[object, ...] = ()
    choices: tuple[str, ...] = ()

    @property
    def doc(self) -> Doc | None:
        """What the field says about itself, for texts that know no market."""
        return self.doc_in("us")

    def doc_in(self, market: str, coupling: str = "") -> Doc | None:
        """What the field says about itself in the words of a market; the load on the coupling by its type."""
        found = next((mark for mark in self.extra if isinstance(mark, Doc)), None)
        if found is None:
            return None
        american = market == "us" or (market == "ca" and _STAMPED.fullmatch(found.metric))
        example = found.example if american else found.metric or found.example
        what, where, example, ask = (
            say(text, market, coupling) for text in (found.what, found.where, example, found.ask)
        )
        return replace(found, what=what, where=where, example=example, ask=ask)


@dataclass(frozen=True, slots=True)
class Slot:
    """A named field of a record."""

    name: str
    shape: Shape
    required: bool
    default: object = field(default=None, repr=False)


@cache
def slots_of(record: type) -> Mapping[str, Slot]:
    """Fields of a dataclass by name."""
    hints = typing.get_type_hints(record, include_extras=True)
    made = {}
    for each in dataclasses.fields(record):
        bare = each.default is dataclasses.MISSING and each.default_factory is dataclasses.MISSING
        made[each.name] = Slot(each.name, shape_of(hints[each.name]), bare, each.default)
    return made


def shape_of(hint: Any) -> Shape:
    """Work out the shape behind a type hint."""
    optional, extra = False, []
    while True:
        origin = typing.get_origin(hint)
        if origin is typing.Annotated:
            extra.extend(hint.__metadata__)
            hint = hint.__origin__
        elif origin in (typing.Union, types.UnionType):
            inner = [one for one in typing.get_args(hint) if one is not types.NoneType]
            optional = True
            if len(inner) != 1:
                raise TypeError(f"a field has one type or None, not {hint}")
            hint = inner[0]
        else:
            break
    arguments = typing.get_args(hint)
    marks = tuple(extra)
    if origin is dict:
        return Shape("map", dict, optional, shape_of(arguments[1]), marks)
    if origin is tuple:
        return Shape("list", tuple, optional, shape_of(arguments[0]), marks)
    if origin is Literal:
        return Shape("leaf", str, optional, None, marks, tuple(map(str, arguments)))
    if dataclasses.is_dataclass(hint) and not _reads_itself(marks):
        return Shape("record", hint, optional, None, marks)
    return Shape("leaf", hint, optional, None, marks)


def _reads_itself(marks: tuple[object, ...]) -> bool:
    """Whether a marker reads the field from text, whatever type it makes."""
    return any(hasattr(mark, "__get_pydantic_core_schema__") for mark in marks)


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in a shape: what may stand there, and whether it may be left out."""

    shape: Shape
    required: bool


def spot_at(top: Shape, path: Path) -> Spot | None:
    """Find what may stand at a path; None where nothing may."""
    spot = Spot(top, True)
    for step in path:
        shape = spot.shape
        if shape.form == "record":
            slot = slots_of(shape.hint).get(str(step))
            if slot is None:
                return None
            spot = Spot(slot.shape, slot.required)
        elif shape.item is not None:
            spot = Spot(shape.item, True)
        else:
            return None
    return spot


@cache
def homes(top: Shape) -> Mapping[str, tuple[Path, ...]]:
    """Every field name of a shape, and the groups in which it belongs, by path.

    Items of lists and maps stand as ``...`` in the path.
    """
    made: dict[str, list[Path]] = {}

    def walk(shape: Shape, path: Path) -> None:
        if shape.form == "record":
            for name, slot in slots_of(shape.hint).items():
                made.setdefault(name, []).append(path)
                walk(slot.shape, (*path, name))
        elif shape.item is not None:
            walk(shape.item, (*path, "..."))

    walk(top, ())
    return {name: tuple(paths) for name, paths in made.items()}
