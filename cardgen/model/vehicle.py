"""The tow vehicle as its labels, manual and a tape measure describe it."""

from __future__ import annotations

from typing import Annotated, Literal

from cardgen.model.parts import Connector, Evidence, Fuel, Ratings, VehicleLoad
from cardgen.model.tires import Tire
from cardgen.units.field import Doc, Fill, Length, Mass, MassOrNone, Position, Pressure, Rate
from cardgen.units.record import field, record
from cardgen.units.scalars import Count, Flag, Number

TWO_REAR_TIRES = ("car", "suv")
"""Kinds of vehicle that have no dual wheels."""


@record
class CurbState:
    """What was in the vehicle when the curb weight held."""

    fuel: Annotated[
        Fill | None,
        Doc(
            "fuel in the tank at that weight",
            "brochure note or {scale_ticket} note",
            "full",
            ask="How full was the vehicle's fuel tank at that weight?",
        ),
    ] = None
    driver: Annotated[
        Mass | None,
        Doc(
            "driver included in that weight ('[us: 0 lb][ca uk eu au nz: 0 kg]' for none)",
            "brochure note",
            "0 lb",
            "75 kg",
            ask="How much of that weight was a driver?",
        ),
    ] = None


@record
class Curb:
    """Curb weight with its split and the state it holds for."""

    weight: Annotated[
        Mass | None,
        Doc(
            "{curb}",
            "{scale_ticket}, or owner's manual",
            "4,420 lb",
            "1,620 kg",
            ask="What does the empty vehicle weigh?",
            usual=("1,800 lb", "12,000 lb"),
        ),
    ] = None
    front: Annotated[
        Mass | None,
        Doc(
            "front axle part of the {curb}",
            "{scale_ticket}, front axle alone",
            ask="How much of it stands on the front axle?",
            usual=("900 lb", "7,000 lb"),
        ),
    ] = None
    rear: Annotated[
        Mass | None,
        Doc(
            "rear axle part of the {curb}",
            "{scale_ticket}, rear axle alone",
            ask="How much of it stands on the rear axle?",
            usual=("700 lb", "7,000 lb"),
        ),
    ] = None
    includes: Annotated[CurbState, Doc("what was in it")] = field(default_factory=CurbState)
    source: Annotated[
        Evidence | None,
        Doc("scale, label, brochure or estimate", ask="Where does the vehicle's weight come from?"),
    ] = None


@record
class AxlePair:
    """One mass for each axle of the vehicle."""

    front: Annotated[
        Mass | None,
        Doc(
            "front axle",
            "{drivers_door}[eu: , field 8.1 (zulässige Achslast)]",
            ask="What may the front axle carry?",
            usual=("1,500 lb", "10,000 lb"),
        ),
    ] = None
    rear: Annotated[
        Mass | None,
        Doc(
            "rear axle",
            "{drivers_door}[eu: , field 8.2 (zulässige Achslast)]",
            ask="What may the rear axle carry?",
            usual=("1,500 lb", "14,000 lb"),
        ),
    ] = None


@record
class AxlePressures:
    """Placard cold pressures."""

    front: Annotated[
        Pressure | None,
        Doc(
            "front cold pressure",
            "{vehicle_placard}",
            ask="What cold pressure does it give for the front tires?",
            usual=("25 psi", "90 psi"),
        ),
    ] = None
    rear: Annotated[
        Pressure | None,
        Doc(
            "rear cold pressure",
            "{vehicle_placard}",
            ask="What cold pressure does it give for the rear tires?",
            usual=("25 psi", "90 psi"),
        ),
    ] = None


@record
class TireLoads:
    """Load that one tire of the placard's size carries at the placard's pressure."""

    front: Annotated[
        Mass | None,
        Doc(
            "load of one front tire of the placard's size at its pressure",
            "maker's table",
            ask="What does one front tire of the placard's size carry at its pressure?",
        ),
    ] = None
    rear: Annotated[
        Mass | None,
        Doc(
            "load of one rear tire of the placard's size at its pressure",
            "maker's table",
            ask="What does one rear tire of the placard's size carry at its pressure?",
        ),
    ] = None


