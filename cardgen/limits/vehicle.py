"""Checks of the tow vehicle against its own ratings."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.limits.compare import at_most, demand, past, plain
from cardgen.limits.registry import (
    BARS,
    FRONT_AXLE,
    FUEL,
    PAYLOAD,
    REAR_AXLE,
    TONGUE_WEIGHT,
    TRAILER_WEIGHT,
    VEHICLE,
    Context,
    rule,
    unknown,
)
from cardgen.model.results import Basis, Finding, Outcome
from cardgen.physics.aboard import PAPERS
from cardgen.physics.needs import need
from cardgen.units import Quantity

MANUAL = "rating in the vehicle maker's manual or towing guide"
PLACARD_UP_TO = 4536.0
"""GVWR up to which a vehicle has a loading placard in the US [kg], 10,000 lb as that rule writes it in kilograms; 49 CFR 571.110 S4.3, from memory."""
DOOR = "rating on the {drivers_door}"


@rule(
    "tow-rating",
    "loaded trailer against the vehicle's {tow_rating_in_full}",
    Basis.MAKER,
    MANUAL + "[us ca: ; how such ratings are set: SAE J2807 (secondary copy)]",
    "The vehicle maker's largest trailer, braked or unbraked as this trailer is. It assumes a nearly empty "
    "vehicle, so combination weight and [us ca: placard][uk eu au nz: axles] are checked as well.",
    fields=(
        "vehicle.tow_rating.braked",
        *TRAILER_WEIGHT,
        "trailer.brakes.kind",
        "vehicle.tow_rating.unbraked",
    ),
)
def tow_rating(context: Context) -> Iterable[Finding]:
    """Compare the loaded trailer [kg] with the rating that fits its brakes [kg]."""
    rating, brakes = context.rig.vehicle.tow_rating, context.rig.trailer.brakes.works
    if brakes is None:
        yield unknown("tow-rating", (need("trailer.brakes.kind"),))
        return
    which = "unbraked" if brakes == "none" else "braked"
    limit: Quantity | None = getattr(rating, which)
    worst, braked = demand(context, "trailer_weight"), rating.braked
    if which == "unbraked" and braked is not None and past(worst.value or 0.0, braked.si, None):
        lower = limit is None or braked.si < limit.si
        which, limit = ("braked", braked) if lower else (which, limit)  # no trailer may pass that one either
    yield at_most(
        context,
        "tow-rating",
        worst,
        limit,
        f"vehicle.tow_rating.{which}",
        governed_by=f"{which} rating",
    )


@rule(
    "distribution-needed",
    "whether the vehicle maker asks for weight distribution",
    Basis.MAKER,
    MANUAL,
    "Many vehicles may only tow above a stated trailer weight with a weight-distributing hitch.",
)
def distribution_needed(context: Context) -> Iterable[Finding]:
    """Compare the loaded trailer [kg] with the weight above which distribution is asked for [kg]."""
    above = context.rig.vehicle.tow_rating.needs_distribution_above
    if (
        above is None
        or context.rig.trailer.type != "ball"
        or context.rig.gear.weight_distribution is not None
    ):
        return
    yield at_most(
        context,
        "distribution-needed",
        demand(context, "trailer_weight"),
        above,
        "vehicle.tow_rating.needs_distribution_above",
        message="above this the vehicle maker asks for a weight-distributing hitch, and none is listed",
    )


@rule(
    "combination",
    "vehicle and trailer together against the {combination_rating}",
    Basis.MAKER,
    MANUAL,
    "Everything on the road: vehicle, people, cargo and the whole trailer against the {gross_combination} "
    "the vehicle maker states.",
    fields=("vehicle.gcwr", *VEHICLE, *TRAILER_WEIGHT, *PAYLOAD, *FUEL),
)
def combination(context: Context) -> Iterable[Finding]:
    """Compare the combination [kg] with the GCWR [kg]."""
    yield at_most(
        context,
        "combination",
        demand(context, "combination_weight"),
        context.rig.vehicle.gcwr,
        "vehicle.gcwr",
    )


@rule(
    "vehicle-gross",
    "loaded vehicle with {coupling_load} against its {vehicle_rating_in_full}",
    Basis.MAKER,
    "[us: 49 CFR 571.3 (GVWR), quoted in NHTSA letter nht76-3.20, 15 Jan 1976; ]" + DOOR,
    "The vehicle with people, cargo, coupling gear and the static {coupling_load}. Weight distribution is not "
    "credited.",
    fields=("vehicle.gvwr", *VEHICLE, *TONGUE_WEIGHT, *PAYLOAD, *FUEL),
)
def vehicle_gross(context: Context) -> Iterable[Finding]:
    """Compare the loaded vehicle with tongue weight [kg] with its GVWR [kg]."""
    yield at_most(
        context, "vehicle-gross", demand(context, "vehicle_weight"), context.rig.vehicle.gvwr, "vehicle.gvwr"
    )


@rule(
    "vehicle-front-axle",
    "front axle against its {axle_rating_in_full}",
    Basis.MAKER,
    "[us: 49 CFR 571.3 (GAWR), quoted in NHTSA letter nht76-3.20, 15 Jan 1976; ]" + DOOR,
    "The front axle is heaviest without a trailer, or with weight distribution engaged; the worst counts.",
    fields=("vehicle.gawr.front", *FRONT_AXLE),
)
def front_axle(context: Context) -> Iterable[Finding]:
    """Compare the front axle's worst load [kg] with its GAWR [kg]."""
    names = ("vehicle_front_axle", "front_alone", "front_axle_engaged")
    limit = context.rig.vehicle.gawr.front
    yield at_most(context, "vehicle-front-axle", demand(context, *names), limit, "vehicle.gawr.front")


