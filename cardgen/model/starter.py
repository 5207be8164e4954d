"""A commented starter rig: every important field unknown, with what it is and where to find it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from cardgen.model import starter_fields as lists
from cardgen.model.rig import Rig
from cardgen.model.vehicle import TWO_REAR_TIRES
from cardgen.model.written import ROAD
from cardgen.source.shapes import Shape, shape_of, slots_of, spot_at
from cardgen.source.write import quoted
from cardgen.tables import law
from cardgen.tables.connectors import usual
from cardgen.tables.words import say
from cardgen.tables.words import units as market_units
from cardgen.units.field import Kind

SCHEMA = "rig.schema.json"
"""Name of the JSON Schema beside the rig files, named in their first line."""
MODELINE = f"# yaml-language-server: $schema={SCHEMA}\n"
ALL = "unknown"
"""Answer for the vehicle, or for the trailer's body, where the file is to describe the other one alone [-]."""
_WIDTH = 116
_COMMENT_AT = 30


@dataclass(frozen=True, slots=True)
class Wish:
    """What the person said about the rig.

    Args:
        nickname: the rig's nickname [-].
        market: key of the market [-].
        type: how the trailer couples [-].
        body: what the trailer is, or ``unknown`` for a vehicle that any trailer may come to [-].
        vehicle: kind of tow vehicle, or ``unknown`` for a trailer that any vehicle may come to tow [-].
        axles: number of trailer axles [-].
        brakes: kind of trailer brakes, or ``unknown`` [-].
        bars: whether a weight-distributing hitch is used.
        places: places travelled; empty where the file does not say, which means any of the market's [-].
        told: equipment that the kind of trailer tells, field of ``features`` and value [-].
        short: whether to ask only for what labels tell.
    """

    nickname: str
    market: str = "us"
    type: str = "ball"
    body: str = "travel_trailer"
    vehicle: str = "pickup"
    axles: int = 1
    brakes: str = "unknown"
    bars: bool = False
    places: tuple[str, ...] = ()
    told: tuple[tuple[str, str], ...] = ()
    short: bool = False


def starter(wish: Wish) -> str:
    """Write the starter file of a rig.

    Args:
        wish: what the person said about the rig.
    """
    return "".join(_Starter(wish).lines())


@cache
def _written(wish: Wish) -> _Starter:
    """A starter that has been written, which knows what it asked for."""
    one = _Starter(wish)
    for _ in one.lines():
        pass
    return one


def asked(wish: Wish) -> tuple[str, ...]:
    """Fields that the starter of such a rig writes ``unknown`` [-].

    Args:
        wish: what the person said about the rig.
    """
    inside = ("vehicle.fuel", "occupants[].weight", "occupants[].seat")
    return (*_written(wish).asked, *(inside if wish.vehicle != ALL else ()))


def left_open(rig: Rig) -> tuple[str, ...]:
    """Fields that the starter of such a rig would ask for and that the rig does not state [-].

    Args:
        rig: the rig.
    """
    found = (path for path in asked(wish_of(rig)) if not rig.lacks((path,)))
    return tuple(path for path in found if _unstated(rig, path.split(".")) and not _moot(rig, path))


def asked_first(rig: Rig) -> frozenset[str]:
    """Fields that the short starter of such a rig asks for: with a scale ticket they make the first card [-].

    Args:
        rig: the rig.
    """
    return frozenset(_written(replace(wish_of(rig), short=True)).asked)


def lists_open(rig: Rig) -> tuple[str, ...]:
    """Lists that the starter of such a rig would show and that are empty in the rig [-].

    Args:
        rig: the rig.
    """
    aboard = ("cases", "contacts", "places", "trailer.empty.includes")
    found = dict.fromkeys((*_written(wish_of(rig)).rows, "occupants"))
    return tuple(
        path
        for path in found
        if not path.startswith(aboard)
        and not rig.lacks((path,))
        and _unstated(rig, path.split("."), nothing=True)
    )


