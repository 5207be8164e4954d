"""The only importer of pint: conversion factors and dimension checks, made once per unit.

Pint's own load takes a third of a second. What it gives for every unit that may be written or printed is kept in
``factors.py``, which a test holds against pint and ``pytest --update-golden tests/units`` renews.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from cardgen.units.factors import FACTORS
from cardgen.units.kinds import SI_UNIT

if TYPE_CHECKING:
    import pint


@cache
def _registry() -> pint.UnitRegistry[Any]:
    """Make the registry on first use."""
    import pint

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(autoconvert_offset_to_baseunit=False)
    return registry


@cache
def to_si(unit: str, kind: str) -> tuple[float, float]:
    """Return (factor, offset) with ``si = value * factor + offset``.

    Args:
        unit: pint unit expression [-].
        kind: name of the kind, which fixes the SI unit [-].

    Returns:
        factor [SI unit per unit] and offset [SI unit]; the offset is zero but for temperatures.
    """
    return FACTORS.get((unit, kind)) or from_pint(unit, kind)


def from_pint(unit: str, kind: str) -> tuple[float, float]:
    """Ask pint for what ``to_si`` gives.

    Args:
        unit: pint unit expression [-].
        kind: name of the kind, which fixes the SI unit [-].
    """
    registry = _registry()
    target = registry.parse_units(SI_UNIT[kind])
    source = registry.parse_units(unit)
    zero = float(registry.Quantity(0.0, source).to(target).magnitude)
    one = float(registry.Quantity(1.0, source).to(target).magnitude)
    return one - zero, zero
