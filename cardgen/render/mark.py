"""What a laid-out card prints, as one text: by its fingerprint a card is known after print.

The words of the faces in their order, rows kept apart, with bold marked; drawings, tick boxes and bars with
every length rounded to 0.1 mm. Where a line breaks and how much air is between lines says nothing, and
neither does paper that only leaves more of it. Left out is what may change while the card stays good: what
templates mark with the class ``passing`` (what is due, the address of the report) and a code that holds that address.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any
from xml.etree import ElementTree

from cardgen.present.blocks import Block, Card, Pair, Qr
from cardgen.present.figures import LimitBar
from cardgen.present.levels import level_of
from cardgen.render.figures.bars import bar_shapes

PASSING = frozenset(("passing", "qr"))
"""Classes of elements that are no part of what a card says."""
BOLD = 600
"""Weight from which type is bold [-]."""
HEAD = 12
"""Letters by which a value is found again in print [-]."""
_NUMBER = re.compile(r"-?\d+\.\d+")
_LETTERLESS = re.compile(r"[\W_]+")
_SAID = re.compile(r"<(?:\w+:)?(title|desc)[ >].*?</(?:\w+:)?\1>", re.DOTALL)


def printed_text(pages: Sequence[Any], card: Card) -> str:
    """Return what a laid-out card prints.

    Args:
        pages: the engine's pages, the card's faces on paper without an end.
        card: its view model, for what its codes hold.
    """
    told: list[str] = []
    seen: set[object] = set()
    for page in pages:
        told.append("\f")
        _walk(page._page_box, told, seen)
    # Neighbours of one weight are one: where a line breaks between them says nothing.
    return "".join((*told, *(f"\v{payload}" for payload in _payloads(card)))).replace("\x0f\x0e", "")


def is_printed(value: str, text: str) -> bool:
    """Whether a value stands in a printed text; of a long one the beginning is enough, as it may be cut short."""
    return _LETTERLESS.sub("", value)[:HEAD] in _LETTERLESS.sub("", text)


def _walk(box: Any, told: list[str], seen: set[object]) -> None:
    """Add what stands below a box; an element in several boxes, such as a row over two lines, begins once."""
    box = getattr(box, "_box", box)
    kind, element = type(box).__name__, box.element
    if kind == "TextBox":
        words = "".join(box.text.split())
        if words:
            told.append(f"\x0e{words}\x0f" if box.style["font_weight"] >= BOLD else words)
        return
    if element is not None and not PASSING.isdisjoint(element.get("class", "").split()):
        return
    # Faces may come of several layouts, each with a root and a body of its own.
    known = None if element is None else element.tag if element.tag in ("html", "body") else id(element)
    if element is not None and known not in seen:
        seen.add(known)
        if kind in ("BlockReplacedBox", "InlineReplacedBox"):
            told.append(_rounded(_SAID.sub("", ElementTree.tostring(element, encoding="unicode"))))
        elif kind in ("BlockBox", "TableCellBox", "InlineBlockBox"):
            told.append("\n")
        ink = _ink(element.get("data-ink") or "")
        told += [ink] if ink else []
    for child in getattr(box, "children", ()):
        _walk(child, told, seen)


def _ink(ink: str) -> str:
    """What is drawn in front of a piece of text, but for leaders, which only fill the line."""
    kind, *rest = ink.split() or [""]
    if kind != "bar":
        return "" if kind in ("", "dots") else f"<{kind}>"
    bar = LimitBar(None if rest[0] == "-" else float(rest[0]), level_of(rest[1]))
    return _rounded(repr(bar_shapes(bar, float(rest[2]), float(rest[3]))))


def _rounded(text: str) -> str:
    """A text with every number of several digits rounded to a tenth."""
    return _NUMBER.sub(lambda found: f"{round(float(found[0]), 1) + 0.0:g}", text)


def _payloads(card: Card) -> Iterable[str]:
    blocks = [*(b for face in card.faces for b in (*face.blocks, *face.foot)), *card.flow]
    for block in blocks:
        yield from _held(block)


def _held(block: Block) -> Iterable[str]:
    """What a code holds besides an address."""
    if isinstance(block, Pair):
        yield from (*_held(block.left), *_held(block.right))
    elif isinstance(block, Qr) and not block.href:
        yield block.payload
