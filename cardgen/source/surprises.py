"""Plain words and numbers that YAML 1.1 reads as something else than what they look like."""

from __future__ import annotations

import re

UNKNOWN = {"", "~", "null", "unknown"}
"""Plain spellings, in lower case, that all mean: not known."""

_TRUE = {"yes", "on", "y"}
_FALSE = {"no", "off", "n"}
_LETTERS = {"Y", "N"}
"""Speed symbols of tires, which every reader in use takes for text."""

_CLOCK = re.compile(r"[-+]?[0-9][0-9_]*(:[0-5]?[0-9])+(\.[0-9_]*)?")
_ZERO = re.compile(r"[-+]?0[0-9_]+")
_GROUPED = re.compile(r"[-+]?[0-9][0-9]*_[0-9_]*(\.[0-9_]*)?|[-+]?[0-9]*\.[0-9]*_[0-9_.]*")
_BASED = re.compile(r"[-+]?0[xXbBoO][0-9a-fA-F_]+")
_SPECIAL = re.compile(r"[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)")


def value_surprise(words: str) -> tuple[str, str, str] | None:
    """Say what YAML 1.1 would make of a plain value: (code, message, hint), or None."""
    low = words.lower()
    if low in _TRUE | _FALSE and words not in _LETTERS:
        reading = "true" if low in _TRUE else "false"
        message = f"plain '{words}' is read as {reading} by YAML 1.1 and as a word by YAML 1.2"
        return "yaml-word", message, f"write {reading} for a flag, or '{words}' in quotes for text"
    if _SPECIAL.fullmatch(words):
        message = f"'{words}' is YAML for a value that is no number"
        return "yaml-number", message, "write the figure with its unit, or 'unknown'"
    for pattern, reading in (
        (_CLOCK, "a count in base 60"),
        (_ZERO, "an octal number"),
        (_BASED, "a number in another base"),
        (_GROUPED, "a number without the underscore"),
    ):
        if pattern.fullmatch(words):
            message = f"plain '{words}' may be read as {reading} by YAML 1.1"
            return "yaml-number", message, f"write '{words}' in quotes"
    return None


def key_surprise(name: str, plain: bool) -> tuple[str, str] | None:
    """Say what is wrong with a field name: (message, hint), or None.

    The single letters y and n pass, as ``y`` is how a position across the trailer is named.
    """
    low = name.lower()
    if not plain:
        return None
    if low in UNKNOWN:
        return "the field name is missing", "write a name before the colon"
    if low in {"yes", "no", "on", "off", "true", "false"}:
        message = f"the plain field name '{name}' is read as true or false by YAML 1.1"
        return message, f"write '{name}' in quotes, or choose another name"
    return None
