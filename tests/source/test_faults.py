"""How faults are written."""

from __future__ import annotations

import os
from pathlib import Path

from cardgen.source.faults import Place, StopReadingError, covered, dotted, fault, shown
from tests.each import each


def test_paths_are_dotted_with_indices() -> None:
    assert dotted(("trailer", "axles", "gawr", 0)) == "trailer.axles.gawr[0]"
    assert dotted(("cases", 1, "tanks", "fresh")) == "cases[1].tanks.fresh"
    assert dotted(()) == ""


def test_line_form() -> None:
    made = fault("quantity-bare", Place("a.yaml", 3, 7), ("x", 0), "no unit", "write '5 lb'")
    assert str(made) == "a.yaml:3:7: x[0]: no unit; write '5 lb' [quantity-bare]"


def test_line_form_without_field_and_hint() -> None:
    assert str(fault("yaml-top", Place("a.yaml"), (), "empty", "")) == "a.yaml:1:1: empty [yaml-top]"


def test_a_path_is_covered_by_what_lies_above_it() -> None:
    assert covered(("a", 0, "b"), {"a[0]"})
    assert covered(("a",), {""})
    assert not covered(("a",), {"a[0]", "ab"})


def test_faults_of_a_whole_file_take_the_field_it_stands_for() -> None:
    stop = StopReadingError(fault("file-size", Place("a.yaml"), (), "large", ""))
    assert stop.under(("vehicle", "tires")).field == "vehicle.tires"


def test_words_of_the_file_stay_on_one_line_and_short() -> None:
    made = fault("x", Place("a.yaml"), (), "a\nb\tc" + "d" * 500, "e\r\nf")
    assert made.message.startswith("a b c")
    assert len(made.message) < 300
    assert made.hint == "e  f"


@each(
    ("raw", "name"),
    [
        (b"rigs/a.yaml", "rigs/a.yaml"),
        ("rigs/größe ע.yaml".encode(), "rigs/größe ע.yaml"),
        (b"a\xff.yaml", "a?.yaml"),
        (b"a\x1b[31m\n.yaml", "a?[31m?.yaml"),
        ("a\u202e.yaml".encode(), "a?.yaml"),
    ],
)
def test_file_names_are_written_so_that_any_terminal_takes_them(raw: bytes, name: str) -> None:
    assert shown(Path(os.fsdecode(raw))) == name
