"""Small pieces that vehicle, trailer and gear share: loads, rating pairs, connectors."""

from __future__ import annotations

from typing import Annotated, Literal

from cardgen.units.field import Doc, Mass, Position, Volume
from cardgen.units.record import record
from cardgen.units.scalars import Flag

Connector = Literal[
    "4-flat",
    "5-flat",
    "6-round",
    "7-blade",
    "7-round-truck",
    "7-pin-12n",
    "7-flat-au",
    "12-flat-au",
    "13-pin",
]
Evidence = Literal["scale", "label", "brochure", "estimate"]


LOPSIDED = 0.2
"""Most by which the sides of an empty trailer differ, as a share of its weight [-]: with a track of 2 m its centre of
gravity then lies 20 cm off the middle. More is refused; where nobody weighed the sides so much is reckoned with.
A project choice, no source."""


@record
class Ratings:
    """The two ratings that every coupling part carries: trailer mass and vertical load."""

    trailer: Annotated[
        Mass | None,
        Doc(
            "{largest_trailer}",
            "rating label or stamp on the part",
            ask="How heavy a trailer is it rated for?",
        ),
    ] = None
    tongue: Annotated[
        Mass | None,
        Doc(
            "largest {tongue_or_pin_weight}[eu:  (Stützlast)]",
            "rating label or stamp on the part",
            ask="How much {tongue_or_pin_weight} is it rated for?",
        ),
    ] = None


@record
class PlacedMass:
    """Something with a mass and a place in the trailer."""

    name: Annotated[str, Doc("name of the item")]
    weight: Annotated[Mass | None, Doc("its weight", "household scale", ask="What does it weigh?")] = None
    x: Annotated[
        Position | None,
        Doc(
            "distance behind the coupling center (negative: ahead of it)",
            "tape measure along the trailer",
            ask="How far behind the coupling does it lie?",
        ),
    ] = None
    y: Annotated[
        Position | None,
        Doc("distance right of the center line (negative: left)", "tape measure across the trailer"),
    ] = None
    z: Annotated[Position | None, Doc("height of its middle above the ground", "tape measure")] = None
    set: Annotated[
        str | None, Doc("name of the cargo set it belongs to; without one it is always aboard")
    ] = None


@record
class TrailerLoad(PlacedMass):
    """Cargo in the trailer."""

    movable: Annotated[Flag, Doc("whether advice may propose to move or leave it")] = True


@record
class VehicleLoad:
    """Something with a mass and a place in the tow vehicle."""

    name: Annotated[str, Doc("name of the item")]
    weight: Annotated[Mass | None, Doc("its weight", "household scale", ask="What does it weigh?")] = None
    ahead_of_rear_axle: Annotated[
        Position | None,
        Doc(
            "distance ahead of the rear axle center (negative: behind)",
            "tape measure beside the vehicle",
            ask="How far ahead of the rear axle does it lie?",
        ),
    ] = None
    set: Annotated[
        str | None, Doc("name of the cargo set it belongs to; without one it is always aboard")
    ] = None
    movable: Annotated[Flag, Doc("whether advice may propose to move or leave it")] = True


@record
class Tank:
    """A tank in the trailer."""

    holds: Annotated[
        Literal["fresh", "grey", "black", "heater", "fuel", "diesel", "salt"],
        Doc("what the tank holds", ask="What does it hold?"),
    ]
    capacity: Annotated[
        Volume | None, Doc("usable capacity", "trailer handbook", "20 gal", ask="How large is it?")
    ] = None
    x: Annotated[
        Position | None,
        Doc(
            "distance of its middle behind the coupling center",
            "tape measure along the trailer",
            ask="How far behind the coupling is its middle?",
        ),
    ] = None
    y: Annotated[
        Position | None,
        Doc("distance of its middle right of the center line", "tape measure across the trailer"),
    ] = None
    z: Annotated[Position | None, Doc("height of its middle above the ground", "tape measure")] = None


@record
class Cylinder:
    """A removable LP gas cylinder."""

    size: Annotated[
        Mass | None,
        Doc(
            "nominal gas capacity", "stamp or label on the collar", "20 lb", ask="How much gas does it hold?"
        ),
    ] = None
    water_capacity: Annotated[
        Mass | None,
        Doc(
            "stamped water capacity (WC), a weight",
            "stamp on the collar",
            "47.6 lb",
            ask="Which water capacity (WC) is stamped?",
        ),
    ] = None
    tare: Annotated[
        Mass | None,
        Doc(
            "stamped tare weight (TW)",
            "stamp on the collar",
            "17 lb",
            ask="Which tare weight (TW) is stamped?",
        ),
    ] = None
    x: Annotated[
        Position | None,
        Doc(
            "distance of its middle behind the coupling center",
            "tape measure along the trailer",
            ask="How far behind the coupling is it?",
        ),
    ] = None
    y: Annotated[
        Position | None,
        Doc("distance of its middle right of the center line", "tape measure across the trailer"),
    ] = None
    z: Annotated[Position | None, Doc("height of its middle above the ground", "tape measure")] = None


@record
class Fuel:
    """The tow vehicle's fuel tank."""

    kind: Annotated[
        Literal["gasoline", "petrol", "diesel", "none"],
        Doc("what the engine burns; gasoline and petrol are the same", ask="Which fuel?"),
    ]
    capacity: Annotated[
        Volume | None, Doc("tank capacity", "owner's manual", "18 gal", ask="How large is the tank?")
    ] = None
    ahead_of_rear_axle: Annotated[
        Position | None,
        Doc(
            "distance of the tank ahead of the rear axle center",
            "tape measure beside the vehicle",
            ask="How far ahead of the rear axle is its middle?",
        ),
    ] = None
