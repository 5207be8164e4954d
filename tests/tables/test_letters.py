"""Widths of letters against the font files themselves."""

from __future__ import annotations

from fontTools.ttLib import TTFont

from cardgen.render.fonts import WEIGHTS, font_file
from cardgen.tables.letters import metrics


def test_widths_are_those_of_the_font_files() -> None:
    for weight in WEIGHTS:
        with TTFont(font_file(weight), lazy=True) as font:
            em, advance = font["head"].unitsPerEm, font["hmtx"].metrics
            wanted = {code: advance[name][0] / em for code, name in font.getBestCmap().items()}
        assert metrics(weight).widths == wanted
