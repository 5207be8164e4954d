"""Rig-wide hitch height figures."""

from __future__ import annotations

from cardgen.model.results import Figure, Term
from cardgen.model.rig import Rig
from cardgen.physics import figures, hitch
from cardgen.physics.needs import need

GEOMETRY = "plane geometry"


def rig_figures(rig: Rig) -> dict[str, Figure]:
    """Return ``drop_needed`` and ``ball_height_needed`` [m] for ball couplings, else nothing."""
    if rig.trailer.type != "ball":
        return {}
    coupler, receiver, ball = rig.trailer.coupler, rig.vehicle.receiver, rig.gear.ball
    needs = []
    if receiver is None or receiver.height is None:
        needs.append(need("vehicle.receiver.height"))
    if coupler.height is None:
        needs.append(need("trailer.coupler.height"))
    if coupler.height_at not in ("ball_top", "lower_lip"):
        needs.append(need("trailer.coupler.height_at"))
    ball_height = ball.height if ball else None
    if coupler.height_at == "ball_top" and ball_height is None:
        needs.append(need("gear.ball.height"))
    out = {"ball_height_needed": _ball_top(rig)}
    if receiver is not None and receiver.fixed_ball:
        return out
    drop, terms = None, []
    if not needs and receiver and receiver.height and coupler.height and coupler.height_at:
        high = ball_height.si if ball_height else 0.0
        drop = hitch.needed_drop(receiver.height.si, coupler.height.si, high, coupler.height_at)
        terms = [
            Term(
                "h_r",
                "receiver top inside",
                receiver.height.si,
                "length",
                "vehicle.receiver.height",
            ),
            Term("c", "level coupler height", coupler.height.si, "length", "trailer.coupler.height"),
        ]
        if coupler.height_at == "ball_top":
            terms.append(Term("b", "ball height", high, "length", "gear.ball.height"))
    formula = "drop = h_r - c + b" if coupler.height_at == "ball_top" else "drop = h_r - c"
    out["drop_needed"] = figures.derived(
        "drop_needed",
        "drop the ball mount needs (negative: rise)",
        "length",
        drop,
        formula,
        terms,
        GEOMETRY,
        needs,
    )
    return out


def _ball_top(rig: Rig) -> Figure:
    """Height of the ball's top when the trailer stands level [m]."""
    coupler, ball = rig.trailer.coupler, rig.gear.ball
    needs = [] if coupler.height else [need("trailer.coupler.height")]
    value, terms = None, []
    if coupler.height_at is None:
        needs.append(need("trailer.coupler.height_at"))
    if coupler.height is not None:
        terms = [Term("c", "level coupler height", coupler.height.si, "length", "trailer.coupler.height")]
    if coupler.height is not None and coupler.height_at == "ball_top":
        value = coupler.height.si
    elif coupler.height is not None and coupler.height_at == "lower_lip":
        if ball is None or ball.height is None:
            needs.append(need("gear.ball.height"))
        else:
            value = coupler.height.si + ball.height.si
            terms.append(Term("b", "ball height", ball.height.si, "length", "gear.ball.height"))
    return figures.derived(
        "ball_height_needed",
        "top of the ball when the trailer is level",
        "length",
        value,
        "c or c + b",
        terms,
        GEOMETRY,
        needs,
    )
