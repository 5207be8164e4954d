"""Shared parts: ``part: vehicles/slate`` pulls in a file, the own lines override."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from cardgen.source.decode import decode
from cardgen.source.disk import Store
from cardgen.source.faults import Fault, Place, StopReadingError, dotted, fault, shown
from cardgen.source.faults import Path as Field
from cardgen.source.limits import Bounds
from cardgen.source.nodes import read_nodes
from cardgen.source.suggest import nearest
from cardgen.source.tree import Keyed, Node, branch

KEY = "part"
_NAME = re.compile(r"[^\W_.-][\w.-]*(/[^\W_.-][\w.-]*)*")
_SUFFIX = (".yaml", ".yml")


@dataclass(frozen=True, slots=True)
class Loaded:
    """A file with all its parts put in.

    Args:
        top: the merged tree, None when the rig file itself cannot be read.
        faults: all faults of the rig file and its parts.
        files: every file that was read, the rig file first.
        holes: dotted paths of what could not be read.
        texts: text of each file by its name in messages [-].
    """

    top: Node | None
    faults: list[Fault]
    files: tuple[Path, ...]
    holes: frozenset[str]
    texts: Mapping[str, str] = field(default_factory=dict)


def load(path: Path, store: Store, bounds: Bounds) -> Loaded:
    """Read a file and put in the parts it refers to, from the folder ``parts`` beside it."""
    loader = _PartLoader(path, store, bounds)
    top = loader.file(path, Place(shown(path)), ())
    if top is not None:
        top = loader.put_in(top, (), ())
    return Loaded(top, loader.faults, tuple(loader.files), frozenset(loader.holes), loader.texts)


class _PartLoader:
    def __init__(self, path: Path, store: Store, bounds: Bounds) -> None:
        self.root = path.parent / "parts"
        self.store = store
        self.bounds = bounds
        self.faults: list[Fault] = []
        self.files: list[Path] = []
        self.made: dict[str, Node | None] = {}
        self.holes: set[str] = set()
        self.texts: dict[str, str] = {}

    def say(self, code: str, place: Place, field: Field, message: str, hint: str) -> None:
        if len(self.faults) < self.bounds.faults:
            self.faults.append(fault(code, place, field, message, hint))

    def file(self, path: Path, place: Place, field: Field) -> Node | None:
        """Read one file into nodes."""
        try:
            raw = self.store.read_bytes(path, self.bounds.size)
        except (OSError, ValueError) as found:
            code = "file-missing" if isinstance(found, FileNotFoundError) else "file-unreadable"
            reason = getattr(found, "strerror", None) or str(found)
            message = f"the file cannot be read: {reason}"
            self.say(code, place, field, message, "check its name and its permissions")
            return None
        self.files.append(path)
        try:
            text = decode(raw, shown(path), self.bounds)
        except StopReadingError as stop:
            self.faults.append(stop.under(field))
            return None
        self.texts[shown(path)] = text
        nodes = read_nodes(text, shown(path), self.bounds, field)
        self.faults.extend(nodes.faults)
        self.holes |= nodes.holes
        return nodes.top

    def put_in(self, node: Node, field: Field, chain: tuple[str, ...]) -> Node:
        """Replace every reference below a node."""
        if isinstance(node.value, list):
            items = [self.put_in(one, (*field, i), chain) for i, one in enumerate(node.value)]
            return branch(items, node.place)
        if not isinstance(node.value, dict):
            return node
        own = {
            key: Keyed(entry.key, self.put_in(entry.value, (*field, key), chain))
            for key, entry in node.value.items()
            if key != KEY
        }
        merged = branch(own, node.place)
        if KEY in node.value:
            base = self.part(node.value[KEY], field, chain)
            if base is None:
                self.holes.add(dotted(field))
            else:
                merged = merge(base, merged)
        return self.within(merged, field)

    def within(self, node: Node, field: Field) -> Node:
        """Keep the whole, parts included, within bounds."""
        if node.size <= self.bounds.nodes and node.depth + len(field) <= self.bounds.depth:
            return node
        hint = "let parts refer to fewer other parts"
        self.say("part-size", node.place, field, "the parts make the rig far too large", hint)
        self.holes.add(dotted(field))
        return branch({}, node.place)

    def part(self, entry: Keyed, field: Field, chain: tuple[str, ...]) -> Node | None:
        """The tree a reference stands for, or None after a fault."""
        node = entry.value
        where = (*field, KEY)
        name = node.value
        if not isinstance(name, str):
            hint = "write it like 'part: vehicles/slate'"
            self.say("part-name", node.place, where, "the name of a part is expected", hint)
            return None
        if not self.name_is_safe(name, node.place, where):
            return None
        if name in chain:
            circle = " -> ".join([*chain[chain.index(name) :], name])
            message = f"the parts refer to each other in a circle: {circle}"
            self.say("part-cycle", node.place, where, message, "delete one of these references")
            return None
        far = len(chain) >= self.bounds.chain or len(field) >= self.bounds.depth
        if far or (name not in self.made and len(self.made) >= self.bounds.files):
            message = f"parts are more than {self.bounds.chain} steps away, or more than {self.bounds.files}"
            self.say("part-size", node.place, where, message, "let parts refer to fewer other parts")
            return None
        if name not in self.made:
            self.made[name] = self.open_part(name, node.place, field, chain)
        return self.made[name]

    def open_part(self, name: str, place: Place, field: Field, chain: tuple[str, ...]) -> Node | None:
        path = self.root / f"{name}.yaml"
        where = (*field, KEY)
        try:
            inside = self.store.inside(path, self.root)
        except (OSError, ValueError, RuntimeError):  # a circle of links is a RuntimeError
            inside = False
        if not inside:
            message = f"'{name}' leads out of the folder '{shown(self.root)}'"
            hint = "copy the file into that folder"
            self.say("part-outside", place, where, message, hint)
            return None
        before = len(self.faults)
        node = self.file(path, place, field)
        missing = [f for f in self.faults[before:] if f.code == "file-missing"]
        if missing:
            self.faults.remove(missing[0])
            message = f"there is no part '{name}' (looked for {shown(path)})"
            self.say("part-missing", place, where, message, self.near(name))
        return None if node is None else self.put_in(node, field, (*chain, name))

    def near(self, name: str) -> str:
        """Hint with the nearest part there is."""
        try:
            names = list(self.store.parts(self.root))
        except OSError:
            names = []
        close = nearest(name, names)
        if close:
            return f"did you mean '{close}'?"
        return "parts here: " + ", ".join(names[:20]) if names else "there are no parts yet"

    def name_is_safe(self, name: str, place: Place, where: Field) -> bool:
        """Refuse names that could lead out of the parts folder, before touching the disk."""
        if _NAME.fullmatch(name) and ".." not in name and len(name) <= 200:
            if not name.endswith(_SUFFIX):
                return True
            message, hint = f"'{name}' ends like a file", f"write '{name.rsplit('.', 1)[0]}'"
        else:
            message = f"'{name[:80]}' is not the name of a part"
            hint = "use letters, digits, '-', '_' and '/' as in 'vehicles/slate'"
        self.say("part-name", place, where, message, hint)
        return False


def merge(base: Node, own: Node) -> Node:
    """Lay a file's own lines over a part: groups are merged, lists and texts replaced."""
    if not isinstance(base.value, dict) or not isinstance(own.value, dict):
        return own
    merged = dict(base.value)
    for key, entry in own.value.items():
        under = base.value.get(key)
        value = merge(under.value, entry.value) if under else entry.value
        merged[key] = Keyed(entry.key, value)
    return branch(merged, own.place)
