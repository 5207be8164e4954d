"""Tire plans of a rig: trailer, vehicle front and rear, spare."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.model.results import Computed, Figure, Need, TirePlan
from cardgen.model.rig import Rig
from cardgen.model.tires import Tire
from cardgen.physics import figures, tires
from cardgen.physics.needs import need

SIDE_ALLOWANCE = 0.05
"""Share by which one side is taken to exceed half an axle when no wheel was weighed [-];
a project choice, no source; the report says so."""


def plans(computed: Computed) -> dict[str, TirePlan]:
    """Make the tire plan of every position (loads [kg], pressures [Pa gauge])."""
    rig = computed.rig
    out = {"trailer": _trailer(computed)}
    for position in ("front", "rear"):
        out[position] = _vehicle(computed, position)
    if rig.trailer.spare is not None:
        out["spare"] = _spare(rig, out["trailer"])
    return out


def _worst(computed: Computed, names: tuple[str, ...]) -> tuple[str, float | None, tuple[Need, ...]]:
    """Return the case and load [kg] that is worst among some figures, or what is missing."""
    case, top = "", None
    needs: list[Need] = []
    for result in computed.cases:
        for name in names:
            found = result.figures.get(name)
            if found is None:
                continue
            needs += found.needs
            if found.value is not None and (top is None or found.value > top):
                case, top = result.name, found.value
    return case, None if needs else top, tuple({n.path: n for n in needs}.values())


def _allowance(rig: Rig) -> float:
    stated = rig.limits.side_allowance
    return SIDE_ALLOWANCE if stated is None else stated.si


def _trailer(computed: Computed) -> TirePlan:
    rig = computed.rig
    if rig.trailer.tires is None:
        return TirePlan("trailer", "unknown", needs=(need("trailer.tires"),))
    axles = rig.trailer.axles
    names = tuple(f"axle_{i + 1}" for i in range(axles.count))
    case, load, needs = _worst(computed, names)
    if rig.gear.weight_distribution is not None:
        engaged_case, engaged, more = _worst(computed, ("trailer_axles_engaged",))
        if engaged is not None and load is not None and engaged / axles.count > load:
            case, load = engaged_case, engaged / axles.count
        needs, load = (*needs, *more), None if more else load
    label = rig.trailer.tire_pressure
    return tires.plan(
        tires.Job(
            "trailer",
            rig.trailer.tires,
            "trailer.tires",
            load,
            axles.tires_per_axle,
            _allowance(rig),
            "trailer",
            rig.market,
            None if label is None else label.si,
            case=case,
            load_needs=needs,
            measured_wheel=_weighed(rig),
        )
    )


def _weighed(rig: Rig) -> float | None:
    """Heaviest trailer wheel of the newest weighing that has single wheels [kg]."""
    with_wheels = [w for w in rig.weighings if w.wheels]
    if not with_wheels:
        return None
    newest = max(with_wheels, key=lambda w: w.date)
    return max(q.si for q in newest.wheels.values())


def _vehicle(computed: Computed, position: str) -> TirePlan:
    rig = computed.rig
    vehicle = rig.vehicle
    tire: Tire | None = getattr(vehicle.tires, position)
    if tire is None:
        return TirePlan(position, "unknown", needs=(need(f"vehicle.tires.{position}"),))
    case, load, needs = _worst(computed, (f"vehicle_{position}_axle", f"{position}_alone"))
    placard = getattr(vehicle.placard_towing, position) or getattr(vehicle.placard, position)
    size = vehicle.tires.placard_size
    same = None if size is None or tire.size is None else _plain(size) == _plain(tire.size)
    return tires.plan(
        tires.Job(
            position,
            tire,
            f"vehicle.tires.{position}",
            load,
            vehicle.tires.rear_count if position == "rear" else 2,
            _allowance(rig),
            vehicle.kind or "truck",
            rig.market,
            None if placard is None else placard.si,
            same is not False,
            case=case,
            load_needs=needs,
        )
    )


def _plain(size: str) -> str:
    return size.replace(" ", "").upper()


def _spare(rig: Rig, trailer: TirePlan) -> TirePlan:
    spare = rig.trailer.spare
    assert spare is not None  # the caller looked
    if spare.pressure is not None:
        reason = "pressure as stated for the spare"
        limit = tires.ceiling(rig.trailer.tires) if spare.same and rig.trailer.tires else tires.ceiling(spare)
        if limit is not None and spare.pressure.si > limit + 7000.0:
            return TirePlan(
                "spare",
                "conflict",
                ceiling=limit,
                reasons=("the stated pressure is above the limit",),
            )
        return TirePlan("spare", "set", spare.pressure.si, reasons=(reason,))
    if spare.same:
        reasons = ("same tire as the others: kept at the same pressure",)
        return TirePlan("spare", trailer.status, trailer.pressure, reasons=reasons, needs=trailer.needs)
    own = tires.rated_pressure(spare)
    if own is not None:
        return TirePlan("spare", "set", own, reasons=("the spare's own sidewall pressure at maximum load",))
    return TirePlan("spare", "unknown", needs=(need("trailer.spare.max_load_at"),))


def pressure_figures(made: Mapping[str, TirePlan]) -> dict[str, Figure]:
    """Make the figures ``pressure_<position>`` [Pa gauge] from the plans."""
    out = {}
    for position, plan in made.items():
        name = f"pressure_{position}"
        needs = plan.needs
        if plan.pressure is None and not needs:
            needs = (Need(name, "; ".join(plan.reasons[-1:]) or "tire data"),)
        out[name] = figures.derived(
            name,
            f"cold pressure, {position}",
            "pressure",
            plan.pressure,
            "first published row with load >= wheel load; placard and label as floor",
            (),
            "; ".join(plan.reasons),
            needs,
        )
    return out
