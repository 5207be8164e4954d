"""What a vehicle may tow: its ratings and fittings, with a box for the trailer that somebody wants behind it."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.model.parts import Ratings
from cardgen.present.blocks import Card, Face, Heading, Note, Sign, Table
from cardgen.present.cards import pieces
from cardgen.present.cards.must_have import ASKED, BLANK, EUROPE
from cardgen.present.rig_view import RigView
from cardgen.tables.connectors import Circuit, carries, connector
from cardgen.units import Quantity

Row = tuple[str, str, str]
"""What is compared, what the vehicle or its gear allows, and what of the trailer stands against it [-]."""
CIRCUITS: dict[Circuit, str] = {
    "brake": "electric brakes",
    "charge": "the trailer's battery",
    "reverse": "reverse lamps or lock-out",
}
"""What a socket may feed besides lamps [-]."""
WHOLE, PRESSED = "its {trailer_rating}", "{tongue_or_pin_weight}, loaded"


def card(rig_view: RigView) -> Card:
    """Make the sheet: ratings, then fittings and signatures."""
    stop = pieces.stop_line(rig_view)
    faces = (
        Face((*stop, _table(rig_view, "Ratings: the trailer must be at most", tuple(ratings(rig_view))))),
        Face(
            (
                _table(rig_view, "Fittings: the trailer must match", tuple(fittings(rig_view))),
                Heading("Every line yes: it may be coupled."),
                Note(rig_view.say(TEXT)),
                Sign(
                    "", tuple(map(rig_view.say, ("Trailer, {license_plate}", "Name and signature", "Date")))
                ),
            ),
            "Fittings and signatures",
            f"{rig_view.rig.nickname}: what this vehicle may tow",
        ),
    )
    return pieces.frame(rig_view, "may-tow-sheet", "What this vehicle may tow", faces)


TEXT = (
    "Strike out what this trailer has not: with or without brakes, bars. One no: do not couple. One empty: not checked, so not a yes. Axles and tires are not worked out here; they "
    "are known only after weighing. Local law and makers' manuals come first."
)


def _table(rig_view: RigView, title: str, rows: tuple[Row, ...]) -> Table:
    say = rig_view.say
    said = tuple((say(what), say(limit), say(asks), ASKED) for what, limit, asks in rows)
    head = ("what", "allowed", "of the trailer", "this trailer")
    return Table(
        title, head, said, (2.0, 1.2, 1.4, 1.3), ("left", "left", "left", "right"),
        "Only the lowest counts. What is blank was not read: read it first.", write=True, key=1,
    )  # fmt: skip


def _most(rig_view: RigView, quantity: Quantity | None) -> str:
    return BLANK if quantity is None else rig_view.formatter.bound(quantity.si, "mass", "upper")


def ratings(rig_view: RigView) -> Iterator[Row]:
    """Every rating of vehicle and gear that a trailer bears on, with what the stated load leaves of the others."""
    rig = rig_view.rig
    vehicle, gear, rated = rig.vehicle, rig.gear, rig.vehicle.tow_rating

    def mass(quantity: Quantity | None) -> str:
        return _most(rig_view, quantity)

    yield "{Tow_rating}, trailer with brakes", mass(rated.braked), WHOLE
    yield "{Tow_rating}, trailer without brakes", mass(rated.unbraked), WHOLE
    for bound in (rated.weight_carrying, rated.needs_distribution_above):
        if bound is not None:
            yield "Without weight distribution", mass(bound), "weight, loaded"
    yield "Vehicle's {tongue_rating}", mass(rated.tongue), PRESSED
    yield _left(rig_view, "gcwr", "{combination_rating} less the vehicle as listed", "weight, loaded")
    yield _left(rig_view, "gvwr", "{vehicle_rating} less the vehicle as listed", PRESSED)
    placard = vehicle.placard_capacity
    if rig.market in ("us", "ca") and (placard is None or placard.kind == "mass"):  # some vehicles have none
        yield "Placard: people, cargo, hitch and {tongue_or_pin_weight}", mass(placard), "all four together"
    for words, one in _parts(rig_view):
        yield f"{words}, trailer", mass(one.trailer), "weight, loaded"
        yield f"{words}, {{tongue_or_pin_weight}}", mass(one.tongue), PRESSED
    if gear.ball is not None:
        yield "{Hitch_ball}, stamped", mass(gear.ball.rating), "weight, loaded"
    if vehicle.receiver is not None and vehicle.receiver.d_value is not None:
        yield "D value of the {towbar}", vehicle.receiver.d_value, "0.00981 x T x R / (T + R)"


def _parts(rig_view: RigView) -> list[tuple[str, Ratings]]:
    """The rated parts of the coupling, each with both of its ratings."""
    rig = rig_view.rig
    vehicle, gear = rig.vehicle, rig.gear
    pairs: list[tuple[str, Ratings]] = []
    if vehicle.receiver is not None or vehicle.bed_hitch is None:
        receiver = vehicle.receiver
        columns = (
            ("", "weight_carrying"),
            *((" with bars", "weight_distributing"),) * (rig.market not in EUROPE),
        )
        for words, column in columns:
            rated_so = getattr(receiver, column) if receiver else Ratings()
            pairs.append((f"{{Receiver}}{words}", rated_so))
    if vehicle.bed_hitch is not None:
        pairs.append(("Hitch in the bed", vehicle.bed_hitch.ratings))
    if gear.adapter is not None:
        pairs.append(("{Receiver} adapter", gear.adapter.ratings))
    if gear.mount is not None:
        pairs.append(("{Ball_mount}", gear.mount.ratings))
    if gear.weight_distribution is not None:
        pairs.append(("Bars", gear.weight_distribution.ratings))
    return pairs


def _left(rig_view: RigView, name: str, words: str, asks: str) -> Row:
    """What a rating leaves above the heaviest loading case of the vehicle."""
    rating: Quantity | None = getattr(rig_view.rig.vehicle, name)
    alone = [c.figures["vehicle_alone"].value for c in rig_view.assessment.computed.cases]
    known = [one for one in alone if one is not None]
    if rating is None or not known or len(known) < len(alone):
        missing = "{combination_rating}" if rating is None and name == "gcwr" else "{vehicle_rating}"
        why = f"{missing} not read" if rating is None else "the vehicle as loaded is not known"
        return f"{words} ({why})", BLANK, asks
    heaviest = rig_view.formatter.value(max(known), "mass")
    left = max(0.0, rating.si - max(known))
    return f"{words} ({heaviest})", rig_view.formatter.bound(left, "mass", "upper"), asks


def fittings(rig_view: RigView) -> Iterator[Row]:
    """Ball, opening, socket with its circuits, brake controller, heights and mirrors."""
    rig, show = rig_view.rig, rig_view.formatter
    vehicle, gear = rig.vehicle, rig.gear
    if vehicle.bed_hitch is None or vehicle.receiver is not None:
        size = gear.ball.diameter if gear.ball else None
        yield "{Hitch_ball}", show.ball(size.si) if size else BLANK, "stamp on the {coupler}, the same"
        receiver = vehicle.receiver
        height = None if receiver is None else receiver.ball_height or receiver.height
        fixed = receiver is not None and receiver.ball_height is not None
        words = "Middle of the ball above ground" if fixed else "Top inside of the {receiver} above ground"
        level = "{coupler}, trailer level"
        yield f"{words}, loaded", show.value(height.si, "height") if height else BLANK, level
    else:
        yield "Hitch in the bed", vehicle.bed_hitch.kind.replace("_", " "), "couples to it"
    socket = vehicle.connector
    yield "Socket", connector(socket).words if socket else BLANK, "the same plug"
    controlled = rig.market not in EUROPE or vehicle.brake_controller.fitted is not None
    for circuit, words in CIRCUITS.items():
        if circuit == "brake" and not controlled:
            continue  # trailers there brake by their coupling
        has = carries(socket, circuit) if socket else None
        yield f"Socket feeds {words}", {True: "yes", False: "no", None: BLANK}[has], "whether it needs it"
    fitted = vehicle.brake_controller.fitted
    told = {True: "fitted", False: "none", None: BLANK}[fitted]
    if controlled:
        yield "Brake controller", told, "electric brakes only with one"
    span = vehicle.mirrors.span
    yield (
        "Mirrors, edge to edge",
        show.value(span.si, "dimension") if span else BLANK,
        "road behind seen on both sides",
    )
