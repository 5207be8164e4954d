"""Tire plans of a rig: trailer, vehicle front and rear, spare."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from cardgen.model.results import CaseResult, Computed, Figure, Need, TirePlan
from cardgen.model.rig import Rig
from cardgen.model.tires import Spare, Tire
from cardgen.physics import figures, tires
from cardgen.physics.needs import heights_asked, need
from cardgen.physics.pressure import Job, confirm, plan, steps, wheel_load
from cardgen.physics.readings import older
from cardgen.physics.tires import Row, higher
from cardgen.tables.tire_rules import load_divisor
from cardgen.units import Quantity

SIDE_ALLOWANCE = 0.05
"""Share by which one side is taken to exceed half an axle when no wheel was weighed [-];
a project choice, no source; the report says so."""


@dataclass(frozen=True, slots=True)
class Worst:
    """The largest known of some figures over the cases [kg]: case, value, uncertainty, what is missing in any,
    and how much of the value rests on heights that were not measured."""

    case: str
    value: float | None
    u: float | None
    needs: tuple[Need, ...]
    assumed: float = 0.0


@dataclass(frozen=True, slots=True)
class Weighed:
    """What wheel scales told: heaviest tire [kg], heavier side over half its axle [-], all wheels read."""

    tire: float
    share: float | None
    every: bool


def plans(computed: Computed) -> dict[str, TirePlan]:
    """Make the tire plan of every position (loads [kg], pressures [Pa gauge]).

    Source: see ``cardgen.physics.pressure``.
    """
    rig = computed.rig
    out = {}
    for position in ("trailer", "front", "rear"):
        asked = jobs(computed, position)
        path = "trailer.tires" if position == "trailer" else f"vehicle.tires.{position}"
        out[position] = plan(*asked) if asked else TirePlan(position, "unknown", needs=(need(path),))
    if rig.trailer.spare is not None:
        out["spare"] = _spare(rig, rig.trailer.spare, out["trailer"])
    return out


def worst_load(cases: Sequence[CaseResult], names: Sequence[str]) -> Worst:
    """Find the case and load [kg] that is worst among some figures, or what is missing.

    Args:
        cases: the cases with their figures [kg].
        names: ids of the figures; those a case has not are passed over [-].

    Source: none, the largest value.
    """
    case, top, u, assumed = "", None, None, 0.0
    needs: list[Need] = []
    for result in cases:
        for name in names:
            found = result.figures.get(name)
            if found is None:
                continue
            needs += found.needs
            for value, spread in ((found.value, found.u), *((found.rival,) if found.rival else ())):
                if value is not None and (top is None or value > top):
                    case, top, u = result.name, value, spread
                    assumed = 0.0 if found.low is None else value - found.low
    missing = tuple({n.path: n for n in needs}.values())
    return Worst(case, top, u, missing, assumed)


def axle_figures(rig: Rig, position: str) -> tuple[str, ...]:
    """Ids of the figures that can be the load of a position's axles [-].

    Args:
        rig: the rig.
        position: ``trailer``, ``front`` or ``rear`` [-].

    Source: none; bars slack and engaged, and the vehicle alone.
    """
    if position != "trailer":
        return (f"vehicle_{position}_axle", f"{position}_alone", f"{position}_axle_engaged")
    return tuple(f"axle_{i + 1}{state}" for i in range(rig.trailer.axles.count) for state in ("", "_engaged"))


def job(computed: Computed, position: str) -> Job | None:
    """What the tires of a position are asked to do in the case that is worst for them (loads [kg]).

    Args:
        computed: figures of the cases [kg].
        position: ``trailer``, ``front`` or ``rear`` [-].

    Returns:
        The job; None without a tire.

    Source: worst declared case; see ``cardgen.physics.pressure``.
    """
    return max(
        jobs(computed, position),
        key=lambda one: 0.0 if one.axle_load is None else wheel_load(one).wheel,
        default=None,
    )


def most_at_limits(computed: Computed, position: str) -> float | None:
    """Wheel load up to which the tires can be filled as far as rim and valve stand [kg]; None where those bound no load.

    Args:
        computed: figures of the cases [kg].
        position: ``trailer``, ``front`` or ``rear`` [-].

    Source: the tire's own rows, as in ``cardgen.physics.pressure``.
    """
    asked = job(computed, position)
    ends = () if asked is None else steps(asked)
    first = next((i for i, (_, one) in enumerate(ends) if one.status == "conflict"), 0)
    return ends[first - 1][0] if first else None


def jobs(computed: Computed, position: str) -> tuple[Job, ...]:
    """What the tires of a position are asked to do in every case and on every axle (loads [kg]).

    A case's side share goes with its own axle loads, and each load with its own uncertainty.

    Args:
        computed: figures of the cases [kg].
        position: ``trailer``, ``front`` or ``rear`` [-].

    Returns:
        One for each case and axle of which anything is known, else one without a load; none
        without a tire.

    Source: see ``cardgen.physics.pressure``.
    """
    names = axle_figures(computed.rig, position)
    needs = worst_load(computed.cases, names).needs
    out: list[Job] = []
    for case in computed.cases:
        for name in names:
            load = worst_load((case,), (name,))
            if load.value is not None:
                out += _asked(computed.rig, position, case, replace(load, needs=needs))
    nothing = Worst("", None, None, needs)
    return tuple(out or _asked(computed.rig, position, None, nothing))


def _asked(rig: Rig, position: str, case: CaseResult | None, load: Worst) -> tuple[Job, ...]:
    made = _trailer(rig, case, load) if position == "trailer" else _vehicle(rig, position, load)
    return () if made is None else (made,)


def _trailer(rig: Rig, case: CaseResult | None, load: Worst) -> Job | None:
    fitted, label, scale = rig.trailer.tires, rig.trailer.tire_pressure, weighed_wheels(rig)
    if fitted is None:
        return None
    share, lean, could, places = _sides(case)
    shares = [s for s in (scale.share if scale else None, share) if s is not None]
    return Job(
        "trailer", fitted, "trailer.tires", load.value, rig.trailer.axles.tires_per_axle or 2,
        _allowance(rig), "trailer", rig.market, _row(label), side_share=max(shares, default=None), lean=lean,
        every_wheel=scale is not None and scale.every, weighed=scale.tire if scale else None,
        by_table=rig.trailer.tires_by_table, counted=not tires.uncounted(rig, "trailer"), case=load.case, load_needs=load.needs, u=load.u,
        assumed=load.assumed, could_lean=could,
        open_needs=(*places, *(heights_asked(rig) if load.assumed else ())),
    )  # fmt: skip


def _row(quantity: Quantity | None) -> Row | None:
    return None if quantity is None else Row(quantity.si, 0.0, quantity.text)


def _allowance(rig: Rig) -> float:
    stated = rig.limits.side_allowance
    return SIDE_ALLOWANCE if stated is None else stated.si


def weighed_wheels(rig: Rig) -> Weighed | None:
    """Read the newest weighing that has single wheels; None without one.

    A reading is of one side of one axle; with dual tires each tire carries half of it.

    Args:
        rig: with ``weighings[].wheels`` named ``left 1``, ``right 1`` and so on [kg].

    Returns:
        Heaviest tire [kg], the largest ratio of a side to half its axle [-], and whether
        every wheel was read since equipment last changed.

    Source: readings of the owner's.
    """
    given = [w for w in rig.weighings if w.wheels]
    if not given:
        return None
    newest = max(given, key=lambda w: w.date)
    wheels = {name.casefold(): q.si for name, q in newest.wheels.items()}
    axles = rig.trailer.axles
    shares: list[float] = []
    for i in range(1, axles.count + 1):
        left, right = wheels.get(f"left {i}"), wheels.get(f"right {i}")
        if left is not None and right is not None and left + right > 0:
            shares.append(2.0 * max(left, right) / (left + right))
    heaviest = max(wheels.values()) / ((axles.tires_per_axle or 2) / 2)
    every = len(shares) == axles.count and not older(rig, newest.date)
    return Weighed(heaviest, max(shares, default=None), every)


def _sides(case: CaseResult | None) -> tuple[float | None, float, float, tuple[Need, ...]]:
    """Heavier side over half the axle group where all positions tell, and what the known ones alone give.

    Returns:
        The share [-], None when a position is unknown; by how much the loads whose place is
        known make a side heavier than half, and by how much it may be with all others on that
        side and the empty trailer leaning there [-], zero when the share is known; and what is not known.
    """
    if case is None:
        return None, 0.0, 0.0, ()
    left, right = case.figures["left_wheels"].value, case.figures["right_wheels"].value
    if left is not None and right is not None:
        return (2.0 * max(left, right) / (left + right) if left + right > 0 else None), 0.0, 0.0, ()
    group, side = case.figures["trailer_axle_load"].value, case.figures["side_difference"]
    if not group or side.partial is None or side.low is None or side.high is None:
        return None, 0.0, 0.0, ()
    could = max(abs(side.low), abs(side.high)) if side.low < side.high else 0.0
    return None, abs(side.partial) / group, could / group, side.needs


def _vehicle(rig: Rig, position: str, load: Worst) -> Job | None:
    vehicle = rig.vehicle
    fitted: Tire | None = getattr(vehicle.tires, position)
    if fitted is None:
        return None
    floors = [_row(getattr(given, position)) for given in (vehicle.placard_towing, vehicle.placard)]
    stated = [row for row in floors if row is not None]
    count = vehicle.tires.rear_count if position == "rear" else 2
    return Job(
        position, fitted, f"vehicle.tires.{position}", load.value, count or 2, _allowance(rig),
        vehicle.kind or "", rig.market, max(stated, key=lambda row: row.pressure, default=None),
        same_size(vehicle.tires.placard_size, fitted),
        placard_load=_placard_load(rig, position), case=load.case, load_needs=load.needs, u=load.u,
        counted=not tires.uncounted(rig, position), assumed=load.assumed,
        open_needs=heights_asked(rig) if load.assumed else (),
    )  # fmt: skip


def same_size(label: str | None, fitted: Tire) -> bool | None:
    """Say whether a tire is of the size and class that a label names; None when it cannot be told.

    Args:
        label: size on placard or label [-].
        fitted: the tire.

    Source: 72 FR 68442, summary (the size fitted is one listed on the label).
    """
    if label is None or fitted.size is None:
        return None
    if tires.plain_size(label) != tires.plain_size(fitted.size):
        return False
    wanted = tires.size_class(label)
    kin = {"P": ("P", "EURO"), "EURO": ("P", "EURO"), "LT": ("LT", "C"), "C": ("C", "LT"), "ST": ("ST",)}
    return fitted.type is None or wanted is None or fitted.type in kin[wanted]


def _placard_load(rig: Rig, position: str) -> float | None:
    """Load the placard's tire carries at its pressure, after its own divisor [kg]."""
    stated: Quantity | None = getattr(rig.vehicle.tires.placard_load, position)
    if stated is None:
        return None
    size = rig.vehicle.tires.placard_size
    wanted = tires.size_class(size) if size else None
    divisor = load_divisor(wanted, rig.vehicle.kind or "truck", rig.market).value if wanted else 1.0
    return stated.si / divisor


