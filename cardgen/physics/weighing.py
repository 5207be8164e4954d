"""Visits to the scale: solve the readings, compare with the model, let one set the model.

A weighing replaces the stated empty weights by what the scale found in a named loading
case, unless it says ``anchor: false``, contradicts itself, or is older than the last
change of equipment. The model then starts from that case: loads that are aboard as they
were on the scale need not be known at all. Of several visits the newest reading of each
figure counts.

Source: see ``ways``; superposition as in ``statics``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from cardgen.model.figure import COVERAGE
from cardgen.model.results import Figure, Term
from cardgen.model.rig import Rig
from cardgen.model.weighed import Comparison, Disagreement, WeighingResult
from cardgen.physics.figures import LABELS, case_figures
from cardgen.physics.inputs import Origin
from cardgen.physics.load_model import LoadModel, Seen, rebased, stated
from cardgen.physics.loads import Aboard, case_aboard
from cardgen.physics.missing import missing
from cardgen.physics.number import Number
from cardgen.physics.readings import older, readings
from cardgen.physics.statics import statics
from cardgen.physics.ways import Way, implied_position, newest_of, on_trailer, ways

_WORDS = {
    "tongue_share": "{coupling_load} as a share of the loaded trailer",
    "front_axle_engaged": "front axle, bars engaged",
    "rear_axle_engaged": "rear axle, bars engaged",
    "trailer_axles_engaged": "trailer axles, bars engaged",
    "distribution_moment": "moment of the weight distribution",
    "restoration": "front axle load restoration",
    "vehicle_weight_engaged": "tow vehicle hitched, bars engaged",
    "left_wheels": "left wheels of the trailer",
    "right_wheels": "right wheels of the trailer",
}
SOURCE = "sums of forces and moments on the scale readings"


@dataclass(frozen=True, slots=True)
class Solved:
    """A weighing with its ways sorted, the surest first, per figure (SI).

    Source: see ``ways``.
    """

    index: int
    ways: Mapping[str, tuple[Way, ...]]
    best: Mapping[str, Number]


def weigh(rig: Rig) -> tuple[LoadModel, tuple[WeighingResult, ...]]:
    """Build the model of a rig and solve its weighings; the newest reading of each figure sets the model.

    Remembered for the rigs in hand, as charts and cards ask for each filling in turn: it is
    20 of the 425 ms that the cards of a demo rig took when each of them asked anew.

    Args:
        rig: the rig (readings [kg], lengths [m]).

    Source: see the module.
    """
    return _weighed(_This(rig))


class _This:
    """A rig told from others by being the same object, as comparing all its fields costs more than it saves."""

    __slots__ = ("rig",)

    def __init__(self, rig: Rig) -> None:
        self.rig = rig

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _This) and self.rig is other.rig

    def __hash__(self) -> int:
        return id(self.rig)


@lru_cache(maxsize=8)
def _weighed(this: _This) -> tuple[LoadModel, tuple[WeighingResult, ...]]:
    rig = this.rig
    model = stated(rig)
    if not rig.weighings:
        return model, ()
    solved = [solve(model, i) for i in range(len(rig.weighings))]
    results = [_result(model, one) for one in solved]
    usable = [one for one in solved if _sets(rig, results[one.index], one.index)]
    if not usable:
        return model, tuple(results)
    ground, by_figure = replace(model, file=model), dict[str, Solved]()
    for one in _by_day(rig, usable):
        ground, ids = anchored(ground, one)
        by_figure |= dict.fromkeys(ids, one)
    for one in usable:
        ids = tuple(name for name, newest in by_figure.items() if newest is one)
        results[one.index] = replace(results[one.index], anchors=ids)
    return _looked_at(ground, usable), tuple(results)


def _by_day(rig: Rig, solved: Sequence[Solved]) -> list[Solved]:
    """Oldest first, whatever order the file has them in."""
    return sorted(solved, key=lambda one: (rig.weighings[one.index].date, repr(rig.weighings[one.index])))


def _sets(rig: Rig, result: WeighingResult, index: int) -> bool:
    """Whether a weighing may set the model: wanted, new enough, of a known case, and at one with itself."""
    wanted = rig.weighings[index].anchor and _case(rig, index) is not None
    return wanted and not result.disagreements and not older(rig, result.date)


_STAGES = (
    ("trailer_weight", "tongue_weight", "side_difference", "trailer_axle_load"),
    ("vehicle_alone", "front_alone", "rear_alone", "vehicle_weight", "vehicle_front_axle", "vehicle_rear_axle", "combination_weight"),
    ("restoration", "distribution_moment", "trailer_axles_engaged", "front_axle_engaged", "rear_axle_engaged"),
)  # fmt: skip
"""Figures that a scale reads, as ``statics`` works them out: those of a stage do not change each other [-].
Single axles stand behind the group that they share."""


def _looked_at(ground: LoadModel, usable: Sequence[Solved]) -> LoadModel:
    """Note the newest reading of every figure beside what the model has for the same state [SI]."""
    rig = ground.rig
    newest: dict[str, Solved] = {}
    for one in _by_day(rig, usable):
        newest |= {
            name: one
            for name in one.best
            if newest_of(name, one.ways, newest[name].ways if name in newest else {})
        }
    singles = tuple(f"axle_{i + 1}" for i in range(rig.trailer.axles.count))
    engaged = tuple(f"{name}_engaged" for name in singles)
    for stage in (*_STAGES[:2], singles, _STAGES[2], engaged):
        computed: dict[int, dict[str, Number]] = {}
        seen = dict(ground.seen)
        for name in (one for one in stage if one in newest):
            index = newest[name].index
            visit, at = rig.weighings[index], _case(rig, index)
            assert at is not None  # a weighing of an unknown case sets nothing
            now, measured = case_aboard(rig, rig.cases[at], at), newest[name].best[name].settled()
            if index not in computed:
                computed[index] = statics(ground, now)
            number = computed[index].get(name)
            offset = None if number is None or number.value is None else (measured - number).settled()
            seen[name] = Seen(visit.date, visit.case, now, measured, offset)
        ground = replace(ground, seen=seen)
    return ground


def solve(model: LoadModel, index: int) -> Solved:
    """Solve one weighing (SI); of several ways to a figure the one with the least uncertainty counts.

    Args:
        model: the model, for lengths [m] and as keeper of the inputs.
        index: number of the weighing, from 0 [-].

    Source: see ``ways``.
    """
    read = readings(model.rig, index, model.inputs)
    found: dict[str, list[Way]] = {}
    for way in ways(read, model.lengths()):
        found.setdefault(way.id, []).append(way)
    _even_axles(model.rig, found)
    ordered = {
        name: tuple(sorted(made, key=lambda way: model.inputs.u(way.number))) for name, made in found.items()
    }
    best = {name: made[0].number for name, made in ordered.items()}
    weight, tongue = best.get("trailer_weight"), best.get("tongue_weight")
    if weight is not None and tongue is not None and weight.sure > 0:
        share = Way("tongue_share", "fraction", "T / W", tongue / weight)
        ordered["tongue_share"], best["tongue_share"] = (share,), share.number
    return Solved(index, ordered, best)


def _even_axles(rig: Rig, found: dict[str, list[Way]]) -> None:
    """Add single axles of a group that shares evenly, where they were not read one by one."""
    count = rig.trailer.axles.count
    if count > 1 and rig.trailer.axles.suspension != "equalized":
        return
    for group, suffix in (("trailer_axle_load", ""), ("trailer_axles_engaged", "_engaged")):
        for way in found.get(group, ()):
            for i in range(count):
                name = f"axle_{i + 1}{suffix}"
                shared = Way(name, "mass", f"({way.formula})/{count}", way.number / float(count))
                if not any(one.formula.startswith("axle") for one in found.get(name, ())):
                    found.setdefault(name, []).append(shared)


def _case(rig: Rig, index: int) -> int | None:
    wanted = rig.weighings[index].case
    return next((i for i, case in enumerate(rig.cases) if case.name == wanted), None)


def _words(name: str) -> str:
    if name in LABELS:
        return LABELS[name].words
    return _WORDS.get(name) or name.replace("_", " ").replace("axle ", "trailer axle ")


def _figure(model: LoadModel, way: Way) -> Figure:
    number = way.number
    read = [c for c in model.inputs.budget(number) if c.path.startswith("weighings")]
    terms = tuple(
        Term(c.path.split(".", 1)[1], c.label, c.value, c.kind, c.path) for c in read if c.kind == "mass"
    )
    u = model.inputs.u(number)
    return Figure(way.id, _words(way.id), way.kind, number.value, way.formula, terms, SOURCE, u)


def _result(model: LoadModel, solved: Solved) -> WeighingResult:
    rig = model.rig
    weighing = rig.weighings[solved.index]
    made = {name: tuple(_figure(model, way) for way in found) for name, found in solved.ways.items()}
    result = WeighingResult(
        weighing.date,
        weighing.case,
        {name: found[0] for name, found in made.items()},
        made,
        tuple(_disagreements(model, solved)),
        missing=missing(rig, solved.index, frozenset(solved.best)),
    )
    at = _case(rig, solved.index)
    if at is None:
        return result
    now = case_aboard(rig, rig.cases[at], at)
    computed = statics(model, now)
    found = {name: one for name, one in computed.items() if one.value is not None}
    figures = case_figures(model, now, computed)
    result = replace(result, comparisons=tuple(_comparisons(model, solved, figures, found)))
    return _unexplained(model, solved, found, result)


def _differ(model: LoadModel, a: Number, b: Number) -> tuple[float, bool]:
    """Standard uncertainty of a difference [SI] and whether the two agree."""
    gap = a - b
    u = model.inputs.u(gap)
    return u, abs(gap.sure) <= COVERAGE * u + 1e-9 * max(abs(a.sure), abs(b.sure))


def _disagreements(model: LoadModel, solved: Solved) -> list[Disagreement]:
    out = []
    for name, found in solved.ways.items():
        for other in found[1:]:
            u, agree = _differ(model, found[0].number, other.number)
            if not agree:
                first, second = found[0].number.sure, other.number.sure
                ways_of = (found[0].formula, other.formula)
                out.append(Disagreement(name, _words(name), found[0].kind, first, second, *ways_of, u))
    return _swapped(model, solved) + out


def _swapped(model: LoadModel, solved: Solved) -> list[Disagreement]:
    """Find passes with the bars slack and engaged taken for each other: bars take nothing off these axles."""
    out = []
    for slack, engaged in (
        ("vehicle_front_axle", "front_axle_engaged"),
        ("trailer_axle_load", "trailer_axles_engaged"),
    ):
        before, after = solved.best.get(slack), solved.best.get(engaged)
        if before is None or after is None or after.sure >= before.sure:
            continue
        u, agree = _differ(model, after, before)
        if not agree:
            ways_of = ("the pass with bars engaged", "the pass with bars slack (were the passes swapped?)")
            out.append(Disagreement(engaged, _words(engaged), "mass", after.sure, before.sure, *ways_of, u))
    return out


def _comparisons(
    model: LoadModel, solved: Solved, figures: Mapping[str, Figure], found: Mapping[str, Number]
) -> list[Comparison]:
    out = []
    for name, measured in solved.best.items():
        computed = found.get(name)
        if computed is None or name not in figures:
            continue
        u, agree = _differ(model, measured, computed)
        figure = figures[name]
        out.append(Comparison(name, figure.label, figure.kind, measured.sure, computed.sure, u, agree))
    return out


def _unexplained(
    model: LoadModel, solved: Solved, found: Mapping[str, Number], result: WeighingResult
) -> WeighingResult:
    """Say what mass the scale found that the file does not list, and where it would sit."""
    weight, tongue = solved.best.get("trailer_weight"), solved.best.get("tongue_weight")
    if weight is None or "trailer_weight" not in found:
        return result
    extra = weight - found["trailer_weight"]
    u = model.inputs.u(extra)
    result = replace(result, unexplained=extra.value, u_unexplained=u)
    if tongue is None or "tongue_weight" not in found:
        return result
    lifted = tongue.sure - found["tongue_weight"].sure
    length = model.trailer.length.value
    sure = length is not None and abs(extra.sure) > COVERAGE * u
    place = implied_position(extra.sure, lifted, length) if sure and length is not None else None
    return replace(
        result, unexplained_tongue=lifted, implied_x=place if on_trailer(model.rig, place) else None
    )


def anchored(model: LoadModel, solved: Solved) -> tuple[LoadModel, tuple[str, ...]]:
    """Let a weighing set the model.

    Trailer weight, tongue weight and side difference that were weighed become the bases
    of the trailer, for the state of the named case; what was not weighed is carried over
    from the stated model. The vehicle is set when both its axles were weighed alone.

    Args:
        model: the model so far (masses [kg], arms [m]).
        solved: the weighing, solved.

    Returns:
        The model in its new known state and the ids of the totals that were set [-].

    Source: superposition: only changes from the weighed state are added.
    """
    at = _case(model.rig, solved.index)
    if at is None:
        return model, ()
    now = case_aboard(model.rig, model.rig.cases[at], at)
    best = solved.best
    bodies: set[str] = set()
    ids: list[str] = []
    trailer, vehicle = model.trailer, model.vehicle
    if {"trailer_weight", "tongue_weight", "trailer_axle_load"} & set(best):
        bodies.add("trailer")
        totals = ("trailer_weight", "tongue_weight", "side_difference")
        ids += [name for name in totals if name in best]
        found = statics(model, replace(now, fills={k: _when_weighed(v) for k, v in now.fills.items()}))
        weight, tongue, side = (best.get(name, found[name]).settled() for name in totals)
        if "trailer_axle_load" in best and "trailer_weight" not in best and tongue.value is not None:
            weight = (best["trailer_axle_load"] + tongue).settled()
            ids.append("trailer_axle_load")
        trailer = replace(trailer, weight=weight, tongue=tongue, side=side, coupled=True)
    if vehicle is not None and {"front_alone", "vehicle_alone"} <= set(best):
        bodies.add("vehicle")
        vehicle = replace(
            vehicle,
            weight=best["vehicle_alone"],
            front=best["front_alone"],
            ready=True,
            unlisted=_unlisted(model, best["vehicle_alone"], now),
        )
        ids += ["vehicle_alone", "front_alone"]
    return rebased(model, trailer, vehicle, _state(model, now, bodies)), tuple(ids)


def _unlisted(model: LoadModel, weighed: Number, now: Aboard) -> Number | None:
    """What the vehicle weighs more than the file explains [kg]: unlisted load; None for no more than chance."""
    listed = statics(model.file or model, now).get("vehicle_alone")
    if listed is None or listed.value is None:
        return None
    extra = (weighed - listed).settled()
    return extra if extra.sure > COVERAGE * model.inputs.u(extra) else None


def _when_weighed(fill: Origin) -> Origin:
    """The filling on the scale, an input of its own: the case may be filled otherwise later."""
    words = " when weighed"
    if fill.path.endswith(words):
        return fill
    return replace(fill, path=f"{fill.path}{words}", label=f"{fill.label},{words}")


def _state(model: LoadModel, now: Aboard, bodies: set[str]) -> Aboard:
    """State for which the new bases hold: as weighed for the bodies that were."""
    weighed = {load.key for load in model.loads if load.body in bodies}
    old = model.state
    return Aboard(
        {k: now.shares.get(k) if k in weighed else v for k, v in old.shares.items()},
        {k: now.needs.get(k, ()) if k in weighed else v for k, v in old.needs.items()},
        {
            **{k: v for k, v in old.fills.items() if k not in weighed},
            **{k: _when_weighed(v) for k, v in now.fills.items() if k in weighed},
        },
    )
