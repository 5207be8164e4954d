"""How pydantic is told to read a text by one of our own functions."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Literal

from cardgen.units.quantity import UnitError

if TYPE_CHECKING:
    from pydantic_core import CoreSchema


def read_by(read: Callable[[object], object], kind: Literal["quantity", "scalar"]) -> CoreSchema:
    """Return a schema that reads by a function and carries code, message and hint of its faults.

    Args:
        read: turns the file's text into the value; raises ``UnitError``.
        kind: type of the pydantic error [-].
    """
    from pydantic_core import PydanticCustomError, core_schema

    def check(value: object) -> object:
        try:
            return read(value)
        except UnitError as fault:
            told = {"code": fault.code, "message": fault.message, "hint": fault.hint}
            raise PydanticCustomError(kind, "{message}", told) from fault

    return core_schema.no_info_plain_validator_function(check)
