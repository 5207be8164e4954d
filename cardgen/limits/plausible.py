"""Statements that contradict each other or that nobody would expect: asked about, never passed upon."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from cardgen.model.results import Need
from cardgen.model.rig import Rig
from cardgen.model.sense.against import CONTRADICTIONS
from cardgen.tables.exact import POUND
from cardgen.units import Quantity

DRIVER = 40.0
"""Weight under which the heaviest person of a rig is asked about [kg]; a project choice, no source."""
PERSON = 15.0
"""Weight under which any person is asked about [kg]; a project choice, no source."""
GAS_SHARE = (0.36, 0.56)
"""Share of a gas cylinder's water capacity that its nominal size may be [-]; LP gas is filled to about 42 % of it
by weight in the US and up to about 51 % for butane; from memory, widened."""
AXLES = ("vehicle_front_axle", "vehicle_rear_axle", "front_a", "rear_a")
PEOPLE = ("vehicle_weight", "placard_used", "combination_weight", *AXLES)
TRAILER = ("trailer_weight", "tongue_weight", "combination_weight", "axle_", "vehicle_weight", "placard_used")


@dataclass(frozen=True, slots=True)
class Doubt:
    """A field that is doubted.

    Args:
        path: the field [-].
        words: what speaks against it [-].
        figures: beginnings of the ids of figures that it decides; empty for a rating, which is found by path [-].
    """

    path: str
    words: str
    figures: tuple[str, ...] = ()

    def touches(self, path: str, figures: Iterable[str]) -> bool:
        """Whether a check of a rating's field and of figures rests on the doubted field."""
        return path == self.path or any(name.startswith(self.figures) for name in figures if self.figures)

    @property
    def need(self) -> Need:
        """What to do about it."""
        return Need(self.path, f"read it again: {self.words}; if it is right, write it with its +/-")


def doubts(rig: Rig) -> tuple[Doubt, ...]:
    """List what is doubted in a rig; a figure written with its ``+/-`` was looked at and is believed.

    Args:
        rig: the rig.
    """
    return (*_contradictions(rig), *_people(rig), *_cylinders(rig))


def _asked(quantity: Quantity | None) -> bool:
    return quantity is not None and quantity.half_width is None


def _contradictions(rig: Rig) -> Iterator[Doubt]:
    for one in CONTRADICTIONS:
        words = "" if one.code else one.told(rig)
        if words:
            yield from (Doubt(field, words, one.figures) for field in one.fields)


def _people(rig: Rig) -> Iterator[Doubt]:
    weights = [person.weight.si for person in rig.occupants if person.weight is not None]
    for index, person in enumerate(rig.occupants):
        weight = person.weight
        if weight is None or not _asked(weight):
            continue
        if weight.si < PERSON or (weight.si == max(weights) and weight.si < DRIVER):
            yield Doubt(f"occupants[{index}].weight", f"'{weight.text}' for a person", PEOPLE)


def _cylinders(rig: Rig) -> Iterator[Doubt]:
    for name, cylinder in rig.trailer.cylinders.items():
        size, water = cylinder.size, cylinder.water_capacity
        if size is None or water is None or not _asked(water) or not water.si > 0:
            continue
        if not GAS_SHARE[0] <= size.si / water.si <= GAS_SHARE[1]:
            words = f"water capacity '{water.text}' does not go with a size of '{size.text}'"
            yield Doubt(f"trailer.cylinders.{name}.water_capacity", words, TRAILER)


def odd_unit(rig: Rig, limit: Quantity | float | None, demand: float | None, path: str) -> Doubt | None:
    """Doubt a US rating in round kilograms where the same number of pounds would be exceeded.

    A plate there states pounds, with kilograms beside them that are not round; so round kilograms may
    be pounds with the wrong unit. Asked only where the difference decides.

    Args:
        rig: the rig.
        limit: the rating [kg].
        demand: what it is held against [kg].
        path: field of the rating [-].
    """
    if rig.market != "us" or not isinstance(limit, Quantity) or demand is None or not _asked(limit):
        return None
    round_kg = abs(limit.si / 50.0 - round(limit.si / 50.0)) < 1e-9
    pounds = limit.si / POUND
    of_pounds = abs(pounds - round(pounds / 50.0) * 50.0) < 1.2
    if not limit.text.lower().endswith("kg") or not round_kg or of_pounds or demand <= limit.si * POUND:
        return None
    return Doubt(path, f"'{limit.text}' are round kilograms, where plates of the market state pounds")
