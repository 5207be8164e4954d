"""Every code has a faulty file that triggers exactly it, and an explanation."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import cardgen
from cardgen.model.read import read_rig
from cardgen.source.codes import (
    ALL_CODES,
    CHECKLIST_CODES,
    FAULT_CODES,
    FILES,
    GEAR,
    GEOMETRY,
    NAMES,
    OUTPUT_CODES,
    PARTS,
    PREFERENCES,
    QUANTITIES,
    SHAPE,
    SHEET_CODES,
    WEIGHTS,
    WISH_CODES,
    YAML,
)  # fmt: skip
from cardgen.source.limits import Bounds

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


def _exact(path: Path, code: str) -> bool:
    """Whether a file gives this code alone."""
    found = read_rig(path)
    return found.rig is None and {fault.code for fault in found.faults} == {code}


def _placed(path: Path) -> bool:
    """Whether every fault of a file has a place in it, a message and a hint."""
    for fault in read_rig(path).faults:
        lines = Path(fault.file).read_bytes().split(b"\n")
        if not 1 <= fault.line <= len(lines) or not 1 <= fault.col <= len(lines[fault.line - 1]) + 1:
            return False
        if not fault.message or not fault.hint:
            return False
    return True


def test_a_faulty_file_triggers_exactly_its_code() -> None:
    files = {code: FAULTY / f"{code}.yaml" for code in FAULT_CODES if code not in MADE}
    assert [code for code, path in files.items() if not _exact(path, code)] == []
    assert [code for code, path in files.items() if not _placed(path)] == []


def test_a_made_sample_triggers_exactly_its_code(tmp_path: Path) -> None:
    wrong = []
    for code, make in MADE.items():
        (folder := tmp_path / code).mkdir()
        if not _exact(make(folder), code):
            wrong.append(code)
    assert wrong == []


def test_the_samples_differ_from_a_right_file_by_their_fault_only(tmp_path: Path) -> None:
    assert read_rig(_write(HEAD + CASES)(tmp_path)).rig is not None


def test_every_code_is_explained_in_sentences() -> None:
    named = re.compile(r"[a-z]+(-[a-z]+)*")
    wrong = [
        code
        for code, text in ALL_CODES.items()
        if not named.fullmatch(code) or len(text) < 30 or not text.endswith(".") or "\n" in text
    ]
    assert wrong == []


def test_no_code_stands_in_two_groups() -> None:
    groups = (FAULT_CODES, CHECKLIST_CODES, WISH_CODES, OUTPUT_CODES, SHEET_CODES)
    assert len(ALL_CODES) == sum(map(len, groups))
    parts = (FILES, YAML, PARTS, SHAPE, QUANTITIES, WEIGHTS, GEOMETRY, NAMES, GEAR, PREFERENCES)
    assert len(FAULT_CODES) == sum(map(len, parts))


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
