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

    tanks: Annotated[
        dict[str, Fill],
        Doc("fill of each tank at that weight", ask="How full were the tanks at that weight?"),
    ] = field(default_factory=dict)
    cylinders: Annotated[
        dict[str, Fill],
        Doc("gas in each cylinder at that weight", ask="How full were the gas cylinders at that weight?"),
    ] = field(default_factory=dict)
    without: Annotated[
        tuple[str, ...],
        Doc(
            "names of cylinders and batteries that were not aboard at that weight",
            ask="Which cylinders and batteries were not aboard then?",
        ),
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
            "{scale_ticket}, or [us ca: weight label][uk au nz: plate or papers][eu: field G (Leermasse) of its papers, or item 13.2 of its certificate]",
            ask="What does the empty trailer weigh?",
            usual=("200 lb", "20,000 lb"),
        ),
    ] = None
    tongue: Annotated[
        Mass | None,
        Doc(
            "{tongue_or_pin_weight} in the same state",
            "scale under the coupling, trailer level",
            ask="What is the {tongue_or_pin_weight} of the empty trailer?",
            usual=("20 lb", "5,000 lb"),
        ),
    ] = None
    left_minus_right: Annotated[
        SignedMass | None,
        Doc(
            "left wheels' load less right wheels' load in that state",
            "wheel scales",
            ask="How much more do the left wheels carry than the right ones?",
        ),
    ] = None
    includes: Annotated[EmptyState, Doc("what was in it")] = field(default_factory=EmptyState)
    source: Annotated[
        Evidence | None, Doc("scale, label, brochure or estimate", ask="Where do these weights come from?")
    ] = None


@record
class Axles:
    """The axle group."""

    count: Annotated[Count, Doc("number of axles", ask="How many axles has the trailer?", stand="label")] = 1
    gawr: Annotated[
        tuple[Mass, ...],
        Doc(
            "{gross_axle} of each axle, front first",
            "{maker_label}[us ca: , left front of the trailer][eu:  or papers, fields 8.1 to 8.3 (zulässige Achslast)][uk eu: ; what it says of all together is trailer.gtm]",
            ask="What may each axle carry?",
            stand="label",
            usual=("500 lb", "15,000 lb"),
        ),
    ] = ()
    ball_to_center: Annotated[
        Length | None,
        Doc(
            "coupling center to the center of the axle group",
            "tape measure",
            ask="How far is it from the coupling to the middle of the axles?",
            usual=("5 ft", "40 ft"),
        ),
    ] = None
    spacing: Annotated[
        Length | None,
        Doc(
            "distance between neighbouring axles",
            "tape measure",
            ask="How far apart are neighbouring axles?",
            usual=("20 in", "60 in"),
        ),
    ] = None
    track: Annotated[
        Length | None,
        Doc(
            "center of left tire to center of right tire",
            "tape measure",
            ask="How far apart are the middles of the left and right tires?",
            usual=("3 ft", "8 ft"),
        ),
    ] = None
    suspension: Annotated[
        Literal["single", "equalized", "independent"] | None,
        Doc(
            "how the axles share load",
            "look under the trailer: an equalizer links the springs; rubber torsion axles are independent",
            ask="How do the axles share the load?",
        ),
    ] = None
    rate: Annotated[
        Rate | None,
        Doc(
            "stiffness of one axle, both wheels, for independent suspension",
            "axle maker",
            ask="How stiff is one axle?",
            stand="papers",
        ),
    ] = None
    tires_per_axle: Annotated[Count | None, Doc("tires on each axle, 2 or 4", "look at an axle")] = None


