"""Weights and ratings that contradict each other."""

from __future__ import annotations

from cardgen.model.parts import LOPSIDED
from cardgen.model.sense.against import CONTRADICTIONS
from cardgen.model.sense.context import Look, si
from cardgen.tables.words import say

_SPLIT = 0.01
"""How far front plus rear may miss the whole [-]; common practice, no source."""


def contradictions(look: Look) -> None:
    """Fields that contradict one another; of several faults of one kind at a field the first is told."""
    found: set[tuple[str, str]] = set()
    for one in CONTRADICTIONS:
        words, field = one.told(look.rig) if one.code else "", one.fields[0]
        if words and (one.code, field) not in found:
            found.add((one.code, field))
            words, hint = (say(text, look.rig.market) for text in (words, one.hint))
            look.say(one.code, tuple(field.split(".")), words, hint)


def sides(look: Look) -> None:
    """A difference between left and right that is more than an empty trailer has."""
    empty = look.rig.trailer.empty
    if abs(si(empty.left_minus_right)) > LOPSIDED * si(empty.weight) and empty.left_minus_right:
        look.say(
            "side-above-weight",
            ("trailer", "empty", "left_minus_right"),
            f"a difference of '{empty.left_minus_right.text}' is more than a fifth of what the trailer weighs",
            "write the left wheels' load less the right wheels' load; list what stands heavy on one side as cargo, "
            "with its weight and place",
        )


def curb_split(look: Look) -> None:
    """Front and rear axle loads of the curb weight, neither above it, that do not add up to it."""
    curb = look.rig.vehicle.curb
    off = si(curb.front) + si(curb.rear) - si(curb.weight)
    either = max(si(curb.front), si(curb.rear)) > si(curb.weight)
    if abs(off) > _SPLIT * si(curb.weight) and not either and curb.weight and curb.front and curb.rear:
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


CHECKS = (contradictions, sides, curb_split, axle_counts)
