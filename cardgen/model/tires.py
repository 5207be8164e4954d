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
            "type of tire: [us ca: ST special trailer, P passenger (US marking), EURO passenger (metric marking), "
            "LT light truck, C European light commercial, BIAS bias-ply][uk eu au nz: EURO passenger, C light "
            "commercial, LT light truck, BIAS cross-ply; of American marking P passenger, ST special trailer]",
            "[us ca: first ]letters of the size on the sidewall[uk eu au nz: : none, C behind it, or others before it]",
            ask="Of which type is the tire?",
        ),
    ] = None
    size: Annotated[
        str | None,
        Doc("size as marked", "tire sidewall", "ST205/75R14", "195/70R14C", ask="Which size is marked?"),
    ] = None
    load_range: Annotated[
        str | None, Doc("load range letter", "tire sidewall", "C", ask="Which load range letter is marked?")
    ] = None
    load_index: Annotated[
        Count | None,
        Doc(
            "load index, single fitment",
            "tire sidewall",
            "100",
            ask="Which load index stands after the size?",
        ),
    ] = None
    extra_load: Annotated[
        Flag | None,
        Doc(
            "marked XL, extra load or reinforced",
            "tire sidewall",
            markets=("uk", "eu", "au", "nz"),
            ask="Is it marked XL, extra load or reinforced?",
        ),
    ] = None
    max_load: Annotated[
        Mass | None,
        Doc(
            "maximum load of one tire, single fitment",
            "tire sidewall",
            "1,760 lb",
            "900 kg",
            ask="What is the largest load of one tire, single?",
            usual=("500 lb", "7,000 lb"),
        ),
    ] = None
    max_load_dual: Annotated[
        Mass | None,
        Doc(
            "maximum load of one tire in dual fitment",
            "tire sidewall",
            ask="What is the largest load of one tire, dual?",
            usual=("500 lb", "7,000 lb"),
        ),
    ] = None
    max_load_at: Annotated[
        Pressure | None,
        Doc(
            "cold pressure for the maximum load",
            "tire sidewall, beside the maximum load",
            ask="At which cold pressure does it carry that load?",
            usual=("25 psi", "130 psi"),
        ),
    ] = None
    max_pressure: Annotated[
        Pressure | None,
        Doc(
            "highest permitted cold pressure",
            "tire sidewall, if it differs from the above",
            ask="What is the highest cold pressure, if it is another?",
            usual=("25 psi", "130 psi"),
        ),
    ] = None
    speed_symbol: Annotated[
        str | None,
        Doc(
            "speed symbol",
            "letter after the load index",
            "N",
            ask="Which letter stands after the load index?",
        ),
    ] = None
    speed_limit: Annotated[
        Speed | None, Doc("top speed the sidewall states in words, if it does", "tire sidewall", "65 mph")
    ] = None
    date_code: Annotated[
        str | None,
        Doc(
            "last four digits of the tire identification number, week and year",
            "tire sidewall, end of the DOT or E code",
            "'2323'",
            ask="Which four digits end the code that begins with DOT or E?",
        ),
    ] = None
    rim_max_pressure: Annotated[
        Pressure | None,
        Doc(
            "pressure limit of the rim",
            "stamp on the rim or maker's data",
            ask="Which pressure may the rim have?",
        ),
    ] = None
    valve_max_pressure: Annotated[
        Pressure | None,
        Doc("pressure limit of the valve", "valve maker's data", ask="Which pressure may the valve have?"),
    ] = None
    table: Annotated[LoadTable | None, Doc("maker's load and inflation table", "tire maker")] = None


@record
class Spare(Tire):
    """The spare wheel; what is left out is taken as unknown, not as equal to the others."""

    same: Annotated[
        Flag | None,
        Doc(
            "true when the spare is the same tire as the others",
            ask="Is the spare the same tire as the others?",
        ),
    ] = None
    pressure: Annotated[
        Pressure | None,
        Doc(
            "cold pressure to keep in the spare",
            "tire label or placard",
            ask="Which cold pressure belongs in the spare?",
            usual=("25 psi", "130 psi"),
        ),
    ] = None
