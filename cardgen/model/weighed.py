"""What a visit to the scale tells: solved figures, other ways to the same figure, comparison."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from cardgen.model.figure import Figure
from cardgen.model.needs import Need


@dataclass(frozen=True, slots=True)
class Comparison:
    """A weighed figure beside the one computed from the file for the same case.

    Args:
        id: id of the figure [-].
        label: words for people [-].
        kind: kind of the figure, which fixes its SI unit [-].
        measured: from the scale readings [SI].
        computed: from the rig file, before any anchoring [SI].
        u_difference: standard uncertainty of ``measured - computed`` [SI].
        agrees: whether the two differ by no more than twice that.
    """

    id: str
    label: str
    kind: str
    measured: float
    computed: float
    u_difference: float
    agrees: bool

    @property
    def difference(self) -> float:
        """Measured less computed [SI unit of the kind]."""
        return self.measured - self.computed


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Two ways to one figure that differ by more than their uncertainty.

    Args:
        id: id of the figure [-].
        label: words for people [-].
        kind: kind of the figure [-].
        first, second: the two results [SI].
        first_way, second_way: how each was found [-].
        u_difference: standard uncertainty of their difference [SI].
    """

    id: str
    label: str
    kind: str
    first: float
    second: float
    first_way: str
    second_way: str
    u_difference: float


@dataclass(frozen=True, slots=True)
class WeighingResult:
    """One visit to the scale, solved.

    Args:
        date: day of the visit.
        case: loading case the rig was in [-].
        figures: best estimate of each figure by id, with uncertainty.
        ways: every way the readings give a figure, by id, the best first.
        disagreements: pairs of ways that do not agree.
        comparisons: each weighed figure beside the computed one.
        unexplained: mass the scale found and the file does not list [kg]; None when unknown.
        unexplained_tongue: tongue weight likewise [kg].
        implied_x: where such a mass would have to sit, behind the coupling [m];
            None when unknown, off the trailer, or when the unexplained mass is within its uncertainty.
        u_unexplained: standard uncertainty of ``unexplained`` [kg].
        anchors: ids of the totals whose base this weighing sets [-].
        missing: readings that would tell more, the path and what they would tell.
    """

    date: dt.date
    case: str
    figures: Mapping[str, Figure]
    ways: Mapping[str, tuple[Figure, ...]]
    disagreements: tuple[Disagreement, ...] = ()
    comparisons: tuple[Comparison, ...] = ()
    unexplained: float | None = None
    unexplained_tongue: float | None = None
    implied_x: float | None = None
    u_unexplained: float | None = None
    anchors: tuple[str, ...] = ()
    missing: tuple[Need, ...] = ()
