"""Hostile files are refused early: the work is bounded, whatever the size of the attack.

The bounds are on memory and on counted work, not on the clock.
"""

from __future__ import annotations

import tracemalloc
from pathlib import Path

from cardgen.model.read import read_rig
from cardgen.source.limits import Bounds
from cardgen.source.nodes import read_nodes
from tests.each import each
from tests.source.memory import Memory

RIG = Path("r.yaml")
BOMB = "a: &a [x,x,x,x,x,x,x,x,x]\n" + "".join(
    f"{chr(98 + i)}: &{chr(98 + i)} [{','.join([f'*{chr(97 + i)}'] * 9)}]\n" for i in range(20)
)


def peak(text: bytes | str, **parts: str) -> tuple[set[str], int]:
    """Codes, and the most memory that reading took [bytes], the text itself left out."""
    store = Memory({"r.yaml": text, **{f"parts/{k}.yaml": v for k, v in parts.items()}})
    read_rig(RIG, Memory({"r.yaml": "a: 1\n"}))  # warm: modules and the adapter
    tracemalloc.start()
    try:
        found = read_rig(RIG, store)
        return {fault.code for fault in found.faults}, tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()


@each(
    ("text", "code"),
    [
        (BOMB, "yaml-alias"),
        ("a: " + "[" * 75_000, "yaml-depth"),
        ("a: " + "{a: " * 40_000, "yaml-depth"),
        ("- " * 80_000, "yaml-depth"),
        ("a:\n" + "".join(" " * i + "a:\n" for i in range(1, 1_200)), "yaml-depth"),
        ("a: [" + "1," * 60_000 + "]", "yaml-nodes"),
        ("".join(f"k{i}: 1\n" for i in range(22_000)), "yaml-nodes"),
        ("a: '" + "x" * 75_000 + "'\n", "text-long"),
        ("a: " + "x " * 70_000 + "\n", "text-long"),
        ("a: |\n" + "  x\n" * 40_000, "text-long"),
        ("x" * 75_000 + ": 1\n", "yaml-syntax"),
        ("? " + "x" * 75_000 + "\n: 1\n", "yaml-key"),
        ("a: !" + "x" * 75_000 + " 1\n", "yaml-tag"),
        ("a: &" + "x" * 75_000 + " 1\n", "yaml-anchor"),
        ("%" + "x" * 75_000 + "\n---\na: 1\n", "key-unknown"),
        ("#" * 75_000, "yaml-top"),
        ("\n" * 75_000, "yaml-top"),
        ("".join(f"k{i}: yes\n" for i in range(10_000)), "yaml-word"),
        (b"\xff" * 75_000, "file-encoding"),
        (b"a" * 10_000_000, "file-size"),
        ("a: " + "9" * 1_999 + " lb\n", "key-unknown"),
        ("%YAML 1." + "9" * 10_000 + "\n---\na: 1\n", "yaml-syntax"),
    ],
    ids=lambda value: value if isinstance(value, str) and len(value) < 20 else "",
)
def test_refused_in_bounded_memory(text: bytes | str, code: str) -> None:
    codes, most = peak(text)
    assert code in codes
    assert most < 60_000_000


def test_an_alias_bomb_is_never_opened() -> None:
    nodes = read_nodes(BOMB, "r.yaml", Bounds())
    assert nodes.top is not None
    assert nodes.top.size < 250
    assert {fault.code for fault in nodes.faults} == {"yaml-anchor", "yaml-alias"}


def test_parts_that_double_are_counted_not_copied() -> None:
    parts = {f"p{i}": "".join(f"a{n}: {{part: p{i + 1}}}\n" for n in range(8)) for i in range(9)}
    codes, most = peak("dates: {part: p0}\n", **parts, p9="a: 1\n")
    assert "part-size" in codes
    assert most < 60_000_000


def test_quantities_of_any_length() -> None:
    for words in ("9" * 1_900 + " lb", "1/" * 900 + "2 lb", "9," * 900 + " lb", "1 ft " * 300, "+/-" * 600):
        codes, _ = peak(f"trailer: {{gvwr: '{words}'}}\n")
        assert "quantity-number" in codes or "quantity-unit" in codes


def test_messages_stay_short_whatever_the_text() -> None:
    long = "x" * 1_900
    text = f"nickname: '{long}'\nmarket: {long}\nvehicle: {{part: {long}}}\ntrailer: {long}\ncases: {long}\nk: {long}\n"
    text += f"weighings: [{{date: {long}, case: {long}, wheels: {{'{long[:199]}': 5 lb}}}}]\nuse: {long}\n"
    text += (
        f"preferences: {{base_url: {long}, units: {long}}}\ndates: {{last_tow: {long}}}\ngain_start: {long}\n"
    )
    for fault in read_rig(RIG, Memory({"r.yaml": text})).faults:
        assert len(fault.message) < 300, fault
        assert len(fault.hint) < 700, fault
