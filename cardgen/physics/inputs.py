"""The uncertain inputs of a rig: what each is, how sure, and where that comes from.

A stated half-width ``a`` is taken as rectangular, ``u = a / sqrt(3)``; what states
none gets the default of its kind of evidence (``cardgen.tables.scales``), which the
report prints as an assumption.

Source: JCGM 100:2008 4.3.7 (rectangular), 5.1.2 (propagation).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from cardgen.model.ranges import Contribution
from cardgen.physics.needs import need
from cardgen.physics.number import Number, unknown
from cardgen.tables import scales
from cardgen.units import Quantity

Sort = Literal[
    "trailer", "tongue", "vehicle", "side", "item", "cargo", "person", "volume", "stamp", "size",
    "place", "cargo place", "length", "fill", "restoration", "moment", "height", "rate",
]  # fmt: skip
"""What an input is, which picks its default."""

_DEFAULTS: dict[Sort, tuple[scales.Kind, scales.Evidence, str]] = {
    "side": ("mass", "scale", "difference of two sides"),
    "item": ("mass", "label", "weight of a fitted item"),
    "cargo": ("mass", "estimate", "weight of cargo"),
    "person": ("mass", "label", "weight of a person"),
    "volume": ("mass", "brochure", "content of a full tank"),
    "stamp": ("mass", "scale", "stamped weight"),
    "size": ("mass", "brochure", "nominal size"),
    "place": ("position", "label", "place of a fitted item"),
    "cargo place": ("position", "brochure", "place of cargo"),
    "length": ("length", "label", "length by tape"),
    "fill": ("fill", "estimate", "filling read from a gauge"),
    "restoration": ("fill", "estimate", "setting of the bars"),
    "moment": ("mass", "estimate", "moment of the bars"),
    "height": ("length", "scale", "height by tape"),
    "rate": ("mass", "estimate", "spring rate"),
}
"""Default by sort: row of ``cardgen.tables.scales`` and what it is called."""

_STATED: dict[Sort, tuple[scales.Kind, str]] = {
    "trailer": ("mass", "empty weight"),
    "tongue": ("tongue", "empty {coupling_load}"),
    "vehicle": ("mass", "{curb}"),
}
"""Sorts whose evidence the rig file states."""


_NOTHING: tuple[Sort, ...] = ("item", "cargo", "person", "stamp")
"""Sorts for which a stated zero means that there is nothing."""


@dataclass(frozen=True, slots=True)
class Origin:
    """The field a number comes from.

    Args:
        path: field path [-].
        quantity: the number with its stated half-width [SI].
        sort: what it is, which picks the default uncertainty [-].
        label: words for people [-]; the field's own when empty.

    Source: the rig file.
    """

    path: str
    quantity: Quantity
    sort: Sort
    label: str = ""


@dataclass(frozen=True, slots=True)
class Input:
    """An input and its standard uncertainty.

    Args:
        path: field path [-].
        kind: kind of the quantity [-].
        value: the input [SI unit of its kind].
        u: standard uncertainty [SI unit of its kind].
        how: stated or default, in words [-].
        label: words for people [-].

    Source: JCGM 100:2008 4.3.
    """

    path: str
    kind: str
    value: float
    u: float
    how: str
    label: str = ""


class Inputs:
    """All inputs that were used, by path.

    Source: JCGM 100:2008 5.1.2, uncorrelated inputs; what two figures share they share by path.
    """

    def __init__(
        self, trailer: scales.Evidence | None = None, vehicle: scales.Evidence | None = None
    ) -> None:
        """Start empty; trailer and vehicle say how their stated weights were found [-]."""
        self._known: dict[str, Input] = {}
        self._taken: dict[str, tuple[Quantity, Number]] = {}
        self._evidence = {"trailer": trailer, "tongue": trailer, "vehicle": vehicle}

    def take(self, origin: Origin) -> Number:
        """Return an input as a number and remember its uncertainty [SI unit of its kind].

        Source: JCGM 100:2008 4.3.7.
        """
        quantity, path = origin.quantity, origin.path
        before = self._taken.get(path)
        if before is not None and before[0] is quantity:
            return before[1]
        u, how = self._spread(origin)
        self._known[path] = Input(path, quantity.kind, quantity.si, u, how, origin.label)
        number = Number(quantity.si, quantity.si, {path: 1.0})
        self._taken[path] = (quantity, number)
        return number

    def field(self, path: str, quantity: Quantity | None, sort: Sort, label: str = "") -> Number:
        """Return a field of the rig file as a number [SI unit of its kind]; what is missing when absent.

        Source: see ``take``.
        """
        return unknown(need(path)) if quantity is None else self.take(Origin(path, quantity, sort, label))

    def stated(self, path: str) -> Input | None:
        """Return the input of a field that was used [SI unit of its kind]; None for any other.

        Args:
            path: field path [-].

        Source: see ``take``.
        """
        return self._known.get(path)

    def copy(self) -> Inputs:
        """Return a copy that can take other inputs under the same paths [-]; source: none."""
        made = Inputs()
        made._known, made._taken, made._evidence = dict(self._known), dict(self._taken), self._evidence
        return made

    def add(self, made: Input) -> Number:
        """Put in an input that is no field, for example the gain of a scale [SI]; source: its ``how``."""
        self._known[made.path] = made
        return Number(made.value, made.value, {made.path: 1.0})

    def _spread(self, origin: Origin) -> tuple[float, str]:
        quantity = origin.quantity
        if quantity.half_width is not None:
            return quantity.half_width / math.sqrt(3.0), "stated in the rig file"
        if quantity.si == 0.0 and origin.sort in _NOTHING:
            return 0.0, "stated as none"
        if origin.sort == "fill":
            if quantity.kind == "fraction" and quantity.si in (0.0, 1.0):
                return 0.0, "stated as full or empty"
            if quantity.kind != "fraction":
                spread = scales.default_spread("mass", "estimate", quantity.si)
                return spread.u, "default for a volume put in (estimate)"
        if origin.sort in _STATED:
            kind, words = _STATED[origin.sort]
            evidence = self._evidence[origin.sort]
            shown = evidence or "estimate"
            said = shown if evidence else "source not stated, so taken as an estimate"
            return _weighed(kind, shown, quantity.si), f"default for {words} ({said})"
        kind, evidence, words = _DEFAULTS[origin.sort]
        return _default(kind, evidence, quantity.si), f"default for {words} ({evidence})"

    def u(self, number: Number) -> float:
        """Standard uncertainty of a number [its SI unit].

        ``u^2 = sum((dy/dx)^2 u(x)^2)``.

        Source: JCGM 100:2008 eq. (10), 5.1.2.
        """
        known = self._known
        return math.sqrt(sum((g * known[k].u) ** 2 for k, g in number.by_input.items()))

    def budget(self, number: Number) -> tuple[Contribution, ...]:
        """List what each input adds, largest first [SI units of number and inputs].

        Source: JCGM 100:2008 5.1.2.
        """
        made = []
        for path, slope in number.by_input.items():
            one = self._known[path]
            part = abs(slope) * one.u
            if part > 0.0:
                made.append(
                    Contribution(
                        path, one.label or need(path).what, one.kind, one.value, one.u, slope, part, one.how
                    )
                )
        return tuple(sorted(made, key=lambda c: (-c.part, c.path)))


@cache
def _default(kind: scales.Kind, evidence: scales.Evidence, value: float) -> float:
    return scales.default_spread(kind, evidence, value).u


@cache
def _weighed(kind: scales.Kind, evidence: scales.Evidence, value: float) -> float:
    """Default of a stated weight; a scale's allowed error comes on top of its reading."""
    u = scales.default_spread(kind, evidence, value).u
    if evidence != "scale" or kind != "mass":
        return u
    division = scales.scale_division(metric=False).value
    return math.hypot(u, scales.scale_tolerance(abs(value), division).u)
