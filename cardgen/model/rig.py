"""One rig: vehicle, trailer, gear, loading cases and the owner's limits and wishes."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Annotated, Literal

from cardgen.model.gear import Gear
from cardgen.model.trailer import NoTrailer, Trailer
from cardgen.model.vehicle import NoVehicle, Vehicle
from cardgen.model.weighing import Weighing
from cardgen.units.field import Distance, Doc, Duration, Fill, Fraction, Mass, Speed, Temperature
from cardgen.units.record import field, record
from cardgen.units.scalars import Day, Flag, Number

Market = Literal["us", "ca", "uk", "eu", "au", "nz"]


@record
class Occupant:
    """A person in the vehicle."""

    name: Annotated[str, Doc("name or role")]
    weight: Annotated[
        Mass | None,
        Doc(
            "weight with clothes",
            "bathroom scale",
            ask="What does this person weigh with clothes?",
            stand="scale",
            usual=("20 lb", "400 lb"),
        ),
    ] = None
    seat: Annotated[
        str | None, Doc("seat row, one of vehicle.seats", ask="In which seat row?", stand="side")
    ] = None


@record
class Case:
    """One way the owner loads the rig."""

    name: Annotated[str, Doc("name of the loading case", example="leaving home")]
    tanks: Annotated[
        dict[str, Fill], Doc("fill of each trailer tank", ask="How full are the tanks then?")
    ] = field(default_factory=dict)
    cylinders: Annotated[
        dict[str, Fill], Doc("gas in each cylinder", ask="How full are the gas cylinders then?")
    ] = field(default_factory=dict)
    without: Annotated[tuple[str, ...], Doc("names of cylinders and batteries left at home")] = ()
    cargo: Annotated[tuple[str, ...], Doc("cargo sets aboard, besides what is always aboard")] = ()
    occupants: Annotated[tuple[str, ...] | None, Doc("people aboard; everybody when left out")] = None
    fuel: Annotated[
        Fill | None, Doc("fuel in the vehicle", "fuel gauge", "full", ask="How full is the fuel tank then?")
    ] = None


@record
class ShareBand:
    """A band of tongue weight as a share of the loaded trailer."""

    low: Annotated[Fraction, Doc("lower end", example="10 %")]
    high: Annotated[Fraction, Doc("upper end", example="15 %")]
    source: Annotated[str | None, Doc("who says so")] = None


@record
class MassBand:
    """A band of tongue weight as a weight."""

    low: Annotated[Mass | None, Doc("lower end", example="100 lb")] = None
    high: Annotated[Mass | None, Doc("upper end", example="200 lb")] = None
    source: Annotated[str | None, Doc("who says so")] = None


@record
class Limits:
    """The owner's own limits."""

    tongue_share: Annotated[ShareBand | None, Doc("{coupling_load} band as a share")] = None
    tongue_weight: Annotated[MassBand | None, Doc("{coupling_load} band as a weight")] = None
    close: Annotated[Fraction | None, Doc("margin under which a check is called close", example="5 %")] = None
    tire_age: Annotated[
        Duration | None, Doc("age at which the owner replaces tires", "tire maker", "6 years")
    ] = None
    side_allowance: Annotated[
        Fraction | None, Doc("how far one side may carry more than half an axle", example="5 %")
    ] = None
    water_from_fresh_only: Annotated[
        Flag, Doc("waste can only become what fresh water can supply: the rig never stands on a water hookup")
    ] = False
    wind: Annotated[Speed | None, Doc("wind at which the owner does not tow")] = None


@record
class Preferences:
    """Wishes for print and travel."""

    units: Annotated[Literal["us", "metric"] | None, Doc("units on card and report")] = None
    planned_speed: Annotated[
        Speed | None,
        Doc(
            "planned top speed",
            example="60 mph",
            ask="How fast do you tow at most?",
            usual=("25 mph", "75 mph"),
        ),
    ] = None
    base_url: Annotated[
        str | None,
        Doc(
            "address under which the output folder is served", ask="At which address will the pages be found?"
        ),
    ] = None
    cards: Annotated[tuple[str, ...], Doc("cards to print")] = ()
    size: Annotated[str | None, Doc("card size")] = None
    large_print: Annotated[Flag, Doc("larger type")] = False
    morning_temperature: Annotated[
        Temperature | None,
        Doc("air temperature for the pressure strip", ask="How cold or warm is a usual morning?"),
    ] = None
    retorque: Annotated[
        tuple[Distance, ...],
        Doc("distances after which wheel nuts are checked", "trailer handbook"),
    ] = ()
    idle: Annotated[Duration | None, Doc("idle time after which the storage items apply")] = None
    drive_side: Annotated[Literal["left", "right"] | None, Doc("side of the road")] = None


@record
class Contact:
    """Whom to call."""

    who: Annotated[str, Doc("who answers")]
    phone: Annotated[str, Doc("number as it is dialled")]


@record
class OwnItem:
    """A checklist item of the owner's own."""

    phase: Annotated[str, Doc("phase of the checklist")]
    text: Annotated[str, Doc("what to do, at most about 12 words")]
    why: Annotated[str, Doc("the reason")] = ""
    safety: Annotated[Flag, Doc("safety-critical")] = False


