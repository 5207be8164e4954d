"""The cold pressure of one axle's tires: load, published row, label or placard, ceiling.

The vehicle placard and the trailer's label are floors; a passenger tire on a trailer, truck, MPV or bus
carries its rating less ``load_divisor``; when limits contradict each other no pressure is printed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from cardgen.model.figure import COVERAGE
from cardgen.model.results import Need, TirePlan
from cardgen.model.tires import Tire
from cardgen.physics.needs import need
from cardgen.physics.tires import (
    COUNTED,
    Row,
    above,
    accepted_rows,
    ceiling,
    higher,
    light,
    load_need,
    pressure_limits,
    rated_load,
    rated_pressure,
    step_up,
)
from cardgen.tables.lookup import holds
from cardgen.tables.tire_rules import load_divisor


@dataclass(frozen=True, slots=True)
class Job:
    """What one axle's tires are asked to do.

    Args:
        position: ``trailer``, ``front`` or ``rear`` [-].
        tire: the tire as marked.
        path: field path of the tire [-].
        axle_load: load of one axle in one case [kg], None when unknown.
        tires_on_axle: 2 or 4 [-].
        side_allowance: how far one side may exceed half the axle where no wheel tells [-].
        runs_on: ``trailer`` or the kind of vehicle, which decides on the divisor; empty when unknown [-].
        market: market of the rig [-].
        floor: placard or label pressure as stated [Pa gauge], None when unknown.
        same_size: whether the fitted size is the placard's; None when unknown.
        lean: how far the loads of known place alone make a side heavier, where others are unknown [-].
        side_share: heavier side over half the axle, computed from positions or weighed
            (1 is even) [-]; None when unknown.
        every_wheel: whether every wheel was weighed [-].
        weighed: heaviest tire as weighed [kg], None when not weighed.
        by_table: the owner wants special trailer tires set by their table [-].
        placard_load: load one tire of the placard's size carries at the placard's
            pressure, after its own divisor [kg]; None when unknown.
        case: loading case that is worst [-].
        load_needs: what is missing to know the axle load in every case; then only an overload is sure.
        u: standard uncertainty of the axle load [kg], None when unknown.
        counted: whether the file says how many tires the axle has [-].
        assumed: how much of the axle load rests on heights that were not measured [kg].
        could_lean: how far a side may be heavier with all that has no place across on it [-].
        open_needs: places across and heights that would tell.
    """

    position: str
    tire: Tire
    path: str
    axle_load: float | None
    tires_on_axle: int
    side_allowance: float
    runs_on: str
    market: str
    floor: Row | None
    same_size: bool | None = True
    side_share: float | None = None
    every_wheel: bool = False
    weighed: float | None = None
    by_table: bool = False
    placard_load: float | None = None
    case: str = ""
    load_needs: tuple[Need, ...] = ()
    u: float | None = None
    counted: bool = True
    lean: float = 0.0
    assumed: float = 0.0
    could_lean: float = 0.0
    open_needs: tuple[Need, ...] = ()


@dataclass(frozen=True, slots=True)
class Asked:
    """Loads of the heavier tire of an axle [kg]: even share, sure, with allowance, what places and heights that are
    not known may bring; and how it was found."""

    even: float
    sure: float
    wheel: float
    could: float
    words: str


def wheel_load(job: Job) -> Asked:
    """Load on the heavier tire of an axle [kg].

    ``even = axle / tires``; ``sure`` is the heavier side or tire as weighed or computed, without what
    rests on heights not measured; ``wheel`` adds that and the side allowance unless every wheel was weighed.

    Args:
        job: with ``axle_load`` known [kg].

    Raises:
        ValueError: without it.

    Source: equal sides plus a stated allowance, a choice of this project.
    """
    if job.axle_load is None:
        raise ValueError("no axle load")
    even = job.axle_load / job.tires_on_axle
    share = max(1.0, job.side_share or 1.0)
    sure = max(job.weighed or 0.0, (even - job.assumed / job.tires_on_axle) * share)
    could = max(even, sure)
    if job.every_wheel:
        return Asked(
            even, sure, max(sure, even * share), could, "every wheel was weighed: the heaviest counts"
        )
    could = max(could, even * (1.0 + job.could_lean))
    more = max(job.side_allowance, job.lean)
    wheel = max(sure, even * share, even * (1.0 + more))
    if wheel > sure:
        lean = "that the loads of known place put on one side"
        why = "for an uneven load, which is assumed" if more > job.lean else lean
        return Asked(even, sure, wheel, could, f"half the axle plus {100 * more:.3g} % {why}")
    return Asked(even, sure, wheel, could, "the heavier side, weighed or computed")


def plan(job: Job, *others: Job) -> TirePlan:
    """Work out the cold pressure for one axle's tires.

    Args:
        job: loads [kg], pressures [Pa gauge] and the tire as marked.
        others: the same tires in other cases or on other axles; every load must be carried.

    Returns:
        The plan; ``status`` says when no pressure may be printed and why.

    Source: sidewall, maker's table, label or placard; the order of the rules is this
        project's, none of them lets a pressure fall below a published row.
    """
    known = [one for one in (job, *others) if one.axle_load is not None]
    if not known:
        return _without_load(job, _start(job))
    job = max(known, key=lambda one: wheel_load(one).sure)
    base, table, worst = _start(job), _table(job), [wheel_load(one) for one in known]
    asked = max(worst, key=lambda one: one.wheel)
    spread = [None if one.u is None else one.u / one.tires_on_axle for one in known]
    base = replace(
        base, even_load=max(one.even for one in worst), could_load=max(one.could for one in worst), wheel_load=asked.wheel,
        sure_load=wheel_load(job).sure, u=None if job.u is None else job.u / job.tires_on_axle,
        most_load=max(one.sure + COVERAGE * (u or 0.0) for one, u in zip(worst, spread, strict=True)),
    )  # fmt: skip
    most = rated_load(job.tire, job.tires_on_axle == 4) or rated_load(
        job.tire, dual=False
    )  # never more in duals
    past = most is not None and not holds((base.sure_load or 0.0) * base.divisor, "<=", most)
    four = rated_load(job.tire, dual=True) or rated_load(job.tire, dual=False) or 0.0
    words, ask = "", ""
    sure = base.sure_load or 0.0
    perhaps = not job.counted and not (job.position == "trailer" and light(sure))
    if past and perhaps and holds(sure / 2.0 * base.divisor, "<=", four):
        words, ask = "two tires cannot carry the load, four could: say how many", COUNTED[job.position]
    elif past and not job.runs_on and most is not None and holds(base.sure_load or 0.0, "<=", most):
        words, ask = "tires cannot carry the load on a truck, on a car they could: say which", "vehicle.kind"
    if ask:
        least = None if job.floor is None else _set(job, _start(job), job.floor, "")
        if least is not None and least.status == "conflict":
            return least  # whatever the answer is
        return _stop(TirePlan(job.position, "unknown", case=job.case), "unconfirmed", words, (need(ask),))
    if past and most is not None:
        reasons = (asked.words,) if table is None else (asked.words, table.why)
        base = replace(base, capacity=most / base.divisor, reasons=reasons)
        return _stop(base, "overloaded", "the load is above the tire's maximum")
    if table is None:
        return _without_load(job, base if not job.load_needs else _start(job))
    return _carried(job, base, table, asked, most)


def _carried(job: Job, sure: TirePlan, table: _Table, asked: Asked, most: float | None) -> TirePlan:
    """What holds of a load that the tires carry as far as it is sure [kg], and of what it may come to."""
    could, base = sure.could_load or 0.0, replace(sure, reasons=(asked.words, table.why))
    ends = [_end(table, load * base.divisor) for load in (asked.wheel, max(asked.wheel, could))]
    held, more = (_held(job, base, table, end) for end in ends)
    stopped = held.status in ("conflict", "overloaded")
    if not stopped and most is not None and not holds(could * base.divisor, "<=", most):
        words = "it may be past the tire's maximum: not all places across the trailer and heights are known"
        base = replace(sure, needs=(*base.needs, *job.open_needs), reasons=(words,))
        full = _held(job, base, table, table.ends[-1])
        return full if full.status == "set" and job.position == "trailer" else _without_load(job, base)
    if held.status == "set" and (more.status, more.pressure) != (held.status, held.pressure):
        held = replace(held, needs=(*held.needs, *job.open_needs))  # printed, not passed: more may be needed
    if not job.load_needs or held.status == "overloaded":
        return held
    if held.status != "conflict":
        return _without_load(job, _start(job))
    return replace(held, wheel_load=None, sure_load=None)  # it may be more


def unloaded(job: Job) -> TirePlan:
    """What holds of tires whose load is not known, whatever it is (loads [kg], pressures [Pa gauge]).

    Args:
        job: pressures [Pa gauge] and the tire as marked; its loads do not matter.

    Source: as in ``plan``.
    """
    return _without_load(job, _start(job))


def steps(job: Job) -> tuple[tuple[float | None, TirePlan], ...]:
    """List what ``plan`` says of every load of the heavier wheel, as long as the tires can carry it.

    Args:
        job: pressures [Pa gauge] and the tire as marked; its loads do not matter.

    Returns:
        Wheel load up to which a plan holds [kg], rising, None for the last; and the plan.

    Source: the tire's own rows, as in ``plan``.
    """
    job = replace(job, load_needs=())
    base, table = _start(job), _table(job)
    if table is None:
        return ((None, _without_load(job, base)),)
    ends = [end / base.divisor for end in table.ends]
    held = [_held(job, base, table, end) for end in table.ends]
    return tuple(zip((*ends[:-1], None), held, strict=True))


@dataclass(frozen=True, slots=True)
class _Table:
    """A tire's published rows, the sidewall's own row, and the loads of one tire at which the plan changes.

    Args:
        rows: accepted rows of the maker's table, none without one [Pa gauge, kg].
        top: the sidewall's maximum load and its pressure [Pa gauge, kg].
        ends: loads up to which one plan holds, rising, divisor not taken off [kg].
        why: where the rows come from [-].
    """

    rows: tuple[Row, ...]
    top: Row
    ends: tuple[float, ...]
    why: str


def _table(job: Job) -> _Table | None:
    """Read the tire's rows; None when its class, load or pressure is unknown."""
    dual = job.tires_on_axle == 4
    load, rated = rated_load(job.tire, dual), rated_pressure(job.tire)
    if load is None or rated is None or job.tire.type is None:
        return None
    top = replace(rated, load=load)
    rows, why = accepted_rows(job.tire, dual)
    ends = [row.load for row in rows if holds(row.load, "<", load)]
    if job.floor is not None and not rows:
        ends += [end for end in (_proportional(top, job.floor),) if holds(end, "<", load)]
    return _Table(rows, top, (*ends, load), why)


