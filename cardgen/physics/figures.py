"""Turn numbers of the statics into figures with provenance: value, formula and what was put in.

Source: see each figure; this file only puts value, formula and terms together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from cardgen.model.figure import COVERAGE
from cardgen.model.results import Figure, Need, Term
from cardgen.physics.aboard import PAPERS
from cardgen.physics.axles import INDEPENDENT, RANGE
from cardgen.physics.load_model import LoadModel, by_file, changed, lopsided
from cardgen.physics.loads import Aboard, perhaps_held
from cardgen.physics.needs import need
from cardgen.physics.number import Number, unknown
from cardgen.physics.statics import reach_of_range

STATICS = "equilibrium of a beam on two supports (any statics textbook)"
SUM = "sum of masses"
WEIGHED = "sums of forces and moments on the scale readings"
BARS = "moments about trailer axles and vehicle rear axle, bars as a pure moment about the ball"
GEOMETRY = "plane geometry"
SPRINGS = "two linear springs under a rigid body, small angles"
SHARE = "{coupling_load} as a share of the loaded trailer"
ABOARD = {
    "water_weight": "fresh water aboard",
    "waste_weight": "waste aboard",
    "gas_weight": "{lp_gas} aboard",
    "cargo_weight": "cargo aboard the trailer",
    "label_cargo": "cargo and liquids aboard the trailer",
    "label_cargo_old": "cargo and waste aboard the trailer",
    "occupant_weight": "people in the vehicle",
}
"""Words of the figures that add up what is aboard [-]."""
ENGAGED = {
    "front_axle_engaged": ("vehicle_front_axle", "front axle, bars engaged", "F + M (L2+e)/(wb L2)"),
    "rear_axle_engaged": ("vehicle_rear_axle", "rear axle, bars engaged", "R - M (wb+e+L2)/(wb L2)"),
    "trailer_axles_engaged": ("trailer_axle_load", "trailer axles, bars engaged", "A + M/L2"),
}
"""What the bars add to: slack figure, words and formula [-]."""


@dataclass(frozen=True, slots=True)
class Label:
    """Words, formula and source of one total."""

    words: str
    formula: str
    source: str
    base: str


LABELS: dict[str, Label] = {
    "trailer_weight": Label("loaded trailer", "W = W0 + sum(dm)", SUM, "stated empty weight"),
    "tongue_weight": Label(
        "{coupling_load}",
        "T = T0 + sum(dm * (1 - x/L))",
        STATICS,
        "{coupling_load} of the stated empty trailer",
    ),
    "trailer_axle_load": Label(
        "trailer axles together", "A = W - T", STATICS, "axle load of the stated empty trailer"
    ),
    "side_difference": Label(
        "right wheels less left wheels",
        "D = D0 + sum(dm * 2y/t)",
        STATICS,
        "difference of the stated empty trailer",
    ),
    "vehicle_alone": Label(
        "tow vehicle without trailer",
        "V = V0 + sum(dm)",
        SUM,
        "stated weight with gear, driver aside",
    ),
    "front_alone": Label(
        "front axle without trailer",
        "F = F0 + sum(dm * a/wb)",
        STATICS,
        "curb front axle with gear",
    ),
    "rear_alone": Label("rear axle without trailer", "R = V - F", STATICS, "curb rear axle with gear"),
    "vehicle_weight": Label(
        "tow vehicle with {coupling_load}", "V + T", SUM, "{curb} and empty {tongue_load}"
    ),
    "vehicle_front_axle": Label(
        "front axle, hitched",
        "F - T * e/wb",
        STATICS,
        "front axle at {curb} with the empty {tongue_load}",
    ),
    "vehicle_rear_axle": Label(
        "rear axle, hitched",
        "R + T * (1 + e/wb)",
        STATICS,
        "rear axle at {curb} with the empty {tongue_load}",
    ),
    "combination_weight": Label("combination", "V + W", SUM, "{curb} and empty trailer"),
    "placard_used": Label(
        "occupants, cargo, gear and {tongue_load}",
        "people + cargo + gear + T",
        SUM,
        "gear and the empty {tongue_load}",
    ),
}


def total(model: LoadModel, name: str, number: Number, changes: Mapping[int, float]) -> Figure:
    """Make the figure of one total: what it was in the known state, then what every load adds.

    Args:
        model: the load model.
        name: id of the total, a key of ``LABELS`` [-].
        number: the total [kg].
        changes: mass of each load aboard that differs from the known state, by its number [kg].

    Source: the label of the total names it.
    """
    label, loads = LABELS[name], model.loads
    terms: list[Term] = []
    if number.value is not None and number.base is not None:
        seen = model.seen.get(name)
        base = label.base if seen is None else f"weighed {seen.date.isoformat()} in '{seen.case}'"
        terms.append(Term("base", base, number.base, "mass"))
        for i, change in changes.items():
            lever = number.levers.get(i)
            if lever:
                load = loads[i]
                terms.append(Term(load.key, load.label, lever * change, "mass", load.path))
    figure = made_of(model, name, label.words, "mass", number, label.formula, terms, label.source)
    if number.value is not None:
        return figure
    known = (number.base or 0.0) + sum(number.levers.get(i, 0.0) * change for i, change in changes.items())
    return replace(figure, partial=known)


def _sides(model: LoadModel, now: Aboard, number: Number, figure: Figure, group: Figure) -> Figure:
    """Say of sides that are not known how much of their difference is, and between which ends it lies [kg].

    What has no place across lies between the wheels: all of it on one side at most.
    """
    source = by_file(model)
    changes, start = changed(source, now), source.trailer.side.value or 0.0
    known = start + sum(number.levers.get(i, 0.0) * change for i, change in changes.items())
    more = lopsided(model, group.value) + sum(abs(changes[i]) for i in number.unsure if i in changes)
    return ranged(replace(figure, partial=known), known - more, known + more)


def made_of(
    model: LoadModel,
    name: str,
    words: str,
    kind: str,
    number: Number,
    formula: str,
    terms: Sequence[Term],
    source: str,
) -> Figure:
    """Make the figure of a number: value, standard uncertainty, what is missing [SI unit of the kind].

    What rests on a height that nobody measured gets the ends of that range as well.

    Source: the caller's, kept in the figure.
    """
    if number.value is None:
        return Figure(name, words, kind, None, formula, tuple(terms), source, needs=number.needs)
    figure = Figure(name, words, kind, number.value, formula, tuple(terms), source, model.inputs.u(number))
    reach = abs(number.by_input.get(RANGE, 0.0)) * model.ride.half
    return ranged(figure, number.value - reach, number.value + reach) if reach else figure


def term_of(symbol: str, figure: Figure) -> list[Term]:
    """Write a figure as a term of another; nothing when it is unknown [SI unit of its kind].

    Source: the figure's own.
    """
    return [] if figure.value is None else [Term(symbol, figure.label, figure.value, figure.kind, figure.id)]


def derived(
    name: str,
    words: str,
    kind: str,
    value: float | None,
    formula: str,
    terms: Sequence[Term],
    source: str,
    needs: Sequence[Need] = (),
) -> Figure:
    """Make a figure from an already computed value [SI unit of the kind].

    Source: the caller's, kept in the figure.
    """
    unique = tuple({n.path: n for n in needs}.values())
    return Figure(
        name,
        words,
        kind,
        value,
        formula,
        tuple(terms),
        source,
        needs=unique if value is None else (),
    )


def ranged(figure: Figure, low: float, high: float) -> Figure:
    """Give a figure the ends between which it lies; its value stays.

    Args:
        figure: the figure.
        low, high: ends [SI unit of its kind].

    Source: the figure's own.
    """
    return replace(figure, low=low, high=high)


def case_figures(model: LoadModel, now: Aboard, numbers: Mapping[str, Number]) -> dict[str, Figure]:
    """Make the figures of what is aboard now [SI], each with its uncertainty.

    Args:
        model: the load model (masses [kg], lengths [m]).
        now: what is aboard (shares [-]).
        numbers: the numbers that ``statics`` gives for it [SI].

    Source: see ``statics``.
    """
    changes = changed(model, now)
    figures = {name: total(model, name, numbers[name], changes) for name in LABELS if name in numbers}
    sides = figures["side_difference"]
    if sides.value is None:
        figures["side_difference"] = _sides(
            model, now, numbers["side_difference"], sides, figures["trailer_axle_load"]
        )
    tops = [term for n in ("tongue_weight", "trailer_weight") for term in term_of(n, figures[n])]
    figures["tongue_share"] = made_of(
        model, "tongue_share", SHARE, "fraction", numbers["tongue_share"], "T / W", tops, STATICS
    )
    for name, words in ABOARD.items():
        if name == "label_cargo" and model.rig.market in PAPERS:
            words = "put into the trailer as its papers count: cargo, water, gas and batteries"
        figures[name] = _aboard(model, name, words, numbers[name], now)
    held, put = perhaps_held(model.rig, model.loads, now), figures["label_cargo"]
    if held and put.value is not None:
        figures["label_cargo"] = ranged(put, put.value - held, put.value)
    figures |= _axles(model, figures["trailer_axle_load"], numbers, "")
    for name, sign in (("left_wheels", "-"), ("right_wheels", "+")):
        both = [t for n in ("trailer_axle_load", "side_difference") for t in term_of(n, figures[n])]
        words = name.replace("_", " ") + " of the trailer"
        figures[name] = made_of(model, name, words, "mass", numbers[name], f"(A {sign} D) / 2", both, STATICS)
    if "restoration" in numbers:
        figures |= _engaged(model, figures, numbers)
    figures["tongue_weight"] = _level_first(model, numbers, figures["tongue_weight"])
    figures = {name: _as_weighed(model, now, figure) for name, figure in figures.items()}
    return figures | _ride(model, numbers, figures["tongue_weight"])


def _as_weighed(model: LoadModel, now: Aboard, figure: Figure) -> Figure:
    """Say of a figure that a scale read how it was read; of the weighed case it is no computation."""
    one = model.seen.get(figure.id)
    if one is None or figure.value is None or now != one.at:
        return figure
    read = (Term("weighed", f"weighed {one.date.isoformat()}", figure.value, figure.kind),)
    return replace(
        figure, formula="as weighed", terms=read, source=WEIGHED, low=None, high=None, weighed=one.date
    )


def beside_the_file(
    model: LoadModel, figures: Mapping[str, Figure], numbers: Mapping[str, Number], file: Mapping[str, Number]
) -> dict[str, Figure]:
    """Note where the rig file alone gives another value than the scale, beyond what both explain.

    Args:
        model: the weighed model.
        figures: its figures of a loading case [SI].
        numbers: the numbers they were made of [SI].
        file: numbers of the same case by the rig file alone [SI].

    Source: JCGM 100:2008 6.2, intervals of twice the standard uncertainty.
    """
    out = dict(figures)
    for name, number in numbers.items():
        other, figure = file.get(name), figures.get(name)
        if figure is None or number.value is None or other is None or other.value is None:
            continue
        gap = number - other
        if abs(gap.sure) > COVERAGE * model.inputs.u(gap) + 1e-9 * abs(number.value):
            out[name] = replace(figure, rival=(other.value, model.inputs.u(other)))
    return out


def _aboard(model: LoadModel, name: str, words: str, number: Number, now: Aboard) -> Figure:
    """Make the figure of what is aboard of some sorts of load [kg]."""
    terms = []
    for index in sorted(number.levers):
        load = model.loads[index]
        share = now.shares.get(load.key)
        if share and load.full is not None:
            terms.append(Term(load.key, load.label, share * load.full, "mass", load.path))
    return made_of(model, name, words, "mass", number, "sum(share * full)", terms, SUM)


def _axles(model: LoadModel, group: Figure, numbers: Mapping[str, Number], suffix: str) -> dict[str, Figure]:
    """Make ``axle_<n>`` [kg]; where only a range is known the value is its upper end."""
    count, shared = model.rig.trailer.axles.count, model.split
    out = {}
    for i in range(count):
        name = f"axle_{i + 1}{suffix}"
        words = (f"trailer axle {i + 1}" if count > 1 else "trailer axle") + (
            ", bars engaged" if suffix else ""
        )
        formula, terms, value = f"A / {count}", term_of("A", group), numbers[name].value
        if value is not None and group.value is not None and (shared.gains or any(shared.offsets)):
            beside = value - group.value / count
            formula, terms = f"{formula} + d", [*terms, Term("d", "beside the even share", beside, "mass")]
        source = f"{shared.source}; {model.ride.words}" if shared.gains else BARS if suffix else shared.source
        figure = made_of(model, name, words, "mass", numbers[name], formula, terms, source)
        if value is not None and shared.gains and model.ride.half:
            figure = ranged(figure, value - 2.0 * reach_of_range(model, shared.gains[i]), value)
        out[name] = figure
    return out


def _engaged(
    model: LoadModel, slack_figures: Mapping[str, Figure], numbers: Mapping[str, Number]
) -> dict[str, Figure]:
    """Make the figures of a case with the bars engaged."""
    share = numbers["restoration"]
    phi = [] if share.value is None else [Term("phi", "restoration", share.value, "fraction")]
    out = {
        "restoration": made_of(
            model, "restoration", "front axle load restoration", "fraction", share,
            "phi = M (L2 + e) / (T e L2)", [], BARS,
        ),
        "distribution_moment": made_of(
            model, "distribution_moment", "moment of the weight distribution", "torque",
            numbers["distribution_moment"], "M = phi T e L2 / (L2 + e)", phi, BARS,
        ),
    }  # fmt: skip
    for name, (slack, words, formula) in ENGAGED.items():
        before, after = slack_figures[slack], numbers[name]
        terms = term_of("slack", before)
        if before.value is not None and after.value is not None:
            terms.append(Term("moved", "moved by the bars", after.value - before.value, "mass"))
        out[name] = made_of(
            model, name, words, "mass", after, formula, terms if after.value is not None else (), BARS
        )
    return out | _axles(model, out["trailer_axles_engaged"], numbers, "_engaged")


def _ride(model: LoadModel, numbers: Mapping[str, Number], tongue: Figure) -> dict[str, Figure]:
    """Make ``hitch_sag`` and ``height_error`` [m], ``trailer_pitch`` [rad], and ``tongue_off_level`` [kg].

    The last is what an unlevel ride does to the tongue of independent axles; nothing for axles
    that an equalizer links or a single axle.
    """
    sunk, off = numbers["hitch_sag"], numbers["height_error"]
    words = "squat of the coupling point, trailer coupled"
    tape = model.ride.give.value == 0.0
    formula, source = ("h - h2", "tape measure") if tape else ("dR/Kr + (dR/Kr + dF/Kf) e/wb", SPRINGS)
    terms = _stated(model, _TAPE) if tape else [*term_of("T", tongue), *_stated(model, _SPRUNG)]
    squat = made_of(model, "hitch_sag", words, "height", sunk, formula, terms, source)
    words = "coupling point above (positive) or below level"
    error = made_of(
        model, "height_error", words, "height", off, "free - s - level", term_of("s", squat), GEOMETRY
    )
    length = model.trailer.length
    lean = off / length if length.value != 0.0 else unknown(*length.needs)
    pitch = made_of(
        model, "trailer_pitch", "trailer off level (positive: nose up)", "angle", lean, "d / L, small angles",
        [*term_of("d", error), *_stated(model, {"L": ("trailer.axles.ball_to_center",)})], GEOMETRY,
    )  # fmt: skip
    figures = [squat, error, pitch]
    if "tongue_off_level" in numbers:
        words, gain = "change of {coupling_load} when the trailer does not ride level", model.split.tongue
        source = f"{INDEPENDENT}; {model.ride.words}"
        change = numbers["tongue_off_level"]
        made = made_of(model, "tongue_off_level", words, "mass", change, "-k th S2 / L", [], source)
        if made.value is not None and model.ride.half:
            reach = gain.sure * model.ride.half
            made = ranged(made, made.value - reach, made.value + reach)
        figures.append(made)
    return {one.id: one for one in figures}


_TAPE = {
    "h": ("vehicle.receiver.height", "vehicle.receiver.ball_height"), "h2": ("vehicle.receiver.height_hitched",),
}  # fmt: skip
_SPRUNG = {
    "Kr": ("vehicle.rear_axle_rate",), "Kf": ("vehicle.front_axle_rate",),
    "wb": ("vehicle.wheelbase",), "e": ("vehicle.overhang",),
}  # fmt: skip


def _stated(model: LoadModel, symbols: Mapping[str, Sequence[str]]) -> list[Term]:
    """Write stated quantities as terms, by symbol and the fields that may hold each [SI]."""
    named = [(symbol, model.inputs.stated(path)) for symbol, paths in symbols.items() for path in paths]
    return [
        Term(s, one.label or need(one.path).what, one.value, one.kind, one.path) for s, one in named if one
    ]


def _level_first(model: LoadModel, numbers: Mapping[str, Number], tongue: Figure) -> Figure:
    """Write the tongue of the stated trailer as it is level, and what the ride does to it as a term [kg]."""
    shift = numbers["tongue_off_level"].base if "tongue_off_level" in numbers else None
    if shift is None or model.trailer.coupled or not tongue.terms or tongue.terms[0].symbol != "base":
        return tongue
    base, *rest = tongue.terms
    riding = Term("off level", "trailer off level", shift, "mass", "tongue_off_level")
    return replace(tongue, terms=(replace(base, value=base.value - shift), riding, *rest))
