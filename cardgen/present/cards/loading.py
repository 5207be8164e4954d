"""The loading card: what liquids weigh, what they do to the tongue, where heavy things go."""

from __future__ import annotations

from cardgen.physics.effects import effects
from cardgen.present import drawings
from cardgen.present.blocks import Block, Card, Drawing, Face, Paragraph, Table
from cardgen.present.cards import pieces
from cardgen.present.format import NOT_CHECKED
from cardgen.present.rig_view import RigView

_QUARTERS = (0.25, 0.5, 0.75, 1.0)


def card(rig_view: RigView) -> Card:
    """Make the loading card."""
    front: list[Block] = [pieces.banner(rig_view, 2)]
    wet = liquids(rig_view)
    if wet.rows:
        front.append(wet)
    view = drawings.side_view(rig_view)
    if view is not None:
        front.append(Drawing(view, "Where things are", "side view of the rig with tanks, cargo and loads"))
    front.append(
        Paragraph(
            rig_view.say("Heavy things low and near the axles, never at the ends; tie everything down.")
        )
    )
    back: list[Block] = []
    chart = drawings.filling_chart(rig_view)
    if chart is not None:
        back.append(Drawing(chart, rig_view.say("{Coupling_load} against filling"), chart_words(rig_view)))
    carried = cargo(rig_view)
    back += [carried] if carried.rows else []
    back += [pieces.cases(rig_view), pieces.qr(rig_view, "l")]
    return pieces.frame(
        rig_view,
        "loading-card",
        "Loading card",
        (Face(tuple(front)),),
        tuple(back),
        rig_view.say("What moves the {coupling_load}"),
    )


def chart_words(rig_view: RigView) -> str:
    """The chart in words, for people who cannot see it."""
    parts = [
        f"{e.label} full: {signed(rig_view, e.tongue)}"
        for e in effects(rig_view.rig)
        if e.tongue is not None and e.sort in ("fresh", "waste", "liquid")
    ]
    return rig_view.say("change of {coupling_load} by tank: ") + "; ".join(parts)


def liquids(rig_view: RigView) -> Table:
    """Weight of each tank by quarters and what a full one does to the tongue."""
    rows: list[tuple[str, ...]] = []
    for effect in effects(rig_view.rig):
        if effect.sort not in ("fresh", "waste", "liquid", "gas"):
            continue
        if effect.full is None:
            rows.append((effect.label, *(NOT_CHECKED,) * 4, NOT_CHECKED))
            continue
        quarters = tuple(rig_view.formatter.value(q * effect.full, "mass") for q in _QUARTERS)
        rows.append((effect.label, *quarters, signed(rig_view, effect.tongue)))
    head = ("Tank or cylinder", "1/4", "1/2", "3/4", "full", rig_view.say("{tongue_load}, full"))
    return Table("What liquids and gas weigh", head, tuple(rows), (1.5, 0.8, 0.8, 0.8, 0.8, 1.0))


def cargo(rig_view: RigView) -> Table:
    """Weight of each cargo item and what it does to the tongue."""
    rows = []
    for effect in effects(rig_view.rig):
        if effect.sort == "cargo":
            weight = NOT_CHECKED if effect.full is None else rig_view.formatter.value(effect.full, "mass")
            rows.append((effect.label, weight, signed(rig_view, effect.tongue)))
    head = ("Cargo", "weight", rig_view.say("{on_tongue}"))
    return Table("What cargo does", head, tuple(rows), (1.6, 0.8, 1.0))


def signed(rig_view: RigView, value: float | None) -> str:
    """Write a change with its sign."""
    if value is None:
        return NOT_CHECKED
    shown = rig_view.formatter.value(abs(value), "mass")
    return f"{'+' if value >= 0 else '−'}{shown}"