@record
class AxleTires:
    """Tires on each axle and how many there are."""

    front: Annotated[Tire | None, Doc("front tires")] = None
    rear: Annotated[Tire | None, Doc("rear tires")] = None
    rear_count: Annotated[
        Count | None,
        Doc(
            "tires on the rear axle, 2 or 4",
            "look at the rear axle",
            ask="How many tires are on the rear axle?",
        ),
    ] = None
    placard_size: Annotated[
        str | None,
        Doc(
            "tire size on the placard", "{vehicle_placard}", ask="What tire size does it name?", stand="door"
        ),
    ] = None
    placard_load: Annotated[
        TireLoads,
        Doc("what the placard's tires carry, asked for when another size is fitted", stand="papers"),
    ] = field(default_factory=TireLoads)


@record
class TowRating:
    """The vehicle maker's trailer weight ratings."""

    braked: Annotated[
        Mass | None,
        Doc(
            "largest trailer with brakes",
            "[eu: field O.1 (zulässige Anhängelast), ]owner's manual or towing guide",
            ask="How heavy may a trailer with brakes be?",
            usual=("1,000 lb", "25,000 lb"),
        ),
    ] = None
    unbraked: Annotated[
        Mass | None,
        Doc(
            "largest trailer without brakes",
            "[eu: field O.2, ]owner's manual or towing guide",
            ask="How heavy may a trailer without brakes be?",
            usual=("700 lb", "5,000 lb"),
        ),
    ] = None
    weight_carrying: Annotated[
        Mass | None,
        Doc(
            "largest trailer without weight distribution",
            "owner's manual",
            ask="How heavy may a trailer be without weight distribution?",
        ),
    ] = None
    tongue: Annotated[
        Mass | None,
        Doc(
            "largest {tongue_or_pin_weight}[eu:  (Stützlast)]",
            "[eu: field 13 (Stützlast), ]owner's manual or towing guide",
            ask="How much {tongue_or_pin_weight} does the vehicle's maker allow?",
            usual=("90 lb", "6,000 lb"),
        ),
    ] = None
    given: Annotated[
        Flag | None,
        Doc(
            "false when the maker states no largest trailer at all",
            "owner's manual or towing guide",
            markets=("au-sa",),
            ask="Does the maker state a largest trailer at all?",
        ),
    ] = None
    needs_distribution_above: Annotated[
        Mass | None,
        Doc(
            "trailer weight above which the maker asks for weight distribution",
            "owner's manual",
            ask="Above which trailer weight does the maker ask for weight distribution?",
        ),
    ] = None


@record
class Receiver:
    """The receiver or towbar on the vehicle."""

    opening: Annotated[
        Length | None,
        Doc(
            "inside size of the square opening",
            "measure the {receiver}",
            "2 in",
            "50 mm",
            ask="How wide is the square opening inside?",
            usual=("1.2 in", "3.1 in"),
        ),
    ] = None
    weight_carrying: Annotated[Ratings, Doc("ratings without weight distribution")] = field(
        default_factory=Ratings
    )
    weight_distributing: Annotated[Ratings, Doc("ratings with weight distribution")] = field(
        default_factory=Ratings
    )
    height: Annotated[
        Length | None,
        Doc(
            "ground to the top inside of the opening, vehicle loaded, no trailer",
            "tape measure",
            ask="How high is the top inside of the opening above the ground?",
            usual=("8 in", "40 in"),
        ),
    ] = None
    height_hitched: Annotated[
        Length | None,
        Doc(
            "the same height (or that of a fixed ball's center) with the loaded trailer coupled",
            "tape measure, trailer coupled[us ca au nz: , weight distribution as it is used]",
            ask="How high is it with the loaded trailer coupled?",
            usual=("8 in", "40 in"),
        ),
    ] = None
    ball_height: Annotated[
        Length | None,
        Doc(
            "ground to the center of a fixed ball, vehicle loaded, no trailer",
            "tape measure",
            ask="How high is the center of the ball above the ground?",
            usual=("8 in", "40 in"),
        ),
    ] = None
    d_value: Annotated[
        str | None,
        Doc(
            "D value on the plate, for example '8.5 kN'",
            "plate on the {towbar}",
            ask="Which D value stands on the plate?",
        ),
    ] = None
    fixed_ball: Annotated[Flag, Doc("true when the ball is part of the bar (no {ball_mount})")] = False


@record
class BedHitch:
    """A fifth-wheel or gooseneck hitch in the bed."""

    ratings: Annotated[Ratings, Doc("ratings of the hitch")] = field(default_factory=Ratings)
    height: Annotated[
        Length | None,
        Doc(
            "ground to the plate or ball top",
            "tape measure",
            ask="How high is the plate or the top of the ball above the ground?",
            usual=("30 in", "70 in"),
        ),
    ] = None
    kind: Annotated[Literal["fifth_wheel", "gooseneck"], Doc("what couples to it")] = "fifth_wheel"


