"""Text as outlines, for the marks on print sheets: no font to embed, the same on every system."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from cardgen.render.fonts import font_file
from cardgen.render.wrap import PT
from cardgen.tables.letters import metrics

POINT = 72 / 25.4  # pt per mm


@lru_cache(maxsize=256)
def _glyph(char: str) -> tuple[str, ...]:
    """Return the path operators of a letter, coordinates in thousandths of an em."""
    from fontTools.pens.basePen import BasePen
    from fontTools.ttLib import TTFont

    class _Pen(BasePen):  # type: ignore[misc]  # the package ships no types
        def __init__(self, glyphs: Any) -> None:
            super().__init__(glyphs)
            self.parts: list[str] = []

        def _moveTo(self, pt: tuple[float, float]) -> None:  # noqa: N802  # name of the package
            self.parts.append(f"{pt[0]:g} {pt[1]:g} m")

        def _lineTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
            self.parts.append(f"{pt[0]:g} {pt[1]:g} l")

        def _curveToOne(self, a: Any, b: Any, c: Any) -> None:  # noqa: N802
            self.parts.append(" ".join(f"{v:.1f}" for p in (a, b, c) for v in p) + " c")

        def _closePath(self) -> None:  # noqa: N802
            self.parts.append("h")

    with TTFont(font_file("regular"), lazy=True) as font:
        glyphs = font.getGlyphSet()
        name = font.getBestCmap().get(ord(char), ".notdef")
        pen = _Pen(glyphs)
        glyphs[name].draw(pen)
        return tuple(pen.parts)


def outline(text: str, x: float, y: float, pt: float, upright: bool = False) -> str:
    """Return content stream operators that fill a line of text.

    Args:
        text: the text [-].
        x, y: left end of the base line from the lower left of the sheet [mm].
        pt: type size [pt].
        upright: whether the line runs from bottom to top.
    """
    em = pt * PT * POINT / 1000
    turn = f"0 {em:.6f} {-em:.6f} 0" if upright else f"{em:.6f} 0 0 {em:.6f}"
    out = [f"q {turn} {x * POINT:.3f} {y * POINT:.3f} cm"]
    widths = metrics("regular").widths
    for char in text:
        out += [*_glyph(char), "f"] if _glyph(char) else []
        out.append(f"1 0 0 1 {widths.get(ord(char), 0.6) * 1000:g} 0 cm")
    out.append("Q")
    return "\n".join(out)