def _end(table: _Table, load: float) -> float:
    """The load up to which a plan holds [kg] that carries a load, the tire's maximum at most."""
    return next((end for end in table.ends if holds(load, "<=", end)), table.ends[-1])


def _proportional(top: Row, floor: Row) -> float:
    """Load that a tire carries at a lower pressure, in proportion to its maximum [kg]."""
    return top.load * floor.pressure / top.pressure


def _start(job: Job) -> TirePlan:
    """The plan before anything is known of the load."""
    tire, dual = job.tire, job.tires_on_axle == 4
    factor = load_divisor(tire.type, job.runs_on or "truck", job.market).value if tire.type else 1.0
    load, top = rated_load(tire, dual), rated_pressure(tire)
    return TirePlan(
        job.position, "unknown", capacity=None if load is None else load / factor, divisor=factor,
        ceiling=ceiling(tire), needs=_needs(job, load, top, dual), case=job.case,
    )  # fmt: skip


def _held(job: Job, base: TirePlan, table: _Table, load: float) -> TirePlan:
    """What holds for one of the table's loads [kg], and for all that are above the one before."""
    row = step_up((*table.rows, table.top), load)
    assert row is not None  # the sidewall's own row carries the maximum, and no load is above it
    base = replace(base, minimum=row.pressure)
    if job.position == "trailer":
        asked = () if job.floor else (need("trailer.tire_pressure"),)  # without it: printed, not passed
        return _trailer(job, replace(base, needs=base.needs + asked), table.rows, row, table.top, load)
    return _vehicle(job, base, table.rows, row, table.top, load)


