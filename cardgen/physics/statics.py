"""Statics of trailer and tow vehicle: every weight of a rig, worked out once for what is aboard.

The trailer is a rigid body carried by the ball and its axle group; the vehicle is a
beam on its two axles. With x behind the ball, y right of the centre line, a ahead of
the rear axle, L ball to axle group, t track, wb wheelbase and e rear axle to ball
(negative when the coupling sits ahead of the axle), dm what a load weighs more than in
the known state, and M the moment of the bars about the ball:

    tongue = T0 + sum(dm (1 - x/L))         trailer axles A = weight - tongue
    right - left = D0 + sum(dm 2y/t)        wheels of a side = (A +- D)/2
    front  = F0 + sum(dm a/wb) - (tongue + gear) e/wb
    rear   = vehicle with tongue - front
    bars move M (L+e)/(wb L) to the front, M/L to the trailer, both off the rear

All of it is arithmetic on ``Number``, which keeps value, what is missing, and the
derivatives by every load and every stated quantity. Figures, reach, uncertainty,
weighings, proposals and the what-if page read these numbers.

Source: equilibrium of a beam on two supports, any statics textbook; checked in the
tests against Beer & Johnston, Vector Mechanics for Engineers: Statics, ch. 6 prob.
6.95, and an independent beam solver.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cardgen.model.needs import Need
from cardgen.physics import distribution
from cardgen.physics.aboard import put_in
from cardgen.physics.axles import RANGE, stated_restoration
from cardgen.physics.distribution import STANDARD_GRAVITY
from cardgen.physics.inputs import Origin
from cardgen.physics.load_model import ONE, LoadModel, VehicleHalf, masses
from cardgen.physics.loads import Aboard, Load
from cardgen.physics.needs import need
from cardgen.physics.number import LAST, Number, Wanted, exact, unknown

SUMS = {
    "water_weight": (("fresh",), "trailer"),
    "waste_weight": (("waste",), "trailer"),
    "gas_weight": (("gas",), "trailer"),
    "cargo_weight": (("cargo",), "trailer"),
    "label_cargo": (("cargo", "fresh", "waste", "liquid"), "trailer"),
    "label_cargo_old": (("cargo", "waste", "liquid"), "trailer"),
    "occupant_weight": (("person",), "vehicle"),
}
"""Figures that add up what is aboard, whatever was in the known state: sorts of load and body [-]."""
RATIOS = (
    "tongue_share", "restoration", "distribution_moment", "tongue_off_level", "hitch_sag", "height_error",
)  # fmt: skip
"""Figures that are no weights that something bears [-]."""

Numbers = dict[str, Number]
Changes = Sequence[Number | None]


def statics(model: LoadModel, now: Aboard) -> Numbers:
    """Work out every figure of what is aboard now, by id ([kg], shares [-], torque [N m]).

    Args:
        model: the load model (masses [kg], lengths [m]).
        now: what is aboard (shares [-]).

    Source: see the module.
    """
    aboard = masses(model.loads, now, model.inputs)
    changes = _changes(model, now, aboard)
    numbers = as_seen(model, now, _trailer(model, changes))
    if model.vehicle is not None:
        numbers |= as_seen(
            model,
            now,
            _vehicle(model, model.vehicle, changes, numbers["tongue_weight"], numbers["trailer_weight"]),
        )
    tongue, weight = numbers["tongue_weight"].whole(), numbers["trailer_weight"].whole()
    numbers["tongue_share"] = tongue / weight if weight.value != 0.0 else unknown()
    papers = put_in(model.rig)
    for name, (sorts, body) in SUMS.items():
        more = papers if name == "label_cargo" else ()
        numbers[name] = _aboard(model.loads, aboard, sorts, body, more)
    numbers |= _ride(model, numbers["tongue_weight"])
    numbers |= as_seen(model, now, _axles(model, numbers, "trailer_axle_load", ""))
    group, side = numbers["trailer_axle_load"].whole(), numbers["side_difference"].whole()
    numbers["left_wheels"], numbers["right_wheels"] = (group - side) * 0.5, (group + side) * 0.5
    if model.vehicle is not None and model.rig.gear.weight_distribution is not None:
        numbers |= as_seen(model, now, _bars(model, model.vehicle, numbers))
        numbers |= as_seen(model, now, _axles(model, numbers, "trailer_axles_engaged", "_engaged"))
    return numbers


def tongue_weight(model: LoadModel, now: Aboard) -> Number:
    """Work out the tongue weight of what is aboard alone [kg]: the same number as that of ``statics``, sooner.

    Args:
        model: the load model (masses [kg], lengths [m]).
        now: what is aboard (shares [-]).

    Source: see the module.
    """
    changes = _changes(model, now, masses(model.loads, now, model.inputs))
    return as_seen(model, now, _trailer(model, changes))["tongue_weight"]


def _changes(model: LoadModel, now: Aboard, aboard: Sequence[Number | None]) -> Changes:
    return [_change(model, i, load, now, aboard[i]) for i, load in enumerate(model.loads)]


def as_seen(model: LoadModel, now: Aboard, numbers: Numbers) -> Numbers:
    """Put figures to what a scale said of them [SI].

    A figure moves by what the scale found beside it, so that only changes from the weighed state
    are computed. One that cannot be computed is known in the weighed state alone.

    Args:
        model: the load model with what was seen.
        now: what is aboard (shares [-]).
        numbers: figures as computed [SI].

    Source: superposition, as everywhere here.
    """
    if not model.seen:
        return numbers
    out = dict(numbers)
    for name, number in numbers.items():
        one = model.seen.get(name)
        if one is None:
            continue
        if number.value is None:
            if now == one.at:
                out[name] = Number(
                    one.measured.value,
                    None,
                    one.measured.by_input,
                    number.wanted,
                    number.levers,
                    number.unsure,
                )
        elif one.offset is not None and name not in RATIOS:
            out[name] = number + one.offset
    return out


def known_state(model: LoadModel) -> Numbers:
    """Work out every figure in the model's known state [kg]: bases and what each load does to them.

    Source: see the module.
    """
    return statics(model, model.state)


def moved_by_loads(name: str) -> bool:
    """Say whether a figure is a weight on something, linear in every load [-].

    Args:
        name: id of the figure [-].

    Source: see the module.
    """
    return name not in SUMS and name not in RATIOS


def _change(model: LoadModel, index: int, load: Load, now: Aboard, mass: Number | None) -> Number | None:
    """Mass of a load aboard now less what was aboard in the known state [kg]; None for no change."""
    was, share = model.state.shares.get(load.key), now.shares.get(load.key)
    if was is None or share is None:
        if load.full == 0.0:
            return None
        return unknown(*now.needs.get(load.key, ()), *model.state.needs.get(load.key, ()))
    if was == share:
        return None
    if load.full is None:
        return unknown(*load.mass_needs)
    then = model.then[index]
    if mass is None:
        return None if then is None else -then
    return mass if then is None else mass - then


class _Total:
    """A weight that grows load by load."""

    def __init__(self, base: Number) -> None:
        self.value, self.base = base.value or 0.0, base.base
        self.known = base.value is not None
        self.by_input = dict(base.by_input)
        self.wanted: list[Wanted] = list(base.wanted)
        self.levers: dict[int, float] = {}
        self.unsure: dict[int, tuple[Need, ...]] = {}

    def add(self, index: int, lever: Number, change: Number | None) -> None:
        """Add ``lever * change``; where nothing changed, only the lever is noted."""
        if lever.value is None:
            self.unsure[index] = lever.needs
        else:
            self.levers[index] = lever.value
        if change is None or (change.value is None and lever.value == 0.0):
            return
        if change.value is None:
            self._lacks(index, change.needs)
        elif lever.value is None:
            self._lacks(index, lever.needs)
        else:
            self.value += lever.value * change.value
            grad = self.by_input
            for path, slope in change.by_input.items():
                grad[path] = grad.get(path, 0.0) + lever.value * slope
            for path, slope in lever.by_input.items():
                grad[path] = grad.get(path, 0.0) + change.value * slope

    def _lacks(self, index: int, needs: Sequence[Need]) -> None:
        self.known = False
        self.wanted += [(index, n) for n in needs]

    def done(self) -> Number:
        wanted = tuple(self.wanted)
        if not self.known:
            return Number(None, self.base, {}, wanted, self.levers, self.unsure)
        return Number(self.value, self.base, self.by_input, wanted, self.levers, self.unsure)


def _trailer(model: LoadModel, changes: Changes) -> Numbers:
    half = model.trailer
    weight, tongue, side = _Total(half.weight), _Total(half.tongue), _Total(half.side)
    for i, load in enumerate(model.loads):
        if load.body == "trailer":
            weight.add(i, ONE, changes[i])
            tongue.add(i, model.along[i], changes[i])
            side.add(i, model.across[i], changes[i])
    total, on_ball = weight.done(), tongue.done()
    start = half.tongue if half.coupled else None
    on_ball = model.ride.coupled(on_ball, model.split.tongue, start)
    return {
        "trailer_weight": total,
        "tongue_weight": on_ball,
        "trailer_axle_load": total - on_ball,
        "side_difference": side.done(),
    }


def _vehicle(
    model: LoadModel, half: VehicleHalf, changes: Changes, tongue: Number, trailer: Number
) -> Numbers:
    """Vehicle alone, and with the tongue on it."""
    inside = [(i, load) for i, load in enumerate(model.loads) if load.body == "vehicle"]
    carried = [i for i, load in inside if load.sort in ("person", "cargo")]
    at_first = sum((then for i in carried if (then := model.then[i]) is not None), exact(0.0))
    loaded, ahead, people = _Total(half.weight), _Total(half.front), _Total(at_first)
    for i, _ in inside:
        loaded.add(i, ONE, changes[i])
        ahead.add(i, model.along[i], changes[i])
    for i in carried:
        people.add(i, ONE, changes[i])
    alone, front = loaded.done(), ahead.done()
    share = ONE / half.wheelbase
    if not half.ready:
        alone = alone + half.gear - half.driver
        lifted = share * half.overhang * half.gear
        if half.gear.value != 0.0 or lifted.value is not None:
            front -= lifted
        if half.driver.value != 0.0:
            front -= half.seat * share * half.driver
    back = half.overhang * share
    return {
        "vehicle_alone": alone,
        "front_alone": front,
        "rear_alone": alone - front,
        "vehicle_weight": alone + tongue,
        "vehicle_front_axle": front - back * tongue,
        "vehicle_rear_axle": alone - front + (back + 1.0) * tongue,
        "combination_weight": alone + trailer,
        "placard_used": people.done() + (half.unlisted or 0.0) + half.gear + tongue,
    }


def _aboard(
    loads: Sequence[Load],
    aboard: Sequence[Number | None],
    sorts: Sequence[str],
    body: str,
    more: Sequence[str],
) -> Number:
    """Add up what is aboard of some sorts of load, and of more by their keys [kg]."""
    total = _Total(exact(0.0))
    for i, load in enumerate(loads):
        if load.key in more or (load.sort in sorts and load.body == body):
            total.add(i, ONE, aboard[i])
    return total.done()


def _ride(model: LoadModel, tongue: Number) -> Numbers:
    """Heights of the coupling under a tongue weight [m], and what they do to it [kg]."""
    out = {"hitch_sag": model.ride.squat(tongue), "height_error": model.ride.above(tongue)}
    if model.split.gains:
        out["tongue_off_level"] = model.ride.counted(tongue) * model.split.tongue
    return out


def _axles(model: LoadModel, numbers: Numbers, base: str, suffix: str) -> Numbers:
    """Share the group's load; where only a range is known, the upper end."""
    group, count, shared = numbers[base], model.rig.trailer.axles.count, model.split
    names = [f"axle_{i + 1}{suffix}" for i in range(count)]
    if len(shared.offsets) != count:
        nothing = group.settled().asking(shared.needs, LAST)
        return {name: Number(None, None, {}, nothing.wanted) for name in names}
    even = group / float(count)
    if not shared.gains:
        return {name: even + off if off else even for name, off in zip(names, shared.offsets, strict=True)}
    above, out = model.ride.counted(numbers["tongue_weight"]), {}
    for name, gain in zip(names, shared.gains, strict=True):
        made = even + gain * above
        if model.ride.half and made.value is not None:
            # the ends of the range are printed, so the range is no uncertainty on top
            made = made + reach_of_range(model, gain)
            made = replace(made, by_input={k: v for k, v in made.by_input.items() if k != RANGE})
        out[name] = made
    return out


