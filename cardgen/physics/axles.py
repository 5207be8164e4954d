"""How the trailer's axles share the load of their group, how level it rides, and what that does to both.

One axle, or axles linked by an equal-arm equalizer, share evenly. Independent
axles (rubber torsion, no link) share by how level the trailer rides: with rate k
per axle, offset d of an axle behind the group's middle, S2 = sum(d^2), pitch th
(nose low positive) and ball to group middle L,

    R_i = A/n - k th d_i,   A = A_level + k th S2/L,   tongue = T_level - k th S2/L.

Source: moments about the ball of a rigid body on linear springs; checked in the
tests against a spring-supported beam solution.

There is one height: the coupling above or below the height at which the trailer is level,
in each loading case, by what was measured or by the vehicle's springs under the tongue
weight of that case. The axles, the tongue and the report read it. What is not known is
stated as a range; the plausible range is a choice of this project.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from cardgen.model.needs import Need
from cardgen.model.rig import Rig
from cardgen.physics import distribution, hitch
from cardgen.physics.distribution import STANDARD_GRAVITY
from cardgen.physics.inputs import Input, Inputs, Origin
from cardgen.physics.needs import need
from cardgen.physics.number import Number, exact, unknown
from cardgen.physics.readings import older
from cardgen.units import Quantity

SINGLE = "sum of masses"
EQUALIZED = "equal-arm equalizer shares load evenly"
INDEPENDENT = "rigid body on linear springs, small pitch; moments about the ball"
WEIGHED = "differences between the axles as weighed, kept for other loads (linear springs)"
GUESSED = (
    "as on linear springs, each axle taken to give 50 mm under its full rating, half of that either way (a project "
    "choice, no source): weigh each axle to know"
)
PLAUSIBLE = 0.05
"""How far the ball may be off the level height when nothing was measured [m], either way;
and how far it may sink under the trailer when only the free height was measured [m].
A project choice, no source; the report says so."""
TRAVEL = 0.05
"""How far a rubber torsion axle is taken to give under its full rating [m]; a project choice, no source."""
RANGE = "attitude"
"""Path of the input that stands for a height that was not measured [-]."""


NOTHING = exact(0.0)


@dataclass(frozen=True, slots=True)
class Split:
    """What each axle carries beside an even share of the group.

    Args:
        offsets: offset of each axle from the even share, level [kg], front first; empty when
            the split is not known.
        gains: what each axle gains beside the even share per metre that the coupling stands
            above level [kg/m]; empty where how level it rides does not matter.
        tongue: what the tongue gains likewise [kg/m].
        source: where the split comes from [-].
        needs: what is missing to know the split.

    Source: see the module.
    """

    offsets: tuple[float, ...]
    gains: tuple[Number, ...] = ()
    tongue: Number = NOTHING
    source: str = EQUALIZED
    needs: tuple[Need, ...] = ()


@dataclass(frozen=True, slots=True)
class Attitude:
    """How the coupling stands, a straight line over the tongue weight T of a loading case.

    Args:
        sunk: how far the coupling point sinks when the trailer is coupled, at no tongue weight [m].
        give: how far it sinks per kg of tongue weight [m/kg]; zero where a tape told it.
        height: coupling point above the height at which the trailer is level, at no tongue
            weight, so ``height - give T`` with it [m].
        assumed: the middle of the range that is taken instead where that is not known [m].
        half: how far the range reaches either way [m]; zero when the height is known.
        words: where it comes from [-].

    Source: plane geometry; two linear springs under a rigid body.
    """

    sunk: Number
    give: Number
    height: Number
    assumed: Number
    half: float
    words: str

    def squat(self, tongue: Number) -> Number:
        """How far the coupling point sinks [m] under a tongue weight [kg]; source: its own."""
        return self.sunk if self.give.value == 0.0 else self.sunk + self.give * tongue

    def above(self, tongue: Number) -> Number:
        """Coupling point above level [m] under a tongue weight [kg], as printed; source: its own."""
        return self.height if self.give.value == 0.0 else self.height - self.give * tongue

    def counted(self, tongue: Number) -> Number:
        """Coupling point above level [m] that axles and tongue are reckoned with; source: its own."""
        return self.assumed if self.half else self.above(tongue)

    def coupled(self, level: Number, gain: Number, weighed: Number | None) -> Number:
        """Tongue weight as the trailer rides [kg]: its own squat is already in it.

        ``T = (T_level + c h0) / (1 + c g)``, from ``T = T_level + c h`` and ``h = h0 - g T``.

        Args:
            level: tongue weight of the level trailer [kg], or that of the known state with what
                the loads changed since.
            gain: what the tongue gains per metre above level, c [kg/m].
            weighed: tongue weight of the known state where it was weighed as it rode [kg]; then
                only the change since is eased.

        Source: see the class.
        """
        if gain.value == 0.0:
            return level
        if gain.value is None:
            return level.asking(gain.needs) if weighed is None else level
        start = NOTHING if weighed is None else weighed
        more = level - start
        if weighed is None:
            more = more + gain * (self.assumed if self.half else self.height)
        if not self.half and self.give.value != 0.0:
            more = more / (gain * self.give + 1.0)
        return more + start


def attitude(rig: Rig, length: Number, inputs: Inputs) -> Attitude:
    """Say how a rig's coupling stands [m]: measured with the trailer coupled, or by the axle rates.

    Args:
        rig: the rig.
        length: ball to the middle of the axle group [m].
        inputs: keeper of the uncertain inputs.

    Returns:
        Where neither is known, a range down to ``PLAUSIBLE`` below the free height, or plus or
        minus ``PLAUSIBLE`` when that is missing too.

    Source: plane geometry.
    """
    receiver = rig.vehicle.receiver if rig.trailer.type == "ball" else None
    tape = None if receiver is None else receiver.height_hitched
    path, stated = _surface(rig)
    start = inputs.field(path, stated, "height")
    if tape is not None:
        now = inputs.take(Origin("vehicle.receiver.height_hitched", tape, "height"))
        words = "heights measured with the trailer coupled"
        made = Attitude(start - now, NOTHING, _off_level(rig, inputs, now), NOTHING, 0.0, words)
    else:
        sunk, give = _springs(rig, length, inputs)
        free, words = _off_level(rig, inputs, start), "heights and the axle rates of the vehicle"
        made = Attitude(sunk, give, free - sunk, NOTHING, 0.0, words)
        if give.value is None and free.value is not None:
            half = PLAUSIBLE / 2.0
            words = "heights measured without the trailer; sinking under it taken as 0 to 50 mm"
            return replace(made, assumed=free + _range(inputs, -half, half, words), half=half, words=words)
    if made.height.value is None:
        words = "heights not measured; taken as 50 mm either way"
        return replace(made, assumed=_range(inputs, 0.0, PLAUSIBLE, words), half=PLAUSIBLE, words=words)
    return made


def _surface(rig: Rig) -> tuple[str, Quantity | None]:
    """What carries the coupling, nothing coupled: its field, and its height [m]."""
    if rig.trailer.type != "ball":
        bed = rig.vehicle.bed_hitch
        return "vehicle.bed_hitch.height", None if bed is None else bed.height
    receiver = rig.vehicle.receiver
    if receiver is not None and receiver.fixed_ball:
        return "vehicle.receiver.ball_height", receiver.ball_height
    return "vehicle.receiver.height", None if receiver is None else receiver.height


def _off_level(rig: Rig, inputs: Inputs, surface: Number) -> Number:
    """Coupling point above the height at which the trailer is level [m], for a height of what carries it."""
    gear, coupler, receiver = rig.gear, rig.trailer.coupler, rig.vehicle.receiver
    ball = gear.ball
    level = inputs.field("trailer.coupler.height", coupler.height, "height")
    surfaces = {"fifth_wheel": ("plate",), "gooseneck": ("ball_top",)}
    asked = need("trailer.coupler.height_at")
    if coupler.height_at not in surfaces.get(rig.trailer.type, ("ball_top", "lower_lip")):
        level = level.asking((asked,))
    if rig.trailer.type != "ball":
        return surface - level
    if receiver is not None and receiver.fixed_ball:
        size = inputs.field("gear.ball.diameter", None if ball is None else ball.diameter, "height")
        if coupler.height_at == "lower_lip":
            level = level + inputs.field("gear.ball.height", None if ball is None else ball.height, "height")
        return surface - (level - size * 0.5)
    drop = inputs.field("gear.mount.drop", None if gear.mount is None else gear.mount.drop, "height")
    top = NOTHING
    if coupler.height_at == "ball_top":
        top = inputs.field("gear.ball.height", None if ball is None else ball.height, "height")
    return surface - drop + top - level


def _range(inputs: Inputs, middle: float, half: float, words: str) -> Number:
    made = Input(RANGE, "length", middle, half / 3.0**0.5, words, "height of the coupling off level")
    return inputs.add(made)


def _springs(rig: Rig, length: Number, inputs: Inputs) -> tuple[Number, Number]:
    """Squat at no tongue weight [m] and per kg of it [m/kg], by the vehicle's axle rates."""
    vehicle = rig.vehicle
    if vehicle.front_axle_rate is None and vehicle.rear_axle_rate is None:
        asked = ("vehicle.receiver.height_hitched",) if rig.trailer.type == "ball" else (
            "vehicle.front_axle_rate", "vehicle.rear_axle_rate",
        )  # fmt: skip
        lacking = unknown(*map(need, asked))
        return lacking, lacking
    front = inputs.field("vehicle.front_axle_rate", vehicle.front_axle_rate, "rate") / STANDARD_GRAVITY
    rear = inputs.field("vehicle.rear_axle_rate", vehicle.rear_axle_rate, "rate") / STANDARD_GRAVITY
    base = inputs.field("vehicle.wheelbase", vehicle.wheelbase, "length")
    back = inputs.field("vehicle.overhang", vehicle.overhang, "length")
    needs = tuple(n for one in (front, rear, base, back) for n in one.needs)
    fixed, by_tongue = (NOTHING, NOTHING) if rig.gear.weight_distribution is None else _moments(rig, inputs, back, length)  # fmt: skip
    needs += (*fixed.needs, *by_tongue.needs)
    if needs:
        return unknown(*needs), unknown(*needs)
    sinks = []
    for moment, on_ball in ((fixed, NOTHING), (by_tongue, exact(1.0))):
        lost, added = back / base * on_ball, (back / base + 1.0) * on_ball
        if moment.value != 0.0:
            moved = distribution.shift(moment, base, back, length)
            lost, added = lost - moved.front, added + moved.rear
        sinks.append(hitch.hitch_sag(added, lost, rear, front, base, back))
    return sinks[0], sinks[1]


