"""Cargo lists go to a spreadsheet and come back unchanged; nothing of the person's is touched."""

from __future__ import annotations

import csv
import io
import shutil
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.bundle.reading import read_rig
from cardgen.cli import main
from cardgen.commands.sheet import (
    COLUMNS,
    SEPARATORS,
    guarded,
    read_sheet,
    unguarded,
    write_sheet,
)
from cardgen.model.parts import TrailerLoad, VehicleLoad
from cardgen.source.check import check
from cardgen.source.codes import SHEET_CODES
from cardgen.source.decode import foreign
from cardgen.source.faults import Place
from cardgen.source.limits import Bounds
from cardgen.source.nodes import read_nodes
from cardgen.source.tree import Keyed, branch, plain_tree
from cardgen.source.write import scalar
from cardgen.units.field import Kind
from cardgen.units.quantity import Quantity
from cardgen.units.record import record
from tests.each import each

ROOT = Path(__file__).parent.parent.parent
DEMOS = sorted(path.stem for path in (ROOT / "rigs").glob("*.yaml"))
HEAD = "name,where,weight,x,y,z,ahead_of_rear_axle,set,movable\n"


@record
class Lists:
    """Both lists, for reading a sheet without a rig."""

    trailer: tuple[TrailerLoad, ...] = ()
    vehicle: tuple[VehicleLoad, ...] = ()


def lists_of(raw: bytes) -> Lists:
    sheet = read_sheet(raw, "sheet.csv")
    assert sheet.faults == []
    place = Place("sheet.csv")
    top = branch({side: Keyed(place, branch(nodes, place)) for side, nodes in sheet.lists.items()}, place)
    made = check(plain_tree(top), Lists)
    assert made.faults == []
    assert made.value is not None
    return made.value


def alike(loads: tuple[TrailerLoad | VehicleLoad, ...]) -> list[dict[str, object]]:
    """Fields of the loads with quantities as their words."""
    return [
        {
            name: value.text if isinstance(value := getattr(load, name), Quantity) else value
            for name in type(load).__dataclass_fields__
        }
        for load in loads
    ]