@record
class Coupler:
    """The coupler, kingpin or gooseneck head on the trailer."""

    ball: Annotated[
        Length | None,
        Doc(
            "ball size stamped on the {coupler}",
            "stamp on the {coupler}",
            "2 in",
            "50 mm",
            ask="Which ball size is stamped on the {coupler}?",
            usual=("1.8 in", "3.1 in"),
        ),
    ] = None
    ratings: Annotated[Ratings, Doc("ratings of the {coupler}")] = field(default_factory=Ratings)
    height: Annotated[
        Length | None,
        Doc(
            "height with the trailer level and loaded",
            "tape measure",
            "18 in",
            "43 cm",
            ask="How high is the {coupler} above the ground, trailer level and loaded?",
            usual=("8 in", "70 in"),
        ),
    ] = None
    height_at: Annotated[
        Literal["ball_top", "lower_lip", "plate"] | None,
        Doc(
            "surface it was measured to: inside top of the socket, its lower lip, or the pin plate",
            ask="To which surface did you measure it?",
        ),
    ] = None
    friction: Annotated[
        Flag | None, Doc("{friction_coupling} that needs a dry ball", ask="Is it a {friction_coupling}?")
    ] = None
    d_value: Annotated[
        str | None,
        Doc(
            "D value on the plate",
            "plate on the {coupling_head}",
            "8.5 kN",
            markets=("uk", "eu"),
            ask="Which D value stands on the plate?",
        ),
    ] = None


@record
class Chains:
    """Safety chains or cables."""

    count: Annotated[
        Count | None,
        Doc("number of chains or cables", "look at the {tongue}", ask="How many chains or cables are there?"),
    ] = None
    strength: Annotated[
        Strength | None,
        Doc(
            "breaking strength of each chain with its hook",
            "tag or maker's data",
            "5,000 lb",
            "3500 kg",
            ask="How strong is each chain with its hook?",
        ),
    ] = None
    grade: Annotated[
        str | None,
        Doc("marking on the chain", "link marking", ask="Which grade is on the links of the chains?"),
    ] = None
    mark: Annotated[
        str | None,
        Doc(
            "Australian mark, which names the trailer mass",
            "link marking",
            "4177-35",
            markets=("au",),
            ask="Which mark is on the links?",
        ),
    ] = None
    link: Annotated[
        Length | None,
        Doc("diameter of the links", "caliper", "8 mm", markets=("nz",), ask="How thick are the links?"),
    ] = None


@record
class BrakeWiring:
    """The brake feed conductor from the vehicle battery to the magnets."""

    length: Annotated[
        Length | None,
        Doc(
            "one-way length of the brake feed",
            "tape measure along both",
            ask="How long is the brake feed, one way?",
        ),
    ] = None
    area: Annotated[
        Area | None,
        Doc(
            "copper area of the brake feed",
            "wire marking",
            "3.3 mm2",
            ask="How much copper has the brake feed?",
        ),
    ] = None
    awg: Annotated[
        Count | None,
        Doc("wire gauge of the brake feed", "wire marking", "12", ask="Which wire gauge has the brake feed?"),
    ] = None
    sold_as: Annotated[
        Literal["awg", "automotive"] | None,
        Doc(
            "what gauge it is sold by: American wire gauge, or automotive (GPT, GXL and the like), which has less copper",
            "wire marking",
            ask="By what gauge is that wire sold?",
        ),
    ] = None


@record
class Brakes:
    """Trailer brakes."""

    kind: Annotated[
        Literal["none", "electric", "surge", "electric_hydraulic"] | None,
        Doc(
            "how the brakes work[uk eu au nz: , surge for {surge_brakes}]",
            "look at the hubs and the {coupler}",
            ask="How do the trailer's brakes work?",
        ),
    ] = None
    braked_axles: Annotated[
        Count | None,
        Doc(
            "axles with brakes",
            "count the brake drums or discs",
            ask="How many axles have brakes?",
            stand="tires",
        ),
    ] = None
    drum: Annotated[
        Literal["7 in", "10 in", "12 in"] | None,
        Doc(
            "drum size of electric brakes", "brake label", ask="How large are the brake drums?", stand="tires"
        ),
    ] = None
    parking: Annotated[
        Flag | None,
        Doc(
            "{parking_brake} on the trailer",
            "look at the front of the trailer",
            markets=("uk", "eu", "au", "nz"),
            ask="Is there a {parking_brake} on the trailer?",
        ),
    ] = None
    r13: Annotated[
        Flag | None,
        Doc(
            "brakes approved to UN R13",
            "E mark on the brake or coupling plate",
            markets=("eu", "au", "nz"),
            ask="Are the brakes approved to UN R13?",
        ),
    ] = None
    wiring: Annotated[BrakeWiring, Doc("brake feed conductor")] = field(default_factory=BrakeWiring)

    @property
    def works(self) -> str | None:
        """Kind of brakes that a rating for trailers with brakes may count on: none where no axle has any."""
        return "none" if self.braked_axles == 0 else self.kind


