"""Shapes from type hints, suggestions and stand-ins."""

from __future__ import annotations

import dataclasses
import datetime as dt
import math
from typing import Any

import pytest
from pydantic import TypeAdapter

from cardgen.source.shapes import shape_of, slots_of, spot_at
from cardgen.source.standin import stand_in
from cardgen.source.suggest import nearest, suggest
from tests.each import each
from tests.source.shapes_for_tests import Box, Cart, Wheel


def test_forms_of_fields() -> None:
    forms = {name: slot.shape.form for name, slot in slots_of(Cart).items()}
    assert forms == {
        **dict.fromkeys(("name", "kind", "axles", "painted", "bought", "gain", "note"), "leaf"),
        **dict.fromkeys(("wheel", "frame"), "record"),
        "boxes": "list",
        **dict.fromkeys(("tubs", "spares", "words"), "map"),
    }


def test_needed_and_optional_fields() -> None:
    slots = slots_of(Cart)
    assert [name for name, slot in slots.items() if slot.required] == ["name", "kind"]
    assert [name for name, slot in slots.items() if slot.shape.optional] == [
        "wheel",
        "bought",
        "gain",
        "note",
    ]


def test_choices_and_words_of_a_field() -> None:
    shape = slots_of(Cart)["kind"].shape
    assert shape.choices == ("flat", "high")
    assert shape.doc is not None
    assert shape.doc.what == "how it is built"


@each(
    ("path", "form"),
    [
        ((), "record"),
        (("wheel", "load"), "leaf"),
        (("boxes", 3, "places", 0), "leaf"),
        (("spares", "any", "side"), "leaf"),
        (("tubs", "any"), "leaf"),
    ],
)
def test_spots(path: tuple[str | int, ...], form: str) -> None:
    spot = spot_at(shape_of(Cart), path)
    assert spot is not None
    assert spot.shape.form == form


@each("path", [("x",), ("wheel", "x"), ("name", "x"), ("boxes", 0, "x")])
def test_no_spot(path: tuple[str | int, ...]) -> None:
    assert spot_at(shape_of(Cart), path) is None


def test_a_field_has_one_type() -> None:
    with pytest.raises(TypeError):
        shape_of(int | str | None)


@each("shape", [Cart, Box, Wheel])
def test_stand_ins_are_accepted(shape: Any) -> None:
    made = TypeAdapter(shape).validate_python(stand_in(shape_of(shape)))
    assert dataclasses.is_dataclass(made)


def test_stand_ins_of_each_kind() -> None:
    slots = slots_of(Cart)
    load = stand_in(slots_of(Wheel)["load"].shape)
    assert math.isnan(load.si)  # type: ignore[attr-defined]  # a quantity
    assert stand_in(slots["bought"].shape) == dt.date.min
    assert stand_in(slots["axles"].shape) == 0
    assert stand_in(slots["painted"].shape) is False
    assert stand_in(slots["kind"].shape) == "flat"
    assert stand_in(slots["boxes"].shape) == ()
    assert stand_in(slots["tubs"].shape) == {}


def test_nearest_word() -> None:
    assert nearest("gvrw", ["gawr", "gvwr", "gcwr"]) == "gvwr"
    assert nearest("FRESH", ["fresh", "grey"]) == "fresh"
    assert nearest("zzz", ["fresh", "grey"]) is None
    assert nearest("x" * 100_000, ["fresh"]) is None


def test_suggestions() -> None:
    assert suggest("gry", ["fresh", "grey"]) == "did you mean 'grey'?"
    assert suggest("zzz", ["fresh", "grey"]) == "known here: fresh, grey"
    assert suggest("zzz", [], "nothing here") == "nothing here"
    assert suggest("zzz", [f"n{i:03}" for i in range(100)]).endswith("and 60 more")
