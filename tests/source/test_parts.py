"""References to shared parts."""

from __future__ import annotations

import os
from pathlib import Path

from cardgen.source.disk import Disk
from cardgen.source.limits import Bounds
from cardgen.source.parts import Loaded, load
from cardgen.source.tree import Text, Tree, plain_tree
from tests.each import each
from tests.source.memory import Memory, memory

RIG = Path("rig.yaml")


def loaded(**files: bytes | str) -> Loaded:
    return load(RIG, memory(**files), Bounds())


def tree(**files: bytes | str) -> Tree:
    found = loaded(**files)
    assert found.faults == []
    assert found.top is not None
    return plain_tree(found.top)


def codes(**files: bytes | str) -> list[str]:
    return [fault.code for fault in loaded(**files).faults]


def test_own_lines_override_and_groups_merge() -> None:
    found = tree(
        rig="cart:\n  part: base\n  name: own\n  size: {wide: 2 m}\n  list: [c]\n",
        base="name: base\nsize: {wide: 1 m, long: 3 m}\nlist: [a, b]\nkept: yes please\n",
    )
    assert found.data == {
        "cart": {"name": "own", "size": {"wide": "2 m", "long": "3 m"}, "list": ["c"], "kept": "yes please"}
    }


def test_an_explicit_unknown_overrides() -> None:
    found = tree(rig="cart: {part: base, name: unknown}\n", base="name: base\nsize: 1 m\n")
    assert found.data == {"cart": {"name": None, "size": "1 m"}}


def test_a_group_replaces_a_text_and_a_text_a_group() -> None:
    found = tree(rig="cart: {part: base, a: {x: 1}, b: 2}\n", base="a: 1\nb: {x: 1}\n")
    assert found.data == {"cart": {"a": {"x": "1"}, "b": "2"}}


def test_values_keep_their_file_and_take_the_field_of_the_rig() -> None:
    found = tree(rig="nickname: x\ncart:\n  part: carts/base\n", carts__base="size:\n  wide: 1 m\n")
    text = found.get("cart", "size", "wide")
    assert isinstance(text, Text)
    assert (text.path, text.file, text.line, text.col) == ("cart.size.wide", "parts/carts/base.yaml", 2, 9)
    assert found.place(("cart", "size"), key=True).file == "parts/carts/base.yaml"


def test_parts_refer_to_parts_and_the_nearest_lines_win() -> None:
    found = tree(
        rig="cart: {part: a, z: rig}\n",
        a="part: b\ny: a\nz: a\n",
        b="x: b\ny: b\nz: b\nw: {part: c}\n",
        c="v: c\n",
    )
    assert found.data == {"cart": {"x": "b", "y": "a", "z": "rig", "w": {"v": "c"}}}


def test_references_in_lists_and_at_the_top() -> None:
    found = tree(rig="part: base\nlist:\n  - part: item\n    n: 2\n", base="a: 1\n", item="n: 1\nm: 1\n")
    assert found.data == {"a": "1", "list": [{"n": "2", "m": "1"}]}


def test_files_read_are_listed_once_the_rig_first() -> None:
    found = loaded(rig="a: {part: p}\nb: {part: p}\nc: {part: q}\n", p="x: 1\n", q="y: 1\n")
    assert found.files == (RIG, Path("parts/p.yaml"), Path("parts/q.yaml"))


def test_a_missing_part_names_the_nearest() -> None:
    found = loaded(rig="a:\n  part: vehicles/slat\n", vehicles__slate="x: 1\n", vehicles__anvil="x: 1\n")
    fault = found.faults[0]
    assert (fault.code, fault.line, fault.col, fault.field) == ("part-missing", 2, 9, "a.part")
    assert fault.hint == "did you mean 'vehicles/slate'?"
    assert found.holes >= {"a"}


def test_a_missing_part_lists_what_there_is() -> None:
    assert loaded(rig="a: {part: zzz}\n", b="x: 1\n").faults[0].hint == "parts here: b"
    assert loaded(rig="a: {part: zzz}\n").faults[0].hint == "there are no parts yet"


@each(
    ("files", "circle"),
    [
        ({"rig": "a: {part: p}\n", "p": "part: p\n"}, "p -> p"),
        ({"rig": "a: {part: p}\n", "p": "x: {part: q}\n", "q": "part: p\n"}, "p -> q -> p"),
        ({"rig": "a: {part: o}\n", "o": "part: p\n", "p": "part: q\n", "q": "part: p\n"}, "p -> q -> p"),
    ],
)
def test_circles_are_refused(files: dict[str, str], circle: str) -> None:
    found = loaded(**files)
    assert [fault.code for fault in found.faults] == ["part-cycle"]
    assert circle in found.faults[0].message
    assert found.faults[0].file.startswith("parts/")


@each(
    "name",
    [
        *("../secret", "a/../../b", "..", ".", "/etc/passwd", "//host/x", "a//b", "a/", "./a", ".hidden"),
        *(
            "C:\\x",
            "C:/x",
            "a\\b",
            "\\\\host\\x",
            "~/x",
            "a b",
            "a.yaml",
            "a.yml",
            "x" * 300,
            "a/.b",
            "-a",
            "a:b",
        ),
        *("%2e%2e/a", "a*", "a?b", "file:///etc/passwd", "${HOME}"),
    ],
)
def test_names_that_could_lead_out_never_reach_the_disk(name: str) -> None:
    store = Memory({"rig.yaml": f"a:\n  part: '{name}'\n"})
    found = load(RIG, store, Bounds())
    assert [(fault.code, fault.line) for fault in found.faults] == [("part-name", 2)]
    assert store.asked == [RIG]


