"""Readings of one visit to the scale as numbers with their uncertainty.

A reading is good to half a division either way, ``u = division / sqrt(12)``. What the
scale itself may err is taken as one gain for the whole visit, so that it nearly
cancels in differences, as it does on one scale in one hour.

Source: JCGM 100:2008 F.2.2.1 (division), 5.2.2 (common error); NIST Handbook 44, 2.20,
class III L maintenance tolerance (see ``cardgen.tables.scales``).
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from cardgen.model.rig import Rig
from cardgen.model.weighing import Weighing
from cardgen.physics.inputs import Input, Inputs
from cardgen.physics.number import Number, exact
from cardgen.tables import scales
from cardgen.units import Quantity

_METRIC = ("uk", "eu", "au", "nz", "ca")


@dataclass(frozen=True, slots=True)
class Readings:
    """Every reading of a visit that the file gives.

    Args:
        at: reading by name [kg], for example ``slack.front``, ``jack``, ``left 1``; the
            trailer axles of a pass are ``slack.trailer``, added up from single axles if need be.
        lengths: lengths of levers [m]: ``jack_behind_coupler``, ``support_to_jack``, ``jack_to_scale``.
        axles: single trailer axles of each pass, front first [kg].
        wheels: single wheels by name, all of them or none [kg].
        single: every wheel that was read, by name [kg].
        count: axles of the trailer [-].
        bars: whether weight distribution is fitted, so that wheels stand as it is set [-].

    Source: see the module.
    """

    at: Mapping[str, Number]
    lengths: Mapping[str, Number]
    axles: Mapping[str, tuple[Number, ...]] = field(default_factory=dict)
    wheels: Mapping[str, Number] = field(default_factory=dict)
    single: Mapping[str, Number] = field(default_factory=dict)
    bars: bool = False
    count: int = 0

    def get(self, *names: str) -> tuple[Number, ...] | None:
        """Return several readings [kg], or None when one of them was not taken.

        Source: see the module.
        """
        found = [self.at.get(name) for name in names]
        known_ones = tuple(r for r in found if r is not None)
        return known_ones if len(known_ones) == len(found) else None


class _Visit:
    """Turns quantities of one weighing into readings."""

    def __init__(self, rig: Rig, index: int, inputs: Inputs) -> None:
        self.path = f"weighings[{index}]"
        self.weighing = rig.weighings[index]
        self.inputs = inputs
        stated = self.weighing.division
        self.division = scales.scale_division(rig.market in _METRIC).value if stated is None else stated.si
        self.stated = stated is not None
        self.gain = self._gain()

    def _gain(self) -> Number:
        """Common error of the scale as a share of the reading [-], zero and uncertain."""
        passes = (self.weighing.alone, self.weighing.slack, self.weighing.engaged)
        seen = [q.si for p in passes for q in (p.front, p.rear, p.trailer, *p.axles) if q is not None]
        seen += [self.weighing.trailer_alone.si] if self.weighing.trailer_alone else []
        seen += [q.si for q in self.weighing.wheels.values()]
        top = max(seen, default=0.0)
        if top <= 0.0 or self.division <= 0.0:
            return exact(0.0)
        u = scales.scale_tolerance(top, self.division).u / top
        how = "what a vehicle scale in service may err (class III L)"
        return self.inputs.add(
            Input(f"{self.path}.scale", "fraction", 0.0, u, how, "error of the scale, common to the visit")
        )

    def platform(self, name: str, quantity: Quantity | None) -> Number | None:
        """A reading of the vehicle or wheel scale [kg]."""
        if quantity is None:
            return None
        how = "division of the scale" if self.stated else "usual division of a vehicle scale"
        return self._take(name, quantity, scales.division_u(self.division), how) * (self.gain + 1.0)

    def small(self, name: str, quantity: Quantity | None) -> Number | None:
        """A reading of the scale under jack or coupler [kg]."""
        if quantity is None:
            return None
        if self.stated:
            return self._take(name, quantity, scales.division_u(self.division), "division of the scale")
        u = scales.default_spread("tongue", "scale", quantity.si).u
        return self._take(name, quantity, u, "default for a {tongue_scale}")

    def length(self, name: str, quantity: Quantity | None) -> Number | None:
        """A lever's length [m]."""
        if quantity is None:
            return None
        u = scales.default_spread("length", "scale", quantity.si).u
        return self._take(name, quantity, u, "default for a length by tape")

    def _take(self, name: str, quantity: Quantity, u: float, how: str) -> Number:
        if quantity.half_width is not None:
            u, how = quantity.half_width / math.sqrt(3.0), "stated in the rig file"
        path = f"{self.path}.{name}"
        return self.inputs.add(Input(path, quantity.kind, quantity.si, u, how, f"reading, {name}"))


