"""Look over a laid-out card: on which pages its parts stand, and what does not fit its place.

The PDF engine says nothing when text leaves its box or the paper, so every piece of text and
every drawing is compared with the box that holds it. This reads the engine's own box tree
(``Page._page_box``, not a public name): the engine is pinned to one minor series for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from cardgen.render.problems import Problem
from cardgen.render.scale import FLOORS
from cardgen.render.sizes import SAFE

PX = 25.4 / 96  # mm per CSS pixel
SLACK = 0.25  # mm that rounding and side bearings may take
EPSILON_PT = 0.01


@dataclass(frozen=True, slots=True)
class Leaf:
    """A piece of text or a drawing on a page, with the box that holds it.

    Args:
        page: page, counted from 0 [-].
        text: the text; empty for a drawing.
        left, top, right, bottom: its edges from the paper's top left [mm].
        box: left, top, right, bottom of the content of its container [mm].
        pt: type size; 0 for a drawing [pt].
        classes: class names of the element and its ancestors, nearest first.
        margin: whether it stands in a page margin (running head or foot).
    """

    page: int
    text: str
    left: float
    top: float
    right: float
    bottom: float
    box: tuple[float, float, float, float]
    pt: float
    classes: tuple[str, ...]
    margin: bool


@dataclass(slots=True)
class Survey:
    """What was found on the pages.

    Args:
        pages: number of pages [-].
        sections: first and last page of each section, counted from 0 [-].
        fill: lowest edge of each page's content [mm].
        leaves: all text and drawings.
    """

    pages: int = 0
    sections: dict[str, tuple[int, int]] = field(default_factory=dict)
    fill: list[float] = field(default_factory=list)
    leaves: list[Leaf] = field(default_factory=list)

    def pages_of(self, section: str) -> int:
        """Number of pages on which a section stands [-]."""
        first, last = self.sections.get(section, (0, -1))
        return last - first + 1


def survey(document: Any) -> Survey:
    """Walk the box tree of a laid-out document."""
    out = Survey(len(document.pages))
    for number, page in enumerate(document.pages):
        out.fill.append(0.0)
        _walk(page._page_box, number, (0, 0, 0, 0), (), False, out)
    return out


def _content(box: Any) -> tuple[float, float, float, float]:
    """Edges of the content of a box [px]."""
    left, top = box.content_box_x(), box.content_box_y()
    return left, top, left + box.width, top + box.height


def _walk(
    box: Any,
    page: int,
    place: tuple[float, float, float, float],
    classes: tuple[str, ...],
    margin: bool,
    out: Survey,
) -> None:
    """Collect the leaves below a box."""
    box = getattr(box, "_box", box)
    kind = type(box).__name__
    if kind in ("TextBox", "BlockReplacedBox", "InlineReplacedBox"):
        _leaf(box, kind, page, place, classes, margin, out)
        return
    element = box.element
    if element is not None and kind not in ("LineBox", "PageBox"):
        classes = _classes(element, classes)
        if element.tag == "section" and element.get("id"):
            first, _ = out.sections.get(element.get("id"), (page, page))
            out.sections[element.get("id")] = (first, page)
    if kind == "MarginBox":
        margin = True
    if kind in ("BlockBox", "TableCellBox", "InlineBlockBox", "MarginBox"):
        place = _content(box)
    for child in box.children:
        _walk(child, page, place, classes, margin, out)


def _classes(element: Any, known: tuple[str, ...]) -> tuple[str, ...]:
    """Put an element's class names and tag before those of its ancestors."""
    names = (*element.get("class", "").split(), str(element.tag))
    return known if known[: len(names)] == names else names + known


