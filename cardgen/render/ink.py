"""Tick boxes, leader dots and limit bars, drawn straight into the finished page.

Left to the PDF engine, every tick box is a picture of its own that is laid out, parsed and
drawn: a quarter of the time of a card. So the templates only mark their places
(``data-ink``), and their lines are put in front of the page's content when it is painted, as
artifacts: what they mean stands beside them in words. A browser gets them as pictures from
``styles/browser.css``.

Marks: ``tick``, ``heavy`` (tick box of a safety-critical item), ``dots LENGTH`` (a leader that
begins at the left edge [mm]), ``bullet``, and ``bar SHARE LEVEL WIDTH HEIGHT ACROSS DOWN`` (a
limit bar; ``-`` for an unknown share; sizes and place in its cell [mm], a negative ``DOWN``
from the lower edge).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from cardgen.present.figures import LimitBar
from cardgen.present.levels import level_of
from cardgen.render.figures.bars import Box, Lines, Shape, bar_shapes
from cardgen.render.survey import Mark, Survey

POINT = 72 / 25.4  # pt per mm
TICK_DOWN = 0.23  # em from the upper edge of an item to its tick box
LIGHT = (0.828, 0.064)  # em: side and line of a tick box
HEAVY = (0.736, 0.184)  # em: side and line of the box of a safety-critical item
BASE = 0.96  # em from the upper edge of an answer to the middle of its leader dots
DOT, PITCH = 0.36, 1.7  # mm: size and distance of leader dots


def page_ink(marks: Iterable[Mark], height: float) -> list[str]:
    """Return content operators for all marks of a page.

    Args:
        marks: places and what to draw there.
        height: paper [mm].
    """
    drawn = [operators for mark in marks for operators in _mark(mark)]
    if not drawn:
        return []
    flip = f"q {POINT:.6f} 0 0 {-POINT:.6f} 0 {height * POINT:.3f} cm"
    return ["/Artifact BMC", flip, *drawn, "Q", "EMC"]


def ink_of(found: Survey, height: float) -> list[list[str]]:
    """Return the operators of every page.

    Args:
        found: what was found on the pages.
        height: paper [mm].
    """
    return [
        page_ink((mark for mark in found.marks if mark.page == page), height) for page in range(found.pages)
    ]


def add_ink(pdf: Any, pages: Sequence[list[str]]) -> None:
    """Put operators in front of the content of each page.

    Args:
        pdf: the engine's document, before it is written (a ``pydyf.PDF``).
        pages: operators of each page.
    """
    for reference, operators in zip(pdf.page_references, pages, strict=True):
        page = pdf.objects[int(reference.split()[0])]
        content = pdf.objects[int(page["Contents"].split()[0])]
        content.stream[0:0] = operators


def _mark(mark: Mark) -> list[str]:
    """Return the operators of one mark."""
    kind, *rest = mark.ink.split()
    if kind in ("tick", "heavy"):
        side, line = (part * mark.em for part in (HEAVY if kind == "heavy" else LIGHT))
        aside = (0.92 * mark.em - side) / 2
        x, y = mark.left + aside, mark.top + TICK_DOWN * mark.em + aside
        return [f"{line:.3f} w {x:.3f} {y:.3f} {side:.3f} {side:.3f} re S"]
    if kind == "dots":
        x, y, end = mark.left + DOT, mark.top + BASE * mark.em, mark.left + float(rest[0])
        if end <= x:
            return []
        return [f"q 1 J [0 {PITCH}] 0 d {DOT} w {x:.3f} {y:.3f} m {end:.3f} {y:.3f} l S Q"]
    if kind == "bullet":
        x, y = mark.left + 0.24 * mark.em, mark.top + 0.62 * mark.em
        return [f"q 1 J {0.28 * mark.em:.3f} w {x:.3f} {y:.3f} m {x:.3f} {y:.3f} l S Q"]
    share = None if rest[0] == "-" else float(rest[0])
    wide, tall, across, down = map(float, rest[2:6])
    x = mark.left + across
    y = mark.top + (down if down >= 0 else mark.height + down)
    shapes = bar_shapes(LimitBar(share, level_of(rest[1])), wide, tall)
    return [f"q 1 0 0 1 {x:.3f} {y:.3f} cm", *map(_shape, shapes), "Q"]


def _shape(shape: Shape) -> str:
    """Return the operators of one shape of a limit bar."""
    if isinstance(shape, Box):
        half = shape.thick / 2
        wide, tall = max(0.0, shape.width - shape.thick), max(0.0, shape.height - shape.thick)
        paint = "B" if shape.black else "S"
        return f"{shape.thick:g} w {shape.x + half:.3f} {shape.y + half:.3f} {wide:.3f} {tall:.3f} re {paint}"
    return _lines(shape)


def _lines(lines: Lines) -> str:
    """Return the operators of lines of one thickness."""
    path = " ".join(f"{x0:.3f} {y0:.3f} m {x1:.3f} {y1:.3f} l" for x0, y0, x1, y1 in lines.segments)
    dash = f"[{lines.dash[0]:g} {lines.dash[1]:g}] 0 d " if lines.dash else ""
    white = "1 G " if lines.white else ""
    return f"q {white}{dash}{lines.thick:g} w {path} S Q"
