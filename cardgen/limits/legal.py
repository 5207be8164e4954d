"""Checks of equipment against the rules of the places travelled: brakes, breakaway, controller, surge."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.limits.compare import plain
from cardgen.limits.registry import Context, rule, unknown
from cardgen.model.results import Basis, Finding, Need, Outcome
from cardgen.physics.needs import need

ELECTRIC = ("electric", "electric_hydraulic")


@rule(
    "brake-controller",
    "electric brakes have a controller",
    Basis.PHYSICS,
    "electric brakes do nothing without one",
    "Electric trailer brakes are worked from the vehicle by a brake controller. It is set by a test on the road "
    "for the load of the day.",
)
def brake_controller(context: Context) -> Iterable[Finding]:
    """Say whether a controller is fitted when the trailer has electric brakes [-]."""
    if context.rig.trailer.brakes.kind not in ELECTRIC:
        return
    has = context.rig.vehicle.brake_controller.fitted
    if has is None:
        yield unknown("brake-controller", (need("vehicle.brake_controller.fitted"),))
    elif has:
        yield plain("brake-controller", Outcome.WITHIN, "a brake controller is fitted")
    else:
        yield plain(
            "brake-controller", Outcome.OVER, "electric brakes, but no brake controller in the vehicle"
        )


@rule(
    "brakes-known",
    "the kind of brakes is known",
    Basis.GUIDANCE,
    "needed by the rules of the places travelled",
    "Whether brakes are required depends on the place and on the loaded trailer; the file must say what is fitted.",
)
def brakes_known(context: Context) -> Iterable[Finding]:
    """Ask for the kind of brakes when the file does not say it [-]."""
    if context.rig.trailer.brakes.kind is None:
        yield unknown("brakes-known", (need("trailer.brakes.kind"),))


def places_need() -> Need:
    """Return the need for the list of places travelled."""
    return need("places")