@each("value", ["unknown", "", "[a]", "{a: b}"])
def test_a_reference_is_a_plain_text(value: str) -> None:
    assert codes(rig=f"a:\n  part: {value}\n") == ["part-name"]


@each("word", ["résumé", "räder/groß", "a-b_c.d", "7up"])
def test_names_in_any_script(word: str) -> None:
    store = Memory({"rig.yaml": f"a: {{part: {word}}}\n", f"parts/{word}.yaml": "x: 1\n"})
    assert load(RIG, store, Bounds()).faults == []


def test_a_part_must_be_a_group() -> None:
    found = loaded(rig="a: {part: p}\n", p="- 1\n")
    assert [(f.code, f.file, f.field) for f in found.faults] == [("yaml-top", "parts/p.yaml", "a")]


def test_faults_inside_a_part_name_file_and_field() -> None:
    found = loaded(rig="a: {b: {part: p}}\n", p="c: 1\nd: yes\n")
    assert [(f.code, f.file, f.line, f.field) for f in found.faults] == [
        ("yaml-word", "parts/p.yaml", 2, "a.b.d")
    ]
    broken = loaded(rig="a: {b: {part: p}}\n", p="c: 'x\n")
    assert [(f.code, f.file, f.field) for f in broken.faults] == [("yaml-syntax", "parts/p.yaml", "a.b")]


def test_a_part_used_twice_reports_its_faults_once() -> None:
    assert codes(rig="a: {part: p}\nb: {part: p}\n", p="c: yes\n") == ["yaml-word"]


def test_parts_that_double_at_each_step_are_refused_in_time() -> None:
    files = {f"p{i}": f"a: {{part: p{i + 1}}}\nb: {{part: p{i + 1}}}\n" for i in range(25)}
    assert "part-size" in codes(rig="x: {part: p0}\n", **files, p25="c: 1\n")


def test_a_long_chain_of_parts_is_refused() -> None:
    files = {f"p{i}": f"a: {{part: p{i + 1}}}\n" for i in range(60)}
    assert codes(rig="x: {part: p0}\n", **files, p60="c: 1\n") == ["part-size"]


def test_a_very_long_chain_of_parts_is_refused_without_running_out_of_stack() -> None:
    files = {f"p{i}": f"part: p{i + 1}\n" for i in range(3_000)}
    assert codes(rig="x: {part: p0}\n", **files, p3000="c: 1\n") == ["part-size"]


def test_a_rig_file_that_is_missing(tmp_path: Path) -> None:
    found = load(tmp_path / "none.yaml", Disk(), Bounds())
    assert [fault.code for fault in found.faults] == ["file-missing"]
    assert found.files == ()


def test_a_folder_is_no_rig_file(tmp_path: Path) -> None:
    assert [f.code for f in load(tmp_path, Disk(), Bounds()).faults] == ["file-unreadable"]


def test_a_pipe_is_no_rig_file_and_is_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "rig.yaml"
    os.mkfifo(pipe)
    assert [f.code for f in load(pipe, Disk(), Bounds()).faults] == ["file-unreadable"]


def test_links_that_leave_the_folder_of_parts(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    (tmp_path / "outside.yaml").write_text("x: 1\n")
    (tmp_path / "parts" / "in.yaml").write_text("x: 1\n")
    (tmp_path / "parts" / "out.yaml").symlink_to(tmp_path / "outside.yaml")
    (tmp_path / "parts" / "away").symlink_to(tmp_path)
    (tmp_path / "parts" / "near.yaml").symlink_to(tmp_path / "parts" / "in.yaml")
    (tmp_path / "parts" / "loop.yaml").symlink_to(tmp_path / "parts" / "loop.yaml")
    rig = tmp_path / "rig.yaml"
    for name, code in (
        ("out", "part-outside"),
        ("away/outside", "part-outside"),
        ("near", ""),
        ("loop", "part-outside"),
    ):
        rig.write_text(f"a: {{part: {name}}}\n")
        assert [f.code for f in load(rig, Disk(), Bounds()).faults] == ([code] if code else []), name


def test_the_disk_reads_no_more_than_the_limit(tmp_path: Path) -> None:
    large = tmp_path / "large.yaml"
    large.write_bytes(b"#" * 10_000_000)
    assert len(Disk().read_bytes(large, 1_000)) == 1_001
    assert [f.code for f in load(large, Disk(), Bounds()).faults] == ["file-size"]


def test_the_number_of_files_is_bounded() -> None:
    many = Bounds().files + 20
    rig = "".join(f"k{i}: {{part: p{i}}}\n" for i in range(many))
    found = loaded(rig=rig, **{f"p{i}": "a: 1\n" for i in range(many)})
    assert {fault.code for fault in found.faults} == {"part-size"}
    assert len(found.files) == Bounds().files + 1
