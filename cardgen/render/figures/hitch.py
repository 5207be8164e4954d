"""Receiver, ball mount and ball from the side: the heights a person measures."""

from __future__ import annotations

from cardgen.present.figures import HitchGeometry
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
    texts,
)
from cardgen.render.wrap import PT, split

TALL = 34.0  # mm from the ground to the highest point
TUBE = 0.05  # m, height of the drawn receiver tube and mount


def hitch_geometry(view: HitchGeometry, room: float, pt: float, title: str) -> Drawn:
    """Draw the heights of receiver and ball over the ground, and the drop or rise between.

    Heights are to scale with each other; lengths along the vehicle are not.

    Args:
        view: heights [m] with ready labels.
        room: width on paper [mm].
        pt: type size of labels [pt].
        title: alternative text [-].
    """
    em = pt * PT
    high = max(view.receiver_height, view.ball_height, view.platform_height)
    scale = TALL / high
    ground = TALL + 1.4 * em

    def y(height: float) -> float:
        return ground - height * scale

    tube = TUBE * scale
    left, tip = room * 0.40, room * 0.60
    receiver, platform, ball = y(view.receiver_height), y(view.platform_height), y(view.ball_height)
    parts = [line(0, ground, room, ground, BOLD), path(_soil(room, ground), THIN)]
    # vehicle side: receiver tube, cut off at the left
    parts.append(rect(left - 14, receiver - 0.9, 14, tube + 1.8, BOLD, "#fff"))
    parts.append(path(f"M{num(left - 14)} {num(receiver - 2)}v{num(tube + 4)}", THIN, dash="1 .8"))
    # mount: shank in the tube, upright, platform
    shank = [(left - 8, receiver), (tip - 4, receiver), (tip - 4, platform)]
    low = [(tip + 5, platform), (tip + 5, platform + tube * 0.45), (tip - 7.5, platform + tube * 0.45)]
    if view.platform_height <= view.receiver_height:
        low += [(tip - 7.5, receiver + tube)]
    else:
        low = [
            (tip + 5, platform),
            (tip + 5, platform + tube * 0.45),
            (tip - 0.5, platform + tube * 0.45),
            (tip - 0.5, receiver + tube),
        ]
    parts.append(polygon([*shank, *low, (left - 8, receiver + tube)], LINE, "#fff"))
    radius = max(1.4, (platform - ball) * 0.38)
    parts.append(rect(tip + 0.2, ball + radius, 1.6, max(0.2, platform - ball - radius), LINE, "#fff"))
    parts.append(circle(tip + 1.0, ball + radius, radius, BOLD, "#fff"))
    parts += _heights(view, room, pt, left, tip, receiver, platform, ball, ground, tube)
    return svg(room, ground + 1.6 + 0.2 * em, title, *parts)


def _heights(
    view: HitchGeometry,
    room: float,
    pt: float,
    left: float,
    tip: float,
    receiver: float,
    platform: float,
    ball: float,
    ground: float,
    tube: float,
) -> list[str]:
    """Draw dimension lines and write their labels left and right of the drawing."""
    em = pt * PT
    a, b = left - 18, tip + 9
    parts = [
        line(a - 1.5, receiver, left - 14, receiver, THIN),
        arrow(a, ground, a, receiver, LINE),
        texts(a - 1.2, (ground + receiver) / 2, split(view.receiver_label, pt, a - 1.4), pt, "end"),
        line(tip + 1, ball, b + 1.5, ball, THIN),
        arrow(b, ground, b, ball, LINE),
    ]
    space = room - b - 1.6
    name = split(view.ball_name, pt, space, "bold")
    ball_words = split(view.ball_label, pt, space)
    name_y = max(0.9 * em, ball - 1.0 - 1.2 * em * (len(name) - 1))
    parts.append(texts(b + 1.4, name_y, name, pt, weight="bold"))
    ball_y = max((ground + ball) / 2 + 1.0, name_y + 1.25 * em * max(1, len(name)))
    parts.append(texts(b + 1.4, ball_y, ball_words, pt))
    # drop between receiver and platform, left of the upright
    x = left + (tip - left) * 0.38
    if abs(platform - receiver) > 2.5:
        parts.append(line(x - 1.5, platform, tip - 4, platform, THIN, "0.8 0.6"))
        parts.append(arrow(x, receiver, x, platform, LINE))
    under = max(receiver + tube, platform + 0.45 * tube) + 1.1 * em
    words = split(view.drop_label, pt, b - a - 4, "bold")
    parts.append(texts((a + b) / 2, under, words, pt, "middle", "bold"))
    return parts


def _soil(room: float, ground: float) -> str:
    """Short slanted strokes below the ground line."""
    return "".join(f"M{num(x)} {num(ground)}l-1.2 1.4" for x in _steps(2.0, room, 4.0))


def _steps(start: float, end: float, step: float) -> list[float]:
    count = int((end - start) / step) + 1
    return [start + n * step for n in range(count)]
