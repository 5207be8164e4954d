"""Tires, hitch, brakes and wiring as the report shows them."""

from __future__ import annotations

from cardgen.model.results import TirePlan
from cardgen.model.tires import Tire as ModelTire
from cardgen.present.blocks import Block, Table
from cardgen.present.format import NOT_CHECKED
from cardgen.present.levels import Level
from cardgen.present.page import Fold, Item, Items, PageBlock
from cardgen.present.report_checks import upper_first
from cardgen.present.report_drawings import hitch_drawing
from cardgen.present.rig_view import RigView
from cardgen.units import Quantity, in_us

PLACES = {
    "trailer": "Trailer tires",
    "front": "Vehicle front tires",
    "rear": "Vehicle rear tires",
    "spare": "Trailer spare",
}
STATUS: dict[str, tuple[str, Level]] = {
    "overloaded": ("overloaded: no pressure helps", "over"),
    "conflict": ("no safe pressure: limits contradict", "over"),
    "unconfirmed": ("not checked: placard not confirmed", "unknown"),
    "unknown": (NOT_CHECKED, "unknown"),
}
LEVEL = 0.0015
"""Height error that still prints as level [m]."""


def tires(rig_view: RigView) -> tuple[Fold, ...]:
    """Describe the tires of every place: pressure, load, capacity, reasons."""
    made = []
    for place, title in PLACES.items():
        plan = rig_view.tire(place)
        if plan is not None:
            made.append(_tire(rig_view, place, rig_view.say(title), plan))
    return tuple(made)


def fitted(rig_view: RigView, place: str) -> ModelTire | None:
    """Return the tire at a place."""
    rig = rig_view.rig
    stated: dict[str, ModelTire | None] = {
        "trailer": rig.trailer.tires,
        "front": rig.vehicle.tires.front,
        "rear": rig.vehicle.tires.rear,
        "spare": rig.trailer.spare,
    }
    return stated[place]


def _tire(rig_view: RigView, place: str, title: str, plan: TirePlan) -> Fold:
    show = rig_view.formatter.at(place)
    tire = fitted(rig_view, place)
    level: Level
    if plan.pressure is not None and plan.status == "set":
        pressure, level = f"{show.value(plan.pressure, 'pressure')} cold", "within"
    else:
        pressure, level = STATUS.get(plan.status, (NOT_CHECKED, "unknown"))
        if place == "spare" and level == "over":
            level = "close"  # it is carried, not driven on
    facts: list[tuple[str, str]] = []

    def add(label: str, si: float | None, kind: str) -> None:
        if si is not None:
            facts.append((label, show.value(si, kind)))

    if tire is not None and tire.size:
        facts.append(("Size", f"{tire.size} {tire.load_range or ''}".strip()))
    add("Heavier wheel carries", plan.wheel_load, "mass")
    add("One tire may carry", plan.capacity, "mass")
    add("Least pressure for that load", plan.minimum, "pressure")
    add("Highest pressure allowed", plan.ceiling, "pressure")
    if plan.divisor > 1.0:
        facts.append(("Rating divided by", f"{plan.divisor:.2f}"))
    if plan.case:
        facts.append(("Worst loading case", plan.case))
    if tire is not None and tire.date_code:
        facts.append(("Date code", tire.date_code))
    reasons = (*(rig_view.say(r) for r in plan.reasons), *(rig_view.say(show.need(n)) for n in plan.needs))
    rows = tuple((rig_view.say(a), b) for a, b in facts)
    table = strip(rig_view, place)
    blocks: list[PageBlock] = [Table("", (), rows)]
    blocks += [Items(tuple(map(Item, reasons)))] if reasons else []
    blocks += [table] if table is not None else []
    return Fold(title, tuple(blocks), "", level, pressure)


def strip(rig_view: RigView, place: str) -> Table | None:
    """Write what the gauge shows at other temperatures, and after a climb."""
    found = rig_view.assessment.computed.strips.get(place)
    if found is None or place == "spare":
        return None
    show = rig_view.formatter.at(place)
    rule = in_us("temperature", show.system)  # the rule of thumb is in its degrees
    head = (rig_view.say("Outside"), rig_view.say("A tire set right reads"), "1 psi per 10 °F would say")
    rows = tuple(
        (show.value(row.temperature, "temperature"), show.value(row.reads, "pressure"))
        + ((show.value(row.rule, "pressure"),) if rule else ())
        for row in found.rows
    )
    climb = found.altitudes[-1] if found.altitudes else None
    note = f"Set at {show.value(found.reference, 'temperature')}." + (
        f" {upper_first(found.note)}." if rule else ""
    )
    if climb is not None:
        high = (
            f"{show.display(climb.altitude, 'length') / (12 if in_us('length', show.system) else 1000):,.0f}"
        )
        unit = "ft" if in_us("length", show.system) else "m"
        note += (
            f" After a climb of {high}\u00a0{unit} the gauge reads {show.value(climb.rise, 'pressure')} more."
        )
    return Table(
        rig_view.say("Cold pressure and temperature"),
        head[: len(rows[0])],
        rows,
        (1,) * len(rows[0]),
        note=rig_view.say(note),
    )


