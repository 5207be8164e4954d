"""``cardgen explain`` knows every code that any room can give."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import cardgen
from cardgen.checklist.catalog import catalog
from cardgen.commands.exits import MEANINGS
from cardgen.commands.explain import explain
from cardgen.commands.reference import fields
from cardgen.limits.registry import rules
from cardgen.source.codes import ALL_CODES
from cardgen.tables.law import all_rules
from cardgen.tables.words import say
from tests.commands.workspace import DAY, OVERLOADED, ROOT, Run

SAYING = {"fault", "say", "stop", "report", "Fault", "UnitError", "problem", "Problem"}
CODE = re.compile(r"[a-z]+(-[a-z0-9]+)+")


def told_in_source() -> Iterator[tuple[str, str]]:
    """Every literal that is handed over as the code of a fault, with its file."""
    root = Path(cardgen.__file__).parent
    for path in sorted(root.rglob("*.py")):
        if path.parent.name == "render":
            continue  # problems of a layout are bugs of ours and have no code for people
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            first = node.args[0]
            words = first.value if isinstance(first, ast.Constant) else None
            if name in SAYING and isinstance(words, str) and CODE.fullmatch(words):
                yield words, str(path.relative_to(root))


def test_every_code_in_the_source_is_explained() -> None:
    found = dict(told_in_source())
    assert len(found) > 60
    found.pop("quantity-text")  # said of what is no text; the reader has told that by 'node-kind'
    missing = {code: path for code, path in found.items() if explain(code) is None}
    assert missing == {}


def test_every_fault() -> None:
    assert [code for code in ALL_CODES if len(explain(code) or "") <= 30] == []


def test_every_check_with_its_source() -> None:
    assert len(rules()) > 40
    for rule in rules():
        text = explain(rule.code)
        assert text is not None, rule.code
        flat = " ".join(text.split())
        assert rule.basis.value in flat
        assert " ".join(say(rule.source, "us").split())[:40] in flat, rule.code


def test_every_finding_of_the_demo_rigs(run: Run) -> None:
    for file in [*sorted((ROOT / "rigs").glob("*.yaml")), OVERLOADED]:
        ran = run("check", str(file), "--all", "--date", DAY)
        codes = re.findall(r"^(?:over|not checked|close|within)\s+([a-z0-9-]+)  ", ran.out, re.MULTILINE)
        assert len(codes) > 20
        for code in codes:
            assert explain(code) is not None, code


def test_every_exit_code_item_and_field() -> None:
    for code in MEANINGS:
        assert explain(str(int(code))) is not None
    for item in catalog().items:
        assert explain(item.id) is not None, item.id
    for path, _, _ in fields():
        assert explain(path.replace("[]", "").replace(".<name>", ".anything")) is not None, path


def test_the_command_prints_it(run: Run) -> None:
    ran = run("explain", "tongue-share")
    assert ran.code == 0
    assert ran.err == ""
    assert "basis:" in ran.out


def test_a_slip_of_the_pen(run: Run) -> None:
    ran = run("explain", "tounge-share")
    assert ran.code == 2
    assert "did you mean 'tongue-share'?" in ran.err
    ran = run("explain", "x" * 3000)
    assert ran.code == 2
    assert len(ran.err) < 500


def test_law_lists_every_row_with_clause_standing_and_month_the_oldest_first() -> None:
    told = explain("law")
    assert told is not None
    flat = " ".join(told.split())
    for row in all_rules():
        assert f"{row.seen} {row.id} (" in flat, row.id
        assert " ".join(say(row.source.words(), "us").split()) in flat, row.id
    months = re.findall(r"^(\d{4}-\d\d) ", told, re.M)
    assert months == sorted(months)
