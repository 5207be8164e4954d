"""A fault: one thing that is wrong in a file, where it is, and what to write instead."""

from __future__ import annotations

import os
import re
from collections.abc import Collection
from dataclasses import dataclass, replace

Path = tuple[str | int, ...]
"""Keys and list indices from the top of the file to a node."""

_LONGEST = 280
"""Most characters of a message [-]."""

_BREAKS = re.compile(r"[\t\r\n]")


def dotted(path: Path) -> str:
    """Write a path the way messages name fields, for example ``trailer.axles.gawr[0]``."""
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step}]"
        else:
            text += f".{step}" if text else step
    return text


@dataclass(frozen=True, slots=True)
class Place:
    """A place in a file; line and column count from 1."""

    file: str
    line: int = 1
    col: int = 1


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One located fault.

    Args:
        file: file as the person named it.
        line: line, counted from 1 [-].
        col: column, counted from 1 [-].
        code: stable code, explained by ``cardgen explain`` [-].
        field: dotted path of the field, empty when the whole file is meant [-].
        message: what is wrong, in words [-].
        hint: what to write instead [-].
    """

    file: str
    line: int
    col: int
    code: str
    field: str
    message: str
    hint: str

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}:{self.col}: "
        field = f"{self.field}: " if self.field else ""
        hint = f"; {self.hint}" if self.hint else ""
        return f"{where}{field}{self.message}{hint} [{self.code}]"


def fault(code: str, place: Place, path: Path, message: str, hint: str) -> Fault:
    """Make a fault at a place for the field at a path; words of the file are cut when long."""
    words = message if len(message) <= _LONGEST else f"{message[:_LONGEST]}…"
    words, advice = _BREAKS.sub(" ", words), _BREAKS.sub(" ", hint)
    return Fault(place.file, place.line, place.col, code, dotted(path), words, advice)


def shown(path: os.PathLike[str]) -> str:
    """Write a file name so that any terminal and any log can take it."""
    name = os.fspath(path).encode("utf-8", "replace").decode("utf-8")
    return "".join(letter if letter.isprintable() else "?" for letter in name)


def covered(path: Path, holes: Collection[str]) -> bool:
    """Whether a path, or anything above it, is among the holes (dotted paths)."""
    return any(dotted(path[:length]) in holes for length in range(len(path) + 1))


class StopReadingError(Exception):
    """Reading of this file cannot go on; carries the fault that says why."""

    def __init__(self, found: Fault) -> None:
        super().__init__(str(found))
        self.found = found

    def under(self, prefix: Path) -> Fault:
        """The fault, told as one of the field that the whole file stands for."""
        return self.found if self.found.field else replace(self.found, field=dotted(prefix))
