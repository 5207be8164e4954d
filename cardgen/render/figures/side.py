"""The rig to scale from the side: bodies, wheels, ball, what is aboard, centre and loads."""

from __future__ import annotations

from cardgen.present.figures import Arrow, Body, Item, SideView
from cardgen.render.figures.labels import Flag, flags, legend_lines
from cardgen.render.figures.rig import Frame, body, centre_mark, symbol, wheel
from cardgen.render.figures.svg import (
    BOLD,
    LINE,
    THIN,
    Drawn,
    arrow,
    circle,
    line,
    polygon,
    svg,
    text,
    texts,
)
from cardgen.render.wrap import PT, split, width

MARGIN = 0.1  # m of air before and behind the rig
TALLEST = 62.0  # mm that the rig itself may take
SHAFT = 4.5  # mm, length of a load arrow below the ground


def side_view(view: SideView, room: float, pt: float, title: str) -> Drawn:
    """Draw a rig from its left side, vehicle at the left, all at one scale.

    Args:
        view: bodies, wheels, items and loads [m] with ready labels.
        room: width on paper [mm].
        pt: type size of labels [pt].
        title: alternative text [-].
    """
    em = pt * PT
    front = min(b.front for b in (view.trailer, view.vehicle) if b) - MARGIN
    rear = max(b.rear for b in (view.trailer, view.vehicle) if b) + MARGIN
    high = max(b.roof for b in (view.trailer, view.vehicle) if b)
    scale = min(room / (rear - front), TALLEST / high)
    left = front - (room / scale - (rear - front)) / 2

    marks = _marks(view)
    points = [((x - left) * scale, label) for x, _, label in marks]
    above = flags(points, room, pt)
    rows = above.rows
    ground = rows * 1.2 * em + (1.5 if rows else 0.5) + high * scale
    frame = Frame(scale, left, ground)

    parts = [line(0, ground, room, ground, BOLD), *_rig(view, frame, pt)]
    ceiling = rows * 1.2 * em
    for flag, (_, z, _) in zip(above.flags, marks, strict=False):
        parts.append(_pointer_up(flag, frame.y(z), ceiling, em, pt))
    parts += [symbol(item, frame.x(item.x), frame.y(_height(item, view))) for item in view.items]
    if view.centre:
        z = view.ball_height if view.centre.z is None else view.centre.z
        parts.append(centre_mark(frame.x(view.centre.x), frame.y(z)))
    below, bottom = _loads(view.loads, view, frame, room, pt)
    for words in legend_lines(above.legend, room, pt):
        bottom += 1.2 * em
        below.append(text(0, bottom - 0.2 * em, words, pt))
    return _finish(view, frame, room, pt, title, parts + below, bottom)


def _marks(view: SideView) -> list[tuple[float, float, str]]:
    """Labelled points above the rig: x [m], z [m] of the top of the sign, label."""
    marks = [(item.x, _height(item, view), item.label) for item in view.items if item.label]
    if view.centre and view.centre.label:
        z = view.ball_height if view.centre.z is None else view.centre.z
        marks.append((view.centre.x, z, view.centre.label))
    return marks


def _height(item: Item, view: SideView) -> float:
    """Height at which an item is drawn [m]: its own, or just above the trailer's floor."""
    return view.trailer.floor + 0.15 if item.z is None else item.z


def _rig(view: SideView, frame: Frame, pt: float) -> list[str]:
    """Draw bodies, drawbar, wheels and ball."""
    parts: list[str] = []
    ball_x, ball_y = frame.x(0.0), frame.y(view.ball_height)
    if view.trailer.front > 0.05:
        nose = frame.x(view.trailer.front + 0.1)
        floor = frame.y(view.trailer.floor)
        parts.append(
            polygon([(ball_x, ball_y - 0.4), (nose, floor - 1.2), (nose, floor), (ball_x, ball_y + 0.5)])
        )
    if view.vehicle:
        if view.vehicle.rear < 0:
            parts.append(line(frame.x(view.vehicle.rear), ball_y + 0.9, ball_x, ball_y + 0.9, 0.8))
        parts.append(body(view.vehicle, frame))
        parts.append(_name(view.vehicle, frame, 0.42, pt))
        parts += [wheel(axle.x, axle.radius, frame) for axle in view.vehicle_axles]
    parts.append(body(view.trailer, frame))
    if not view.items:
        parts.append(_name(view.trailer, frame, 0.55, pt))
    parts += [wheel(axle.x, axle.radius, frame) for axle in view.trailer_axles]
    parts.append(circle(ball_x, ball_y, 0.9, LINE, "#000"))
    return parts


