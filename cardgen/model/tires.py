"""Tires as their sidewalls and the maker's load table describe them."""

from __future__ import annotations

from typing import Annotated, Literal

from cardgen.units.field import Doc, Mass, Pressure, Speed
from cardgen.units.record import record
from cardgen.units.scalars import Count, Flag

TireType = Literal["ST", "P", "EURO", "LT", "C", "BIAS"]


@record
class TableRow:
    """One published row: the cold pressure and the load one tire carries at it."""

    pressure: Annotated[Pressure, Doc("cold pressure of the row", example="50 psi")]
    load: Annotated[Mass, Doc("load one tire carries in single fitment", example="1,760 lb")]
    load_dual: Annotated[Mass | None, Doc("load one tire carries in dual fitment")] = None


@record
class LoadTable:
    """The tire maker's load and inflation table for exactly this size and load range."""

    source: Annotated[str, Doc("title and edition of the maker's table")]
    rows: Annotated[tuple[TableRow, ...], Doc("published rows, lowest pressure first")]


@record
class Tire:
    """One kind of tire as fitted to an axle."""

    type: Annotated[
        TireType | None,
        Doc(
            "type of tire: ST special trailer, P passenger (US marking), EURO passenger (metric marking), "
            "LT light truck, C European light commercial, BIAS bias-ply",
            "first letters of the size on the sidewall",
        ),
    ] = None
    size: Annotated[
        str | None, Doc("size as marked", "tire sidewall", "[us ca: ST205/75R14][uk eu au nz: 185R14C]")
    ] = None
    load_range: Annotated[str | None, Doc("load range letter", "tire sidewall", "C")] = None
    load_index: Annotated[Count | None, Doc("load index, single fitment", "tire sidewall", "100")] = None
    extra_load: Annotated[Flag | None, Doc("marked XL, extra load or reinforced", "tire sidewall")] = None
    max_load: Annotated[
        Mass | None, Doc("maximum load of one tire, single fitment", "tire sidewall", "1,760 lb")
    ] = None
    max_load_dual: Annotated[
        Mass | None, Doc("maximum load of one tire in dual fitment", "tire sidewall")
    ] = None
    max_load_at: Annotated[
        Pressure | None,
        Doc("cold pressure for the maximum load", "tire sidewall, beside the maximum load"),
    ] = None
    max_pressure: Annotated[
        Pressure | None,
        Doc("highest permitted cold pressure", "tire sidewall, if it differs from the above"),
    ] = None
    speed_symbol: Annotated[str | None, Doc("speed symbol", "letter after the load index", "N")] = None
    speed_limit: Annotated[
        Speed | None, Doc("top speed the sidewall states in words, if it does", "tire sidewall", "65 mph")
    ] = None
    date_code: Annotated[
        str | None,
        Doc(
            "last four digits of the tire identification number, week and year",
            "tire sidewall, end of the DOT or E code",
            "'2323'",
        ),
    ] = None
    rim_max_pressure: Annotated[
        Pressure | None, Doc("pressure limit of the rim", "stamp on the rim or maker's data")
    ] = None
    valve_max_pressure: Annotated[
        Pressure | None, Doc("pressure limit of the valve", "valve maker's data")
    ] = None
    table: Annotated[LoadTable | None, Doc("maker's load and inflation table", "tire maker")] = None


@record
class Spare(Tire):
    """The spare wheel; what is left out is taken as unknown, not as equal to the others."""

    same: Annotated[Flag | None, Doc("true when the spare is the same tire as the others")] = None
    pressure: Annotated[
        Pressure | None, Doc("cold pressure to keep in the spare", "tire label or placard")
    ] = None
