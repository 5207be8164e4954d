"""Judge a laid-out card: text out of its box, over other text, near the edge, or too small."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.render.problems import Problem
from cardgen.render.sizes import SAFE, Size
from cardgen.render.survey import Piece, Survey

SLACK = 0.25  # mm that rounding and side bearings may take
BELOW = 0.12  # share of a text's height by which tightly set lines leave their box
EPSILON_PT = 0.01
FLOORS = {"critical": 12.25, "item": 9.0, "head": 10.75, "key": 11.0, "table": 8.5, "note": 8.0}
"""Least type sizes [pt]."""


def faults(found: Survey, size: Size, card: str) -> list[Problem]:
    """Return what is wrong with the pages.

    Args:
        found: where everything lies.
        size: card size.
        card: name of the card [-].
    """
    alone = [problem for leaf in found.leaves for problem in _faults_of(leaf, size, card)]
    edges = [problem for frame in found.frames for problem in _near_edge(frame, size, card)]
    over = [
        Problem(
            "clipped",
            f"{_name(one)} and {_name(other)} are printed over each other",
            _where(one, card),
        )
        for one, other in _overlaps(found.leaves)
    ]
    return alone + edges + over


def _overlaps(leaves: Sequence[Piece]) -> Iterator[tuple[Piece, Piece]]:
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


def _where(leaf: Piece, card: str) -> str:
    return f"{card}, face {leaf.page + 1}"


def _name(leaf: Piece) -> str:
    """Name a piece for people."""
    if leaf.text:
        return repr(leaf.text[:50])
    return f"the drawing or frame of {'.'.join(leaf.classes[:1]) or 'the page'}"


def _faults_of(leaf: Piece, size: Size, card: str) -> Iterator[Problem]:
    """Faults of one piece of text or one drawing."""
    where, name = _where(leaf, card), _name(leaf)
    left, top, right, low = leaf.box
    over = max(left - leaf.left, leaf.right - right)
    if over > SLACK:
        yield Problem("clipped", f"{name} is {over:.1f} mm wider than its place", where)
    floor = low if leaf.margin else size.height - size.bottom
    if leaf.lowest is not None:
        floor = min(floor, leaf.lowest + BELOW * (leaf.bottom - leaf.top))
    under = max(leaf.bottom - floor, top - leaf.top if leaf.margin else 0.0)
    if under > SLACK:
        yield Problem("clipped", f"{name} is {under:.1f} mm higher than its place", where)
    yield from _near_edge(leaf, size, card)
    least = _floor(leaf)
    if leaf.text and leaf.pt < least - EPSILON_PT:
        yield Problem("small-type", f"{name} is set in {leaf.pt:.1f} pt, under {least:g}", where)


def _near_edge(leaf: Piece, size: Size, card: str) -> Iterator[Problem]:
    """Yield a fault when a piece comes too near the paper edge."""
    edge = min(leaf.left, leaf.top, size.width - leaf.right, size.height - leaf.bottom)
    if edge < SAFE - SLACK:
        yield Problem(
            "margin",
            f"{_name(leaf)} comes within {edge:.1f} mm of the paper edge, under {SAFE:g}",
            _where(leaf, card),
        )


def _floor(leaf: Piece) -> float:
    """Smallest type size allowed for a piece of text [pt]."""
    names = leaf.classes
    if "critical" in names or "ban" in names:
        return FLOORS["critical"]
    if leaf.margin or "note" in names:
        return FLOORS["note"]
    if "small" in names:
        return FLOORS["table"]
    if names[:1] in (("h1",), ("h2",), ("h3",)) or "signal" in names:
        return FLOORS["head"]
    if "value" in names and "keys" in names:
        return FLOORS["key"]
    return FLOORS["table"] if "th" in names or "td" in names else FLOORS["item"]
