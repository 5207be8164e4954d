"""Fingerprints of values, facts of rigs, inputs by name."""

from __future__ import annotations

import datetime as dt
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.bundle.changes import facts, facts_changed
from cardgen.bundle.inputs import Bytes, MemoryFirst, fingerprint, nickname_in, nickname_line
from cardgen.model.read import read_rig
from tests.bundle.shed import Shed

DATA = Path(__file__).parents[1] / "data" / "rigs"

plain = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=8,
)


def ordered(value: object) -> str:
    """Text of a value in which only the order of keys is lost."""
    if isinstance(value, dict):
        return "{" + ",".join(f"{key!r}:{ordered(value[key])}" for key in sorted(value)) + "}"
    if isinstance(value, list):
        return "[" + ",".join(map(ordered, value)) + "]"
    return repr(value)


@given(plain, plain)
def test_equal_values_and_only_they_have_one_fingerprint(one: object, other: object) -> None:
    assert (fingerprint(one) == fingerprint(other)) == (ordered(one) == ordered(other))


def test_the_order_of_keys_does_not_matter_but_of_items_it_does() -> None:
    assert fingerprint({"a": 1, "b": 2}) == fingerprint({"b": 2, "a": 1})
    assert fingerprint([1, 2]) != fingerprint([2, 1])
    assert fingerprint({"a", "b", "c"}) == fingerprint({"c", "b", "a"})


@dataclass(frozen=True)
class One:
    """A record."""

    a: int
    day: dt.date = dt.date(2026, 11, 25)


@dataclass(frozen=True)
class Two:
    """Another record with the same fields."""

    a: int
    day: dt.date = dt.date(2026, 11, 25)


def test_records_count_with_their_names() -> None:
    assert fingerprint(One(1)) == fingerprint(One(1))
    assert len({fingerprint(one) for one in (One(1), One(2), Two(1))}) == 3


def test_what_has_no_stable_text_is_refused() -> None:
    for value in (object(), lambda: 1, One):
        with pytest.raises(TypeError):
            fingerprint(value)


def test_the_same_in_every_process() -> None:
    code = (
        "from cardgen.bundle.inputs import fingerprint as f; print(f([{'a', 'b'}, {'x': 1.5}, b'c', None]))"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={"PYTHONHASHSEED": seed},
            cwd=Path(__file__).parents[2],
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert said == {fingerprint([{"a", "b"}, {"x": 1.5}, b"c", None]) + "\n"}


def test_facts_of_a_whole_rig_name_everything_once() -> None:
    rig = read_rig(DATA / "full.yaml").rig
    assert rig is not None
    said = facts(rig)
    assert said["nickname"] == "Wee Bothy"
    trailer = said["trailer"]
    assert isinstance(trailer, dict)
    assert trailer["gvwr"] == "5500 lb"
    assert trailer["cargo"] == {
        "awning rail": {"weight": "35 lb", "x": "12 ft", "y": "3 ft", "z": "8 ft", "movable": "no"},
        "folding boat": {"weight": "80 lb", "x": "9 ft", "y": "0 in", "z": "3 ft", "set": "outbound"},
    }
    assert trailer["axles"]["gawr"] == "3000 lb, 3000 lb"
    assert list(facts_changed(said, said)) == []


def test_two_things_of_one_name_are_both_told() -> None:
    from cardgen.model.rig import Occupant

    @dataclass(frozen=True)
    class Crowd:
        people: tuple[Occupant, ...]

    said = facts(Crowd((Occupant(name="child"), Occupant(name="child", seat="rear"))))
    assert said == {"people": {"child": {}, "child (2)": {"seat": "rear"}}}


def test_parts_are_found_by_their_text(shed: Shed) -> None:
    path = shed.rig("wren")
    parts = shed.rigs / "parts"
    (parts / "vehicles" / "plain.yaml").write_text(
        "tires: {front: { 'part' : \"tires/a\"}, rear: {part: tires/b}}\n"
    )
    (parts / "tires").mkdir()
    (parts / "tires" / "a.yaml").write_text("# part: ../../secret, part: /etc/passwd\nsize: x\n")
    (parts / "tires" / "b.yaml").write_text("part: tires/b\n")
    found = Bytes().with_parts(path)
    assert sorted(Path(one).name for one in found) == ["a.yaml", "b.yaml", "plain.yaml", "wren.yaml"]


def test_parts_behind_links_that_lead_out_are_not_sent(shed: Shed, tmp_path: Path) -> None:
    secret = tmp_path / "secret.yaml"
    secret.write_text("wheelbase: 120 in\n")
    plain = shed.rigs / "parts" / "vehicles" / "plain.yaml"
    plain.unlink()
    plain.symlink_to(secret)
    path = shed.rig("wren")
    assert list(Bytes().with_parts(path)) == [str(path)]
    assert shed.one().faults[0].code == "part-outside"
    plain.unlink()
    plain.symlink_to(plain)
    assert list(Bytes().with_parts(path)) == [str(path)]
    assert shed.one().status == "failed"


def test_a_worker_reads_what_came_with_the_order(shed: Shed) -> None:
    path = shed.rig("wren")
    found = Bytes().with_parts(path)
    here = read_rig(path)
    (shed.rigs / "parts" / "vehicles" / "plain.yaml").unlink()
    path.unlink()
    there = read_rig(path, MemoryFirst(found))
    assert there.rig == here.rig
    assert here.rig is not None


def test_the_nickname_is_guessed_from_the_text() -> None:
    guesses = {
        "nickname: Wren": ("Wren", 1),
        "# x\nmarket: us\nnickname:   'Wee Wren'  # mine\n": ("Wee Wren", 3),
        'a: {nickname: no}\r\nnickname: "Wren"\r\n': ("Wren", 2),
        "market: us": ("", 1),
    }
    assert {text: (nickname_in(text.encode()), nickname_line(text.encode())) for text in guesses} == guesses


def test_a_wrong_guess_costs_a_second_order_and_nothing_else(shed: Shed) -> None:
    path = shed.rig("wren")
    path.write_text(path.read_text().replace("nickname: Wren", '"nickname": "W\\u0072en"'))
    assert shed.one().slug == "wren"
    assert shed.one().status == "unchanged"
    assert len(shed.ledger_files("wren")) == 1
