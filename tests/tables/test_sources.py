"""Source records: complete, readable, and used by every data file."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import Any

import pytest

from cardgen.tables.exact import IMPERIAL_GALLON, POUND, PSI, US_GALLON, si
from cardgen.tables.lookup import (
    NotInTableError,
    OutOfTableError,
    between,
    check_range,
    holds,
    read,
    same,
)
from cardgen.tables.sources import Source, Standing, all_sources, source
from tests.each import each

DATA = sorted(
    f.name.removesuffix(".yaml")
    for f in files("cardgen.tables").joinpath("data").iterdir()
    if f.name.endswith(".yaml")
)


def keys_in(node: Any) -> list[str]:
    """Every value of a field named source or ending in _source, at any depth."""
    if isinstance(node, dict):
        found = [
            str(v)
            for k, v in node.items()
            if (k == "source" or str(k).endswith("_source")) and isinstance(v, str)
        ]
        return found + [key for v in node.values() for key in keys_in(v)]
    if isinstance(node, list):
        return [key for v in node for key in keys_in(v)]
    return []


def test_no_key_stands_in_both_files() -> None:
    assert not read("sources").keys() & read("law_sources").keys()


def test_every_record_has_a_title_and_a_standing() -> None:
    for record in all_sources().values():
        assert record.title.strip()
        assert record.standing in Standing
        assert re.fullmatch(r"[a-z0-9][a-z0-9-]*", record.key)


def test_no_record_carries_an_address() -> None:
    for record in all_sources().values():
        text = record.words() + record.note
        assert not re.search(r"https?:|www\.|\.com|\.org/", text), text


def test_words_end_in_the_standing() -> None:
    assert source("placard-150").words() == (
        "[us: 49 CFR 571.110, NHTSA letter 10673, S3 and S4.3, 150 lb (68 kg) per seat (official text)]"
    )
    assert source("cdl-group-a").words().endswith("(from memory)")
    assert source("waste-assumed").words().endswith("(common practice, no source)")


def test_only_official_text_is_law() -> None:
    assert source("placard-150").is_law_text
    assert not source("cdl-group-a").is_law_text
    assert not Source("x", "t", "", "", Standing.SECONDARY, "").is_law_text


def test_unknown_source_is_refused() -> None:
    with pytest.raises(NotInTableError, match="no source record 'nowhere'"):
        source("nowhere")


@each("name", [n for n in DATA if not n.endswith("sources")])
def test_every_data_row_names_a_source_that_exists(name: str) -> None:
    keys = keys_in(read(name))
    assert keys, f"{name}.yaml names no source"
    for key in keys:
        source(key)


def test_data_files_are_read_once() -> None:
    assert read("sources") is read("sources")


def test_exact_units() -> None:
    # NIST SP 811 (2008) App. B; NIST HB 44 App. C; UK Weights and Measures Act 1985
    assert POUND == 0.45359237
    assert pytest.approx(3.785411784e-3, rel=1e-15) == US_GALLON
    assert IMPERIAL_GALLON == 4.54609e-3
    # kg/L to lb/US gal, 8.345404452019, and kg/L to lb/imp gal, 10.022412854960
    assert pytest.approx(8.345404452019, abs=1e-12) == 1e3 * US_GALLON / POUND
    assert pytest.approx(10.022412854960, abs=1e-12) == 1e3 * IMPERIAL_GALLON / POUND
    assert pytest.approx(6894.757293168, abs=1e-9) == PSI


def test_si_reads_printed_figures() -> None:
    assert si("3,000 lb") == pytest.approx(1360.77711, abs=1e-9)
    assert si("40 %") == pytest.approx(0.40)
    assert si("1.75") == 1.75
    with pytest.raises(KeyError):
        si("3 stone")


def test_comparisons_survive_unit_conversion() -> None:
    limit = si("3,000 lb")
    noisy = limit * (1 + 1e-12)
    assert same(limit, noisy)
    assert holds(noisy, "<=", limit)
    assert holds(noisy, ">=", limit)
    assert not holds(noisy, ">", limit)
    assert not holds(noisy, "<", limit)
    assert holds(limit + 0.001, ">", limit)
    assert not holds(limit + 0.001, "<=", limit)
    assert holds(limit - 0.001, "<", limit)
    assert not holds(limit - 0.001, ">=", limit)
    with pytest.raises(NotInTableError):
        holds(1.0, "==", 1.0)


def test_interpolation_refuses_to_leave_the_table() -> None:
    xs, ys = (0.0, 10.0, 20.0), (1.0, 3.0, 4.0)
    assert between(5.0, xs, ys, "x") == 2.0
    assert between(20.0, xs, ys, "x") == 4.0
    assert between(0.0, xs, ys, "x") == 1.0
    for outside in (-0.1, 20.1, float("nan")):
        with pytest.raises(OutOfTableError, match="outside the table"):
            between(outside, xs, ys, "x")
    with pytest.raises(OutOfTableError):
        check_range(float("inf"), 0.0, 1.0, "x")


def keys_of(node: Any) -> list[object]:
    """Every mapping key at any depth."""
    if isinstance(node, dict):
        return [*node, *(k for v in node.values() for k in keys_of(v))]
    if isinstance(node, list):
        return [k for v in node for k in keys_of(v)]
    return []


@each("name", DATA)
def test_no_key_was_misread_by_yaml(name: str) -> None:
    # YAML 1.1 reads on, no, y and n as true or false
    assert {type(k) for k in keys_of(read(name))} <= {str, int}
    assert not [k for k in keys_of(read(name)) if isinstance(k, bool)]