MARKS = (
    "type", "size", "load_range", "load_index", "extra_load", "max_load", "max_load_dual", "max_load_at",
    "max_pressure", "speed_symbol",
)  # fmt: skip
"""Marks of a tire that tell two kinds apart [-]."""


def spare_as_marked(spare: Spare, others: Tire | None) -> tuple[Spare, tuple[str, ...]]:
    """Fill a spare that is said to be the same with what it leaves out; its own marks count before that.

    Args:
        spare: the spare.
        others: the trailer's tires, None when not described.

    Returns:
        The spare to reckon with, and the marks in which a spare said to be the same differs [-]; one
        that differs is not the same and is filled with nothing.

    Source: none, a comparison of marks.
    """
    if not spare.same or others is None:
        return spare, ()
    given = {name: (getattr(spare, name), getattr(others, name)) for name in MARKS}
    both = {name: pair for name, pair in given.items() if None not in pair}
    differ = tuple(name for name, pair in both.items() if _mark(pair[0]) != _mark(pair[1]))
    if differ:
        return spare, differ
    names = (*MARKS, "speed_limit", "rim_max_pressure", "valve_max_pressure", "table")
    return replace(spare, **{n: getattr(others, n) for n in names if getattr(spare, n) is None}), ()


def _mark(value: object) -> object:
    """A mark to compare [-]: quantities by their size [SI], texts without spaces and case."""
    if isinstance(value, Quantity):
        return round(value.si, 6)
    return tires.plain_size(value) if isinstance(value, str) else value


