"""Receiver, ball mount and ball from the side: the heights a person measures."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.present.figures import HitchGeometry
from cardgen.render.figures.labels import legend_lines
from cardgen.render.figures.svg import (
    BOLD,
    LINE,
    THIN,
    Drawn,
    arrow,
    circle,
    line,
    num,
    path,
    polygon,
    rect,
    svg,
    text,
    texts,
)
from cardgen.render.wrap import PT, width

TALL = 34.0  # mm from the ground to the highest point
TUBE = 0.05  # m, height of the drawn receiver tube and mount
WIDE = 44.0  # mm between the two dimension lines
UPRIGHT = 29.0  # mm from the left dimension line to the front of the mount's platform


@dataclass(frozen=True, slots=True)
class _Lay:
    """Where the parts lie on paper [mm]: heights as y, dimension lines and platform as x."""

    ground: float
    receiver: float
    platform: float
    ball: float
    tube: float
    left: float

    @property
    def tip(self) -> float:
        """Front of the platform."""
        return self.left + UPRIGHT

    @property
    def right(self) -> float:
        """Dimension line of the ball."""
        return self.left + WIDE

    @property
    def under(self) -> float:
        """Lowest edge of tube and mount."""
        return max(self.receiver + self.tube + 0.9, self.platform + 0.45 * self.tube)


def hitch_geometry(view: HitchGeometry, room: float, pt: float, title: str) -> Drawn:
    """Draw the heights of receiver and ball over the ground, and the drop or rise between.

    Heights are to scale with each other; lengths along the vehicle are not. Where labels find
    no room beside the drawing they are letters, listed below.

    Args:
        view: heights [m] with ready labels.
        room: width on paper [mm].
        pt: type size of labels [pt].
        title: alternative text [-].
    """
    em = pt * PT
    scale = TALL / max(view.receiver_height, view.ball_height, view.platform_height)
    ground = TALL + 1.5 * em
    space = (room - WIDE) / 2 - 2.0
    direct = (
        width(view.receiver_label, pt) <= space
        and max(width(view.ball_label, pt), width(view.ball_name, pt, "bold")) <= space
        and width(view.drop_label, pt, "bold") <= WIDE - 4
    )
    lay = _Lay(
        ground,
        ground - view.receiver_height * scale,
        ground - view.platform_height * scale,
        ground - view.ball_height * scale,
        TUBE * scale,
        (room - WIDE) / 2,
    )
    parts = [line(0, ground, room, ground, BOLD), path(_soil(room, ground), THIN)]
    parts += [*_parts(lay), *_dimensions(lay)]
    words = (view.receiver_label, view.drop_label, view.ball_label)
    bottom = ground + 1.6 + 0.2 * em
    if direct:
        parts += _labels(lay, words, pt)
        parts.append(text(lay.right + 1.4, lay.ball - 1.0, view.ball_name, pt, weight="bold"))
        return svg(room, bottom, title, *parts)
    parts += _labels(lay, ("A", "B", "C"), pt)
    named = [f"{letter} {label}" for letter, label in zip("ABC", words, strict=True) if label]
    rows = legend_lines([*named, *([view.ball_name] if view.ball_name else [])], room, pt)
    parts.append(texts(0, bottom + em, rows, pt))
    return svg(room, bottom + (1.2 * len(rows) + 0.2) * em, title, *parts)


def _parts(lay: _Lay) -> list[str]:
    """Draw receiver tube, ball mount and ball."""
    start, tip, tube = lay.left + 4, lay.tip, lay.tube
    high, low = lay.receiver, lay.platform
    upright = tip - 7.5 if low >= high else tip - 0.5
    mount = [
        (start + 6, high),
        (tip - 4, high),
        (tip - 4, low),
        (tip + 5, low),
        (tip + 5, low + tube * 0.45),
        (upright, low + tube * 0.45),
        (upright, high + tube),
        (start + 6, high + tube),
    ]
    radius = max(1.4, (low - lay.ball) * 0.38)
    neck = max(0.2, low - lay.ball - radius)
    return [
        rect(start, high - 0.9, 14, tube + 1.8, BOLD, "#fff"),
        path(f"M{num(start)} {num(high - 2)}v{num(tube + 4)}", THIN, dash="1 .8"),
        polygon(mount),
        rect(tip + 0.2, lay.ball + radius, 1.6, neck, LINE, "#fff"),
        circle(tip + 1.0, lay.ball + radius, radius, BOLD, "#fff"),
    ]


def _dimensions(lay: _Lay) -> list[str]:
    """Draw the dimension lines of both heights, and of the drop where it is large enough."""
    parts = [
        line(lay.left - 1.5, lay.receiver, lay.left + 4, lay.receiver, THIN),
        arrow(lay.left, lay.ground, lay.left, lay.receiver, LINE),
        line(lay.tip + 1, lay.ball, lay.right + 1.5, lay.ball, THIN),
        arrow(lay.right, lay.ground, lay.right, lay.ball, LINE),
    ]
    if abs(lay.platform - lay.receiver) > 2.5:
        x = lay.tip - 11
        parts.append(line(x - 1.5, lay.platform, lay.tip - 4, lay.platform, THIN, "0.8 0.6"))
        parts.append(arrow(x, lay.receiver, x, lay.platform, LINE))
    return parts


def _labels(lay: _Lay, words: tuple[str, str, str], pt: float) -> list[str]:
    """Write the labels of receiver height, drop and ball height."""
    em = pt * PT
    receiver, drop, ball = words
    half = (lay.ground + max(lay.receiver, lay.ball)) / 2 + 0.35 * em
    return [
        text(lay.left - 1.2, half, receiver, pt, "end"),
        text(lay.left + WIDE / 2, lay.under + 1.1 * em, drop, pt, "middle", "bold"),
        text(lay.right + 1.4, half, ball, pt),
    ]


def _soil(room: float, ground: float) -> str:
    """Short slanted strokes below the ground line."""
    count = int((room - 2.0) / 4.0) + 1
    return "".join(f"M{num(2.0 + 4.0 * n)} {num(ground)}l-1.2 1.4" for n in range(count))
