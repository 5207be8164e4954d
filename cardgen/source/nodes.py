"""YAML text to nodes with places. Every scalar stays text; whatever YAML could misread is refused.

PyYAML does the scanning and parsing; its composer and constructors are left out, so no
tag, alias or type rule of YAML 1.1 ever acts on a rig file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from yaml.events import (
    AliasEvent,
    DocumentEndEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
    StreamStartEvent,
)

from cardgen.source.commas import cut_by_comma
from cardgen.source.decode import foreign, name_of
from cardgen.source.faults import Fault, Path, Place, StopReadingError, dotted, fault
from cardgen.source.limits import Bounds
from cardgen.source.surprises import UNKNOWN, key_surprise, value_surprise
from cardgen.source.syntax import events_of
from cardgen.source.tree import Keyed, Node, branch

_SHORT = 30_000
"""Longer texts are not kept [characters]; the demo rigs and parts have less than a fifth of it."""
_NO_ANCHORS = "write the value out, or move what is shared into a part and refer to it by 'part:'"


@dataclass(frozen=True, slots=True)
class Nodes:
    """A file as nodes.

    Args:
        top: the top mapping, None when there is none to work with.
        faults: all faults found.
        holes: dotted paths of values that were lost.
    """

    top: Node | None
    faults: tuple[Fault, ...]
    holes: frozenset[str]


def read_nodes(text: str, file: str, bounds: Bounds, prefix: Path = ()) -> Nodes:
    """Read YAML text into a mapping node.

    Parts are shared by many rigs, so a text of usual length that was just read is not read again.

    Args:
        text: the decoded file [-].
        file: name for messages [-].
        bounds: how much is allowed.
        prefix: field path under which the file's top belongs [-].
    """
    return (_kept if len(text) <= _SHORT else _nodes)(text, file, bounds, prefix)


def _nodes(text: str, file: str, bounds: Bounds, prefix: Path) -> Nodes:
    reader = _TreeReader(text, file, bounds)
    try:
        top = reader.document(prefix)
    except StopReadingError as stop:
        top = None
        reader.faults.append(stop.under(prefix))
    holes = frozenset(reader.holes if top else {dotted(prefix)})
    return Nodes(top, tuple(reader.faults), holes)


_kept = lru_cache(maxsize=128)(_nodes)


class _TreeReader:
    def __init__(self, text: str, file: str, bounds: Bounds) -> None:
        self.file = file
        self.bounds = bounds
        self.faults: list[Fault] = []
        self.holes: set[str] = set()
        self.count = 0
        self.events: Iterator[Event] = events_of(text, file)

    def place(self, event: Event) -> Place:
        mark = event.start_mark
        if mark is None:  # the stubs allow it, the parser always sets it
            return Place(self.file)
        return Place(self.file, mark.line + 1, mark.column + 1)

    def say(self, code: str, event: Event, path: Path, message: str, hint: str) -> None:
        self.report(fault(code, self.place(event), path, message, hint))

    def report(self, found: Fault) -> None:
        if len(self.faults) >= self.bounds.faults:
            raise StopReadingError(found)
        self.faults.append(found)

    def lost(self, event: Event, path: Path) -> Node:
        """A value that cannot be used: unknown from here on, and a hole."""
        self.holes.add(dotted(path))
        return Node(None, self.place(event))

    def stop(self, code: str, event: Event, path: Path, message: str, hint: str) -> None:
        raise StopReadingError(fault(code, self.place(event), path, message, hint))

    def document(self, prefix: Path) -> Node | None:
        top: Node | None = None
        for event in self.events:
            if isinstance(event, (StreamStartEvent, DocumentEndEvent)):
                continue
            if isinstance(event, StreamEndEvent):
                break
            if isinstance(event, DocumentStartEvent):
                if top is not None:
                    self.stop(
                        "yaml-documents",
                        event,
                        prefix,
                        "a second document starts here",
                        "keep one rig per file and delete the '---' line",
                    )
                self.directives(event, prefix)
                continue
            top = self.node(event, prefix, 1)
        if top is None or not isinstance(top.value, dict):
            place = top.place if top else Place(self.file)
            message = "the file holds no 'field: value' lines at its top level"
            hint = "start with a line such as 'nickname: Juniper'"
            self.faults.append(fault("yaml-top", place, prefix, message, hint))
            return None
        return top

    def directives(self, event: DocumentStartEvent, path: Path) -> None:
        if event.version or event.tags:
            message = "directives (lines starting with '%') are not used here"
            self.say("yaml-directive", event, path, message, "delete the line")

    def node(self, event: Event, path: Path, level: int) -> Node:
        self.count += 1
        if self.count > self.bounds.nodes:
            message = f"the file holds more than {self.bounds.nodes:,} values"
            hint = "a rig takes a few hundred; check that this is the right file"
            self.stop("yaml-nodes", event, path, message, hint)
        if level > self.bounds.depth:
            message = f"nesting goes deeper than {self.bounds.depth} levels"
            self.stop("yaml-depth", event, path[:2], message, "check the indentation and brackets")
        if isinstance(event, AliasEvent):
            message = f"'*{(event.anchor or '')[:40]}' repeats another place of the file"
            self.say("yaml-alias", event, path, message, _NO_ANCHORS)
            return self.lost(event, path)
        assert isinstance(event, NodeEvent)  # the parser hands out nothing else here
        self.properties(event, path)
        if isinstance(event, MappingStartEvent):
            return self.mapping(event, path, level)
        if isinstance(event, SequenceStartEvent):
            return self.sequence(event, path, level)
        assert isinstance(event, ScalarEvent)
        return self.scalar(event, path)

    def properties(self, event: NodeEvent, path: Path) -> None:
        if event.anchor is not None:
            message = f"'&{event.anchor[:40]}' names a place to repeat elsewhere"
            self.say("yaml-anchor", event, path, message, _NO_ANCHORS)
        tag = getattr(event, "tag", None)
        if tag is not None:
            message = f"the tag '{tag[:60]}' asks for a type"
            hint = "delete it; put the value in quotes if it is text"
            self.say("yaml-tag", event, path, message, hint)

    def mapping(self, start: Event, path: Path, level: int) -> Node:
        entries: dict[str, Keyed] = {}
        last, before = "", None
        for event in self.events:
            if isinstance(event, MappingEndEvent):
                break
            key = self.key(event, path, level)
            inner = (*path, "?" if key is None else key)
            following = next(self.events)
            bare = isinstance(following, ScalarEvent) and following.value == ""
            if bare and last in entries and cut_by_comma(before, event):
                self.cut(entries[last].value, event, (*path, last))
                entries[last] = Keyed(entries[last].key, self.lost(event, (*path, last)))
                before = event
                continue
            value = self.node(following, inner, level + 1)
            if key is None:
                continue
            if key in entries:
                first = entries[key].key.line
                message = f"'{key[:60]}' is written twice, first on line {first}"
                self.say("yaml-duplicate", event, inner, message, "keep one of the two")
                self.holes.add(dotted(inner))
                continue
            entries[key] = Keyed(self.place(event), value)
            last, before = key, following
        return branch(entries, self.place(start))

    def cut(self, value: Node, event: Event, path: Path) -> None:
        """Report a number that YAML cut in two at its comma, once."""
        if isinstance(value.value, str) and isinstance(event, ScalarEvent):
            whole = f"{value.value},{event.value[:40]}"
            message = f"inside brackets YAML cuts '{whole}' in two at the comma"
            found = fault("yaml-comma", value.place, path, message, f'write "{whole}" in quotes')
            self.report(found)

    def key(self, event: Event, path: Path, level: int) -> str | None:
        if not isinstance(event, ScalarEvent):
            self.node(event, (*path, "?"), level + 1)
            hint = "write a plain word, a colon and the value"
            self.say("yaml-key", event, (*path, "?"), "a field name must be a plain word", hint)
            return None
        self.count += 1
        self.properties(event, path)
        name: str = event.value
        plain = event.style is None
        if plain and name == "<<":
            message = "'<<' merges another place of the file"
            self.say("yaml-merge", event, (*path, name), message, _NO_ANCHORS)
            self.holes.add(dotted(path))
            return None
        odd = foreign(name, value=True)
        trouble = key_surprise(name, plain)
        if any(letter.isspace() and letter != " " for letter in name):
            trouble = trouble or ("the field name holds an unusual blank", "type the blanks again")
        if odd or not name.strip() or len(name) > 200:
            trouble = trouble or ("this is no usable field name", "write a plain word")
        if trouble:
            self.say("yaml-key", event, (*path, "?" if odd else name[:60] or "?"), *trouble)
            return None
        return name

    def sequence(self, start: Event, path: Path, level: int) -> Node:
        items: list[Node] = []
        before: Event | None = None
        for event in self.events:
            if isinstance(event, SequenceEndEvent):
                break
            if cut_by_comma(before, event):
                self.cut(items[-1], event, (*path, len(items) - 1))
                items[-1] = self.lost(event, (*path, len(items) - 1))
            else:
                items.append(self.node(event, (*path, len(items)), level + 1))
            before = event
        return branch(items, self.place(start))

    def scalar(self, event: ScalarEvent, path: Path) -> Node:
        words: str = event.value
        place = self.place(event)
        plain = event.style is None
        if plain and words.lower() in UNKNOWN:
            return Node(None, place, True, word=words)
        if len(words) > self.bounds.text:
            message = f"the text is longer than {self.bounds.text:,} characters"
            self.say("text-long", event, path, message, "shorten it; a card has little room")
            return self.lost(event, path)
        odd = foreign(words, value=True)
        if odd:
            message = f"the text holds the invisible character {name_of(odd.group())}"
            self.say("file-control", event, path, message, "delete it and type the text again")
            return self.lost(event, path)
        trouble = value_surprise(words) if plain else None
        if trouble:
            self.say(trouble[0], event, path, *trouble[1:])
            return self.lost(event, path)
        return Node(words, place, plain)
