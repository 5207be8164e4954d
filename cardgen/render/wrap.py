"""How many lines a text takes, by arithmetic with the letter widths of the font.

Greedy wrapping with advance widths agrees with the PDF engine except where kerning decides;
it is used to choose type sizes before anything is laid out, never to prove that text fits.
"""

from __future__ import annotations

import re
from functools import lru_cache

from cardgen.tables.letters import Weight, metrics

PT = 25.4 / 72  # mm
# After a space, and after a hyphen, slash or dash inside a word.
_BREAKS = re.compile(r"[^ \-/–—]*(?:[-/–—]+| +|$)")


@lru_cache(maxsize=8192)
def _pieces(text: str, weight: Weight) -> tuple[tuple[float, float], ...]:
    """Unbreakable pieces of a text: width without and with the space after it [em]."""
    width = metrics(weight).width
    out: list[tuple[float, float]] = []
    for piece in _BREAKS.findall(text):
        if piece:
            bare = piece.rstrip(" ")
            out.append((width(bare), width(piece)))
    return tuple(out)


def lines(text: str, pt: float, room: float, weight: Weight = "regular") -> int:
    """Return the number of lines a text takes; 0 for an empty one.

    Args:
        text: what is printed [-].
        pt: type size [pt].
        room: width of the place [mm].
        weight: weight of the font.
    """
    return last_line(text, pt, room, weight)[0]


def last_line(text: str, pt: float, room: float, weight: Weight = "regular") -> tuple[int, float]:
    """Return the number of lines, and the width of the last one [mm]."""
    limit = room / (pt * PT)
    count, used = 0, 0.0
    for bare, full in _pieces(text, weight):
        if count and used + bare <= limit:
            used += full
            continue
        count += 1
        used = full
        while bare > limit > 0:  # a word longer than the line is broken anywhere
            count += 1
            bare, used = bare - limit, used - limit
    return count, used * pt * PT


def split(text: str, pt: float, room: float, weight: Weight = "regular") -> list[str]:
    """Return the text as the lines it takes; a word longer than a line is broken anywhere.

    Args:
        text: what is printed [-].
        pt: type size [pt].
        room: width of the place [mm].
        weight: weight of the font.
    """
    out: list[str] = []
    line = ""
    for piece in (part for part in _BREAKS.findall(text) if part):
        if line and width((line + piece).rstrip(" "), pt, weight) > room:
            out.append(line.rstrip(" "))
            line = ""
        line += piece
        while len(line) > 1 and width(line.rstrip(" "), pt, weight) > room:
            cut = len(line) - 1
            while cut > 1 and width(line[:cut], pt, weight) > room:
                cut -= 1
            out.append(line[:cut])
            line = line[cut:]
    if line.strip(" "):
        out.append(line.rstrip(" "))
    return out


def width(text: str, pt: float, weight: Weight = "regular") -> float:
    """Return the width of a text on one line [mm]."""
    return metrics(weight).width(text) * pt * PT


def shorten(text: str, pt: float, room: float, weight: Weight = "regular") -> str:
    """Return the text, cut with an ellipsis where it would not fit one line of ``room`` [mm]."""
    if width(text, pt, weight) <= room:
        return text
    cut = text
    while cut and width(cut + "…", pt, weight) > room:
        cut = cut[:-1]
    return cut.rstrip() + "…"
