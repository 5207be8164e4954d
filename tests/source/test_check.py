"""Plain data against a shape: every fault in words, and the rest still checked."""

from __future__ import annotations

import datetime as dt
import math
from pathlib import Path

import pytest

from cardgen.source.check import Checked, check
from cardgen.source.limits import Bounds
from cardgen.source.parts import load
from cardgen.source.tree import plain_tree
from cardgen.units.quantity import Quantity
from tests.each import each
from tests.source.memory import memory
from tests.source.shapes_for_tests import Cart, Wheel

HEAD = "name: Barrow\nkind: flat\n"


def checked(text: str, **parts: str) -> Checked[Cart]:
    found = load(Path("rig.yaml"), memory(rig=text, **parts), Bounds())
    assert found.top is not None
    return check(plain_tree(found.top), Cart, found.holes)


def only(text: str) -> tuple[str, int, int, str, str, str]:
    faults = checked(text).faults
    assert len(faults) == 1, faults
    fault = faults[0]
    return fault.code, fault.line, fault.col, fault.field, fault.message, fault.hint


def test_a_right_file_becomes_the_dataclass() -> None:
    found = checked(
        HEAD + "wheel: {load: 500 lb, side: left}\nboxes:\n  - {name: red, places: [1 m, 2 m]}\n"
        "tubs: {a: full, b: 5 L}\nspares: {one: {load: 1 kg}}\naxles: 2\npainted: true\n"
        "bought: 2026-02-28\ngain: 5.5\nnote: 2026\n"
    )
    assert (found.faults, found.holes) == ([], frozenset())
    cart = found.value
    assert cart is not None
    assert cart.wheel is not None
    assert cart.wheel.load == Quantity(cart.wheel.load.si, "mass", None, "500 lb", "wheel.load", "lb")
    assert cart.wheel.load.si == pytest.approx(226.796185)  # NIST SP 811: 1 lb = 0.45359237 kg
    assert [place.si for place in cart.boxes[0].places] == [1.0, 2.0]
    assert cart.boxes[0].places[1].path == "boxes[0].places[1]"
    assert cart.tubs["a"].si == 1.0
    assert cart.tubs["b"].si == pytest.approx(0.005)
    assert (cart.axles, cart.painted, cart.bought, cart.gain) == (2, True, dt.date(2026, 2, 28), 5.5)
    assert cart.note == "2026"


def test_unknown_key_names_the_nearest() -> None:
    code, line, col, path, message, hint = only(HEAD + "weel: {load: 5 kg}\n")
    assert (code, line, col, path) == ("key-unknown", 3, 1, "weel")
    assert "'weel'" in message
    assert hint == "did you mean 'wheel'?"


def test_unknown_key_names_the_group_it_belongs_to() -> None:
    assert only(HEAD + "load: 5 kg\n")[5] == "it belongs under 'wheel'"
    assert only(HEAD + "wheel: {load: 5 kg, bought: 2026-01-01}\n")[5] == "known here: side"


def test_unknown_key_lists_the_fields_that_are_free() -> None:
    hint = only(HEAD + "wheel: {load: 5 kg, qqq: 1}\n")[5]
    assert hint == "known here: side"


def test_missing_field_says_what_to_add() -> None:
    assert only("kind: flat\n") == (
        "key-missing",
        1,
        1,
        "name",
        "the field 'name' (name) is needed",
        "add 'name: Barrow'",
    )
    code, line, col, path, _, hint = only(HEAD + "wheel:\n  side: left\n")
    assert (code, line, col, path, hint) == ("key-missing", 3, 1, "wheel.load", "add 'load: 500 lb'")


def test_needed_field_that_is_unknown() -> None:
    code, line, _, path, message, _ = only("name: unknown\nkind: flat\n")
    assert (code, line, path) == ("key-missing", 1, "name")
    assert "cannot be unknown" in message


def test_word_not_in_list() -> None:
    assert only("name: x\nkind: flatt\n")[4:] == (
        "'flatt' is not one of the words for this field",
        "did you mean 'flat'?",
    )
    assert only("name: x\nkind: round\n")[5] == "known here: flat, high"


@each(
    ("line", "expected", "found"),
    [
        ("name: {a: 1}", "a text", "a group of fields"),
        ("name: [1]", "a text", "a list"),
        ("wheel: 5", "a group of fields", "'5'"),
        ("wheel: [5]", "a group of fields", "a list"),
        ("boxes: 5", "a list", "'5'"),
        ("boxes: {name: x}", "a list", "a group of fields"),
        ("tubs: 5", "a group of fields", "'5'"),
        ("axles: [1]", "a text", "a list"),
        ("painted: {a: 1}", "a text", "a group of fields"),
        ("note: [x]", "a text", "a list"),
        ("kind: [flat]", "a text", "a list"),
    ],
)
def test_wrong_kind_of_node(line: str, expected: str, found: str) -> None:
    key = line.split(":")[0]
    rest = "".join(part for part in HEAD.splitlines(keepends=True) if not part.startswith(f"{key}:"))
    code, _, _, path, message, hint = only(rest + line + "\n")
    assert (code, path) == ("node-kind", key)
    assert message == f"{expected} is expected here, not {found}"
    assert hint


