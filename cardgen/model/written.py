"""In which units a rig is written: the one rule, for everything that is printed."""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Iterator, Mapping

from cardgen.model.rig import Rig
from cardgen.source.faults import Path
from cardgen.tables.words import units as market_units
from cardgen.units import Quantity, System
from cardgen.units.show import STYLES, Base, Mixed, style_named

ROAD = ("speed", "distance")
"""Kinds that stand on the signs of the road, which no wish changes."""


def units_of(rig: Rig, asked: Base | None = None) -> System:
    """Choose the units of every kind.

    Speed and distance are those of the road signs. Every other kind is in the system asked for,
    else in that of ``preferences.units``, else in the unit that the file writes oftenest for the
    kind; where it writes none, or two as often, in the market's. Pressures of the trailer and of the vehicle are each
    in the unit of the label or placard there: a trailer's may say psi where the vehicle's says kPa.

    Args:
        rig: the rig.
        asked: ``us`` or ``metric`` of the command line; None leaves it to the rig [-].
    """
    home = market_units(rig.market)
    wish = asked or rig.preferences.units
    base: Base = "us" if (wish or home["base"]) == "us" else "metric"
    other = dict.fromkeys(ROAD, home["road"])
    if wish is None or (wish == home["base"] and "pressure" in home):
        other |= {"pressure": home.get("pressure", base)}
    if wish is None:
        other |= {kind: named for kind, named in _oftenest(rig) if kind not in ROAD}
        for name, label in (("trailer", rig.trailer.tire_pressure), ("vehicle", rig.vehicle.placard.front)):
            own = style_named("pressure", label.unit) if label is not None else ""
            other |= {f"pressure {name}": own} if own not in ("", other.get("pressure", base)) else {}
    if other.get("volume", base) == "us" and home["base"] != "us":
        other["volume"] = "US gal"  # where a gallon could be another one
    return Mixed(base, other)


def _oftenest(rig: Rig) -> Iterator[tuple[str, str]]:
    """Kinds with the name in ``STYLES`` that the file uses more often than any other."""
    counted: dict[str, Counter[str]] = {kind: Counter() for kind in STYLES["us"]}
    for _, quantity in quantities(rig):
        if named := style_named(quantity.kind, quantity.unit):
            counted[quantity.kind][named] += 1
    for kind, votes in counted.items():
        first = votes.most_common(2)
        if first and (len(first) == 1 or first[0][1] > first[1][1]):
            yield kind, first[0][0]


def quantities(value: object, path: Path = ()) -> Iterator[tuple[Path, Quantity]]:
    """Every quantity in a rig or a part of one, with the fields and places that lead to it.

    Args:
        value: a record, or what stands in a field of one.
        path: what leads to it [-].
    """
    if isinstance(value, Quantity):
        yield path, value
    elif isinstance(value, Mapping):
        for name, inner in value.items():
            yield from quantities(inner, (*path, name))
    elif isinstance(value, tuple):
        for index, inner in enumerate(value):
            yield from quantities(inner, (*path, index))
    elif dataclasses.is_dataclass(value):
        for item in dataclasses.fields(value):
            yield from quantities(getattr(value, item.name), (*path, item.name))
