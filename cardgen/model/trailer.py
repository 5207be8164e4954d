"""The trailer as its labels, its maker's handbook and a tape measure describe it."""

from __future__ import annotations

from typing import Annotated, Literal

from cardgen.model.features import Features
from cardgen.model.parts import Connector, Cylinder, Evidence, PlacedMass, Ratings, Tank, TrailerLoad
from cardgen.model.tires import Spare, Tire
from cardgen.units.field import (
    Area,
    Charge,
    Doc,
    Fill,
    Length,
    Mass,
    Position,
    Pressure,
    Rate,
    SignedMass,
    Strength,
    Torque,
    Voltage,
)
from cardgen.units.record import field, record
from cardgen.units.scalars import Count, Flag


@record
class EmptyState:
    """What was in the trailer when its empty weight and tongue held."""

    tanks: Annotated[dict[str, Fill], Doc("fill of each tank at that weight")] = field(default_factory=dict)
    cylinders: Annotated[dict[str, Fill], Doc("gas in each cylinder at that weight")] = field(
        default_factory=dict
    )
    without: Annotated[
        tuple[str, ...], Doc("names of cylinders and batteries that were not aboard at that weight")
    ] = ()
    cargo: Annotated[
        tuple[str, ...], Doc("names of cargo items, and of batteries, that were aboard at that weight")
    ] = ()


@record
class Empty:
    """Empty weight and tongue of a declared state."""

    weight: Annotated[
        Mass | None,
        Doc(
            "empty weight of the whole trailer",
            "scale ticket, or [us ca: weight label][uk au nz: plate or papers][eu: item 13.2 of its certificate]",
        ),
    ] = None
    tongue: Annotated[
        Mass | None,
        Doc("{tongue_or_pin_weight} in the same state", "scale under the coupling, trailer level"),
    ] = None
    left_minus_right: Annotated[
        SignedMass | None, Doc("left wheels' load less right wheels' load in that state", "wheel scales")
    ] = None
    includes: Annotated[EmptyState, Doc("what was in it")] = field(default_factory=EmptyState)
    source: Annotated[Evidence | None, Doc("scale, label, brochure or estimate")] = None


@record
class Axles:
    """The axle group."""

    count: Annotated[Count, Doc("number of axles")] = 1
    gawr: Annotated[
        tuple[Mass, ...],
        Doc(
            "{gross_axle} of each axle, front first",
            "{maker_label}[us ca: , left front of the trailer]",
        ),
    ] = ()
    ball_to_center: Annotated[
        Length | None, Doc("coupling center to the center of the axle group", "tape measure")
    ] = None
    spacing: Annotated[Length | None, Doc("distance between neighbouring axles", "tape measure")] = None
    track: Annotated[Length | None, Doc("center of left tire to center of right tire", "tape measure")] = None
    suspension: Annotated[
        Literal["single", "equalized", "independent"] | None,
        Doc("how the axles share load", "look under the trailer: an equalizer links the springs"),
    ] = None
    rate: Annotated[
        Rate | None,
        Doc("stiffness of one axle, both wheels, for independent suspension", "axle maker"),
    ] = None
    tires_per_axle: Annotated[Count, Doc("tires on each axle, 2 or 4")] = 2


@record
class Coupler:
    """The coupler, kingpin or gooseneck head on the trailer."""

    ball: Annotated[
        Length | None, Doc("ball size stamped on the {coupler}", "stamp on the {coupler}", "2 in", "50 mm")
    ] = None
    ratings: Annotated[Ratings, Doc("ratings of the {coupler}")] = field(default_factory=Ratings)
    height: Annotated[
        Length | None, Doc("height with the trailer level and loaded", "tape measure", "18 in", "43 cm")
    ] = None
    height_at: Annotated[
        Literal["ball_top", "lower_lip", "plate"] | None,
        Doc("surface it was measured to: inside top of the socket, its lower lip, or the pin plate"),
    ] = None
    friction: Annotated[Flag | None, Doc("{friction_coupling} that needs a dry ball")] = None
    d_value: Annotated[
        str | None,
        Doc("D value on the plate", "plate on the {coupling_head}", "8.5 kN", markets=("uk", "eu")),
    ] = None


