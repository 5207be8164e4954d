"""Reading of the data files, and look-ups that refuse to guess."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class TableError(ValueError):
    """A table cannot answer; the message says why and what to read instead."""


class OutOfTableError(TableError):
    """The asked value lies outside the published range."""


class NotInTableError(TableError):
    """The asked entry was not published, or was not read."""


@cache
def read(name: str) -> Any:
    """Read one YAML data file of this package; later calls reuse it.

    Args:
        name: file name without folder and ending [-].

    Returns:
        The file's content, plain lists and dicts [-], to be treated as read-only.

    Source: the file's own source keys.
    """
    text = files(__package__).joinpath("data", f"{name}.yaml").read_text(encoding="utf-8")
    # the loader is the safe one; only its C version is preferred for speed
    return yaml.load(text, Loader=_LOADER)


def check_range(value: float, low: float, high: float, what: str) -> None:
    """Refuse a value outside a published range.

    Args:
        value: asked value [any unit].
        low: lowest published value [same unit].
        high: highest published value [same unit].
        what: name and unit for the message [-].

    Raises:
        OutOfTableError: value is outside, or not a number.

    Source: none, plain comparison; the caller names the table's source.
    """
    slack = 1e-9 * max(abs(low), abs(high))
    if not (low - slack <= value <= high + slack):
        raise OutOfTableError(f"{what} {value:.6g} is outside the table, {low:.6g} to {high:.6g}")


def between(x: float, xs: Sequence[float], ys: Sequence[float], what: str) -> float:
    """Interpolate on the straight line between two neighbouring published points.

    Args:
        x: asked place [unit of ``xs``].
        xs: published places, strictly increasing [any unit].
        ys: published values [any unit].
        what: name and unit of ``x`` for the message [-].

    Returns:
        The value at ``x`` [unit of ``ys``].

    Raises:
        OutOfTableError: ``x`` lies before the first or after the last place.

    Source: none, straight line; the caller names the table's source and the error.
    """
    check_range(x, xs[0], xs[-1], what)
    i = min(max(bisect_right(xs, x) - 1, 0), len(xs) - 2)
    share = (x - xs[i]) / (xs[i + 1] - xs[i])
    return ys[i] + share * (ys[i + 1] - ys[i])


def same(a: float, b: float) -> bool:
    """Say whether two figures are equal but for rounding of unit conversions.

    Args:
        a: one value [any unit].
        b: the other [same unit].

    Returns:
        True within one part in 1e9 [-].

    Source: none, plain comparison.
    """
    return math.isclose(a, b, rel_tol=1e-9, abs_tol=1e-12)


def holds(a: float, operator: str, b: float) -> bool:
    """Compare two figures so that a boundary such as 3,000 lb survives unit conversion.

    Args:
        a: left side [any unit].
        operator: ``<``, ``<=``, ``>`` or ``>=`` [-].
        b: right side [same unit].

    Returns:
        Whether the comparison holds [-]; values equal within 1e-9 count as equal.

    Raises:
        NotInTableError: unknown operator.

    Source: none, plain comparison.
    """
    equal = same(a, b)
    if operator in (">=", "<="):
        return equal or (a > b) == (operator == ">=")
    if operator in (">", "<"):
        return not equal and (a > b) == (operator == ">")
    raise NotInTableError(f"unknown operator '{operator}'")
