"""Statics of a rig from the raw words of its file, written apart from the package.

Nothing of ``cardgen`` is imported: units come from the small table below (NIST SP 811, exact by
definition), densities from the two lines below it, moments from plain levers. A figure is None as
soon as something it needs is not in the file.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any

Tree = dict[str, Any]
Figures = dict[str, float | None]

_POUND, _INCH = 0.45359237, 0.0254
GRAVITY = 9.80665
_UNITS = {
    "lb": _POUND, "kg": 1.0, "t": 1000.0,
    "in": _INCH, "ft": 12 * _INCH, "m": 1.0, "cm": 0.01, "mm": 0.001,
    "gal": 3.785411784e-3, "US gal": 3.785411784e-3, "L": 1e-3,
    "psi": 6894.757293168, "bar": 1e5, "kPa": 1e3,
    "mph": 0.44704, "km/h": 1 / 3.6,
    "lb-ft": _POUND * GRAVITY * 12 * _INCH, "Nm": 1.0,
    "N": 1.0, "kN": 1e3, "%": 0.01,
    "lb/in": _POUND * GRAVITY / _INCH, "N/mm": 1e3,
}  # fmt: skip
_WORDS = {"empty": 0.0, "1/4": 0.25, "1/2": 0.5, "half": 0.5, "3/4": 0.75, "full": 1.0}
_PIECE = re.compile(r"\s*(\d+(?:\.\d+)?)?(?:\s*(\d+)/(\d+))?\s*(US gal|[a-zA-Z%/-]+)")
_FULL_GAS = 0.42
"""Propane in a full cylinder as a share of its stamped water capacity [-]; WAC 296-307-41037, Table U-4."""


class Fluids:
    """Densities by what a tank holds [kg/m3], and the usual water capacity by nominal size [kg] -> [kg].

    They are published figures, not statics, and come from the caller.
    """

    def __init__(self, density: Mapping[str, float], usual: Callable[[float], float | None]) -> None:
        self.density, self.usual = density, usual

    def gas(self, water: float | None, size: float | None) -> float | None:
        """Gas in a full cylinder [kg]."""
        stamped = self.usual(size) if water is None and size is not None else water
        return size if stamped is None else _FULL_GAS * stamped


def si(text: object) -> float | None:
    """A quantity of a rig file in SI units; None when it is unknown or left out."""
    if text is None or text == "unknown":
        return None
    words = re.split(r"\s*\+/-", str(text))[0].replace(",", "").strip()
    if words in _WORDS:
        return _WORDS[words]
    sign = -1.0 if words.startswith("-") else 1.0
    total, at, words = 0.0, 0, words.lstrip("-")
    while at < len(words):
        found = _PIECE.match(words, at)
        assert found is not None, text
        part = float(found[1] or 0) if not found[2] else 0.0
        if found[2]:
            part = float(found[1] or 0) + int(found[2]) / int(found[3])
        total += part * _UNITS[found[4].strip()]
        at = found.end()
    return sign * total


def half_width(text: object) -> float:
    """The stated ``+/-`` of a quantity [SI]; zero when none is stated."""
    parts = re.split(r"\s*\+/-\s*", str(text))
    return (si(parts[1]) or 0.0) if len(parts) > 1 else 0.0


def at(tree: object, *path: str | int) -> Any:
    """What stands at a path of the raw document; None when nothing does, or ``unknown``."""
    for step in path:
        if isinstance(tree, Mapping):
            tree = tree.get(step)
        elif isinstance(tree, list) and isinstance(step, int) and step < len(tree):
            tree = tree[step]
        else:
            return None
    return None if tree == "unknown" else tree


def number(tree: object, *path: str | int) -> float | None:
    """A quantity at a path [SI]."""
    return si(at(tree, *path))


class Load:
    """One mass: when full [kg], its place [m], its share at the stated weights and in a case [-]."""

    def __init__(self, key: str, sort: str, full: float | None, x: float | None, y: float | None) -> None:
        self.key, self.sort, self.full, self.x, self.y = key, sort, full, x, y
        self.was: float | None = 0.0
        self.now: float | None = 0.0


def _by_papers(rig: Tree, battery: str) -> float | None:
    """Whether a battery was in the empty weight [-]: papers elsewhere than in North America leave it out."""
    source = at(rig, "trailer", "empty", "source")
    named = battery in (at(rig, "trailer", "empty", "includes", "cargo") or ())
    if at(rig, "market") in ("us", "ca") or named or source in ("scale", "estimate"):
        return 1.0
    return None if source is None else 0.0


def _share(text: object, capacity: float | None) -> float | None:
    if text is None or text == "unknown":
        return None
    value = si(text)
    if re.search(r"gal|L\b", str(text)):
        return None if capacity is None or value is None else value / capacity
    return value


def loads(rig: Tree, case: Tree, fluids: Fluids) -> list[Load]:
    """Every mass of trailer and vehicle with its shares.

    Args:
        rig: the document.
        case: one of its loading cases.
        fluids: densities and gas.
    """
    made: list[Load] = []
    trailer, vehicle = rig["trailer"], rig["vehicle"]
    stated = at(trailer, "empty", "includes") or {}

    def add(load: Load, was: float | None, now: float | None) -> None:
        load.was, load.now = was, now
        made.append(load)

    for name, tank in (at(trailer, "tanks") or {}).items():
        capacity, density = number(tank, "capacity"), fluids.density[tank["holds"]]
        full = None if capacity is None else capacity * density
        add(
            Load(f"tank.{name}", tank["holds"], full, number(tank, "x"), number(tank, "y")),
            _share(at(stated, "tanks", name), capacity),
            _share(at(case, "tanks", name), capacity),
        )
    for name, one in (at(trailer, "cylinders") or {}).items():
        x, y = number(one, "x"), number(one, "y")
        full = fluids.gas(number(one, "water_capacity"), number(one, "size"))
        away = [name in (at(state, "without") or ()) for state in (stated, case)]
        was, now = (
            0.0 if gone else _share(at(state, "cylinders", name), None)
            for gone, state in zip(away, (stated, case), strict=True)
        )
        add(Load(f"gas.{name}", "gas", full, x, y), was, now)
        steel = Load(f"cylinder.{name}", "cylinder", number(one, "tare"), x, y)
        add(steel, float(not away[0]), float(not away[1]))
    for one in at(trailer, "batteries") or ():
        name = one["name"]
        add(
            Load(f"battery.{name}", "battery", number(one, "weight"), number(one, "x"), number(one, "y")),
            _by_papers(rig, name) if name not in (at(stated, "without") or ()) else 0.0,
            float(name not in (at(case, "without") or ()) and _along(one, case)),
        )
    for one in at(trailer, "cargo") or ():
        add(
            Load(f"cargo.{one['name']}", "cargo", number(one, "weight"), number(one, "x"), number(one, "y")),
            float(one["name"] in (at(stated, "cargo") or ())),
            float(_along(one, case)),
        )
    people = at(case, "occupants")
    aboard = [n for n in (one["name"] for one in at(rig, "occupants") or ()) if people is None or n in people]
    if not aboard:  # somebody drives, nobody knows who
        add(Load("person.nobody listed", "person", None, None, None), 0.0, 1.0)
    for one in at(rig, "occupants") or ():
        seat = number(vehicle, "seats", one["seat"]) if at(one, "seat") else None
        on = float(people is None or one["name"] in people)
        add(Load(f"person.{one['name']}", "person", number(one, "weight"), seat, None), 0.0, on)
    for one in at(vehicle, "cargo") or ():
        place = number(one, "ahead_of_rear_axle")
        on = float(_along(one, case))
        add(Load(f"carried.{one['name']}", "carried", number(one, "weight"), place, None), 0.0, on)
    fuel = at(vehicle, "fuel")
    if fuel is None:
        add(Load("fuel", "fuel", None, None, None), None, None)
    elif fuel["kind"] != "none":
        capacity = number(fuel, "capacity")
        density = fluids.density["diesel" if fuel["kind"] == "diesel" else "fuel"]
        full = None if capacity is None else capacity * density
        add(
            Load("fuel", "fuel", full, number(fuel, "ahead_of_rear_axle"), None),
            _share(at(vehicle, "curb", "includes", "fuel"), capacity),
            _share(at(case, "fuel"), capacity),
        )
    return made


def on_trailer(load: Load) -> bool:
    """Whether a load rides on the trailer."""
    return load.key.split(".")[0] in ("tank", "gas", "cylinder", "battery", "cargo")


def _sum(base: float | None, parts: Iterator[tuple[Load, float | None]]) -> float | None:
    """``base + sum(lever * full * (now - was))``; None when anything that counts is unknown."""
    total = base
    for load, lever in parts:
        if load.full == 0.0 or lever == 0.0:
            continue
        if load.was is None or load.now is None:
            return None
        if load.was == load.now:
            continue
        if load.full is None or lever is None or total is None:
            return None
        total += lever * load.full * (load.now - load.was)
    return total


def _plus(*terms: tuple[float | None, float | None]) -> float | None:
    total = 0.0
    for factor, value in terms:
        if factor == 0.0 or value == 0.0:
            continue
        if factor is None or value is None:
            return None
        total += factor * value
    return total


def _over(value: float | None, by: float | None) -> float | None:
    return None if value is None or not by else value / by


def _riding(rig: Tree, level: float | None) -> float | None:
    """Tongue weight as an unlevel trailer on independent axles rides [kg], from that of the level one."""
    axles, vehicle = at(rig, "trailer", "axles"), rig["vehicle"]
    count, arm = int(axles.get("count") or 1), number(axles, "ball_to_center")
    rate, spacing = number(axles, "rate"), number(axles, "spacing")
    if count == 1 or level is None or at(axles, "suspension") == "equalized":
        return level
    if at(axles, "suspension") is None:
        return None  # whether it moves the tongue at all is not known
    if rate is None or any(at(w, "slack", "axles") for w in at(rig, "weighings") or ()):
        return level
    if spacing is None or arm is None:
        return None
    tape = number(vehicle, "receiver", "height_hitched") if at(rig, "trailer", "type") == "ball" else None
    free = _above(rig, tape)
    stiff = sum(rate / GRAVITY * (spacing * (i - (count - 1) / 2)) ** 2 for i in range(count)) / arm**2
    if free is None:
        return level
    if tape is not None:
        return level + stiff * free
    now = level
    for _ in range(300):  # walks to the balance of both vehicles' springs
        sunk = _sunk(rig, now, arm)
        if sunk is None:
            return level + stiff * (free - 0.025)  # the middle of 0 to 50 mm, as the program states
        now = 0.5 * now + 0.5 * (level + stiff * (free - sunk))
    return now


def height_assumed(rig: Tree) -> bool:
    """Whether a range stands in for how level a trailer on independent axles rides."""
    axles, ball = at(rig, "trailer", "axles"), at(rig, "trailer", "type") == "ball"
    if at(axles, "suspension") != "independent":
        return False
    tape = number(rig, "vehicle", "receiver", "height_hitched") if ball else None
    sinks = tape is None and _sunk(rig, 1.0, number(axles, "ball_to_center") or 1.0) is None
    return sinks or _above(rig, tape) is None


def _above(rig: Tree, tape: float | None) -> float | None:
    """Coupling above the height at which the trailer is level [m], nothing coupled or by a tape."""
    kind, seen = at(rig, "trailer", "type"), at(rig, "trailer", "coupler", "height_at")
    level, top = number(rig, "trailer", "coupler", "height"), number(rig, "gear", "ball", "height")
    if kind != "ball":
        fits = seen == {"fifth_wheel": "plate", "gooseneck": "ball_top"}[kind]
        return _plus((1.0, number(rig, "vehicle", "bed_hitch", "height")), (-1.0, level if fits else None))
    if seen not in ("ball_top", "lower_lip"):
        return None
    if at(rig, "vehicle", "receiver", "fixed_ball") is True:
        surface = number(rig, "vehicle", "receiver", "ball_height") if tape is None else tape
        lip = top if seen == "lower_lip" else 0.0
        return _plus(
            (1.0, surface), (-1.0, level), (-1.0, lip), (0.5, number(rig, "gear", "ball", "diameter"))
        )
    surface = number(rig, "vehicle", "receiver", "height") if tape is None else tape
    high = top if seen == "ball_top" else 0.0
    return _plus((1.0, surface), (-1.0, number(rig, "gear", "mount", "drop")), (1.0, high), (-1.0, level))


def _sunk(rig: Tree, tongue: float, arm: float) -> float | None:
    """How far the coupling sinks under a tongue weight [m], by the vehicle's springs, bars pulling."""
    vehicle, bars = rig["vehicle"], at(rig, "gear", "weight_distribution")
    base, back = number(vehicle, "wheelbase"), number(vehicle, "overhang")
    front, rear = number(vehicle, "front_axle_rate"), number(vehicle, "rear_axle_rate")
    if base is None or back is None or front is None or rear is None:
        return None
    pull = 0.0
    if bars is not None:
        moment, share = number(bars, "moment"), _restored(bars)
        if moment is None and share is None:
            return None
        pull = (share or 0.0) * tongue * back * arm / (arm + back) if moment is None else moment / GRAVITY
    lost = tongue * back / base - pull * (1 / arm + 1 / back) * back / base
    added = tongue + lost - pull / arm
    sag = added * GRAVITY / rear
    return sag + (sag + lost * GRAVITY / front) * back / base


