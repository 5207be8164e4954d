"""A rig as the rules of places ask about it, one loading case at a time; unknown stays unknown."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence
from functools import reduce
from typing import Any

from cardgen.limits.registry import (
    FRONT_AXLE,
    FUEL,
    PAYLOAD,
    REAR_AXLE,
    TONGUE_WEIGHT,
    TRAILER_WEIGHT,
    VEHICLE,
)
from cardgen.model.results import CaseResult, Computed, Need
from cardgen.model.rig import Rig
from cardgen.model.vehicle import Vehicle
from cardgen.physics.dates import tire_made
from cardgen.physics.needs import need
from cardgen.physics.strength import as_mass
from cardgen.physics.tires import speed_limit
from cardgen.tables import law
from cardgen.tables.facts import Facts

PATHS = {
    "gross": "trailer.empty.weight",
    "gvwr": "trailer.gvwr",
    "gtm": "trailer.gtm",
    "trailer_axles": "trailer.empty.tongue",
    "tow_axles": "vehicle.curb.weight",
    "tow_gross": "vehicle.curb.weight",
    "tow_unladen": "vehicle.unladen_for_law",
    "tow_gvwr": "vehicle.gvwr",
    "tow_gcwr": "vehicle.gcwr",
    "tow_gawr": "vehicle.gawr.front",
    "tow_rating_braked": "vehicle.tow_rating.braked",
    "tow_rating_given": "vehicle.tow_rating.given",
    "tow_kind": "vehicle.kind",
    "registered_gross": "trailer.registered_gross",
    "plated_sum": "trailer.gvwr",
    "tongue": "trailer.empty.tongue",
    "trailer_year": "trailer.year",
    "axle_spacing": "trailer.axles.spacing",
    "cab_brakes": "trailer.brakes.kind",
    "brakes_r13": "trailer.brakes.r13",
    "sight_blocked": "vehicle.mirrors.view_behind",
    "view_behind": "vehicle.mirrors.view_behind",
    "combination_height": "trailer.dimensions.height",
    "rigid_body": "trailer.folds",
    "plate_100": "trailer.plate_100",
    "stabiliser_certified": "gear.sway_control_certified",
    "chain_mark": "trailer.chains.mark",
    "chain_link": "trailer.chains.link",
    "chain_grade": "trailer.chains.grade",
    "chocks": "trailer.features.chocks",
    "planned_speed": "preferences.planned_speed",
    "trailer_width": "trailer.dimensions.width",
    "tow_width": "vehicle.width",
    "body_length": "trailer.dimensions.body_rear",
    "towing_mirrors": "vehicle.mirrors.towing",
    "brakes": "trailer.brakes.kind",
    "braked_axles": "trailer.brakes.braked_axles",
    "axle_count": "trailer.axles.count",
    "parking_brake": "trailer.brakes.parking",
    "breakaway": "trailer.breakaway.fitted",
    "charge_in_cab": "vehicle.charge_display",
    "secondary_coupling": "trailer.secondary_coupling",
    "chain_count": "trailer.chains.count",
    "chain_each": "trailer.chains.strength",
    "chain_total": "trailer.chains.strength",
    "cylinder_count": "trailer.cylinders",
    "cylinder_largest": "trailer.cylinders.<name>.size",
    "lp_total": "trailer.cylinders.<name>.size",
    "tow_abs": "vehicle.abs",
    "dampers": "trailer.dampers",
    "stabiliser": "gear.sway_control",
    "tire_age": "trailer.tires.date_code",
    "tire_speed": "trailer.tires.speed_symbol",
}
"""Field of the rig file to ask for when a fact is missing."""
SUMS = {
    "plated_sum": ("trailer.gvwr", "vehicle.gvwr"),
    "tow_gawr": ("vehicle.gawr.front", "vehicle.gawr.rear"),
    "combination_height": ("trailer.dimensions.height", "vehicle.height"),
    "body_length": ("trailer.dimensions.body_front", "trailer.dimensions.body_rear"),
}
"""Facts made of two fields: what is missing of them is asked for."""
FIGURES: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "gross": (("trailer_weight",), TRAILER_WEIGHT),
    "trailer_axles": (("trailer_axle_load", "trailer_axles_engaged"), (*TRAILER_WEIGHT, *TONGUE_WEIGHT)),
    "tongue": (("tongue_weight",), TONGUE_WEIGHT),
    "tow_gross": (("vehicle_alone",), (*VEHICLE, *PAYLOAD, *FUEL)),
    "tow_axles": (("vehicle_front_axle", "vehicle_rear_axle"), (*FRONT_AXLE, *REAR_AXLE)),
}
"""Figures that a fact is read from, and the fields that they rest on: these are asked for where one is missing."""
CLOSED = ("camper", "travel_trailer", "caravan", "cargo", "horse")
"""Kinds of trailer that hide the road behind from a driver who looks back."""
NATIONAL = {"uk": "uk", "eu": "eu", "au": "au", "nz": "nz"}
"""Place whose rules hold in the whole market."""
COMMERCIAL = "us-fmcsa"
LIVING = ("camper", "travel_trailer", "caravan")
"""Kinds of trailer that mostly have gas."""
_YEAR = 365.25


def facts_of(computed: Computed, case: CaseResult, day: dt.date) -> Facts:
    """Put one loading case into the facts that rules of places ask about (SI).

    GTM is the plated one only: a rule about it asks what the trailer may carry, not what it
    carries in one case.

    Args:
        computed: figures of the rig.
        case: the loading case.
        day: build date, for the age of the tires.
    """
    rig = computed.rig
    gross, axles = _value(case, "trailer_weight"), _value(case, "trailer_axle_load")
    engaged = _value(case, "trailer_axles_engaged")
    alone, front, rear = (
        _value(case, n) for n in ("vehicle_alone", "vehicle_front_axle", "vehicle_rear_axle")
    )
    on_wheels = axles
    if rig.gear.weight_distribution is not None:
        on_wheels = None if axles is None or engaged is None else max(axles, engaged)
    return Facts(
        gross=gross,
        trailer_axles=on_wheels,
        tow_axles=None if front is None or rear is None else front + rear,
        tow_gross=alone,
        tongue=_value(case, "tongue_weight"),
        planned_speed=_si(rig.preferences.planned_speed),
        plated_sum=_sum(rig.trailer.gvwr, rig.vehicle.gvwr),
        combination_height=_highest(rig.trailer.dimensions.height, rig.vehicle.height),
        tire_age=_tire_age(rig, day),
        stabiliser=_stabiliser(rig),
        stabiliser_certified=rig.gear.sway_control_certified,
        **_of_vehicle(rig.vehicle),
        **_of_trailer(rig),
        **_of_brakes(rig),
        **_chains(rig),
        **_cylinders(rig, case.name),
    )


def _of_vehicle(vehicle: Vehicle) -> dict[str, Any]:
    """What a place asks of the vehicle alone."""
    rating = vehicle.tow_rating
    return {
        "tow_unladen": _si(vehicle.unladen_for_law),
        "tow_gvwr": _si(vehicle.gvwr),
        "tow_gcwr": _si(vehicle.gcwr),
        "tow_gawr": _sum(vehicle.gawr.front, vehicle.gawr.rear),
        "tow_rating_braked": _si(rating.braked),
        "tow_rating_given": True if rating.braked or rating.unbraked else rating.given,
        "tow_kind": vehicle.kind,
        "tow_width": _si(vehicle.width),
        "tow_abs": vehicle.abs,
        "towing_mirrors": vehicle.mirrors.towing,
        "view_behind": vehicle.mirrors.view_behind,
        "charge_in_cab": vehicle.charge_display,
    }


def _of_trailer(rig: Rig) -> dict[str, Any]:
    """What a place asks of the trailer alone, its brakes left out."""
    trailer = rig.trailer
    tires = trailer.tires
    return {
        "gvwr": _si(trailer.gvwr),
        "gtm": _si(trailer.gtm),
        "registered_gross": _si(trailer.registered_gross or trailer.gvwr),
        "trailer_year": None if trailer.year is None else float(trailer.year),
        "trailer_width": _si(trailer.dimensions.width),
        "body_length": _body_length(rig),
        "body": trailer.body,
        "coupling": trailer.type,
        "axle_count": float(trailer.axles.count),
        "axle_spacing": _si(trailer.axles.spacing),
        "sight_blocked": True if trailer.body in CLOSED else None,
        "rigid_body": None if trailer.folds is None else not trailer.folds,
        "plate_100": trailer.plate_100,
        "dampers": trailer.dampers,
        "secondary_coupling": trailer.secondary_coupling,
        "chain_mark": _chain_mark(trailer.chains.mark),
        "chain_link": _si(trailer.chains.link),
        "chain_grade": _grade(trailer.chains.grade),
        "chocks": None if trailer.features.chocks is None else float(trailer.features.chocks),
        "tire_speed": speed_limit(tires) if tires and tires.speed_symbol else None,
    }


def _of_brakes(rig: Rig) -> dict[str, Any]:
    """What a place asks of the trailer's brakes."""
    brakes = rig.trailer.brakes
    return {
        "brakes": brakes.kind,
        "braked_axles": _braked(rig),
        "cab_brakes": _cab_brakes(brakes.kind),
        "brakes_r13": brakes.r13,
        "parking_brake": brakes.parking,
        "breakaway": rig.trailer.breakaway.fitted,
    }


