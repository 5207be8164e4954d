"""Checks of meaning: what is well written but cannot be true, each with its place."""

from __future__ import annotations

from collections.abc import Callable

from cardgen.model.rig import Rig
from cardgen.model.sense import fills, geometry, hitch, names, tires, weights, wishes
from cardgen.model.sense.context import Look
from cardgen.source.faults import Fault
from cardgen.source.tree import Tree

CHECKS: tuple[Callable[[Look], None], ...] = (
    *weights.CHECKS,
    *geometry.CHECKS,
    *names.CHECKS,
    *hitch.CHECKS,
    *fills.CHECKS,
    *tires.CHECKS,
    *wishes.CHECKS,
)


def sense(rig: Rig, tree: Tree, holes: frozenset[str] = frozenset()) -> list[Fault]:
    """Run every check of meaning on a rig.

    Args:
        rig: the rig, possibly with stand-ins for what could not be read.
        tree: the data it came from, with the place of every node.
        holes: dotted paths of the stand-ins and of what was left out.
    """
    look = Look(rig, tree, holes)
    for check in CHECKS:
        check(look)
    return look.faults