def _moments(rig: Rig, inputs: Inputs, overhang: Number, length: Number) -> tuple[Number, Number]:
    """Moment of the bars [kg m] that is set, and per kg of tongue weight [m]."""
    fitted, share = rig.gear.weight_distribution, stated_restoration(rig, inputs)
    if fitted is not None and fitted.moment is not None:
        origin = Origin("gear.weight_distribution.moment", fitted.moment, "moment")
        return (inputs.take(origin) / STANDARD_GRAVITY).asking(length.needs), NOTHING
    if share is None:
        return unknown(need("gear.weight_distribution.restoration")), NOTHING
    if overhang.value is not None and overhang.value <= 0:
        return unknown(need("vehicle.overhang")), NOTHING
    return NOTHING, distribution.moment_for_restoration(share, exact(1.0), overhang, length)


def stated_restoration(rig: Rig, inputs: Inputs) -> Number | None:
    """Restoration as stated or as three wheel-arch heights give it [-]; None when neither is.

    Source: the rig file; ``distribution.restoration_from_arches``.
    """
    fitted, path = rig.gear.weight_distribution, "gear.weight_distribution"
    if fitted is None:
        return None
    if fitted.restoration is not None:
        return inputs.take(Origin(f"{path}.restoration", fitted.restoration, "restoration"))
    named = {"alone": fitted.arches.alone, "slack": fitted.arches.slack, "engaged": fitted.arches.engaged}
    heights = [
        inputs.take(Origin(f"{path}.arches.{name}", quantity, "height"))
        for name, quantity in named.items()
        if quantity is not None
    ]
    if len(heights) < 3 or heights[1].sure <= heights[0].sure:
        return None
    return distribution.restoration_from_arches(*heights)