def wish_of(rig: Rig) -> Wish:
    """What a person would have said about a rig to get its starter.

    Args:
        rig: the rig.
    """
    trailer, kind = rig.trailer, ALL if rig.alone == "trailer" else rig.vehicle.kind or "pickup"
    brakes, bars = trailer.brakes.kind or "unknown", rig.gear.weight_distribution is not None
    return Wish(
        "", rig.market, trailer.type, trailer.body, kind, trailer.axles.count, brakes, bars, rig.places
    )


def _moot(rig: Rig, path: str) -> bool:
    """Whether nothing is to ask: of chains that are not there, of extra load, which is asked of passenger tires."""
    owner, _, mark = path.rpartition(".")
    if path == "trailer.chains.strength":
        return rig.trailer.chains.count == 0
    if mark != "extra_load":
        return False
    tire = (
        rig.trailer.tires
        if owner == "trailer.tires"
        else getattr(rig.vehicle.tires, owner.rpartition(".")[2])
    )
    return tire is not None and tire.type not in (None, "P", "EURO")


def _unstated(node: object, steps: Sequence[str], *, nothing: bool = False) -> bool:
    """Whether nothing, or an empty list (or group, where ``nothing`` counts), stands at a field, or any of the
    items it belongs to."""
    if not steps or node is None:
        return node is None or node == () or (nothing and node == {})
    if steps[0].endswith("[]"):
        items = getattr(node, steps[0][:-2])
        return any(_unstated(item, steps[1:], nothing=nothing) for item in items)
    return _unstated(getattr(node, steps[0]), steps[1:], nothing=nothing)


@cache
def _by_market(group: str) -> dict[str, frozenset[str]]:
    """Fields of a group of the rig that name markets or places of their own, and those; the spare is left out."""
    found: dict[str, frozenset[str]] = {}

    def walk(shape: Shape, path: str) -> None:
        doc = shape.doc
        if doc is not None and doc.markets:
            found[path] = frozenset(doc.markets)
        if shape.form == "record" and path != "spare":
            for name, slot in slots_of(shape.hint).items():
                walk(slot.shape, f"{path}.{name}".lstrip("."))

    spot = spot_at(shape_of(Rig), (group,))
    assert spot is not None  # the callers name groups of the model
    walk(spot.shape, "")
    return found


