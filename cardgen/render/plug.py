"""Connectors drawn by clock position where that is published, else as a row of numbers."""

from __future__ import annotations

import math
import re
from html import escape

from cardgen.present.page import PinRow, PlugDrawing

SIZE = 46.0  # mm, round connectors
STEP = 11.0  # mm between pins of a row
_CLOCK = re.compile(r"(\d{1,2}) o'clock")


def plug_svg(plug: PlugDrawing) -> str:
    """Draw a connector as one SVG element; its words stand beside it on the page.

    Args:
        plug: pins with clock positions or numbers.
    """
    if plug.shape == "round":
        return _round(plug.pins)
    return _row(plug.pins, boxed=plug.shape == "row")


def _svg(width: float, height: float, body: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" '
        f'aria-hidden="true" focusable="false">{body}</svg>'
    )


def _pin(x: float, y: float, text: str) -> str:
    return (
        f'<circle cx="{x:.2f}" cy="{y:.2f}" r="4.3" fill="none" stroke="#000" stroke-width="0.4"/>'
        f'<text x="{x:.2f}" y="{y + 1.35:.2f}" font-size="3.9" text-anchor="middle">{escape(text)}</text>'
    )


def _round(pins: tuple[PinRow, ...]) -> str:
    """Draw pins around a circle at their clock positions, the key at the top."""
    middle = SIZE / 2
    body = [
        f'<circle cx="{middle:g}" cy="{middle:g}" r="{middle - 1:g}" fill="none" stroke="#000" stroke-width="0.6"/>',
        f'<path d="M{middle - 2.5:g} 1.2v2.6h5v-2.6" fill="none" stroke="#000" stroke-width="0.6"/>',
    ]
    for pin in pins:
        found = _CLOCK.fullmatch(pin.at)
        if found is None:
            body.append(_pin(middle, middle, "mid"))
            continue
        angle = math.radians(30.0 * int(found[1]))
        reach = middle - 8.5
        body.append(_pin(middle + reach * math.sin(angle), middle - reach * math.cos(angle), found[1]))
    return _svg(SIZE, SIZE, "".join(body))


def _row(pins: tuple[PinRow, ...], boxed: bool) -> str:
    """Draw pins in the order of their numbers; the box marks a flat connector."""
    columns = min(len(pins), 7)
    lines = math.ceil(len(pins) / columns)
    width, height = columns * STEP + 2, lines * STEP + 2
    frame = f'<rect x="0.5" y="0.5" width="{width - 1:g}" height="{height - 1:g}" rx="2" fill="none" stroke="#000" stroke-width="0.6"/>'
    body = [frame] if boxed else []
    for i, pin in enumerate(pins):
        body.append(_pin(1 + STEP * (i % columns + 0.5), 1 + STEP * (i // columns + 0.5), pin.at))
    return _svg(width, height, "".join(body))
