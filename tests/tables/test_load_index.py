"""Load index and speed symbol, row by row and against the typos of other lists."""

from __future__ import annotations

from itertools import pairwise

import pytest

from cardgen.tables.exact import POUND, si
from cardgen.tables.load_index import load_for_index, speed_for_symbol
from cardgen.tables.lookup import NotInTableError, OutOfTableError
from tests.each import each

# UN R54 Annex IV as eight public copies give it, 60 to 130
ROWS = """60 250 | 61 257 | 62 265 | 63 272 | 64 280 | 65 290 | 66 300 | 67 307 | 68 315 | 69 325
70 335 | 71 345 | 72 355 | 73 365 | 74 375 | 75 387 | 76 400 | 77 412 | 78 425 | 79 437
80 450 | 81 462 | 82 475 | 83 487 | 84 500 | 85 515 | 86 530 | 87 545 | 88 560 | 89 580
90 600 | 91 615 | 92 630 | 93 650 | 94 670 | 95 690 | 96 710 | 97 730 | 98 750 | 99 775
100 800 | 101 825 | 102 850 | 103 875 | 104 900 | 105 925 | 106 950 | 107 975 | 108 1000 | 109 1030
110 1060 | 111 1090 | 112 1120 | 113 1150 | 114 1180 | 115 1215 | 116 1250 | 117 1285 | 118 1320
119 1360 | 120 1400 | 121 1450 | 122 1500 | 123 1550 | 124 1600 | 125 1650 | 126 1700 | 127 1750
128 1800 | 129 1850 | 130 1900"""
PAIRS = [(int(i), float(kg)) for i, kg in (p.split() for p in ROWS.replace("\n", " | ").split(" | "))]


def test_the_list_above_is_whole() -> None:
    assert [i for i, _ in PAIRS] == list(range(60, 131))


@each(("index", "kg"), PAIRS)
def test_rows(index: int, kg: float) -> None:
    assert load_for_index(index) == kg


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


# km/h
SPEEDS = """A1 5 A2 10 A3 15 A4 20 A5 25 A6 30 A7 35 A8 40 B 50 C 60 D 65 E 70 F 80 G 90 J 100
K 110 L 120 M 130 N 140 P 150 Q 160 R 170 S 180 T 190 U 200 H 210 V 240 W 270 Y 300"""
SPEED_PAIRS = [(a, float(b)) for a, b in zip(SPEEDS.split()[::2], SPEEDS.split()[1::2], strict=True)]


@each(("symbol", "kmh"), SPEED_PAIRS)
def test_speed_rows(symbol: str, kmh: float) -> None:
    assert speed_for_symbol(symbol) == pytest.approx(kmh / 3.6, rel=1e-12)


# km/h / 1.609 as printed beside the symbols
@each(
    ("symbol", "mph"),
    [("J", 62), ("K", 68), ("L", 75), ("M", 81), ("N", 87), ("P", 93), ("Q", 99)],
)
def test_speeds_in_mph(symbol: str, mph: float) -> None:
    assert speed_for_symbol(symbol) / si("1 mph") == pytest.approx(mph, abs=0.5)


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
