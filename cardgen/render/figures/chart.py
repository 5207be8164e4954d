"""Tongue weight against the filling of the tanks, with the allowed band."""

from __future__ import annotations

from collections.abc import Callable

from cardgen.present.figures import FillingChart
from cardgen.render.figures.labels import spread
from cardgen.render.figures.svg import BOLD, LINE, THIN, Drawn, hatch, line, num, path, svg, text, texts
from cardgen.render.wrap import PT, split, width
from cardgen.tables.letters import Weight

DASHES = ("", "3 1.2", "0.9 0.9", "4.5 1 0.9 1")
HIGH = 38.0  # mm, height of the plot
RATING = 0.9  # mm, line of the lowest rating
At = Callable[[float], float]


def filling_chart(chart: FillingChart, room: float, pt: float, title: str) -> Drawn:
    """Draw up to four lines over the filling, what lies outside the band hatched.

    Args:
        chart: curves, band and marks with ready labels.
        room: width on paper [mm].
        pt: type size of labels [pt].
        title: alternative text [-].
    """
    em = pt * PT
    values = [value for curve in chart.curves for _, value in curve.points]
    values += [value for value, _ in chart.ticks]
    values += [end for end in (chart.low, chart.high, chart.rating) if end is not None]
    least, most = min(values), max(values)
    span = (most - least) or 1.0
    names = [curve.label for curve in chart.curves] + [
        label for end, label in _ends(chart) if end is not None
    ]
    left = max((width(label, pt) for _, label in chart.ticks), default=0.0) + 1.8
    right = min(max((width(name, pt, "bold") for name in names), default=0.0) + 3.2, room * 0.42)
    plot = room - left - right
    top = (1.2 * len(split(chart.axis, pt, room)) + 0.7) * em

    def x(share: float) -> float:
        return left + share * plot

    def y(value: float) -> float:
        return top + HIGH * (1 - (value - least) / span)

    axis = split(chart.axis, pt, room)
    parts = [texts(0, 0.95 * em, axis, pt)]
    parts += _band(chart, x, y, top)
    parts += _axes(chart, x, y, top, pt)
    for curve, dash in zip(chart.curves, DASHES, strict=False):
        data = "M" + "L".join(f"{num(x(share))} {num(y(value))}" for share, value in curve.points)
        parts.append(path(data, BOLD, dash=dash))
    parts += _names(chart, x, y, top, pt, right)
    across = split(chart.across, pt, room)
    base = top + HIGH + 2.6 * em
    parts.append(texts(0, base, across, pt))
    return svg(room, base + (1.2 * len(across) - 0.8) * em, title, *parts)


def _ends(chart: FillingChart) -> tuple[tuple[float | None, str], ...]:
    """Ends of the band and the lowest rating with their labels; an upper end at the rating is told once."""
    same = chart.high is not None and chart.rating is not None and abs(chart.high - chart.rating) < 0.5
    high = (chart.high, "" if same else chart.high_label)
    ends = ((chart.low, chart.low_label), high, (chart.rating, chart.rating_label))
    return tuple((end, label) for end, label in ends if label)


def _band(chart: FillingChart, x: At, y: At, top: float) -> list[str]:
    """Hatch what lies outside the allowed band."""
    parts: list[str] = []
    if chart.high is not None and y(chart.high) - top > 0.1:
        parts.append(path(hatch(x(0), top, x(1) - x(0), y(chart.high) - top, 1.8), THIN))
    if chart.low is not None and top + HIGH - y(chart.low) > 0.1:
        low = y(chart.low)
        parts.append(path(hatch(x(0), low, x(1) - x(0), top + HIGH - low, 1.8), THIN))
    parts += [line(x(0), y(end), x(1), y(end), LINE) for end in (chart.low, chart.high) if end is not None]
    if chart.rating is not None:
        parts.append(line(x(0), y(chart.rating), x(1), y(chart.rating), RATING))
    return parts


def _axes(chart: FillingChart, x: At, y: At, top: float, pt: float) -> list[str]:
    """Draw the frame with its marks and their labels."""
    em = pt * PT
    bottom = top + HIGH
    parts = [line(x(0), top, x(0), bottom, LINE), line(x(0), bottom, x(1), bottom, LINE)]
    places = spread([y(value) for value, _ in chart.ticks], 1.1 * em, top, bottom)
    for (value, label), place in zip(chart.ticks, places, strict=True):
        parts.append(line(x(0) - 0.9, y(value), x(0), y(value), LINE))
        parts.append(text(x(0) - 1.3, place + 0.35 * em, label, pt, "end"))
    wide = x(1) - x(0) > 2 * sum(width(label, pt) for _, label in chart.marks)
    for share, label in chart.marks if wide else chart.marks[::2]:
        parts.append(line(x(share), bottom, x(share), bottom + 0.9, LINE))
        parts.append(text(x(share), bottom + 1.35 * em, label, pt, "middle"))
    return parts


def _names(chart: FillingChart, x: At, y: At, top: float, pt: float, room: float) -> list[str]:
    """Write the names of curves and band ends at the right, none over another."""
    em = pt * PT
    wanted = [(y(curve.points[-1][1]), curve.label, True) for curve in chart.curves]
    wanted += [(y(end), label, False) for end, label in _ends(chart) if end is not None]
    rows = [split(label, pt, room - 2.6, "bold") for _, label, _ in wanted]
    places = _stack([place for place, _, _ in wanted], rows, 1.15 * em, top, top + HIGH - 0.5 * em)
    parts: list[str] = []
    for (aim, _, bold), row, place in zip(wanted, rows, places, strict=True):
        parts.append(line(x(1) + 0.3, aim, x(1) + 2.2, place, THIN))
        weight: Weight = "bold" if bold else "regular"
        parts.append(texts(x(1) + 2.6, place + 0.35 * em, row, pt, "start", weight))
    return parts


def _stack(wanted: list[float], rows: list[list[str]], step: float, low: float, high: float) -> list[float]:
    """Return the first base line of every name so that names of several lines do not meet [mm]."""
    order = sorted(range(len(wanted)), key=lambda n: wanted[n])
    slots = [n for n in order for _ in rows[n]]
    spots = spread([wanted[n] for n in slots], step, low, high)
    out = list(wanted)
    for n, spot in sorted(zip(slots, spots, strict=True), key=lambda pair: -pair[1]):
        out[n] = spot
    return out