def _rating(rig_view: RigView, quantity: Quantity | None) -> str:
    return rig_view.formatter.value(quantity.si, quantity.kind) if quantity is not None else "not stated"


def hitch(rig_view: RigView) -> tuple[Block, ...]:
    """Describe ball, mount, coupler, heights, ratings and chains."""
    rig, show = rig_view.rig, rig_view.formatter
    gear, coupler = rig.gear, rig.trailer.coupler
    rows: list[tuple[str, str]] = []
    ball, mount = gear.ball, gear.mount

    def height(label: str, si: float | None) -> None:
        if si is not None:
            rows.append((label, show.value(abs(si), "height") + (" rise" if si < 0 else "")))

    if ball is not None and ball.diameter is not None:
        rows.append(("Ball", f"{show.ball(ball.diameter.si)}, rated {_rating(rig_view, ball.rating)}"))
    if coupler.ball is not None:
        rows.append(("{Coupler} is for a ball of", show.ball(coupler.ball.si)))
    if coupler.height is not None:
        at = {"ball_top": "to the inside top", "lower_lip": "to the lower lip", "plate": "to the pin plate"}
        where = f" ({at[coupler.height_at]})" if coupler.height_at else ""
        rows.append(("{Coupler} height, trailer level", show.value(coupler.height.si, "height") + where))
    if rig.vehicle.receiver is not None and rig.vehicle.receiver.height is not None:
        rows.append(("{Receiver} height", show.value(rig.vehicle.receiver.height.si, "height")))
    needed = rig_view.figure("drop_needed")
    if needed is not None:
        height("Drop needed", needed.value) if needed.value is not None else rows.append(
            ("Drop needed", f"{NOT_CHECKED}: {show.needs(needed.needs)}")
        )
    if mount is not None and mount.drop is not None:
        height("Drop of the {ball_mount} fitted", mount.drop.si)
    for words, torque in (
        ("Ball nut", ball.torque if ball else None),
        ("Wheel nuts", rig.trailer.wheel_torque),
    ):
        if torque is not None:
            rows.append((words, show.value(torque.si, "torque")))
    chains = rig.trailer.chains
    if chains.count is not None and chains.strength is not None:
        marked = f", marked {chains.grade}" if chains.grade else ""
        strength = _rating(rig_view, chains.strength)
        rows.append(("Safety chains", f"{chains.count}, each {strength} breaking strength{marked}"))
    mounts = rig_view.assessment.computed.mounts
    if gear.weight_distribution is not None and gear.weight_distribution.links:
        rows.append(("Bar setting", gear.weight_distribution.links))
    said = [(rig_view.say(a), rig_view.say(b)) for a, b in rows]
    said[:0] = (
        [(rig_view.say("{Hitch} set"), gear.name)] if gear.name else []
    )  # the owner's words stay as they are
    table = Table("", (), tuple(said), (1.0, 1.3), ("left", "left"))
    drawing = hitch_drawing(rig_view)
    blocks: list[Block] = [*((drawing,) if drawing else ()), *((table,) if said else ())]
    if len(mounts) > 1:
        blocks.append(_mounts(rig_view))
    return tuple(blocks)


def _mounts(rig_view: RigView) -> Table:
    """Compare the ball mounts on the shelf."""
    show, rows = rig_view.formatter, []
    for one in rig_view.assessment.computed.mounts:
        drop = NOT_CHECKED if one.drop is None else show.value(abs(one.drop), "height")
        off = NOT_CHECKED
        if one.error is not None:
            word = "high" if one.error > 0 else "low"
            off = "level" if abs(one.error) < LEVEL else f"{show.value(abs(one.error), 'height')} {word}"
        against = "; ".join(map(rig_view.say, one.obstacles)) or "nothing"
        name = rig_view.say(one.name) if one.name.startswith("{") else one.name
        rows.append((name + (", fitted" if one.fitted else ""), drop, off, against))
    head = (rig_view.say("{Ball_mount}"), "Drop", "Ball would stand", "Against it")
    return Table(
        rig_view.say("{Ball_mounts}"),
        head,
        tuple(rows),
        (1.2, 0.7, 1, 1.4),
        ("left", "right", "right", "left"),
    )