def _leaf(
    box: Any,
    kind: str,
    page: int,
    place: tuple[float, float, float, float],
    classes: tuple[str, ...],
    margin: bool,
    out: Survey,
) -> None:
    """Note one piece of text or one drawing."""
    text = box.text if kind == "TextBox" else ""
    if kind == "TextBox" and not text.strip():
        return
    # The trailing space of a wrapped line hangs out of its box without being printed.
    width = box.width if kind == "TextBox" else box.margin_width()
    height = box.height if kind == "TextBox" else box.margin_height()
    left, top = box.position_x * PX, box.position_y * PX
    leaf = Leaf(
        page,
        text,
        left,
        top,
        left + width * PX,
        top + height * PX,
        (place[0] * PX, place[1] * PX, place[2] * PX, place[3] * PX),
        box.style["font_size"] * 0.75 if kind == "TextBox" else 0.0,
        classes,
        margin,
    )
    out.leaves.append(leaf)
    if not margin:
        out.fill[page] = max(out.fill[page], leaf.bottom)


def faults(found: Survey, width: float, height: float, bottom: float, card: str) -> list[Problem]:
    """Return one problem per piece that leaves its box, the paper's safe area, or its type floor.

    Args:
        found: the survey.
        width, height: paper [mm].
        bottom: margin below the content [mm].
        card: name of the card [-].
    """
    alone = [problem for leaf in found.leaves for problem in _faults_of(leaf, width, height, bottom, card)]
    return alone + [
        Problem(
            "clipped",
            f"{_name(one)} and {_name(other)} are printed over each other",
            f"{card}, face {one.page + 1}",
        )
        for one, other in _overlaps(found.leaves)
    ]


def _overlaps(leaves: list[Leaf]) -> Iterator[tuple[Leaf, Leaf]]:
    """Pairs of pieces on the same page whose inner boxes meet.

    The boxes of lines set closely reach into each other without any ink doing so; so only the
    middle half of each height counts.
    """
    order = sorted(leaves, key=lambda leaf: (leaf.page, leaf.top))
    for n, one in enumerate(order):
        rest = (one.bottom - one.top) / 4
        for other in order[n + 1 :]:
            inner = (other.bottom - other.top) / 4
            if other.page != one.page or other.top > one.bottom:
                break
            if (
                other.top + inner < one.bottom - rest
                and one.top + rest < other.bottom - inner
                and min(one.right, other.right) - max(one.left, other.left) > SLACK
            ):
                yield one, other


def _name(leaf: Leaf) -> str:
    """Name a piece for people."""
    return repr(leaf.text[:50]) if leaf.text else f"the drawing in {' '.join(leaf.classes[:1])}"


def _faults_of(leaf: Leaf, width: float, height: float, bottom: float, card: str) -> Iterator[Problem]:
    where = f"{card}, face {leaf.page + 1}"
    name = _name(leaf)
    left, top, right, low = leaf.box
    over = max(left - leaf.left, leaf.right - right)
    if over > SLACK:
        yield Problem("clipped", f"{name} is {over:.1f} mm wider than its place", where)
    floor = height - bottom if not leaf.margin else low
    if leaf.bottom - floor > SLACK or (leaf.margin and top - leaf.top > SLACK):
        over = max(leaf.bottom - floor, top - leaf.top if leaf.margin else 0)
        yield Problem("clipped", f"{name} is {over:.1f} mm higher than its place", where)
    edge = min(leaf.left, leaf.top, width - leaf.right, height - leaf.bottom)
    if edge < SAFE - SLACK:
        yield Problem("margin", f"{name} comes within {edge:.1f} mm of the paper edge, under {SAFE:g}", where)
    if leaf.text and leaf.pt < _floor(leaf) - EPSILON_PT:
        yield Problem("small-type", f"{name} is set in {leaf.pt:.1f} pt, under {_floor(leaf):g}", where)


def _floor(leaf: Leaf) -> float:
    """Smallest type size allowed for a piece of text [pt]."""
    names = leaf.classes
    if leaf.margin or "note" in names:
        return FLOORS["note"]
    if names[:1] in (("h1",), ("h2",), ("h3",)) or "signal" in names:
        return FLOORS["head"]
    if names[:1] == ("b",) and "keys" in names:
        return FLOORS["key"]
    if names[:1] == ("small",) or "th" in names or "td" in names or "small" in names:
        return FLOORS["table"]
    return FLOORS["item"]
