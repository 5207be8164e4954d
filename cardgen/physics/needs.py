"""What is missing, in words: field path to 'read or measure it there', from the model's own docs.

Source: the model's own field documentation.
"""

from __future__ import annotations

import re
import types
import typing
from functools import cache
from typing import Any

from cardgen.model.results import Need
from cardgen.model.rig import Rig
from cardgen.units.field import Doc

_STEP = re.compile(r"\[\d*\]")


@cache
def need(path: str) -> Need:
    """Return the need for a dotted field path, with the place where a person finds the value.

    Args:
        path: for example ``trailer.tanks.fresh.capacity`` [-].

    Source: the model's own field documentation.
    """
    doc = find_doc(path)
    if doc is None:
        return Need(path, path.rsplit(".", 1)[-1].replace("_", " "))
    return Need(path, doc.what, doc.where)


@cache
def find_doc(path: str) -> Doc | None:
    """Walk the model's annotations along a path [-] and return the last field's documentation.

    Source: the model's own field documentation.
    """
    current: Any = Rig
    doc: Doc | None = None
    for step in path.split("."):
        name = _STEP.sub("", step)
        hints = _hints(current)
        if name in hints:
            doc = _doc(hints[name]) or doc
            current = _inner(hints[name], indexed="[" in step)
        elif current is None:
            return doc
    return doc


@cache
def _hints(shape: Any) -> dict[str, Any]:
    if not isinstance(shape, type) or not hasattr(shape, "__dataclass_fields__"):
        return {}
    return typing.get_type_hints(shape, include_extras=True)


def _doc(hint: Any) -> Doc | None:
    return next((m for m in getattr(hint, "__metadata__", ()) if isinstance(m, Doc)), None)


def _inner(hint: Any, indexed: bool) -> Any:
    """Strip Annotated, Optional, tuple and dict down to the class inside."""
    while True:
        if hasattr(hint, "__metadata__"):
            hint = hint.__origin__
        origin = typing.get_origin(hint)
        if origin in (typing.Union, types.UnionType):
            hint = next(a for a in typing.get_args(hint) if a is not type(None))
        elif origin is dict:
            hint = typing.get_args(hint)[1]
        elif origin is tuple:
            hint = typing.get_args(hint)[0]
        else:
            return hint


def heights_asked(rig: Rig) -> tuple[Need, ...]:
    """What tells how level the trailer rides [-].

    Args:
        rig: the rig.

    Source: see ``axles.attitude``.
    """
    ball = rig.trailer.type == "ball"
    hitched = "vehicle.receiver.height_hitched" if ball else "vehicle.bed_hitch.height"
    return need("trailer.coupler.height"), need(hitched)