def _needs(job: Job, load: float | None, top: Row | None, dual: bool) -> tuple[Need, ...]:
    found = list(job.load_needs)
    tire = job.tire
    if tire.type is None:
        found.append(need(f"{job.path}.type"))
    if load is None:
        found.append(load_need(tire, job.path, dual))
    if top is None:
        passenger = tire.type in ("P", "EURO")
        found.append(need(f"{job.path}.extra_load" if passenger else f"{job.path}.max_load_at"))
    return tuple(found)


def _without_load(job: Job, base: TirePlan) -> TirePlan:
    """Without a load only what the sidewall says outright may be printed."""
    top = rated_pressure(job.tire)
    if job.position == "trailer" and job.tire.type == "ST" and top is not None:
        lost = "the wheel load" if job.load_needs else "what the tire may carry"
        words = f"sidewall pressure at maximum load; {lost} is not known"
        if job.floor is not None and above(top, job.floor):
            words += f"; the label says {job.floor.text}, which may be too little"
        return _by_table(job, base, top) or _set(job, base, higher(top, job.floor), words)
    if job.position != "trailer" and job.floor is not None:
        words = "placard pressure not confirmed: wheel load or tire unknown"
        return replace(base, status="unconfirmed", reasons=(words,))
    return base


def _trailer(job: Job, base: TirePlan, rows: tuple[Row, ...], row: Row, top: Row, least: float) -> TirePlan:
    """The maker's label where it carries the load; else what is published, of special trailer tires the sidewall's."""
    floor = job.floor
    if floor is not None and not rows and holds(least, "<=", _proportional(top, floor)):
        words = "the trailer maker's label, confirmed by the proportional rule on the sidewall"
        return confirm(job, replace(base, minimum=min(row.pressure, floor.pressure)), floor, words)
    if floor is not None and rows and not above(row, floor):
        return confirm(job, base, higher(row, floor), "the trailer maker's label; the table asks for no more")
    if job.tire.type == "ST" and job.by_table and rows and job.every_wheel:
        made = _set(job, base, higher(row, floor), "the table's row, every wheel weighed")
    elif job.tire.type == "ST":
        words = "special trailer tires run at the sidewall pressure (common practice, no source)"
        words += f"; the table's row for this load is {row.text}" if rows else ""
        made = _sidewall(job, base, top, higher(row, floor), words, bool(rows))
    elif floor is None:
        words = "the published row for this load; the trailer's tire label is not given, never go below it"
        made = _sidewall(job, base, row, row, words, bool(rows))
    else:
        said = "the tire maker's table asks for" if rows else "the sidewall states its load at"
        made = confirm(job, base, row, f"{said} {row.text}, which is set")
    low = "" if floor is None else f"the label says {floor.text}, too little for this load: "
    return replace(made, reasons=(*made.reasons[:-1], low + made.reasons[-1]))


