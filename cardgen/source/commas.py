"""Thousands commas inside brackets and braces, where YAML takes them for separators."""

from __future__ import annotations

import re

from yaml.events import Event, ScalarEvent

_HEAD = re.compile(r"[-+−]?\d{1,3}")
_TAIL = re.compile(r"\d{3}(?!\d)")


def cut_by_comma(before: Event | None, after: Event) -> bool:
    """Whether two plain texts, like ``5`` and ``000 lb``, are one number cut by its comma.

    The comma must stand right between them, as in ``{weight: 5,000 lb}``; with a blank
    behind the comma they are two values.
    """
    if not isinstance(before, ScalarEvent) or not isinstance(after, ScalarEvent):
        return False
    if before.style is not None or after.style is not None:
        return False
    left, right = before.end_mark, after.start_mark
    if left is None or right is None or left.line != right.line or left.column + 1 != right.column:
        return False
    return bool(_HEAD.fullmatch(before.value) and _TAIL.match(after.value))
