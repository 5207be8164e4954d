"""Paper sizes of cards.

Sizes: US sizes by their names in inches; A sizes by ISO 216; the wallet card is ID-1 of
ISO/IEC 7810 (85.60 mm x 53.98 mm).
"""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.source.suggest import suggest

INCH = 25.4
COLUMN_GAP = 9.0  # mm between columns
SAFE = 5.0  # mm from the paper edge in which nothing is printed
POINT = INCH / 72  # mm
EMS = 25.0  # em; a face of so many has room for a gutter and for blocks side by side
CRITICAL = 12.25
"""Type of a critical line [pt]: an x-height of 2.2 mm in this face (0.516 em, read from the font)."""
LARGE, WIDE = 16.0, 15.5
"""The same in large print and on letter and A4 paper [pt]."""


@dataclass(frozen=True, slots=True)
class Size:
    """One card size.

    Args:
        id, label: name on the command line, and for people.
        width, height: trimmed paper [mm].
        side, top, head, bottom: margins [mm]: left and right, above the first face,
            above the other faces (room for their running head), below.
        columns: columns of flowing content.
        stacked: whether the foot takes two lines.
        wide: whether pairs of blocks stand side by side.
        qr: side of a QR code with its quiet zone, at least [mm].
    """

    id: str
    label: str
    width: float
    height: float
    side: float
    top: float
    head: float
    bottom: float
    columns: int = 1
    stacked: bool = False
    wide: bool = False
    qr: float = 22.0

    def column_width(self, columns: int) -> float:
        """Width of one of several columns [mm]."""
        return (self.text_width - COLUMN_GAP * (columns - 1)) / columns

    @property
    def text_width(self) -> float:
        """Width between the margins [mm]."""
        return self.width - 2 * self.side

    def text_height(self, first: bool) -> float:
        """Height between the margins of the first or of a further face [mm]."""
        return self.height - (self.top if first else self.head) - self.bottom


SIZES: dict[str, Size] = {
    size.id: size
    for size in (
        Size("half-letter", "half letter, 5.5 x 8.5 in", 5.5 * INCH, 8.5 * INCH,
             8, 8, 14, 11, wide=True),
        Size("a5", "A5, 148 x 210 mm", 148, 210, 8, 8, 14, 11, wide=True),
        Size("4x6", "4 x 6 in", 4 * INCH, 6 * INCH, 7, 7, 13, 13, stacked=True),
        Size("a6", "A6, 105 x 148 mm", 105, 148, 7, 7, 13, 13,
             stacked=True),
        Size("wallet", "wallet card ID-1, 85.60 x 53.98 mm", 85.60, 53.98,
             5.5, 5.5, 5.5, 5.5, qr=20.0),
        Size("letter", "letter, 8.5 x 11 in", 8.5 * INCH, 11 * INCH,
             14, 13, 19, 15, columns=2, wide=True),
        Size("a4", "A4, 210 x 297 mm", 210, 297, 14, 13, 19, 15, columns=2, wide=True),
    )
}  # fmt: skip


WALLET = "wallet"
"""Wallet card and tire tag have this size, and always: they hold a few numbers and nothing else."""
CHOICES = tuple(name for name in SIZES if name != WALLET)
"""Sizes that a person can choose for cards."""


def wished(name: str) -> str | None:
    """Return the size that a person asks for, in whatever case it is written; None if there is none."""
    return name.lower() if name.lower() in CHOICES else None


def size_trouble(name: str) -> tuple[str, str]:
    """Say why a size cannot be chosen, and what to write."""
    if name.lower() == WALLET:
        return (
            "the wallet size is for the wallet card and the tire tag, which always have it",
            f"use one of: {', '.join(CHOICES)}",
        )
    return f"there is no card size '{name[:80]}'", suggest(name, CHOICES)


class UnknownSizeError(ValueError):
    """A size name that is not in ``SIZES``; the message lists the names."""


def size_of(name: str) -> Size:
    """Return the size called ``name`` [-].

    Raises:
        UnknownSizeError: no such size.
    """
    try:
        return SIZES[name]
    except KeyError:
        raise UnknownSizeError(f"unknown card size {name!r}; write one of: {', '.join(SIZES)}") from None


def type_size(size: Size, large_print: bool) -> float:
    """Type of a critical line [pt]: by the paper, or large."""
    if size.id == WALLET:
        return CRITICAL
    if size.columns > 1:
        return max(LARGE if large_print else 0.0, WIDE)
    return LARGE if large_print else CRITICAL


def is_wide(width: float, pt: float) -> bool:
    """Whether a place [mm] has room for a gutter and for blocks side by side, at the type of its critical lines [pt]."""
    return width > EMS * pt * POINT
