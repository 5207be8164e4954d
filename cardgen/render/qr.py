"""QR codes as one SVG path.

The matrix comes from the ``qrcode`` package. Quiet zone of 4 modules on every side
(ISO/IEC 18004). The module is never under 0.5 mm: the side grows instead.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from html import escape
from typing import Literal

QUIET = 4
MODULE = 0.5  # mm
Correction = Literal["M", "Q", "H"]


class QrTooLongError(ValueError):
    """The payload does not fit any QR code of the asked error correction."""


@dataclass(frozen=True, slots=True)
class QrCode:
    """A drawn QR code.

    Args:
        svg: one ``<svg>`` element with a ``<title>``.
        side: printed side including the quiet zone [mm].
        module: side of one module [mm].
        version: QR version, 1 to 40 [-].
    """

    svg: str
    side: float
    module: float
    version: int


@lru_cache(maxsize=256)
def matrix(payload: str, correction: Correction = "Q") -> tuple[tuple[bool, ...], ...]:
    """Return the dark modules of the smallest code that holds the payload, without quiet zone.

    Args:
        payload: text to encode, UTF-8 [-].
        correction: error correction level; Q restores a quarter of the codewords [-].

    Raises:
        QrTooLongError: more than version 40 holds.
    """
    import qrcode
    from qrcode.exceptions import DataOverflowError

    levels = {
        "M": qrcode.ERROR_CORRECT_M,
        "Q": qrcode.ERROR_CORRECT_Q,
        "H": qrcode.ERROR_CORRECT_H,
    }
    code = qrcode.QRCode(error_correction=levels[correction], border=0)
    code.add_data(payload.encode("utf-8"), optimize=0)
    try:
        code.make(fit=True)
    except (DataOverflowError, ValueError):
        raise QrTooLongError(
            f"{len(payload.encode())} bytes do not fit a QR code at level {correction}"
        ) from None
    return tuple(tuple(bool(cell) for cell in row) for row in code.get_matrix())


def _path(cells: tuple[tuple[bool, ...], ...]) -> str:
    """Return one path to be stroked one module wide: a line for every dark run of a row."""
    parts: list[str] = []
    for y, row in enumerate(cells):
        x = 0
        while x < len(row):
            if not row[x]:
                x += 1
                continue
            end = x
            while end < len(row) and row[end]:
                end += 1
            parts.append(f"M{x + QUIET} {y + QUIET}.5h{end - x}")
            x = end
    return "".join(parts)


def level(address: str) -> Correction:
    """Error correction of a code: Q for an address, M for plain text, which holds more in the same width [-]."""
    return "Q" if address else "M"


def draw(payload: str, least_side: float, title: str, correction: Correction = "Q") -> QrCode:
    """Draw a QR code.

    Args:
        payload: text to encode [-].
        least_side: smallest printed side including the quiet zone [mm].
        title: alternative text [-].
        correction: error correction level [-].

    Raises:
        QrTooLongError: the payload does not fit.
    """
    cells = matrix(payload, correction)
    count = len(cells) + 2 * QUIET
    side = round(max(least_side, MODULE * count), 3)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {count} {count}" '
        f'width="{side:g}mm" height="{side:g}mm" shape-rendering="crispEdges">'
        f'<title>{escape(title)}</title><path d="{_path(cells)}" fill="none" stroke="#000"/></svg>'
    )
    return QrCode(svg, side, side / count, (len(cells) - 17) // 4)