@record
class ChecklistChanges:
    """The owner's changes to the checklist."""

    add: Annotated[tuple[OwnItem, ...], Doc("own items")] = ()
    replace: Annotated[dict[str, str], Doc("item id and its own wording")] = field(default_factory=dict)
    remove: Annotated[dict[str, str], Doc("item id and the reason for leaving it out")] = field(
        default_factory=dict
    )


@record
class Dates:
    """Days from which due dates are reckoned."""

    last_tow: Annotated[Day | None, Doc("last tow", ask="When was it towed last?")] = None
    bearing_service: Annotated[
        Day | None, Doc("last wheel bearing service", ask="When were the wheel bearings last serviced?")
    ] = None
    brake_service: Annotated[
        Day | None, Doc("last brake adjustment", ask="When were the brakes last adjusted?")
    ] = None
    battery: Annotated[
        Day | None, Doc("trailer battery fitted", ask="When was the trailer's battery fitted?")
    ] = None
    breakaway_battery: Annotated[Day | None, Doc("breakaway battery fitted")] = None
    lp_hose: Annotated[
        Day | None, Doc("{lp_gas} hose made or fitted", ask="When was the gas hose made or fitted?")
    ] = None
    lp_check: Annotated[Day | None, Doc("last {lp_gas} leak check")] = None
    cylinder_test: Annotated[Day | None, Doc("last cylinder test, oldest cylinder")] = None
    registration: Annotated[
        Day | None,
        Doc(
            "registration runs out",
            "registration label or papers",
            markets=("au", "nz"),
            ask="When does the registration run out?",
        ),
    ] = None
    inspection: Annotated[
        Day | None,
        Doc(
            "{inspection} runs out",
            "inspection label or papers",
            markets=("de", "nz"),
            ask="When does the {inspection} run out?",
        ),
    ] = None
    equipment_change: Annotated[
        Day | None, Doc("last change of equipment", ask="When was equipment last changed?")
    ] = None


@record
class Rig:
    """Everything the cards are computed from."""

    nickname: Annotated[str, Doc("the rig's nickname", example="Juniper")]
    market: Annotated[Market, Doc("whose words, rules and units apply")]
    places: Annotated[
        tuple[str, ...],
        Doc(
            "states, provinces or countries travelled[us: , for example us-va][ca: , for example ca-on][eu: , for example de][au: , for example au-nsw]",
            ask="Through which places do you tow?",
            stand="papers",
        ),
    ] = ()
    note: Annotated[str | None, Doc("a line of your own on the card")] = None
    vehicle: Annotated[
        Vehicle, Doc("tow vehicle; left out where only the trailer is known, for a yard, a club or a dealer")
    ] = field(default_factory=NoVehicle)
    trailer: Annotated[
        Trailer, Doc("trailer; left out where only the vehicle is known, to see what it may tow")
    ] = field(default_factory=NoTrailer)
    gear: Annotated[Gear, Doc("coupling gear", stand="hitch")] = field(default_factory=Gear)
    occupants: Annotated[
        tuple[Occupant, ...],
        Doc(
            "people who may ride in the vehicle",
            "count them, the driver first",
            ask="Who may ride in the vehicle?",
            stand="door",
        ),
    ] = ()
    cases: Annotated[tuple[Case, ...], Doc("loading cases, at least one", stand="inside")]
    limits: Annotated[Limits, Doc("the owner's own limits")] = field(default_factory=Limits)
    preferences: Annotated[Preferences, Doc("wishes for print and travel", stand="papers")] = field(
        default_factory=Preferences
    )
    weighings: Annotated[
        tuple[Weighing, ...], Doc("readings from a scale", ask="What did the scale show?", stand="scale")
    ] = ()
    contacts: Annotated[tuple[Contact, ...], Doc("whom to call")] = ()
    checklist: Annotated[ChecklistChanges, Doc("own items, replacements, removals")] = field(
        default_factory=ChecklistChanges
    )
    dates: Annotated[Dates, Doc("days from which due dates are reckoned", stand="papers")] = field(
        default_factory=Dates
    )
    use: Annotated[Literal["private", "commercial", "lending"], Doc("how the rig is used")] = "private"
    water_temperature: Annotated[Temperature | None, Doc("temperature of the water in the tanks")] = None
    gain_start: Annotated[Number | None, Doc("brake controller start value the owner wants printed")] = None

    @property
    def alone(self) -> Literal["trailer", "vehicle"] | None:
        """What the file describes by itself, the other left out [-]; None for a pair. The one place that decides."""
        if isinstance(self.vehicle, NoVehicle):
            return "trailer"
        return "vehicle" if isinstance(self.trailer, NoTrailer) else None

    @property
    def absent(self) -> tuple[str, ...]:
        """Groups of fields that belong to what the file leaves out [-]; coupling gear is its own once it is stated."""
        if self.alone == "trailer":
            return ("vehicle", "occupants", *(() if self.gear != Gear() else ("gear",)))
        return () if self.alone is None else ("trailer",)

    def lacks(self, paths: Iterable[str]) -> bool:
        """Whether some fields belong to what the file leaves out.

        Args:
            paths: field paths, for example ``vehicle.gcwr`` [-].
        """
        return any(re.split(r"[.\[]", path)[0] in self.absent for path in paths)
