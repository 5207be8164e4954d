"""The rig to scale from the side: bodies, wheels, ball, what is aboard, centre and loads."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.present.figures import Arrow, Body, DrawnLoad, SideView
from cardgen.render.figures.labels import Flag, flags, legend_lines
from cardgen.render.figures.rig import CENTRE, SYMBOLS, Frame, body, centre_mark, symbol, wheel
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
AROUND = 0.3  # m around an item that its sign may take
TALLEST = 62.0  # mm that the rig itself may take
PIN = 1.4  # mm, king pin or gooseneck tube
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
    bodies = [shape for shape in (view.trailer, view.vehicle) if shape]
    front = min(*(shape.front - MARGIN for shape in bodies), *(i.x - AROUND for i in view.items), 0.0)
    rear = max(*(shape.rear + MARGIN for shape in bodies), *(i.x + AROUND for i in view.items), 0.0)
    high = max(shape.roof for shape in bodies)
    scale = min(room / (rear - front), TALLEST / high)
    left = front - (room / scale - (rear - front)) / 2

    signs = _signs(view, Frame(scale, left, 0.0))
    named = (sign for sign in signs if sign.label and (sign.item is None or sign.item.kind != "place"))
    labelled = sorted(named, key=lambda sign: sign.x)
    above = flags([(sign.x, sign.label) for sign in labelled], room, pt)
    ceiling = above.rows * 1.2 * em
    ground = ceiling + (1.5 if above.rows else 0.5) + high * scale
    frame = Frame(scale, left, ground)

    parts = [line(0, ground, room, ground, BOLD), *_rig(view, frame, pt)]
    for flag, sign in zip(above.flags, labelled, strict=False):
        parts.append(_pointer_up(flag, ground + sign.y - sign.tall / 2, ceiling, em, pt))
    for sign in signs:
        y = ground + sign.y
        parts.append(symbol(sign.item, sign.x, y) if sign.item else centre_mark(sign.x, y))
    below, bottom = _loads(view.loads, view, frame, room, pt)
    for words in legend_lines(above.legend, room, pt):
        bottom += 1.2 * em
        below.append(text(0, bottom - 0.2 * em, words, pt))
    return _finish(view, frame, room, pt, title, parts + below, bottom)


@dataclass(frozen=True, slots=True)
class _Sign:
    """A sign on the drawing: its middle [mm, y from the ground line, negative is up] and height.

    Args:
        item: what it stands for; None for the centre of gravity.
    """

    x: float
    y: float
    tall: float
    label: str
    item: DrawnLoad | None


def _signs(view: SideView, frame: Frame) -> list[_Sign]:
    """Return the signs of items and centre of gravity; signs that would meet are stacked."""
    out: list[_Sign] = []
    taken: list[tuple[float, float, float, float]] = []
    roof = frame.y(view.trailer.roof)
    for item in view.items:
        wide, tall = SYMBOLS[item.kind]
        x = frame.x(item.x)
        wanted = y = frame.y(view.trailer.floor + 0.15 if item.z is None else item.z)
        while met := [
            top
            for low_x, high_x, top, bottom in taken
            if x - wide / 2 < high_x and low_x < x + wide / 2 and top < y + tall / 2 and y - tall / 2 < bottom
        ]:
            y = min(met) - tall / 2 - 0.3
            if y - tall / 2 < roof:
                y = wanted
                break
        taken.append((x - wide / 2, x + wide / 2, y - tall / 2, y + tall / 2))
        out.append(_Sign(x, y, tall, item.label, item))
    if view.centre:
        z = view.ball_height if view.centre.z is None else view.centre.z
        out.append(_Sign(frame.x(view.centre.x), frame.y(z), 2 * CENTRE, view.centre.label, None))
    return out


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
    if view.trailer.shape in ("fifth_wheel", "neck"):
        neck = view.trailer.floor + 0.42 * (view.trailer.roof - view.trailer.floor)
        parts.append(line(ball_x, ball_y, ball_x, min(ball_y, frame.y(neck)), PIN))
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
