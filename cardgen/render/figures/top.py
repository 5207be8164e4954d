"""The trailer from above: what is left and right, and how the sides are loaded."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.present.figures import TopView
from cardgen.render.figures.labels import flags, legend_lines
from cardgen.render.figures.rig import Frame, symbol
from cardgen.render.figures.svg import (
    LINE,
    THIN,
    Drawn,
    circle,
    line,
    num,
    path,
    polygon,
    rect,
    svg,
    text,
)
from cardgen.render.wrap import PT, split

MARGIN = 0.1  # m
WIDEST = 50.0  # mm that the body may take across
TIRE = (0.66, 0.2)  # m, length and width of a drawn tire


def top_view(view: TopView, room: float, pt: float, title: str) -> Drawn:
    """Draw a trailer from above, its front at the left, its left side at the top.

    Args:
        view: body, axles and items [m] with ready labels.
        room: width on paper [mm].
        pt: type size of labels [pt].
        title: alternative text [-].
    """
    em = pt * PT
    front, rear = min(0.0, view.front) - MARGIN, view.rear + MARGIN
    half = max(view.width, view.track + TIRE[1]) / 2
    scale = min(room / (rear - front), WIDEST / (2 * half))
    left = front - (room / scale - (rear - front)) / 2
    middle = sum(view.axles) / len(view.axles) if view.axles else (view.front + view.rear) / 2
    sides = [
        _Side(
            [((item.x - left) * scale, item.label, item.y or 0.0) for item in items if item.label],
            ((middle - left) * scale, words, sign * view.track / 2),
        )
        for sign, items, words in (
            (-1, [i for i in view.items if (i.y or 0.0) < 0], view.left_label),
            (1, [i for i in view.items if (i.y or 0.0) >= 0], view.right_label),
        )
    ]
    up = flags(sides[0].points(), room, pt)
    down = flags(sides[1].points(), room, pt, 1 + len(sides[0].points()))
    ceiling = up.rows * 1.2 * em
    frame = Frame(scale, left, ceiling + 1.0 + half * scale)
    floor = frame.ground + half * scale + 1.0
    parts = _plan(view, frame)
    for flag, place in zip(up.flags, sides[0].places(), strict=False):
        base = ceiling - flag.row * 1.2 * em - 0.3 * em
        parts.append(text(flag.left, base, flag.text, pt))
        parts.append(_pointer(flag.x, flag.anchor, base + 0.25 * em, frame.y(-place)))
    for flag, place in zip(down.flags, sides[1].places(), strict=False):
        base = floor + (flag.row + 0.8) * 1.2 * em
        parts.append(text(flag.left, base, flag.text, pt))
        parts.append(_pointer(flag.x, flag.anchor, base - 0.8 * em, frame.y(-place)))
    parts += [symbol(item, frame.x(item.x), frame.y(-(item.y or 0.0))) for item in view.items]
    bottom = floor + down.rows * 1.2 * em
    notes = legend_lines([*up.legend, *down.legend], room, pt)
    notes += split(view.note, pt, room)
    for words in notes:
        bottom += 1.2 * em
        parts.append(text(0, bottom - 0.2 * em, words, pt))
    return svg(room, bottom + 0.3 * em, title, *parts)


@dataclass(frozen=True, slots=True)
class _Side:
    """Labels of one side: items, and the load of its wheels (position [mm], text, y [m])."""

    items: list[tuple[float, str, float]]
    wheels: tuple[float, str, float]

    def _all(self) -> list[tuple[float, str, float]]:
        return [*self.items, *([self.wheels] if self.wheels[1] else [])]

    def points(self) -> list[tuple[float, str]]:
        """Position [mm] and text of every label."""
        return [(x, words) for x, words, _ in self._all()]

    def places(self) -> list[float]:
        """How far right of the centre line every label points [m]."""
        return [y for _, _, y in self._all()]


def _plan(view: TopView, frame: Frame) -> list[str]:
    """Draw drawbar, body, centre line, wheels and ball."""
    ball, nose, tail = frame.x(0.0), frame.x(view.front), frame.x(view.rear)
    side, axis = view.width / 2 * frame.scale, frame.ground
    parts: list[str] = []
    if view.front > 0.05:
        parts.append(polygon([(ball, axis), (nose, axis - side * 0.55), (nose, axis + side * 0.55)]))
    parts.append(
        f'<rect x="{num(nose)}" y="{num(axis - side)}" width="{num(tail - nose)}" '
        f'height="{num(2 * side)}" rx="1.2" fill="#fff" stroke="#000" stroke-width="{LINE}"/>'
    )
    parts.append(path(f"M{num(ball)} {num(axis)}H{num(tail)}", THIN, dash="2 1"))
    long, wide = TIRE[0] * frame.scale, TIRE[1] * frame.scale
    across = view.track / 2 * frame.scale
    for x in view.axles:
        middle = frame.x(x)
        parts.append(line(middle, axis - across, middle, axis + across, LINE))
        parts += [
            rect(middle - long / 2, axis + sign * across - wide / 2, long, wide, LINE, "#000")
            for sign in (-1, 1)
        ]
    parts.append(circle(ball, axis, 0.9, LINE, "#000"))
    return parts


def _pointer(x: float, anchor: float, start: float, end: float) -> str:
    """Draw an upright pointer, with a bend where the label had to move aside [mm]."""
    bend = line(x, end, anchor, end, THIN) if abs(x - anchor) > 0.05 else ""
    return line(x, start, x, end, THIN) + bend
