"""A value on a scale with its allowed band."""

from __future__ import annotations

from collections.abc import Callable

from cardgen.present.figures import BandGauge
from cardgen.render.figures.labels import flags
from cardgen.render.figures.svg import BOLD, LINE, THIN, Drawn, hatch, line, num, path, rect, svg, text
from cardgen.render.wrap import PT, width

BAR = 4.0  # mm, height of the band
At = Callable[[float], float]


def band_gauge(gauge: BandGauge, room: float, pt: float, title: str) -> Drawn:
    """Draw a level scale: the allowed band open, the rest hatched, the value marked above.

    Args:
        gauge: value, band and ends of the scale.
        room: width on paper [mm].
        pt: type size of labels [pt].
        title: alternative text [-].
    """
    em = pt * PT
    span = gauge.end - gauge.start or 1.0

    def at(value: float) -> float:
        share = (value - gauge.start) / span
        return 0.5 + min(max(share, 0.0), 1.0) * (room - 1.0)

    top = 1.2 * em + 2.4
    parts: list[str] = []
    left = at(gauge.start if gauge.low is None else gauge.low)
    right = at(gauge.end if gauge.high is None else gauge.high)
    parts += [
        path(hatch(start, top, end - start, BAR, 1.3), THIN)
        for start, end in ((at(gauge.start), left), (right, at(gauge.end)))
        if end - start > 0.1
    ]
    parts.append(rect(left, top, max(0.4, right - left), BAR, BOLD))
    base = top + BAR
    parts.append(line(at(gauge.start), base, at(gauge.end), base, LINE))
    ends = [
        (at(value), label)
        for value, label in ((gauge.low, gauge.low_label), (gauge.high, gauge.high_label))
        if value is not None
    ]
    parts += [line(x, top - 0.8, x, base + 1.0, LINE) for x, _ in ends]
    placed = flags(ends, room, pt)
    for flag in placed.flags:
        y = base + 1.6 + (flag.row + 0.8) * 1.2 * em
        parts.append(text(flag.left, y, flag.text, pt))
    parts.append(_marker(gauge, at, top, base, pt, room))
    return svg(room, base + 2.0 + placed.rows * 1.2 * em, title, *parts)


def _marker(gauge: BandGauge, at: At, top: float, base: float, pt: float, room: float) -> str:
    """Draw the value: a triangle on its place and the label beside it."""
    if gauge.value is None:
        return text(room / 2, 0.85 * pt * PT, gauge.value_label, pt, "middle", "bold")
    x = at(gauge.value)
    wide = width(gauge.value_label, pt, "bold")
    start = min(max(0.0, x - wide / 2), max(0.0, room - wide))
    tip = f"M{num(x)} {num(top)}l-1.3 -2.2h2.6z"
    return (
        text(start, top - 2.9, gauge.value_label, pt, "start", "bold")
        + f'<path d="{tip}" fill="#000"/>'
        + line(x, top, x, base, BOLD)
    )


def small_gauge(at: float | None, wide: float, tall: float, title: str) -> Drawn:
    """Draw an allowed band, hatched on both sides, with a mark for the value.

    Args:
        at: place of the value from the low end (0) to the high end (1) [-]; None for no mark.
        wide, tall: size on paper [mm].
        title: alternative text [-].
    """
    left, right, top = 0.24 * wide, 0.76 * wide, 0.36 * tall
    height = tall - top - 0.2
    parts = [path(hatch(start, top, 0.22 * wide, height, 1.1), THIN) for start in (0.0, 0.78 * wide)]
    parts.append(rect(left, top, right - left, height, BOLD))
    if at is not None:
        x = left + min(max(at, -0.4), 1.4) * (right - left)
        tip = f"M{num(x)} {num(top + 0.6 * height)}l-1.2 -{num(0.6 * height + top - 0.1)}h2.4z"
        parts.append(f'<path d="{tip}" fill="#000"/>')
    return svg(wide, tall, title, *parts)
