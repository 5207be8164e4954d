"""Limit bars: how much of a limit is used, told by length and hatching.

Solid is within, hatched is close, dark hatched is over, a dashed line was not checked. The
upright mark is the limit; the right end of the drawing is 1.3 times the limit.
"""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.present.figures import LimitBar
from cardgen.render.figures.svg import Drawn, Segment, hatch_lines, num, path, rect, svg

FULL = 1.3  # share at the right end of a bar
FRAME = 0.2  # mm, line of the bar's outline
DASH = (0.6, 0.9)  # mm, pattern of a bar that was not checked


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines of one thickness: start and end points, thickness, dash pattern [mm], paper white."""

    segments: tuple[Segment, ...]
    thick: float
    dash: tuple[float, float] | None = None
    white: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle whose outline lies inside its bounds [mm], black or empty inside."""

    x: float
    y: float
    width: float
    height: float
    thick: float
    black: bool = False


Shape = Lines | Box


def bar_shapes(bar: LimitBar, width: float, height: float) -> list[Shape]:
    """Return what a bar is made of, in drawing order.

    Args:
        bar: share and outcome.
        width, height: size on paper [mm].
    """
    mark = width / FULL
    limit = Lines(((mark, 0.0, mark, height),), 0.5)
    if bar.share is None:
        return [Lines(((0.0, height / 2, mark, height / 2),), 0.3, DASH), limit]
    top, tall = height * 0.12, height * 0.76
    out: list[Shape] = [Box(0.0, top, mark, tall, FRAME)]
    length = max(0.0, min(bar.share, FULL)) * mark
    if length > 0:
        out.append(Box(0.0, top, length, tall, FRAME, black=bar.level != "close"))
        if bar.level == "close":
            out.append(Lines(tuple(hatch_lines(0.0, top, length, tall, 1.1)), 0.3))
        elif bar.level == "over":
            out.append(Lines(tuple(hatch_lines(0.0, top, length, tall, 1.6)), 0.35, white=True))
    return [*out, limit]


def limit_bar(bar: LimitBar, width: float, height: float, title: str) -> Drawn:
    """Draw one bar.

    Args:
        bar: share and outcome.
        width, height: size on paper [mm].
        title: alternative text [-].
    """
    return svg(width, height, title, *(_svg(shape) for shape in bar_shapes(bar, width, height)))


def _svg(shape: Shape) -> str:
    """Write one shape as SVG."""
    if isinstance(shape, Box):
        fill = "#000" if shape.black else "none"
        return rect(shape.x, shape.y, shape.width, shape.height, shape.thick, fill)
    data = "".join(f"M{num(x0)} {num(y0)}L{num(x1)} {num(y1)}" for x0, y0, x1, y1 in shape.segments)
    if shape.white:
        return f'<path d="{data}" stroke="#fff" stroke-width="{num(shape.thick)}" fill="none"/>'
    dash = " ".join(num(part) for part in shape.dash) if shape.dash else ""
    return path(data, shape.thick, dash=dash)
