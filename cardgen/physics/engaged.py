"""Axle loads with weight distribution engaged, per loading case.

Source: ``distribution`` and the rig file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from cardgen.model.results import Figure, Need, Term
from cardgen.model.rig import Rig
from cardgen.physics import balance, distribution, figures
from cardgen.physics.axles import axle_figures
from cardgen.physics.distribution import STANDARD_GRAVITY, Shift
from cardgen.physics.needs import need

SOURCE = "moments about trailer axles and vehicle rear axle, bars as a pure moment about the ball"
_AXLES = (
    ("front_axle_engaged", "vehicle_front_axle", "front axle, bars engaged", "F + M (L2+e)/(wb L2)", "front"),
    ("rear_axle_engaged", "vehicle_rear_axle", "rear axle, bars engaged", "R - M (wb+e+L2)/(wb L2)", "rear"),
    ("trailer_axles_engaged", "trailer_axle_load", "trailer axles, bars engaged", "A + M/L2", "trailer"),
)


@dataclass(frozen=True, slots=True)
class Setting:
    """How the bars are set: moment [kg m], restoration [-], load moved [kg], what is missing."""

    moment: float | None
    restoration: float | None
    shift: Shift | None
    needs: tuple[Need, ...]


def engaged(rig: Rig, made: Mapping[str, Figure]) -> dict[str, Figure]:
    """Make the figures of one case with the bars engaged; nothing when there are no bars.

    Args:
        rig: the rig.
        made: slack figures of the case, by id [kg].

    Returns:
        ``restoration`` [-], ``distribution_moment`` [N m], ``front_axle_engaged``,
        ``rear_axle_engaged``, ``trailer_axles_engaged``, ``axle_<n>_engaged`` [kg].

    Source: ``distribution`` and the rig file.
    """
    if rig.gear.weight_distribution is None:
        return {}
    setting = _setting(rig, made["tongue_weight"])
    torque = None if setting.moment is None else setting.moment * STANDARD_GRAVITY
    terms = (
        [] if setting.restoration is None else [Term("phi", "restoration", setting.restoration, "fraction")]
    )
    out = {
        "restoration": figures.derived(
            "restoration", "front axle load restoration", "fraction", setting.restoration,
            "phi = M (L2 + e) / (T e L2)", [], SOURCE, setting.needs,
        ),
        "distribution_moment": figures.derived(
            "distribution_moment", "moment of the weight distribution", "torque", torque,
            "M = phi T e L2 / (L2 + e)", terms, SOURCE, setting.needs,
        ),
    }  # fmt: skip
    for name, base, words, formula, part in _AXLES:
        out[name] = _moved(name, made[base], words, formula, part, setting)
    return out | axle_figures(rig, out["trailer_axles_engaged"], "_engaged", SOURCE)


def _moved(name: str, slack: Figure, words: str, formula: str, part: str, setting: Setting) -> Figure:
    moved = None if setting.shift is None else float(getattr(setting.shift, part))
    value, terms = None, []
    if slack.value is not None and moved is not None:
        value = slack.value + moved
        terms = [
            Term("slack", slack.label, slack.value, "mass", slack.id),
            Term("moved", "moved by the bars", moved, "mass"),
        ]
    return figures.derived(name, words, "mass", value, formula, terms, SOURCE, (*setting.needs, *slack.needs))


def _setting(rig: Rig, tongue: Figure) -> Setting:
    """Work out moment and restoration from whichever of the three targets is stated."""
    place, fitted = balance.geometry(rig), rig.gear.weight_distribution
    needs = list(tongue.needs)
    lengths = (
        (place.wheelbase, "vehicle.wheelbase"),
        (place.overhang, "vehicle.overhang"),
        (place.ball_to_axles, "trailer.axles.ball_to_center"),
    )
    needs += [need(path) for value, path in lengths if value is None]
    share = stated_restoration(rig)
    moment = fitted.moment.si / STANDARD_GRAVITY if fitted and fitted.moment else None
    if share is None and moment is None:
        needs.append(need("gear.weight_distribution.restoration"))
    wheelbase, overhang, length = place.wheelbase, place.overhang, place.ball_to_axles
    if needs or tongue.value is None or wheelbase is None or overhang is None or length is None:
        return Setting(None, None, None, tuple(needs))
    if overhang <= 0 or length <= 0 or wheelbase <= 0:
        return Setting(None, None, None, (need("vehicle.overhang"),))
    if moment is None and share is not None:
        moment = distribution.moment_for_restoration(share, tongue.value, overhang, length)
    assert moment is not None  # one of the two targets is known here
    if share is None and tongue.value > 0:
        share = distribution.restoration_of_moment(moment, tongue.value, overhang, length)
    return Setting(moment, share, distribution.shift(moment, wheelbase, overhang, length), ())


def stated_restoration(rig: Rig) -> float | None:
    """Restoration as stated or as three wheel-arch heights give it [-]; None when neither is.

    Source: the rig file; ``distribution.restoration_from_arches``.
    """
    fitted = rig.gear.weight_distribution
    if fitted is None:
        return None
    if fitted.restoration is not None:
        return fitted.restoration.si
    arches = fitted.arches
    if arches.alone and arches.slack and arches.engaged and arches.slack.si > arches.alone.si:
        return distribution.restoration_from_arches(arches.alone.si, arches.slack.si, arches.engaged.si)
    return None