def _sidewall(job: Job, base: TirePlan, top: Row, least: Row, words: str, known: bool) -> TirePlan:
    """Set the sidewall's pressure, or as much as rim and valve stand where that is enough.

    Without rows that are known, a lower one may carry the load: that is asked for and forbids nothing.
    """
    wanted, lowest = higher(top, least), next(iter(pressure_limits(job.tire, job.path)), None)
    if lowest is not None and not above(least, lowest) and above(wanted, lowest):
        words = f"as much as the {lowest.part} stands; {least.text} is the least for this load"
        return _set(job, base, Row(lowest.pressure, 0.0, lowest.text), words)
    return (None if known else _by_table(job, base, wanted)) or _set(job, base, wanted, words)


def _by_table(job: Job, base: TirePlan, wanted: Row) -> TirePlan | None:
    """Ask for the maker's table where rim or valve stand less than the sidewall's pressure, but what the label says."""
    lowest = next(iter(pressure_limits(job.tire, job.path)), None)
    if lowest is None or not above(wanted, lowest) or (job.floor is not None and above(job.floor, lowest)):
        return None
    words = f"{lowest.text} is the limit of the {lowest.part}; what the tire carries at it tells its maker's table"
    return _stop(base, "unknown", words, () if job.tire.table else (need(f"{job.path}.table"),))


