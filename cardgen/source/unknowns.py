"""Where unknown is an answer, where it means 'left out', and where it is a fault."""

from __future__ import annotations

from cardgen.source.faults import Fault, Path, dotted, fault
from cardgen.source.shapes import Shape, slots_of
from cardgen.source.standin import stand_in
from cardgen.source.tree import Tree


def settle(
    data: dict[str, object], shape: Shape, tree: Tree, unread: frozenset[str]
) -> tuple[list[Fault], set[str]]:
    """Settle every unknown of the data in place.

    A section, list or map that is empty is left out. A field that has a default but
    cannot be unknown is a fault, as a default would be a guess.

    Args:
        data: plain data, changed in place.
        shape: what should stand there.
        tree: the data with its marks.
        unread: dotted paths that already have a fault.

    Returns:
        Faults, and the dotted paths at which something was left out for them.
    """
    settler = _Settler(tree, unread)
    settler.walk(data, shape, ())
    return settler.faults, settler.holes


class _Settler:
    def __init__(self, tree: Tree, unread: frozenset[str]) -> None:
        self.tree = tree
        self.unread = unread
        self.faults: list[Fault] = []
        self.holes: set[str] = set()

    def walk(self, value: object, shape: Shape, path: Path) -> None:
        if shape.form == "record" and isinstance(value, dict):
            self.record(value, shape, path)
        elif shape.form == "map" and isinstance(value, dict) and shape.item is not None:
            self.map(value, shape.item, path)
        elif shape.form == "list" and isinstance(value, list) and shape.item is not None:
            self.list(value, shape.item, path)

    def record(self, value: dict[str, object], shape: Shape, path: Path) -> None:
        slots = slots_of(shape.hint)
        for name in list(value):
            slot = slots.get(name)
            if slot is None:
                continue
            inner = (*path, name)
            if value[name] is not None:
                self.walk(value[name], slot.shape, inner)
            elif not slot.shape.optional:
                del value[name]
                if not slot.required:
                    self.left_out(slot.shape, slot.default, inner)

    def left_out(self, shape: Shape, default: object, path: Path) -> None:
        mark = self.tree.marks.get(path)
        if shape.form == "record" or (shape.form != "leaf" and mark and not mark.word):
            return
        if shape.form == "leaf":
            words = "true" if default is True else "false" if default is False else str(default)
            hint = f"write a value, or delete the line for '{words}'"
            self.say(path, "this cannot be unknown", hint)
        else:
            self.say(path, "a list cannot be unknown", "list what is known, or delete the line")

    def map(self, value: dict[str, object], item: Shape, path: Path) -> None:
        for name in list(value):
            inner = (*path, name)
            if value[name] is not None:
                self.walk(value[name], item, inner)
            elif item.form != "leaf":
                value[name] = [] if item.form == "list" else {}
            elif not item.optional:
                del value[name]
                if item.hint is str:
                    self.say(inner, "the text is missing", "write it after the colon")

    def list(self, value: list[object], item: Shape, path: Path) -> None:
        for index, one in enumerate(value):
            inner = (*path, index)
            if one is not None:
                self.walk(one, item, inner)
            elif not item.optional:
                value[index] = stand_in(item)
                hint = "write the value, or delete the line; delete the whole list if it is unknown"
                self.say(inner, "an item of a list cannot be unknown", hint)

    def say(self, path: Path, message: str, hint: str) -> None:
        self.holes.add(dotted(path))
        if dotted(path) in self.unread:
            return
        self.faults.append(fault("value-unknown", self.tree.place(path), path, message, hint))
