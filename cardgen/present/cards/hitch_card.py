"""The hitch card: everything the shop counter asks for."""

from __future__ import annotations

from cardgen.physics.allowances import OWN_RATING, tongue_parts
from cardgen.present import drawings
from cardgen.present.blocks import Block, Card, Drawing, Face, Table
from cardgen.present.cards import pieces
from cardgen.present.format import NOT_CHECKED
from cardgen.present.rig_view import RigView
from cardgen.units import Quantity

_TONGUE = {"vehicle {tow_rating}": "vehicle {tongue_rating}"}
"""Parts whose rating for the tongue weight goes by another name."""


def card(rig_view: RigView) -> Card:
    """Make the hitch card."""
    stop = pieces.stop_line(rig_view)  # it takes the place of the code
    front = (*stop, pieces.hitch(rig_view), sizes(rig_view), *(() if stop else (pieces.qr(rig_view, "h"),)))
    back: list[Block] = [ratings(rig_view)]
    view = drawings.hitch_geometry(rig_view)
    if view is not None:
        said = (
            f"{rig_view.say('{receiver}')} {view.receiver_label}, ball {view.ball_label}, {view.drop_label}"
        )
        back.append(Drawing(view, "Heights", said))
    name = rig_view.say("{Hitch} card")
    aside = f"{rig_view.rig.nickname}, {name.lower()}"
    faces = (Face(front, spare=0 if stop else 1), Face(tuple(back), "Ratings", aside, spare=len(back) - 1))
    return pieces.frame(rig_view, "hitch-card", name, faces)


def _shown(rig_view: RigView, quantity: Quantity | None, kind: str) -> str:
    return NOT_CHECKED if quantity is None else rig_view.formatter.value(quantity.si, kind)


def sizes(rig_view: RigView) -> Table:
    """Sizes of ball, shank, opening, chains and plug."""
    rig = rig_view.rig
    rows: list[tuple[str, str]] = []
    if rig.trailer.type != "fifth_wheel":
        ball, mount = rig.gear.ball, rig.gear.mount
        fixed = rig.vehicle.receiver is not None and rig.vehicle.receiver.fixed_ball
        if not fixed and rig.trailer.type == "ball":
            rows.append(("Ball shank", _shown(rig_view, ball.shank if ball else None, "ball")))
            rows.append(("Mount shank", _shown(rig_view, mount.shank if mount else None, "ball")))
            opening = rig.vehicle.receiver.opening if rig.vehicle.receiver else None
            rows.append(("{Receiver} opening", _shown(rig_view, opening, "ball")))
        torque = ball.torque if ball else None
        rows.append(
            ("Ball nut torque", _shown(rig_view, torque, "torque") if torque else "ball maker's figure")
        )
        count = rig.trailer.chains.count
        if count:
            strength = rig.trailer.chains.strength
            shown = _shown(rig_view, strength, strength.kind) if strength else NOT_CHECKED
            rows.append(("{Safety_chains}", f"{count}, each {shown} breaking"))
    rows.append(("Trailer plug", rig_view.plug(rig.trailer.connector)))
    rows.append(("Vehicle socket", rig_view.plug(rig.vehicle.connector)))
    said = tuple((rig_view.say(a), rig_view.say(b)) for a, b in rows)
    return Table("Sizes", (), said, (1.0, 1.4), ("left", "right"))


def ratings(rig_view: RigView) -> Table:
    """Trailer and tongue rating of every part, lowest trailer first."""
    show = rig_view.formatter
    tongues = {part: q for part, q, _ in tongue_parts(rig_view.rig)}
    rows = []
    for allowance in rig_view.assessment.computed.allowances:
        if allowance.formula != OWN_RATING:
            continue
        trailer = NOT_CHECKED if allowance.trailer is None else show.value(allowance.trailer, "mass")
        part = _TONGUE.get(allowance.part, allowance.part)
        shown = (
            _shown(rig_view, tongues[part], "mass") if part in tongues else "-"
        )  # a GVWR has none beside it
        rows.append((rig_view.say(allowance.part), trailer, shown))
    head = ("Part", "trailer", rig_view.say("{coupling_load}"))
    note = "Only the lowest rating counts."
    return Table("", head, tuple(rows), (1.4, 0.9, 1.0), note=note, strong=(0,))