def _name(shape: Body, frame: Frame, height: float, pt: float) -> str:
    """Write the name of a vehicle or trailer inside its outline, where it fits."""
    room = (shape.rear - shape.front) * frame.scale - 3.0
    if not shape.label or width(shape.label, pt) > room:
        return ""
    x = frame.x((shape.front + shape.rear) / 2)
    y = frame.y(shape.floor + height * (shape.roof - shape.floor)) + 0.35 * pt * PT
    return text(x, y, shape.label, pt, "middle")


def _pointer_up(flag: Flag, y: float, ceiling: float, em: float, pt: float) -> str:
    """Write a label above the rig and draw its pointer down to a place [mm]."""
    base = ceiling - flag.row * 1.2 * em - 0.3 * em
    parts = text(flag.left, base, flag.text, pt) + line(flag.x, base + 0.25 * em, flag.x, y, THIN)
    if abs(flag.x - flag.anchor) > 0.05:
        parts += line(flag.x, y, flag.anchor, y, THIN)
    return parts


def _loads(
    loads: tuple[Arrow, ...], view: SideView, frame: Frame, room: float, pt: float
) -> tuple[list[str], float]:
    """Draw load arrows at the ground and write their labels below; return the lowest y [mm]."""
    em = pt * PT
    placed = flags([(frame.x(load.x), load.label) for load in loads], room, pt, weight="bold")
    top = frame.ground + SHAFT
    parts: list[str] = []
    for load, flag in zip(loads, placed.flags, strict=False):
        x = flag.anchor
        if load.up:
            parts.append(arrow(x, top, x, frame.ground + 0.4, BOLD))
        else:
            parts.append(arrow(x, frame.y(view.ball_height) + 1.2, x, frame.ground - 0.3, BOLD))
            parts.append(line(x, frame.ground, x, top, THIN))
        base = top + (flag.row + 0.95) * 1.2 * em
        if flag.row or abs(flag.x - x) > 0.05:
            parts.append(line(x, top, flag.x, top, THIN))
            parts.append(line(flag.x, top, flag.x, base - 0.85 * em, THIN))
        parts.append(text(flag.left, base, flag.text, pt, weight="bold"))
    bottom = top + placed.rows * 1.2 * em + (0.3 * em if placed.rows else 0)
    for words in legend_lines(placed.legend, room, pt, "bold"):
        bottom += 1.2 * em
        parts.append(text(0, bottom - 0.2 * em, words, pt, weight="bold"))
    return parts, bottom


def _finish(
    view: SideView,
    frame: Frame,
    room: float,
    pt: float,
    title: str,
    parts: list[str],
    bottom: float,
) -> Drawn:
    """Add scale bar and note below, and close the drawing."""
    em = pt * PT
    if view.scale_label:
        long = view.scale_length * frame.scale
        end = room - width(view.scale_label, pt) - 1.5
        y = bottom + 0.85 * em
        parts.append(line(end - long, y, end, y, LINE))
        parts += [line(x, y - 0.8, x, y + 0.8, LINE) for x in (end - long, end)]
        parts.append(text(room, bottom + 1.2 * em, view.scale_label, pt, "end"))
    space = room - view.scale_length * frame.scale - 20 if view.scale_label else room
    notes = split(view.note, pt, max(20.0, space))
    parts.append(texts(0, bottom + 1.2 * em, notes, pt))
    rows = max(len(notes), 1 if view.scale_label else 0)
    return svg(room, bottom + (1.2 * rows + 0.4) * em, title, *parts)
