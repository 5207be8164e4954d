"""Faults that only the later rooms can see come with line and column, in the same run."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import cardgen
from cardgen.bundle.reading import read_rig
from cardgen.cli import main
from cardgen.model.read import read_rig as read_model
from cardgen.source.codes import (
    ALL_CODES,
    CHECKLIST_CODES,
    FAULT_CODES,
    OUTPUT_CODES,
    SHEET_CODES,
    WISH_CODES,
)

FAULTY = Path(__file__).parent / "faulty"
PACKAGE = Path(cardgen.__file__).parent
LATER = {**CHECKLIST_CODES, **WISH_CODES}
HEAD = """\
nickname: Thimble
market: us
vehicle: {kind: suv}
trailer: {type: ball, body: utility}
cases: [{name: out}]
"""


def test_every_later_code_has_one_sample() -> None:
    assert {path.stem for path in FAULTY.glob("*.yaml")} == set(LATER)


def test_a_faulty_file_triggers_exactly_its_code() -> None:
    wrong = []
    for code in sorted(LATER):
        path = FAULTY / f"{code}.yaml"
        found = read_rig(path)
        lines = path.read_text(encoding="utf-8").splitlines()
        placed = all(
            fault.line >= 6 and 1 <= fault.col <= len(lines[fault.line - 1]) and fault.message and fault.hint
            for fault in found.faults
        )
        alone = found.rig is None and {fault.code for fault in found.faults} == {code}
        if not (placed and alone and read_model(path).rig is not None):
            wrong.append((code, found.faults))
    assert wrong == []


def test_place_and_words(tmp_path: Path) -> None:
    path = tmp_path / "rig.yaml"
    path.write_text(
        HEAD + "checklist:\n  add:\n    - phase: hitchin\n      text: Wave\n  remove:\n    chok: x\n", "utf-8"
    )
    first, second = read_rig(path).faults
    assert str(first) == (
        f"{path}:8:14: checklist.add[0].phase: 'hitchin' is not a phase; did you mean 'hitching'? [checklist-phase]"
    )
    assert (second.line, second.col, second.field) == (11, 5, "checklist.remove.chok")
    assert second.hint == "did you mean 'chock'?"


def test_all_rooms_speak_in_one_run(tmp_path: Path) -> None:
    path = tmp_path / "rig.yaml"
    path.write_text(
        HEAD + "gear: {weight: 50}\nlimits: {close: 5 kg}\nchecklist:\n  remove: {chock: ''}\n"
        "preferences: {cards: [glovebox-card, glovebox-card]}\n",
        encoding="utf-8",
    )
    codes = [fault.code for fault in read_rig(path).faults]
    assert codes == ["quantity-bare", "quantity-kind", "checklist-reason", "listed-twice"]


def test_what_could_not_be_read_is_not_judged_again(tmp_path: Path) -> None:
    path = tmp_path / "rig.yaml"
    path.write_text(
        HEAD + "checklist:\n  add: [{phase: [x], text: {a: b}}]\n  remove: {chock: [x]}\n"
        "preferences: {cards: [{x: z}], size: [a5]}\n",
        encoding="utf-8",
    )
    assert {fault.code for fault in read_rig(path).faults} == {"node-kind"}


@pytest.mark.parametrize("command", ["check", "results"])
def test_commands_refuse_the_file(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    path = FAULTY / "checklist-item.yaml"
    assert main([command, str(path), "--date", "2026-11-25"]) == 3
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(f"{path}:8:5: checklist.remove.ball-sise: 'ball-sise' is not the id")


def test_every_code_that_is_raised_is_registered() -> None:
    looks = re.compile(r"[a-z]+(-[a-z]+)+")
    raised: set[str] = set()
    for path in [*(PACKAGE / "bundle").glob("*.py"), PACKAGE / "checklist" / "changes.py"]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            name = node.func.id if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) else ""
            if isinstance(node, ast.Call) and name.lower() in ("fault", "problem", "checklistproblem"):
                texts = [a.value for a in node.args if isinstance(a, ast.Constant)]
                raised |= {text for text in texts if isinstance(text, str) and looks.fullmatch(text)}
    assert raised - set(FAULT_CODES) == {*LATER, *OUTPUT_CODES}
    assert raised <= set(ALL_CODES)
    assert len(ALL_CODES) == sum(map(len, (FAULT_CODES, LATER, OUTPUT_CODES, SHEET_CODES)))
