"""Values that are words: counts, the parts to touch, how tanks pull at the balance."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.checklist.conditions import Value
from cardgen.model.rig import Rig
from cardgen.tables.lamps import lamps_required
from cardgen.units import Quantity, System, show

COUNTED = {
    "stabilizers": ("{stabilizer}", "{stabilizers_all}"),
    "roof_vents": ("roof vent", "roof vents"),
    "slide_outs": ("slide-out", "slide-outs"),
    "outside_hatches": ("outside hatch", "outside hatches"),
    "chocks": ("chock", "chocks"),
}
PLUGS = {
    "4-flat": "4-way flat",
    "5-flat": "5-way flat",
    "6-round": "6-way round",
    "7-blade": "7-way blade",
    "7-round-truck": "7-way round",
    "7-pin-12n": "7-pin",
    "7-flat-au": "7-pin flat",
    "12-flat-au": "12-pin flat",
    "13-pin": "13-pin",
}


def count_words(count: int | None, one: str, many: str) -> str | None:
    """Say a count the way a person does: the vent, both vents, all 3 vents.

    Args:
        count: how many [-]; None or zero gives None.
        one, many: the noun in singular and plural [-].
    """
    if not count:
        return None
    return {1: f"the {one}", 2: f"both {many}"}.get(count, f"all {count} {many}")


def count_values(rig: Rig) -> dict[str, str | None]:
    """The counted equipment of a rig in words, by value name."""
    gear = rig.trailer.features
    made = {name: count_words(getattr(gear, name), *noun) for name, noun in COUNTED.items()}
    cylinders = len(rig.trailer.cylinders)
    made["lp_valves"] = count_words(cylinders, "cylinder valve", "cylinder valves")
    return made


def touch_list(features: Mapping[str, Value]) -> str:
    """The coupling parts of a rig in the order of the hand that touches them.

    Args:
        features: every feature of the rig [-]; a part that may be there is named.
    """
    coupling = {
        "ball": ["latch", "pin"],
        "gooseneck": ["clamp", "pin", "ball"],
        "fifth_wheel": ["jaws", "handle"],
    }
    parts = list(coupling[str(features["coupler"])])
    if features["chains"] != 0:
        parts.append("chain" if features["chains"] == 1 else "chains")
    if features["breakaway"] is not False:
        parts.append("cable")
    parts.append("plug")
    if features["weight_distribution"]:
        parts.append("bars")
    return ", ".join(parts)


def lamp_list(rig: Rig) -> str | None:
    """Lamps and reflectors required by width and length; None when the rule was not read.

    Source: ``cardgen.tables.lamps``.
    """
    size = rig.trailer.dimensions
    width = size.width.si if size.width else None
    length = size.length.si if size.length else None
    plan = lamps_required(width, length, rig.market)
    if plan.lamps is None:
        return None
    parts = [f"{lamp.count} {lamp.does}{'s' if lamp.count > 1 else ''}" for lamp in plan.lamps]
    return ", ".join(parts) + (f" ({plan.reason})" if plan.reason else "")


def fresh_plan(rig: Rig, system: System) -> str | None:
    """How full the fresh tank is in the loading cases; None when any case does not say."""
    names = [name for name, tank in rig.trailer.tanks.items() if tank.holds == "fresh"]
    if len(names) != 1:
        return None
    fills = [case.tanks.get(names[0]) for case in rig.cases]
    words = {_fill_words(fill, system): None for fill in fills if fill is not None}
    if not words or None in fills:
        return None
    return " or ".join(words) + (", by loading case" if len(words) > 1 else "")


def _fill_words(fill: Quantity, system: System) -> str:
    if fill.kind == "fraction":
        named = {0.0: "empty", 0.5: "half full", 1.0: "full"}
        return named.get(fill.si) or show(fill.si, "fraction", system, 0)
    return show(fill.si, fill.kind, system)


def tank_advice(rig: Rig) -> str | None:
    """Which tanks lighten the coupling and which load it; None when places are unknown."""
    middle = rig.trailer.axles.ball_to_center
    tanks = {n: t.x for n, t in rig.trailer.tanks.items() if t.holds in ("fresh", "grey", "black")}
    if middle is None or not tanks or None in tanks.values():
        return None
    behind = [name for name, x in tanks.items() if x is not None and x.si > middle.si]
    ahead = [name for name in tanks if name not in behind]
    said = [
        f"{' and '.join(behind)} {_verb(behind, 'lighten')} the coupling" if behind else "",
        f"{' and '.join(ahead)} {_verb(ahead, 'load')} it" if ahead and behind else "",
        f"{' and '.join(ahead)} {_verb(ahead, 'load')} the coupling" if ahead and not behind else "",
    ]
    return ", ".join(part for part in said if part)


def _verb(subjects: list[str], verb: str) -> str:
    return verb if len(subjects) > 1 else verb + "s"
