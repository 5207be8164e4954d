"""A trailer behind a heavy vehicle, for the tests of the rules of places."""

from __future__ import annotations

from dataclasses import replace

from cardgen.tables.exact import POUND, si
from cardgen.tables.facts import Facts

HEAVY_TOW = Facts(tow_gross=20000 * POUND, tow_axles=20000 * POUND, tow_unladen=4000.0)


def rig(pounds: float, body: str = "travel_trailer", mph: float = 60.0) -> Facts:
    """A trailer of some gross weight behind a heavy vehicle."""
    return replace(
        HEAVY_TOW,
        gross=pounds * POUND,
        gvwr=pounds * POUND,
        registered_gross=pounds * POUND,
        trailer_year=2015.0,
        trailer_axles=0.9 * pounds * POUND,
        body=body,
        planned_speed=si(f"{mph} mph"),
    )


# --- the table itself -------------------------------------------------------------------