def _restored(bars: Tree) -> float | None:
    """Restoration as stated or by three wheel-arch heights [-]."""
    restored = number(bars, "restoration")
    heights = [number(bars, "arches", n) for n in ("alone", "slack", "engaged")]
    if restored is None and None not in heights:
        alone, slack, pulled = (h or 0.0 for h in heights)
        restored = (slack - pulled) / (slack - alone) if slack > alone else None
    return restored


def totals(rig: Tree, made: list[Load]) -> Figures:
    """Every weight on every axle with the loads as they are now [kg]."""
    trailer, vehicle = rig["trailer"], rig["vehicle"]
    length, track = number(trailer, "axles", "ball_to_center"), number(trailer, "axles", "track")
    base, hung = number(vehicle, "wheelbase"), number(vehicle, "overhang")
    inside, outside = [x for x in made if on_trailer(x)], [x for x in made if not on_trailer(x)]
    weight = _sum(number(trailer, "empty", "weight"), ((x, 1.0) for x in inside))
    lever = {x.key: None if x.x is None or length is None else 1.0 - x.x / length for x in inside}
    tongue = _sum(number(trailer, "empty", "tongue"), ((x, lever[x.key]) for x in inside))
    tongue = _riding(rig, tongue)
    side = number(trailer, "empty", "left_minus_right")
    across = {x.key: None if x.y is None or not track else -2.0 * x.y / track for x in inside}
    left = _sum(side, ((x, across[x.key]) for x in inside))
    group = _plus((1.0, weight), (-1.0, tongue))
    curb, front, rear = (number(vehicle, "curb", n) for n in ("weight", "front", "rear"))
    curb = _plus((1.0, front), (1.0, rear)) if curb is None else curb
    front = _plus((1.0, curb), (-1.0, rear)) if front is None else front
    driver, gear = number(vehicle, "curb", "includes", "driver"), number(rig, "gear", "weight")
    if gear is None and at(vehicle, "receiver", "fixed_ball") is True:
        gear = 0.0
    rows = [q for text in (at(vehicle, "seats") or {}).values() if (q := si(text)) is not None]
    seat = max(rows) if rows and len(rows) == len(at(vehicle, "seats") or {}) else None
    alone = _plus((1.0, _sum(curb, ((x, 1.0) for x in outside))), (1.0, gear), (-1.0, driver))
    ahead = {x.key: _over(x.x, base) for x in outside}
    on_front = _sum(front, ((x, ahead[x.key]) for x in outside))
    behind = _over(None if hung is None else -hung, base)
    on_front = _plus(
        (1.0, on_front), (behind, gear), (None if seat is None or base is None else -seat / base, driver)
    )
    on_rear = _plus((1.0, alone), (-1.0, on_front))
    riding = _sum(0.0, ((x, 1.0) for x in outside if x.sort in ("person", "carried")))
    out: Figures = {
        "trailer_weight": weight,
        "tongue_weight": tongue,
        "trailer_axle_load": group,
        "tongue_share": None if tongue is None or not weight else tongue / weight,
        "side": left,
        "left_wheels": _plus((0.5, group), (0.5, left)),
        "right_wheels": _plus((0.5, group), (-0.5, left)),
        "vehicle_alone": alone,
        "front_alone": on_front,
        "rear_alone": on_rear,
        "vehicle_weight": _plus((1.0, alone), (1.0, tongue)),
        "vehicle_front_axle": _plus((1.0, on_front), (behind, tongue)),
        "vehicle_rear_axle": _plus((1.0, on_rear), (None if behind is None else 1.0 - behind, tongue)),
        "combination_weight": _plus((1.0, alone), (1.0, weight)),
        "placard_used": _plus((1.0, riding), (1.0, gear), (1.0, tongue)),
    }
    count = int(at(trailer, "axles", "count") or 1)
    if count == 1 or at(trailer, "axles", "suspension") == "equalized":
        out |= {f"axle_{i + 1}": None if group is None else group / count for i in range(count)}
    return out | _engaged(rig, out, length, base, hung, count)


