"""The one typeface of cards and reports: where it lies.

IBM Plex Sans Condensed (OFL-1.1), from the package ``fontpkg-ibm-plex-sans-condensed``:
tabular figures by default, capital I and small l told apart, narrow enough for card type.
Only the static Regular and Bold files are used.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from cardgen.tables.letters import Weight

FAMILY = "IBM Plex Sans Condensed"
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
