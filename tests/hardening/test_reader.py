"""The reader and everything behind it against hostile files: faults or a rig, never an exception.

The long run with a coverage-guided fuzzer is ``python -m tests.hardening.fuzz``, see there.
"""

from __future__ import annotations

import random
import tracemalloc
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.cli import main
from tests.each import each
from tests.hardening.inputs import PIECES, bent, seeds
from tests.hardening.swallow import swallow
from tests.model.test_mutations import OTHER

ROUNDS = 1500
"""Bent files in a test run [-]; the long run takes a hundred times as many."""


def test_every_seed_is_a_rig() -> None:
    assert len(seeds()) >= 8
    assert {swallow(text) for text in seeds()} == {"rig"}


@each("part", range(3))
def test_bent_files(part: int) -> None:
    """The same files in every run; what fails is named by its number."""
    counts = {"rig": 0, "faults": 0}
    for number in range(part * ROUNDS // 3, (part + 1) * ROUNDS // 3):
        text = bent(random.Random(number))
        try:
            counts[swallow(text)] += 1
        except Exception as problem:
            problem.add_note(f"bent(random.Random({number})) = {text!r}")
            raise
    assert min(counts.values()) > 20, counts


@given(st.randoms(use_true_random=False))
@settings(max_examples=150, deadline=None)
def test_bent_files_that_hypothesis_chooses(chance: random.Random) -> None:
    swallow(bent(chance))


@given(st.lists(st.sampled_from(PIECES), max_size=60).map(b"".join))
@settings(max_examples=300, deadline=None)
def test_pieces_in_any_order(text: bytes) -> None:
    swallow(text)


@given(st.binary(max_size=400))
@settings(max_examples=200, deadline=None)
def test_any_bytes(text: bytes) -> None:
    swallow(text)


BOMBS = {
    "aliases": b"a: &a [x,x,x,x,x,x,x,x,x]\n"
    + b"".join(b"%c: &%c [%s]\n" % (98 + i, 98 + i, b",".join([b"*%c" % (97 + i)] * 9)) for i in range(20)),
    "merges": b"a: &a {x: 1}\n" + b"".join(b"b%d: {<<: *a, <<: *a}\n" % i for i in range(9000)),
    "brackets": b"a: " + b"[" * 400_000,
    "braces": b"a: " + b"{a: " * 200_000,
    "dashes": b"- " * 300_000,
    "indentation": b"".join(b" " * i + b"a:\n" for i in range(1200)),
    "many fields": b"".join(b"k%d: 1\n" % i for i in range(60_000)),
    "many faults": b"".join(b"k%d: yes\n" % i for i in range(60_000)),
    "one long text": b"note: '" + b"x" * 900_000 + b"'\n",
    "one long key": b"? " + b"x" * 900_000 + b"\n: 1\n",
    "one long number": b"trailer: {gvwr: " + b"9" * 900_000 + b" lb}\n",
    "one long comment": b"#" * 900_000,
    "ten megabytes": b"a: 1\n" * 2_000_000,
    "ten megabytes of nothing": b"\n" * 10_000_000,
    "ten megabytes of zeros": b"\x00" * 10_000_000,
    "wide": "nickname: x\n".encode("utf-16"),
    "wider": "nickname: x\n".encode("utf-32"),
    "latin": "nickname: Zoë\n".encode("latin-1"),
    "half a letter": "nickname: Zoë".encode()[:-1],
    "surrogates": b"nickname: \xed\xa0\xbd\xed\xb8\x80\n",
    "overlong": b"nickname: \xc0\xaf\n",
    "marked": b"\xef\xbb\xbfnickname: x\n",
    "utf-7": b"nickname: +ADw-script+AD4-\n",
    "old mac": b"nickname: x\rmarket: us\r",
    "null": b"nickname: a\x00b\n",
    "endless part": b"nickname: x\npart: " + b"a/" * 100_000 + b"\n",
}


@each("name", BOMBS)
def test_bombs_are_refused_in_bounded_memory(name: str) -> None:
    swallow(seeds()[0])
    tracemalloc.start()
    try:
        assert swallow(BOMBS[name]) == "faults"
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert most < 120_000_000, f"{most / 1e6:.0f} MB"


def test_work_grows_with_the_file_and_no_faster() -> None:
    """Counted calls, not seconds: twice the file, about twice the work at most."""
    import sys

    def calls(text: bytes) -> int:
        count = 0

        def seen(*_: object) -> None:
            nonlocal count
            count += 1

        sys.setprofile(seen)
        try:
            swallow(text)
        finally:
            sys.setprofile(None)
        return count

    for text in (b"k%d: 1\n", b"a: [%d\n", b"? %d\n", b"&a%d \n", b"k%d: 'yes\n", b"cargo%d: {a: 1}\n"):
        small = calls(b"".join(text % i for i in range(500)))
        large = calls(b"".join(text % i for i in range(1000)))
        assert large < 3 * small + 20_000, text


@pytest.mark.parametrize("name", ["aliases", "ten megabytes", "wide", "null", "brackets"])
@pytest.mark.parametrize("command", ["check", "build"])
def test_bombs_on_the_command_line(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    name: str,
    command: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "rigs").mkdir()
    (tmp_path / "rigs" / "bomb.yaml").write_bytes(BOMBS[name])
    assert main([command]) == 3
    said = capsys.readouterr()
    assert "rigs/bomb.yaml" in said.err.replace("\\", "/")
    assert len(said.err) < 300_000
    assert not (tmp_path / "build").exists()


@pytest.mark.parametrize("text", OTHER.values(), ids=OTHER)
def test_a_bomb_as_a_part(text: str) -> None:
    swallow(seeds()[0].replace(b"part: vehicles/", b"part: " + text.encode()))
