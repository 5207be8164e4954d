"""The list of rows itself: all are tried, all failures are told, and none is lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.each import each


def test_every_row_is_tried_and_every_failure_named() -> None:
    seen: list[tuple[int, str]] = []

    @each("word", ["a", "b"])
    @each(("number", "most"), [(1, 2), (3, 2), (4, 2)])
    def over(number: int, most: int, word: str) -> None:
        seen.append((number, word))
        assert number <= most, f"{number} is above"

    with pytest.raises(AssertionError) as caught:
        over()
    told = str(caught.value)
    assert seen == [(n, w) for w in "ab" for n in (1, 3, 4)]
    assert told.startswith("4 of 6 rows fail:")
    for number in (3, 4):
        for word in "ab":
            assert f"word='{word}', number={number}, most=2: AssertionError: {number} is above" in told
    assert "number=1," not in told


def test_a_failure_of_any_kind_is_told() -> None:
    @each("kind", ["fail", "error", "right"], ids=str.upper)
    def broken(kind: str) -> None:
        if kind == "fail":
            pytest.fail("said so")
        if kind == "error":
            raise KeyError("odd")

    with pytest.raises(
        AssertionError, match=r"2 of 3 rows fail:\n  kind=FAIL: .*said so\n  kind=ERROR: KeyError"
    ):
        broken()


def test_a_test_that_cannot_fail_is_refused() -> None:
    with pytest.raises(ValueError, match="no rows"):
        each("a", [])
    with pytest.raises(ValueError, match="no rows"):
        each("a, b", [(1, 2), (1,)])
    with pytest.raises(ValueError, match="does not take"):
        each("other", [1])(lambda a: None)


@each("number", [1, 2])
def test_fixtures_are_handed_on(tmp_path: Path, number: int) -> None:
    assert tmp_path.is_dir()
    assert number
