"""Records of the results that have no printed form of their own, as plain data in SI units."""

from __future__ import annotations

import dataclasses
import datetime as dt
import math
from collections.abc import Mapping
from enum import Enum
from typing import Any

from cardgen.limits.room import rooms
from cardgen.model.results import Assessment
from cardgen.present.format import Formatter


def more(assessment: Assessment, show: Formatter) -> dict[str, Any]:
    """Return envelope, strips, mounts, wiring, lamps, labels, weighings, room, remedies and sway order.

    Numbers are SI in the unit that the field's documentation in ``cardgen.model`` names;
    a record with a ``kind`` is in the SI unit of that kind.
    """
    computed = assessment.computed
    return {
        "envelope": record(show, computed.envelope),
        "strips": record(show, computed.strips),
        "mounts": record(show, computed.mounts),
        "wiring": record(show, computed.wiring),
        "lamps": record(show, computed.lamps),
        "labels": record(show, computed.labels),
        "weighings": record(show, computed.weighings),
        "room": [record(show, one) for one in rooms(assessment)],
        "remedies": {
            code: [record(show, one) | {"text": _said(show, one.text, one.values)} for one in found]
            for code, found in assessment.remedies.items()
        },
        "sway": [
            record(show, pair) | {"reasons": [_said(show, text, pair.values) for text in pair.reasons]}
            for pair in assessment.sway
        ],
    }


def _said(show: Formatter, text: str, values: Mapping[str, tuple[float, str]]) -> Any:
    """A sentence with its numbers in the reader's units."""
    return record(show, show.filled(text, values))


def record(show: Formatter, value: object) -> Any:
    """Turn dataclasses, mappings and sequences into what JSON can hold, in the words of a market."""
    if value is None or isinstance(value, (bool, int)):
        return value
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, str):
        return (show.say(value) if "{" in value or "[" in value else value).replace("\u00a0", " ")
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): record(show, inner) for key, inner in value.items()}
    if isinstance(value, (tuple, list, frozenset, set)):
        return [record(show, inner) for inner in value]
    if dataclasses.is_dataclass(value):
        return {f.name: record(show, getattr(value, f.name)) for f in dataclasses.fields(value)}
    raise TypeError(f"no plain form for {type(value).__name__}")
