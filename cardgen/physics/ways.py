"""Every way in which readings from a scale give a weight of the rig.

With F, R, A the axle readings alone (3), hitched slack (2) and hitched engaged (1),
L ball to axles, wb wheelbase, e overhang, j jack behind the coupler:

    tongue = (F2+R2) - (F3+R3);  = trailer alone - A2;  = reading under the coupler;
           = jack reading (L-j)/L;  = (F3-F2) wb/e;
           = S + m with S = (F1+R1)-(F3+R3), m = ((F1-F3) wb + S e)/L
    jack   = (S-S0)(a+b)/a on a beam with gaps a and b
    moment = (A1-A2) L;  = (F1-F2) wb L/(L+e)
    restoration = (F1-F2)/(F3-F2)

Source: sums of forces and moments on the two bodies, any statics textbook; the
subtraction of totals is checked in the tests against a scale maker's published
method with numbers and the lever against textbook ratios.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from cardgen.model.figure import Figure
from cardgen.model.rig import Rig
from cardgen.physics.distribution import STANDARD_GRAVITY
from cardgen.physics.number import Number
from cardgen.physics.readings import Readings


@dataclass(frozen=True, slots=True)
class Way:
    """One way to a figure.

    Args:
        id: id of the figure [-].
        kind: kind of the figure, which fixes its SI unit [-].
        formula: how, in symbols [-].
        number: the result with its sensitivities [SI].

    Source: see the module.
    """

    id: str
    kind: str
    formula: str
    number: Number


def beam_load(reading: Number, beam_only: Number, support: Number, scale: Number) -> Number:
    """Load on a beam between a fixed support and a scale [kg].

    ``(S - S0)(a + b)/a``.

    Args:
        reading: scale reading with the load, S [kg].
        beam_only: scale reading with the beam alone, S0 [kg].
        support: gap from support to load, a [m], above zero.
        scale: gap from load to scale, b [m].

    Raises:
        ZeroDivisionError: when the load stands on the support.

    Source: moments about the support.
    """
    return (reading - beam_only) * (support + scale) / support


def at_coupler(jack: Number, behind: Number, length: Number) -> Number:
    """Load under the coupler from the load under the jack [kg].

    ``jack * (L - j)/L``.

    Args:
        jack: load under the jack [kg].
        behind: jack behind the coupler, j [m].
        length: ball to axles, L [m], above zero.

    Source: moments about the axles.
    """
    return jack * (length - behind) / length


def ways(read: Readings, lengths: Mapping[str, Number | None]) -> tuple[Way, ...]:
    """List every way the readings give a figure, direct readings first [SI].

    Args:
        read: readings [kg].
        lengths: ``L``, ``wb``, ``e`` [m], None when unknown.

    Source: see the module.
    """
    return (
        *_direct(read),
        *_tongue(read, lengths),
        *_trailer(read, lengths),
        *_moved(read, lengths),
        *_wheels(read),
    )


_NAMES = (
    ("alone.front", "front_alone", "F3"),
    ("alone.rear", "rear_alone", "R3"),
    ("slack.front", "vehicle_front_axle", "F2"),
    ("slack.rear", "vehicle_rear_axle", "R2"),
    ("slack.trailer", "trailer_axle_load", "A2"),
    ("engaged.front", "front_axle_engaged", "F1"),
    ("engaged.rear", "rear_axle_engaged", "R1"),
    ("engaged.trailer", "trailer_axles_engaged", "A1"),
)
_SUMS = (
    (("alone.front", "alone.rear"), "vehicle_alone", "F3 + R3"),
    (("slack.front", "slack.rear"), "vehicle_weight", "F2 + R2"),
    (("engaged.front", "engaged.rear"), "vehicle_weight_engaged", "F1 + R1"),
    (("slack.front", "slack.rear", "slack.trailer"), "combination_weight", "F2 + R2 + A2"),
    (("engaged.front", "engaged.rear", "engaged.trailer"), "combination_weight", "F1 + R1 + A1"),
)


def _direct(read: Readings) -> Iterator[Way]:
    for name, figure, symbol in _NAMES:
        if name in read.at:
            yield Way(figure, "mass", symbol, read.at[name])
    for names, figure, symbol in _SUMS:
        found = read.get(*names)
        if found:
            total = found[0]
            for more in found[1:]:
                total = total + more
            yield Way(figure, "mass", symbol, total)
    for state, suffix in (("slack", ""), ("engaged", "_engaged")):
        singles = read.axles.get(state, ())
        for i, reading in enumerate(singles):
            yield Way(f"axle_{i + 1}{suffix}", "mass", f"axle {i + 1}", reading)
        if f"{state}.trailer" in read.at and len(singles) == read.count:
            group = "trailer_axles_engaged" if suffix else "trailer_axle_load"
            yield Way(group, "mass", "sum of the single axles", sum(singles[1:], singles[0]))


def jack_load(read: Readings) -> list[tuple[Number, str]]:
    """Load under the jack, by a scale or by a beam [kg], with its formula [-].

    Source: see ``beam_load``.
    """
    found = []
    if "jack" in read.at:
        found.append((read.at["jack"], "jack"))
    beam = read.get("beam.reading", "beam.beam_only")
    if beam and {"support_to_jack", "jack_to_scale"} <= set(read.lengths):
        support, scale = read.lengths["support_to_jack"], read.lengths["jack_to_scale"]
        if support.sure > 0:
            found.append((beam_load(beam[0], beam[1], support, scale), "(S - S0) (a + b)/a"))
    return found


def _tongue_direct(read: Readings, length: Number | None) -> Iterator[Way]:
    if "coupler" in read.at:
        yield Way("tongue_weight", "mass", "reading under the {coupler}", read.at["coupler"])
    behind = read.lengths.get("jack_behind_coupler")
    if behind is not None and length is not None:
        for load, formula in jack_load(read):
            yield Way("tongue_weight", "mass", f"{formula} * (L - j)/L", at_coupler(load, behind, length))


def _tongue(read: Readings, lengths: Mapping[str, Number | None]) -> Iterator[Way]:
    length, wheelbase, overhang = lengths["L"], lengths["wb"], lengths["e"]
    yield from _tongue_direct(read, length)
    four = read.get("slack.front", "slack.rear", "alone.front", "alone.rear")
    if four:
        front, rear, front0, rear0 = four
        yield Way("tongue_weight", "mass", "(F2 + R2) - (F3 + R3)", front + rear - front0 - rear0)
    two = read.get("trailer_alone", "slack.trailer")
    if two:
        yield Way("tongue_weight", "mass", "trailer alone - A2", two[0] - two[1])
    if wheelbase is None or overhang is None or overhang.sure <= 0:
        return
    lever = read.get("alone.front", "slack.front")
    if lever:
        yield Way("tongue_weight", "mass", "(F3 - F2) wb/e", (lever[0] - lever[1]) * wheelbase / overhang)
    bars = read.get("engaged.front", "engaged.rear", "alone.front", "alone.rear")
    if bars and length is not None:
        front, rear, front0, rear0 = bars
        net = front + rear - front0 - rear0
        moved = ((front - front0) * wheelbase + net * overhang) / length
        yield Way("tongue_weight", "mass", "S + ((F1 - F3) wb + S e)/L, S = (F1+R1)-(F3+R3)", net + moved)
        moment = moved * length * STANDARD_GRAVITY
        yield Way("distribution_moment", "torque", "(F1 - F3) wb + S e", moment)


def _trailer(read: Readings, lengths: Mapping[str, Number | None]) -> Iterator[Way]:
    if "trailer_alone" in read.at:
        yield Way("trailer_weight", "mass", "trailer alone", read.at["trailer_alone"])
    for state, number in (("slack", "2"), ("engaged", "1")):
        found = read.get(f"{state}.front", f"{state}.rear", f"{state}.trailer", "alone.front", "alone.rear")
        if found:
            front, rear, group, front0, rear0 = found
            formula = f"(F{number} + R{number} + A{number}) - (F3 + R3)"
            yield Way("trailer_weight", "mass", formula, front + rear + group - front0 - rear0)
    if "slack.trailer" in read.at:
        for way in _tongue_direct(read, lengths["L"]):
            total = way.number + read.at["slack.trailer"]
            yield Way("trailer_weight", "mass", f"A2 + {way.formula}", total)
    elif "trailer_alone" in read.at:
        for way in _tongue_direct(read, lengths["L"]):
            group = read.at["trailer_alone"] - way.number
            yield Way("trailer_axle_load", "mass", f"trailer alone - {way.formula}", group)


def _moved(read: Readings, lengths: Mapping[str, Number | None]) -> Iterator[Way]:
    length, wheelbase, overhang = lengths["L"], lengths["wb"], lengths["e"]
    groups = read.get("engaged.trailer", "slack.trailer")
    if groups and length is not None:
        moment = (groups[0] - groups[1]) * length * STANDARD_GRAVITY
        yield Way("distribution_moment", "torque", "(A1 - A2) L", moment)
    fronts = read.get("engaged.front", "slack.front")
    if fronts and length is not None and wheelbase is not None and overhang is not None:
        lever = wheelbase * length / (length + overhang) * STANDARD_GRAVITY
        yield Way("distribution_moment", "torque", "(F1 - F2) wb L/(L + e)", (fronts[0] - fronts[1]) * lever)
    three = read.get("engaged.front", "slack.front", "alone.front")
    if three and three[2].sure - three[1].sure > 0:
        engaged, slack, alone = three
        share = (engaged - slack) / (alone - slack)
        yield Way("restoration", "fraction", "(F1 - F2)/(F3 - F2)", share)


def _wheels(read: Readings) -> Iterator[Way]:
    """Sides of the trailer from single wheels named ``left 1``, ``right 1`` and so on."""
    suffix = "_engaged" if read.bars else ""
    for name, reading in read.single.items():
        side, _, number = name.partition(" ")
        yield Way(f"wheel_{side}_{number}", "mass", f"wheel {name}", reading)
        if side == "left" and f"right {number}" in read.single:
            total = reading + read.single[f"right {number}"]
            yield Way(f"axle_{number}{suffix}", "mass", f"axle {number}, its wheels", total)
    sides: dict[str, list[Number]] = {"left": [], "right": []}
    for name, reading in read.wheels.items():
        side = name.split()[0]
        if side in sides:
            sides[side].append(reading)
    if not sides["left"] or len(sides["left"]) != len(sides["right"]):
        return
    left, right = (sum(found[1:], found[0]) for found in (sides["left"], sides["right"]))
    if not read.bars:
        yield Way("left_wheels", "mass", "sum of the left wheels", left)
        yield Way("right_wheels", "mass", "sum of the right wheels", right)
    group = "trailer_axles_engaged" if read.bars else "trailer_axle_load"
    yield Way(group, "mass", "sum of all wheels", left + right)
    yield Way("side_difference", "mass", "right wheels - left wheels", right - left)


def newest_of(
    name: str, new: Mapping[str, Sequence[Way | Figure]], old: Mapping[str, Sequence[Way | Figure]]
) -> bool:
    """Whether a visit tells a figure anew [-]: an even share is no newer reading of an axle that was read by itself.

    Args:
        name: id of the figure [-].
        new: ways of the visit to each figure, by id.
        old: those of the older visit that tells it so far; empty where none does.

    Source: none; a scale that read one axle knows more of it than one that read the group.
    """
    return not name.startswith("axle_") or _by_itself(new.get(name, ())) or not _by_itself(old.get(name, ()))


def _by_itself(ways: Sequence[Way | Figure]) -> bool:
    """Whether an axle was read, not taken as a share of its group; the only one is its group."""
    return any(one.formula.startswith("axle") or one.formula.endswith(")/1") for one in ways)


def implied_position(mass: float, tongue: float, ball_to_axles: float) -> float:
    """Where a mass must sit to change weight and tongue by so much, behind the ball [m].

    ``x = L (1 - dT/dW)``.

    Args:
        mass: change of the trailer's weight [kg], not zero.
        tongue: change of the tongue weight [kg].
        ball_to_axles: ball to axles, L [m].

    Raises:
        ValueError: when the mass is zero.

    Source: moments about the axles.
    """
    if mass == 0:
        raise ValueError("no mass, no place")
    return ball_to_axles * (1.0 - tongue / mass)


def on_trailer(rig: Rig, place: float | None) -> bool:
    """Whether a place lies on the trailer [-], as far as its ends are known.

    Args:
        rig: with ``trailer.dimensions``.
        place: behind the coupling [m]; None is nowhere.

    Source: none, a comparison.
    """
    front, rear = rig.trailer.dimensions.body_front, rig.trailer.dimensions.body_rear
    first = min(0.0, 0.0 if front is None else front.si)
    return place is not None and first <= place and (rear is None or place <= rear.si)
