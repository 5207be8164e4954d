"""The wallet card: the ten numbers."""

from __future__ import annotations

from cardgen.present.blocks import Card, Face, Heading, KeyNumber, KeyNumbers, Qr
from cardgen.present.cards import pieces
from cardgen.present.desk import Desk
from cardgen.present.format import NOT_CHECKED


def card(desk: Desk) -> Card:
    """Make the wallet card: ten numbers on one face, the QR code on the other."""
    rig, show = desk.rig, desk.shower
    size = rig.trailer.dimensions
    ball = rig.gear.ball.diameter if rig.gear.ball else None
    torque = rig.trailer.wheel_torque
    rows = (
        (desk.say("{Coupling_load}"), desk.shown("tongue_weight_max")),
        (
            "Empty trailer" if desk.assessment.computed.unloaded else "Loaded trailer",
            desk.shown("trailer_weight_max"),
        ),
        ("Allowed trailer", desk.shown("allowed_trailer")),
        (desk.say("Trailer tires"), desk.shown("pressure_trailer")),
        ("Vehicle front", desk.shown("pressure_front")),
        ("Vehicle rear", desk.shown("pressure_rear")),
        ("Wheel nuts", show.value(torque.si, "torque") if torque else "manual"),
        ("Ball", show.ball(ball.si) if ball else "-" if rig.trailer.type == "fifth_wheel" else NOT_CHECKED),
        ("Height", show.value(size.height.si, "dimension") if size.height else NOT_CHECKED),
        ("Width", show.value(size.width.si, "dimension") if size.width else NOT_CHECKED),
    )
    front = Face((KeyNumbers("", tuple(KeyNumber(label, value) for label, value in rows)),))
    heads = tuple(Heading(banner.title) for banner in pieces.stop(desk))  # a frame would take a further face
    back = Face((*heads, _code(desk)))
    return pieces.frame(desk, "wallet-card", "Wallet card", (front, back))


def _code(desk: Desk) -> Qr:
    return pieces.qr(desk, "w", f"{desk.rig.nickname}, revision {desk.edition.revision}")
