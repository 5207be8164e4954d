"""Brakes, connector pins, lamps and labels as the report shows them."""

from __future__ import annotations

from cardgen.model.equipment import Plug
from cardgen.present.blocks import Align, Note, Table
from cardgen.present.format import NOT_CHECKED
from cardgen.present.page import PageBlock, PinRow, PlugDrawing
from cardgen.present.rig_view import RigView

LEFT: tuple[Align, ...] = ("left", "left", "left")


def brakes(rig_view: RigView) -> tuple[PageBlock, ...]:
    """Describe brakes, breakaway, controller and the lamps that the trailer must show."""
    computed = rig_view.assessment.computed
    blocks: list[PageBlock] = [Table("", (), tuple(_facts(rig_view)), (1.0, 1.3), LEFT)]
    lamps = _lamps(rig_view)
    if lamps is not None:
        blocks.append(lamps)
    elif computed.lamps is not None and computed.lamps.reason:
        reason = rig_view.say(computed.lamps.reason)
        blocks.append(Note(f"{reason[:1].upper()}{reason[1:]}."))
    return tuple(blocks)


def plugs(rig_view: RigView) -> tuple[PageBlock, ...]:
    """Draw the connectors of trailer and vehicle, each kind once, with what every pin does."""
    blocks: list[PageBlock] = []
    wiring = rig_view.assessment.computed.wiring
    for plug in {one.id: one for one in (wiring.vehicle, wiring.trailer) if one is not None}.values():
        if plug.pins:
            blocks += [_drawing(rig_view, plug), _pins(rig_view, plug)]
        elif plug.unknown:
            blocks.append(Note(rig_view.say(f"{plug.words}: {plug.unknown}.")))
    return tuple(blocks)


def _facts(rig_view: RigView) -> list[tuple[str, str]]:
    rig, show, wiring = rig_view.rig, rig_view.formatter, rig_view.assessment.computed.wiring
    stated, broken = rig.trailer.brakes, rig.trailer.breakaway
    kind = {
        None: NOT_CHECKED,
        "electric_hydraulic": "electric over hydraulic",
        "surge": "{surge_brakes}",
    }.get(stated.kind, str(stated.kind))
    rows = [("Trailer brakes", kind)]
    if stated.kind not in (None, "none"):
        rows.append(("Breakaway", yes(broken.fitted)))
    if stated.kind in ("electric", "electric_hydraulic"):
        rows.append(("Brake controller in the vehicle", yes(rig.vehicle.brake_controller.fitted)))
        gain = rig.vehicle.brake_controller.gain
        if gain is not None:
            rows.append(("Gain found by the owner's test", f"{gain:g}"))
    circuit, hold = wiring.brakes, wiring.breakaway
    if circuit is not None:
        rows.append((f"Current of {circuit.magnets} brake magnets", show.value(circuit.current, "current")))
        if circuit.drop is not None and circuit.at_magnets is not None:
            lost, left = show.value(circuit.drop, "voltage"), show.value(circuit.at_magnets, "voltage")
            rows.append(("Lost in the brake feed", f"{lost}; {left} at the magnets"))
        elif circuit.needs:
            rows.append(("Lost in the brake feed", f"{NOT_CHECKED}: {show.needs(circuit.needs)}"))
    if hold is not None:
        battery = show.value(hold.battery, "charge") if hold.battery is not None else NOT_CHECKED
        rows.append(("Breakaway battery", f"{battery}; holding takes {show.value(hold.charge, 'charge')}"))
    rows.append(("Plug on the trailer", rig_view.plug(rig.trailer.connector)))
    rows.append(("Socket on the vehicle", rig_view.plug(rig.vehicle.connector)))
    return [(rig_view.say(a), rig_view.say(b)) for a, b in rows]


def yes(flag: bool | None) -> str:
    """Write a flag."""
    return NOT_CHECKED if flag is None else "fitted" if flag else "not fitted"


def _pins(rig_view: RigView, plug: Plug) -> Table:
    color = color_word(rig_view)
    rows = tuple(
        (rig_view.say(p.at), rig_view.say(p.does), " or ".join(p.colours) or "not published")
        for p in plug.pins
    )
    note = (
        f"View: {plug.view}. {color.capitalize()}s differ between makers and prove nothing: go by the "
        f"place. Source: {plug.source}."
    )
    head = ("Place", "Does", f"Usual {color}")
    return Table(plug.words, head, rows, (0.8, 1.6, 1.2), ("left", "left", "left"), rig_view.say(note))


def color_word(rig_view: RigView) -> str:
    """Spell color as the reader does."""
    return "color" if rig_view.rig.market == "us" else "colour"


def _drawing(rig_view: RigView, plug: Plug) -> PlugDrawing:
    pins = tuple(PinRow(rig_view.say(p.at), rig_view.say(p.does)) for p in plug.pins)
    shape = (
        "round" if any("o'clock" in p.at for p in plug.pins) else "row" if "flat" in plug.id else "numbers"
    )
    alt = f"{plug.words}, {plug.view}; the table below names its pins"
    return PlugDrawing(shape, pins, plug.words, f"View: {plug.view}", alt)


def _lamps(rig_view: RigView) -> Table | None:
    plan = rig_view.assessment.computed.lamps
    if plan is None or not plan.lamps or rig_view.rig.alone == "vehicle":
        return None
    show = rig_view.formatter

    def height(low: float | None, high: float | None) -> str:
        ends = [show.value(v, "dimension") for v in (low, high) if v is not None]
        return " to ".join(ends) if len(ends) == 2 else f"from {ends[0]}" if ends else ""

    rows = tuple(
        (
            rig_view.say(lamp.does),
            rig_view.say(f"{lamp.count}, {lamp.colour}"),
            rig_view.say(lamp.place),
            height(lamp.low, lamp.high),
        )
        for lamp in plan.lamps
    )
    head = ("Lamp", f"Count, {color_word(rig_view)}", "Place", "Height")
    title = "Lamps a trailer of this width and length must show"
    return Table(title, head, rows, (1.2, 0.9, 1.4, 1.0), ("left", "left", "left", "left"))


def labels(rig_view: RigView) -> Table | None:
    """Write the arithmetic of placard and cargo labels."""
    lines = rig_view.assessment.computed.labels
    if not lines:
        return None
    rows = tuple(
        (
            rig_view.say(x.label),
            x.copied or f"{rig_view.formatter.value(abs(x.value), x.kind)}{' over' if x.value < 0.0 else ''}",
            rig_view.say(x.formula),
        )
        for x in lines
    )
    sources = "; ".join(dict.fromkeys(rig_view.say(x.source) for x in lines))
    return Table(
        "Placard and labels",
        ("", "Value", "How it follows"),
        rows,
        (1.8, 0.9, 1.4),
        ("left", "right", "left"),
        f"Sources: {sources}.",
    )
