"""The loading card: what liquids weigh, what they do to the tongue, where heavy things go."""

from __future__ import annotations

from cardgen.physics.effects import effects
from cardgen.present import drawings
from cardgen.present.blocks import Block, Card, Drawing, Face, Paragraph, Table
from cardgen.present.cards import pieces
from cardgen.present.desk import Desk
from cardgen.present.format import NOT_CHECKED

_QUARTERS = (0.25, 0.5, 0.75, 1.0)


def card(desk: Desk) -> Card:
    """Make the loading card."""
    front: list[Block] = [pieces.banner(desk, 2)]
    wet = liquids(desk)
    if wet.rows:
        front.append(wet)
    view = drawings.side_view(desk)
    if view is not None:
        front.append(Drawing(view, "Where things are", "side view of the rig with tanks, cargo and loads"))
    front.append(
        Paragraph(desk.say("Heavy things low and near the axles, never at the ends; tie everything down."))
    )
    back: list[Block] = []
    chart = drawings.filling_chart(desk)
    if chart is not None:
        back.append(Drawing(chart, desk.say("{Coupling_load} against filling"), chart_words(desk)))
    carried = cargo(desk)
    back += [carried] if carried.rows else []
    back += [pieces.cases(desk), pieces.qr(desk, "l")]
    return pieces.frame(
        desk,
        "loading-card",
        "Loading card",
        (Face(tuple(front)),),
        tuple(back),
        desk.say("What moves the {coupling_load}"),
    )


def chart_words(desk: Desk) -> str:
    """The chart in words, for people who cannot see it."""
    parts = [
        f"{e.label} full: {signed(desk, e.tongue)}"
        for e in effects(desk.rig)
        if e.tongue is not None and e.sort in ("fresh", "waste", "liquid")
    ]
    return desk.say("change of {coupling_load} by tank: ") + "; ".join(parts)


def liquids(desk: Desk) -> Table:
    """Weight of each tank by quarters and what a full one does to the tongue."""
    rows: list[tuple[str, ...]] = []
    for effect in effects(desk.rig):
        if effect.sort not in ("fresh", "waste", "liquid", "gas"):
            continue
        if effect.full is None:
            rows.append((effect.label, *(NOT_CHECKED,) * 4, NOT_CHECKED))
            continue
        quarters = tuple(desk.shower.value(q * effect.full, "mass") for q in _QUARTERS)
        rows.append((effect.label, *quarters, signed(desk, effect.tongue)))
    head = ("Tank or cylinder", "1/4", "1/2", "3/4", "full", desk.say("{tongue_load}, full"))
    return Table("What liquids and gas weigh", head, tuple(rows), (1.5, 0.8, 0.8, 0.8, 0.8, 1.0))


def cargo(desk: Desk) -> Table:
    """Weight of each cargo item and what it does to the tongue."""
    rows = []
    for effect in effects(desk.rig):
        if effect.sort == "cargo":
            weight = NOT_CHECKED if effect.full is None else desk.shower.value(effect.full, "mass")
            rows.append((effect.label, weight, signed(desk, effect.tongue)))
    head = ("Cargo", "weight", desk.say("{on_tongue}"))
    return Table("What cargo does", head, tuple(rows), (1.6, 0.8, 1.0))


def signed(desk: Desk, value: float | None) -> str:
    """Write a change with its sign."""
    if value is None:
        return NOT_CHECKED
    shown = desk.shower.value(abs(value), "mass")
    return f"{'+' if value >= 0 else '−'}{shown}"