@each(
    ("line", "code", "hint"),
    [
        ("wheel: {load: 500}", "quantity-bare", "500 lb"),
        ("wheel: {load: 5 kN}", "quantity-kind", "3,500 lb"),
        ("wheel: {load: 5 stone}", "quantity-unit", "3,500 lb"),
        ("axles: two", "count", "2"),
        ("axles: -1", "count", "2"),
        ("painted: blue", "flag", "true"),
        ("bought: 2026-02-30", "date", "2026-04-30"),
        ("gain: high", "number", "5.5"),
        ("tubs: {a: fullish}", "quantity-number", "12 %"),
    ],
)
def test_values_that_cannot_be_read(line: str, code: str, hint: str) -> None:
    found = only(HEAD + line + "\n")
    assert found[0] == code
    assert hint in found[5]


def test_all_faults_in_one_run_and_the_rest_survives() -> None:
    found = checked(
        "name: Barrow\nkind: flatt\nweel: 1\nwheel: {side: lft}\naxles: two\n"
        "boxes:\n  - {weight: 3}\n  - {name: red, weight: 2 kg, places: [1, 2 m]}\ntubs: {a: 3, b: half}\n"
    )
    assert sorted(fault.code for fault in found.faults) == [
        "count",
        *["key-missing"] * 2,
        "key-unknown",
        *["quantity-bare"] * 3,
        *["value-choice"] * 2,
    ]
    cart = found.value
    assert cart is not None
    assert (cart.name, cart.axles, len(cart.boxes)) == ("Barrow", 1, 2)
    assert cart.boxes[1].weight is not None
    assert cart.boxes[1].weight.si == 2.0
    assert [place.si for place in cart.boxes[1].places][1] == 2.0
    assert math.isnan(cart.boxes[1].places[0].si)
    assert math.isnan(cart.tubs["a"].si)
    assert {"kind", "wheel.load", "boxes[0].name", "boxes[1].places[0]", "tubs.a", "axles"} <= found.holes


@each("line", ["wheel:", "frame:", "boxes:", "tubs:", "bought: unknown", "note: ~"])
def test_unknown_where_it_is_an_answer(line: str) -> None:
    found = checked(f"{HEAD}{line}\n")
    assert found.faults == []
    assert found.value is not None


@each(
    ("line", "path"),
    [
        ("axles: unknown", "axles"),
        ("axles:", "axles"),
        ("painted: ~", "painted"),
        ("boxes: unknown", "boxes"),
        ("tubs: null", "tubs"),
        ("words: {a: }", "words.a"),
        ("boxes: [~, {name: x}]", "boxes[0]"),
        ("boxes: [{name: x, places: [unknown]}]", "boxes[0].places[0]"),
    ],
)
def test_unknown_where_it_would_be_a_guess(line: str, path: str) -> None:
    found = only(f"{HEAD}{line}\n")
    assert (found[0], found[3]) == ("value-unknown", path)
    assert found[5]


def test_unknown_fill_of_a_tub_is_left_out() -> None:
    found = checked(HEAD + "tubs: {a: unknown, b: full}\n")
    assert found.value is not None
    assert list(found.value.tubs) == ["b"]


def test_an_empty_group_of_a_map_needs_its_fields() -> None:
    assert only(HEAD + "spares: {one: }\n")[:4] == ("key-missing", 3, 10, "spares.one.load")


def test_what_already_has_a_fault_is_not_told_again() -> None:
    found = checked("name: yes\nkind: flat\nwheel: {part: none}\n")
    assert found.faults == []
    assert found.holes >= {"name", "wheel", "wheel.load"}


def test_faults_in_a_part_point_into_the_part() -> None:
    found = checked(HEAD + "wheel: {part: w}\n", w="side: left\nload: 5\n")
    assert [(f.file, f.line, f.field) for f in found.faults] == [("parts/w.yaml", 2, "wheel.load")]


def test_the_data_is_not_changed() -> None:
    loaded = load(Path("rig.yaml"), memory(rig=HEAD + "wheel: ~\nboxes: [~]\n"), Bounds())
    assert loaded.top is not None
    tree = plain_tree(loaded.top)
    check(tree, Cart)
    assert tree.data["boxes"] == [None]
    assert "wheel" in tree.data


def test_shape_of_a_part_alone() -> None:
    loaded = load(Path("rig.yaml"), memory(rig="load: 1 kg\n"), Bounds())
    assert loaded.top is not None
    assert check(plain_tree(loaded.top), Wheel).faults == []
