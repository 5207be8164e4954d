"""Reach of a figure over all fillings, and the parts its uncertainty is made of."""

from __future__ import annotations

from dataclasses import dataclass, field

from cardgen.model.needs import Need


@dataclass(frozen=True, slots=True)
class Setting:
    """One load in the filling that causes an extreme.

    Args:
        key, label: the load [-].
        share: how much of it is aboard [-], 0 to 1.
        group: loads of one group change together or share a limit [-].
        words: the group's state in words, for example ``fresh tank full`` [-].
        top: change of the figure, or of the numerator of a share, per unit of share [kg].
        bottom: change of the denominator of a share per unit of share [kg], 0 for weights.
    """

    key: str
    label: str
    share: float
    group: str
    words: str
    top: float
    bottom: float = 0.0


@dataclass(frozen=True, slots=True)
class Range:
    """Exact smallest and largest value of a figure over all fillings.

    Args:
        id: id of the figure [-].
        kind: kind of the figure, which fixes its SI unit [-].
        low, high: ends [SI unit of the kind]; None when something is missing.
        low_filling, high_filling: the filling that causes each end; loads that do not
            matter are left out.
        needs: what is missing.
    """

    id: str
    kind: str
    low: float | None
    high: float | None
    low_filling: tuple[Setting, ...] = ()
    high_filling: tuple[Setting, ...] = ()
    needs: tuple[Need, ...] = field(default=())


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one uncertain input adds to the uncertainty of a figure.

    Args:
        path: field path of the input [-].
        label: words for people [-].
        kind: kind of the input, which fixes its SI unit [-].
        value: the input [SI unit of its kind].
        u: standard uncertainty of the input [SI unit of its kind].
        sensitivity: change of the figure per unit of the input [SI per SI].
        part: standard uncertainty it causes, ``|sensitivity| * u`` [SI unit of the figure].
        how: where ``u`` comes from, stated or default [-].
    """

    path: str
    label: str
    kind: str
    value: float
    u: float
    sensitivity: float
    part: float
    how: str
