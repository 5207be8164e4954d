"""The drawings of the report with their titles and what they say to those who cannot see them."""

from __future__ import annotations

from cardgen.present import drawings
from cardgen.present.blocks import Drawing
from cardgen.present.page import View
from cardgen.present.rig_view import RigView


def rig_drawings(rig_view: RigView) -> View | None:
    """Draw the rig as far as its lengths are known; None when they are not."""
    found: list[Drawing] = []
    side = drawings.side_view(rig_view)
    if side is not None:
        said = ", ".join(arrow.label for arrow in side.loads)
        found.append(Drawing(side, "From the side", f"{rig_view.rig.nickname} from the side: {said}"))
    top = drawings.top_view(rig_view)
    if top is not None:
        words = top.note or f"{top.left_label}, {top.right_label}"
        alt = f"{rig_view.rig.nickname}'s trailer from above, front at the left. {words}"
        found.append(Drawing(top, "From above", alt))
    return (
        View("drawings", "The rig to scale", tuple(found), "from the side and from above") if found else None
    )


def hitch_drawing(rig_view: RigView) -> Drawing | None:
    """Draw the heights at the hitch that make the trailer level."""
    view = drawings.hitch_geometry(rig_view)
    if view is None:
        return None
    alt = (
        f"{rig_view.say('{Hitch} from the side: {receiver}')} at {view.receiver_label}, {view.drop_label}, "
        f"ball top at {view.ball_label}"
    )
    return Drawing(view, rig_view.say("Heights at the {hitch} that make the trailer level"), alt)


def band(rig_view: RigView) -> Drawing | None:
    """Draw the largest tongue weight on its band."""
    view = drawings.band_gauge(rig_view)
    if view is None:
        return None
    title = rig_view.say("Largest {coupling_load} on its band")
    return Drawing(view, title, f"{title}: {view.value_label}, band {view.low_label} to {view.high_label}")


def filling(rig_view: RigView) -> Drawing | None:
    """Draw tongue weight against the filling of each tank."""
    view = drawings.filling_chart(rig_view)
    if view is None:
        return None
    ends = "; ".join(
        f"{curve.label} from {curve.points[0][1]:,.0f} to {curve.points[-1][1]:,.0f}" for curve in view.curves
    )
    return Drawing(view, rig_view.say("{Coupling_load} against filling"), f"{view.axis}: {ends}")
