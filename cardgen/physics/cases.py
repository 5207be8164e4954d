"""Figures of one loading case, each with its standard uncertainty."""

from __future__ import annotations

from cardgen.model.results import CaseResult, Figure
from cardgen.physics import axles, figures
from cardgen.physics.engaged import engaged
from cardgen.physics.footing import Footing
from cardgen.physics.loads import Aboard, case_aboard
from cardgen.physics.sway import indicators
from cardgen.physics.uncertainty import with_u

_ABOARD = (
    ("water_weight", "fresh water aboard", ("fresh",)),
    ("waste_weight", "waste aboard", ("waste",)),
    ("gas_weight", "LP gas aboard", ("gas",)),
    ("cargo_weight", "cargo aboard the trailer", ("cargo",)),
    ("label_cargo", "cargo and liquids aboard the trailer", ("cargo", "fresh", "waste", "liquid")),
    ("label_cargo_old", "cargo and waste aboard the trailer", ("cargo", "waste", "liquid")),
)


def case_result(footing: Footing, index: int) -> CaseResult:
    """Work out all figures of one loading case [SI], with uncertainty.

    Args:
        footing: the model (masses [kg], arms [m]).
        index: number of the case, from 0 [-].

    Source: see the functions it calls.
    """
    now = case_aboard(footing.rig, footing.rig.cases[index], index)
    made = case_figures(footing, now)
    name = footing.rig.cases[index].name
    sway = indicators(footing, name, now, made["tongue_share"].value)
    return CaseResult(name, with_u(footing, now, made), now.shares, sway)


def case_figures(footing: Footing, now: Aboard) -> dict[str, Figure]:
    """Work out the figures of what is aboard now [SI], without uncertainty.

    Args:
        footing: the model (masses [kg], arms [m]).
        now: what is aboard (shares [-]).

    Source: see the functions it calls.
    """
    rig, loads = footing.rig, footing.loads
    made = {k: figures.figure(k, form, loads, now, footing.state) for k, form in footing.forms.items()}
    made["tongue_share"] = figures.ratio(
        "tongue_share",
        "{coupling_load} as a share of the loaded trailer",
        made["tongue_weight"],
        made["trailer_weight"],
        "T / W",
        figures.STATICS,
    )
    for key, words, sorts in _ABOARD:
        made[key] = figures.aboard_mass(key, words, sorts, loads, now)
    made["occupant_weight"] = figures.aboard_mass(
        "occupant_weight", "people in the vehicle", ("person",), loads, now, "vehicle"
    )
    made |= axles.axle_figures(rig, made["trailer_axle_load"])
    made |= axles.side_figures(made["trailer_axle_load"], made["side_difference"])
    made |= engaged(rig, made)
    return made | axles.attitude_figure(rig, made)
