"""The reader and everything behind it against hostile files: faults or a rig, never an exception.

The long run, 20,000 new inputs of each kind instead of 100:
``pytest tests/hardening/test_reader.py --hypothesis-profile long``. What fails is kept and tried
again first.
"""

from __future__ import annotations

import random
import tracemalloc
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.cli import main
from cardgen.model.read import read_rig
from tests.conftest import long_run
from tests.each import each
from tests.hardening.inputs import DATA, PIECES, bent, parts, seeds
from tests.hardening.swallow import RIG, swallow
from tests.model.test_mutations import OTHER
from tests.source.memory import Memory

SMALL = (DATA / "small.yaml").read_bytes()

ROUNDS = 240
"""Bent files that are the same in every run [-]."""


def test_every_seed_is_a_rig() -> None:
    assert len(seeds()) >= 8
    assert {swallow(text) for text in seeds()} == {"rig"}


def test_bent_files() -> None:
    """The same files in every run; what fails is named by its number."""
    counts = {"rig": 0, "faults": 0}
    for number in range(ROUNDS):
        text = bent(random.Random(number))
        try:
            counts[swallow(text)] += 1
        except Exception as problem:
            problem.add_note(f"bent(random.Random({number})) = {text!r}")
            raise
    assert min(counts.values()) > 20, counts


@given(st.randoms(use_true_random=False))
def test_bent_files_that_hypothesis_chooses(chance: random.Random) -> None:
    swallow(bent(chance))


@given(st.lists(st.sampled_from(PIECES), max_size=60).map(b"".join))
def test_pieces_in_any_order(text: bytes) -> None:
    swallow(text)


@given(st.binary(max_size=400))
def test_any_bytes(text: bytes) -> None:
    swallow(text)


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=60))
def test_any_text_in_quotes_is_a_note_or_a_located_fault(words: str) -> None:
    quoted = "'" + words.replace("'", "''") + "'"
    found = read_rig(RIG, Memory({RIG.name: SMALL + f"note: {quoted}\n".encode(), **parts()}))
    assert (found.rig is None) == bool(found.faults)
    if words.isprintable() and found.rig is not None:
        assert found.rig.note == words


@given(st.text(max_size=30), st.sampled_from(["vehicle", "trailer", "gear", "cases"]))
def test_any_text_as_the_name_of_a_part(name: str, where: str) -> None:
    store = Memory({RIG.name: SMALL + f"{where}x:\n  part: {name!r}\n".encode(errors="replace")})
    read_rig(RIG, store)
    for path in store.asked:
        assert ".." not in path.parts
        assert path == RIG or path.parts[0] == "parts"
        assert not path.is_absolute()


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
def test_bombs_are_refused(name: str) -> None:
    """In bounded memory too, which is measured in the long run; the reader by itself is measured always."""
    swallow(seeds()[0])
    if not long_run():
        assert swallow(BOMBS[name]) == "faults"
        return
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


@each("text", list(OTHER.values()))
def test_a_bomb_as_a_part(text: str) -> None:
    swallow(seeds()[0].replace(b"part: vehicles/", b"part: " + text.encode()))
