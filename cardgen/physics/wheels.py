"""Tire plans of a rig: trailer, vehicle front and rear, spare."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from cardgen.model.results import Computed, Figure, Need, TirePlan
from cardgen.model.rig import Rig
from cardgen.model.tires import Spare, Tire
from cardgen.physics import figures, tires
from cardgen.physics.needs import need
from cardgen.physics.pressure import Job, plan
from cardgen.physics.readings import older
from cardgen.physics.tires import PRESSURE_SLACK, Row
from cardgen.tables.tire_rules import load_divisor
from cardgen.units import Quantity

SIDE_ALLOWANCE = 0.05
"""Share by which one side is taken to exceed half an axle when no wheel was weighed [-];
a project choice, no source; the report says so."""


@dataclass(frozen=True, slots=True)
class Worst:
    """The largest known of some figures over the cases [kg]: case, value, uncertainty, what is missing in any."""

    case: str
    value: float | None
    u: float | None
    needs: tuple[Need, ...]


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
        asked = job(computed, position)
        path = "trailer.tires" if position == "trailer" else f"vehicle.tires.{position}"
        out[position] = TirePlan(position, "unknown", needs=(need(path),)) if asked is None else plan(asked)
    if rig.trailer.spare is not None:
        out["spare"] = _spare(rig, rig.trailer.spare, out["trailer"])
    return out


def worst_load(computed: Computed, names: tuple[str, ...]) -> Worst:
    """Find the case and load [kg] that is worst among some figures, or what is missing.

    Args:
        computed: figures of the cases [kg].
        names: ids of the figures; those a case has not are passed over [-].

    Source: none, the largest value.
    """
    case, top, u = "", None, None
    needs: list[Need] = []
    for result in computed.cases:
        for name in names:
            found = result.figures.get(name)
            if found is None:
                continue
            needs += found.needs
            for value, spread in ((found.value, found.u), *((found.rival,) if found.rival else ())):
                if value is not None and (top is None or value > top):
                    case, top, u = result.name, value, spread
    missing = tuple({n.path: n for n in needs}.values())
    return Worst(case, top, u, missing)


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
    """What the tires of a position are asked to do (loads [kg]); None without a tire.

    Args:
        computed: figures of the cases [kg].
        position: ``trailer``, ``front`` or ``rear`` [-].

    Source: worst declared case; see ``cardgen.physics.pressure``.
    """
    load = worst_load(computed, axle_figures(computed.rig, position))
    return _trailer(computed, load) if position == "trailer" else _vehicle(computed.rig, position, load)


def _trailer(computed: Computed, load: Worst) -> Job | None:
    rig = computed.rig
    fitted, label, scale = rig.trailer.tires, rig.trailer.tire_pressure, weighed_wheels(rig)
    if fitted is None:
        return None
    shares = [s for s in (scale.share if scale else None, _side_share(computed)) if s is not None]
    return Job(
        "trailer", fitted, "trailer.tires", load.value, rig.trailer.axles.tires_per_axle, _allowance(rig),
        "trailer", rig.market, _row(label), side_share=max(shares, default=None),
        every_wheel=scale is not None and scale.every, weighed=scale.tire if scale else None,
        by_table=rig.trailer.tires_by_table, case=load.case, load_needs=load.needs, u=load.u,
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
    heaviest = max(wheels.values()) / (axles.tires_per_axle / 2)
    every = len(shares) == axles.count and not older(rig, newest.date)
    return Weighed(heaviest, max(shares, default=None), every)


def _side_share(computed: Computed) -> float | None:
    """Heavier side over half the axle group, worst case, where the positions tell [-]."""
    shares: list[float] = []
    for case in computed.cases:
        left, right = case.figures["left_wheels"].value, case.figures["right_wheels"].value
        if left is None or right is None or left + right <= 0:
            return None
        shares.append(2.0 * max(left, right) / (left + right))
    return max(shares, default=None)


def _vehicle(rig: Rig, position: str, load: Worst) -> Job | None:
    vehicle = rig.vehicle
    fitted: Tire | None = getattr(vehicle.tires, position)
    if fitted is None:
        return None
    placard = getattr(vehicle.placard_towing, position) or getattr(vehicle.placard, position)
    return Job(
        position, fitted, f"vehicle.tires.{position}", load.value,
        vehicle.tires.rear_count if position == "rear" else 2, _allowance(rig),
        vehicle.kind or "truck", rig.market, _row(placard),
        same_size(vehicle.tires.placard_size, fitted),
        placard_load=_placard_load(rig, position), case=load.case, load_needs=load.needs, u=load.u,
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


def _spare(rig: Rig, spare: Spare, others: TirePlan) -> TirePlan:
    """Pressure to keep in the spare [Pa gauge]."""
    like = rig.trailer.tires if spare.same and rig.trailer.tires else spare
    limit = tires.ceiling(like)
    chosen: Row | None
    if spare.pressure is not None:
        chosen, reason = _row(spare.pressure), "pressure as stated for the spare"
    elif spare.same:
        reasons = ("same tire as the others: kept at the same pressure",)
        return TirePlan(
            "spare", others.status, others.pressure, ceiling=limit, reasons=reasons, needs=others.needs,
            as_marked=others.as_marked,
        )  # fmt: skip
    else:
        chosen, reason = tires.rated_pressure(spare), "the spare's own sidewall pressure at maximum load"
    if chosen is None:
        name = "extra_load" if spare.type in ("P", "EURO") else "max_load_at"
        path = f"trailer.spare.{name}" if spare.type else "trailer.spare.type"
        return TirePlan("spare", "unknown", needs=(need(path),))
    if limit is not None and chosen.pressure > limit + PRESSURE_SLACK:
        words = f"{chosen.text} is above the limit of tire, rim or valve"
        return TirePlan("spare", "conflict", ceiling=limit, reasons=(reason, words))
    return TirePlan("spare", "set", chosen.pressure, ceiling=limit, reasons=(reason,), as_marked=chosen.text)


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
