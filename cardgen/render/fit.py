"""Choose type sizes: the largest that fit, never under the floor.

Fixed faces get the largest size at which their blocks stay on one page. What does not fit at
the floor flows to a further face. Flowing content gets the largest size that needs no more
faces than the floor does. The number of faces is even: ruled lines fill the rest.
"""

from __future__ import annotations

from dataclasses import replace

from cardgen.present.blocks import Card
from cardgen.render.html import Plan
from cardgen.render.sizes import Size, TypeRange
from cardgen.render.survey import Survey


def type_range(size: Size, large_print: bool) -> TypeRange:
    """Return the type sizes to try."""
    return size.large if large_print else size.type


def first_plan(card: Card, size: Size, large_print: bool) -> Plan:
    """Return the plan to try first."""
    sizes = type_range(size, large_print)
    return Plan((sizes.largest,) * len(card.faces), sizes.largest)


def repair(card: Card, size: Size, large_print: bool, plan: Plan, found: Survey) -> Plan | None:
    """Return a better plan after looking at a layout; None when nothing is left to do."""
    sizes = type_range(size, large_print)
    faces = tuple(
        max(sizes.floor, pt - sizes.step) if found.pages_of(f"face{n}") > 1 else pt
        for n, pt in enumerate(plan.faces, 1)
    )
    flow = plan.flow
    if card.flow and found.pages_of("flow") > 1:
        flow = max(sizes.floor, flow - sizes.step)
    notes = plan.notes
    if (faces, flow) == (plan.faces, plan.flow) and found.pages % 2:
        notes = 0 if plan.notes else _lines(size)
    better = replace(plan, faces=faces, flow=flow, notes=notes)
    return better if better != plan else None


def _lines(size: Size) -> int:
    """Ruled lines that a face of its own holds [-]."""
    return int((size.text_height(False) - 8) / 8)