@record
class Mirrors:
    """Mirrors and how far apart their outer edges are."""

    span: Annotated[
        Length | None,
        Doc(
            "outer edge to outer edge, as set for towing",
            "tape measure",
            ask="How far apart are the outer edges of the mirrors, as set for towing?",
            usual=("5 ft", "11 ft"),
        ),
    ] = None
    towing: Annotated[
        Flag | None, Doc("add-on or extending towing mirrors fitted", ask="Are towing mirrors fitted?")
    ] = None
    view_behind: Annotated[
        Flag | None,
        Doc(
            "mirrors on both sides show 200 ft (60 m) of road behind with the trailer on",
            "sit in the driver's seat, trailer coupled, a helper walks behind",
            ask="Do the mirrors on both sides show 200 ft (60 m) of road behind?",
        ),
    ] = None


@record
class Controller:
    """The brake controller for electric trailer brakes."""

    fitted: Annotated[
        Flag | None,
        Doc(
            "whether a brake controller is fitted",
            "under the dash or in the vehicle menu",
            ask="Is a brake controller fitted?",
        ),
    ] = None
    gain: Annotated[Number | None, Doc("gain found by the owner's own test", "controller display")] = None


@record
class Vehicle:
    """The tow vehicle."""

    name: Annotated[str | None, Doc("nickname of the vehicle")] = None
    unit: Annotated[str | None, Doc("your own number of the vehicle", "painted on it")] = None
    registration: Annotated[str | None, Doc("registration of the vehicle", "its registration plate")] = None
    kind: Annotated[
        Literal["car", "suv", "pickup", "van", "truck", "motorhome"] | None,
        Doc("kind of vehicle", "registration papers", ask="What kind of vehicle is it?", stand="papers"),
    ] = None
    year: Annotated[
        Count | None,
        Doc("model year", "registration papers", ask="Of which model year is the vehicle?", stand="papers"),
    ] = None
    curb: Annotated[Curb, Doc("{curb}, its split and what it includes", stand="scale")] = field(
        default_factory=Curb
    )
    wheelbase: Annotated[
        Length | None,
        Doc(
            "front axle to rear axle",
            "owner's manual or tape measure",
            ask="How far is it from the front axle to the rear axle?",
            stand="side",
            usual=("7 ft", "20 ft"),
        ),
    ] = None
    overhang: Annotated[
        Position | None,
        Doc(
            "rear axle center to coupling center (negative: ahead of the axle, for a bed hitch)",
            "tape measure",
            ask="How far is it from the rear axle to the ball or pin?",
            stand="side",
            usual=("-2 ft", "8 ft"),
        ),
    ] = None
    length: Annotated[
        Length | None,
        Doc(
            "overall length",
            "owner's manual",
            ask="How long is the vehicle?",
            stand="side",
            usual=("10 ft", "30 ft"),
        ),
    ] = None
    front_overhang: Annotated[
        Length | None,
        Doc(
            "front bumper to front axle",
            "tape measure",
            ask="How far is it from the front bumper to the front axle?",
            stand="side",
            usual=("1.5 ft", "5 ft"),
        ),
    ] = None
    width: Annotated[
        Length | None,
        Doc(
            "overall width without mirrors",
            "owner's manual",
            ask="How wide is the vehicle without its mirrors?",
            stand="side",
            usual=("5 ft", "8.5 ft"),
        ),
    ] = None
    height: Annotated[
        Length | None,
        Doc(
            "overall height",
            "owner's manual",
            ask="How high is the vehicle?",
            stand="side",
            usual=("4 ft", "13 ft"),
        ),
    ] = None
    gvwr: Annotated[
        Mass | None,
        Doc(
            "{gross_vehicle}",
            "{drivers_door}[eu: , field F.1, or F.2 (zulässige Gesamtmasse) where it is lower]",
            ask="What is the {gross_vehicle} of the vehicle?",
            stand="door",
            usual=("3,000 lb", "26,000 lb"),
        ),
    ] = None
    gawr: Annotated[AxlePair, Doc("gross axle weight ratings", stand="door")] = field(
        default_factory=AxlePair
    )
    gcwr: Annotated[
        Mass | None,
        Doc(
            "{gross_combination}",
            "owner's manual or towing guide",
            ask="What is the {gross_combination}?",
            stand="papers",
            usual=("5,000 lb", "60,000 lb"),
        ),
    ] = None
    tow_rating: Annotated[TowRating, Doc("trailer weight ratings", stand="papers")] = field(
        default_factory=TowRating
    )
    placard_capacity: Annotated[
        MassOrNone | None,
        Doc(
            "combined weight of occupants and cargo ('none' where there is no such placard)",
            "{loading_placard}",
            markets=("us", "ca"),
            ask="How much may people and cargo weigh together?",
            stand="door",
            usual=("500 lb", "5,000 lb"),
        ),
    ] = None
    fuel: Annotated[
        Fuel | None,
        Doc("fuel tank", ask="Which fuel does the vehicle burn, and how large is the tank?", stand="side"),
    ] = None
    tires: Annotated[AxleTires, Doc("tires", stand="tires")] = field(default_factory=AxleTires)
    placard: Annotated[AxlePressures, Doc("placard cold pressures", stand="door")] = field(
        default_factory=AxlePressures
    )
    placard_towing: Annotated[
        AxlePressures, Doc("placard cold pressures for full load or towing, if given", stand="door")
    ] = field(default_factory=AxlePressures)
    receiver: Annotated[Receiver | None, Doc("{receiver_or_towbar}", stand="hitch")] = None
    bed_hitch: Annotated[BedHitch | None, Doc("hitch in the bed", stand="hitch")] = None
    connector: Annotated[
        Connector | None,
        Doc(
            "socket for the trailer plug",
            "look at the socket",
            ask="Which socket has the vehicle for the trailer's plug?",
            stand="hitch",
        ),
    ] = None
    charge_wire: Annotated[
        Flag | None,
        Doc(
            "socket feeds the trailer battery",
            ask="Does the socket feed the trailer's battery?",
            stand="hitch",
        ),
    ] = None
    brake_controller: Annotated[Controller, Doc("brake controller", stand="door")] = field(
        default_factory=Controller
    )
    mirrors: Annotated[Mirrors, Doc("mirrors", stand="side")] = field(default_factory=Mirrors)
    seats: Annotated[
        dict[str, Position],
        Doc(
            "seat rows and their distance ahead of the rear axle",
            ask="How far ahead of the rear axle is each seat row?",
            stand="side",
        ),
    ] = field(default_factory=dict)
    front_axle_rate: Annotated[
        Rate | None,
        Doc(
            "front suspension rate at the axle, both wheels",
            "measured: load over drop",
            ask="How stiff is the front suspension?",
            stand="scale",
        ),
    ] = None
    rear_axle_rate: Annotated[
        Rate | None,
        Doc(
            "rear suspension rate at the axle, both wheels",
            "measured: load over drop",
            ask="How stiff is the rear suspension?",
            stand="scale",
        ),
    ] = None
    cargo: Annotated[
        tuple[VehicleLoad, ...],
        Doc("items carried in the vehicle", ask="What is carried in the vehicle?", stand="door"),
    ] = ()
    tailgate: Annotated[Flag | None, Doc("tailgate in the way of a bed hitch")] = None
    camera: Annotated[Flag | None, Doc("rear camera")] = None
    tow_mode: Annotated[Flag | None, Doc("tow or haul mode")] = None
    abs: Annotated[
        Flag | None,
        Doc(
            "anti-lock brakes",
            "owner's manual",
            markets=("de",),
            ask="Has the vehicle anti-lock brakes?",
            stand="papers",
        ),
    ] = None
    charge_display: Annotated[
        Flag | None,
        Doc(
            "display in the cab of the breakaway battery's charge",
            "look in the cab",
            markets=("au-nsw",),
            ask="Does a display in the cab show the charge of the breakaway battery?",
            stand="door",
        ),
    ] = None
    unladen_for_law: Annotated[
        Mass | None,
        Doc(
            "{kerb_by_law} as the law of the place counts it, mostly the same figure as the {curb}",
            "registration papers",
            markets=("uk", "eu", "nz", "ca-bc", "ca-ab", "au-sa"),
            ask="What is the {kerb_by_law} in the papers?",
            stand="papers",
        ),
    ] = None


@record
class NoVehicle(Vehicle):
    """No vehicle in the rig file: nothing is known of any field, so that nothing can be claimed of it."""