class _Starter:
    def __init__(self, wish: Wish) -> None:
        self.wish, self.coupling = wish, "" if wish.body == ALL else wish.type
        self.asked: list[str] = []
        self.rows: list[str] = []
        self.system = "us" if wish.market == "us" else "metric"
        self.samples = dict(lists.SAMPLES[self.system])
        if market_units(wish.market).get("pressure") == "kPa":
            self.samples["pressure"] = "450 kPa"
        self.towbar = wish.type == "ball" and wish.market in lists.EUROPE

    def lines(self) -> Iterator[str]:
        wish, samples = self.wish, self.samples
        yield MODELINE
        if wish.short:
            yield "# What labels tell. Replace 'unknown', each quantity with its unit, like "
            yield f"{samples['mass']} or {samples['pressure']}. Then\n"
            yield "# 'cardgen check' says what to measure next; every field may be added: 'cardgen explain FIELD'.\n"
        else:
            yield "# A rig described for cardgen. Replace 'unknown' by what the labels say. Every quantity is\n"
            yield f"# written with its unit: {samples['mass']}, {samples['pressure']}, {samples['volume']}, "
            yield f"{samples['length']}; its uncertainty may follow: {samples['mass']} +/- 1 %.\n"
            yield '# What stays unknown is printed as "not checked" with where to read or measure it.\n'
            yield "# A line may also be deleted, and 'cardgen explain FIELD' tells about any field.\n"
        yield f"nickname: {quoted(wish.nickname)}\n"
        yield f"market: {wish.market}\n"
        if wish.market in lists.PLACES and not wish.short:
            what, sample = lists.PLACES[wish.market]
            yield from self.listed("", "places", f"{what} travelled", f"- {sample}")
        known = wish.vehicle != ALL
        if known:
            yield from self.vehicle()
        else:
            yield "# No vehicle: the sheet says which one may tow this trailer. Add 'vehicle:' when one is known.\n"
        if wish.body == ALL:
            yield "\n# No trailer: the sheet says what this vehicle may tow. Add 'trailer:' when one is known.\n"
        else:
            yield from self.trailer()
        if known or (wish.bars and wish.type == "ball" and not self.towbar):
            yield from self.gear()
        yield from self.rest()

    def listed(
        self, pad: str, name: str, words: str, *lines: str, empty: str = "[]", group: str = ""
    ) -> Iterator[str]:
        """An empty list or map with how its lines are written: one to a line, so that no comma bites."""
        self.rows.append(f"{group}.{name}".lstrip("."))
        if self.wish.short:
            return
        told, *rows = (say(one, self.wish.market) for one in (words, *lines))
        yield f"{pad}{name}: {empty}  # {told}; written like:\n"
        yield f"{pad}#   {name}:\n"
        yield from (f"{pad}#     {line}\n" for line in rows)

    def vehicle(self) -> Iterator[str]:
        yield f"\nvehicle:\n  kind: {self.wish.vehicle}\n"
        plain = self.wish.vehicle in TWO_REAR_TIRES
        without = [*(("tires.rear_count",) if plain else ()), *lists.NOT_IN_THE_CAB.get(self.wish.brakes, ())]
        fields = [name for name in lists.VEHICLE if name not in without]
        fields += [] if self.wish.type == "ball" else lists.BED_AXLES
        yield from self.section("vehicle", self.more("vehicle", fields))
        if self.wish.type != "ball":
            yield f"  bed_hitch:\n    kind: {self.wish.type}\n"
            yield from self.section("vehicle", lists.BED, ("bed_hitch",))
        elif self.towbar:
            told = say("false when a {ball_mount} slides into a square opening", self.wish.market)
            yield f"  receiver:\n    fixed_ball: true  # {told}\n"
            yield from self.section("vehicle", lists.TOWBAR, ("receiver",))
        else:
            bars = lists.DISTRIBUTING if self.wish.bars else ()
            yield from self.section("vehicle", (*lists.RECEIVER, *bars))
        samples = self.samples
        yield from self.listed(
            "  ", "seats", "seat rows ahead of the rear axle", f"front: {samples['seats'][0]}",
            f"rear: {samples['seats'][1]}", empty="{}", group="vehicle",
        )  # fmt: skip
        yield from self.listed(
            "  ", "fuel", "the tank", f"kind: {samples['burns']}", f"capacity: {samples['fuel']}",
            f"ahead_of_rear_axle: {samples['at']}", empty="unknown", group="vehicle",
        )  # fmt: skip
        yield from self.listed(
            "  ", "cargo", "things in the vehicle", "- name: tool box", f"  weight: {samples['battery']}",
            f"  ahead_of_rear_axle: {samples['at']}", group="vehicle",
        )  # fmt: skip

    def trailer(self) -> Iterator[str]:
        wish, samples = self.wish, self.samples
        yield f"\ntrailer:\n  type: {wish.type}\n  body: {wish.body}\n"
        without = [
            *(lists.NOT_ON_FIFTH_WHEEL if wish.type == "fifth_wheel" else ()),
            *(lists.NOT_ON_ONE_AXLE if wish.axles == 1 else ()),
        ]
        home = lists.EMPTY_HOME if wish.body in lists.HOMES else ()
        yield from self.section(
            "trailer", self.more("trailer", [p for p in (*lists.TRAILER, *home) if p not in without])
        )
        at, x = samples["at"], samples["x"]
        if home:
            told = say("x counts rearward from the coupling center, y right of the center line", wish.market)
            yield "" if wish.short else f"  # Positions: {told}.\n"
            tank = ("fresh:", "  holds: fresh", f"  capacity: {samples['tank']}", f"  x: {x}")
            yield from self.listed("  ", "tanks", "water and waste", *tank, empty="{}", group="trailer")
            size, water, tare = samples["cylinder"]
            gas = ("left:", f"  size: {size}", f"  water_capacity: {water}", f"  tare: {tare}", f"  x: {at}")
            yield from self.listed("  ", "cylinders", "gas", *gas, empty="{}", group="trailer")
            house = ("- name: {house_battery}", f"  weight: {samples['battery']}", f"  x: {at}")
            yield from self.listed("  ", "batteries", "every battery", *house, group="trailer")
        box = ("- name: tool box", f"  weight: {samples['battery']}", f"  x: {x}", "  set: work")
        yield from self.listed(
            "  ", "cargo", "or from a spreadsheet, see 'cardgen cargo --help'", *box, group="trailer"
        )
        equipped = dict(wish.told)
        names = (*lists.FEATURES.get(wish.body, ()), *lists.EVERY_FEATURE)
        yield from self.section("trailer", [f"features.{name}" for name in names if name not in equipped])
        if equipped:
            if wish.short:  # else the group is open already: every trailer is asked for some equipment
                yield "  features:\n"
            yield from (f"    {name}: {value}\n" for name, value in equipped.items())

    def gear(self) -> Iterator[str]:
        yield "\ngear:\n"
        ball: tuple[str, ...] = () if self.wish.type == "fifth_wheel" else lists.BALL
        if self.towbar:
            ball = lists.TOWBAR_BALL
        slides = self.wish.type == "ball" and not self.towbar
        mount = lists.MOUNT if slides else ()
        bars = lists.BARS if slides and self.wish.bars else ()
        yield from self.section("gear", self.more("gear", (*lists.GEAR, *ball, *mount, *bars)))

    def rest(self) -> Iterator[str]:
        samples = self.samples
        known = self.wish.vehicle != ALL
        if not self.wish.short and known:
            yield "\noccupants:\n  - name: driver\n    weight: unknown\n    seat: unknown\n"
        yield "cases:  # how you load it; at least one\n  - name: leaving home\n"
        yield "    fuel: full\n" if known else ""
        if self.wish.short:
            return
        if self.wish.body in lists.HOMES:
            yield from self.listed(
                "    ", "tanks", "how full", "fresh: full", "grey: empty", empty="{}", group="cases"
            )
            yield from self.listed("    ", "cylinders", "how full", "left: full", empty="{}", group="cases")
        yield from self.listed(
            "    ", "cargo", "sets of cargo aboard, besides what is always aboard", "- work", group="cases"
        )
        yield "preferences:\n"
        yield from self.section("preferences", lists.PREFERENCES)
        yield "dates:\n"
        yield from self.section("dates", self.more("dates", lists.DATES))
        visit = ("- date: 2026-04-30", "  case: leaving home", "  slack:", f"    front: {samples['mass']}")
        yield from self.listed("", "weighings", "'cardgen weigh' writes them from a {scale_ticket}", *visit)
        yield from self.listed("", "contacts", "whom to call", "- who: the owner", "  phone: 555-0142")

    def more(self, group: str, paths: Sequence[str]) -> tuple[str, ...]:
        """Add the fields of a group of which the model itself says that this market or its places need them."""
        market, travelled = self.wish.market, self.wish.places
        wanted = {
            market,
            *(
                place
                for place in law.known_places()
                if market in (*law.reach(place), place.split("-")[0])
                and (not travelled or place in travelled)
            ),
        }
        without = lists.NOT_ON_FIFTH_WHEEL if self.wish.type == "fifth_wheel" else ()
        found = [path for path, markets in _by_market(group).items() if wanted & markets]
        braked = lists.NOT_WITH.get(
            (self.wish.brakes, market), lists.NOT_WITH.get((self.wish.brakes, ""), ())
        )
        without = (*without, *lists.NOT_IN.get(market, ()), *braked)
        return tuple(path for path in dict.fromkeys((*paths, *found)) if path not in without)

    def section(self, name: str, paths: Sequence[str], start: Sequence[str] = ()) -> Iterator[str]:
        """Lines of a mapping with nested fields; ``start`` names groups that are open already."""
        paths = [path for path in paths if not self.wish.short or self.first(f"{name}.{path}", paths)]
        opened = list(start)
        groups = [path.split(".")[0] for path in paths]
        for path in sorted(paths, key=lambda one: groups.index(one.split(".")[0])):
            *parents, leaf = path.split(".")
            while opened and opened != parents[: len(opened)]:
                opened.pop()
            while len(opened) < len(parents):
                opened.append(parents[len(opened)])
                yield f"{'  ' * len(opened)}{opened[-1]}:\n"
                if (name, *opened) == ("trailer", "axles"):
                    yield f"{'  ' * (len(opened) + 1)}count: {self.wish.axles}\n"
                if (name, *opened) == ("trailer", "empty", "includes"):
                    yield from self.listed(
                        "      ", "without", "what was not aboard", "- {house_battery}",
                        group="trailer.empty.includes",
                    )  # fmt: skip
                if (name, *opened) == ("vehicle", "curb", "includes") and self.wish.market == "us":
                    yield f"{'  ' * (len(opened) + 1)}# as the maker states it: full fluids, no driver (49 CFR 571.3): "
                    yield "fuel: full, driver: 0 lb\n"
            yield from self.field((name, *parents, leaf), "  " * (len(parents) + 1))

    def first(self, path: str, among: Sequence[str]) -> bool:
        """Whether the first card waits for a field: of two that do the same only one is asked."""
        group, _, leaf = path.rpartition(".")
        if leaf == "load_index":
            return path in lists.SHORT and f"{group}.max_load".partition(".")[2] not in among
        moot = {"none": ("braked",), "unknown": ()}.get(self.wish.brakes, ("unbraked",))
        if group == "vehicle.tow_rating" and leaf in moot:
            return False
        return path in lists.SHORT and not (self.wish.bars and group == "vehicle.receiver.weight_carrying")

    def field(self, path: tuple[str, ...], pad: str) -> Iterator[str]:
        spot = spot_at(shape_of(Rig), path)
        assert spot is not None  # the lists name fields of the model; a test walks them all
        value = {"list": "[]", "map": "{}"}.get(spot.shape.form, "unknown")
        self.asked.append(".".join(path))
        if path == ("trailer", "brakes", "kind"):
            value = self.wish.brakes
        line, comment = f"{pad}{path[-1]}: {value}", self.comment(spot.shape)
        room = _WIDTH - max(len(line) + 2, _COMMENT_AT + 2)
        if self.wish.short and len(comment) > room:
            comment = self.comment(spot.shape, brief=True)
        if len(comment) <= room:
            yield f"{line + '  ':<{_COMMENT_AT}}# {comment}\n"
            return
        for words in textwrap.wrap(comment, _WIDTH - len(pad) - 2, break_on_hyphens=False):
            yield f"{pad}# {words}\n"
        yield f"{line}\n"

    def comment(self, shape: Shape, *, brief: bool = False) -> str:
        """Say what a field is, its unit, where it is found and how it is written; in brief only the last three."""
        doc, inner = shape.doc_in(self.wish.market, self.coupling), shape.item or shape
        assert doc is not None  # every field of the model has one; a test sees to it
        kind = next((mark for mark in inner.extra if isinstance(mark, Kind)), None)
        signs = kind is not None and kind.names[0] in ROAD
        written = lists.UNITS[market_units(self.wish.market)["road"] if signs else self.system]
        unit = written.get(kind.names[0], "") if kind and not kind.words else ""
        if brief:
            told = (f"[{unit}]" if unit else ", ".join(shape.choices), doc.where.partition(":")[0])
            return " ".join(filter(None, told)) if unit else ": ".join(filter(None, told))
        text = doc.what + (f" [{unit}]" if unit else "") + (f": {doc.where}" if doc.where else "")
        if shape.choices and not all(one in doc.what for one in shape.choices):
            text += f"; one of: {', '.join(usual(shape.choices, self.wish.market))}"
        elif inner.hint is bool:
            text += "; true or false"
        example = doc.example if kind is None or self.system == "us" or doc.metric else ""
        return text + (f"; like {example}" if example else "")
