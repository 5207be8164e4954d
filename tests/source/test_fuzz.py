"""Random input of every kind: located faults or a tree, never an exception."""

from __future__ import annotations

import pickle
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.model.read import ReadResult, read_rig
from cardgen.source.codes import FAULT_CODES
from tests.source.memory import Memory

RIG = Path("r.yaml")
DATA = Path(__file__).parent.parent / "data" / "rigs"
SMALL = (DATA / "small.yaml").read_bytes()
FULL = (DATA / "full.yaml").read_text(encoding="utf-8")
PARTS: dict[str, bytes | str] = {
    str(path.relative_to(DATA)): path.read_bytes() for path in sorted((DATA / "parts").rglob("*.yaml"))
}
PIECES = [
    *(
        ":",
        ": ",
        "- ",
        "-",
        "? ",
        ", ",
        ",",
        "[",
        "]",
        "{",
        "}",
        "&a",
        "*a",
        "!",
        "!!str ",
        "!<x>",
        "|",
        "|+2",
        ">-",
    ),
    *(
        "'",
        '"',
        "''",
        "\\",
        "\\x",
        "\\u",
        "\\U0",
        "#",
        " #",
        "%",
        "%YAML 1.",
        "%TAG ! !",
        "---",
        "...",
        "@",
        "`",
        "=",
        "<<: ",
    ),
    *(
        "\n",
        "\n\n",
        "\n  ",
        "\n    ",
        "\r",
        "\r\n",
        "\t",
        " ",
        "\u00a0",
        "\u0085",
        "\u2028",
        "\ufeff",
        "\0",
        "\x1b",
    ),
    *(
        "~",
        "null",
        "unknown",
        "yes",
        "no",
        "true",
        ".nan",
        ".inf",
        "1:30",
        "0119",
        "1_0",
        "0x1",
        "5,000 lb",
        "-3 kg",
        "9e99 m",
    ),
    *(
        "part",
        "part: ",
        "tires/st-c",
        "vehicles/anvil",
        "../x",
        "nickname: ",
        "market: us",
        "trailer:",
        "type: ball",
    ),
    *(
        "cases:",
        "name: x",
        "gvwr: ",
        "axles: {",
        "tanks:",
        "fresh: full",
        "é",
        "ע",
        "🛞",
        "\u202e",
        "x" * 70,
        "2026-04-30",
    ),
]


def read(text: bytes | str) -> ReadResult:
    """Read; whatever was given, the answer is a rig or located faults."""
    found = read_rig(RIG, Memory({"r.yaml": text, **PARTS}))
    assert (found.rig is None) == bool(found.faults)
    for fault in found.faults:
        assert fault.code in FAULT_CODES
        assert fault.line >= 1
        assert fault.col >= 1
        str(fault).encode("utf-8")
    return found


@given(st.binary(max_size=300))
@settings(max_examples=200, deadline=None)
def test_random_bytes(raw: bytes) -> None:
    read(raw)


@given(st.lists(st.sampled_from(PIECES), max_size=40).map("".join))
@settings(max_examples=500, deadline=None)
def test_random_pieces_of_yaml(text: str) -> None:
    read(text)


@given(st.integers(0, len(SMALL) - 1), st.integers(0, 40), st.lists(st.sampled_from(PIECES), max_size=3))
@settings(max_examples=300, deadline=None)
def test_a_right_file_with_a_random_wound(start: int, length: int, pieces: list[str]) -> None:
    read(SMALL[:start] + "".join(pieces).encode() + SMALL[start + length :])


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_a_full_file_with_lines_moved(data: st.DataObject) -> None:
    lines = FULL.splitlines(keepends=True)
    for _ in range(data.draw(st.integers(1, 4))):
        taken = lines.pop(data.draw(st.integers(0, len(lines) - 1)))
        shift = data.draw(st.sampled_from(["", "  ", "\t", "- "]))
        lines.insert(data.draw(st.integers(0, len(lines))), shift + taken)
    read("".join(lines))


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=60))
@settings(max_examples=200, deadline=None)
def test_any_text_in_quotes_is_a_note_or_a_located_fault(words: str) -> None:
    quoted = "'" + words.replace("'", "''") + "'"
    found = read(SMALL.decode() + f"note: {quoted}\n")
    if words.isprintable() and found.rig is not None:
        assert found.rig.note == words


@given(st.text(max_size=30), st.sampled_from(["vehicle", "trailer", "gear", "cases"]))
@settings(max_examples=200, deadline=None)
def test_any_text_as_the_name_of_a_part(name: str, where: str) -> None:
    store = Memory({"r.yaml": SMALL + f"{where}x:\n  part: {name!r}\n".encode(errors="replace")})
    read_rig(RIG, store)
    for path in store.asked:
        assert ".." not in path.parts
        assert path == RIG or path.parts[0] == "parts"
        assert not path.is_absolute()


def test_results_travel_between_processes() -> None:
    found = read_rig(DATA / "full.yaml")
    copy = pickle.loads(pickle.dumps(found))
    assert copy == found
    assert type(copy.rig.nickname) is str


def test_broken_results_travel_too() -> None:
    found = read("a: yes\nb: [\n")
    assert pickle.loads(pickle.dumps(found)) == found
