"""What a tire's markings and its maker's table say: load, pressure, limits, speed.

Published rows only: a row is the least cold pressure for its load; step up to the
next row, never extrapolate; the sidewall's maximum load is a table of one row.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import pairwise

from cardgen.model.needs import Need
from cardgen.model.rig import Rig
from cardgen.model.tires import Tire
from cardgen.model.vehicle import TWO_REAR_TIRES
from cardgen.physics.needs import need
from cardgen.tables.load_index import load_for_index, speed_for_symbol
from cardgen.tables.lookup import TableError, holds
from cardgen.tables.tire_rules import default_speed, stated_pressure

PRESSURE_SLACK = 7000.0
"""Slack between pressures printed in different units [Pa], one psi: each rounds in its own
(65 psi = 450 kPa, 50 psi = 350 kPa differ by up to 6 kPa)."""
_UNIT = re.compile(r"[A-Za-z]+")
_LOAD_SLACK = 0.01  # share by which the table's top row may differ from the sidewall
_PASSENGER = ("P", "EURO")


@dataclass(frozen=True, slots=True)
class Row:
    """A published row: cold pressure [Pa gauge], load of one tire [kg], pressure as printed."""

    pressure: float
    load: float
    text: str = ""


@dataclass(frozen=True, slots=True)
class Limit:
    """A pressure limit [Pa gauge], the part that sets it (tire, rim or valve) and the limit as printed."""

    pressure: float
    part: str
    path: str
    text: str = ""


def rated_load(tire: Tire, dual: bool) -> float | None:
    """Maximum load of one tire as marked [kg]; None when unknown.

    A European tire (UN R30, R54) is rated by its load index; elsewhere the sidewall's
    own figure counts and the index is no substitute. Where a tire states both, the lower
    counts; an index that no tire carries leaves the load unknown, for it was misread.

    Args:
        tire: the tire.
        dual: whether it runs in dual fitment; only a printed dual rating counts then [-].

    Source: sidewall; ``cardgen.tables.load_index``.
    """
    printed = [q.si for q in (tire.max_load, tire.max_load_dual if dual else None) if q is not None]
    if dual and tire.max_load_dual is None:
        return None
    if tire.load_index is None:
        return min(printed, default=None)
    try:
        by_index = load_for_index(tire.load_index)
    except TableError:
        return None
    return min((*printed, by_index)) if printed or tire.type in ("EURO", "C") else None


def load_need(tire: Tire, path: str, dual: bool) -> Need:
    """Say which mark is to be read where ``rated_load`` [kg] knows none.

    Args:
        tire: the tire.
        path: its field path [-].
        dual: as in ``rated_load`` [-].

    Source: none.
    """
    marked = tire.max_load_dual if dual else tire.max_load
    if marked is not None or (tire.load_index is not None and tire.type in ("EURO", "C") and not dual):
        return need(f"{path}.load_index")  # what is marked is no index of any tire
    if dual:
        return need(f"{path}.max_load_dual")
    return need(f"{path}.{'load_index' if tire.type in ('EURO', 'C') else 'max_load'}")


COUNTED = {"rear": "vehicle.tires.rear_count", "trailer": "trailer.axles.tires_per_axle"}
"""Field that counts the tires of an axle, by position [-]."""
FOUR_FROM = 2700.0
"""Rating of one trailer axle from which it may have four tires [kg]; a choice of this project: lighter ones hardly
ever have."""


def light(wheel: float) -> bool:
    """Whether so little rests on one side of a trailer's axle that one tire carries it [-].

    Args:
        wheel: load of one side [kg].

    Source: none; an axle at less than half of ``FOUR_FROM``, a choice of this project.
    """
    return 2.0 * wheel < FOUR_FROM / 2.0


def uncounted(rig: Rig, position: str, wheel: float | None = None) -> bool:
    """Whether the file leaves open that an axle has four tires, which cars and light trailers have not [-].

    Args:
        rig: the rig.
        position: ``trailer``, ``front`` or ``rear`` [-].
        wheel: load of one side of the axle [kg]; a light one of a trailer stands on one tire. None where it is not asked.

    Source: none.
    """
    if position == "trailer":
        gawr = rig.trailer.axles.gawr
        heavy = not gawr or any(rating.si >= FOUR_FROM for rating in gawr)  # what nobody stated may be
        return rig.trailer.axles.tires_per_axle is None and heavy and not (wheel is not None and light(wheel))
    if position != "rear":
        return False
    return rig.vehicle.tires.rear_count is None and rig.vehicle.kind not in TWO_REAR_TIRES


def rated_pressure(tire: Tire) -> Row | None:
    """Row of the maximum load: its cold pressure [Pa gauge] and the text; load is 0, see ``rated_load``.

    For passenger tires the class decides, as their sidewalls may print a higher
    permitted pressure that adds no load; for the others the sidewall does. It is unknown
    while ``extra_load`` is, because the two classes reach their loads at different pressures.

    Args:
        tire: the tire.

    Source: sidewall; ``cardgen.tables.tire_rules.stated_pressure``.
    """
    if tire.type is not None and tire.type in _PASSENGER:
        if tire.extra_load is None:
            return None
        found = stated_pressure(tire.type, tire.extra_load)
        return Row(found.value, 0.0, found.words)
    return Row(tire.max_load_at.si, 0.0, tire.max_load_at.text) if tire.max_load_at else None


def pressure_limits(tire: Tire, path: str) -> tuple[Limit, ...]:
    """Known pressure limits of sidewall, rim and valve, lowest first [Pa gauge].

    Args:
        tire: the tire.
        path: field path of the tire [-].

    Source: sidewall, stamp on the rim, data of the valve's maker.
    """
    known: list[Limit] = []
    own = tire.max_pressure or (tire.max_load_at if tire.type not in _PASSENGER else None)
    if own is not None:
        field = "max_pressure" if tire.max_pressure else "max_load_at"
        known.append(Limit(own.si, "tire", f"{path}.{field}", own.text))
    for part, given in (("rim", tire.rim_max_pressure), ("valve", tire.valve_max_pressure)):
        if given is not None:
            known.append(Limit(given.si, part, f"{path}.{part}_max_pressure", given.text))
    return tuple(sorted(known, key=lambda one: one.pressure))


def above(one: Row | Limit, other: Row | Limit) -> bool:
    """Say whether a pressure is above another, but for rounding where they are printed in different units.

    Args:
        one, other: pressures with their printed texts [Pa gauge].

    Source: ``PRESSURE_SLACK``.
    """
    units = [{unit.lower() for unit in _UNIT.findall(said.text)} for said in (one, other)]
    slack = 0.0 if units[0] == units[1] else PRESSURE_SLACK
    return holds(one.pressure, ">", other.pressure + slack)


def higher(row: Row, floor: Row | None) -> Row:
    """Return the higher of two pressures; label or placard when they are the same but for rounding.

    Args:
        row: a pressure with its text [Pa gauge].
        floor: pressure of label or placard, None without one [Pa gauge].

    Source: none, a comparison.
    """
    if floor is None or above(row, floor):
        return row
    return floor if floor.pressure >= row.pressure else replace(row, text=floor.text)


def ceiling(tire: Tire) -> float | None:
    """Lowest known pressure limit of sidewall, rim and valve [Pa gauge]; None when none is known.

    Args:
        tire: the tire.

    Source: see ``pressure_limits``.
    """
    known = pressure_limits(tire, "")
    return known[0].pressure if known else None


def accepted_rows(tire: Tire, dual: bool) -> tuple[tuple[Row, ...], str]:
    """Return the maker's rows when they can be trusted, else none and the reason.

    Accepted are two or more rows, rising in both columns, with a named source, whose
    top row is the sidewall's maximum load (within 1 %) at its pressure (within 1 psi).
    Rows above the sidewall's pressure belong to a higher load range of the same size and
    are cut off first. Rows above the limit of rim or valve stay: what needs them says so.

    Args:
        tire: the tire with its table.
        dual: whether the dual column counts [-].

    Returns:
        Rows in rising order [Pa gauge, kg] and a sentence for the report.

    Source: rules of this project for trusting a table the owner copied.
    """
    if tire.table is None:
        return (), "no maker's table given; the sidewall is a table of one row"
    rows: list[Row] = []
    for line in tire.table.rows:
        carried = line.load_dual if dual else line.load
        if carried is None:
            return (), "the table is not used: it has no dual column"
        rows.append(Row(line.pressure.si, carried.si, line.pressure.text))
    load, top = rated_load(tire, dual), rated_pressure(tire)
    rising = all(a.pressure < b.pressure and a.load < b.load for a, b in pairwise(rows))
    if len(rows) < 2 or not rising:
        return (), "the table is not used: it needs two rows or more, rising in both columns"
    if not tire.table.source.strip():
        return (), "the table is not used: its source is not named"
    if load is None or top is None:
        return (), "the table is not used: the sidewall's maximum load and pressure are unknown"
    rows = [row for row in rows if row.pressure <= top.pressure + PRESSURE_SLACK]
    if (
        len(rows) < 2
        or abs(rows[-1].load - load) > _LOAD_SLACK * load
        or abs(rows[-1].pressure - top.pressure) > PRESSURE_SLACK
    ):
        return (), "the table is not used: its top row is not the sidewall's maximum load and pressure"
    return tuple(rows), f"maker's table: {tire.table.source}"


def step_up(rows: tuple[Row, ...], load: float) -> Row | None:
    """First row that carries the load, None when none does; never below the lowest row.

    Args:
        rows: published rows in rising order [Pa gauge, kg].
        load: load on one tire, divisor applied [kg].

    Source: a row is the least cold pressure for its load; no interpolation here.
    """
    return next((row for row in rows if holds(row.load, ">=", load)), None)


def speed_limit(tire: Tire) -> float | None:
    """Speed a tire is good for [m/s]: its symbol or the default of its class, and what
    the sidewall states in words if that is less; None when unknown.

    Args:
        tire: the tire as marked.

    Source: ``cardgen.tables.load_index`` and ``cardgen.tables.tire_rules.default_speed``.
    """
    stated = tire.speed_limit.si if tire.speed_limit else None
    found: float | None = None
    if tire.speed_symbol is not None:
        try:
            found = speed_for_symbol(tire.speed_symbol)
        except TableError:
            return None
    else:
        usual = default_speed(tire.type) if tire.type else None
        found = usual.value if usual else None
    known = [v for v in (stated, found) if v is not None]
    return min(known) if known else None


def size_class(size: str) -> str | None:
    """Class of tire that a size on a label means, by its prefix; None when it cannot be told.

    Args:
        size: size as printed, for example ``LT275/70R18`` or ``225/55R17`` [-].

    Source: the trade's prefixes: P, LT, ST; none for metric passenger tires, C or LT behind
        the rim diameter for light commercial ones.
    """
    plain = plain_size(size)
    for prefix in ("LT", "ST", "P"):
        if plain.startswith(prefix):
            return prefix
    if "/" not in plain or not plain[0].isdigit():
        return None
    return "LT" if plain.endswith("LT") else "C" if plain.endswith("C") else "EURO"


def plain_size(size: str) -> str:
    """Size without spaces and in capitals, for comparing [-].

    Args:
        size: size as printed [-].

    Source: none, plain text.
    """
    return "".join(size.split()).upper()
