"""Stand-ins for values that could not be read, so that the rest can still be checked.

A rig with a stand-in in it is never handed out: it only serves to find further faults.
"""

from __future__ import annotations

import datetime as dt
import math

from cardgen.source.shapes import Shape, slots_of
from cardgen.units.field import Kind
from cardgen.units.quantity import Quantity


def stand_in(shape: Shape) -> object:
    """A harmless value of the right type; not-a-number for quantities."""
    if shape.form == "record":
        slots = slots_of(shape.hint).values()
        return {slot.name: stand_in(slot.shape) for slot in slots if slot.required}
    if shape.form == "map":
        return {}
    if shape.form == "list":
        return ()
    if shape.choices:
        return shape.choices[0]
    for mark in shape.extra:
        if isinstance(mark, Kind):
            return Quantity(math.nan, mark.names[0])
    simple: dict[type, object] = {bool: False, int: 0, float: math.nan, dt.date: dt.date.min}
    return simple.get(shape.hint, "")
