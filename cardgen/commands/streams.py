"""Words for any terminal: a letter that it cannot show is written another way, never an error."""

from __future__ import annotations

import codecs
import sys
import unicodedata

HANDLER = "cardgen-alike"
_ALIKE = {
    "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ",
    "\u2010": "-", "\u2011": "-", "\u2013": "-", "\u2014": "-", "\u2212": "-",
    "\u00d7": "x", "\u2192": "->", "\u00b1": "+/-", "\u00b7": "*", "\u2032": "'", "\u2033": '"',
    "\u2018": "'", "\u2019": "'", "\u201c": '"', "\u201d": '"', "\u00df": "ss", "\u2264": "<=", "\u2265": ">=",
}  # fmt: skip


def any_terminal() -> None:
    """Let stdout and stderr take every text, whatever their encoding."""
    codecs.register_error(HANDLER, _alike)
    for stream in (sys.stdout, sys.stderr):
        change = getattr(stream, "reconfigure", None)
        if change is not None:
            change(errors=HANDLER)


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
