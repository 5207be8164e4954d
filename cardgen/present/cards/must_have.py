"""What a vehicle must have for this trailer: a sheet that is filled in beside a customer's vehicle and signed.

A yard cannot know how the trailer will be loaded. So the trailer is taken at its largest permitted weight, and
the weight on the coupling at the upper end of its band, or the largest of all fillings where that is more.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cardgen.limits.fit import LEVEL
from cardgen.physics.band import SHARE, asked_tongue, band_for
from cardgen.physics.needs import need
from cardgen.present.blocks import (
    Block,
    Card,
    Face,
    Heading,
    KeyNumber,
    KeyNumbers,
    Note,
    Pair,
    Sign,
    Table,
)
from cardgen.present.cards import pieces
from cardgen.present.rig_view import RigView
from cardgen.tables.connectors import connector
from cardgen.tables.law import place_words, rules
from cardgen.units.show import NBSP

BLANK = "_____"
ASKED = "yes / no"
"""Beside the box of a line that is answered [-]."""
EUROPE = ("uk", "eu")
"""Markets where ball and towbar are one part with plates for vertical load and D value [-]."""


@dataclass(frozen=True, slots=True)
class Must:
    """One thing a vehicle must have.

    Args:
        what: the thing, with a remark in brackets [-].
        needed: the least that will do [-].
        where: where to read it on the vehicle [-].
    """

    what: str
    needed: str
    where: str


def card(rig_view: RigView) -> Card:
    """Make the sheet: what is needed on its front, sums and signatures on its back."""
    stop = pieces.stop_line(rig_view)
    front: tuple[Block, ...] = (*stop, _trailer(rig_view), table(rig_view), _listed(rig_view))
    carried, together = _carried(rig_view), _together(rig_view)
    back: tuple[Block, ...] = (
        Pair(carried, together, 0.5), _height(rig_view), *_rule(rig_view),
        Sign("", tuple(map(rig_view.say, ("Vehicle, {license_plate}", "Customer, name and signature", "Handed over by, signature", "Date")))),
    )  # fmt: skip
    faces = (
        Face(front),
        Face(back, "Work out and sign", f"{rig_view.rig.nickname}: which vehicle may tow it"),
    )
    return pieces.frame(rig_view, "must-have-sheet", "Which vehicle may tow it", faces)


def gross(rig_view: RigView) -> tuple[float | None, str]:
    """The most that the trailer may weigh by its own plates [kg], and which says so [-]."""
    trailer = rig_view.rig.trailer
    stated = {"its {trailer_rating}": trailer.gvwr, "its registration": trailer.registered_gross}
    known = [(quantity.si, words) for words, quantity in stated.items() if quantity is not None]
    return min(known) if trailer.gvwr is not None else (None, "")


def tongue(rig_view: RigView) -> tuple[float | None, str]:
    """The load on the coupling that a vehicle must bear [kg], and where it comes from [-].

    The upper end of the band at the largest trailer, or what the trailer's own coupler or the owner's limit
    allows where that is less; never under the largest of all fillings.
    """
    show, computed = rig_view.formatter, rig_view.assessment.computed
    load, why, seen = asked_tongue(computed)
    weight, _ = gross(rig_view)
    if why == SHARE and weight is not None:
        high = band_for(rig_view.rig)[1]
        why = f"{_percent(rig_view, high)} of {show.value(weight, 'mass')}"
    listed = "" if seen is None or seen == load else f"; as listed it reaches {show.value(seen, 'mass')}"
    return load, why + listed


def _percent(rig_view: RigView, share: float) -> str:
    return rig_view.formatter.value(share, "fraction").replace(".0", "")


def least(rig_view: RigView, si: float | None) -> str:
    """Write a weight that is needed [kg], rounded up; a blank while it is not known."""
    return BLANK if si is None else rig_view.formatter.bound(si, "mass", "lower")


def needs(rig_view: RigView) -> tuple[Must, ...]:
    """Everything a vehicle must have, in the order in which one walks from the papers to the seat."""
    made = (*_ratings(rig_view), *_fittings(rig_view), *_seat(rig_view))
    return tuple(Must(*map(rig_view.say, (one.what, one.needed, one.where))) for one in made)


def table(rig_view: RigView, title: str = "The vehicle must have") -> Table:
    """The needs as a table with a box for what the vehicle has."""
    rows = tuple((one.what, one.needed, one.where, ASKED) for one in needs(rig_view))
    note = "At least what is printed. One no: do not hand over. One empty: not checked, so not a yes."
    head = ("what", "needed", "read it", "this vehicle")
    return Table(
        title, head, rows, (2.1, 1.25, 1.35, 1.3), ("left", "left", "left", "right"), note, write=True, key=1
    )


def _where(path: str) -> str:
    return need(path).where


def _ratings(rig_view: RigView) -> Iterator[Must]:
    rig = rig_view.rig
    (weight, why), (load, told) = gross(rig_view), tongue(rig_view)
    brakes = rig.trailer.brakes.works
    which = "without" if brakes == "none" else "with"
    path = "unbraked" if brakes == "none" else "braked"
    words = f"trailer {which} brakes" if brakes else "with or without brakes, as the trailer has"
    because = why or "the trailer's {trailer_rating} is not known"
    whole, pressed = least(rig_view, weight), least(rig_view, load)
    yield Must(f"{{Tow_rating}}, {words} ({because})", whole, _where(f"vehicle.tow_rating.{path}"))
    yield Must(
        f"Vehicle's {{tongue_rating}} ({told or '{coupling_load} is not known'})",
        pressed,
        _where("vehicle.tow_rating.tongue"),
    )
    if rig.trailer.type != "ball":
        yield Must("Hitch in the bed, trailer", whole, "plate on the hitch")
        yield Must("Hitch in the bed, {tongue_load}", pressed, "plate on the hitch")
    elif rig.market in EUROPE:
        yield Must("{Towbar}, S value", pressed, "plate on the {towbar}")
        yield Must("{Towbar}, D value", "overleaf, B", _where("vehicle.receiver.d_value"))
    else:
        bars = rig.gear.weight_distribution is not None
        how = "with weight distribution" if bars else "without weight distribution"
        note = "bars are used" if bars else "no bars are listed"
        yield Must(f"{{Receiver}} {how}, trailer ({note})", whole, "label on the {receiver}")
        yield Must(f"{{Receiver}} {how}, {{tongue_load}}", pressed, "label on the {receiver}")


def _fittings(rig_view: RigView) -> Iterator[Must]:
    rig, show = rig_view.rig, rig_view.formatter
    trailer, gear = rig.trailer, rig.gear
    if trailer.type != "fifth_wheel":
        size = trailer.coupler.ball
        note = "" if rig.market in EUROPE else f" (stamped {least(rig_view, gross(rig_view)[0])} or more)"
        yield Must(f"{{Hitch_ball}}{note}", show.ball(size.si) if size else BLANK, "stamp on the ball")
    if trailer.type == "ball" and gear.mount is not None and gear.mount.shank is not None:
        yield Must(
            "{Receiver} opening (for our {ball_mount})",
            show.value(gear.mount.shank.si, "ball"),
            "measure inside",
        )
    plug = trailer.connector
    feeds = _circuits(rig_view)
    yield Must(f"Socket that feeds {feeds}", connector(plug).words if plug else BLANK, "look at the socket")
    kind = trailer.brakes.kind
    if kind in ("electric", "electric_hydraulic"):
        axles = trailer.brakes.braked_axles
        count = f", {axles} axle{'s' if axles > 1 else ''}" if axles else ""
        words = "electric" if kind == "electric" else "electric over hydraulic"
        yield Must(
            f"Brake controller for {words} brakes{count}", "working", "pull its lever: the trailer must brake"
        )
    elif kind is None:
        yield Must("Brake controller, if the trailer has electric brakes", BLANK, "look at the hubs")
    chains, cable = trailer.chains.count, trailer.breakaway.fitted
    none = trailer.type == "fifth_wheel" or rig.market in EUROPE
    if chains is None and not none:
        yield Must("Points to hook on, one for each chain", BLANK, "beside the coupling")
    elif chains and not none:
        words = "1 chain" if chains == 1 else f"{chains} chains"
        yield Must(f"Points to hook on for {words}", str(chains), "beside the coupling")
    if cable:
        yield Must("Point for the breakaway cable, apart from ball and chains", "1", "beside the coupling")


def _circuits(rig_view: RigView) -> str:
    trailer = rig_view.rig.trailer
    found = ["lamps"]
    found += ["brakes"] if trailer.brakes.kind in ("electric", "electric_hydraulic") else []
    found += ["the trailer's battery"] if trailer.batteries else []
    if trailer.brakes.kind == "surge" and trailer.connector in ("5-flat", "7-blade"):
        found.append("the reverse wire")
    *before, last = found
    return f"{', '.join(before)} and {last}" if before else last


def _seat(rig_view: RigView) -> Iterator[Must]:
    """Mirrors by what is seen in them, as the law asks where it asks for a view; the license for both plates."""
    rig, show = rig_view.rig, rig_view.formatter
    width = rig.trailer.dimensions.width
    wide = f"trailer {show.value(width.si, 'dimension')} wide" if width else "both sides"
    laws = [(place, clause) for place in rig.places for clause in rules(place, "mirrors")]
    view = [place for place, clause in laws if "200 ft" in clause.text]
    far = "61\u00a0m" if show.value(1.0, "length").endswith("m") else "200\u00a0ft"
    if view or rig.market in ("us", "ca"):
        asked = f"{far} behind"
        told = f"{place_words(view[0])}; {wide}" if view else f"{wide}; several places ask for it"
    else:
        asked, told = "both sides", wide
    yield Must(
        f"Mirrors show the road behind, trailer coupled ({told})",
        asked,
        "sit in the driver's seat, a helper walks behind",
    )
    weight, _ = gross(rig_view)
    yield Must(
        "Driver's license for the plates of both together (vehicle's {vehicle_rating} and this)",
        least(rig_view, weight),
        "ask the authority",
    )


def _trailer(rig_view: RigView) -> KeyNumbers:
    """The trailer in a few numbers."""
    rig, show = rig_view.rig, rig_view.formatter
    empty, coupler, size = rig.trailer.empty.weight, rig.trailer.coupler.height, rig.trailer.dimensions
    weight, _ = gross(rig_view)
    most, why = may_load(rig_view)
    sides = [
        "?" if side is None else show.value(side.si, "dimension")
        for side in (size.length, size.width, size.height)
    ]
    low, high = rig_view.figure("tongue_weight_min"), rig_view.figure("tongue_weight_max")
    pressed = BLANK if high is None or high.value is None else show.value(high.value, "mass")
    least_ = "" if low is None or low.value is None else f"from {show.value(low.value, 'mass')}"
    rows = (
        KeyNumber("{Trailer_rating_in_full}", BLANK if weight is None else show.value(weight, "mass")),
        KeyNumber("Empty, as weighed" if rig.trailer.empty.source == "scale" else "Empty", BLANK if empty is None else show.value(empty.si, "mass")),
        KeyNumber("May be loaded with", BLANK if most is None else show.bound(most, "mass", "upper"), why),
        KeyNumber("{Tongue_load}, as listed", pressed, least_),
        KeyNumber("{Coupler}, level", BLANK if coupler is None else show.value(coupler.si, "height")),
        KeyNumber("Tires, cold", rig_view.texts.get("pressure_trailer") or BLANK),
    )  # fmt: skip
    said = tuple(KeyNumber(rig_view.say(r.label), r.value, rig_view.say(r.note)) for r in rows)
    return KeyNumbers("The trailer", said, f"length, width, height: {', '.join(sides)}")


def may_load(rig_view: RigView) -> tuple[float | None, str]:
    """The most that may be put into the empty trailer [kg], and what says so [-].

    The least of: its largest weight less empty, the cargo label, what the axles bear less empty. Of a trailer
    that keeps its band the axles carry all but the lower end: ``sum(GAWR) / (1 - low) - empty``.
    """
    trailer, low = rig_view.rig.trailer, band_for(rig_view.rig)[0]
    (weight, why), empty, axles = gross(rig_view), trailer.empty.weight, trailer.axles
    if weight is None or empty is None:
        return None, ""
    found, share = [(weight - empty.si, f"{why} less empty")], f"{100 * low:g}{NBSP}%"
    unread = []
    if trailer.cargo_capacity is not None:
        found.append((trailer.cargo_capacity.si, "{cargo_label}"))
    elif rig_view.rig.market in ("us", "ca"):
        unread.append("{cargo_label}")
    if len(axles.gawr) == axles.count:
        found.append(
            (sum(q.si for q in axles.gawr) / (1.0 - low) - empty.si, f"its axles, {share} {{on_tongue}}")
        )
    elif trailer.gtm is None:
        unread.append("axles")
    if trailer.gtm is not None:
        found.append((trailer.gtm.si / (1.0 - low) - empty.si, f"{{axle_group}}, {share} {{on_tongue}}"))
    most, words = min(found)
    more = f"; not read: {' and '.join(unread)}" if unread else ""
    return max(0.0, most), words + more


def _listed(rig_view: RigView) -> Table:
    """What the loading cases of the file come to, for a customer who loads alike."""
    show = rig_view.formatter
    rows = tuple(
        (
            case.name,
            show.figure(case.figures.get("trailer_weight")),
            show.figure(case.figures.get("tongue_weight")),
        )
        for case in rig_view.assessment.computed.cases
    )
    head = ("loaded as listed", "trailer", rig_view.say("{tongue_load}"))
    return Table("", head, rows[:4], (2.1, 1.0, 1.0), note=rig_view.reckoned())


def _sum(title: str, rows: tuple[tuple[str, str], ...]) -> Table:
    return Table(title, (), rows, (1.9, 1.0), ("left", "right"), write=True)


def _carried(rig_view: RigView) -> Table:
    """What the vehicle carries, against its placard or, where there is none, against its own largest weight."""
    rig, say = rig_view.rig, rig_view.say
    weight = rig.gear.weight
    placard = rig.market in ("us", "ca")
    rows = (
        *(() if placard else (("vehicle, empty, full tank", ""),)),
        ("people", ""),
        ("cargo in the vehicle", ""),
        (
            "mount, ball, bars" if rig.trailer.type == "ball" else "hitch in the bed",
            "" if weight is None else rig_view.formatter.value(weight.si, "mass"),
        ),
        ("{tongue_load}", least(rig_view, tongue(rig_view)[0])),
        ("together", ""),
        ("placard: occupants and cargo" if placard else "vehicle's {vehicle_rating}", ""),
        ("Together not more?", ASKED),
    )
    return _sum("A. What the vehicle carries", tuple((say(a), b) for a, b in rows))


def _together(rig_view: RigView) -> Table:
    rig, say = rig_view.rig, rig_view.say
    whole = least(rig_view, gross(rig_view)[0])
    rows: list[tuple[str, str]] = [
        ("vehicle, empty, full tank", ""),
        ("people, cargo, mount (from A)", ""),
        ("trailer", whole),
        ("together", ""),
        ("{combination_rating} of the vehicle", ""),
        ("Together not more?", ASKED),
    ]
    if rig.market in EUROPE and rig.trailer.type == "ball":
        rows += [
            (f"D = 0.00981 x {whole} x R / ({whole} + R), R the vehicle's {{vehicle_rating}} in kg", "kN"),
            ("D on the {towbar} not less?", ASKED),
        ]
    return _sum("B. Vehicle and trailer together", tuple((say(a), b) for a, b in rows))


def _height(rig_view: RigView) -> Table:
    """The drop of the mount, as ``drop_needed`` has it: ``h_r - c + b``, or without b at the lower lip."""
    rig, show, say = rig_view.rig, rig_view.formatter, rig_view.say
    coupler, ball = rig.trailer.coupler, rig.gear.ball
    level = BLANK if coupler.height is None else show.value(coupler.height.si, "height")
    near = show.value(LEVEL, "height")
    if rig.trailer.type != "ball":
        rows = [
            ("ground to the plate or ball in the bed, vehicle loaded", ""),
            ("{coupler}, trailer level", level),
            ("Trailer level coupled, and clear of the bed's sides?", ASKED),
        ]
        return _sum("C. Height of the hitch in the bed", tuple((say(a), b) for a, b in rows))
    if rig.market in EUROPE:
        rows = [
            ("ground to the middle of the ball, vehicle loaded", ""),
            ("{coupler}, trailer level", level),
            (f"No more than {near} apart, trailer level coupled?", ASKED),
        ]
        return _sum("C. Height of the ball", tuple((say(a), b) for a, b in rows))
    high = "" if ball is None or ball.height is None else show.value(ball.height.si, "height")
    top = [] if coupler.height_at == "lower_lip" else [("+ height of the ball above its platform", high)]
    rows = [
        ("ground to the top inside of the {receiver}, vehicle loaded", ""),
        *top,
        ("- {coupler}, level", level),
        ("= drop of the mount to fit (minus: a rise)", ""),
        (f"Mount with that drop, within {near}, fitted?", ASKED),
    ]
    return _sum("C. Height of the ball", tuple((say(a), b) for a, b in rows))


def _rule(rig_view: RigView) -> tuple[Heading, Note]:
    text = (
        "One no: do not hand over. One empty: not checked, so not a yes. Axles and tires of the vehicle, and what "
        "bars move to the trailer's axles, are not worked out here; they are known only after weighing. Local "
        "law and makers' manuals come first."
    )
    return Heading("Every line yes: it may be coupled."), Note(rig_view.say(text))
