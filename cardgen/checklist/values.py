"""Format the figures of a rig for the texts of the checklist; None where unknown."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

from cardgen.checklist.catalog import catalog
from cardgen.checklist.features import features
from cardgen.checklist.rigwords import count_values, fresh_plan, tank_advice, touch_list
from cardgen.checklist.rigwords import lamp_list as required_lamps
from cardgen.model.results import Assessment, CaseResult, Outcome
from cardgen.model.rig import Rig
from cardgen.physics.band import asked_tongue
from cardgen.physics.heights import NO_SQUAT
from cardgen.physics.labels import payload
from cardgen.tables.connectors import connector
from cardgen.tables.lookup import holds
from cardgen.tables.words import say
from cardgen.units import Quantity, System, convert, feet_inches, in_us, inch_fraction, number, show
from cardgen.units.show import NBSP, End, at_place, style_of

YEAR = 365.25 * 86400.0
"""Seconds of a year, as the units package counts it."""
Texts = dict[str, str | None]


def values(
    assessment: Assessment,
    system: System,
    *,
    lamp_list: str | None = None,
    mirror_note: str | None = None,
    brake_note: str | None = None,
) -> Texts:
    """Return the text of every value that items may print.

    Args:
        assessment: computed figures and the rig they belong to.
        system: the units, speeds and distances as the road signs have them [-].
        lamp_list: lamps the place asks for; from the lamp table when None [-].
        mirror_note: what the mirrors must show at the place [-].
        brake_note: brakes the place asks for [-].

    Returns:
        Value name to text, None where unknown, with exactly the names of
        ``values.yaml``.
    """
    rig = assessment.rig
    made: Texts = dict.fromkeys(catalog().values)
    made |= _weights(assessment, system)
    made |= _pressures(assessment, system)
    made |= _settings(assessment, system)
    made |= _sizes(assessment, system)
    made |= _road(assessment, system)
    made |= _market(rig)
    words = count_values(rig) | {
        "touch_list": touch_list(features(rig)),
        "fresh_plan": fresh_plan(rig, system),
        "tank_advice": tank_advice(rig),
    }
    made |= {name: text and say(text, rig.market) for name, text in words.items()}
    made |= {
        "lamp_list": lamp_list or required_lamps(rig),
        "mirror_note": mirror_note,
        "brake_note": brake_note,
    }
    return made


def _figure(assessment: Assessment, name: str) -> float | None:
    found = assessment.computed.figures.get(name)
    return None if found is None else found.value


def _over_cases(assessment: Assessment, name: str, pick: Callable[[Iterable[float]], float]) -> float | None:
    """Worst value of a figure over the cases, by scale or rig file; None when any case lacks it."""
    found = [case.figures.get(name) for case in assessment.computed.cases]
    known = [f for f in found if f is not None and f.value is not None]
    told = [v for f in known for v in (f.value, *(f.rival or ())[:1]) if v is not None]
    return pick(told) if told and len(known) == len(found) else None


def _si(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.si


def _first(*candidates: float | None) -> float | None:
    return next((value for value in candidates if value is not None), None)


def _show(si: float | None, kind: str, system: System, end: End | None = None) -> str | None:
    return None if si is None else show(si, kind, system, end=end)


def _range(low: float | None, high: float | None, kind: str, system: System) -> str | None:
    if low is None or high is None:
        return None
    left, right = number(low, kind, system), show(high, kind, system)
    return right if show(low, kind, system) == right else f"{left} to {right}"


def _weights(assessment: Assessment, system: System) -> Texts:
    rig = assessment.rig
    loaded = _over_cases(assessment, "trailer_weight", max)
    cargo = _over_cases(assessment, "cargo_weight", max)
    water = _over_cases(assessment, "water_weight", max)
    masses = {
        "trailer_weight": _first(loaded, _figure(assessment, "trailer_weight_max")),
        "trailer_limit": _figure(assessment, "allowed_trailer"),
        "trailer_gvwr": _si(rig.trailer.gvwr),
        "unbraked_limit": _si(rig.vehicle.tow_rating.unbraked),
        "cargo_limit": _cargo_limit(assessment),
        "tongue_most": asked_tongue(assessment.computed)[0]
        if rig.alone == "trailer"
        else _over_cases(assessment, "tongue_weight", max),
        "tie_down_need": cargo / 2.0 if cargo else None,
        "water_weight": water,
    }
    made: Texts = {name: _show(si, "mass", system) for name, si in masses.items()}
    made["tongue_most"] = _show(masses["tongue_most"], "mass", system, "lower")
    for name in ("trailer_limit", "cargo_limit"):
        made[name] = _show(masses[name], "mass", system, "upper")
    return made | _tongue(assessment, system)


def _cargo_limit(assessment: Assessment) -> float | None:
    """What label or papers let into the trailer, and no more than its lowest limit leaves of it [kg]."""
    most, empty = payload(assessment.rig), _si(assessment.rig.trailer.empty.weight)
    lowest = _figure(assessment, "allowed_trailer")
    if most is None or empty is None or lowest is None:
        return most
    return max(0.0, min(most, lowest - empty))


def _tongue(assessment: Assessment, system: System) -> Texts:
    """What to keep on the tongue and what is expected: one band where it serves every case, else case by case."""
    cases, rig = assessment.computed.cases, assessment.rig
    bands = [_ends(case) for case in cases]
    nows = [now.value if (now := case.figures.get("tongue_weight")) else None for case in cases]
    least, most = (_over_cases(assessment, "tongue_weight", pick) for pick in (min, max))
    expected = _range(least, most, "mass", system)
    known = [band for band in bands if band is not None]
    if not known:
        return {"tongue_band": None, "tongue_now": expected}
    low, (high, part) = max(a for a, _, _ in known), min((b, part) for _, b, part in known)
    serves = len(known) == len(cases) and (low <= high or len(cases) == 1)
    serves &= not any(
        now is not None and a <= now <= b and not low <= now <= high
        for (a, b, _), now in zip(known, nows, strict=False)
    )
    if serves:
        return {
            "tongue_band": say(_keep(low, high, part, system), rig.market, rig.trailer.type),
            "tongue_now": expected,
        }
    kept = [
        _keep(*band, system, case.name) if band else f"no weight that fits ({case.name})"
        for case, band in zip(cases, bands, strict=True)
    ]
    told = [
        f"{show(now, 'mass', system) if now is not None else 'not checked'} ({case.name})"
        for case, now in zip(cases, nows, strict=True)
    ]
    return {
        "tongue_band": say(", ".join(kept), rig.market, rig.trailer.type),
        "tongue_now": ", ".join(told),
    }


def _ends(case: CaseResult) -> tuple[float, float, str] | None:
    """Both ends of a case's band [kg] and the part that sets the upper one; None when there is no band."""
    low, high = case.figures.get("band_low"), case.figures.get("band_high")
    if low is None or high is None or low.value is None or high.value is None:
        return None
    part = high.terms[-1].label.split(",")[0] if high.terms else "band"
    return low.value, high.value, "" if part == "band" else part


