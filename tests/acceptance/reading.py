"""Finished PDFs read with pypdfium2 and pikepdf, which had no part in making them."""

from __future__ import annotations

import ctypes
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2 as pdfium
import pypdfium2.raw as raw
import zxingcpp

MM = 25.4 / 72
"""Millimetres in a point."""
_SPACES = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2011": "-"})
_CELL = 10.0  # pt, side of the squares into which a page is cut to find neighbours
_SHARED = 0.3
_DARK = 60


@dataclass(frozen=True, slots=True)
class Char:
    """A printed letter.

    Args:
        page: counted from 0 [-].
        text: the letter.
        left, top, right, bottom: edges of its ink from the paper's top left [pt].
        size: type size as it comes out on paper [pt].
        order: place in the order of painting [-].
    """

    page: int
    text: str
    left: float
    top: float
    right: float
    bottom: float
    size: float
    order: int

    @property
    def area(self) -> float:
        """Area of the box of its ink [pt2]."""
        return (self.right - self.left) * (self.bottom - self.top)


@dataclass(frozen=True, slots=True)
class Page:
    """A page: width and height of its media box [mm], its letters, its text."""

    width: float
    height: float
    chars: tuple[Char, ...]
    text: str


def pages(pdf: Path) -> list[Page]:
    """Read every page of a document."""
    document = pdfium.PdfDocument(pdf)
    found = []
    try:
        for number, page in enumerate(document):
            text = page.get_textpage()
            width, height = page.get_size()
            chars = tuple(_chars(text, number, height))
            words = plain(text.get_text_bounded())
            found.append(Page(width * MM, height * MM, chars, words))
            text.close()
            page.close()
    finally:
        document.close()
    return found


def _chars(text: Any, page: int, height: float) -> Iterator[Char]:
    for n in range(text.count_chars()):
        letter = chr(raw.FPDFText_GetUnicode(text, n))
        if not letter.strip() or raw.FPDFText_IsGenerated(text, n) == 1:
            continue
        left, bottom, right, top = text.get_charbox(n)
        matrix = raw.FS_MATRIX()
        assert raw.FPDFText_GetMatrix(text, n, ctypes.byref(matrix))
        stretch = abs(matrix.a * matrix.d - matrix.b * matrix.c) ** 0.5
        size = raw.FPDFText_GetFontSize(text, n) * stretch
        yield Char(page, letter, left, height - top, right, height - bottom, size, n)


def plain(text: str) -> str:
    """Text with ordinary blanks and hyphens, every run of blanks one blank."""
    return " ".join(text.translate(_SPACES).split())


def dense(text: str) -> str:
    """Text without blanks, to find what was broken into lines."""
    return "".join(text.translate(_SPACES).split())


def letters(chars: Iterable[Char]) -> str:
    """The letters in the order of painting, without blanks."""
    return "".join(char.text for char in chars).translate(_SPACES)


def overlaps(chars: Iterable[Char]) -> list[tuple[Char, Char]]:
    """Pairs of letters on one page that stand on top of each other.

    Two letters overlap when they share more than a third of the smaller one's ink box.
    Letters that follow each other may be kerned and are let through.
    """
    squares: dict[tuple[int, int, int], list[Char]] = defaultdict(list)
    for char in chars:
        for x in range(int(char.left // _CELL), int(char.right // _CELL) + 1):
            for y in range(int(char.top // _CELL), int(char.bottom // _CELL) + 1):
                squares[char.page, x, y].append(char)
    pairs = {}
    for inside in squares.values():
        for n, one in enumerate(inside):
            for other in inside[n + 1 :]:
                if abs(one.order - other.order) > 1 and _shared(one, other) > _SHARED:
                    pairs[one.page, one.order, other.order] = (one, other)
    return [pairs[key] for key in sorted(pairs)]


def _shared(one: Char, other: Char) -> float:
    """Share of the smaller ink box that two letters have in common [-]."""
    wide = min(one.right, other.right) - max(one.left, other.left)
    high = min(one.bottom, other.bottom) - max(one.top, other.top)
    if wide <= 0 or high <= 0:
        return 0.0
    return wide * high / max(min(one.area, other.area), 1e-6)


def context(page: Page, char: Char, around: int = 12) -> str:
    """Letters around one, to name it in a message."""
    near = [c for c in page.chars if abs(c.order - char.order) <= around]
    return letters(near)


def raster(pdf: Path, page: int, dpi: int) -> npt.NDArray[np.uint8]:
    """One page as grey values, row by row."""
    document = pdfium.PdfDocument(pdf)
    try:
        picture = document[page].render(scale=dpi / 72, grayscale=True).to_numpy()
    finally:
        document.close()
    return np.asarray(picture, dtype=np.uint8).reshape(picture.shape[:2])


def inkless(page: Page, picture: npt.NDArray[np.uint8], dpi: int) -> list[Char]:
    """Letters whose ink is not on the paper where the document says, whole or in part."""
    return [char for char in page.chars if not _has_ink(char, picture, dpi)]


def _has_ink(char: Char, picture: npt.NDArray[np.uint8], dpi: int) -> bool:
    scale = dpi / 72
    top, bottom = max(int(char.top * scale) - 1, 0), int(char.bottom * scale) + 2
    left, right = max(int(char.left * scale) - 1, 0), int(char.right * scale) + 2
    box = picture[top:bottom, left:right].astype(int)
    if box.size == 0 or box.max() - box.min() < _DARK:
        return False
    paper = box[0, 0] if box[0, 0] in (box.min(), box.max()) else box.max()
    marked = np.abs(box - paper) > _DARK / 2
    rows, columns = np.flatnonzero(marked.any(axis=1)), np.flatnonzero(marked.any(axis=0))
    high, wide = rows[-1] - rows[0] + 1, columns[-1] - columns[0] + 1
    return bool(
        high >= (char.bottom - char.top) * scale - 2.5 and wide >= (char.right - char.left) * scale - 2.5
    )


def codes(pdf: Path, dpi: int = 150) -> list[str]:
    """Texts of all QR codes, read from the rasterised pages."""
    document = pdfium.PdfDocument(pdf)
    count = len(document)
    document.close()
    found = []
    for page in range(count):
        read = zxingcpp.read_barcodes(raster(pdf, page, dpi))
        # A row of narrow letters can be taken for bars.
        found += [code.text for code in read if code.format == zxingcpp.BarcodeFormat.QRCode]
    return found


def fonts(pdf: Path) -> dict[str, bool]:
    """Name of every font used, without its subset mark, and whether it is embedded whole."""
    found: dict[str, bool] = {}
    with pikepdf.open(pdf) as document:
        for one in document.objects:
            if not (isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/Font"):
                continue
            descriptor = one.get("/FontDescriptor")
            if descriptor is None and "/DescendantFonts" in one:
                descriptor = one["/DescendantFonts"][0].get("/FontDescriptor")
            embedded = descriptor is not None and any(f"/FontFile{n}" in descriptor for n in ("", "2", "3"))
            name = str(one.get("/BaseFont", "/nameless")).lstrip("/").partition("+")
            found[name[2] or name[0]] = embedded
    return found
