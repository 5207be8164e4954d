"""Small helpers that write SVG text: numbers in millimetres, escaped labels, hatching."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from typing import Literal

from cardgen.render.fonts import FAMILY
from cardgen.render.wrap import PT
from cardgen.tables.letters import Weight

Anchor = Literal["start", "middle", "end"]
THIN, LINE, BOLD = 0.18, 0.3, 0.55  # mm


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


def text(
    x: float, y: float, words: str, pt: float, anchor: Anchor = "start", weight: Weight = "regular"
) -> str:
    """Write one line of text on a base line.

    Args:
        x, y: end of the base line that ``anchor`` names [mm].
        words: the text [-].
        pt: type size [pt].
        anchor: which end stands at ``x``.
        weight: weight of the font.
    """
    if not words:
        return ""
    bold = ' font-weight="700"' if weight == "bold" else ""
    return (
        f'<text x="{num(x)}" y="{num(y)}" font-size="{num(pt * PT)}" '
        f'text-anchor="{anchor}"{bold}>{escape(words)}</text>'
    )


def texts(
    x: float,
    y: float,
    rows: Sequence[str],
    pt: float,
    anchor: Anchor = "start",
    weight: Weight = "regular",
) -> str:
    """Write lines of text below each other, the first on the base line y [mm]."""
    step = 1.2 * pt * PT
    return "".join(text(x, y + n * step, row, pt, anchor, weight) for n, row in enumerate(rows))


def rect(x: float, y: float, width: float, height: float, line: float = LINE, fill: str = "none") -> str:
    """Draw a rectangle whose stroke [mm] lies inside its bounds [mm]."""
    half = line / 2
    return (
        f'<rect x="{num(x + half)}" y="{num(y + half)}" width="{num(max(0, width - line))}" '
        f'height="{num(max(0, height - line))}" fill="{fill}" stroke="#000" '
        f'stroke-width="{num(line)}"/>'
    )


def circle(x: float, y: float, radius: float, line: float = LINE, fill: str = "none") -> str:
    """Draw a circle by its centre and radius [mm]."""
    return (
        f'<circle cx="{num(x)}" cy="{num(y)}" r="{num(radius)}" fill="{fill}" stroke="#000" '
        f'stroke-width="{num(line)}"/>'
    )


def path(data: str, line: float = LINE, fill: str = "none", dash: str = "") -> str:
    """Draw a path with a black stroke [mm]; ``dash`` is a dash pattern [mm]."""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path d="{data}" fill="{fill}" stroke="#000" stroke-width="{num(line)}" '
        f'stroke-linejoin="round"{dashed}/>'
    )


def line(x0: float, y0: float, x1: float, y1: float, thick: float = LINE, dash: str = "") -> str:
    """Draw a straight line between two points [mm]."""
    return path(f"M{num(x0)} {num(y0)}L{num(x1)} {num(y1)}", thick, dash=dash)


def polygon(points: Sequence[tuple[float, float]], thick: float = LINE, fill: str = "#fff") -> str:
    """Draw a closed outline through points [mm]."""
    return path("M" + "L".join(f"{num(x)} {num(y)}" for x, y in points) + "z", thick, fill)


def arrow(x0: float, y0: float, x1: float, y1: float, thick: float = LINE) -> str:
    """Draw a straight upright or level arrow with its head at the second point [mm]."""
    length = max(abs(x1 - x0), abs(y1 - y0)) or 1.0
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    head = min(2.0, length)
    bx, by = x1 - ux * head, y1 - uy * head
    px, py = -uy * head * 0.38, ux * head * 0.38
    tip = f"M{num(x1)} {num(y1)}L{num(bx + px)} {num(by + py)}L{num(bx - px)} {num(by - py)}z"
    return line(x0, y0, bx, by, thick) + f'<path d="{tip}" fill="#000"/>'


Segment = tuple[float, float, float, float]


def hatch_lines(x: float, y: float, width: float, height: float, gap: float) -> list[Segment]:
    """Return 45 degree lines inside a rectangle, as start and end points [mm].

    Args:
        x, y, width, height: the rectangle [mm].
        gap: distance between the lines, measured along the x axis [mm].
    """
    out: list[Segment] = []
    start = gap
    while start < width + height:
        x0, y0 = (start, 0.0) if start <= width else (width, start - width)
        x1, y1 = (0.0, start) if start <= height else (start - height, height)
        out.append((x + x0, y + y0, x + x1, y + y1))
        start += gap
    return out


def hatch(x: float, y: float, width: float, height: float, gap: float) -> str:
    """Return ``hatch_lines`` as path data."""
    return "".join(
        f"M{num(x0)} {num(y0)}L{num(x1)} {num(y1)}"
        for x0, y0, x1, y1 in hatch_lines(x, y, width, height, gap)
    )