@record
class Breakaway:
    """Breakaway switch or cable."""

    fitted: Annotated[
        Flag | None,
        Doc("{breakaway_either} fitted", "look at the {tongue}", ask="Is a {breakaway_either} fitted?"),
    ] = None
    battery: Annotated[
        Charge | None,
        Doc(
            "battery that feeds the {breakaway}",
            "battery label",
            "7 Ah",
            ask="How large is the battery that feeds the {breakaway}?",
        ),
    ] = None
    voltage: Annotated[Voltage | None, Doc("rested voltage of that battery", "voltmeter", "12.6 V")] = None


@record
class Dimensions:
    """Outside dimensions."""

    length: Annotated[
        Length | None,
        Doc(
            "overall length with {tongue}",
            "tape measure",
            ask="How long is the trailer with its {tongue}?",
            usual=("6 ft", "60 ft"),
        ),
    ] = None
    width: Annotated[
        Length | None,
        Doc(
            "widest rigid part, {fenders} included",
            "tape measure",
            ask="How wide is the trailer, {fenders} included?",
            usual=("4 ft", "8.6 ft"),
        ),
    ] = None
    height: Annotated[
        Length | None,
        Doc("tallest point", "tape measure", ask="How high is the trailer?", usual=("2 ft", "14 ft")),
    ] = None
    body_front: Annotated[
        Position | None,
        Doc(
            "front wall behind the coupling center",
            "tape measure",
            ask="How far behind the coupling is the front wall?",
            usual=("-8 ft", "15 ft"),
        ),
    ] = None
    body_rear: Annotated[
        Position | None,
        Doc(
            "rear wall behind the coupling center",
            "tape measure",
            ask="How far behind the coupling is the rear wall?",
            usual=("6 ft", "60 ft"),
        ),
    ] = None


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
    year: Annotated[
        Count | None,
        Doc(
            "model year",
            "{maker_label}[us ca: , left front of the trailer]",
            ask="Of which model year is the trailer?",
            stand="label",
        ),
    ] = None
    empty: Annotated[Empty, Doc("empty weight and the state it holds for", stand="scale")] = field(
        default_factory=Empty
    )
    gvwr: Annotated[
        Mass | None,
        Doc(
            "{gross_trailer}",
            "{maker_label}[us ca: , left front of the trailer][eu:  or papers, field F.1, or F.2 (zulässige Gesamtmasse) where it is lower]",
            ask="What is the {gross_trailer} of the trailer?",
            stand="label",
            usual=("1,000 lb", "30,000 lb"),
        ),
    ] = None
    registered_gross: Annotated[
        Mass | None,
        Doc(
            "gross weight the trailer is registered for, where it differs from its plate",
            "registration",
            ask="For which gross weight is the trailer registered?",
            stand="papers",
        ),
    ] = None
    gtm: Annotated[
        Mass | None,
        Doc(
            "{axle_group}[au:  (gross trailer mass)]: load of all axles when coupled and fully loaded",
            "trailer plate[uk eu nz: , where it rates the axles together]",
            "1,800 kg",
            markets=("au",),
            ask="What is the {axle_group}?",
            stand="label",
        ),
    ] = None
    cargo_capacity: Annotated[
        Mass | None,
        Doc(
            "{cargo_carrying}[us ca:  on the weight label]",
            "[us ca: yellow or white weight label inside the door][uk eu au nz: {maker_label} or papers]",
            markets=("us", "ca", "uk", "eu"),
            ask="How much cargo does the label allow?",
            stand="inside",
            usual=("100 lb", "15,000 lb"),
        ),
    ] = None
    axles: Annotated[Axles, Doc("axle group", stand="side")] = field(default_factory=Axles)
    tires: Annotated[Tire | None, Doc("the trailer's tires", stand="tires")] = None
    tire_pressure: Annotated[
        Pressure | None,
        Doc(
            "cold pressure on the trailer's tire label",
            "tire label[us ca: , left front of the trailer][uk eu au nz:  or handbook]",
            ask="Which cold pressure does the tire label give?",
            stand="label",
            usual=("25 psi", "130 psi"),
        ),
    ] = None
    tire_size: Annotated[
        str | None,
        Doc(
            "tire size on the trailer's tire label",
            "tire label[us ca: , left front of the trailer][uk eu au nz:  or handbook]",
            "ST205/75R14",
            "195/70R14C",
            ask="Which tire size does the tire label name?",
            stand="label",
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
    spare: Annotated[Spare | None, Doc("spare wheel; leave out when there is none", stand="tires")] = None
    wheel_torque: Annotated[
        Torque | None,
        Doc("wheel nut torque", "trailer handbook", ask="How tight are the wheel nuts?", stand="papers"),
    ] = None
    coupler: Annotated[Coupler, Doc("{coupler}, kingpin or gooseneck head", stand="tongue")] = field(
        default_factory=Coupler
    )
    chains: Annotated[Chains, Doc("safety chains or cables", stand="tongue")] = field(default_factory=Chains)
    secondary_coupling: Annotated[
        Flag | None,
        Doc(
            "cable or chain that holds the trailer if the coupling fails",
            "look at the {tongue}",
            markets=("uk", "eu"),
            ask="Is there a cable or chain that holds the trailer if the coupling fails?",
            stand="tongue",
        ),
    ] = None
    folds: Annotated[
        Flag | None,
        Doc(
            "body folds or pops up for travel",
            "look at the body",
            markets=("de",),
            ask="Does the body fold or pop up for travel?",
            stand="inside",
        ),
    ] = None
    plate_100: Annotated[
        Flag | None,
        Doc(
            "sealed 100 km/h disc on the rear (Germany)",
            "look at the rear of the trailer",
            markets=("de",),
            ask="Is there a sealed 100 km/h disc on the rear?",
            stand="tires",
        ),
    ] = None
    dampers: Annotated[
        Flag | None,
        Doc(
            "hydraulic dampers on the trailer's wheels",
            "look behind the wheels",
            markets=("de",),
            ask="Are there hydraulic dampers on the wheels?",
            stand="tires",
        ),
    ] = None
    brakes: Annotated[Brakes, Doc("brakes", stand="tongue")] = field(default_factory=Brakes)
    breakaway: Annotated[Breakaway, Doc("{breakaway}", stand="tongue")] = field(default_factory=Breakaway)
    connector: Annotated[
        Connector | None,
        Doc(
            "plug on the trailer cable",
            "look at the plug",
            ask="Which plug is on the trailer's cable?",
            stand="tongue",
        ),
    ] = None
    jack: Annotated[
        Literal["fixed", "swivel", "landing_legs", "clamp_wheel", "none"] | None,
        Doc(
            "{tongue_jack} or landing gear",
            "look at the {tongue}",
            ask="What holds the front up when it stands?",
            stand="tongue",
        ),
    ] = None
    cylinders: Annotated[
        dict[str, Cylinder],
        Doc("{lp_gas} cylinders by name", ask="Which gas cylinders are there?", stand="tongue"),
    ] = field(default_factory=dict)
    tanks: Annotated[dict[str, Tank], Doc("tanks by name", ask="Which tanks are there?", stand="inside")] = (
        field(default_factory=dict)
    )
    batteries: Annotated[
        tuple[PlacedMass, ...], Doc("batteries", ask="Which batteries are there?", stand="inside")
    ] = ()
    cargo: Annotated[
        tuple[TrailerLoad, ...], Doc("cargo items", ask="What is carried in the trailer?", stand="inside")
    ] = ()
    bays: Annotated[dict[str, Position], Doc("storage bays and their distance behind the coupling")] = field(
        default_factory=dict
    )
    dimensions: Annotated[Dimensions, Doc("outside dimensions", stand="side")] = field(
        default_factory=Dimensions
    )
    features: Annotated[Features, Doc("equipment that the checklist depends on", stand="inside")] = field(
        default_factory=Features
    )


@record
class NoTrailer(Trailer):
    """No trailer in the rig file: nothing is known of it; coupling and body stand for nothing, no text says them."""

    type: Literal["ball", "gooseneck", "fifth_wheel"] = "ball"
    body: Literal[
        "camper", "travel_trailer", "caravan", "utility", "cargo", "boat", "horse", "car_hauler"
    ] = "utility"