def pitch_offsets(rate: Number, spacing: Number, count: int, pitch: Number) -> tuple[Number, ...]:
    """Load each independent axle gains by pitch, front first [N].

    ``-k th d_i`` with ``d_i`` the axle's offset behind the group's middle.

    Args:
        rate: rate of one axle, both wheels [N/m], above zero.
        spacing: distance between neighbouring axles [m], above zero.
        count: number of axles [-].
        pitch: pitch [rad], nose low positive, small.

    Raises:
        ValueError: when rate or spacing is not above zero.

    Source: linear springs under a rigid body.
    """
    if rate.sure <= 0 or spacing.sure <= 0:
        raise ValueError("rate and spacing must be above zero")
    middle = (count - 1) / 2.0
    return tuple(rate * pitch * spacing * (middle - i) for i in range(count))


def group_gain(rate: Number, spacing: Number, count: int, pitch: Number, ball_to_axles: Number) -> Number:
    """Load the whole group gains, and the tongue loses, by pitch [N].

    ``k th S2 / L``.

    Args:
        rate: rate of one axle [N/m], above zero.
        spacing: distance between neighbouring axles [m], above zero.
        count: number of axles [-].
        pitch: pitch [rad], nose low positive, small.
        ball_to_axles: ball to the group's middle [m], above zero.

    Raises:
        ValueError: when a length or the rate is not above zero.

    Source: moments about the ball.
    """
    if rate.sure <= 0 or spacing.sure <= 0 or ball_to_axles.sure <= 0:
        raise ValueError("rate, spacing and ball to axles must be above zero")
    middle = (count - 1) / 2.0
    second = spacing * spacing * sum((i - middle) ** 2 for i in range(count))
    return rate * pitch * second / ball_to_axles


