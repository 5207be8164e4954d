"""Labels of drawings: none over another, no pointer through a label, nothing lost."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from cardgen.render.figures.labels import GAP, NEAREST, clear, flags, legend_lines, spread
from cardgen.render.wrap import width

words = st.text("abcdefghij 0123456789", min_size=1, max_size=30).map(lambda text: text.strip() or "x")
points = st.lists(st.tuples(st.floats(0, 124), words), max_size=14)


@given(points, st.sampled_from([60.0, 88.0, 124.0, 182.0]), st.sampled_from([9.0, 10.5, 14.0]))
def test_labels_are_clear_of_each_other(marks: list[tuple[float, str]], room: float, pt: float) -> None:
    placed = flags([(min(x, room), text) for x, text in marks], room, pt)
    for one, other in itertools.combinations(placed.flags, 2):
        assert clear(one, other), (one, other)
    for flag in placed.flags:
        assert flag.left >= -0.02
        assert flag.right <= room + 0.02
        assert flag.left - 0.02 <= flag.x <= flag.right + 0.02


@given(points, st.sampled_from([60.0, 124.0]))
def test_every_text_is_on_the_drawing_or_in_its_legend(marks: list[tuple[float, str]], room: float) -> None:
    placed = flags([(min(x, room), text) for x, text in marks], room, 9.0)
    if placed.legend:
        shown = [flag.text for flag in placed.flags]
        assert shown == [str(n + 1) for n in range(len(shown))]
        for n, (_, text) in enumerate(marks[: len(shown)]):
            assert placed.legend[n] == f"{n + 1} {text}"
        if len(shown) < len(marks):
            assert placed.legend[-1] == f"+ {len(marks) - len(shown)}"
    else:
        assert [flag.text for flag in placed.flags] == [text for _, text in marks]


def test_forty_labels_become_numbers_and_say_how_many_are_left_out() -> None:
    placed = flags([(n * 3.0, f"crate {n}") for n in range(40)], 124.0, 9.0)
    shown = len(placed.flags)
    assert placed.rows == 1
    assert 20 <= shown < 40
    assert placed.legend[-1] == f"+ {40 - shown}"


def test_numbers_go_on_from_the_other_side() -> None:
    long = [(10.0, "a" * 90), (20.0, "b" * 90)]
    assert [flag.text for flag in flags(long, 80.0, 9.0, 5).flags] == ["5", "6"]


def test_equal_places_get_pointers_apart() -> None:
    placed = flags([(50.0, "a"), (50.0, "b"), (50.0, "c")], 124.0, 9.0)
    places = sorted(flag.x for flag in placed.flags)
    assert all(b - a >= NEAREST - 1e-9 for a, b in itertools.pairwise(places))
    assert {flag.anchor for flag in placed.flags} == {50.0}


def test_clear_sees_text_over_text_and_pointers_through_text() -> None:
    one, other = flags([(20.0, "first"), (80.0, "second")], 124.0, 9.0).flags
    assert clear(one, other)
    from dataclasses import replace

    assert not clear(one, replace(other, left=one.left + 1, x=one.x + 1))
    high = replace(other, row=one.row + 1, x=one.left + 1, left=one.left + 1)
    assert not clear(one, high)
    assert clear(one, replace(high, x=one.right + GAP + 1))


@given(st.lists(words, max_size=20), st.sampled_from([30.0, 60.0, 124.0]))
def test_legend_lines_fit_and_keep_every_letter(entries: list[str], room: float) -> None:
    rows = legend_lines(entries, room, 9.0)
    assert all(width(row, 9.0) <= room + 0.01 or len(row) == 1 for row in rows)
    assert "".join("".join(rows).split()) == "".join("".join(entries).split())


@given(st.lists(st.floats(0, 40), min_size=1, max_size=8))
def test_spread_keeps_order_and_distance(wanted: list[float]) -> None:
    out = spread(wanted, 4.0, 0.0, 40.0)
    order = sorted(range(len(wanted)), key=lambda n: wanted[n])
    steps = [out[b] - out[a] for a, b in itertools.pairwise(order)]
    assert all(step >= 4.0 - 1e-6 for step in steps)
    if len(wanted) * 4.0 <= 40:
        assert all(-1e-6 <= value <= 40 + 1e-6 for value in out)