def needs_for(
    names: Iterable[str], cases: Sequence[CaseResult] = (), rig: Rig | None = None
) -> tuple[Need, ...]:
    """What to read or measure for missing facts, each field once.

    Args:
        names: fields of ``Facts`` [-].
        cases: loading cases whose figures are missing something.
        rig: the rig, of which only what it does not state is asked for.
    """
    found: dict[str, Need] = {}
    for name in names:
        figures = [
            case.figures[f] for case in cases for f in FIGURES.get(name, ((), ()))[0] if f in case.figures
        ]
        behind = [one for figure in figures for one in figure.needs]
        if not behind and name in PATHS:
            lost = [
                one
                for one in SUMS.get(name, ())
                if rig is None or reduce(getattr, one.split("."), rig) is None
            ]
            behind = [need(one) for one in lost or (PATHS[name],)]
        found |= {one.path: one for one in behind}
    return tuple(found.values())


def _sum(*parts: object) -> float | None:
    known = [value for value in map(_si, parts) if value is not None]
    return sum(known) if len(known) == len(parts) else None


def _highest(*parts: object) -> float | None:
    """The larger of several heights [m]; unknown as soon as one is."""
    known = [value for value in map(_si, parts) if value is not None]
    return max(known) if len(known) == len(parts) else None