def _engaged(
    rig: Tree, out: Figures, length: float | None, base: float | None, hung: float | None, count: int
) -> Figures:
    """The same axles with the bars pulling: a pure moment about the ball."""
    bars = at(rig, "gear", "weight_distribution")
    if bars is None:
        return {}
    lost = _plus((_over(hung, base), out["tongue_weight"]))
    restored, moment = _restored(bars), number(bars, "moment")
    ready = length is not None and base is not None and hung is not None and hung > 0
    if not ready or (moment is None and (restored is None or lost is None)) or lost is None:
        gain = None
    elif moment is not None:
        gain = moment / GRAVITY * ((length or 1) + (hung or 0)) / ((base or 1) * (length or 1))
    else:
        gain = (restored or 0.0) * lost
    back = (
        None if gain is None else gain * (base or 0) / ((length or 0) + (hung or 0))
    )  # moved onto the trailer's axles: moments about the vehicle's rear axle
    group = _plus((1.0, out["trailer_axle_load"]), (1.0, back))
    made: Figures = {
        "front_axle_engaged": _plus((1.0, out["vehicle_front_axle"]), (1.0, gain)),
        "trailer_axles_engaged": group,
        "rear_axle_engaged": _plus((1.0, out["vehicle_rear_axle"]), (-1.0, gain), (-1.0, back)),
    }
    if any(name.startswith("axle_") for name in out):
        made |= {f"axle_{i + 1}_engaged": None if group is None else group / count for i in range(count)}
    return made


