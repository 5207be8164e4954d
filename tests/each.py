"""One test over many rows: every row is tried, and one failure names all rows that failed.

A row costs a call instead of a whole case of the runner (its report, its set-up, its line), and whoever
reads the failure sees at once whether one row is wrong or all are.
"""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import pytest

Test = Callable[..., None]
SHOWN = 300
"""Letters of one row and of one message in the list; the first failure is shown whole below it."""


def each(
    names: str | Sequence[str], rows: Iterable[Any], ids: Callable[[Any], object] | None = None
) -> Callable[[Test], Test]:
    """Run the test below for every row: ``@each(("a", "b"), [(1, 2), (3, 4)])``.

    Arguments that are not in ``names`` are fixtures, made once for all rows. Several may stand above one
    another; then every row is tried with every other. ``ids`` gives a value's name in the list of failures.

    Raises:
        ValueError: no row, so that the test could not fail; or a row of the wrong length.
    """
    wanted = [name.strip() for name in names.split(",")] if isinstance(names, str) else list(names)
    lines = [tuple(row) if len(wanted) > 1 else (row,) for row in rows]
    if not lines or any(len(line) != len(wanted) for line in lines):
        raise ValueError(f"no rows, or a row that is not {wanted}")

    def around(test: Test) -> Test:
        own: list[dict[str, Any]] = [dict(zip(wanted, line, strict=True)) for line in lines]
        inner: Test = getattr(test, "each_inner", test)
        below: list[dict[str, Any]] = getattr(test, "each_rows", [{}])
        table = [{**row, **more} for row in own for more in below]

        @functools.wraps(inner)
        def all_rows(**fixtures: Any) -> None:
            failed: list[tuple[str, BaseException]] = []
            for row in table:
                try:
                    inner(**row, **fixtures)
                except (Exception, pytest.fail.Exception) as fault:
                    failed.append((", ".join(f"{k}={_name(v, ids)}" for k, v in row.items()), fault))
            if failed:
                told = "\n".join(f"  {name}: {_brief(fault)}" for name, fault in failed)
                raise AssertionError(f"{len(failed)} of {len(table)} rows fail:\n{told}") from failed[0][1]

        shape = inspect.signature(inner)
        kept = [part for name, part in shape.parameters.items() if name not in table[0]]
        if len(kept) + len(table[0]) != len(shape.parameters):
            raise ValueError(f"{inner.__name__} does not take {sorted(table[0])}")
        all_rows.__signature__ = shape.replace(parameters=kept)  # type: ignore[attr-defined]  # read by pytest
        all_rows.each_inner, all_rows.each_rows = inner, table  # type: ignore[attr-defined]  # for the next above
        return all_rows

    return around


def _name(value: object, ids: Callable[[Any], object] | None) -> str:
    text = str((ids and ids(value)) or repr(value))
    return text if len(text) <= SHOWN else text[:SHOWN] + "…"


def _brief(fault: BaseException) -> str:
    lines = f"{type(fault).__name__}: {fault}".split("\n")
    text = " / ".join(lines[:3])
    return text if len(text) <= SHOWN else text[:SHOWN] + "…"