def _cab_brakes(kind: str | None) -> bool | None:
    """Whether the driver can work the trailer brakes alone from the seat."""
    return None if kind is None else kind in ("electric", "electric_hydraulic")


def _grade(marked: str | None) -> str | None:
    """Grade of a chain as marked, without the word [-]."""
    return None if marked is None else marked.upper().removeprefix("GRADE").strip()


def _chain_mark(mark: str | None) -> float | None:
    """Trailer mass of a chain marked 4177-nn: nn hundreds of kilograms [kg] (Queensland programme, secondary copy)."""
    found = re.fullmatch(r"(?:AS ?)?4177[-. ]?(\d\d)", mark.strip()) if mark else None
    return None if found is None else 100.0 * float(found[1])


def places(rig: Rig) -> tuple[str, ...]:
    """Places whose rules count: those of the rig, its market's own, commercial rules in commercial use [-]."""
    wanted = list(rig.places)
    own = NATIONAL.get(rig.market)
    covered = {r.place for place in wanted for r in law.rules(place)}
    if own is not None and own not in covered and own not in wanted:
        wanted.insert(0, own)
    if rig.market == "us" and rig.use == "commercial" and COMMERCIAL not in wanted:
        wanted.append(COMMERCIAL)
    return tuple(dict.fromkeys(wanted))


def _si(quantity: object) -> float | None:
    value: float | None = getattr(quantity, "si", None)
    return value


def _value(case: CaseResult, name: str) -> float | None:
    found = case.figures.get(name)
    return None if found is None else found.value


def _body_length(rig: Rig) -> float | None:
    front, rear = rig.trailer.dimensions.body_front, rig.trailer.dimensions.body_rear
    return None if front is None or rear is None else rear.si - front.si


def _braked(rig: Rig) -> float | None:
    brakes = rig.trailer.brakes
    if brakes.kind == "none":
        return 0.0
    return None if brakes.braked_axles is None else float(brakes.braked_axles)


def _chains(rig: Rig) -> dict[str, Any]:
    chains = rig.trailer.chains
    count = None if chains.count is None else float(chains.count)
    each = None if chains.strength is None else as_mass(chains.strength)
    total = 0.0 if count == 0 else None if count is None or each is None else count * each
    return {"chain_count": count, "chain_each": each, "chain_total": total}


def _cylinders(rig: Rig, case: str) -> dict[str, Any]:
    """Cylinders aboard in a case, full or empty: number, largest and total nominal capacity [kg].

    None listed means none, except in a living space that is not said to be without gas.
    """
    if (
        not rig.trailer.cylinders
        and rig.trailer.body in LIVING
        and rig.trailer.features.lp_appliances is not False
    ):
        return {"cylinder_count": None, "cylinder_largest": None, "lp_total": None}
    away = next((c.without for c in rig.cases if c.name == case), ())
    sizes = [c.size for name, c in rig.trailer.cylinders.items() if name not in away]
    known = [q.si for q in sizes if q is not None]
    whole = len(known) == len(sizes)
    return {
        "cylinder_count": float(len(sizes)),
        "cylinder_largest": max(known, default=0.0) if whole else None,
        "lp_total": sum(known) if whole else None,
    }


def _stabiliser(rig: Rig) -> bool | None:
    control, electronics = rig.gear.sway_control, rig.trailer.features.sway_electronics
    if control in ("friction", "integrated") or electronics:
        return True
    return False if control == "none" and electronics is False else None


def _tire_age(rig: Rig, day: dt.date) -> float | None:
    """Age of the trailer's tires in calendar years; the spare is not on the road."""
    code = rig.trailer.tires.date_code if rig.trailer.tires else None
    made = tire_made(code) if code else None
    return None if made is None else max(0.0, (day - made).days / _YEAR)
