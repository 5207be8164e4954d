"""What a tire's markings and its maker's table say: load, pressure, limits, speed.

Published rows only: a row is the least cold pressure for its load; step up to the
next row, never extrapolate; the sidewall's maximum load is a table of one row.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from cardgen.model.tires import Tire
from cardgen.tables.load_index import load_for_index, speed_for_symbol
from cardgen.tables.lookup import TableError, holds
from cardgen.tables.tire_rules import default_speed, stated_pressure

PRESSURE_SLACK = 7000.0
"""Slack between printed pressures [Pa], one psi: sidewalls and tables round to the
nearest psi, and the nominal pairs (65 psi = 450 kPa) differ by up to 2 kPa."""
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
    """A pressure limit [Pa gauge] and the part that sets it: tire, rim or valve."""

    pressure: float
    part: str
    path: str


def rated_load(tire: Tire, dual: bool) -> float | None:
    """Maximum load of one tire as marked [kg]; None when unknown.

    A European tire (UN R30, R54) is rated by its load index; elsewhere the sidewall's
    own figure counts and the index is no substitute. A European tire that also prints
    a maximum load keeps the printed figure.

    Args:
        tire: the tire.
        dual: whether it runs in dual fitment; only a printed dual rating counts then [-].

    Source: sidewall; ``cardgen.tables.load_index``.
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
        known.append(Limit(own.si, "tire", f"{path}.{field}"))
    if tire.rim_max_pressure is not None:
        known.append(Limit(tire.rim_max_pressure.si, "rim", f"{path}.rim_max_pressure"))
    if tire.valve_max_pressure is not None:
        known.append(Limit(tire.valve_max_pressure.si, "valve", f"{path}.valve_max_pressure"))
    return tuple(sorted(known, key=lambda one: one.pressure))


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
    top row is the sidewall's maximum load (within 1 %) at its pressure (within 1 psi),
    none above the pressure limit. Rows above the sidewall's pressure belong to a higher
    load range of the same size and are cut off first.

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
    load, top, limit = rated_load(tire, dual), rated_pressure(tire), ceiling(tire)
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
    if limit is not None and rows[-1].pressure > limit + PRESSURE_SLACK:
        return (), "the table is not used: a row lies above the limit of tire, rim or valve"
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

    Source: the trade's prefixes: P, LT, ST; none for metric passenger tires, C behind
        the rim diameter for light commercial ones.
    """
    plain = plain_size(size)
    for prefix in ("LT", "ST", "P"):
        if plain.startswith(prefix):
            return prefix
    if "/" not in plain or not plain[0].isdigit():
        return None
    return "C" if plain.endswith("C") else "EURO"


def plain_size(size: str) -> str:
    """Size without spaces and in capitals, for comparing [-].

    Args:
        size: size as printed [-].

    Source: none, plain text.
    """
    return "".join(size.split()).upper()
