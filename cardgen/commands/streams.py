"""Words for any terminal: a letter that it cannot show is written another way, never an error."""

from __future__ import annotations

import codecs
import contextlib
import os
import sys
import unicodedata
from collections.abc import Iterator
from typing import Any, TextIO, cast

HANDLER = "cardgen-alike"
_ALIKE = {
    "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ",
    "\u2010": "-", "\u2011": "-", "\u2013": "-", "\u2014": "-", "\u2212": "-",
    "\u00d7": "x", "\u2192": "->", "\u00b1": "+/-", "\u00b7": "*", "\u2032": "'", "\u2033": '"',
    "\u2018": "'", "\u2019": "'", "\u201c": '"', "\u201d": '"', "\u00df": "ss", "\u2264": "<=", "\u2265": ">=",
}  # fmt: skip


class LostOutputError(Exception):
    """What a command says cannot be written; the message is a sentence for the person."""


class _Stream:
    """A stream whose failures are no others': a full disk behind stdout is not one behind the output folder."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)

    def write(self, text: str) -> int:
        """Write a text."""
        with _lost():
            return self._stream.write(text)

    def flush(self) -> None:
        """Hand over what is kept."""
        with _lost():
            self._stream.flush()


@contextlib.contextmanager
def _lost() -> Iterator[None]:
    try:
        yield
    except BrokenPipeError:
        raise
    except OSError as problem:
        reason = (problem.strerror or str(problem)).lower()
        raise LostOutputError(f"what this command says cannot be written: {reason}") from problem


@contextlib.contextmanager
def any_terminal() -> Iterator[None]:
    """Let stdout and stderr take every text, whatever their encoding, and tell when they take no more."""
    codecs.register_error(HANDLER, _alike)
    before = sys.stdout, sys.stderr
    for stream in before:
        change = getattr(stream, "reconfigure", None)
        if change is not None:
            change(errors=HANDLER)
    sys.stdout, sys.stderr = (cast("TextIO", _Stream(stream)) for stream in before)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before


def closed() -> str:
    """Give closed streams a place that takes everything, or files opened later would get their numbers.

    Returns:
        What is wrong when stdout was closed: results would be lost without a word; else nothing.
    """
    names = [name for name in ("stdin", "stdout", "stderr") if getattr(sys, name) is None]
    for name in names:
        # The lowest number that is free is taken, which is the one that the stream had.
        setattr(sys, name, open(os.devnull, "r" if name == "stdin" else "w", encoding="utf-8"))  # noqa: SIM115, PTH123  # as long as the program
    if "stdout" not in names:
        return ""
    return "stdout is closed, so nothing was done; send it to a file, or to the null device to see none of it"


def silence() -> None:
    """Let what could not be written go, or Python complains about it when it ends."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, LostOutputError):
            with contextlib.suppress(OSError, ValueError):
                os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def is_utf8() -> bool:
    """Whether stdout takes every letter as it is; else JSON must escape them."""
    name = getattr(sys.stdout, "encoding", None) or "utf-8"
    return codecs.lookup(name).name == "utf-8"


def _alike(problem: UnicodeError) -> tuple[str, int]:
    """Write letters that an encoding lacks with ASCII ones that look alike, else ``?``."""
    if not isinstance(problem, UnicodeEncodeError):
        raise problem
    return "".join(map(_one, problem.object[problem.start : problem.end])), problem.end


def _one(letter: str) -> str:
    if letter in _ALIKE:
        return _ALIKE[letter]
    return unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode("ascii") or "?"
