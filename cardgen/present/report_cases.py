"""Loading cases side by side, and what is due."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.checklist.types import Due
from cardgen.limits.room import rooms
from cardgen.model.figure import COVERAGE
from cardgen.model.results import Figure, Need
from cardgen.model.rig import Case
from cardgen.physics.aboard import called
from cardgen.physics.cases import budgets
from cardgen.present.blocks import Note, Table
from cardgen.present.cards.loading import amount, first_turned, where
from cardgen.present.format import NOT_CHECKED, day_words
from cardgen.present.levels import Level
from cardgen.present.page import Item, Items, View
from cardgen.present.report_checks import upper_first
from cardgen.present.report_drawings import band
from cardgen.present.rig_view import RigView
from cardgen.units import Quantity

WEIGHTS = (
    ("trailer_weight", "Loaded trailer"),
    ("tongue_weight", "{Coupling_load_in_full}"),
    ("tongue_share", "as a share of the trailer"),
    ("trailer_axle_load", "Trailer axles together"),
    ("trailer_axles_engaged", "Trailer axles, bars engaged"),
    ("left_wheels", "Left wheels of the trailer"),
    ("right_wheels", "Right wheels of the trailer"),
    ("vehicle_weight", "Tow vehicle with {coupling_load}"),
    ("vehicle_front_axle", "Front axle, hitched"),
    ("front_axle_engaged", "Front axle, bars engaged"),
    ("vehicle_rear_axle", "Rear axle, hitched"),
    ("rear_axle_engaged", "Rear axle, bars engaged"),
    ("combination_weight", "Vehicle and trailer together"),
    ("placard_used", "People, cargo, gear and {tongue_load}"),
    ("restoration", "Front axle load put back by the bars"),
)
ABOARD = (
    ("water_weight", "Fresh water"),
    ("waste_weight", "Waste"),
    ("gas_weight", "{Lp_gas}"),
    ("cargo_weight", "Cargo in the trailer"),
    ("occupant_weight", "People in the vehicle"),
)


def cases(rig_view: RigView) -> View:
    """Set the loading cases side by side: what is aboard, what it weighs."""
    names = tuple(c.name for c in rig_view.rig.cases)
    widths = (1.6, *(1.0 for _ in names))
    loaded = Table("What is aboard", ("", *names), tuple(_aboard(rig_view)), widths)
    rows = tuple(_figures(rig_view, WEIGHTS))
    strong = tuple(
        i
        for i, row in enumerate(rows)
        if row[0] in (rig_view.say("{Coupling_load_in_full}"), rig_view.trailer)
    )
    weights = Table("What it weighs", ("", *names), rows, widths, strong=strong)
    notes = [
        f"{rig_view.reckoned()} {{Coupling_load}} and vehicle axles are with weight distribution slack unless the line "
        "says otherwise."
        if rig_view.rig.gear.weight_distribution is not None
        else rig_view.reckoned()
    ]
    said = map(Note, (*map(rig_view.say, notes), *spread_of_tongue(rig_view)))
    gauge = band(rig_view)
    blocks = (*((gauge,) if gauge is not None else ()), loaded, weights, *said)
    title = "The loading case" if len(names) == 1 else f"The {len(names)} loading cases side by side"
    return View("cases", title, blocks, "what is aboard, what it weighs")


def room(rig_view: RigView) -> Table:
    """How much more may go to each place and into each tank, and the check that turns first."""
    rows = tuple(
        (where(rig_view, one), amount(rig_view, one), first_turned(rig_view, one))
        for one in rooms(rig_view.assessment)
    )
    head = ("Place or tank", "add up to", "what turns first")
    near = rig_view.near
    first = (
        "another check leaves within or what is close or over gets worse"
        if near
        else "any check leaves within"
    )
    note = (
        f"The most that may be added there, in every loading case, before {first}; rounded down. One place "
        "at a time: of two places half of each, of three a third."
    )
    return Table("Room left here", head, rows, (1.3, 0.6, 1.8), ("left", "right", "left"), note)


def spread_of_tongue(rig_view: RigView) -> list[str]:
    """Say which inputs the spread of the largest tongue weight mostly comes from."""
    computed = rig_view.assessment.computed
    worst = computed.worst("tongue_weight")
    if worst is None:
        return []
    parts = budgets(computed, worst[0], ("tongue_weight",))["tongue_weight"][:3]
    told = [
        f"{rig_view.say(part.label)} (\u00b1 {rig_view.formatter.value(COVERAGE * part.part, 'mass')}, {rig_view.say(part.how)})"
        for part in parts
    ]
    words = f"{rig_view.say('Most of the spread of the {coupling_load}')} in '{worst[0]}' comes from: "
    return (
        [words + "; ".join(told) + ". Spreads are twice the standard uncertainty (JCGM 100:2008)."]
        if told
        else []
    )


def _figures(rig_view: RigView, wanted: tuple[tuple[str, str], ...]) -> Iterator[tuple[str, ...]]:
    def lost(needs: tuple[Need, ...]) -> bool:
        return rig_view.rig.lacks(need.path for need in needs)

    for name, words in wanted:
        found = [c.figures.get(name) for c in rig_view.assessment.computed.cases]
        if all(f is None or (f.value is None and lost(f.needs)) for f in found):
            continue
        if name in ("left_wheels", "right_wheels") and all(f is None or f.value is None for f in found):
            continue
        label = rig_view.trailer if name == "trailer_weight" else rig_view.say(words)
        yield (label, *(spread(rig_view, f) for f in found))


def spread(rig_view: RigView, figure: Figure | None) -> str:
    """Write a figure with its expanded uncertainty when it is known."""
    shown = rig_view.formatter.figure(figure)
    if figure is None or figure.value is None or not figure.u:
        return shown
    scale = "" if figure.weighed is None else ", weighed"
    if figure.rival is not None:
        scale += f"; by the rig file {rig_view.formatter.value(figure.rival[0], figure.kind)}"
    return f"{shown} ± {rig_view.formatter.value(figure.expanded, figure.kind)}{scale}"


def _aboard(rig_view: RigView) -> Iterator[tuple[str, ...]]:
    rig = rig_view.rig
    for name in rig.trailer.tanks:
        yield (called(name, "tank"), *(fill(rig_view, case.tanks.get(name)) for case in rig.cases))
    for name in rig.trailer.cylinders:
        yield (called(name, "gas"), *(_gas(rig_view, case, name) for case in rig.cases))
    yield ("Cargo sets", *(", ".join(case.cargo) or "none" for case in rig.cases))
    everybody = tuple(p.name for p in rig.occupants)
    if everybody:
        people = [everybody if c.occupants is None else c.occupants for c in rig.cases]
        yield ("People", *(", ".join(p) or "nobody" for p in people))
    if rig.vehicle.fuel is not None and rig.vehicle.fuel.kind != "none":
        yield ("Vehicle fuel", *(fill(rig_view, case.fuel) for case in rig.cases))
    for name, words in ABOARD:
        found = [c.figures.get(name) for c in rig_view.assessment.computed.cases]
        if any(f is not None and f.value != 0.0 for f in found):
            yield (rig_view.say(f"{words}, weight"), *(rig_view.formatter.figure(f) for f in found))


def _gas(rig_view: RigView, case: Case, name: str) -> str:
    return "left at home" if name in case.without else fill(rig_view, case.cylinders.get(name))


def fill(rig_view: RigView, quantity: Quantity | None) -> str:
    """Write how full something is, as the owner said it: a share or a volume."""
    if quantity is None:
        return NOT_CHECKED
    if quantity.kind == "fraction":
        words = {0.0: "empty", 1.0: "full"}
        return words.get(quantity.si, f"{round(quantity.si * 100, 1):g}\u00a0%")
    return rig_view.formatter.value(quantity.si, quantity.kind)


STATES: dict[str, Level] = {"due": "close", "good": "within", "unknown": "unknown"}
ORDER = ("due", "unknown", "good")


def due(rig_view: RigView) -> Items:
    """Say what falls due on the day of the build, due things first, with the days for the reader's own clock."""
    found = sorted(rig_view.checklist.due, key=lambda d: ORDER.index(d.state))
    return Items(tuple(_due(rig_view, one) for one in found), style="due")


def _due(rig_view: RigView, one: Due) -> Item:
    title = rig_view.say(one.title)
    basis = f"Interval: {rig_view.say(one.interval)} ({'; '.join(one.basis)})."
    note = f"{basis} {upper_first(rig_view.say(one.note))}." if one.note else basis
    if one.state == "due":
        since = f"due since {day_words(one.since)}" if one.since else "due"
        return Item(title, note, since, "close", day=one.since.isoformat() if one.since else "")
    if one.state == "good":
        until = f"due by {day_words(one.until)}" if one.until else "good"
        return Item(title, note, until, "within", day=one.until.isoformat() if one.until else "")
    return Item(title, note, "date not known", "unknown", code=one.path)
