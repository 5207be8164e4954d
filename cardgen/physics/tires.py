"""Minimum cold tire pressure for a wheel load, by published rows only.

Rules: a row is the least cold pressure for its load; step up to the next row,
never extrapolate; the sidewall's maximum load is a table of one row; the
vehicle placard is a floor; a passenger tire on a trailer, truck, MPV or bus
carries its rating divided by 1.10 (FMVSS 120 S5.1.2 as quoted in NHTSA
interpretation nht76-1.47, 17 Nov 1976; for vehicles up to 10,000 lb the like
rule of FMVSS 110 S4.2.2.2 is from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from cardgen.model.results import Need, TirePlan
from cardgen.model.tires import Tire
from cardgen.physics.needs import need
from cardgen.tables.load_index import load_for_index, speed_for_symbol
from cardgen.tables.lookup import TableError
from cardgen.tables.tire_rules import default_speed, load_divisor, pressure_at_max_load

_PRESSURE_SLACK = 7000.0  # Pa, one psi: sidewalls and tables round to the nearest psi
_LOAD_SLACK = 0.01  # share by which the table's top row may differ from the sidewall


@dataclass(frozen=True, slots=True)
class Row:
    """A published row: cold pressure [Pa gauge] and load of one tire [kg]."""

    pressure: float
    load: float


@dataclass(frozen=True, slots=True)
class Job:
    """What one axle's tires are asked to do.

    Args:
        position: ``trailer``, ``front`` or ``rear`` [-].
        tire: the tire as marked.
        path: field path of the tire [-].
        axle_load: worst axle load over the cases [kg], None when unknown.
        tires_on_axle: 2 or 4 [-].
        side_allowance: how far one side may exceed half the axle [-].
        runs_on: ``trailer`` or the kind of vehicle, which decides on the divisor [-].
        market: market of the rig [-].
        placard: placard or label pressure [Pa gauge], None when unknown.
        placard_size: whether size equals the placard's; None when unknown.
        measured_wheel: heaviest wheel as weighed [kg], None when not weighed.
        case: loading case that is worst [-].
        load_needs: what is missing to know ``axle_load``.
    """

    position: str
    tire: Tire
    path: str
    axle_load: float | None
    tires_on_axle: int
    side_allowance: float
    runs_on: str
    market: str
    placard: float | None
    placard_size: bool | None = True
    measured_wheel: float | None = None
    case: str = ""
    load_needs: tuple[Need, ...] = ()


def rated_load(tire: Tire, dual: bool) -> float | None:
    """Maximum load of one tire as marked [kg]; None when unknown.

    A European tire is rated by its load index; elsewhere the sidewall's own
    figure counts and the index is no substitute.

    Args:
        tire: the tire.
        dual: whether it runs in dual fitment [-].
    """
    if dual:
        return tire.max_load_dual.si if tire.max_load_dual else None
    if tire.max_load is not None:
        return tire.max_load.si
    if tire.type in ("EURO", "C") and tire.load_index is not None:
        try:
            return load_for_index(tire.load_index)
        except TableError:
            return None
    return None


def rated_pressure(tire: Tire) -> float | None:
    """Cold pressure at which the maximum load is reached [Pa gauge]; None when unknown.

    For passenger tires the class decides, as their sidewalls may print a higher
    permitted pressure; for the others the sidewall does.
    """
    if tire.type in ("P", "EURO"):
        return pressure_at_max_load(tire.type, bool(tire.extra_load))
    return tire.max_load_at.si if tire.max_load_at else None


def ceiling(tire: Tire) -> float | None:
    """Lowest known pressure limit of sidewall, rim and valve [Pa gauge]; None when none is known."""
    own = tire.max_pressure or (tire.max_load_at if tire.type not in ("P", "EURO") else None)
    known = [q.si for q in (own, tire.rim_max_pressure, tire.valve_max_pressure) if q is not None]
    return min(known) if known else None


def accepted_rows(tire: Tire, dual: bool) -> tuple[tuple[Row, ...], str]:
    """Return the maker's rows when they can be trusted, else none and the reason.

    Args:
        tire: the tire with its table.
        dual: whether the dual column counts [-].

    Returns:
        Rows in rising order [Pa gauge, kg] and a sentence for the report.
    """
    if tire.table is None:
        return (), "no maker's table given; the sidewall is a table of one row"
    rows = []
    for line in tire.table.rows:
        carried = line.load_dual if dual else line.load
        if carried is None:
            return (), "the table has no dual column"
        rows.append(Row(line.pressure.si, carried.si))
    load, pressure, top = rated_load(tire, dual), rated_pressure(tire), ceiling(tire)
    rising = all(a.pressure < b.pressure and a.load < b.load for a, b in pairwise(rows))
    if len(rows) < 2 or not rising:
        return (), "the table is not used: it needs two rows or more, rising in both columns"
    if not tire.table.source.strip():
        return (), "the table is not used: its source is not named"
    if load is None or pressure is None:
        return (), "the table is not used: the sidewall's maximum load and pressure are unknown"
    last = rows[-1]
    if abs(last.load - load) > _LOAD_SLACK * load or abs(last.pressure - pressure) > _PRESSURE_SLACK:
        return (
            (),
            "the table is not used: its top row is not the sidewall's maximum load and pressure",
        )
    if top is not None and last.pressure > top + _PRESSURE_SLACK:
        return (), "the table is not used: a row lies above the pressure limit"
    return tuple(rows), f"maker's table: {tire.table.source}"


def step_up(rows: tuple[Row, ...], load: float) -> float | None:
    """Pressure of the first row that carries the load [Pa gauge], None when none does.

    Args:
        rows: published rows in rising order.
        load: load on one tire, divisor applied [kg].
    """
    return next((row.pressure for row in rows if row.load >= load), None)


def plan(job: Job) -> TirePlan:
    """Work out the cold pressure for one axle's tires.

    Args:
        job: loads [kg], pressures [Pa gauge] and the tire as marked.

    Returns:
        The plan; ``status`` says when no pressure may be printed and why.
    """
    tire, dual = job.tire, job.tires_on_axle == 4
    factor = load_divisor(tire.type, job.runs_on, job.market).value if tire.type else 1.0
    load, pressure = rated_load(tire, dual), rated_pressure(tire)
    needs = _needs(job, load, pressure, dual)
    known_load = load if load is None else load / factor
    base = TirePlan(
        job.position,
        "unknown",
        capacity=known_load,
        divisor=factor,
        ceiling=ceiling(tire),
        needs=needs,
        case=job.case,
    )
    if job.axle_load is None or load is None or pressure is None or tire.type is None:
        return _without_load(job, base, pressure)
    even = job.axle_load / job.tires_on_axle
    wheel = job.measured_wheel or even * (1.0 + job.side_allowance)
    base = replace(base, even_load=even, wheel_load=wheel)
    how = "its weighed load" if job.measured_wheel else "its part of the axle plus the side allowance"
    rows, why = accepted_rows(tire, dual)
    reasons = (f"one wheel carries {how}", why)
    if even * factor > load or (job.measured_wheel and wheel * factor > load):
        return replace(base, status="overloaded", reasons=(*reasons, "the load is above the tire's maximum"))
    asked = min(wheel * factor, load)
    table = rows or (Row(pressure, load),)
    minimum = step_up(table, asked)
    assert minimum is not None  # the top row carries the tire's maximum, and asked is not above it
    return _recommend(job, replace(base, minimum=minimum), rows, asked, load, pressure, reasons)


def _without_load(job: Job, base: TirePlan, pressure: float | None) -> TirePlan:
    """Without a load only what sidewall or placard say outright may be printed."""
    if job.position == "trailer" and job.tire.type == "ST" and pressure is not None:
        return replace(
            base,
            status="set",
            pressure=pressure,
            reasons=("sidewall pressure at maximum load; the wheel load itself is not known",),
        )
    if job.position != "trailer" and job.placard is not None and job.placard_size:
        return replace(
            base,
            status="unconfirmed",
            reasons=("placard pressure not confirmed: wheel load or tire unknown",),
        )
    return base


def _needs(job: Job, load: float | None, pressure: float | None, dual: bool) -> tuple[Need, ...]:
    found = list(job.load_needs)
    if job.tire.type is None:
        found.append(need(f"{job.path}.type"))
    if load is None:
        found.append(need(f"{job.path}.max_load_dual" if dual else f"{job.path}.max_load"))
    if pressure is None and job.tire.type not in ("P", "EURO"):
        found.append(need(f"{job.path}.max_load_at"))
    return tuple(found)


def _recommend(
    job: Job,
    base: TirePlan,
    rows: tuple[Row, ...],
    asked: float,
    load: float,
    pressure: float,
    reasons: tuple[str, ...],
) -> TirePlan:
    """Choose the pressure to print from table minimum, sidewall and placard."""
    minimum = base.minimum or pressure
    if job.position == "trailer":
        chosen, words = _trailer_choice(job, rows, minimum, pressure)
    elif not job.placard_size:
        if not rows:
            return replace(
                base,
                status="unconfirmed",
                needs=(need(f"{job.path}.table"),),
                reasons=(*reasons, "size differs from the placard: ask the tire maker for its table"),
            )
        chosen, words = minimum, "size differs from the placard: pressure from the new tire's table"
    elif job.placard is None:
        return replace(
            base,
            status="unconfirmed",
            needs=(need(f"vehicle.placard.{job.position}"),),
            reasons=(*reasons, "placard pressure not given; never go below it"),
        )
    elif rows:
        chosen, words = max(minimum, job.placard), "the higher of placard and table minimum"
    elif asked <= load * job.placard / pressure or job.placard >= pressure:
        chosen, words = (
            job.placard,
            "placard pressure, confirmed by the proportional rule on the sidewall",
        )
    else:
        return replace(
            base,
            status="unconfirmed",
            needs=(need(f"{job.path}.table"),),
            reasons=(*reasons, "the placard cannot be confirmed from the sidewall: get the maker's table"),
        )
    if base.ceiling is not None and chosen > base.ceiling + _PRESSURE_SLACK:
        return replace(
            base,
            status="conflict",
            reasons=(*reasons, "the pressure needed is above the limit of tire, rim or valve"),
        )
    return replace(base, status="set", pressure=chosen, reasons=(*reasons, words))


def _trailer_choice(job: Job, rows: tuple[Row, ...], minimum: float, pressure: float) -> tuple[float, str]:
    if job.tire.type == "ST":
        if rows and job.measured_wheel:
            label = job.placard or 0.0
            return max(minimum, label), "the higher of label and table minimum, wheels weighed"
        return (
            pressure,
            "special trailer tires run at the sidewall pressure (common practice, no source)",
        )
    if job.placard is None:
        return minimum, "table minimum; the trailer's tire label is not given, never go below it"
    return max(minimum, job.placard), "the higher of label and table minimum"


def speed_limit(tire: Tire) -> float | None:
    """Speed a tire is good for [m/s]: its symbol, or the default of its class; None when unknown.

    Args:
        tire: the tire as marked.

    Source: ``cardgen.tables.load_index`` and ``cardgen.tables.tire_rules.default_speed``.
    """
    if tire.speed_symbol is not None:
        try:
            return speed_for_symbol(tire.speed_symbol)
        except TableError:
            return None
    usual = default_speed(tire.type) if tire.type else None
    return usual.value if usual else None
