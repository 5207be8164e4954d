"""What stands between vehicle and trailer: ball, mount, weight distribution, sway control."""

from __future__ import annotations

from typing import Annotated, Literal

from cardgen.model.parts import Ratings
from cardgen.units.field import Doc, Fraction, Length, Mass, Position, Torque
from cardgen.units.record import field, record
from cardgen.units.scalars import Flag


@record
class Ball:
    """The hitch ball."""

    diameter: Annotated[
        Length | None,
        Doc(
            "ball diameter",
            "stamp on top of the ball",
            "2 in",
            "50 mm",
            ask="Which diameter is stamped on the ball?",
            usual=("1.8 in", "3.1 in"),
        ),
    ] = None
    measured: Annotated[
        Length | None,
        Doc(
            "diameter as measured with a caliper",
            "caliper across the ball",
            ask="Which diameter has the ball by the caliper?",
        ),
    ] = None
    shank: Annotated[
        Length | None,
        Doc(
            "shank diameter",
            "caliper",
            "1 in",
            "22 mm",
            ask="How thick is the threaded shank of the ball?",
            usual=("0.6 in", "2 in"),
        ),
    ] = None
    height: Annotated[
        Length | None,
        Doc(
            "platform to the top of the ball",
            "tape measure",
            "3 in",
            "8 cm",
            ask="How high is the ball above its platform?",
            usual=("1.5 in", "10 in"),
        ),
    ] = None
    rating: Annotated[
        Mass | None,
        Doc(
            "{gross_towed}",
            "stamp on top of the ball",
            ask="Which weight is stamped on the ball?",
            usual=("1,000 lb", "30,000 lb"),
        ),
    ] = None
    torque: Annotated[
        Torque | None, Doc("ball nut torque", "ball maker", ask="How tight is the ball's nut?")
    ] = None


@record
class Mount:
    """The ball mount."""

    name: Annotated[str | None, Doc("name on the shelf")] = None
    drop: Annotated[
        Position | None,
        Doc(
            "drop from the top of the shank to the ball platform (negative: rise)",
            "tape measure",
            "2 in",
            "5 cm",
            ask="How far does the platform lie below the top of the shank?",
            usual=("-12 in", "14 in"),
        ),
    ] = None
    ratings: Annotated[Ratings, Doc("ratings of the mount")] = field(default_factory=Ratings)
    shank: Annotated[
        Length | None,
        Doc(
            "outside size of the square shank",
            "tape measure",
            "2 in",
            "50 mm",
            ask="How wide is the square shank outside?",
            usual=("1.1 in", "3.1 in"),
        ),
    ] = None
    hole: Annotated[
        Length | None,
        Doc(
            "hole for the ball shank",
            "caliper",
            "1 in",
            "22 mm",
            ask="How wide is the hole for the ball?",
            usual=("0.6 in", "2 in"),
        ),
    ] = None


@record
class Adapter:
    """A sleeve or extension between receiver and mount; its lower rating counts."""

    kind: Annotated[Literal["reducer", "extension"], Doc("what it does")] = "reducer"
    ratings: Annotated[Ratings, Doc("ratings with the adapter fitted")] = field(default_factory=Ratings)
    outside: Annotated[
        Length | None,
        Doc("size that goes into the {receiver}", "tape measure", ask="How wide is the adapter outside?"),
    ] = None
    inside: Annotated[
        Length | None,
        Doc("size it offers to the mount", "tape measure", ask="How wide is the adapter inside?"),
    ] = None


@record
class ArchHeights:
    """Front wheel-arch heights in the three states."""

    alone: Annotated[Length | None, Doc("vehicle alone", "tape measure at the front wheel arch")] = None
    slack: Annotated[
        Length | None,
        Doc("hitched, weight distribution slack", "tape measure at the front wheel arch"),
    ] = None
    engaged: Annotated[
        Length | None,
        Doc("hitched, weight distribution engaged", "tape measure at the front wheel arch"),
    ] = None


@record
class WeightDistribution:
    """A weight-distributing hitch and how it is set."""

    ratings: Annotated[Ratings, Doc("ratings of the hitch and its bars")] = field(default_factory=Ratings)
    restoration: Annotated[
        Fraction | None,
        Doc(
            "share of the front axle's lost load to put back",
            "vehicle handbook",
            "50 %",
            ask="Which share of the front axle's lost load is to be put back?",
            stand="papers",
        ),
    ] = None
    moment: Annotated[Torque | None, Doc("moment the bars apply about the ball", "hitch maker")] = None
    arches: Annotated[ArchHeights, Doc("front wheel-arch heights")] = field(default_factory=ArchHeights)
    links: Annotated[str | None, Doc("chain link or setting the owner uses", "hitch handbook")] = None


@record
class Gear:
    """Coupling gear on the vehicle side."""

    name: Annotated[str | None, Doc("nickname of the hitch set")] = None
    weight: Annotated[
        Mass | None,
        Doc(
            "[us ca au nz: weight of mount, ball and bars on the {receiver}][uk eu: weight of a removable neck or an adapter on the {receiver}]",
            "household scale",
            ask="[us ca au nz: What do mount, ball and bars weigh?][uk eu: What does the removable neck or adapter weigh?]",
            usual=("5 lb", "300 lb"),
        ),
    ] = None
    ball: Annotated[Ball | None, Doc("{hitch_ball}")] = None
    mount: Annotated[Mount | None, Doc("{ball_mount}")] = None
    stock: Annotated[tuple[Mount, ...], Doc("other {ball_mounts} on the shelf")] = ()
    adapter: Annotated[Adapter | None, Doc("{receiver} adapter or extension")] = None
    weight_distribution: Annotated[WeightDistribution | None, Doc("weight-distributing hitch")] = None
    sway_control: Annotated[
        Literal["none", "friction", "integrated"] | None,
        Doc("{sway_control} device", markets=("de",), ask="Which {sway_control} device is there?"),
    ] = None
    sway_control_certified: Annotated[
        Flag | None,
        Doc(
            "{sway_control} to ISO 11555-1, or a stability system entered in the vehicle's papers",
            "plate on the coupling, vehicle papers",
            markets=("de",),
            ask="Is the {sway_control} one to ISO 11555-1, or in the vehicle's papers?",
        ),
    ] = None
    plug_adapter: Annotated[
        Flag | None,
        Doc(
            "plug adapter carried that fits both connectors",
            ask="Do you carry a plug adapter that fits both connectors?",
        ),
    ] = None
