"""Bytes to text."""

from __future__ import annotations

import pytest

from cardgen.source.decode import decode
from cardgen.source.faults import Fault, StopReadingError
from cardgen.source.limits import Bounds
from tests.each import each


def refused(raw: bytes) -> Fault:
    with pytest.raises(StopReadingError) as stop:
        decode(raw, "cart.yaml", Bounds())
    return stop.value.found


def test_utf8_passes_with_all_scripts() -> None:
    text = "name: Übersee\nother: עגלה 🛞\nthird: می\u200cروم\n"
    assert decode(text.encode(), "cart.yaml", Bounds()) == text


@each(
    ("raw", "code", "line", "col"),
    [
        (b"\xef\xbb\xbfa: 1\n", "file-bom", 1, 1),
        ("a: 1\n".encode("utf-16"), "file-encoding", 1, 1),
        ("a: 1\n".encode("utf-16-le"), "file-encoding", 1, 1),
        ("a: 1\n".encode("utf-16-be"), "file-encoding", 1, 1),
        ("a: 1\n".encode("utf-32"), "file-encoding", 1, 1),
        ("a: 1\nb: caf\u00e9\n".encode("latin-1"), "file-encoding", 2, 7),
        (b"a: \xed\xa0\x80\n", "file-encoding", 1, 4),
        (b"a: \xc0\xaf\n", "file-encoding", 1, 4),
        (b"a: 1\nb: x\x00y\n", "file-control", 2, 5),
        (b"a: \x1b[31m\n", "file-control", 1, 4),
        (b"a: \x7f\n", "file-control", 1, 4),
        ("a: \u0085\n".encode(), "file-control", 1, 4),
        ("a: \u2028\n".encode(), "file-control", 1, 4),
        ("a: x\u202ey\n".encode(), "file-control", 1, 5),
        ("a: x\u200by\n".encode(), "file-control", 1, 5),
        ("a: x\ufeffy\n".encode(), "file-control", 1, 5),
        ("a: x\uffffy\n".encode(), "file-control", 1, 5),
    ],
)
def test_refused_with_its_place(raw: bytes, code: str, line: int, col: int) -> None:
    found = refused(raw)
    assert (found.code, found.line, found.col) == (code, line, col)


def test_size_is_bounded() -> None:
    assert refused(b"#" * (Bounds().size + 1)).code == "file-size"
    assert len(decode(b"#" * Bounds().size, "cart.yaml", Bounds())) == Bounds().size
