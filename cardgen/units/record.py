"""The dataclass flavour of every model class: frozen, slotted, keyword-only, no unknown keys."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True, kw_only_default=True, field_specifiers=(field,))
def record(cls: type[T]) -> type[T]:
    """Make a class a frozen, slotted, keyword-only dataclass that refuses unknown keys."""
    cls.__pydantic_config__ = {"extra": "forbid"}  # type: ignore[attr-defined]  # read by pydantic
    return dataclass(frozen=True, slots=True, kw_only=True)(cls)


__all__ = ["field", "record"]
