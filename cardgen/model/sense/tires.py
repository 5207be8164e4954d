"""Date codes, load tables and dual ratings of tires."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from cardgen.model.sense.context import Look, si
from cardgen.model.tires import Tire
from cardgen.source.faults import Path
from cardgen.units.quantity import Quantity

_SPEED = re.compile(r"A[1-8]|[B-HJ-NP-U]|[VWY]|\([WY]\)|ZR")
"""Speed symbols in use: A1 to A8, B to Y without I, O and X (UN Regulation 54 and 30)."""


def _all(look: Look) -> Iterator[tuple[Path, Tire]]:
    vehicle, trailer = look.rig.vehicle, look.rig.trailer
    for path, tire in (
        (("vehicle", "tires", "front"), vehicle.tires.front),
        (("vehicle", "tires", "rear"), vehicle.tires.rear),
        (("trailer", "tires"), trailer.tires),
        (("trailer", "spare"), trailer.spare),
    ):
        if tire is not None:
            yield path, tire


def date_codes(look: Look) -> None:
    """Date codes that are not week and year."""
    for path, tire in _all(look):
        code = tire.date_code
        if code is None:
            continue
        hint = "write the last four digits in quotes, week then year, like '2323'"
        if re.fullmatch(r"\d{3}", code, re.ASCII):
            words = f"'{code}' has three digits: a tire made before the year 2000"
            look.say("date-code", (*path, "date_code"), words, "do not tow on it; " + hint)
        elif not re.fullmatch(r"\d{4}", code, re.ASCII):
            look.say("date-code", (*path, "date_code"), f"'{code[:80]}' is no date code", hint)
        elif not 1 <= int(code[:2]) <= 53:
            words = f"week {code[:2]} does not exist"
            look.say("date-code", (*path, "date_code"), words, hint)


def speed_symbols(look: Look) -> None:
    """Speed symbols that no tire carries."""
    for path, tire in _all(look):
        symbol = tire.speed_symbol
        if symbol is not None and not _SPEED.fullmatch(symbol):
            words = f"'{symbol[:80]}' is no speed symbol"
            hint = "write the letter after the load index, like 'N'"
            look.say("speed-symbol", (*path, "speed_symbol"), words, hint)


def tables(look: Look) -> None:
    """Load tables that are empty or whose rows do not rise."""
    for path, tire in _all(look):
        if tire.table is None:
            continue
        rows, where = tire.table.rows, (*path, "table", "rows")
        if not rows and look.sure(*where):
            look.say("table-rows", where, "the table has no rows", "copy at least one row", key=True)
        for index, (low, high) in enumerate(pairwise(rows), start=1):
            for name, a, b in (
                ("pressure", low.pressure, high.pressure),
                ("load", low.load, high.load),
            ):
                if b.si <= a.si:
                    words = f"'{b.text}' is not above '{a.text}' of the row before"
                    hint = "list the rows from the lowest pressure up"
                    look.say("table-rows", (*where, index, name), words, hint)


def duals(look: Look) -> None:
    """Dual ratings above the single rating."""
    for path, tire in _all(look):
        rows = tire.table.rows if tire.table else ()
        pairs = [((*path, "max_load_dual"), tire.max_load_dual, tire.max_load)]
        pairs += [
            ((*path, "table", "rows", i, "load_dual"), row.load_dual, row.load) for i, row in enumerate(rows)
        ]
        for where, dual, single in pairs:
            if si(dual) > si(single) and dual and single:
                words = f"'{dual.text}' in dual fitment is more than '{single.text}' in single"
                look.say("dual-load", where, words, "the dual rating is the smaller one")


def nothing(look: Look) -> None:
    """Pressures of zero: no tire is marked so, and no label asks for it."""
    rig = look.rig
    given: list[tuple[Path, Quantity | None]] = [(("trailer", "tire_pressure"), rig.trailer.tire_pressure)]
    for name in ("placard", "placard_towing"):
        placard = getattr(rig.vehicle, name)
        given += [(("vehicle", name, axle), getattr(placard, axle)) for axle in ("front", "rear")]
    for path, tire in _all(look):
        given.append(((*path, "max_pressure"), tire.max_pressure))
    for where, quantity in given:
        if quantity is not None and quantity.si <= 0:
            hint = "write what is marked, or leave the line out"
            look.say("quantity-range", where, f"'{quantity.text}' is nothing", hint)


CHECKS = (date_codes, speed_symbols, tables, duals, nothing)