def _keep(low: float, high: float, part: str, system: System, case: str = "") -> str:
    """A band as an instruction [kg]: lower end up, upper end down, and the part that sets it."""
    near = f"{part} allows no more" if part else ""
    least, most = number(low, "mass", system, end="lower"), number(high, "mass", system, end="upper")
    said = show(high, "mass", system, end="upper")
    if low >= high or float(least.replace(",", "")) >= float(most.replace(",", "")):
        remark = "; ".join(filter(None, (case, near)))
        return f"as near {said} as possible" + (f" ({remark})" if remark else "")
    remark = "; ".join(filter(None, (case, part)))
    return f"{least} to {said}" + (f" ({remark})" if remark else "")


def _pressures(assessment: Assessment, system: System) -> Texts:
    rig = assessment.rig
    towing, plain = rig.vehicle.placard_towing, rig.vehicle.placard
    spare = rig.trailer.spare.pressure if rig.trailer.spare else None
    stated = {
        "trailer": _si(rig.trailer.tire_pressure),
        "front": _first(_si(towing.front), _si(plain.front)),
        "rear": _first(_si(towing.rear), _si(plain.rear)),
        "spare": _si(spare),
    }
    made: Texts = {}
    for name, si in stated.items():
        plan = assessment.computed.tires.get(name)
        past = (
            si is not None and plan is not None and plan.ceiling is not None and holds(si, ">", plan.ceiling)
        )
        value = _first(
            _figure(assessment, f"pressure_{name}"), None if past else si
        )  # no label goes past its tire
        made[f"pressure_{name}"] = _show(value, "pressure", at_place(system, name))
    return made


