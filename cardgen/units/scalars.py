"""Flags, counts, dates and plain texts as rig files write them."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Annotated, Any

if TYPE_CHECKING:
    from pydantic import GetJsonSchemaHandler
    from pydantic_core import CoreSchema

from cardgen.units.hook import read_by
from cardgen.units.quantity import UnitError


class Scalar:
    """Marks a field that is read by one plain function from the file's text."""

    def __init__(self, read: Callable[[object], object], schema: dict[str, Any]) -> None:
        self.read = read
        self.schema = schema

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> CoreSchema:
        return read_by(self.read, "scalar")

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return dict(self.schema)


def read_flag(value: object) -> bool:
    """Read ``true`` or ``false`` and nothing else."""
    if isinstance(value, bool):
        return value
    if isinstance(value, str) and value in ("true", "false"):
        return value == "true"
    raise UnitError("flag", f"'{value}' is neither true nor false", "write true or false")


def read_count(value: object) -> int:
    """Read a whole number from 0 to 9999."""
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    if isinstance(value, str) and re.fullmatch(r"\d{1,4}", value.strip(), re.ASCII):
        return int(value)
    raise UnitError("count", f"'{value}' is not a whole number", "write a whole number such as 2")


def read_date(value: object) -> dt.date:
    """Read a calendar day written ``YYYY-MM-DD``."""
    if isinstance(value, dt.date):
        return value
    if isinstance(value, str) and re.fullmatch(r"\d{4}-\d{2}-\d{2}", value.strip(), re.ASCII):
        try:
            return dt.date.fromisoformat(value.strip())
        except ValueError:
            pass
    raise UnitError("date", f"'{value}' is not a day of the calendar", "write it as 2026-04-30")


def read_number(value: object) -> float:
    """Read a plain number without a unit, for settings that have none."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(value)
    if isinstance(value, str) and re.fullmatch(r"\d{1,6}(\.\d{1,6})?", value.strip(), re.ASCII):
        return float(value)
    raise UnitError("number", f"'{value}' is not a plain number", "write a number such as 5.5")


Flag = Annotated[bool, Scalar(read_flag, {"type": "boolean"})]
Count = Annotated[int, Scalar(read_count, {"type": "integer", "minimum": 0})]
Day = Annotated[dt.date, Scalar(read_date, {"type": "string", "format": "date"})]
Number = Annotated[float, Scalar(read_number, {"type": "number"})]
