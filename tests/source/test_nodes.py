"""YAML text to nodes: places, texts, and everything that is refused."""

from __future__ import annotations

from cardgen.source.faults import Fault
from cardgen.source.limits import Bounds
from cardgen.source.nodes import read_nodes
from cardgen.source.tree import Node, Text, Tree, plain_tree
from tests.each import each


def read(text: str) -> tuple[Node | None, tuple[Fault, ...]]:
    nodes = read_nodes(text, "cart.yaml", Bounds())
    return nodes.top, nodes.faults


def tree(text: str) -> Tree:
    node, faults = read(text)
    assert faults == ()
    assert node is not None
    return plain_tree(node)


def codes(text: str) -> list[str]:
    return [fault.code for fault in read(text)[1]]


def test_scalars_stay_text_with_path_and_place() -> None:
    found = tree("a:\n  b:\n    - 3,500 lb\n    - 'x'\n")
    first, second = found.get("a", "b", 0), found.get("a", "b", 1)
    assert isinstance(first, Text)
    assert isinstance(second, Text)
    assert (first, first.path, first.file, first.line, first.col) == ("3,500 lb", "a.b[0]", "cart.yaml", 3, 7)
    assert (first.plain, second.plain) == (True, False)


def test_places_of_keys_and_values() -> None:
    found = tree("a: 1\nbb:   two\n")
    value, key = found.place(("bb",)), found.place(("bb",), key=True)
    assert (value.line, value.col) == (2, 7)
    assert (key.line, key.col) == (2, 1)


def test_place_of_what_is_not_there_is_the_nearest_above() -> None:
    found = tree("a:\n  b: 1\n")
    assert (found.place(("a", "z", 3)).line, found.place(("q",)).line) == (1, 1)


@each("word", ["", "~", "null", "Null", "NULL", "unknown", "Unknown"])
def test_plain_words_for_unknown(word: str) -> None:
    assert tree(f"a: {word}\nb: 1\n").data == {"a": None, "b": "1"}


@each("word", ["''", "'unknown'", '"null"', "'~'"])
def test_quoted_words_are_text(word: str) -> None:
    assert tree(f"a: {word}\n").data == {"a": word[1:-1]}


@each("word", ["true", "false", "2026-04-30", "12", "1.5", "1e3", "65 psi", "N", "Y", "="])
def test_plain_words_that_mean_themselves(word: str) -> None:
    assert tree(f"a: {word}\n").data == {"a": word}


@each("word", ["yes", "Yes", "YES", "no", "No", "NO", "on", "On", "ON", "off", "Off", "OFF", "y", "n"])
def test_words_that_yaml_reads_as_flags(word: str) -> None:
    _, faults = read(f"a: {word}\n")
    assert [fault.code for fault in faults] == ["yaml-word"]
    reading = "true" if word.lower() in ("yes", "on", "y") else "false"
    assert reading in faults[0].message
    assert f"'{word}' in quotes" in faults[0].hint
    assert codes(f"a: '{word}'\n") == []


@each(
    "word",
    [
        *("1:30", "10:00", "190:20:30", "0119", "007", "-012", "1_000", "1_0.5"),
        *("0x1F", "0b101", "0o17", ".inf", "-.inf", "+.INF", ".nan", ".NaN"),
    ],
)
def test_figures_that_yaml_reads_otherwise(word: str) -> None:
    assert codes(f"a: {word}\n") == ["yaml-number"]
    assert codes(f"a: '{word}'\n") == []


@each(
    ("text", "code", "line", "col"),
    [
        ("a: 1\na: 2\n", "yaml-duplicate", 2, 1),
        ("a: !x 1\n", "yaml-tag", 1, 4),
        ("a: !!python/object/apply:os.system [ls]\n", "yaml-tag", 1, 4),
        ("a: !!str 1\n", "yaml-tag", 1, 4),
        ("a: ! 1\n", "yaml-tag", 1, 4),
        ("a: &b 1\n", "yaml-anchor", 1, 4),
        ("a: *b\n", "yaml-alias", 1, 4),
        ("a:\n  <<: {b: 1}\n", "yaml-merge", 2, 3),
        ("a: 1\n---\na: 2\n", "yaml-documents", 2, 1),
        ("%YAML 1.1\n---\na: 1\n", "yaml-directive", 1, 1),
        ("%TAG ! tag:x,2000:\n---\na: 1\n", "yaml-directive", 1, 1),
        ("- a\n", "yaml-top", 1, 1),
        ("", "yaml-top", 1, 1),
        ("# only a comment\n", "yaml-top", 1, 1),
        ("hello\n", "yaml-top", 1, 1),
        ("a: 1\nb:\n\tc: 1\n", "yaml-tab", 3, 1),
        ("a:\t- 1\n", "yaml-tab", 1, 3),
        ("? [a, b]\n: 1\n", "yaml-key", 1, 3),
        ("? {a: b}\n: 1\n", "yaml-key", 1, 3),
        (": 1\n", "yaml-syntax", 1, 1),
        ("~: 1\n", "yaml-key", 1, 1),
        ("no: 1\n", "yaml-key", 1, 1),
        ("true: 1\n", "yaml-key", 1, 1),
        ("a\u00a0b: 1\n", "yaml-key", 1, 1),
        ("a: 'x\n", "yaml-syntax", 2, 1),
        ("a: [1, 2\nb: 1\n", "yaml-syntax", 2, 2),
        ("a: b: c\n", "yaml-syntax", 1, 5),
        ("a: @x\n", "yaml-syntax", 1, 4),
        ("a: %x\n", "yaml-syntax", 1, 4),
        ("a: 1\n  b: 2\n", "yaml-syntax", 2, 4),
        ('a: "\\q"\n', "yaml-syntax", 1, 6),
        ('a: "\\UFFFFFFFF"\n', "yaml-syntax", 1, 7),
        ('a: "\\0"\n', "file-control", 1, 4),
        ('a: "\\ud800"\n', "file-control", 1, 4),
        ('a: "\\u202e"\n', "file-control", 1, 4),
    ],
)
def test_refused_with_its_place(text: str, code: str, line: int, col: int) -> None:
    _, faults = read(text)
    assert [(fault.code, fault.line, fault.col) for fault in faults] == [(code, line, col)]
    assert faults[0].hint


