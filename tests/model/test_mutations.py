"""Every node of a full rig deleted, renamed, retyped or emptied: a rig or located faults."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from cardgen.model.read import ReadResult, judge
from cardgen.model.rig import Rig
from cardgen.source.codes import FAULT_CODES
from cardgen.source.disk import Disk
from cardgen.source.faults import Path as Field
from cardgen.source.faults import dotted
from cardgen.source.limits import Bounds
from cardgen.source.parts import Loaded, load
from cardgen.source.shapes import Shape, shape_of, spot_at
from cardgen.source.tree import Keyed, Node, branch
from cardgen.units.field import Doc
from tests.conftest import long_run
from tests.each import each

FULL = Path(__file__).parent.parent / "data" / "rigs" / "full.yaml"
RIG = shape_of(Rig)
OTHER = {
    "text": "frog",
    "number": "7",
    "negative": "-7 lb",
    "huge": "9e99 lb",
    "quoted": "",
    "long": "x" * 1_999,
    "foreign": "\u202e🛞 {{ x }} <b>",
}


@cache
def full() -> Loaded:
    loaded = load(FULL, Disk(), Bounds())
    assert loaded.faults == []
    return loaded


def fields(node: Node, path: Field = ()) -> Iterator[Field]:
    """Path of every node below the top."""
    if isinstance(node.value, dict):
        inner: list[tuple[str | int, Node]] = [(key, entry.value) for key, entry in node.value.items()]
    elif isinstance(node.value, list):
        inner = list(enumerate(node.value))
    else:
        return
    for step, below in inner:
        yield (*path, step)
        yield from fields(below, (*path, step))


def changed(node: Node, path: Field, new: Node | None, name: str | None = None) -> Node:
    """The tree with the node at a path replaced, deleted (None) or renamed."""
    step, rest = path[0], path[1:]
    if isinstance(node.value, dict):
        entries = dict(node.value)
        entry = entries.pop(str(step))
        below = changed(entry.value, rest, new, name) if rest else new
        if below is not None:
            entries[name if name and not rest else str(step)] = Keyed(entry.key, below)
        return branch(entries, node.place)
    assert isinstance(node.value, list)
    items = list(node.value)
    at = int(step)
    below = changed(items[at], rest, new, name) if rest else new
    items[at : at + 1] = [] if below is None else [below]
    return branch(items, node.place)


def outcome(top: Node) -> ReadResult:
    """Judge a changed rig; whatever was done, the answer is a rig or located faults."""
    found = judge(replace(full(), top=top), FULL)
    assert (found.rig is None) == bool(found.faults)
    for fault in found.faults:
        assert fault.code in FAULT_CODES
        assert Path(fault.file) in full().files
        assert fault.line >= 1
        assert fault.col >= 1
        assert fault.message
        assert "None" not in fault.message
        assert str(fault)
    return found


def all_fields() -> list[Field]:
    top = full().top
    assert top is not None
    return list(fields(top))


def some_fields() -> list[Field]:
    """Of the fields of one shape the first and the last: a text is taken or refused by the shape alone.

    The long run takes all fields.
    """
    if long_run():
        return all_fields()
    kinds: dict[Hashable, list[Field]] = {}
    for path in all_fields():
        kinds.setdefault(shape_key(path), []).append(path)
    return [path for same in kinds.values() for path in dict.fromkeys((same[0], same[-1]))]


def shape_key(path: Field) -> Hashable:
    """What the reader goes by at a field: its shape without the words about it."""
    spot = spot_at(RIG, path)
    assert spot is not None
    keys: list[Hashable] = [spot.required]
    shape: Shape | None = spot.shape
    while shape is not None:
        marks = tuple(repr(mark) for mark in shape.extra if not isinstance(mark, Doc))
        keys += [shape.form, str(shape.hint), shape.optional, shape.choices, marks]
        shape = shape.item
    return tuple(keys)


def at(path: Field) -> Node:
    node = full().top
    assert node is not None
    for step in path:
        assert not isinstance(node.value, str)
        assert node.value is not None
        inner = node.value[step]  # type: ignore[index]  # the path came from this tree
        node = inner.value if isinstance(inner, Keyed) else inner
    return node


def top() -> Node:
    node = full().top
    assert node is not None
    return node


def test_the_sample_is_large_enough_to_matter() -> None:
    assert len(all_fields()) > 450
    assert len(some_fields()) > 150


def test_unchanged_it_is_right() -> None:
    assert outcome(top()).faults == ()


def test_each_node_deleted() -> None:
    needed = 0
    for path in all_fields():
        found = outcome(changed(top(), path, None))
        spot, above = spot_at(RIG, path), spot_at(RIG, path[:-1])
        assert spot is not None
        assert above is not None
        if spot.required and above.shape.form == "record":
            needed += 1
            assert dotted(path) in {fault.field for fault in found.faults}
    assert needed > 20


def test_each_field_renamed() -> None:
    for path in all_fields() if long_run() else all_fields()[::2]:
        if isinstance(path[-1], int):
            continue
        found = outcome(changed(top(), path, at(path), f"{path[-1]}x"))
        above = spot_at(RIG, path[:-1])
        assert above is not None
        if above.shape.form == "record":
            name = dotted((*path[:-1], f"{path[-1]}x"))
            faults = [f for f in found.faults if f.field == name]
            assert [f.code for f in faults] == ["key-unknown"]
            assert (
                f"'{path[-1]}'" in faults[0].hint
                or "known here" in faults[0].hint
                or "mean" in faults[0].hint
            )


@each("word", ["", "unknown"])
def test_each_node_made_unknown(word: str) -> None:
    for path in all_fields() if word else some_fields():
        found = outcome(changed(top(), path, Node(None, at(path).place, True, word=word)))
        spot = spot_at(RIG, path)
        assert spot is not None
        if spot.shape.optional or (spot.shape.form == "record" and not spot.required):
            assert not [f for f in found.faults if f.field == dotted(path)], path


@each("kind", sorted(OTHER))
def test_each_node_made_another_text(kind: str) -> None:
    turn = sorted(OTHER).index(kind) % 2
    for path in all_fields() if long_run() else some_fields()[turn::2]:
        found = outcome(changed(top(), path, Node(OTHER[kind], at(path).place)))
        spot = spot_at(RIG, path)
        assert spot is not None
        if spot.shape.form != "leaf":
            assert ("node-kind", dotted(path)) in {(f.code, f.field) for f in found.faults}


@each("form", ["group", "list", "nested"])
def test_each_node_made_a_group_or_list(form: str) -> None:
    for path in some_fields():
        place = at(path).place
        text = Node("frog", place)
        group = branch({"frog": Keyed(place, text)}, place)
        new = {"group": group, "list": branch([text], place), "nested": branch([group], place)}[form]
        found = outcome(changed(top(), path, new))
        spot = spot_at(RIG, path)
        assert spot is not None
        if spot.shape.form == "leaf":
            assert ("node-kind", dotted(path)) in {(f.code, f.field) for f in found.faults}


def test_each_group_or_list_emptied() -> None:
    for path in some_fields():
        node = at(path)
        if isinstance(node.value, dict):
            outcome(changed(top(), path, branch({}, node.place)))
        elif isinstance(node.value, list):
            outcome(changed(top(), path, branch([], node.place)))
