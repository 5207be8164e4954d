"""JSON Schema of a shape, for editors that complete and check while one types.

The schema allows everything the reader accepts, so that an editor never marks a right
line. The reader stays stricter: it alone judges units, sizes and sense.
"""

from __future__ import annotations

from typing import Any

from cardgen.source.parts import KEY
from cardgen.source.shapes import Shape, Slot, shape_of, slots_of
from cardgen.units.field import Kind
from cardgen.units.kinds import SAMPLE
from cardgen.units.scalars import Scalar

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_UNKNOWN = {"$ref": "#/$defs/Unknown"}
_PART = {
    "type": "string",
    "description": "Shared part to take these lines from; lines written here override it",
    "examples": ["vehicles/slate"],
}


def json_schema(record: type, title: str = "") -> dict[str, Any]:
    """Make the JSON Schema (draft 2020-12) of a dataclass.

    Args:
        record: the dataclass the whole file is read into.
        title: heading of the schema [-].
    """
    made = _Schema()
    top = made.record(shape_of(record), whole=True)
    head: dict[str, Any] = {"$schema": DIALECT}
    if title:
        head["title"] = title
    return {**head, **top, "$defs": dict(sorted(made.definitions.items()))}


class _Schema:
    def __init__(self) -> None:
        self.definitions: dict[str, dict[str, Any]] = {
            "Unknown": {
                "description": "Not known; what depends on it is not checked",
                "enum": [None, "unknown"],
            }
        }

    def record(self, shape: Shape, whole: bool) -> dict[str, Any]:
        """Refer to a record. A whole one must be complete or come from a part; another
        one may be a few lines laid over a part further up."""
        name = shape.hint.__name__ + ("" if whole else "Lines")
        if name not in self.definitions:
            self.definitions[name] = {}  # holds the place while its fields are made
            self.definitions[name] = self.fields(shape.hint, whole)
        return {"$ref": f"#/$defs/{name}"}

    def fields(self, record: type, whole: bool) -> dict[str, Any]:
        slots = slots_of(record)
        properties = {name: self.field(slot) for name, slot in slots.items()}
        made: dict[str, Any] = {
            "type": "object",
            "properties": {**properties, KEY: _PART},
            "additionalProperties": False,
        }
        if record.__doc__:
            made["description"] = record.__doc__.split("\n")[0]
        needed = [name for name, slot in slots.items() if slot.required]
        if whole and needed:
            made["anyOf"] = [{"required": [KEY]}, {"required": needed}]
        return made

    def field(self, slot: Slot) -> dict[str, Any]:
        made = self.or_unknown(slot.shape)
        doc = slot.shape.doc
        if doc is not None:
            where = f". Where: {doc.where}" if doc.where else ""
            made = {"description": f"{doc.what[:1].upper()}{doc.what[1:]}{where}", **made}
            if doc.example and not slot.shape.choices:
                made["examples"] = [doc.example.strip("'")]
        if not slot.required and isinstance(slot.default, (bool, int, str)) and slot.default != "":
            made["default"] = slot.default
        return made

    def or_unknown(self, shape: Shape) -> dict[str, Any]:
        """A value, or unknown where that is an answer; empty groups and lists always pass."""
        value = self.value(shape)
        if shape.optional or shape.form == "record":
            return {"anyOf": [value, _UNKNOWN]}
        return value if shape.form == "leaf" else {"anyOf": [value, {"type": "null"}]}

    def value(self, shape: Shape, whole: bool = False) -> dict[str, Any]:
        if shape.form == "record":
            return self.record(shape, whole)
        if shape.form == "list" and shape.item is not None:
            return {"type": "array", "items": self.value(shape.item, whole=True)}
        if shape.form == "map" and shape.item is not None:
            inner = self.value(shape.item)
            if shape.item.hint is not str:
                inner = {"anyOf": [inner, _UNKNOWN]}
            return {"type": "object", "properties": {KEY: _PART}, "additionalProperties": inner}
        return self.leaf(shape)

    def leaf(self, shape: Shape) -> dict[str, Any]:
        if shape.choices:
            return {"enum": list(shape.choices)}
        for mark in shape.extra:
            if isinstance(mark, Scalar):
                return dict(mark.schema)
            if isinstance(mark, Kind):
                samples = [SAMPLE[name] for name in mark.names]
                return {"type": "string", "examples": [*(word for word, _ in mark.words), *samples]}
        return {"type": ["string", "number"]}