@pytest.fixture
def shed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the demo rigs, in which the command runs."""
    shutil.copytree(ROOT / "rigs", tmp_path / "rigs")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def bytes_below(folder: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("separator", list(SEPARATORS))
def test_a_demo_rig_comes_back_whole(
    name: str, separator: str, shed: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = bytes_below(shed / "rigs")
    assert main(["cargo", name, "--export", "out.csv", "--separator", separator]) == 0
    assert main(["cargo", name, "--import", "out.csv", "--out", "lines.yaml"]) == 0
    assert capsys.readouterr().out == "out.csv\nlines.yaml\n"
    assert bytes_below(shed / "rigs") == before
    nodes = read_nodes((shed / "lines.yaml").read_text(encoding="utf-8"), "lines.yaml", Bounds())
    assert nodes.faults == ()
    assert nodes.top is not None
    rig = read_rig(shed / "rigs" / f"{name}.yaml").rig
    assert rig is not None
    tree = plain_tree(nodes.top)
    for side, shape in (("trailer", TrailerLoad), ("vehicle", VehicleLoad)):
        found = tree.get(side, "cargo")
        assert isinstance(found, list)
        want = [
            {k: _plain(v) for k, v in load.items() if v is not None and v is not True}
            for load in alike(getattr(rig, side).cargo)
        ]
        assert found == want, shape


def _plain(value: object) -> object:
    return "false" if value is False else value


def test_the_lines_can_stand_in_the_rig_file(shed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["cargo", "otter", "--export", "out.csv"])
    sheet = (shed / "out.csv").read_text(encoding="utf-8-sig")
    (shed / "out.csv").write_text(sheet.replace("55 lb", "70 lb"), encoding="utf-8")
    capsys.readouterr()
    assert main(["cargo", "otter", "--import", "out.csv"]) == 0
    lines = capsys.readouterr().out
    assert f"trailer.cargo: now in {Path('rigs/parts/trailers/otter.yaml')}, line" in lines
    assert "vehicle.cargo: in no file yet" in lines
    own = shed / "rigs" / "otter.yaml"
    text = own.read_text(encoding="utf-8")
    cargo = lines.split("trailer:\n", 1)[1].split("vehicle:", 1)[0]
    own.write_text(text.replace("trailer:\n", f"trailer:\n{cargo}", 1), encoding="utf-8")
    rig = read_rig(own).rig
    assert rig is not None
    weights = {load.name: load.weight.text for load in rig.trailer.cargo if load.weight}
    assert weights["ice chest"] == "70 lb"
    assert len(weights) == 3


words = st.text(min_size=1, max_size=30).filter(lambda text: foreign(text) is None and bool(text.strip()))
masses = st.none() | st.sampled_from(["5 kg", "3,500 lb", "12 lb 3 oz", "1/2 lb +/- 1 oz", "0 lb"])
lengths = st.none() | st.sampled_from(["-2 ft", "6 ft 2 in", "−30 cm", "0 in", "+1 m", '5 ft 3/4"'])


def quantity(text: str | None, kind: str) -> Quantity | None:
    return None if text is None else Kind(kind, signed=kind == "length").read(text)


@st.composite
def trailer_loads(draw: st.DrawFn) -> TrailerLoad:
    return TrailerLoad(
        name=draw(words),
        weight=quantity(draw(masses), "mass"),
        x=quantity(draw(lengths), "length"),
        y=quantity(draw(lengths), "length"),
        z=quantity(draw(lengths), "length"),
        set=draw(st.none() | words),
        movable=draw(st.booleans()),
    )


@st.composite
def vehicle_loads(draw: st.DrawFn) -> VehicleLoad:
    return VehicleLoad(
        name=draw(words),
        weight=quantity(draw(masses), "mass"),
        ahead_of_rear_axle=quantity(draw(lengths), "length"),
        set=draw(st.none() | words),
        movable=draw(st.booleans()),
    )


@given(
    st.lists(trailer_loads(), max_size=4).map(tuple),
    st.lists(vehicle_loads(), max_size=3).map(tuple),
    st.sampled_from(sorted(SEPARATORS.values())),
    st.sampled_from(["\n", "\r\n"]),
    st.booleans(),
)
def test_any_list_comes_back_whole(
    trailer: tuple[TrailerLoad, ...], vehicle: tuple[VehicleLoad, ...], separator: str, end: str, mark: bool
) -> None:
    text = ("\ufeff" if mark else "") + write_sheet(trailer, vehicle, separator, end)
    found = lists_of(text.encode("utf-8"))
    assert alike(found.trailer) == alike(trailer)
    assert alike(found.vehicle) == alike(vehicle)


@given(words)
def test_no_exported_cell_is_a_formula(name: str) -> None:
    for text in (name, f"={name}", f"@{name}", f" +{name}", f"-{name}", f"'={name}", f"\uff1d{name}"):
        sheet = write_sheet((TrailerLoad(name=text, set=text),), (), ";")
        cells = list(csv.reader(io.StringIO(sheet, newline=""), delimiter=";"))[1]
        for cell in cells:
            assert not cell.lstrip().startswith(("=", "+", "-", "@", "\uff1d"))
        assert unguarded(cells[0]) == text
        other = list(csv.reader(io.StringIO(sheet, newline="")))[1]
        assert not any(cell.startswith(("=", "+", "-", "@")) for cell in other)


@given(st.text())
def test_guarding_is_undone_and_hand_typed_cells_stay(text: str) -> None:
    assert unguarded(guarded(text)) == text
    if not text.startswith("'"):
        assert unguarded(text) == text


@given(words)
def test_texts_written_for_a_rig_file_are_read_back(text: str) -> None:
    nodes = read_nodes(f"a: {scalar(text)}\nb: [{scalar(text)}]\n", "", Bounds())
    assert nodes.top is not None
    if not nodes.faults:
        assert plain_tree(nodes.top).data["a"] == text
    else:
        assert {fault.code for fault in nodes.faults} <= {"yaml-comma"}


@each(
    ("raw", "code", "line", "cell", "words"),
    [
        (b"", "sheet-header", 1, 1, "empty"),
        (b"name,weight\n", "sheet-header", 1, 1, "'where' is missing"),
        (b"name,where,wieght\n", "sheet-header", 1, 3, "did you mean 'weight'"),
        (b"name,where,weight,name\n", "sheet-header", 1, 4, "twice"),
        (b'name,where,weight\n"box,trailer,5 lb\n', "sheet-syntax", 2, 1, "quotation mark"),
        (b"name,where,weight\nbox,trailer,3,500 lb\n", "sheet-row", 2, 4, '"3,500 lb"'),
        (b"name,where,weight\nbox,roof,5 lb\n", "sheet-where", 2, 2, "neither"),
        (b"name,where,weight\n\nbox,,5 lb\n", "sheet-where", 3, 2, "missing"),
        (b"name,where,weight,x\nbox,vehicle,5 lb,2 ft\n", "sheet-place", 2, 4, "'ahead_of_rear_axle'"),
        (b"name,where,weight\n" + b"box,trailer,5 lb\n" * 2001, "sheet-size", 2001, 1, "2,000 rows"),
        (b"name,where,weight\nK\xf6ln,trailer,5 lb\n", "file-encoding", 2, 2, "UTF-8"),
        ("\ufeffname,where\n".encode("utf-16-le"), "file-encoding", 1, 1, "UTF-8"),
        (b"name,where,weight\nbo\x00x,trailer,5 lb\n", "file-control", 2, 3, "invisible"),
        (b"x" * 1_000_001, "file-size", 1, 1, "larger"),
    ],
)
def test_faults_of_a_sheet(raw: bytes, code: str, line: int, cell: int, words: str) -> None:
    found = read_sheet(raw, "sheet.csv").faults
    assert [fault.code for fault in found] == [code]
    assert (found[0].line, found[0].col) == (line, cell)
    assert words in str(found[0])


def test_every_code_of_a_sheet_has_a_sample() -> None:
    rows = test_faults_of_a_sheet.each_rows  # type: ignore[attr-defined]  # set by the decorator above
    sampled = {row["code"] for row in rows}
    assert sampled >= set(SHEET_CODES)


def test_faults_name_the_cell_and_come_all_at_once(shed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shed / "in.csv").write_bytes(
        b"\xef\xbb\xbfsep=;\r\nName;Where;Weight;X;Ahead of rear axle;Set;Movable\r\n"
        b"box;trailer;50;1 m;;day out;TRUE\r\n"
        b"jug;vehicle;5,5 kg;;2 m;;\r\n"
        b";trailer;5 kg;2 psi;;;maybe\r\n"
        b"box;trailer;5 kg;300 ft;;;\r\n"
    )
    assert main(["cargo", "otter", "--import", "in.csv"]) == 3
    told = capsys.readouterr()
    assert told.out == ""
    lines = told.err.splitlines()
    assert [line.rsplit("[", 1)[1].rstrip("]") for line in lines] == [
        "quantity-bare",
        "quantity-number",
        "key-missing",
        "quantity-kind",
        "flag",
        "name-twice",
        "quantity-range",
    ]
    assert lines[0] == (
        "in.csv:3:3: cell C3: '50' is a number without a unit; write it with its unit, like '50 lb' [quantity-bare]"
    )
    assert "in.csv:5:7: cell G5: 'maybe' is neither true nor false" in told.err


def test_the_rig_is_checked_with_the_new_lists(shed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shed / "in.csv").write_text(HEAD + "box,trailer,5 lb,3 ft,,,,,\n", encoding="utf-8")
    assert main(["cargo", "otter", "--import", "in.csv"]) == 3
    told = capsys.readouterr().err
    assert told.startswith(f"{Path('rigs/otter.yaml')}:")
    assert "there is no cargo set 'day out'" in told


def test_a_row_that_is_lost_raises_no_second_fault(shed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shed / "in.csv").write_text(HEAD + "ice chest,roof,5 lb,3 ft,,,,day out,\n", encoding="utf-8")
    assert main(["cargo", "otter", "--import", "in.csv"]) == 3
    assert capsys.readouterr().err.count("\n") == 1


def test_empty_lists_and_spreadsheet_habits(shed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert lists_of(HEAD.encode()) == Lists()
    found = lists_of(
        b"Name\tWHERE\tWeight\tX\tMovable\t\t\r\nbox\tTrailer\tunknown\t-2 ft\tFALSE\t\t\r\n\t\t\t\t\r\n"
    )
    (load,) = found.trailer
    assert (load.name, load.weight, load.movable) == ("box", None, False)
    assert load.x is not None
    assert load.x.text == "-2 ft"


def test_nothing_is_written_over(shed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shed / "mine.csv").write_text("mine", encoding="utf-8")
    assert main(["cargo", "otter", "--export", "mine.csv"]) == 5
    main(["cargo", "otter", "--export", "out.csv"])
    assert main(["cargo", "otter", "--import", "out.csv", "--out", "mine.csv"]) == 5
    assert main(["cargo", "otter", "--import", "out.csv", "--out", "none/mine.yaml"]) == 5
    assert (shed / "mine.csv").read_text(encoding="utf-8") == "mine"
    assert "exists already" in capsys.readouterr().err


def test_what_cannot_be_done_is_said(shed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["cargo", "oter", "--export", "-"]) == 2
    assert main(["cargo", "otter", "--import", "none.csv"]) == 2
    assert main(["cargo", "otter", "--export", "-", "--out", "x"]) == 2
    (shed / "rigs" / "otter.yaml").write_text("nickname: [\n", encoding="utf-8")
    assert main(["cargo", "otter", "--export", "-"]) == 3
    (shed / "in.csv").write_text(HEAD, encoding="utf-8")
    assert main(["cargo", "otter", "--import", "in.csv"]) == 3
    told = capsys.readouterr()
    assert told.out == ""
    assert "did you mean 'otter'" in told.err


def test_stdout_has_no_mark_and_files_have_one(shed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["cargo", "heron", "--export", "-"])
    assert capsys.readouterr().out.startswith(",".join(f'"{name}"' for name in COLUMNS) + "\n")
    main(["cargo", "heron", "--export", "out.csv"])
    assert (shed / "out.csv").read_bytes().startswith(b'\xef\xbb\xbf"name","where"')


def test_a_nickname_cannot_break_out_of_its_comment(shed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own = shed / "rigs" / "otter.yaml"
    text = own.read_text(encoding="utf-8").replace(
        "nickname: Otter and Anvil", 'nickname: "Otter\\nmarket: uk"'
    )
    own.write_text(text, encoding="utf-8")
    main(["cargo", "otter", "--export", "out.csv"])
    capsys.readouterr()
    assert main(["cargo", "otter", "--import", "out.csv"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith('# Cargo of "Otter\\nmarket: uk", read')
    assert not any(line.startswith("market") for line in lines)


def test_columns_are_fields_of_the_model() -> None:
    fields = {*TrailerLoad.__dataclass_fields__, *VehicleLoad.__dataclass_fields__}
    assert set(COLUMNS) - {"where"} == fields
