"""Tongue weight against the filling of the tanks, with the allowed band."""

from __future__ import annotations

from collections.abc import Callable

from cardgen.present.figures import FillingChart
from cardgen.render.figures.labels import spread
from cardgen.render.figures.svg import BOLD, LINE, THIN, Drawn, hatch, line, num, path, svg, text
from cardgen.render.wrap import PT, shorten, width

DASHES = ("", "3 1.2", "0.9 0.9", "4.5 1 0.9 1")
HIGH = 38.0  # mm, height of the plot
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
    values += [end for end in (chart.low, chart.high) if end is not None]
    least, most = min(values), max(values)
    span = (most - least) or 1.0
    names = [curve.label for curve in chart.curves] + [
        label
        for end, label in ((chart.low, chart.low_label), (chart.high, chart.high_label))
        if end is not None
    ]
    left = max((width(label, pt) for _, label in chart.ticks), default=0.0) + 1.8
    right = min(max((width(name, pt) for name in names), default=0.0) + 3.0, room * 0.42)
    top = 1.9 * em
    plot = room - left - right

    def x(share: float) -> float:
        return left + share * plot

    def y(value: float) -> float:
        return top + HIGH * (1 - (value - least) / span)

    parts = [text(0, 0.95 * em, shorten(chart.axis, pt, room), pt)]
    parts += _band(chart, x, y, top)
    parts += _axes(chart, x, y, top, pt)
    for curve, dash in zip(chart.curves, DASHES, strict=False):
        data = "M" + "L".join(f"{num(x(share))} {num(y(value))}" for share, value in curve.points)
        parts.append(path(data, BOLD, dash=dash))
    parts += _names(chart, x, y, top, pt, right)
    base = top + HIGH + 2.6 * em
    return svg(room, base + 0.4 * em, title, *parts)


def _band(chart: FillingChart, x: At, y: At, top: float) -> list[str]:
    """Hatch what lies outside the allowed band."""
    if chart.low is None and chart.high is None:
        return []
    parts: list[str] = []
    if chart.high is not None and y(chart.high) - top > 0.1:
        parts.append(path(hatch(x(0), top, x(1) - x(0), y(chart.high) - top, 1.8), THIN))
    if chart.low is not None and top + HIGH - y(chart.low) > 0.1:
        low = y(chart.low)
        parts.append(path(hatch(x(0), low, x(1) - x(0), top + HIGH - low, 1.8), THIN))
    parts += [line(x(0), y(end), x(1), y(end), LINE) for end in (chart.low, chart.high) if end is not None]
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
    for share, label in chart.marks:
        parts.append(line(x(share), bottom, x(share), bottom + 0.9, LINE))
        parts.append(text(x(share), bottom + 1.35 * em, label, pt, "middle"))
    words = shorten(chart.across, pt, x(1) - x(0))
    parts.append(text((x(0) + x(1)) / 2, bottom + 2.6 * em, words, pt, "middle"))
    return parts


def _names(chart: FillingChart, x: At, y: At, top: float, pt: float, room: float) -> list[str]:
    """Write the names of curves and band ends at the right, none over another."""
    em = pt * PT
    wanted = [(y(curve.points[-1][1]), curve.label, True) for curve in chart.curves]
    wanted += [
        (y(end), label, False)
        for end, label in ((chart.low, chart.low_label), (chart.high, chart.high_label))
        if end is not None
    ]
    places = spread([place for place, _, _ in wanted], 1.15 * em, top, top + HIGH - 0.5 * em)
    parts: list[str] = []
    for (aim, label, bold), place in zip(wanted, places, strict=True):
        parts.append(line(x(1) + 0.3, aim, x(1) + 2.2, place, THIN))
        weight = "bold" if bold else "regular"
        parts.append(
            text(x(1) + 2.6, place + 0.35 * em, shorten(label, pt, room - 2.6, "bold"), pt, "start", "bold")
            if weight == "bold"
            else text(x(1) + 2.6, place + 0.35 * em, shorten(label, pt, room - 2.6), pt)
        )
    return parts
