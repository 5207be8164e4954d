"""Hostile cargo sheets: rows or located faults, never an exception, and no formula on the way back."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardgen.cli import main
from tests.commands.workspace import PLAIN, write

HEAD = "name,where,weight,x,y,z,ahead_of_rear_axle,set,movable\n"
PIECES = [
    ",", ",,", ";", "\t", '"', '""', "'", "\n", "\r\n", "\r", "\ufeff", "sep=;\n", "name", "where", "weight", "trailer",
    "vehicle", "45 lb", "3,500 lb", '"3,500 lb"', "1 ft", "-2 m", "true", "false", "=1+1", "@SUM(A1)", "+1", "-1",
    "=cmd|'/c calc'!A0", "\x00", "\x1b[2J", "\u202e", "{{ 7*7 }}", "<b>", "unknown", "x" * 300, "#", ": ", "- ", "&a",
]  # fmt: skip


@pytest.fixture(scope="module")
def rig(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write(tmp_path_factory.mktemp("sheet"), "plover")


def imported(rig: Path, text: bytes, capsys: pytest.CaptureFixture[str]) -> tuple[int, str, str]:
    sheet = rig.parent / "cargo.csv"
    sheet.write_bytes(text)
    code = main(["cargo", str(rig), "--import", str(sheet)])
    said = capsys.readouterr()
    assert code in (0, 3), said.err
    assert "Traceback" not in said.err
    assert bool(said.err.strip()) or code == 0
    if code == 3:
        assert "cargo.csv" in said.err or rig.name in said.err
        assert said.out == ""
    return code, said.out, said.err


FREE = settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@given(st.lists(st.sampled_from(PIECES), max_size=30).map("".join), st.booleans())
@FREE
def test_pieces_in_any_order(rig: Path, capsys: pytest.CaptureFixture[str], text: str, headed: bool) -> None:
    imported(rig, ((HEAD if headed else "") + text).encode("utf-8"), capsys)


@given(st.binary(max_size=300))
@FREE
def test_any_bytes(rig: Path, capsys: pytest.CaptureFixture[str], text: bytes) -> None:
    imported(rig, text, capsys)


@pytest.mark.parametrize(
    "text",
    [
        b"", b"\x00" * 1000, HEAD.encode() + b"a,trailer,1 lb\n" * 100_000, HEAD.encode() * 5000, b"," * 900_000,
        b'"' + b"x" * 900_000, HEAD.encode() + b'"' * 900_001, b"a" * 10_000_000, HEAD.encode("utf-16"),
        HEAD.encode() + "Zoë,trailer,1 lb\n".encode("latin-1"), HEAD.encode() + b"x" * 200_000 + b",trailer,1 lb\n",
    ],
    ids=range(11),
)  # fmt: skip
def test_bombs(rig: Path, capsys: pytest.CaptureFixture[str], text: bytes) -> None:
    code, _, err = imported(rig, text, capsys)
    assert code == 3
    assert len(err) < 1_000_000


def test_names_that_are_formulas_run_nowhere_and_come_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    names = [
        "=1+1",
        "+1",
        "-1",
        "@SUM(A1)",
        '=HYPERLINK("http://evil.example")',
        "'=1",
        "plain",
        "\uff1d1",
        " =1",
        "\u200e=1",
        "\u200f\u200d+1",
        "\ufe62" + "1",
        "\ufe66" + "1",
        "\u207a" + "1",
        "\u208c" + "1",
        "\ufe6bSUM(A1)",
        "\u22121",
        "\u200e plain \u207a",
    ]
    cargo = "".join(
        f"    - {{name: '{n.replace(chr(39), chr(39) * 2)}', weight: 5 lb, x: 1 ft}}\n" for n in names
    )
    text = PLAIN.format(nickname="Plover").replace("  axles:", f"  cargo:\n{cargo}  axles:")
    rig = write(tmp_path, "plover", text)
    assert main(["cargo", str(rig), "--export", "-"]) == 0
    sheet = capsys.readouterr().out
    cells = [cell for row in csv.reader(io.StringIO(sheet)) for cell in row]
    bare = [re.sub(r"^[\s\u200d-\u200f]+", "", cell)[:1] for cell in cells]
    assert [one for one in bare if one and one in "=+@\uff1d\ufe62\ufe66\u207a\u208c\ufe6b\u2212"] == []
    (tmp_path / "cargo.csv").write_text(sheet, "utf-8")
    assert main(["cargo", str(rig), "--import", str(tmp_path / "cargo.csv")]) == 0
    back = capsys.readouterr().out
    for name in names:
        assert name.strip() in back.replace("''", "'").replace('\\"', '"'), name
