"""Records of the results that have no printed form of their own, as plain data in SI units."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic_core import to_jsonable_python

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
    """Turn records, mappings and sequences into what JSON can hold, in the words of a market."""
    return _worded(show, to_jsonable_python(value, inf_nan_mode="null"))


def _worded(show: Formatter, plain: Any) -> Any:
    if isinstance(plain, str):
        return (show.say(plain) if "{" in plain or "[" in plain else plain).replace("\u00a0", " ")
    if isinstance(plain, dict):
        return {key: _worded(show, inner) for key, inner in plain.items()}
    if isinstance(plain, list):
        return [_worded(show, inner) for inner in plain]
    return plain
