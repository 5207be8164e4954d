"""Outlines of vehicles, trailers and what they carry, shared by side and top view."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.present.figures import Body, DrawnLoad
from cardgen.render.figures.svg import LINE, THIN, circle, hatch, line, num, path, polygon, rect, text
from cardgen.render.wrap import PT

# Outline points: share of the length from the front, share of the height from the floor.
OUTLINES: dict[str, tuple[tuple[float, float], ...]] = {
    "car": (
        (0, 0.08), (0, 0.46), (0.06, 0.56), (0.27, 0.62), (0.42, 0.97), (0.47, 1),
        (0.66, 1), (0.82, 0.66), (0.97, 0.6), (1, 0.48), (1, 0.08),
    ),
    "suv": (
        (0, 0.08), (0, 0.45), (0.05, 0.53), (0.26, 0.58), (0.38, 0.96), (0.43, 1),
        (0.93, 1), (0.98, 0.62), (1, 0.5), (1, 0.08),
    ),
    "pickup": (
        (0, 0.08), (0, 0.48), (0.05, 0.55), (0.25, 0.6), (0.35, 0.96), (0.39, 1),
        (0.58, 1), (0.62, 0.62), (1, 0.6), (1, 0.08),
    ),
    "van": (
        (0, 0.08), (0, 0.4), (0.04, 0.48), (0.13, 0.54), (0.23, 0.95), (0.28, 1),
        (0.98, 1), (1, 0.9), (1, 0.08),
    ),
    "box": ((0, 0), (0, 0.16), (0.03, 0.94), (0.06, 1), (0.98, 1), (1, 0.96), (1, 0)),
    "horse": ((0, 0), (0, 0.16), (0.03, 0.94), (0.06, 1), (0.98, 1), (1, 0.96), (1, 0)),
    "open": ((0, 0), (0, 1), (1, 1), (1, 0)),
    "neck": ((0, 0.7), (0, 1), (0.14, 1), (0.22, 0.24), (1, 0.24), (1, 0), (0.17, 0), (0.1, 0.7)),
    "boat": ((0, 1), (0.1, 0.55), (0.3, 0.14), (0.4, 0.05), (1, 0.05), (1, 0.8), (0.45, 0.82)),
    "fifth_wheel": (
        (0, 0.42), (0, 0.95), (0.02, 1), (0.98, 1), (1, 0.96), (1, 0), (0.24, 0), (0.24, 0.42),
    ),
}  # fmt: skip


# Side windows, the same shares; they make out which way a vehicle faces.
WINDOWS: dict[str, tuple[tuple[float, float], ...]] = {
    "car": ((0.33, 0.64), (0.45, 0.93), (0.64, 0.93), (0.77, 0.66)),
    "suv": ((0.31, 0.61), (0.41, 0.92), (0.91, 0.92), (0.95, 0.64)),
    "pickup": ((0.3, 0.62), (0.38, 0.92), (0.56, 0.92), (0.59, 0.63)),
    "horse": ((0.3, 0.66), (0.3, 0.84), (0.92, 0.84), (0.92, 0.66)),
    "van": ((0.17, 0.57), (0.26, 0.92), (0.42, 0.92), (0.42, 0.58)),
}


@dataclass(frozen=True, slots=True)
class Frame:
    """Where metres of the rig land on the paper.

    Args:
        scale: paper over rig [mm per m].
        left: x of the left paper edge [m].
        ground: y of the ground line [mm].
    """

    scale: float
    left: float
    ground: float

    def x(self, metres: float) -> float:
        """Paper x of a place along the rig [mm]."""
        return (metres - self.left) * self.scale

    def y(self, metres: float) -> float:
        """Paper y of a height above ground [mm]."""
        return self.ground - metres * self.scale


def body(shape: Body, frame: Frame) -> str:
    """Draw the outline of a vehicle or trailer."""
    length, height = shape.rear - shape.front, shape.roof - shape.floor

    def placed(shares: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
        return [(frame.x(shape.front + u * length), frame.y(shape.floor + v * height)) for u, v in shares]

    outline = polygon(placed(OUTLINES[shape.shape]))
    if shape.shape in WINDOWS:
        outline += polygon(placed(WINDOWS[shape.shape]), THIN)
    if shape.shape in ("boat", "open"):
        low = frame.y(shape.floor)
        outline += line(frame.x(shape.front), low, frame.x(shape.rear), low, 0.5)
    return outline


def wheel(x: float, radius: float, frame: Frame) -> str:
    """Draw a wheel standing on the ground at x [m] with its radius [m]."""
    size = radius * frame.scale
    cx, cy = frame.x(x), frame.ground - size
    return circle(cx, cy, size, 0.5, "#fff") + circle(cx, cy, size * 0.45, THIN)


MARK = 11.0  # pt, letter of a stowage place
SYMBOLS: dict[str, tuple[float, float]] = {  # width, height [mm]
    "tank": (5.0, 2.6),
    "cargo": (2.8, 2.8),
    "gas": (2.0, 3.2),
    "battery": (3.0, 2.0),
    "place": (5.0, 5.0),
}


def symbol(item: DrawnLoad, cx: float, cy: float) -> str:
    """Draw the sign of a tank, a piece of cargo, a gas cylinder, a battery or a stowage place at a place [mm]."""
    wide, tall = SYMBOLS[item.kind]
    x, y = cx - wide / 2, cy - tall / 2
    if item.kind == "place":
        return rect(x, y, wide, tall, LINE, "#000") + text(
            cx, cy + 0.36 * MARK * PT, item.label, MARK, "middle", "bold"
        ).replace("<text", '<text fill="#fff"', 1)
    box = rect(x, y, wide, tall, LINE, "#fff")
    if item.kind == "tank":
        return box + path(hatch(x, y + tall * 0.35, wide, tall * 0.65, 0.9), THIN)
    if item.kind == "cargo":
        return box + line(x, y, x + wide, y + tall, THIN) + line(x, y + tall, x + wide, y, THIN)
    if item.kind == "gas":
        return (
            f'<rect x="{num(x)}" y="{num(y)}" width="{num(wide)}" height="{num(tall)}" rx="0.8" '
            f'fill="#fff" stroke="#000" stroke-width="{LINE}"/>' + line(cx, y - 0.5, cx, y, 0.6)
        )
    plus = line(cx - 0.9, cy, cx - 0.1, cy, THIN) + line(cx - 0.5, cy - 0.4, cx - 0.5, cy + 0.4, THIN)
    return box + plus + line(cx + 0.2, cy, cx + 1.0, cy, THIN)


CENTRE = 1.7  # mm, radius of the sign of a centre of gravity


def centre_mark(x: float, y: float, radius: float = CENTRE) -> str:
    """Draw the sign of a centre of gravity: a circle with two dark quarters [mm]."""
    r = num(radius)
    quarters = (
        f"M{num(x)} {num(y)}V{num(y - radius)}A{r} {r} 0 0 1 {num(x + radius)} {num(y)}z"
        f"M{num(x)} {num(y)}V{num(y + radius)}A{r} {r} 0 0 1 {num(x - radius)} {num(y)}z"
    )
    return circle(x, y, radius, LINE, "#fff") + f'<path d="{quarters}" fill="#000"/>'
