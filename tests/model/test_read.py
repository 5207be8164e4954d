"""Reading a rig file with its parts."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest

from cardgen.model.read import read_rig
from cardgen.model.rig import Rig
from cardgen.source.disk import Disk
from cardgen.source.limits import Bounds
from cardgen.source.parts import load
from cardgen.source.shapes import Shape, shape_of, slots_of
from cardgen.source.tree import plain_tree
from tests.each import each
from tests.source.memory import Memory

RIGS = Path(__file__).parent.parent / "data" / "rigs"


@each("name", ["small", "full"])
def test_right_files_are_read(name: str) -> None:
    found = read_rig(RIGS / f"{name}.yaml")
    assert found.faults == ()
    assert found.rig is not None


def test_files_that_were_read_are_listed() -> None:
    names = ["full.yaml", "parts/vehicles/anvil.yaml", "parts/tires/st-c.yaml"]
    assert read_rig(RIGS / "full.yaml").files == tuple(RIGS / name for name in names)


def test_results_travel_between_processes() -> None:
    found = read_rig(RIGS / "full.yaml")
    copy = pickle.loads(pickle.dumps(found))
    assert copy == found
    assert type(copy.rig.nickname) is str
    broken = read_rig(Path("r.yaml"), Memory({"r.yaml": "a: yes\nb: [\n"}))
    assert broken.faults
    assert pickle.loads(pickle.dumps(broken)) == broken


def test_quantities_name_field_and_words() -> None:
    rig = read_rig(RIGS / "full.yaml").rig
    assert rig is not None
    weight = rig.trailer.empty.weight
    assert weight is not None
    assert (weight.path, weight.text) == ("trailer.empty.weight", "3,850 lb +/- 20 lb")
    assert weight.si == pytest.approx(3850 * 0.45359237)  # NIST SP 811: 1 lb = 0.45359237 kg
    assert weight.half_width == pytest.approx(20 * 0.45359237)
    inherited = rig.vehicle.wheelbase
    assert inherited is not None
    assert inherited.path == "vehicle.wheelbase"
    assert inherited.si == pytest.approx(145 * 0.0254)


def test_unknown_stays_unknown() -> None:
    rig = read_rig(RIGS / "small.yaml").rig
    assert rig is not None
    assert rig.vehicle.wheelbase is None
    assert rig.trailer.axles.gawr == ()
    assert rig.cases[0].occupants is None


def _unused(shape: Shape, given: list[object], seen: set[tuple[str, str]]) -> None:
    """Collect (record, field) of everything the data sets."""
    if shape.form == "record":
        for name, slot in slots_of(shape.hint).items():
            inner = [one[name] for one in given if isinstance(one, dict) and one.get(name) is not None]
            if inner:
                seen.add((shape.hint.__name__, name))
                _unused(slot.shape, inner, seen)
    elif shape.item is not None:
        items: list[object] = []
        for one in given:
            items += one.values() if isinstance(one, dict) else one if isinstance(one, list) else []
        _unused(shape.item, items, seen)


def _fields(shape: Shape, made: set[tuple[str, str]]) -> None:
    if shape.form == "record":
        for name, slot in slots_of(shape.hint).items():
            made.add((shape.hint.__name__, name))
            _fields(slot.shape, made)
    elif shape.item is not None:
        _fields(shape.item, made)


def test_the_full_sample_sets_every_field() -> None:
    loaded = load(RIGS / "full.yaml", Disk(), Bounds())
    assert loaded.top is not None
    seen: set[tuple[str, str]] = set()
    every: set[tuple[str, str]] = set()
    _unused(shape_of(Rig), [plain_tree(loaded.top).data], seen)
    _fields(shape_of(Rig), every)
    assert every - seen == set()
    assert len(every) > 200


def test_faults_are_ordered_and_the_rig_file_comes_first() -> None:
    store = Memory(
        {
            "b.yaml": "trailer: {type: ball, body: boat, tires: {part: a}, gvwr: 5}\nvehicle: {year: x}\n",
            "parts/a.yaml": "load_index: x\nmax_load: 5\n",
        }
    )
    faults = read_rig(Path("b.yaml"), store).faults
    assert [(fault.file, fault.line, fault.code) for fault in faults] == [
        ("b.yaml", 1, "key-missing"),
        ("b.yaml", 1, "key-missing"),
        ("b.yaml", 1, "key-missing"),
        ("b.yaml", 1, "quantity-bare"),
        ("b.yaml", 2, "count"),
        ("parts/a.yaml", 1, "count"),
        ("parts/a.yaml", 2, "quantity-bare"),
    ]


def test_a_fault_anywhere_means_no_rig() -> None:
    text = (RIGS / "small.yaml").read_text(encoding="utf-8")
    assert read_rig(Path("r.yaml"), Memory({"r.yaml": text})).rig is not None
    assert read_rig(Path("r.yaml"), Memory({"r.yaml": text + "note: yes\n"})).rig is None


def test_shape_and_sense_are_told_in_one_run() -> None:
    text = (RIGS / "small.yaml").read_text(encoding="utf-8")
    text = text.replace("tongue: 75 lb", "tongue: 7500 lb").replace("kind: suv", "kind: bus\n  year: yes")
    faults = read_rig(Path("r.yaml"), Memory({"r.yaml": text})).faults
    assert [fault.code for fault in faults] == ["value-choice", "yaml-word", "tongue-above-weight"]


def test_a_missing_part_brings_no_faults_about_what_it_would_hold() -> None:
    text = "nickname: x\nmarket: us\nvehicle: {kind: suv}\ntrailer: {part: none}\n"
    text += "cases: [{name: out, tanks: {fresh: full}, without: [left]}]\n"
    assert [f.code for f in read_rig(Path("r.yaml"), Memory({"r.yaml": text})).faults] == ["part-missing"]


def test_the_demo_rigs_are_read_without_fault() -> None:
    folder = Path(__file__).parent.parent.parent / "rigs"
    rigs = sorted(folder.glob("*.yaml"))
    assert rigs
    for path in rigs:
        found = read_rig(path)
        assert found.faults == (), path.name
        assert found.rig is not None


def test_odd_file_names(tmp_path: Path) -> None:
    for name in ("größe ע 🛞.yaml", "a b\nc.yaml", "x" * 200 + ".yaml", "-rf.yaml"):
        path = tmp_path / name
        path.write_bytes((RIGS / "small.yaml").read_bytes())
        assert read_rig(path).rig is not None
        path.write_bytes(b"a: yes\n")
        assert all("\n" not in str(fault) for fault in read_rig(path).faults)


def test_a_name_longer_than_the_system_takes() -> None:
    assert [f.code for f in read_rig(Path("x" * 5_000 + ".yaml")).faults] == ["file-unreadable"]
    assert [f.code for f in read_rig(Path("a\0b.yaml")).faults] == ["file-unreadable"]