def _along(one: Tree, case: Tree) -> bool:
    """Whether a thing rides along in a case: always, or with its set."""
    return at(one, "set") is None or one["set"] in (at(case, "cargo") or ())


def figures(rig: Tree, index: int, fluids: Fluids) -> Figures:
    """Figures of one declared case [kg]."""
    return totals(rig, loads(rig, rig["cases"][index], fluids))


def fillings(rig: Tree, fluids: Fluids, most: int = 4096) -> Iterator[list[Load]]:
    """Every corner of what may be aboard: each tank empty or full, each set, person and thing on or off.

    Nothing when there are more corners than ``most``. Waste tanks are free as all others unless the
    owner writes ``water_from_fresh_only: true``; then the corners of that limit are taken.
    """
    cases = rig["cases"]
    left = {n for case in cases for n in (at(case, "without") or ())}
    names = [one["name"] for one in at(rig, "occupants") or ()]
    riding = [set(names if at(c, "occupants") is None else at(c, "occupants")) for c in cases]
    always, fewest = set.intersection(*riding), min(len(one) for one in riding)
    first = loads(rig, cases[0], fluids)
    choices: list[list[dict[str, float]]] = []
    waste = [x for x in first if x.sort in ("grey", "black") and x.key.startswith("tank.")]
    limited = _limited(rig, first, waste, fluids)
    sorted_sets = {b["name"] for b in at(rig, "trailer", "batteries") or () if at(b, "set") is not None}
    for x in first:
        kind, _, name = x.key.partition(".")
        if x in waste and limited is not None:
            continue
        if kind in ("tank", "fuel"):
            choices.append([{x.key: 0.0}, {x.key: 1.0}])
        elif kind == "gas":
            options = [{x.key: f, f"cylinder.{name}": 1.0} for f in (0.0, 1.0)]
            choices.append(options + ([{x.key: 0.0, f"cylinder.{name}": 0.0}] if name in left else []))
        elif kind == "battery" and name not in sorted_sets:
            choices.append([{x.key: 1.0}] + ([{x.key: 0.0}] if name in left else []))
    if limited is not None:
        choices.append(limited)
    items = [("cargo", c) for c in at(rig, "trailer", "cargo") or ()]
    items += [("battery", c) for c in at(rig, "trailer", "batteries") or () if at(c, "set") is not None]
    items += [("carried", c) for c in at(rig, "vehicle", "cargo") or ()]
    sets: dict[str, list[str]] = {}
    for kind, one in items:
        key = f"{kind}.{one['name']}"
        if at(one, "set") is None:
            choices.append([{key: 1.0}])
        else:
            sets.setdefault(one["set"], []).append(key)
    for keys in sets.values():
        home = [key for key in keys if key.startswith("battery.") and key.removeprefix("battery.") in left]
        stays = [
            dict.fromkeys(some, 0.0) for n in range(len(home) + 1) for some in itertools.combinations(home, n)
        ]
        choices.append([dict.fromkeys(keys, 0.0), *(dict.fromkeys(keys, 1.0) | some for some in stays)])
    free = [n for n in names if n not in always]
    choices.append([{f"person.{n}": 1.0 for n in always}])
    crews = itertools.product((0.0, 1.0), repeat=len(free))
    choices.append(
        [
            {f"person.{n}": on for n, on in zip(free, crew, strict=True)}
            for crew in crews
            if sum(crew) + len(always) >= fewest
        ]
    )
    if math.prod(len(one) for one in choices) > most:
        return
    for picked in itertools.product(*choices):
        shares = {key: share for part in picked for key, share in part.items()}
        for x in first:
            x.now = shares.get(x.key, 1.0)  # the unknown driver rides in every corner
        yield first


