"""Look over a laid-out card: on which pages its parts stand, and where every piece lies.

The PDF engine says nothing when text leaves its box or the paper; ``faults`` judges what is
collected here. This reads the engine's own box tree (``Page._page_box``, not a public name):
the engine is pinned to one minor series for it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

PX = 25.4 / 96  # mm per CSS pixel
Edges = tuple[float, float, float, float]
LEAVES = ("TextBox", "BlockReplacedBox", "InlineReplacedBox")
CONTAINERS = ("BlockBox", "TableCellBox", "InlineBlockBox", "MarginBox")


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of text, a drawing or a frame on a page, with the box that holds it.

    Args:
        page: page, counted from 0 [-].
        text: the text; empty for a drawing or a frame.
        left, top, right, bottom: its edges from the paper's top left [mm].
        box: left, top, right, bottom of the content of its container [mm].
        lowest: lower edge of the nearest ancestor whose height is fixed [mm]; None without one.
        pt: type size; 0 for a drawing or a frame [pt].
        classes: class names and tags of the element and its ancestors, nearest first.
        margin: whether it stands in a page margin (running head or foot).
    """

    page: int
    text: str
    left: float
    top: float
    right: float
    bottom: float
    box: Edges
    lowest: float | None
    pt: float
    classes: tuple[str, ...]
    margin: bool


@dataclass(frozen=True, slots=True)
class Mark:
    """A place where something is drawn by ``ink``.

    Args:
        page: page, counted from 0 [-].
        ink: what to draw, the ``data-ink`` of the element.
        left, top, width, height: padding box of the element [mm].
        em: type size of the element [mm].
    """

    page: int
    ink: str
    left: float
    top: float
    width: float
    height: float
    em: float


@dataclass(slots=True)
class Survey:
    """What was found on the pages.

    Args:
        pages: number of pages [-].
        sections: first and last page of each section, counted from 0 [-].
        leaves: all text and drawings.
        frames: boxes with a border.
        marks: places to draw at.
    """

    pages: int = 0
    sections: dict[str, tuple[int, int]] = field(default_factory=dict)
    leaves: list[Piece] = field(default_factory=list)
    frames: list[Piece] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)

    def pages_of(self, section: str) -> int:
        """Number of pages on which a section stands [-]."""
        first, last = self.sections.get(section, (0, -1))
        return last - first + 1


@dataclass(frozen=True, slots=True)
class _At:
    """Where the walk is: page, container, fixed lower edge, class names, margin."""

    page: int
    box: Edges = (0.0, 0.0, 0.0, 0.0)
    lowest: float | None = None
    classes: tuple[str, ...] = ()
    margin: bool = False
    element: Any = None


def survey(document: Any) -> Survey:
    """Walk the box tree of a laid-out document."""
    out = Survey(len(document.pages))
    for number, page in enumerate(document.pages):
        _walk(page._page_box, _At(number), out)
    return out


def _walk(box: Any, at: _At, out: Survey) -> None:
    """Collect the pieces below a box."""
    box = getattr(box, "_box", box)
    kind = type(box).__name__
    if kind in LEAVES:
        _leaf(box, kind, at, out)
        return
    element = box.element
    if element is not None and element is not at.element and kind != "PageBox":
        at = replace(at, classes=_classes(element, at.classes), element=element)
        if element.get("data-ink"):
            out.marks.append(_place(box, element.get("data-ink"), at.page))
        if element.tag == "section" and element.get("id"):
            first, _ = out.sections.get(element.get("id"), (at.page, at.page))
            out.sections[element.get("id")] = (first, at.page)
    if kind in CONTAINERS:
        at = _enter(box, kind, at, out)
    for child in box.children:
        _walk(child, at, out)


def _enter(box: Any, kind: str, at: _At, out: Survey) -> _At:
    """Return the place inside a container, and note its frame if it has one."""
    left, top = box.content_box_x() * PX, box.content_box_y() * PX
    edges = (left, top, left + box.width * PX, top + box.height * PX)
    lowest = at.lowest
    if box.style["height"] != "auto" and kind != "MarginBox":
        lowest = edges[3] if lowest is None else min(lowest, edges[3])
    if box.border_left_width or box.border_right_width:
        x, y = box.border_box_x() * PX, box.border_box_y() * PX
        right, bottom = x + box.border_width() * PX, y + box.border_height() * PX
        out.frames.append(Piece(at.page, "", x, y, right, bottom, at.box, None, 0.0, at.classes, at.margin))
    return replace(at, box=edges, lowest=lowest, margin=at.margin or kind == "MarginBox")


def _classes(element: Any, known: tuple[str, ...]) -> tuple[str, ...]:
    """Put an element's class names and tag before those of its ancestors."""
    return (*element.get("class", "").split(), str(element.tag), *known)


def _place(box: Any, ink: str, page: int) -> Mark:
    """Return the place of an element that asks for ink."""
    return Mark(
        page,
        ink,
        box.padding_box_x() * PX,
        box.padding_box_y() * PX,
        box.padding_width() * PX,
        box.padding_height() * PX,
        box.style["font_size"] * PX,
    )


def _leaf(box: Any, kind: str, at: _At, out: Survey) -> None:
    """Note one piece of text or one drawing."""
    is_text = kind == "TextBox"
    if is_text and not box.text.strip():
        return
    left, top = box.position_x * PX, box.position_y * PX
    width = (box.width if is_text else box.margin_width()) * PX
    height = (box.height if is_text else box.margin_height()) * PX
    out.leaves.append(
        Piece(
            at.page,
            box.text if is_text else "",
            left,
            top,
            left + width,
            top + height,
            at.box,
            at.lowest,
            box.style["font_size"] * 0.75 if is_text else 0.0,
            at.classes,
            at.margin,
        )
    )
