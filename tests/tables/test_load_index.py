"""Load index and speed symbol, row by row and against the typos of other lists."""

from __future__ import annotations

from itertools import pairwise

import pytest

from cardgen.present.proof import figures
from cardgen.tables.exact import POUND
from cardgen.tables.load_index import load_for_index, speed_for_symbol
from cardgen.tables.lookup import NotInTableError, OutOfTableError, read
from tests.each import each


def test_the_rows_that_were_read_are_all_on_the_page_of_proof() -> None:
    given = {
        one.cited.split(",")[0]: [row.given for row in one.rows] for one in figures() if one.unit != "mph"
    }
    assert given["UN Regulation 54"] == [str(index) for index in range(60, 131)]
    assert set(given["Speed symbols of UN Regulations 30 and 54 (secondary copy)"]) == set(
        read("load_index")["speed_symbol"]["km_h"]
    )


def test_strictly_increasing() -> None:
    # catches the printed slips 62 = 165 and 65 = 280
    loads = [load_for_index(i) for i in range(161)]
    assert all(a < b for a, b in pairwise(loads))
    assert load_for_index(62) == 265
    assert load_for_index(65) == 290


@each("index", range(161))
def test_geometric_series(index: int) -> None:
    # 45 * 10^(LI/80) kg stays within -0.5 and +1.8 percent of every value from 60 to 130,
    # which holds the rows from memory too, but for the coarser steps at 35 and 37 (1.84 and 1.98)
    error = 45 * 10 ** (index / 80) / load_for_index(index) - 1
    # (bounds as printed, hence half a digit wider)
    assert -0.0055 <= error <= (0.0185 if index >= 60 else 0.0205)


@each("index", [-1, 161, 279])
def test_outside_is_refused(index: int) -> None:
    with pytest.raises(OutOfTableError, match="0 to 160"):
        load_for_index(index)


# published sidewalls: index, printed lb; the index is a plausibility check of 3 percent only
@each(("index", "printed"), [(120, 3042), (116, 2778), (105, 2028), (108, 2183)])
def test_the_sidewall_is_not_the_index(index: int, printed: float) -> None:
    by_index = load_for_index(index) / POUND
    assert by_index != pytest.approx(printed, abs=0.5)
    assert by_index == pytest.approx(printed, rel=0.03)


def test_h_sits_between_u_and_v() -> None:
    assert speed_for_symbol("U") < speed_for_symbol("H") < speed_for_symbol("V")


def test_case_and_blanks_are_forgiven() -> None:
    assert speed_for_symbol(" l ") == speed_for_symbol("L")


@each("symbol", ["Z", "ZR", "z"])
def test_a_bare_z_is_refused(symbol: str) -> None:
    with pytest.raises(NotInTableError, match="over 240 km/h; read the letter"):
        speed_for_symbol(symbol)


@each("symbol", ["", "I", "O", "X", "A9", "A", "NN", "(Y)", "87"])
def test_unknown_symbols_are_refused(symbol: str) -> None:
    with pytest.raises(NotInTableError):
        speed_for_symbol(symbol)
