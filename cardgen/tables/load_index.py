"""Load index and speed symbol of a tire's service description."""

from __future__ import annotations

from cardgen.tables.exact import KILOMETRE_PER_HOUR
from cardgen.tables.lookup import NotInTableError, OutOfTableError, read


def load_for_index(index: int) -> float:
    """Load of one tire for a load index.

    The load printed on the sidewall can be lower and then counts; the index
    serves as a check of plausibility (LT tire of index 120: 1400 kg, sidewall 1380 kg).

    Args:
        index: load index of single fitment [-], 0 to 160.

    Returns:
        Load [kg].

    Raises:
        OutOfTableError: the index is outside the table.

    Source: ``load-index``, below 60 and above 130 ``load-index-memory``.
    """
    table = read("load_index")["load_index"]
    place = index - table["first"]
    if not 0 <= place < len(table["kg"]):
        last = table["first"] + len(table["kg"]) - 1
        raise OutOfTableError(f"load index {index} is outside the table, {table['first']} to {last}")
    return float(table["kg"][place])


def speed_for_symbol(symbol: str) -> float:
    """Highest speed of a tire by its speed symbol.

    Args:
        symbol: letter after the load index, for example ``N`` or ``A8`` [-].

    Returns:
        Speed [m/s].

    Raises:
        NotInTableError: unknown symbol, and ``Z``, ``ZR`` or ``(Y)``, which give no one speed.

    Source: ``speed-symbol``.
    """
    key = symbol.strip().upper()
    if key in ("Z", "ZR"):
        raise NotInTableError(
            f"'{key}' only says over 240 km/h; read the letter after the load index instead"
        )
    if key == "(Y)":
        raise NotInTableError("'(Y)' only says over 300 km/h; ask the tire maker for the limit")
    table = read("load_index")["speed_symbol"]["km_h"]
    if key not in table:
        raise NotInTableError(
            f"no speed symbol '{symbol}'; it is one letter after the load index, for example N"
        )
    return float(table[key]) * KILOMETRE_PER_HOUR