def reach_of_range(model: LoadModel, gain: Number) -> float:
    """How far an axle's load may lie either way because heights are missing [kg].

    Args:
        model: the load model.
        gain: what the axle gains per metre above level, beside its share of the group [kg/m].

    Source: see ``cardgen.physics.axles``.
    """
    whole = gain.sure - (0.0 if model.trailer.coupled else model.split.tongue.sure) / len(model.split.gains)
    return abs(whole) * model.ride.half


def _bars(model: LoadModel, half: VehicleHalf, numbers: Numbers) -> Numbers:
    """Move load between the axles by whichever target of the bars is stated [kg].

    Nothing is said of the bars while the tongue is unknown; its needs come first.
    """
    tongue, length = numbers["tongue_weight"].whole(), model.trailer.length
    wheelbase, overhang = half.wheelbase, half.overhang
    fitted, share, moment = (
        model.rig.gear.weight_distribution,
        stated_restoration(model.rig, model.inputs),
        None,
    )
    if fitted is not None and fitted.moment is not None:
        origin = Origin("gear.weight_distribution.moment", fitted.moment, "moment")
        moment = model.inputs.take(origin) / STANDARD_GRAVITY
    needs = [n for one in (wheelbase, overhang, length) for n in one.needs]
    if share is None and moment is None:
        needs.append(need("gear.weight_distribution.restoration"))
    if not needs and (overhang.sure <= 0 or length.sure <= 0 or wheelbase.sure <= 0):
        needs.append(need("vehicle.overhang"))
    if needs:
        share = moment = unknown(*tongue.needs, *needs)
        moved = distribution.Shift(moment, moment, moment)
    else:
        if moment is None:
            assert share is not None  # one of the two targets is stated here
            moment = distribution.moment_for_restoration(share, tongue, overhang, length)
        if share is None and tongue.value is not None and tongue.value > 0:
            share = distribution.restoration_of_moment(moment, tongue, overhang, length)
        moment, share = moment.asking(tongue.needs), (share or unknown()).asking(tongue.needs)
        moved = distribution.shift(moment, wheelbase, overhang, length)
    out = {"restoration": share, "distribution_moment": moment * STANDARD_GRAVITY}
    for name, slack, more in (
        ("front_axle_engaged", "vehicle_front_axle", moved.front),
        ("rear_axle_engaged", "vehicle_rear_axle", moved.rear),
        ("trailer_axles_engaged", "trailer_axle_load", moved.trailer),
    ):
        sum_of = more.whole() + numbers[slack].whole()
        out[name] = Number(None, None, {}, sum_of.wanted) if needs else sum_of
    return out