def test_every_fault_of_a_file_in_one_run() -> None:
    text = "a: yes\nb: !x 1\nc: &d 2\na: 3\ne: *d\n"
    assert codes(text) == ["yaml-word", "yaml-tag", "yaml-anchor", "yaml-duplicate", "yaml-alias"]


def test_first_of_two_duplicates_stays_and_is_named() -> None:
    node, faults = read("a: 1\nb: 2\na: 3\n")
    assert node is not None
    assert plain_tree(node).data["a"] == "1"
    assert "line 1" in faults[0].message


def test_position_across_is_a_field_name_not_a_flag() -> None:
    assert tree("y: 3 in\nn: 1\n").data == {"y": "3 in", "n": "1"}


@each(
    ("text", "whole"),
    [
        ("a: {b: 5,000 lb}\n", "5,000 lb"),
        ("a: {c: 1, b: 12,500 lb, d: 1}\n", "12,500 lb"),
        ("a: [3,500 lb, 1]\n", "3,500 lb"),
        ("a: {b: -5,000 lb}\n", "-5,000 lb"),
        ("a: {b: 3,500 lb +/- 20 lb}\n", "3,500 lb +/- 20 lb"),
    ],
)
def test_thousands_comma_inside_brackets(text: str, whole: str) -> None:
    node, faults = read(text)
    assert [fault.code for fault in faults] == ["yaml-comma"]
    assert whole in faults[0].message
    assert node is not None
    assert whole.split(",")[0] not in str(plain_tree(node).data)


def test_thousands_comma_is_told_once_per_number() -> None:
    assert codes("a: {b: 1,200,000 lb, c: '1,000 lb', d: 1,000 lb}\n") == ["yaml-comma", "yaml-comma"]


@each("text", ["a: [3, 500 lb]\n", "a: {b: 5, 600: 1}\n", "a: ['5',000 lb]\n"])
def test_other_commas_separate(text: str) -> None:
    assert "yaml-comma" not in codes(text)


def test_cut_number_followed_by_a_group_does_not_confuse_the_reader() -> None:
    node, _ = read("a: {b: 5,000: {c: 1}}\nd: 2\n")
    assert node is not None
    assert plain_tree(node).data == {"a": {"b": "5", "000": {"c": "1"}}, "d": "2"}


def test_depth_is_bounded() -> None:
    deep = Bounds().depth
    assert codes("a: " + "[" * (deep - 1) + "]" * (deep - 1) + "\n") == []
    assert codes("a: " + "[" * deep + "]" * deep + "\n") == ["yaml-depth"]
    assert codes("a: " + "[" * 100_000) == ["yaml-depth"]
    assert codes("- " * 100_000) == ["yaml-depth"]
    assert codes("a: " + "{b: " * 100_000) == ["yaml-depth"]
    assert codes("? " * 100_000)[-1] == "yaml-depth"


def test_count_of_nodes_is_bounded() -> None:
    assert codes("a: [" + "1, " * 30_000 + "]\n") == ["yaml-nodes"]


def test_length_of_texts_is_bounded() -> None:
    most = Bounds().text
    assert codes(f"a: {'x' * most}\n") == []
    assert codes(f"a: {'x' * (most + 1)}\nb: yes\n") == ["text-long", "yaml-word"]


def test_count_of_faults_is_bounded() -> None:
    many = "".join(f"f{i}: yes\n" for i in range(2_000))
    assert len(codes(many)) == Bounds().faults + 1


def test_windows_line_ends_keep_the_lines() -> None:
    _, faults = read("a: 1\r\nb: yes\r\n")
    assert (faults[0].line, faults[0].col) == (2, 4)


@each(
    ("text", "holes"),
    [
        ("a: yes\nb: [1, no]\n", {"a", "b[1]"}),
        ("a: {b: 5,000 lb}\nc: [5,000 lb]\n", {"a.b", "c[0]"}),
        ("a: {b: *x}\n", {"a.b"}),
        ("a: {<<: {b: 1}}\n", {"a"}),
        ("a: 1\na: 2\n", {"a"}),
        ("a: &x !y 1\nno: 1\n", set()),
        ("a: 'x\n", {""}),
    ],
)
def test_values_that_are_lost_leave_a_hole(text: str, holes: set[str]) -> None:
    found = read_nodes(text, "cart.yaml", Bounds(), ("cart",)).holes
    assert found == {f"cart.{hole}".rstrip(".") for hole in holes}
