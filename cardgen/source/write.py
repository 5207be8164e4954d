"""Write a text into a rig file so that the reader, and any YAML tool, reads the same text back."""

from __future__ import annotations

import json
import re

from cardgen.source.limits import Bounds
from cardgen.source.nodes import read_nodes

_SIMPLE = re.compile(r"[^\W_]([\w ./+'()%°±-]|,(?=\d{3}))*")
"""Texts that may stand without quotes, also inside brackets if they hold no comma."""


def scalar(text: str) -> str:
    """Write a text as a plain YAML scalar where that is safe, else in double quotes.

    Why: ``no``, ``1:30``, ``unknown`` or a leading ``-`` would come back as something else;
    whether a plain text is safe is asked of the reader itself.

    Args:
        text: any text without control characters [-].

    Returns:
        One line of YAML [-].
    """
    if _SIMPLE.fullmatch(text) and text == text.strip():
        nodes = read_nodes(f"field: {text}\n", "", Bounds())
        entry = nodes.top.value.get("field") if nodes.top and isinstance(nodes.top.value, dict) else None
        if not nodes.faults and entry is not None and entry.value.value == text:
            return text
    return quoted(text)


def quoted(text: str) -> str:
    """Write a text in double quotes (JSON's quoting, which is part of YAML 1.2)."""
    return json.dumps(text, ensure_ascii=False)
