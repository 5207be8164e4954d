"""The tree a file is read into, and its plain form: dict, list and text with marks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from cardgen.source.faults import Path, Place, dotted


@dataclass(frozen=True, slots=True)
class Keyed:
    """One line of a mapping: the place of its key, and its value."""

    key: Place
    value: Node


@dataclass(frozen=True, slots=True)
class Node:
    """A mapping, a list, a text, or None for unknown; with its place.

    ``word`` is how unknown was spelled, ``plain`` whether a text stood without quotes,
    ``size`` counts the nodes of the whole branch and ``depth`` its levels, so that
    limits can be kept without walking a branch again.
    """

    value: dict[str, Keyed] | list[Node] | str | None
    place: Place
    plain: bool = False
    size: int = 1
    depth: int = 1
    word: str = ""


def branch(value: dict[str, Keyed] | list[Node], place: Place) -> Node:
    """Make a mapping or list node and count its size and depth."""
    inner = [e.value for e in value.values()] if isinstance(value, dict) else value
    size = 1 + sum(node.size for node in inner)
    return Node(value, place, False, size, 1 + max((node.depth for node in inner), default=0))


class Text(str):
    """A scalar of the file, kept as text, that knows its field and its place."""

    __slots__ = ("col", "file", "line", "path", "plain")

    path: str
    file: str
    line: int
    col: int
    plain: bool

    @classmethod
    def at(cls, words: str, path: str, place: Place, plain: bool) -> Text:
        """Make a text with its field path, its place, and whether it stood without quotes."""
        text = cls(words)
        text.path, text.plain = path, plain
        text.file, text.line, text.col = place.file, place.line, place.col
        return text


@dataclass(frozen=True, slots=True)
class Places:
    """Places of a key (None in a list) and of its value, and how unknown was spelled."""

    key: Place | None
    value: Place
    word: str = ""


@dataclass(frozen=True, slots=True)
class Tree:
    """Plain data of a file and its parts, with the place of every node."""

    data: dict[str, object]
    marks: Mapping[Path, Places]
    top: Place

    def place(self, path: Path, *, key: bool = False) -> Place:
        """Place of the value (or key) at a path, or of the nearest node above it."""
        for length in range(len(path), 0, -1):
            mark = self.marks.get(path[:length])
            if mark is not None:
                whole = length == len(path)
                return mark.value if (whole and not key) or mark.key is None else mark.key
        return self.top

    def get(self, *path: str | int) -> object:
        """Plain value at a path, or None."""
        node: object = self.data
        for step in path:
            if isinstance(node, dict):
                node = node.get(step)
            elif isinstance(node, list) and isinstance(step, int) and step < len(node):
                node = node[step]
            else:
                return None
        return node


def plain_tree(top: Node) -> Tree:
    """Turn nodes into plain data; every text gets its field path, every node its mark."""
    marks: dict[Path, Places] = {}
    data = _plain(top, (), None, marks)
    return Tree(data if isinstance(data, dict) else {}, marks, top.place)


def _plain(node: Node, path: Path, key: Place | None, marks: dict[Path, Places]) -> object:
    marks[path] = Places(key, node.place, node.word)
    if isinstance(node.value, dict):
        return {k: _plain(e.value, (*path, k), e.key, marks) for k, e in node.value.items()}
    if isinstance(node.value, list):
        return [_plain(item, (*path, i), None, marks) for i, item in enumerate(node.value)]
    if node.value is None:
        return None
    return Text.at(node.value, dotted(path), node.place, node.plain)
