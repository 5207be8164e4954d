"""The one typeface of cards and reports: where it lies, how wide its letters are.

IBM Plex Sans Condensed (OFL-1.1), from the package ``fontpkg-ibm-plex-sans-condensed``:
tabular figures by default, capital I and small l told apart, narrow enough for card type.
Only the static Regular and Bold files are used.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Literal

FAMILY = "IBM Plex Sans Condensed"
Weight = Literal["regular", "bold"]
WEIGHTS: dict[Weight, int] = {"regular": 400, "bold": 700}


class FontMissingError(RuntimeError):
    """The font package is not installed; the message says how to install it."""


@lru_cache(maxsize=2)
def font_file(weight: Weight) -> Path:
    """Return the TTF file of a weight.

    Raises:
        FontMissingError: the font package is not installed.
    """
    try:
        import fontpkg

        return Path(fontpkg.path(FAMILY, weight=WEIGHTS[weight]))
    except Exception as fault:
        raise FontMissingError(
            f"the font {FAMILY} is missing: install it with 'pip install fontpkg-ibm-plex-sans-condensed'"
        ) from fault


@dataclass(frozen=True, slots=True)
class Metrics:
    """Widths of the letters of one weight.

    Args:
        widths: advance width by code point [em].
    """

    widths: dict[int, float]

    def width(self, text: str) -> float:
        """Width of a line of text without kerning [em]."""
        get = self.widths.get
        return sum(get(ord(char), 0.6) for char in text)


@lru_cache(maxsize=2)
def metrics(weight: Weight) -> Metrics:
    """Read the letter widths of a weight from its font file."""
    from fontTools.ttLib import TTFont

    with TTFont(font_file(weight), lazy=True) as font:
        em = font["head"].unitsPerEm
        advance = font["hmtx"].metrics
        return Metrics({code: advance[name][0] / em for code, name in font.getBestCmap().items()})


@lru_cache(maxsize=1)
def letters() -> frozenset[int]:
    """Code points that both weights can print."""
    return frozenset(metrics("regular").widths) & frozenset(metrics("bold").widths)
