"""A computed value with everything needed to check it by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from cardgen.model.needs import Need

COVERAGE = 2.0
"""Coverage factor of expanded uncertainty [-]; JCGM 100:2008 6.2, about 95 %."""


@dataclass(frozen=True, slots=True)
class Term:
    """One number put into a formula, SI, with the field or figure it comes from."""

    symbol: str
    label: str
    value: float
    kind: str
    path: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """A computed value with everything needed to check it by hand.

    Args:
        id: stable name, for example ``tongue_weight`` [-].
        label: words for people [-].
        kind: kind of quantity, which fixes the SI unit [-].
        value: result [SI unit of the kind], None when something is missing.
        formula: the equation in symbols [-].
        terms: numbers put in [SI units of their kinds].
        source: where the formula comes from [-].
        u: standard uncertainty [SI unit of the kind], None when unknown.
        needs: what is missing when ``value`` is None.
        partial: what the known parts of a sum give when ``value`` is None [SI unit of the kind].
        low, high: ends when only a range is known [SI unit of the kind]; ``value``
            is then the end that is worst, or its middle where either may be. Beside ``partial``
            those that loads of known weight and unknown place leave open.
        weighed: day on which a scale read it in this very loading case; None when computed.
        rival: value by the rig file alone and its standard uncertainty [SI unit of the kind],
            where it lies further from ``value`` than both explain: the worse of the two counts.
    """

    id: str
    label: str
    kind: str
    value: float | None
    formula: str
    terms: tuple[Term, ...] = ()
    source: str = ""
    u: float | None = None
    needs: tuple[Need, ...] = ()
    partial: float | None = None
    low: float | None = None
    high: float | None = None
    weighed: dt.date | None = None
    rival: tuple[float, float] | None = None

    @property
    def expanded(self) -> float:
        """Expanded uncertainty [SI unit of the kind]; nothing is added while ``u`` is unknown."""
        return COVERAGE * (self.u or 0.0)
