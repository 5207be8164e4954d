"""The wallet card: the ten numbers."""

from __future__ import annotations

from cardgen.present.blocks import Card, Face, Heading, KeyNumber, KeyNumbers, Qr
from cardgen.present.cards import pieces
from cardgen.present.format import NOT_CHECKED
from cardgen.present.rig_view import RigView


def card(rig_view: RigView) -> Card:
    """Make the wallet card: ten numbers on one face, the QR code on the other."""
    rig, show = rig_view.rig, rig_view.formatter
    size = rig.trailer.dimensions
    ball = rig.gear.ball.diameter if rig.gear.ball else None
    torque = rig.trailer.wheel_torque
    rows = (
        (rig_view.say("{Coupling_load}"), rig_view.shown("tongue_weight_max"), rig_view.plates(brief=True)),
        (
            "Empty trailer" if rig_view.assessment.computed.unloaded else "Loaded trailer",
            rig_view.shown("trailer_weight_max"),
        ),
        ("Allowed trailer", rig_view.shown("allowed_trailer")),
        (rig_view.say("Trailer tires"), rig_view.shown("pressure_trailer")),
        ("Vehicle front", rig_view.shown("pressure_front")),
        ("Vehicle rear", rig_view.shown("pressure_rear")),
        ("Wheel nuts", show.value(torque.si, "torque") if torque else "manual"),
        ("Ball", show.ball(ball.si) if ball else "-" if rig.trailer.type == "fifth_wheel" else NOT_CHECKED),
        ("Height", show.value(size.height.si, "dimension") if size.height else NOT_CHECKED),
        ("Width", show.value(size.width.si, "dimension") if size.width else NOT_CHECKED),
    )
    front = Face((KeyNumbers("", tuple(KeyNumber(*row) for row in rows)),))
    heads = tuple(
        Heading(banner.title) for banner in pieces.stop(rig_view)
    )  # a frame would take a further face
    back = Face((*heads, _code(rig_view)))
    return pieces.frame(rig_view, "wallet-card", "Wallet card", (front, back))


def _code(rig_view: RigView) -> Qr:
    return pieces.qr(rig_view, "w", f"{rig_view.rig.nickname}, revision {rig_view.edition.revision}")
