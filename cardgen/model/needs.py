"""What is missing: the field, and where a person reads or measures it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Need:
    """Something that is missing: the field, and where to read or measure it."""

    path: str
    what: str
    where: str = ""