@record
class Chains:
    """Safety chains or cables."""

    count: Annotated[Count | None, Doc("number of chains", "look at the {tongue}")] = None
    strength: Annotated[
        Strength | None,
        Doc("breaking strength of each chain with its hook", "tag or maker's data", "5,000 lb", "3500 kg"),
    ] = None
    grade: Annotated[str | None, Doc("marking on the chain", "link marking")] = None
    mark: Annotated[
        str | None,
        Doc("Australian mark, which names the trailer mass", "link marking", "4177-35", markets=("au",)),
    ] = None
    link: Annotated[Length | None, Doc("diameter of the links", "caliper", "8 mm", markets=("nz",))] = None


@record
class BrakeWiring:
    """The brake feed conductor from the vehicle battery to the magnets."""

    length: Annotated[Length | None, Doc("one-way length of the brake feed", "tape measure along both")] = (
        None
    )
    area: Annotated[Area | None, Doc("copper area of the brake feed", "wire marking", "3.3 mm2")] = None
    awg: Annotated[Count | None, Doc("wire gauge of the brake feed", "wire marking", "12")] = None
    sold_as: Annotated[
        Literal["awg", "automotive"] | None,
        Doc(
            "what gauge it is sold by: American wire gauge, or automotive (GPT, GXL and the like), which has less copper",
            "wire marking",
        ),
    ] = None


@record
class Brakes:
    """Trailer brakes."""

    kind: Annotated[
        Literal["none", "electric", "surge", "electric_hydraulic"] | None,
        Doc("how the brakes work", "look at the hubs and the {coupler}"),
    ] = None
    braked_axles: Annotated[Count | None, Doc("axles with brakes", "count the brake drums or discs")] = None
    drum: Annotated[
        Literal["7 in", "10 in", "12 in"] | None, Doc("drum size of electric brakes", "brake label")
    ] = None
    parking: Annotated[
        Flag | None,
        Doc(
            "{parking_brake} on the trailer",
            "look at the front of the trailer",
            markets=("uk", "eu", "au", "nz"),
        ),
    ] = None
    r13: Annotated[
        Flag | None,
        Doc("brakes approved to UN R13", "E mark on the brake or coupling plate", markets=("eu", "au", "nz")),
    ] = None
    wiring: Annotated[BrakeWiring, Doc("brake feed conductor")] = field(default_factory=BrakeWiring)

    @property
    def works(self) -> str | None:
        """Kind of brakes that a rating for trailers with brakes may count on: none where no axle has any."""
        return "none" if self.braked_axles == 0 else self.kind


@record
class Breakaway:
    """Breakaway switch or cable."""

    fitted: Annotated[Flag | None, Doc("{breakaway_either} fitted", "look at the {tongue}")] = None
    battery: Annotated[Charge | None, Doc("battery that feeds the {breakaway}", "battery label", "7 Ah")] = (
        None
    )
    voltage: Annotated[Voltage | None, Doc("rested voltage of that battery", "voltmeter", "12.6 V")] = None


@record
class Dimensions:
    """Outside dimensions."""

    length: Annotated[Length | None, Doc("overall length with {tongue}", "tape measure")] = None
    width: Annotated[Length | None, Doc("widest rigid part, {fenders} included", "tape measure")] = None
    height: Annotated[Length | None, Doc("tallest point", "tape measure")] = None
    body_front: Annotated[Position | None, Doc("front wall behind the coupling center", "tape measure")] = (
        None
    )
    body_rear: Annotated[Position | None, Doc("rear wall behind the coupling center", "tape measure")] = None


