"""Events of PyYAML's parser, with its own complaints turned into located faults."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import yaml
from yaml.events import Event, ScalarEvent

from cardgen.source.faults import Fault, Place, StopReadingError, fault


def events_of(text: str, file: str) -> Iterator[Event]:
    """Parse text step by step; stops with a located fault where YAML cannot be read."""
    quick = _by_libyaml(text)
    if quick is not None:
        yield from quick
        return
    # ReaderError and friends are YAMLErrors; the others are what PyYAML's scanner
    # raises on escapes and numbers out of range.
    try:
        loader = yaml.SafeLoader(text)
        while loader.check_event():
            event: Event = loader.get_event()  # type: ignore[no-untyped-call]  # stubs lack it
            yield event
    except yaml.MarkedYAMLError as found:
        raise StopReadingError(_explain(found, text, file)) from found
    except (yaml.YAMLError, ValueError, OverflowError, IndexError) as found:
        mark = loader.get_mark()
        place = Place(file, mark.line + 1, mark.column + 1)
        message = "YAML cannot read this place"
        hint = "put the value in single quotes and leave out backslashes"
        raise StopReadingError(fault("yaml-syntax", place, (), message, hint)) from found


_ODD = re.compile("[\\t?\\x85\\u2028\\u2029\\ufeff]")
"""Characters that libyaml and PyYAML's own parser take differently."""


def _by_libyaml(text: str) -> list[Event] | None:
    """The same events with the same places in a tenth of the time; None where only PyYAML's own parser tells them.

    That is where something is wrong, which it words better, and where the two were seen to differ: odd characters,
    a last line without an end, an empty value in braces.
    """
    loader_of: Any = getattr(yaml, "CSafeLoader", None)
    if loader_of is None or _ODD.search(text) or not text.endswith("\n"):
        return None
    events: list[Event] = []
    try:
        loader = loader_of(text)
        while loader.check_event():
            event = loader.get_event()
            if isinstance(event, ScalarEvent) and not event.style:
                if event.value == "":
                    return None
                event.style = None
            events.append(event)
    except (yaml.YAMLError, ValueError, OverflowError, IndexError):
        return None
    return events


_HINTS = (
    ("mapping values are not allowed", "put the value in quotes if it holds ': '"),
    ("could not find expected ':'", "write 'field: value', with a blank after the colon"),
    ("expected <block end>", "line up this field with its neighbours"),
    ("found unexpected end of stream", "close the quotes or brackets"),
    ("found unknown escape", "use single quotes instead of double quotes"),
    ("found undefined", "put the value in quotes"),
    ("expected ',' or", "close the bracket or brace, and put a comma between items"),
    ("cannot start any token", "put the value in quotes"),
    ("did not find expected", "check the indentation and brackets"),
    ("while scanning an alias", "put the value in quotes if it starts with '*'"),
    ("while scanning an anchor", "put the value in quotes if it starts with '&'"),
)


def _explain(found: yaml.MarkedYAMLError, text: str, file: str) -> Fault:
    mark = found.problem_mark or found.context_mark
    if mark is None:
        return fault("yaml-syntax", Place(file), (), str(found.problem), "")
    lines = re.split("\r\n|\r|\n", text)
    line = lines[mark.line] if mark.line < len(lines) else ""
    place = Place(file, mark.line + 1, mark.column + 1)
    lead = line[: len(line) - len(line.lstrip())]
    if "\t" in lead or line[mark.column : mark.column + 1] == "\t":
        column = line.index("\t") + 1
        message = "a tab stands where YAML wants blanks"
        return fault("yaml-tab", Place(file, place.line, column), (), message, "use blanks")
    problem = found.problem or found.context or "YAML cannot read this place"
    if found.context and found.context_mark and found.context_mark.line != mark.line:
        problem += f" ({found.context} that starts on line {found.context_mark.line + 1})"
    words = f"{problem} {found.context or ''}"
    hint = next((h for part, h in _HINTS if part in words), "check quotes and indentation here")
    return fault("yaml-syntax", place, (), " ".join(problem.split()), hint)
