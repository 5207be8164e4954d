"""Everything about equipment that follows from the figures, put beside them."""

from __future__ import annotations

from dataclasses import replace

from cardgen.model.equipment import PinUse, Plug, Wiring
from cardgen.model.results import Computed
from cardgen.model.rig import Rig
from cardgen.physics import brakes, heights, labels, strip
from cardgen.tables.connectors import connector
from cardgen.tables.lamps import LampPlan, lamps_required
from cardgen.tables.lookup import TableError
from cardgen.tables.sources import source


def equip(computed: Computed, *, deep: bool = True) -> Computed:
    """Add pressure strips [Pa, K], ball mounts [m], wiring [V, A], lamps and label figures [kg].

    Args:
        computed: figures of the cases and rig-wide figures (SI).
        deep: whether to add the pressure strips, which no check looks at [-].

    Source: see the functions it calls.
    """
    rig = computed.rig
    circuit = brakes.circuit(rig)
    wiring = Wiring(plug(rig, "trailer"), plug(rig, "vehicle"), circuit, brakes.breakaway_hold(rig, circuit))
    return replace(
        computed,
        strips=strip.strips(computed) if deep else {},
        mounts=heights.mount_options(computed, computed.figures),
        wiring=wiring,
        lamps=lamps(rig),
        labels=labels.lines(computed),
    )


def plug(rig: Rig, side: str) -> Plug | None:
    """Pins of the trailer's plug or the vehicle's socket by place and function; None when not stated.

    Args:
        rig: the rig.
        side: ``trailer`` or ``vehicle`` [-].

    Source: ``cardgen.tables.connectors``.
    """
    name = rig.trailer.connector if side == "trailer" else rig.vehicle.connector
    if name is None:
        return None
    found = connector(name)
    pins = tuple(PinUse(pin.at, pin.does, pin.colours) for pin in found.pins)
    return Plug(side, found.id, found.words, found.view, pins, found.unknown, source(found.source).words())


def lamps(rig: Rig) -> LampPlan | None:
    """Lamps and reflectors a trailer of this width and length must show; None for absurd sizes.

    Args:
        rig: with ``trailer.dimensions`` [m].

    Source: ``cardgen.tables.lamps``.
    """
    width, length = rig.trailer.dimensions.width, rig.trailer.dimensions.length
    try:
        return lamps_required(width.si if width else None, length.si if length else None, rig.market)
    except TableError:
        return None
