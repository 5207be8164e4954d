"""Where an answer goes in a rig file, and how it is put there, every other letter left as it was.

The page that asks for what is missing does the same in its script (``templates/scripts/measure.js``);
a test holds the two against each other.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from yaml.events import (
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from cardgen.source.faults import Path
from cardgen.source.syntax import events_of
from cardgen.source.tree import Tree
from cardgen.source.write import quoted

Written: TypeAlias = "str | list[Written] | dict[str, Written]"
"""What is to be written: a text as YAML takes it, or lines of a list or a group."""


@dataclass(frozen=True, slots=True)
class Span:
    """A value in the text of a file.

    Args:
        start, end: first character, and the one after the last [-].
        form: ``scalar``, ``map`` or ``list``.
        flow: whether it stands in brackets, its own or those around it.
        filled: whether a list or group has anything in it.
        column: of its keys or dashes; of its own key where it has none [-].
        last: end of what is in it [-].
    """

    start: int
    end: int
    form: str
    flow: bool
    filled: bool
    column: int
    last: int


@dataclass(frozen=True, slots=True)
class Anchor:
    """A place of a file at which something can be written.

    Args:
        form: ``hole``: a word that means unknown, or empty brackets; ``map``, ``list``: what can grow.
        flow: whether what is written there stays on its line, in brackets.
        start, end: what is replaced [-]; where a bracket is closed, for one that grows.
        word: what stands there now; nothing is written when something else does [-].
        at: where new lines go [-].
        column: of the new lines [-].
    """

    form: str
    flow: bool
    start: int
    end: int
    word: str
    at: int
    column: int


Spans = Mapping[tuple[int, int], Span]


def spans(text: str) -> Spans:
    """Find every value of a file by line and column, counted from 1.

    Args:
        text: a file that reads without a fault of syntax [-].
    """
    found: dict[tuple[int, int], Span] = {}
    events = events_of(text, "")
    for event in events:
        if isinstance(event, (MappingStartEvent, SequenceStartEvent, ScalarEvent)):
            _span(event, events, 0, False, found)
    return found


def _span(
    event: Event, events: Iterator[Event], column: int, inside: bool, found: dict[tuple[int, int], Span]
) -> Span:
    """Read one value; ``column`` is that of its key [-], ``inside`` whether brackets are around it."""
    start, end = event.start_mark, event.end_mark
    assert start is not None  # the parser always sets marks
    assert end is not None
    place = (start.line + 1, start.column + 1)
    if not isinstance(event, (MappingStartEvent, SequenceStartEvent)):
        made = Span(start.index, end.index, "scalar", inside, False, column, end.index)
        found[place] = made
        return made
    flow, last, filled = bool(event.flow_style), end.index, False
    mapping = isinstance(event, MappingStartEvent)
    here = inside or flow
    for one in events:
        if isinstance(one, (MappingEndEvent, SequenceEndEvent)):
            close = one.end_mark
            break
        filled = True
        key = one.start_mark
        assert key is not None
        assert one.end_mark is not None
        if mapping:
            last = max(last, one.end_mark.index)
            one = next(events)
        last = max(last, _span(one, events, key.column if mapping else start.column, here, found).last)
    assert close is not None
    stop = close.index if flow else last
    own = start.column if filled and not here else column
    flows = here if filled else inside
    made = Span(start.index, stop, "map" if mapping else "list", flows, filled, own, max(last, stop))
    found[place] = made
    return made


def anchor(text: str, known: Spans, tree: Tree, path: Path, file: str) -> tuple[Anchor, Path] | None:
    """Find where a value can be written, and the keys that are still missing on the way to it.

    Args:
        text: the file [-].
        known: its values.
        tree: what was read of it and of the files that go with it, with marks.
        path: the field [-].
        file: name of the file in the marks [-].

    Returns:
        The anchor and the rest of the path; None where a value stands already, in another file, or nothing
        can be written.
    """
    for length in range(len(path), -1, -1):
        mark = tree.marks.get(path[:length])
        if mark is None:
            continue
        span = known.get((mark.value.line, mark.value.col)) if mark.value.file == file else None
        if span is None:
            return None
        made, rest = _anchor(text, span), path[length:]
        if made is None or (made.form == "list" and rest) or any(isinstance(step, int) for step in rest):
            return None
        return made, rest
    return None


def _anchor(text: str, span: Span) -> Anchor | None:
    if span.form == "scalar" or not span.filled:
        word = text[span.start : span.end]
        if span.form == "scalar" and word.lower() not in ("", "~", "null", "unknown"):
            return None
        at = _after(text, span.end)
        return Anchor("hole", span.flow, span.start, span.end, word, at, span.column + 2)
    if span.flow:
        return Anchor(span.form, True, span.end - 1, span.end - 1, "", span.end - 1, 0)
    at = _after(text, len(text[: span.last].rstrip()))
    while (line := _COMMENT.match(text, at)) and len(line[1]) >= span.column and line[0]:
        at = line.end()
    return Anchor(span.form, False, at, at, "", at, span.column)


_COMMENT = re.compile(r"( *)#[^\r\n]*(\r\n|\n|\r|$)")
_LINE = re.compile(r"[^\r\n]*(\r\n|\n|\r|$)")


def _after(text: str, index: int) -> int:
    """Where the next line begins [-]."""
    found = _LINE.match(text, index)
    return found.end() if found else len(text)


@dataclass(frozen=True, slots=True)
class Write:
    """One thing to write: where, the keys to make on the way, and what."""

    anchor: Anchor
    keys: tuple[str, ...]
    value: Written


def put(text: str, writes: Iterable[Write], looked: Iterable[tuple[Anchor, str]] = ()) -> str:
    """Write answers into the text of a file.

    Args:
        text: the file [-].
        writes: what to write; more than one may go to one anchor.
        looked: places that stay unknown, and what is noted at the end of their lines [-].

    Raises:
        ValueError: something else than the noted word stands at a place.
    """
    end = "\r\n" if "\r\n" in text else "\n"
    edits: list[tuple[int, int, int, str]] = []
    gathered: dict[Anchor, list[Write]] = {}
    for one in writes:
        if text[one.anchor.start : one.anchor.end] != one.anchor.word:
            raise ValueError("the file is not the one that was asked about")
        gathered.setdefault(one.anchor, []).append(one)
    for where, ones in gathered.items():
        edits += _edits(text, where, _together(ones), end)
    for where, words in looked:
        stop = len(_LINE.match(text, where.end)[0].rstrip("\r\n")) + where.end  # type: ignore[index]  # it matches anything
        noted = f" ({words})" if "#" in text[where.end : stop] else f"  # {words}"
        edits.append((stop, stop, 0, noted))
    made, position = "", 0
    for start, stop, _, words in sorted(edits, key=lambda edit: (edit[0], edit[2])):
        made += text[position:start] + words
        position = stop
    return made + text[position:]


def _together(writes: Sequence[Write]) -> Written:
    """Lay everything for one anchor over each other."""
    made: Written = {}
    for one in writes:
        if not one.keys:
            if isinstance(one.value, dict) and isinstance(made, dict):
                made |= one.value
            elif isinstance(one.value, list) and isinstance(made, list):
                made += one.value
            else:
                made = one.value
            continue
        assert isinstance(made, dict)  # an anchor takes either keys or one value
        group: dict[str, Written] = made
        for key in one.keys[:-1]:
            inner = group.setdefault(key, {})
            assert isinstance(inner, dict)  # as above
            group = inner
        group[one.keys[-1]] = one.value
    return made


def _edits(text: str, where: Anchor, value: Written, end: str) -> Iterator[tuple[int, int, int, str]]:
    if where.form == "hole" and (where.flow or isinstance(value, str)):
        words = value if isinstance(value, str) else flow(value)
        lead = " " if not where.word and text[where.start - 1 : where.start] == ":" else ""
        blanks = re.compile(" *").match(text, where.end)
        assert blanks is not None  # it matches anything
        room = len(where.word) + len(blanks[0])
        commented = text[blanks.end() : blanks.end() + 1] == "#"
        tail = " " * max(2, room - len(lead + words)) if commented else blanks[0]
        yield where.start, blanks.end(), 0, lead + words + tail
    elif where.flow:
        lead = "" if text[: where.start].rstrip()[-1] in "{[," else ", "
        yield where.start, where.end, 0, lead + flow(value)[1:-1]
    else:
        if where.form == "hole" and where.word:
            first = where.start - (text[where.start - 1] == " ")
            yield first, where.end, 0, ""
        lines = "".join(f"{line}{end}" for line in block(value, where.column))
        joined = "" if not where.at or text[where.at - 1] in "\r\n" else end
        yield where.at, where.at, -where.column, joined + lines


def block(value: Written, column: int) -> Iterator[str]:
    """Write a group or list as lines, one field or item each.

    Args:
        value: what to write.
        column: blanks before each line [-].
    """
    pad = " " * column
    if isinstance(value, dict):
        for key, inner in value.items():
            if isinstance(inner, str):
                yield f"{pad}{name(key)}: {inner}"
            elif inner:
                yield f"{pad}{name(key)}:"
                yield from block(inner, column + 2)
    elif isinstance(value, list):
        for item in value:
            if isinstance(item, str):
                yield f"{pad}- {item}"
            elif item:
                first, *more = block(item, column + 2)
                yield f"{pad}- {first.lstrip()}"
                yield from more


def flow(value: Written) -> str:
    """Write a value on one line, in brackets where it is a group or list."""
    if isinstance(value, str):
        return value
    if isinstance(value, list):
        return "[" + ", ".join(map(flow, value)) + "]"
    return "{" + ", ".join(f"{name(key)}: {flow(inner)}" for key, inner in value.items()) + "}"


_PLAIN = re.compile(r"[A-Za-z]([\w -]*\w)?", re.ASCII)
_WORDS = frozenset(("yes", "no", "on", "off", "true", "false", "null", "unknown"))


def name(text: str) -> str:
    """Write a key: as it is where that is safe, else in double quotes [-]."""
    return text if _PLAIN.fullmatch(text) and text.lower() not in _WORDS else quoted(text)


def utf16(text: str, where: Anchor) -> Anchor:
    """Count the places of an anchor as a browser counts them, in units of UTF-16.

    Args:
        text: the file [-].
        where: an anchor counted in characters [-].
    """

    def units(index: int) -> int:
        return len(text[:index].encode("utf-16-le")) // 2

    return replace(where, start=units(where.start), end=units(where.end), at=units(where.at))
