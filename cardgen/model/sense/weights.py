"""Weights and ratings that contradict each other."""

from __future__ import annotations

from cardgen.model.sense.context import Look, si
from cardgen.tables.words import say
from cardgen.units.quantity import Quantity

_SPLIT = 0.01
"""How far front plus rear may miss the whole [-]; common practice, no source."""


def _above(
    look: Look,
    code: str,
    path: tuple[str, ...],
    low: Quantity | None,
    high: Quantity | None,
    words: str,
    hint: str,
) -> None:
    """Report at the path when the first quantity is above the second."""
    if si(low) > si(high) and low is not None and high is not None:
        words, hint = (say(text, look.rig.market) for text in (words, hint))
        look.say(code, path, words.replace("{low}", low.text).replace("{high}", high.text), hint)


def tongue(look: Look) -> None:
    """Tongue weight not below the weight of the whole trailer."""
    empty = look.rig.trailer.empty
    if si(empty.tongue) >= si(empty.weight) and empty.tongue and empty.weight:
        look.say(
            "tongue-above-weight",
            ("trailer", "empty", "tongue"),
            f"'{empty.tongue.text}' {say('{on_tongue}', look.rig.market)} is not less than the empty weight "
            f"'{empty.weight.text}'",
            "check which of the two is mistyped",
        )
    if abs(si(empty.left_minus_right)) > si(empty.weight) and empty.left_minus_right:
        look.say(
            "side-above-weight",
            ("trailer", "empty", "left_minus_right"),
            f"a difference of '{empty.left_minus_right.text}' is more than the trailer weighs",
            "write the left wheels' load less the right wheels' load",
        )


def trailer_ratings(look: Look) -> None:
    """Trailer GVWR below what the empty trailer weighs, below its cargo capacity or its GTM."""
    trailer = look.rig.trailer
    hint = "check the {maker_label} and the scale ticket"
    _above(
        look,
        "gvwr-below-empty",
        ("trailer", "gvwr"),
        trailer.empty.weight,
        trailer.gvwr,
        "the {trailer_rating} '{high}' is less than the empty weight '{low}'",
        hint,
    )
    _above(
        look,
        "capacity-above-gvwr",
        ("trailer", "cargo_capacity"),
        trailer.cargo_capacity,
        trailer.gvwr,
        "the {trailer_payload} '{low}' is more than the {trailer_rating} '{high}'",
        hint,
    )
    _above(
        look,
        "gtm-above-gvwr",
        ("trailer", "gtm"),
        trailer.gtm
        if look.rig.market == "au"
        else None,  # elsewhere axles may be rated for more than the whole
        trailer.gvwr,
        "the {gtm} '{low}' is more than the {trailer_rating} ({atm}) '{high}'",
        "{gtm} leaves out what rests on the vehicle, so it cannot be the larger one",
    )


def vehicle_ratings(look: Look) -> None:
    """Vehicle GVWR below the curb weight, GCWR below the GVWR."""
    vehicle = look.rig.vehicle
    _above(
        look,
        "gvwr-below-curb",
        ("vehicle", "gvwr"),
        vehicle.curb.weight,
        vehicle.gvwr,
        "the {vehicle_rating} '{high}' is less than the {curb} '{low}'",
        "check the {maker_label} and the scale ticket",
    )
    _above(
        look,
        "gcwr-below-gvwr",
        ("vehicle", "gcwr"),
        vehicle.gvwr,
        vehicle.gcwr,
        "the {combination_rating} '{high}' is less than the vehicle's own {vehicle_rating} '{low}'",
        "{combination_rating} counts vehicle and trailer together; see the owner's manual",
    )


def curb_split(look: Look) -> None:
    """Front and rear axle loads of the curb weight that do not add up to it."""
    curb = look.rig.vehicle.curb
    for name, part in (("front", curb.front), ("rear", curb.rear)):
        if si(part) > si(curb.weight) and part and curb.weight:
            look.say(
                "curb-axle",
                ("vehicle", "curb", name),
                f"'{part.text}' on one axle is more than the {say('{curb}', look.rig.market)} '{curb.weight.text}'",
                "check which of the two is mistyped",
            )
            return
    off = si(curb.front) + si(curb.rear) - si(curb.weight)
    if abs(off) > _SPLIT * si(curb.weight) and curb.weight and curb.front and curb.rear:
        look.say(
            "curb-split",
            ("vehicle", "curb", "weight"),
            f"front '{curb.front.text}' and rear '{curb.rear.text}' do not add up to"
            f" '{curb.weight.text}' within 1 %",
            "use three figures of one and the same weighing, or leave out the split",
        )


def axle_counts(look: Look) -> None:
    """Numbers of axles and tires that no trailer or vehicle has, or that contradict the lists."""
    axles, path = look.rig.trailer.axles, ("trailer", "axles")
    sure = look.sure(*path, "count")
    if sure and not 1 <= axles.count <= 4:
        hint = "write 1, 2, 3 or 4"
        look.say("axle-count", (*path, "count"), f"a trailer with {axles.count} axles", hint)
    elif sure and look.sure(*path, "gawr") and axles.gawr and len(axles.gawr) != axles.count:
        look.say(
            "gawr-count",
            (*path, "gawr"),
            f"{len(axles.gawr)} ratings are listed for {axles.count} axle(s)",
            f"write one rating per axle, or 'count: {len(axles.gawr)}'",
        )
    braked = look.rig.trailer.brakes.braked_axles
    if sure and braked is not None and braked > axles.count:
        look.say(
            "braked-axles",
            ("trailer", "brakes", "braked_axles"),
            f"{braked} axles with brakes on a trailer with {axles.count} axle(s)",
            "count the axles with brake drums or discs",
        )
    _brakes(look)
    for where, count in (
        ((*path, "tires_per_axle"), axles.tires_per_axle),
        (("vehicle", "tires", "rear_count"), look.rig.vehicle.tires.rear_count),
    ):
        if count not in (2, 4, None) and look.sure(*where):
            look.say("tire-count", where, f"{count} tires on one axle", "write 2 or 4")


def _brakes(look: Look) -> None:
    """One axle with brakes of a trailer whose axles are not counted: one for all would be a guess."""
    path, braked = ("trailer", "brakes", "braked_axles"), look.rig.trailer.brakes.braked_axles
    if braked == 1 and look.sure(*path) and look.tree.get("trailer", "axles", "count") is None:
        words = "one axle with brakes, of how many axles is not said"
        look.say("axle-count", path, words, "add 'count' below 'axles' of the trailer")


CHECKS = (tongue, trailer_ratings, vehicle_ratings, curb_split, axle_counts)
