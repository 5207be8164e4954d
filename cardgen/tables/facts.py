"""Facts about a rig that rules of a place ask for, all optional, and their words."""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cache

from cardgen.tables.lookup import NotInTableError


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is known of one rig; None stands for unknown, never for zero or no.

    Args:
        gross: actual loaded trailer with its tongue weight [kg].
        gvwr: trailer's plated maximum (GVWR, MTPLM or ATM) [kg].
        gtm: load of the trailer's axles on the ground, coupled and fully loaded [kg].
        trailer_axles: actual load of the trailer's axles, coupled [kg].
        tow_axles: actual load of the vehicle's axles, coupled [kg].
        tow_gross: actual loaded vehicle [kg].
        tow_unladen: unladen or kerb weight as the place counts it [kg].
        tow_gvwr: vehicle's GVWR [kg].
        tow_gcwr: vehicle's largest weight with a trailer (GCWR or GCM) [kg].
        tow_gawr: sum of the vehicle's axle ratings [kg].
        tow_rating_braked: largest braked trailer the vehicle's maker allows [kg].
        tow_kind: ``car``, ``suv``, ``pickup``, ``van``, ``truck`` or ``motorhome`` [-].
        registered_gross: gross weight the trailer is registered for [kg].
        plated_sum: trailer's and vehicle's plated maxima together [kg].
        tongue: static load on the coupling [kg].
        trailer_year: year the trailer was made [-].
        axle_spacing: distance between neighbouring axles [m].
        cab_brakes: the driver can work the trailer brakes alone from the seat [-].
        brakes_r13: trailer brakes approved to UN R13 [-].
        sight_blocked: the trailer hides the road behind from the driver [-].
        view_behind: mirrors show 200 ft of road behind with the trailer on [-].
        combination_height: the larger of both heights [m].
        rigid_body: the body does not fold for travel [-].
        plate_100: sealed 100 km/h disc on the trailer's rear [-].
        stabiliser_certified: stabiliser with the certificate the place asks for [-].
        chain_mark: trailer mass the chain's mark is for [kg].
        chain_link: diameter of the chain's links [m].
        chain_grade: grade marked on the chain [-].
        chocks: wheel chocks carried [-].
        tow_rating_given: whether the vehicle maker states a towing limit [-].
        planned_speed: planned top speed [m/s].
        trailer_width: widest rigid part of the trailer [m].
        tow_width: width of the vehicle without mirrors [m].
        body_length: trailer without its drawbar [m].
        towing_mirrors: add-on or extending mirrors fitted [-].
        body: what the trailer is, as in the rig model [-].
        coupling: ``ball``, ``gooseneck`` or ``fifth_wheel`` [-].
        brakes: ``none``, ``electric``, ``surge`` or ``electric_hydraulic`` [-].
        braked_axles: axles with brakes [-].
        axle_count: axles [-].
        parking_brake: handbrake on the trailer [-].
        breakaway: breakaway device fitted [-].
        charge_in_cab: cab shows the charge of the breakaway battery [-].
        secondary_coupling: cable or chain besides the coupling [-].
        chain_count: safety chains [-].
        chain_each: breaking strength of each, as the weight it holds [kg].
        chain_total: breaking strength of all together, likewise [kg].
        cylinder_count: LP cylinders aboard, full or empty [-].
        cylinder_largest: nominal gas capacity of the largest [kg].
        lp_total: nominal gas capacity of all together [kg].
        tow_abs: vehicle has anti-lock brakes [-].
        dampers: trailer axles have hydraulic dampers [-].
        stabiliser: stabiliser coupling or trailer stability system [-].
        tire_age: age of the trailer's oldest tire [calendar years].
        tire_speed: speed of the trailer tires' symbol [m/s].

    Source: none, description of a rig.
    """

    gross: float | None = None
    gvwr: float | None = None
    gtm: float | None = None
    trailer_axles: float | None = None
    tow_axles: float | None = None
    tow_gross: float | None = None
    tow_unladen: float | None = None
    tow_gvwr: float | None = None
    tow_gcwr: float | None = None
    tow_gawr: float | None = None
    tow_rating_braked: float | None = None
    tow_kind: str | None = None
    registered_gross: float | None = None
    plated_sum: float | None = None
    tongue: float | None = None
    trailer_year: float | None = None
    axle_spacing: float | None = None
    cab_brakes: bool | None = None
    brakes_r13: bool | None = None
    sight_blocked: bool | None = None
    view_behind: bool | None = None
    combination_height: float | None = None
    rigid_body: bool | None = None
    plate_100: bool | None = None
    stabiliser_certified: bool | None = None
    chain_mark: float | None = None
    chain_link: float | None = None
    chain_grade: str | None = None
    chocks: float | None = None
    tow_rating_given: bool | None = None
    planned_speed: float | None = None
    trailer_width: float | None = None
    tow_width: float | None = None
    body_length: float | None = None
    towing_mirrors: bool | None = None
    body: str | None = None
    coupling: str | None = None
    brakes: str | None = None
    braked_axles: float | None = None
    axle_count: float | None = None
    parking_brake: bool | None = None
    breakaway: bool | None = None
    charge_in_cab: bool | None = None
    secondary_coupling: bool | None = None
    chain_count: float | None = None
    chain_each: float | None = None
    chain_total: float | None = None
    cylinder_count: float | None = None
    cylinder_largest: float | None = None
    lp_total: float | None = None
    tow_abs: bool | None = None
    dampers: bool | None = None
    stabiliser: bool | None = None
    tire_age: float | None = None
    tire_speed: float | None = None


FACT_WORDS: dict[str, str] = {
    "gross": "loaded trailer weight",
    "gvwr": "trailer {trailer_rating}",
    "gtm": "trailer {gtm}",
    "trailer_axles": "trailer axle load",
    "tow_axles": "vehicle axle loads",
    "tow_gross": "loaded vehicle weight",
    "tow_unladen": "unladen weight of the vehicle",
    "tow_gvwr": "vehicle {vehicle_rating}",
    "tow_gcwr": "{combination_rating} of the vehicle",
    "tow_gawr": "vehicle axle ratings",
    "tow_rating_braked": "largest braked trailer of the vehicle",
    "tow_kind": "kind of vehicle",
    "registered_gross": "registered gross weight of the trailer",
    "plated_sum": "plated weights of both together",
    "tongue": "{coupling_load}",
    "trailer_year": "year of the trailer",
    "axle_spacing": "distance between the axles",
    "cab_brakes": "brakes worked from the driver's seat",
    "brakes_r13": "approval of the brakes to UN R13",
    "sight_blocked": "whether the trailer hides the road behind",
    "view_behind": "view of 200 ft (60 m) behind in both mirrors",
    "combination_height": "height of the combination",
    "rigid_body": "whether the body folds",
    "plate_100": "100 km/h disc",
    "stabiliser_certified": "certificate of the stabiliser",
    "chain_mark": "mark on the chain",
    "chain_link": "diameter of the chain's links",
    "chain_grade": "grade of the chain",
    "chocks": "number of wheel chocks",
    "tow_rating_given": "whether the vehicle maker states a towing limit",
    "planned_speed": "planned top speed",
    "trailer_width": "trailer width",
    "tow_width": "vehicle width",
    "body_length": "length of the trailer body",
    "towing_mirrors": "towing mirrors",
    "body": "kind of trailer",
    "coupling": "kind of coupling",
    "brakes": "kind of trailer brakes",
    "braked_axles": "number of braked axles",
    "axle_count": "number of axles",
    "parking_brake": "handbrake on the trailer",
    "breakaway": "breakaway device",
    "charge_in_cab": "breakaway battery charge shown in the cab",
    "secondary_coupling": "secondary coupling",
    "chain_count": "number of safety chains",
    "chain_each": "breaking strength of each chain",
    "chain_total": "breaking strength of the chains together",
    "cylinder_count": "number of {lp_gas} cylinders",
    "cylinder_largest": "size of the largest {lp_gas} cylinder",
    "lp_total": "{lp_gas} aboard",
    "tow_abs": "anti-lock brakes on the vehicle",
    "dampers": "hydraulic dampers on the trailer axles",
    "stabiliser": "stabiliser or trailer stability system",
    "tire_age": "age of the trailer tires",
    "tire_speed": "speed symbol of the trailer tires",
}
"""Words for each fact, for the line that says what to measure or read [-]; source: none."""


@cache
def fact_names() -> frozenset[str]:
    """Names of all facts [-].

    Source: none, the fields of ``Facts``.
    """
    return frozenset(f.name for f in fields(Facts))


def value_of(facts: Facts, name: str) -> float | str | bool | None:
    """Read one fact by name.

    Args:
        facts: what is known.
        name: field of ``Facts`` [-].

    Returns:
        Its value [SI unit of the field], None when unknown.

    Raises:
        NotInTableError: no such fact.

    Source: none, plain reading.
    """
    if name not in fact_names():
        raise NotInTableError(f"no fact '{name}'")
    found: float | str | bool | None = getattr(facts, name)
    return found
