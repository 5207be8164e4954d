"""Place labels so that none overlaps another and no pointer line runs through a label."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from cardgen.render.wrap import split, width
from cardgen.tables.letters import Weight

GAP = 1.2  # mm between labels, and between a label and a foreign pointer line
NEAREST = 1.4  # mm between two pointer lines
BETWEEN = "\u00a0\u00a0 "  # between two entries of a legend
LONG = 0.6  # share of the drawing's width above which a text goes to the legend
ROWS = 5  # rows of labels above which numbers and a legend are clearer


@dataclass(frozen=True, slots=True)
class Flag:
    """A label in a row above (or below) a drawing, with an upright pointer line.

    Args:
        x: where the pointer line stands [mm].
        anchor: where it points to [mm]; differs from ``x`` when two points are too close.
        left: left end of the text [mm].
        width: width of the text [mm].
        row: row, 0 next to the drawing [-].
        text: the text as printed.
    """

    x: float
    anchor: float
    left: float
    width: float
    row: int
    text: str

    @property
    def right(self) -> float:
        """Right end of the text [mm]."""
        return self.left + self.width


@dataclass(frozen=True, slots=True)
class Placed:
    """All labels of one side of a drawing.

    Args:
        flags: one per point, in the order given; fewer when not even numbers find room.
        legend: texts to print elsewhere, when the flags carry numbers instead.
    """

    flags: tuple[Flag, ...]
    legend: tuple[str, ...] = ()

    @property
    def rows(self) -> int:
        """Rows of labels [-]."""
        return max((flag.row for flag in self.flags), default=-1) + 1


def flags(
    points: Sequence[tuple[float, str]],
    room: float,
    pt: float,
    first: int = 1,
    weight: Weight = "regular",
) -> Placed:
    """Place a label for every point so that none meets another's text or pointer line.

    Where that needs more than ``ROWS`` rows, or a text is long, the labels are numbers and
    the texts a legend.

    Args:
        points: position [mm] and text of every label.
        room: width of the drawing [mm].
        pt: type size [pt].
        first: number of the first label, should numbers be needed [-].
        weight: weight of the font.
    """
    best: tuple[Flag, ...] | None = None
    long = any(width(text, pt, weight) > LONG * room for _, text in points)
    for prefer in () if long else (_fewest, _leftward, _rightward):
        found = _rows(_start(points, room, pt, NEAREST, weight), room, prefer)
        if found and (best is None or _count(found) < _count(best)):
            best = found
    if best is not None and _count(best) <= ROWS:
        return Placed(best)
    wide = width(str(first + len(points)), pt, weight)
    most = max(1, int(room / (wide + GAP)))
    row = tuple(_numbers([x for x, _ in points[:most]], room, pt, first, weight))
    legend = [f"{first + n} {text}" for n, (_, text) in enumerate(points[:most])]
    if len(points) > most:
        legend.append(f"+ {len(points) - most}")
    return Placed(row, tuple(legend))


def _numbers(xs: Sequence[float], room: float, pt: float, first: int, weight: Weight) -> list[Flag]:
    """Return flags that carry numbers, centred on their pointers and whole inside the drawing."""
    wide = width(str(first + len(xs)), pt, weight)
    half = wide / 2
    inside = [(x - half, str(first + n)) for n, x in enumerate(xs)]
    return [
        replace(flag, x=flag.x + half, anchor=flag.anchor + half, left=flag.x + half - flag.width / 2)
        for flag in _start(inside, max(0.0, room - wide), pt, wide + GAP, weight)
    ]


def legend_lines(legend: Sequence[str], room: float, pt: float, weight: Weight = "regular") -> list[str]:
    """Return the entries of a legend, as many to a line as fit; long ones are wrapped.

    Args:
        legend: entries [-].
        room: width of a line [mm].
        pt: type size [pt].
        weight: weight of the font.
    """
    out: list[str] = []
    for entry in legend:
        longer = f"{out[-1]}{BETWEEN}{entry}" if out else entry
        if out and width(longer, pt, weight) <= room:
            out[-1] = longer
        else:
            out += split(entry, pt, room, weight)
    return out


def _start(
    points: Sequence[tuple[float, str]], room: float, pt: float, nearest: float, weight: Weight
) -> list[Flag]:
    """Return the flags before they have a place, their pointers moved apart."""
    starts = _apart([x for x, _ in points], room, nearest)
    return [
        Flag(start, x, 0.0, width(text, pt, weight), 0, text)
        for start, (x, text) in zip(starts, points, strict=True)
    ]


def _count(found: Sequence[Flag]) -> int:
    return max((flag.row for flag in found), default=-1) + 1


def _apart(xs: Sequence[float], room: float, nearest: float) -> list[float]:
    """Move positions apart to at least the least distance, keeping their order [mm]."""
    order = sorted(range(len(xs)), key=lambda n: xs[n])
    out = [min(max(x, 0.0), room) for x in xs]
    for before, n in pairwise(order):
        out[n] = max(out[n], out[before] + nearest)
    limit = room
    for n in reversed(order):
        out[n] = min(out[n], limit)
        limit = out[n] - nearest
    return out


Prefer = Callable[[Flag, Sequence[float], float], float]


def _clamp(left: float, flag: Flag, room: float) -> float:
    """Keep a text inside the drawing [mm]."""
    return min(max(0.0, left), max(0.0, room - flag.width))


def _covered(flag: Flag, others: Sequence[float], left: float) -> int:
    """Foreign pointers that the text would stand in the way of [-]."""
    return sum(left - GAP / 2 < x < left + flag.width + GAP / 2 for x in others)


def _fewest(flag: Flag, others: Sequence[float], room: float) -> float:
    """Where the text stands in the way of the fewest pointers."""
    tries = [flag.x, flag.x - flag.width]
    tries += [x - GAP - flag.width for x in others if x > flag.x]
    tries += [x + GAP for x in others if x < flag.x]
    inside = [
        left
        for left in (_clamp(left, flag, room) for left in tries)
        if left <= flag.x + 0.01 and left + flag.width >= flag.x - 0.01
    ]
    return min(inside, key=lambda left: _covered(flag, others, left))


def _leftward(flag: Flag, others: Sequence[float], room: float) -> float:
    """The text ends at its pointer."""
    return _clamp(flag.x - flag.width, flag, room)


def _rightward(flag: Flag, others: Sequence[float], room: float) -> float:
    """The text begins at its pointer."""
    return _clamp(flag.x, flag, room)


def _rows(start: list[Flag], room: float, prefer: Prefer) -> tuple[Flag, ...] | None:
    """Choose places along the line, then rows; None when labels are in each other's way.

    A label that covers a foreign pointer must stand in a higher row than that pointer's label.
    """
    pointers = [flag.x for flag in start]
    todo: dict[int, Flag] = {}
    for n, flag in enumerate(start):
        others = [x for m, x in enumerate(pointers) if m != n]
        todo[n] = replace(flag, left=prefer(flag, others, room))
    done: dict[int, Flag] = {}
    while todo:
        ready = [n for n in todo if all(m in done for m in _below(n, todo, done, pointers))]
        if not ready:
            return None
        for n in ready:
            flag = todo.pop(n)
            rows = range(len(start))
            done[n] = next(
                here
                for row in rows
                for here in (replace(flag, row=row),)
                if all(clear(here, other) for other in done.values())
            )
    return tuple(done[n] for n in range(len(start)))


def _below(n: int, todo: dict[int, Flag], done: dict[int, Flag], pointers: Sequence[float]) -> list[int]:
    """Labels whose pointers stand under the text of label ``n``."""
    flag = todo[n]
    return [m for m, x in enumerate(pointers) if m != n and flag.left - GAP / 2 < x < flag.right + GAP / 2]


def clear(a: Flag, b: Flag) -> bool:
    """Whether neither label meets the other's text or pointer line."""
    if a.row == b.row:
        return a.right + GAP <= b.left + 0.01 or b.right + GAP <= a.left + 0.01
    low, high = (a, b) if a.row < b.row else (b, a)
    # The pointer of the higher label passes the row of the lower one.
    return not low.left - GAP / 2 < high.x < low.right + GAP / 2


def spread(wanted: Sequence[float], step: float, low: float, high: float) -> list[float]:
    """Move positions apart to at least ``step``, keeping order and staying between two ends.

    Args:
        wanted: positions [mm].
        step: least distance [mm].
        low, high: ends [mm]; when they hold too few steps the positions reach beyond ``high``.
    """
    order = sorted(range(len(wanted)), key=lambda n: wanted[n])
    out = [min(max(value, low), high) for value in wanted]
    for before, n in pairwise(order):
        out[n] = max(out[n], out[before] + step)
    limit = max(high, low + step * (len(out) - 1))
    for n in reversed(order):
        out[n] = min(out[n], limit)
        limit = out[n] - step
    return out
