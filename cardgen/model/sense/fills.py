"""Fills that no tank takes, and quantities that can be read in two ways."""

from __future__ import annotations

import re
from collections.abc import Mapping

from cardgen.model.sense.context import Look, si
from cardgen.source.faults import Path
from cardgen.units.parse import parse
from cardgen.units.quantity import Quantity, UnitError

_BARE = re.compile(r"(?<!US )(?<!imp )\bgal\b")
_POINT = re.compile(r"(?<![\d,])([1-9]\d{0,2})\.(\d{3})(?=\s*(?:kg|lb|lbs|pounds?)\b)")
_ROUND = 1e-6


def _fill(look: Look, path: Path, fill: Quantity | None, capacity: Quantity | None, gas: bool) -> None:
    if fill is None or not fill.text:
        return
    if gas and fill.kind == "volume":
        words = f"'{fill.text}' is a volume, but gas is counted as a share of a full cylinder"
        look.say("fill-kind", path, words, "write a share such as 'full' or '50 %'")
    elif fill.kind == "fraction" and fill.si > 1 + _ROUND:
        look.say("fill-above", path, f"'{fill.text}' is more than full", "write 100 % or less")
    elif fill.kind == "volume" and fill.si > si(capacity) * (1 + _ROUND) and capacity:
        words = f"'{fill.text}' is more than the capacity '{capacity.text}'"
        look.say("fill-above", path, words, "check the two volumes")


def fills(look: Look) -> None:
    """Fills above capacity, and gas given as a volume."""
    rig, trailer = look.rig, look.rig.trailer
    states: list[tuple[Path, Mapping[str, Quantity], Mapping[str, Quantity]]] = [
        (("cases", i), case.tanks, case.cylinders) for i, case in enumerate(rig.cases)
    ]
    includes = trailer.empty.includes
    states.append((("trailer", "empty", "includes"), includes.tanks, includes.cylinders))
    for path, tanks, cylinders in states:
        for name, fill in tanks.items():
            tank = trailer.tanks.get(name)
            _fill(look, (*path, "tanks", name), fill, tank.capacity if tank else None, False)
        for name, fill in cylinders.items():
            _fill(look, (*path, "cylinders", name), fill, None, True)
    capacity = rig.vehicle.fuel.capacity if rig.vehicle.fuel else None
    for index, case in enumerate(rig.cases):
        _fill(look, ("cases", index, "fuel"), case.fuel, capacity, False)
    fuel = rig.vehicle.curb.includes.fuel
    _fill(look, ("vehicle", "curb", "includes", "fuel"), fuel, capacity, False)


def gallons(look: Look) -> None:
    """A plain 'gal' outside the United States, where it could be either gallon."""
    if look.rig.market == "us" or not look.sure("market"):
        return
    for path, quantity in look.quantities:
        if quantity.kind == "volume" and _BARE.search(quantity.text):
            us = _BARE.sub("US gal", quantity.text)
            imperial = _BARE.sub("imp gal", quantity.text)
            words = f"'{quantity.text}' may be US or imperial gallons, which differ by a fifth"
            look.say("gallon-bare", path, words, f"write '{us}' or '{imperial}'")


def points(look: Look) -> None:
    """A weight with three decimals, where the point may stand for thousands."""
    for path, quantity in look.quantities:
        found = _POINT.search(quantity.text) if quantity.kind == "mass" else None
        if found:
            whole, short = found[1] + found[2], f"{found[1]}.{found[2]}".rstrip("0").rstrip(".")
            short += "0" if len(short.partition(".")[2]) == 3 else ""  # three decimals are what is refused
            large = _POINT.sub(whole, quantity.text)
            small = _POINT.sub(short if "." in short else f"{short}.0", quantity.text)
            words = f"the point in '{quantity.text}' may mean thousands or decimals"
            look.say("thousands-point", path, words, f"write '{large}' or '{small}'")


_POSITIVE = ("gvwr", "gcwr", "gtm", "max_load", "max_load_dual", "max_load_at", "diameter", "water_capacity")
"""Last steps of fields that no rig has at zero."""


def zeros(look: Look) -> None:
    """Ratings and sizes of zero, and D values that are zero or cannot be read."""
    hint = "read it again, or write 'unknown'"
    for path, quantity in look.quantities:
        if path[-1] in _POSITIVE and quantity.si == 0.0:
            look.say("quantity-zero", path, f"'{quantity.text}' is no size or rating", hint)
    receiver = look.rig.vehicle.receiver
    for path, text in (
        (("vehicle", "receiver", "d_value"), receiver.d_value if receiver else None),
        (("trailer", "coupler", "d_value"), look.rig.trailer.coupler.d_value),
    ):
        if text is None or not look.sure(*path):
            continue
        try:
            value = parse(text, "force").si
        except UnitError as fault:
            look.say(fault.code, path, fault.message, fault.hint)
            continue
        if not value > 0:
            look.say("quantity-zero", path, f"'{text}' is no rating", hint)


CHECKS = (fills, gallons, points, zeros)