def _vehicle(job: Job, base: TirePlan, rows: tuple[Row, ...], row: Row, top: Row, least: float) -> TirePlan:
    """Placard as floor; another size needs its own table and the placard tire's load."""
    table_need = (need(f"{job.path}.table"),)
    if job.same_size is False:
        return _other_size(job, base, rows, least, table_need)
    if job.floor is None:
        found = (need(f"vehicle.placard.{job.position}"),)
        return _stop(
            base,
            "unconfirmed",
            f"placard pressure not given; never go below it (the row for this load is {row.text})",
            found,
        )
    if job.same_size is None:
        return _stop(
            base,
            "unconfirmed",
            "whether the tire is the placard's size is not stated",
            (need("vehicle.tires.placard_size"),),
        )
    if rows:
        return confirm(job, base, higher(row, job.floor), "the higher of placard and table row")
    if holds(least, "<=", _proportional(top, job.floor)):
        words = "placard pressure, confirmed by the proportional rule on the sidewall"
        return confirm(job, replace(base, minimum=min(row.pressure, job.floor.pressure)), job.floor, words)
    words = "the placard cannot be confirmed from the sidewall: get the maker's table"
    return _stop(base, "unconfirmed", words, table_need)


def _other_size(
    job: Job, base: TirePlan, rows: tuple[Row, ...], least: float, table: tuple[Need, ...]
) -> TirePlan:
    """A size that is not the placard's: the new tire must carry what the old one did."""
    if not rows:
        return _stop(
            base,
            "unconfirmed",
            "the size differs from the placard's: ask the tire maker for its table",
            table,
        )
    if job.placard_load is None:
        found = (need(f"vehicle.tires.placard_load.{job.position}"),)
        return _stop(
            base,
            "unconfirmed",
            "the size differs from the placard's: the load of the placard's tire is needed",
            found,
        )
    row = step_up(rows, max(least, job.placard_load * base.divisor))
    if row is None:
        return _stop(base, "overloaded", "the tire carries less than the placard's tire at its pressure")
    words = (
        "the size differs from the placard's: row that carries the wheel load and what the placard's tire did"
    )
    return confirm(job, replace(base, minimum=row.pressure), row, words)


def confirm(job: Job, base: TirePlan, chosen: Row, words: str) -> TirePlan:
    """Set a pressure, unless it is above what a passenger tire's class tells and its limit is not stated.

    Args:
        job: the tire as marked.
        base: the plan so far.
        chosen: the pressure [Pa gauge].
        words: why it was chosen [-].

    Source: see ``plan``.
    """
    tire = job.tire
    own = rated_pressure(tire)
    unlimited = tire.type in ("P", "EURO") and tire.max_pressure is None
    if unlimited and own is not None and above(chosen, own):
        found = (need(f"{job.path}.max_pressure"),)
        words = f"{chosen.text} needs the sidewall's highest pressure to be known"
        return _stop(base, "unconfirmed", words, found)
    return _set(job, base, chosen, words)


def _set(job: Job, base: TirePlan, chosen: Row, words: str) -> TirePlan:
    """Set a pressure [Pa gauge] unless tire, rim or valve forbid it; never above what one of them states."""
    limits = pressure_limits(job.tire, job.path)
    broken = next((limit for limit in limits if above(chosen, limit)), None)
    if broken is not None:
        words = (
            f"{chosen.text} is needed, above the limit of tire, rim or valve ({broken.part} {broken.text})"
        )
        return _stop(base, "conflict", words)
    if limits and limits[0].pressure < chosen.pressure:
        chosen = Row(limits[0].pressure, chosen.load, limits[0].text)
    return replace(
        base, status="set", pressure=chosen.pressure, as_marked=chosen.text, reasons=(*base.reasons, words)
    )


def _stop(base: TirePlan, status: str, words: str, needs: tuple[Need, ...] = ()) -> TirePlan:
    return replace(base, status=status, reasons=(*base.reasons, words), needs=(*base.needs, *needs))
