"""How faults are written."""

from __future__ import annotations

from cardgen.source.faults import Place, StopReadingError, covered, dotted, fault


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
