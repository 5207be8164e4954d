"""A small shape that has every kind of field, and knows no rig."""

from __future__ import annotations

from typing import Annotated, Literal

from cardgen.units.field import Doc, Fill, Length, Mass
from cardgen.units.record import field, record
from cardgen.units.scalars import Count, Day, Flag, Number


@record
class Wheel:
    """A wheel."""

    load: Annotated[Mass, Doc("what it carries", "scale", "500 lb")]
    side: Annotated[Literal["left", "right"] | None, Doc("side")] = None


@record
class Box:
    """A box that lies somewhere."""

    name: Annotated[str, Doc("name on the lid")]
    weight: Annotated[Mass | None, Doc("its weight", "household scale")] = None
    places: Annotated[tuple[Length, ...], Doc("where it may lie")] = ()


@record
class Cart:
    """A hand cart."""

    name: Annotated[str, Doc("name", example="Barrow")]
    kind: Annotated[Literal["flat", "high"], Doc("how it is built")]
    wheel: Annotated[Wheel | None, Doc("its wheel")] = None
    frame: Annotated[Box, Doc("its frame")] = field(default_factory=lambda: Box(name="frame"))
    boxes: Annotated[tuple[Box, ...], Doc("boxes aboard")] = ()
    tubs: Annotated[dict[str, Fill], Doc("fill of each tub")] = field(default_factory=dict)
    spares: Annotated[dict[str, Wheel], Doc("spare wheels")] = field(default_factory=dict)
    words: Annotated[dict[str, str], Doc("words")] = field(default_factory=dict)
    axles: Annotated[Count, Doc("axles")] = 1
    painted: Annotated[Flag, Doc("painted")] = False
    bought: Annotated[Day | None, Doc("day it was bought")] = None
    gain: Annotated[Number | None, Doc("a plain number")] = None
    note: Annotated[str | None, Doc("a note")] = None
