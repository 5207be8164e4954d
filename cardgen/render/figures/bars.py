"""Limit bars: how much of a limit is used, told by length and hatching."""

from __future__ import annotations

from cardgen.present.figures import LimitBar
from cardgen.render.figures.svg import Drawn, hatch, num, path, rect, svg

FULL = 1.3  # share at the right end of a bar
SHAPES = {"within": "solid", "close": "hatched", "over": "dark hatched", "unknown": "empty"}


def limit_bar(bar: LimitBar, width: float, height: float, title: str) -> Drawn:
    """Draw one bar; the upright mark is the limit, 1.3 times the limit is the right end.

    Args:
        bar: share and outcome.
        width, height: size on paper [mm].
        title: alternative text [-].
    """
    mark = width / FULL
    line = 0.2
    parts = [rect(0, height * 0.12, mark, height * 0.76, line)]
    if bar.share is None:
        middle = num(height / 2)
        parts = [path(f"M0 {middle}H{num(mark)}", 0.3, dash="0.6 0.9")]
    else:
        length = max(0.0, min(bar.share, FULL)) * mark
        parts.append(_fill(bar, length, height))
    parts.append(path(f"M{num(mark)} 0V{num(height)}", 0.5))
    return svg(width, height, title, *parts)


def _fill(bar: LimitBar, length: float, height: float) -> str:
    """Draw the used part: solid, hatched, or dark hatched."""
    top, tall = height * 0.12, height * 0.76
    if length <= 0:
        return ""
    if bar.level == "close":
        return rect(0, top, length, tall, 0.25, "#fff") + path(hatch(0, top, length, tall, 1.1), 0.3)
    solid = rect(0, top, length, tall, 0.2, "#000")
    if bar.level == "over":
        lines = hatch(0, top, length, tall, 1.6)
        return solid + f'<path d="{lines}" stroke="#fff" stroke-width="0.35" fill="none"/>'
    return solid