@rule(
    "vehicle-rear-axle",
    "rear axle against its {axle_rating_in_full}",
    Basis.MAKER,
    "[us: 49 CFR 571.3 (GAWR), quoted in NHTSA letter nht76-3.20, 15 Jan 1976; ]" + DOOR,
    "A coupling behind the rear axle loads it with more than rests on the coupling. It is checked with "
    "weight distribution slack, as a bar can be left off.",
    fields=("vehicle.gawr.rear", *REAR_AXLE),
)
def rear_axle(context: Context) -> Iterable[Finding]:
    """Compare the rear axle's load, bars slack [kg], with its GAWR [kg]."""
    limit = context.rig.vehicle.gawr.rear
    yield at_most(
        context, "vehicle-rear-axle", demand(context, "vehicle_rear_axle"), limit, "vehicle.gawr.rear"
    )


@rule(
    "placard",
    "people, cargo, gear and {tongue_load} against the placard",
    Basis.MAKER,
    "[us: NHTSA letter 10673 and the owner text of 49 CFR 575.6(a)(4) (trailer load reduces the capacity); ]"
    "{loading_placard}",
    "The placard caps the combined weight of occupants and cargo. {Coupling_load} and coupling gear count as cargo. "
    "It is asked for in North America only; where a file states one elsewhere it counts there too.",
    fields=(
        "vehicle.placard_capacity",
        "gear.weight",
        *TONGUE_WEIGHT,
        *PAYLOAD,
    ),
)
def placard(context: Context) -> Iterable[Finding]:
    """Compare people, cargo, gear and tongue [kg] with the placard capacity [kg]."""
    vehicle = context.rig.vehicle
    limit = vehicle.placard_capacity
    if limit is None and context.rig.market in PAPERS:
        return  # a placard of North America; its ratings for the whole and for each axle count
    if limit is not None and limit.kind != "mass":
        words = "this vehicle has no such placard; its ratings for the whole and for each axle count"
        if context.rig.market == "us" and (vehicle.gvwr is None or vehicle.gvwr.si <= PLACARD_UP_TO):
            words = "up to 10,000 lb {vehicle_rating} a vehicle has this placard: look at the door opening"
            missing = "vehicle.gvwr" if vehicle.gvwr is None else "vehicle.placard_capacity"
            yield unknown("placard", (need(missing),), words)
        else:
            yield plain("placard", Outcome.WITHIN, words, critical=False)
        return
    yield at_most(context, "placard", demand(context, "placard_used"), limit, "vehicle.placard_capacity")


@rule(
    "front-restoration",
    "how much front-axle load the bars put back",
    Basis.GUIDANCE,
    "letter in the trade press[us ca:  of an SAE committee member on J2807 work] (secondary copy): not above 100 %",
    "Weight distribution puts back part of the load the front axle lost on hitching. Putting back more than "
    "was lost weakens the rear axle's grip; the share to aim at is the vehicle maker's figure.",
    fields=(*TONGUE_WEIGHT, *BARS),
)
def front_restoration(context: Context) -> Iterable[Finding]:
    """Check that the front-axle load restoration [-] is not above one."""
    if context.rig.gear.weight_distribution is None:
        return
    worst = demand(context, "restoration")
    if worst.value is None:
        yield unknown("front-restoration", worst.needs, critical=False)
        return
    over = worst.value > 1.0 + 1e-9
    yield plain(
        "front-restoration",
        Outcome.CLOSE if over else Outcome.WITHIN,
        "the bars put back {share} of the load the front axle lost"
        + (", more than it lost: ease them" if over else ""),
        critical=False,
        values={"share": (worst.value, "fraction")},
    )