def _settings(assessment: Assessment, system: System) -> Texts:
    rig = assessment.rig
    gear, prefs = rig.gear, rig.preferences
    gain = _first(rig.vehicle.brake_controller.gain, rig.gain_start)
    bars = gear.weight_distribution
    ball = rig.trailer.coupler.ball
    age = rig.limits.tire_age
    plug = rig.trailer.connector
    made: Texts = {
        "wheel_torque": _show(_si(rig.trailer.wheel_torque), "torque", system),
        "ball_torque": _show(_si(gear.ball.torque) if gear.ball else None, "torque", system),
        "ball_size": None if ball is None else ball.text or _short(ball.si, system),
        "brake_gain": None if gain is None else f"{gain:g}",
        "bar_setting": bars.links if bars else None,
        "connector": connector(plug).words if plug else None,
        "tire_age_limit": f"{age.si / YEAR:.3g}{NBSP}years" if age else None,
        "idle": _show(_si(prefs.idle), "duration", system) or f"4{NBSP}weeks",
    }
    arch = bars.arches.engaged if bars else None
    made["front_arch"] = _short(arch.si, system) if arch else None
    return made


def _sizes(assessment: Assessment, system: System) -> Texts:
    rig = assessment.rig
    size, vehicle = rig.trailer.dimensions, rig.vehicle
    heights = [q.si for q in (size.height, vehicle.height) if q is not None]
    coupler = rig.trailer.coupler.height
    drop = _figure(assessment, "drop_needed")
    needed = assessment.computed.figures.get("drop_needed")
    level = needed is not None and not needed.label.endswith(NO_SQUAT)
    way = "drop" if (drop or 0.0) >= 0 else "rise"
    return {
        "rig_height": _tall(max(heights), system) if size.height else None,
        "rig_width": _tall(size.width.si, system) if size.width else None,
        "rig_length": _length(rig, system),
        "coupler_height": _short(coupler.si, system) if coupler else None,
        "drop_needed": None if drop is None or not level else f"{_short(abs(drop), system)} {way}",
    }


def _length(rig: Rig, system: System) -> str | None:
    """Vehicle from its front bumper to the coupling plus the trailer, rounded up."""
    parts = (
        rig.vehicle.front_overhang,
        rig.vehicle.wheelbase,
        rig.vehicle.overhang,
        rig.trailer.dimensions.length,
    )
    known = [q.si for q in parts if q is not None]
    return _tall(sum(known), system) if len(known) == len(parts) else None


def _short(si: float, system: System) -> str:
    return inch_fraction(si, 8) if in_us("length", system) else show(si, "length", system)


def _tall(si: float, system: System) -> str:
    """A clearance [m], rounded up: feet and inches, or metres with two decimals."""
    if in_us("length", system):
        inches = math.ceil(convert(si, "length", "us") - 1e-6)
        return feet_inches(si * inches / convert(si, "length", "us")) if inches else "0"
    return f"{math.ceil(si * 100.0 - 1e-6) / 100.0:.2f}{NBSP}m"


def _road(assessment: Assessment, units: System) -> Texts:
    rig = assessment.rig
    made = catalog().markets[rig.market]
    top = _figure(assessment, "planned_speed_limit")
    wind = _show(_si(rig.limits.wind), "speed", units)
    side = rig.preferences.drive_side or made.drive_side
    legal = [
        f.capacity for f in assessment.findings if f.code.startswith("law-speed") and f.capacity is not None
    ]
    top = None if top is None else min((top, *legal))
    open_ = any(
        f.code.startswith("tire-speed") and f.outcome is Outcome.NOT_CHECKED for f in assessment.findings
    )
    said = _show(top, "speed", units, "upper")
    return {
        "max_speed": said and (f"{said} (tire speed not checked)" if open_ else said),
        "wind_limit": wind and f"wind of {wind} or more",
        "retorque": _distances(rig, units) or made.retorque,
        "first_stop": made.first_stop,
        "test_speed": made.test_speed,
        "bearing_interval": made.bearing_interval,
        "triangles": made.triangles,
        "emergency_number": made.emergency_number,
        "crown_side": "left" if side == "right" else "right",
    }


def _distances(rig: Rig, units: System) -> str | None:
    """The owner's re-torque distances as one phrase: 10, 25 and 50 mi."""
    every = [q.si for q in rig.preferences.retorque]
    if not every:
        return None
    *before, last = [number(si, "distance", units) for si in every]
    unit = style_of("distance", units).printed
    return f"{', '.join(before)} and {last}{NBSP}{unit}" if before else f"{last}{NBSP}{unit}"


def _market(rig: Rig) -> Texts:
    sway = catalog().sway[rig.market]
    who = rig.contacts[0] if rig.contacts else None
    braked = features(rig)["cab_brakes"]
    parts = [sway.first, sway.never, *([sway.brake] if braked else [])]
    return {
        "sway_first": say(sway.first, rig.market),
        "sway_never": say(sway.never, rig.market),
        "sway_brake": say(sway.brake, rig.market),
        "sway_words": say("; ".join(parts), rig.market),
        "help_phone": f"{who.who}, {who.phone}" if who else None,
    }
