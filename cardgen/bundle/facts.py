"""The rig's own facts as nested texts, kept with a revision to tell later what was changed."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from collections.abc import Mapping
from typing import Union

from cardgen.units.quantity import Quantity

Facts = Mapping[str, Union[str, "Facts"]]
_NAMES = ("name", "who", "date", "phase")


def facts(record: object) -> dict[str, str | Facts]:
    """Write what a rig says that is not the usual value, name by name.

    Args:
        record: a rig, or any dataclass of the model.
    """
    found: dict[str, str | Facts] = {}
    if not dataclasses.is_dataclass(record) or isinstance(record, type):
        return found
    for field in dataclasses.fields(record):
        value = getattr(record, field.name)
        if value is None or value == _usual(field):
            continue
        said = _said(value)
        if said not in ("", {}):
            found[field.name.replace("_", " ")] = said
    return found


def _usual(field: dataclasses.Field[object]) -> object:
    if field.default is not dataclasses.MISSING:
        return field.default
    return field.default_factory() if field.default_factory is not dataclasses.MISSING else None


def _said(value: object) -> str | Facts:
    if isinstance(value, Quantity):
        return _spelled(value.text)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): _said(inner) for key, inner in value.items()}
    if isinstance(value, (tuple, list)):
        return _listed(tuple(value))
    if dataclasses.is_dataclass(value):
        return facts(value)
    return " ".join(str(value).split())


def _listed(items: tuple[object, ...]) -> str | Facts:
    """A list of plain values on one line; records under their name or number."""
    if not any(dataclasses.is_dataclass(one) and not isinstance(one, Quantity) for one in items):
        return ", ".join(str(_said(one)) for one in items)
    named: dict[str, str | Facts] = {}
    for number, one in enumerate(items, 1):
        key = next((key for key in _NAMES if hasattr(one, key)), "")
        name = str(getattr(one, key)) if key else str(number)
        said = facts(one)
        said.pop(key, None)
        named[f"{name} ({number})" if name in named else name] = said
    return named


def _spelled(text: str) -> str:
    """The words of the file without grouping commas and doubled blanks."""
    return " ".join(re.sub(r"(?<=\d),(?=\d{3})", "", text).split())