def _spare(rig: Rig, spare: Spare, others: TirePlan) -> TirePlan:
    """Pressure to keep in the spare [Pa gauge]: what its load needs, or more where more is stated."""
    like, differ = spare_as_marked(spare, rig.trailer.tires)
    base = TirePlan("spare", "unknown", ceiling=tires.ceiling(like))
    if spare.same and not differ and rig.trailer.tires is not None:
        if others.pressure is None:
            status = others.status if others.status in ("conflict", "overloaded") else base.status
            return replace(base, status=status, needs=others.needs, reasons=others.reasons[-1:])
        base = replace(base, needs=others.needs)
        wanted: Row | None = Row(others.pressure, 0.0, others.as_marked)
        words = "same tire as the others: kept at the same pressure"
    else:
        wanted, words = tires.rated_pressure(like), "the spare's own sidewall pressure at maximum load"
    if wanted is None or like.type is None:
        name = "extra_load" if like.type in ("P", "EURO") else "max_load_at"
        path = f"trailer.spare.{name}" if like.type else "trailer.spare.type"
        return replace(base, needs=(need(path),))
    chosen = higher(wanted, _row(spare.pressure))
    if chosen.text != wanted.text:
        words = "pressure as stated for the spare"
    asked = Job(
        "spare",
        like,
        "trailer.spare",
        None,
        rig.trailer.axles.tires_per_axle or 2,
        0.0,
        "trailer",
        rig.market,
        None,
    )
    return confirm(asked, base, chosen, words)


def pressure_figures(made: Mapping[str, TirePlan]) -> dict[str, Figure]:
    """Make the figures ``pressure_<position>`` [Pa gauge] from the plans.

    Source: the reasons of each plan.
    """
    out = {}
    for position, found in made.items():
        name = f"pressure_{position}"
        needs = found.needs
        if found.pressure is None and not needs:
            needs = (Need(name, "; ".join(found.reasons[-1:]) or "tire data"),)
        out[name] = figures.derived(
            name,
            f"cold pressure, {position}",
            "pressure",
            found.pressure,
            "first published row with load >= wheel load; placard and label as floor",
            (),
            "; ".join(found.reasons),
            needs,
        )
    return out
