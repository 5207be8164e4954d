"""Marks on print sheets: crop marks, fold line, rounded corners, punch hole, check ruler.

Everything is drawn as content stream operators in millimetres from the lower left corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from cardgen.render.outlines import POINT, outline
from cardgen.render.places import Grid, SheetPlace
from cardgen.render.wrap import PT, shorten, width

RULER = 50.0  # mm
AWAY, LONG = 1.2, 4.0  # mm, distance of crop marks from the card and their length
RADIUS = 3.18  # mm, corner radius of an ID-1 card (ISO/IEC 7810)
HOLE = 2.5  # mm, radius of a punch hole
HOLE_DOWN = 4.2  # mm from the upper edge of the card to the middle of the hole
SMALL = 8.0  # pt
EDGE = 5.0  # mm at the paper edge that home printers cannot print


@dataclass(frozen=True, slots=True)
class Marks:
    """What to mark on every card: rounded corners, a punch hole; whether it is folded."""

    corners: bool
    hole: bool
    fold: bool


def _stroke(operators: str, thick: float = 0.1, dash: str = "") -> str:
    """Stroke a path given in millimetres; ``dash`` is a pattern [mm]."""
    return f"q {POINT:.6f} 0 0 {POINT:.6f} 0 0 cm [{dash}] 0 d {thick:g} w {operators} S Q"


def _line(x0: float, y0: float, x1: float, y1: float) -> str:
    return f"{x0:.3f} {y0:.3f} m {x1:.3f} {y1:.3f} l"


def unit_marks(unit: SheetPlace, sheet: Grid, marks: Marks) -> str:
    """Return crop marks and the wished marks of one card or of one pair that is folded."""
    out = [_stroke(crop)] if (crop := _crops(unit, sheet)) else []
    half = unit.width / 2 if marks.fold else unit.width
    faces = [SheetPlace(unit.x, unit.y, half, unit.height)]
    if marks.fold:
        faces.append(SheetPlace(unit.x + half, unit.y, half, unit.height))
    for face in faces:
        if marks.corners:
            out.append(_stroke(_arcs(face)))
        if marks.hole:
            out.append(_stroke(_hole(face)))
    return "\n".join(out)


def name_mark(unit: SheetPlace, sheet: Grid, name: str) -> str:
    """Return the name of a card's rig above the card, where it is cut off; empty where there is no paper for it."""
    y = unit.y + unit.height + AWAY
    first = y > sheet.height - sheet.top
    if not name or y + SMALL * PT > sheet.height - EDGE or not (first or sheet.gutter > AWAY + SMALL * PT):
        return ""
    return outline(shorten(name, SMALL, unit.width - 4.0), unit.x + 2.0, y, SMALL)


def _crops(unit: SheetPlace, sheet: Grid) -> str:
    """Return crop marks at the four corners, as far as there is paper between the cards."""
    room_x = sheet.gutter / 2 if sheet.columns > 1 else min(LONG + AWAY, sheet.left)
    room_y = sheet.gutter / 2 if sheet.rows > 1 else min(LONG + AWAY, sheet.top)
    long_x, long_y = min(LONG, room_x - AWAY), min(LONG, room_y - AWAY)
    parts: list[str] = []
    for x, outward in ((unit.x, -1), (unit.x + unit.width, 1)):
        for y, upward in ((unit.y, -1), (unit.y + unit.height, 1)):
            if long_x > 0.5:
                parts.append(_line(x + outward * AWAY, y, x + outward * (AWAY + long_x), y))
            if long_y > 0.5:
                parts.append(_line(x, y + upward * AWAY, x, y + upward * (AWAY + long_y)))
    return " ".join(parts)


def _arc(x: float, y: float, radius: float, across: int, up: int) -> str:
    """Return a quarter circle about a centre, from its level end to its upright end."""
    k = radius * 4 / 3 * (sqrt(2) - 1)
    return (
        f"{x + across * radius:.3f} {y:.3f} m "
        f"{x + across * radius:.3f} {y + up * k:.3f} {x + across * k:.3f} {y + up * radius:.3f} "
        f"{x:.3f} {y + up * radius:.3f} c"
    )


def _arcs(face: SheetPlace) -> str:
    """Return the rounded corners of a card."""
    return " ".join(
        _arc(x, y, RADIUS, across, up)
        for x, across in ((face.x + RADIUS, -1), (face.x + face.width - RADIUS, 1))
        for y, up in ((face.y + RADIUS, -1), (face.y + face.height - RADIUS, 1))
    )


def _hole(face: SheetPlace) -> str:
    """Return a circle with a cross at the middle of the upper edge."""
    x, y = face.x + face.width / 2, face.y + face.height - HOLE_DOWN
    circle = " ".join(_arc(x, y, HOLE, across, up) for across in (-1, 1) for up in (-1, 1))
    return f"{circle} {_line(x - 1, y, x + 1, y)} {_line(x, y - 1, x, y + 1)}"


def fold_mark(unit: SheetPlace) -> str:
    """Return the fold line of a pair."""
    x = unit.x + unit.width / 2
    return _stroke(_line(x, unit.y, x, unit.y + unit.height), 0.15, "2 1.5")


def tight_marks(sheet: Grid, fold: bool) -> str:
    """Return cutting ticks and the check ruler for a sheet that the cards fill wholly.

    They stand on the line between two cards, where the cards themselves print nothing.
    """
    wide, tall = sheet.unit
    half = wide / 2 if fold else wide
    ticks = [
        _line(x, y, x, y + 3.0)
        for x in (sheet.left + n * wide for n in range(1, sheet.columns))
        for y in (EDGE, sheet.height - EDGE - 3.0)
    ]
    ticks += [
        _line(x, y, x + 3.0, y)
        for y in (sheet.height - sheet.top - n * tall for n in range(1, sheet.rows))
        for x in (EDGE, sheet.width - EDGE - 3.0)
    ]
    if not fold and sheet.columns < 2:
        return _stroke(" ".join(ticks)) if ticks else ""
    x, low = sheet.left + half, sheet.height / 2 - RULER / 2
    ruler = [_line(x, low, x, low + RULER)]
    ruler += [_line(x - 1.5, y, x + 1.5, y) for y in (low, low + RULER)]
    words = "50 mm: print at 100 %, fold here" if fold else "50 mm: print at 100 %, cut here"
    return "\n".join(
        (
            _stroke(" ".join(ticks + ruler), 0.2),
            outline(words, x - 1.0, low + 2.0, 7.5, upright=True),
        )
    )


def _bottom(sheet: Grid) -> float:
    """Height of the line for ruler and advice below the cards; negative for no room [mm]."""
    rest = sheet.height - sheet.top - sheet.rows * (sheet.unit[1] + sheet.gutter) + sheet.gutter
    return EDGE if rest >= EDGE + 3.0 else -1.0


def furniture(sheet: Grid, advice: str) -> str:
    """Return the check ruler and the printing advice below the cards, where there is room."""
    y = _bottom(sheet)
    if y < 0:
        return ""
    x = max(EDGE + 3.0, sheet.left + AWAY + LONG + 1.0)
    ruler = [_line(x, y, x + RULER, y)]
    ruler += [_line(x + n, y, x + n, y + (2.0 if n % 10 == 0 else 1.0)) for n in range(0, 51, 5)]
    label = "50 mm"
    start = x + RULER + 1.5
    return "\n".join(
        (
            _stroke(" ".join(ruler), 0.2),
            outline(label, start, y, SMALL),
            outline(advice, start + width(label, SMALL) + 5.0, y, SMALL),
        )
    )