def _limited(
    rig: Tree, first: list[Load], waste: list[Load], fluids: Fluids
) -> list[dict[str, float]] | None:
    """Corners of the waste tanks when the owner says that fresh water alone supplies them; else None."""
    if at(rig, "limits", "water_from_fresh_only") is not True or not waste:
        return None
    water = [x for x in first if x.sort in ("fresh", "heater") and x.key.startswith("tank.")]
    if not water or any(x.full is None for x in (*waste, *water)):
        return None
    # what the water fills is a volume: a litre of it weighs otherwise hot than cold and grey than fresh
    sizes = {x.key: (x.full or 0.0) / fluids.density[x.sort] for x in (*waste, *water)}
    room = sum(sizes[x.key] for x in water)
    for case in rig["cases"]:
        now = {x.key: x.now or 0.0 for x in loads(rig, case, fluids)}
        room = max(room, sum(now[x.key] * sizes[x.key] for x in waste))
    corners = []
    for order in itertools.permutations(waste):
        for taken in range(len(order) + 1):
            shares, still = dict.fromkeys((x.key for x in waste), 0.0), room
            for x in order[:taken]:
                shares[x.key] = min(1.0, still / sizes[x.key]) if sizes[x.key] else 1.0
                still -= shares[x.key] * sizes[x.key]
            corners.append(shares)
    return corners
