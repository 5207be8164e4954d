"""Where cards stand on a print sheet: grids, crop marks, and the matching places on the back.

All lengths in millimetres, from the lower left corner of the sheet as it is printed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Flip = Literal["long", "short"]


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, upright.

    Args:
        id: name on the command line.
        width, height: trimmed paper [mm].
    """

    id: str
    width: float
    height: float


PAPERS: dict[str, Paper] = {
    "letter": Paper("letter", 215.9, 279.4),
    "a4": Paper("a4", 210.0, 297.0),
}
FITS = 0.05  # mm by which a card may seem larger than the paper, from rounding in points


class SheetError(ValueError):
    """A card does not fit the paper; the message names both."""


@dataclass(frozen=True, slots=True)
class SheetPlace:
    """A card's place on a sheet.

    Args:
        x, y: lower left corner [mm].
        width, height: size of the card [mm].
        turned: whether it stands upside down.
    """

    x: float
    y: float
    width: float
    height: float
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """Places of equal units on a sheet.

    Args:
        width, height: sheet as it is printed [mm].
        columns, rows: units beside and above each other [-].
        left, top: distance of the first unit from the left and upper edge [mm].
        unit: width and height of a unit [mm].
        gutter: space between units [mm].
    """

    width: float
    height: float
    columns: int
    rows: int
    left: float
    top: float
    unit: tuple[float, float]
    gutter: float

    @property
    def tight(self) -> bool:
        """Whether the cards touch each other and the paper edge."""
        return self.gutter == 0

    @property
    def landscape(self) -> bool:
        """Whether the sheet is wider than high."""
        return self.width > self.height

    @property
    def count(self) -> int:
        """Units on a sheet [-]."""
        return self.columns * self.rows

    def place(self, n: int) -> SheetPlace:
        """Return the place of unit ``n``, counted from 0 by rows from the upper left [-]."""
        row, column = divmod(n, self.columns)
        wide, tall = self.unit
        x = self.left + column * (wide + self.gutter)
        y = self.height - self.top - (row + 1) * tall - row * self.gutter
        return SheetPlace(x, y, wide, tall)


def fits(paper: Paper, unit: tuple[float, float]) -> bool:
    """Whether a unit goes on the paper at 100 %, upright or across.

    Args:
        paper: the sheet.
        unit: width and height of the unit [mm].
    """
    short, long = sorted((paper.width, paper.height))
    return min(unit) <= short + FITS and max(unit) <= long + FITS


def grid(paper: Paper, unit: tuple[float, float], margin: float, gutter: float) -> Grid:
    """Return the grid that holds the most units, upright or across.

    Where twice as many fit without margins and gutters (half letter on letter, A5 on A4), those
    are left out: cards print nothing near their edges anyway.

    Args:
        paper: the sheet.
        unit: width and height of a unit [mm].
        margin: least distance of a unit from the paper edge [mm].
        gutter: space between units [mm].

    Raises:
        SheetError: not even one unit fits, margins left out.
    """
    tries = [
        _grid(width, height, unit, edge, between)
        for edge, between in ((margin, gutter), (0.0, 0.0))
        for width, height in ((paper.width, paper.height), (paper.height, paper.width))
    ]
    loose, tight = (max(pair, key=lambda found: found.count) for pair in (tries[:2], tries[2:]))
    best = tight if tight.count >= 2 * max(loose.count, 0.5) else loose
    if best.count:
        return best
    raise SheetError(f"a card of {unit[0]:.1f} x {unit[1]:.1f} mm does not fit {paper.id} paper at 100 %")


def _grid(width: float, height: float, unit: tuple[float, float], margin: float, gutter: float) -> Grid:
    wide, tall = unit
    columns = int((width - 2 * margin + gutter + FITS) / (wide + gutter))
    rows = int((height - 2 * margin + gutter + FITS) / (tall + gutter))
    used = (columns * (wide + gutter) - gutter, rows * (tall + gutter) - gutter)
    left, top = max(0.0, (width - used[0]) / 2), max(0.0, (height - used[1]) / 2)
    return Grid(width, height, max(0, columns), max(0, rows), left, top, unit, gutter)


def behind(place: SheetPlace, sheet: Grid, flip: Flip) -> SheetPlace:
    """Return the place on the back that lies behind a place on the front.

    Turning the paper about its upright axis mirrors x; turning it about its level axis mirrors
    y and puts the card upside down. Flipping on the long edge is the upright axis for an
    upright sheet and the level axis for a sheet across.

    Args:
        place: place on the front.
        sheet: the sheet as it is printed.
        flip: edge about which the printer turns the paper.
    """
    if (flip == "long") != sheet.landscape:
        x = sheet.width - place.x - place.width
        return SheetPlace(x, place.y, place.width, place.height)
    y = sheet.height - place.y - place.height
    return SheetPlace(place.x, y, place.width, place.height, turned=True)