@record
class Trailer:
    """The trailer."""

    name: Annotated[str | None, Doc("nickname of the trailer")] = None
    unit: Annotated[str | None, Doc("your own number of the trailer", "painted on it")] = None
    registration: Annotated[str | None, Doc("registration of the trailer", "its registration plate")] = None
    type: Annotated[Literal["ball", "gooseneck", "fifth_wheel"], Doc("how it couples")]
    body: Annotated[
        Literal["camper", "travel_trailer", "caravan", "utility", "cargo", "boat", "horse", "car_hauler"],
        Doc("what it is"),
    ]
    year: Annotated[Count | None, Doc("model year", "{maker_label}[us ca: , left front of the trailer]")] = (
        None
    )
    empty: Annotated[Empty, Doc("empty weight and the state it holds for")] = field(default_factory=Empty)
    gvwr: Annotated[
        Mass | None,
        Doc(
            "{gross_trailer}",
            "{maker_label}[us ca: , left front of the trailer][eu:  or papers, field F.1, or F.2 (zulässige Gesamtmasse) where it is lower]",
        ),
    ] = None
    registered_gross: Annotated[
        Mass | None,
        Doc("gross weight the trailer is registered for, where it differs from its plate", "registration"),
    ] = None
    gtm: Annotated[
        Mass | None,
        Doc(
            "gross trailer mass ({gtm}): axle load when coupled and fully loaded",
            "trailer plate (Australia)",
            "1,800 kg",
            markets=("au",),
        ),
    ] = None
    cargo_capacity: Annotated[
        Mass | None,
        Doc(
            "{cargo_carrying}[us ca:  on the weight label]",
            "[us ca: yellow or white weight label inside the door][uk eu au nz: {maker_label} or papers]",
            markets=("us", "ca", "uk", "eu"),
        ),
    ] = None
    axles: Annotated[Axles, Doc("axle group")] = field(default_factory=Axles)
    tires: Annotated[Tire | None, Doc("the trailer's tires")] = None
    tire_pressure: Annotated[
        Pressure | None,
        Doc(
            "cold pressure on the trailer's tire label",
            "tire label[us ca: , left front of the trailer][uk eu au nz:  or handbook]",
        ),
    ] = None
    tire_size: Annotated[
        str | None,
        Doc(
            "tire size on the trailer's tire label",
            "tire label[us ca: , left front of the trailer][uk eu au nz:  or handbook]",
            "ST205/75R14",
            "195/70R14C",
        ),
    ] = None
    tires_by_table: Annotated[
        Flag,
        Doc(
            "set special trailer tires by their maker's table instead of the sidewall pressure; "
            "takes effect only when every wheel was weighed"
        ),
    ] = False
    dealer_added: Annotated[
        Mass | None, Doc("weight added between the maker's label and the first sale", "dealer's invoice")
    ] = None
    spare: Annotated[Spare | None, Doc("spare wheel; leave out when there is none")] = None
    wheel_torque: Annotated[Torque | None, Doc("wheel nut torque", "trailer handbook")] = None
    coupler: Annotated[Coupler, Doc("{coupler}, kingpin or gooseneck head")] = field(default_factory=Coupler)
    chains: Annotated[Chains, Doc("safety chains or cables")] = field(default_factory=Chains)
    secondary_coupling: Annotated[
        Flag | None,
        Doc(
            "cable or chain that holds the trailer if the coupling fails",
            "look at the {tongue}",
            markets=("uk", "eu"),
        ),
    ] = None
    folds: Annotated[
        Flag | None, Doc("body folds or pops up for travel", "look at the body", markets=("de",))
    ] = None
    plate_100: Annotated[
        Flag | None,
        Doc("sealed 100 km/h disc on the rear (Germany)", "look at the rear of the trailer", markets=("de",)),
    ] = None
    dampers: Annotated[
        Flag | None,
        Doc("hydraulic dampers on the trailer's wheels", "look behind the wheels", markets=("de",)),
    ] = None
    brakes: Annotated[Brakes, Doc("brakes")] = field(default_factory=Brakes)
    breakaway: Annotated[Breakaway, Doc("{breakaway}")] = field(default_factory=Breakaway)
    connector: Annotated[Connector | None, Doc("plug on the trailer cable", "look at the plug")] = None
    jack: Annotated[
        Literal["fixed", "swivel", "landing_legs", "clamp_wheel", "none"] | None,
        Doc("{tongue_jack} or landing gear", "look at the {tongue}"),
    ] = None
    cylinders: Annotated[dict[str, Cylinder], Doc("LP gas cylinders by name")] = field(default_factory=dict)
    tanks: Annotated[dict[str, Tank], Doc("tanks by name")] = field(default_factory=dict)
    batteries: Annotated[tuple[PlacedMass, ...], Doc("batteries")] = ()
    cargo: Annotated[tuple[TrailerLoad, ...], Doc("cargo items")] = ()
    bays: Annotated[dict[str, Position], Doc("storage bays and their distance behind the coupling")] = field(
        default_factory=dict
    )
    dimensions: Annotated[Dimensions, Doc("outside dimensions")] = field(default_factory=Dimensions)
    features: Annotated[Features, Doc("equipment that the checklist depends on")] = field(
        default_factory=Features
    )
