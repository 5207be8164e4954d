"""Small helpers that write SVG text: numbers in millimetres, escaped labels, hatching."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

from cardgen.render.fonts import FAMILY

PT = 25.4 / 72  # mm


def num(value: float) -> str:
    """Write a length or coordinate [mm] to a thousandth, without trailing zeros."""
    return f"{round(value, 3) + 0.0:g}"


@dataclass(frozen=True, slots=True)
class Drawn:
    """A finished drawing.

    Args:
        svg: one ``<svg>`` element.
        width, height: size on paper [mm].
    """

    svg: str
    width: float
    height: float


def svg(width: float, height: float, title: str, *parts: str) -> Drawn:
    """Wrap drawn parts into one element of real size.

    Args:
        width, height: size on paper [mm].
        title: alternative text [-].
        parts: SVG elements [-].
    """
    return Drawn(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{num(width)}mm" height="{num(height)}mm" '
        f'viewBox="0 0 {num(width)} {num(height)}" font-family="{FAMILY}">'
        f"<title>{escape(title)}</title>{''.join(parts)}</svg>",
        width,
        height,
    )


def rect(x: float, y: float, width: float, height: float, line: float = 0.25, fill: str = "none") -> str:
    """Draw a rectangle whose stroke [mm] lies inside its bounds [mm]."""
    half = line / 2
    return (
        f'<rect x="{num(x + half)}" y="{num(y + half)}" width="{num(max(0, width - line))}" '
        f'height="{num(max(0, height - line))}" fill="{fill}" stroke="#000" '
        f'stroke-width="{num(line)}"/>'
    )


def path(data: str, line: float = 0.25, fill: str = "none", dash: str = "") -> str:
    """Draw a path with a black stroke [mm]; ``dash`` is a dash pattern [mm]."""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="{data}" fill="{fill}" stroke="#000" stroke-width="{num(line)}"{dashed}/>'


def hatch(x: float, y: float, width: float, height: float, gap: float) -> str:
    """Return path data of 45 degree lines inside a rectangle.

    Args:
        x, y, width, height: the rectangle [mm].
        gap: distance between the lines, measured along the x axis [mm].
    """
    out: list[str] = []
    start = gap
    while start < width + height:
        x0, y0 = (start, 0.0) if start <= width else (width, start - width)
        x1, y1 = (0.0, start) if start <= height else (start - height, height)
        out.append(f"M{num(x + x0)} {num(y + y0)}L{num(x + x1)} {num(y + y1)}")
        start += gap
    return "".join(out)