def split(rig: Rig, length: Number, inputs: Inputs) -> Split:
    """Say how the axles of a rig share their group's load [kg].

    Args:
        rig: the rig.
        length: ball to the group's middle [m].
        inputs: keeper of the uncertain inputs.

    Source: see the module; for independent axles a weighing with each axle wins over
    the springs, and the springs over nothing.
    """
    axles = rig.trailer.axles
    even = (0.0,) * axles.count
    if axles.count == 1 or axles.suspension == "equalized":
        return Split(even, source=EQUALIZED if axles.count > 1 else SINGLE)
    if axles.suspension is None:
        asked = need("trailer.axles.suspension")  # without a link, how level it rides moves the tongue
        return Split((), tongue=unknown(asked), needs=(asked,))
    weighed = _weighed(rig)
    if weighed is not None:
        mean = sum(weighed) / len(weighed)
        return Split(tuple(r - mean for r in weighed), source=WEIGHED)
    rate = inputs.field("trailer.axles.rate", axles.rate, "rate")
    guessed = axles.rate is None
    if guessed:
        rating = highest_rating(rig)
        rate = unknown(need("trailer.axles.gawr")) if rating is None else _usual_rate(rating.si, inputs)
    spacing = inputs.field("trailer.axles.spacing", axles.spacing, "length")
    missing = (*rate.needs, *spacing.needs, *length.needs)
    if missing:
        tongue = NOTHING if guessed else unknown(*missing)
        return Split((), tongue=tongue, needs=(need("weighings[0].slack.axles"), *missing))
    lean = -1.0 / length / STANDARD_GRAVITY  # pitch per metre above level, loads in kg
    gains = pitch_offsets(rate, spacing, axles.count, lean)
    if guessed:
        return Split(even, gains, NOTHING, GUESSED)
    tongue = -group_gain(rate, spacing, axles.count, lean, length)
    return Split(even, gains, tongue, INDEPENDENT)


def highest_rating(rig: Rig) -> Quantity | None:
    """Highest rating of one trailer axle [kg]; an even part of that of all together where the plate has no other.

    Args:
        rig: with ``trailer.axles``.

    Source: none, a comparison.
    """
    axles, together = rig.trailer.axles, rig.trailer.gtm
    even = () if together is None else (replace(together, si=together.si / max(1, axles.count)),)
    return max(axles.gawr or even, key=lambda q: q.si, default=None)


def _usual_rate(rating: float, inputs: Inputs) -> Number:
    """Rate of one axle [N/m] where its maker's figure is not known: its rating [kg] over ``TRAVEL``, half either way."""
    value, what = rating * STANDARD_GRAVITY / TRAVEL, "stiffness of one axle"
    return inputs.add(Input("trailer.axles.rate", "rate", value, 0.5 * value / 3.0**0.5, GUESSED, what))


def guesses_rate(rig: Rig) -> bool:
    """Whether independent axles are reckoned with a usual stiffness, as neither maker nor scale told theirs [-].

    Args:
        rig: the rig.

    Source: see ``split``.
    """
    axles = rig.trailer.axles
    independent = axles.count > 1 and axles.suspension == "independent" and axles.rate is None
    return independent and highest_rating(rig) is not None and _weighed(rig) is None


def _weighed(rig: Rig) -> tuple[float, ...] | None:
    """Axle readings of the newest weighing that has one for each axle [kg]."""
    count = rig.trailer.axles.count
    full = [w for w in rig.weighings if len(w.slack.axles) == count and not older(rig, w.date)]
    if not full:
        return None
    return tuple(q.si for q in max(full, key=lambda w: w.date).slack.axles)
