"""Every code has a faulty file that triggers exactly it, and an explanation."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import cardgen
from cardgen.model.codes import FAULT_CODES
from cardgen.model.read import read_rig
from cardgen.source.limits import Bounds
from tests.each import each

FAULTY = Path(__file__).parent.parent / "faulty"
PACKAGE = Path(cardgen.__file__).parent
HEAD = "nickname: Thimble\nmarket: us\nvehicle: {kind: suv}\ntrailer: {type: ball, body: utility}\n"
CASES = "cases: [{name: out}]\n"


def _missing(folder: Path) -> Path:
    return folder / "none.yaml"


def _folder(folder: Path) -> Path:
    return folder


def _write(text: str) -> Callable[[Path], Path]:
    def made(folder: Path) -> Path:
        path = folder / "rig.yaml"
        path.write_text(text, encoding="utf-8")
        return path

    return made


def _link(folder: Path) -> Path:
    (folder / "parts").mkdir()
    (folder / "secret.yaml").write_text("kind: suv\n", encoding="utf-8")
    (folder / "parts" / "slate.yaml").symlink_to(folder / "secret.yaml")
    return _write(HEAD.replace("{kind: suv}", "{part: slate}") + CASES)(folder)


def _chain(folder: Path) -> Path:
    (folder / "parts").mkdir()
    for step in range(12):
        (folder / "parts" / f"p{step}.yaml").write_text(f"part: p{step + 1}\n", encoding="utf-8")
    (folder / "parts" / "p12.yaml").write_text("last_tow: 2026-10-04\n", encoding="utf-8")
    return _write(HEAD + CASES + "dates: {part: p0}\n")(folder)


MADE: dict[str, Callable[[Path], Path]] = {
    "file-missing": _missing,
    "file-unreadable": _folder,
    "file-size": _write(HEAD + CASES + "#" * Bounds().size),
    "text-long": _write(HEAD + CASES + f"note: {'long ' * 500}\n"),
    "yaml-nodes": _write(HEAD + CASES + "places: [" + "us-va, " * 20_001 + "]\n"),
    "part-outside": _link,
    "part-size": _chain,
}
"""Samples that are too large for the tree, or that no file can be."""


def test_every_code_has_one_sample() -> None:
    files = {path.stem for path in FAULTY.glob("*.yaml")}
    assert not files & set(MADE)
    assert files | set(MADE) == set(FAULT_CODES)


@each("code", sorted(set(FAULT_CODES) - set(MADE)))
def test_a_faulty_file_triggers_exactly_its_code(code: str) -> None:
    found = read_rig(FAULTY / f"{code}.yaml")
    assert found.rig is None
    assert {fault.code for fault in found.faults} == {code}
    for fault in found.faults:
        lines = Path(fault.file).read_bytes().split(b"\n")
        assert 1 <= fault.line <= len(lines)
        assert 1 <= fault.col <= len(lines[fault.line - 1]) + 1
        assert fault.message
        assert fault.hint


@pytest.mark.parametrize("code", sorted(MADE))
def test_a_made_sample_triggers_exactly_its_code(code: str, tmp_path: Path) -> None:
    found = read_rig(MADE[code](tmp_path))
    assert found.rig is None
    assert {fault.code for fault in found.faults} == {code}


def test_the_samples_differ_from_a_right_file_by_their_fault_only(tmp_path: Path) -> None:
    assert read_rig(_write(HEAD + CASES)(tmp_path)).rig is not None


@each("code", sorted(FAULT_CODES))
def test_every_code_is_explained_in_sentences(code: str) -> None:
    text = FAULT_CODES[code]
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", code)
    assert len(text) >= 30
    assert text.endswith(".")
    assert "\n" not in text


def _constants() -> Iterator[str]:
    """Every text constant of the rooms that raise faults, their registries left out."""
    rooms = [PACKAGE / "source", PACKAGE / "model" / "sense", PACKAGE / "units"]
    for path in (path for room in rooms for path in sorted(room.rglob("*.py")) if path.stem != "codes"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield node.value


def test_no_code_is_raised_that_is_not_registered() -> None:
    looks_like_code = re.compile(r"[a-z]+(-[a-z]+)+")
    not_codes = {"lb-ft", "ft-lb", "lbf-ft", "lb-in"}
    raised = {text for text in _constants() if looks_like_code.fullmatch(text)} - not_codes
    raised.discard("quantity-text")  # the reader tells a missing text as 'node-kind' before
    assert raised <= set(FAULT_CODES)
    single = {code for code in FAULT_CODES if "-" not in code}
    assert set(FAULT_CODES) - raised == single
    assert single <= set(_constants())