def older(rig: Rig, date: dt.date) -> bool:
    """Whether a weighing was before the newest change of equipment [-].

    Args:
        rig: the rig.
        date: day of the weighing.

    Source: none; what was weighed before a change was another rig.
    """
    changed = rig.dates.equipment_change
    return changed is not None and date < changed


def readings(rig: Rig, index: int, inputs: Inputs) -> Readings:
    """Collect the readings of one weighing.

    Args:
        rig: the rig.
        index: number of the weighing, from 0 [-].
        inputs: where the readings' uncertainties [kg] are kept.

    Source: see the module.
    """
    visit = _Visit(rig, index, inputs)
    weighing = visit.weighing
    at: dict[str, Number | None] = {}
    axles: dict[str, tuple[Number, ...]] = {}
    for state in ("alone", "slack", "engaged"):
        taken = getattr(weighing, state)
        at[f"{state}.front"] = visit.platform(f"{state}.front", taken.front)
        at[f"{state}.rear"] = visit.platform(f"{state}.rear", taken.rear)
        at[f"{state}.trailer"] = visit.platform(f"{state}.trailer", taken.trailer)
        made = [visit.platform(f"{state}.axles[{i}]", q) for i, q in enumerate(taken.axles)]
        axles[state] = tuple(r for r in made if r is not None)
        if at[f"{state}.trailer"] is None and len(axles[state]) == rig.trailer.axles.count:
            at[f"{state}.trailer"] = sum(axles[state], exact(0.0))
    at["trailer_alone"] = visit.platform("trailer_alone", weighing.trailer_alone)
    at["jack"] = visit.small("jack", weighing.jack)
    at["coupler"] = visit.small("coupler", weighing.coupler)
    lengths = {"jack_behind_coupler": visit.length("jack_behind_coupler", weighing.jack_behind_coupler)}
    lengths |= _beam(visit, weighing, at)
    wheels = _some(
        {name.casefold(): visit.platform(f"wheels.{name}", q) for name, q in weighing.wheels.items()}
    )
    every = {f"{side} {i + 1}" for side in ("left", "right") for i in range(rig.trailer.axles.count)}
    complete = wheels if every <= set(wheels) else {}
    bars = rig.gear.weight_distribution is not None
    return Readings(_some(at), _some(lengths), axles, complete, wheels, bars, rig.trailer.axles.count)


def _beam(visit: _Visit, weighing: Weighing, at: dict[str, Number | None]) -> dict[str, Number | None]:
    beam = weighing.beam
    if beam is None:
        return {}
    at["beam.reading"] = visit.small("beam.reading", beam.reading)
    at["beam.beam_only"] = visit.small("beam.beam_only", beam.beam_only)
    return {
        "support_to_jack": visit.length("beam.support_to_jack", beam.support_to_jack),
        "jack_to_scale": visit.length("beam.jack_to_scale", beam.jack_to_scale),
    }


def _some(found: Mapping[str, Number | None]) -> dict[str, Number]:
    return {name: number for name, number in found.items() if number is not None}
