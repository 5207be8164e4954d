"""A locale with comma decimals, or with other digits and months, changes nothing that is printed."""

from __future__ import annotations

import ast
import json
import locale
import os
import subprocess
import sys
from pathlib import Path

import pytest

import cardgen
from cardgen.present.results import plain
from cardgen.units import show
from tests.acceptance.shed import contents
from tests.commands.workspace import DAY, OVERLOADED, ROOT, apart, write

GERMAN = "de_DE.UTF-8"
UNDER = (
    "import locale, sys; locale.setlocale(locale.LC_ALL, sys.argv[1]); "
    "assert locale.localeconv()['decimal_point'] == ',' or sys.argv[1] == 'C'; "
    "from cardgen.cli import main; raise SystemExit(main(sys.argv[2:]))"
)
LOCAL_CALLS = {
    "strftime",
    "strptime",
    "setlocale",
    "format_string",
    "currency",
    "atof",
    "localeconv",
    "ctime",
    "getlocale",
}


@pytest.fixture(scope="module")
def german(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str] | None:
    """Environment in which a German locale exists: the system's, or one made for this test.

    None where neither can be had (no ``localedef``, another system).
    """
    try:
        before = locale.setlocale(locale.LC_ALL)
        locale.setlocale(locale.LC_ALL, GERMAN)
        locale.setlocale(locale.LC_ALL, before)
        return {}
    except locale.Error:
        folder = tmp_path_factory.mktemp("locales")
        made = subprocess.run(
            ["sh", "-c", f"localedef -i de_DE -f UTF-8 '{folder}/{GERMAN}'"], capture_output=True, check=False
        )
        there = made.returncode == 0 or (folder / GERMAN / "LC_NUMERIC").is_file()
        return {"LOCPATH": str(folder)} if there else None


def run(words: list[str], cwd: Path, name: str, more: dict[str, str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", UNDER, name, *words],
        cwd=cwd,
        env=os.environ | {"PYTHONPATH": str(ROOT), "LC_ALL": name} | more,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


def test_output_is_the_same_to_the_byte(tmp_path: Path, german: dict[str, str] | None) -> None:
    """Results, cards and pages under C and under a locale with comma decimals."""
    assert german is not None, "no locale with comma decimals here, nor its source: apt install locales"
    trees, told = [], []
    for number, (name, more) in enumerate((("C", {}), (GERMAN, german))):
        root = tmp_path / str(number)
        root.mkdir()
        write(root, "walrus", OVERLOADED.read_text("utf-8"))
        done = run(["build", "--date", DAY, "--cards", "glovebox-card,tire-tag"], root, name, more)
        assert done.returncode == 1, done.stderr
        trees.append({k: v for k, v in contents(root / "build").items() if not k.startswith(".cardgen")})
        done = run(["results", "walrus", "--json", "--date", DAY], root, name, more)
        assert done.returncode == 1, done.stderr
        told.append(json.loads(done.stdout))
    assert trees[0] == trees[1]
    assert len(trees[0]) == 14
    assert told[0] == told[1]


def test_no_code_asks_the_locale() -> None:
    """What never asks for the locale cannot be changed by it."""
    for path in sorted(Path(cardgen.__file__).parent.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Attribute):
                assert node.attr not in LOCAL_CALLS, f"{path}:{node.lineno}"
            if isinstance(node, (ast.Import, ast.ImportFrom)):
                names = {alias.name for alias in node.names} | {getattr(node, "module", "")}
                assert "locale" not in names, f"{path}:{node.lineno}"
            if isinstance(node, ast.FormattedValue) and isinstance(node.format_spec, ast.JoinedStr):
                spec = "".join(str(p.value) for p in node.format_spec.values if isinstance(p, ast.Constant))
                assert not spec.endswith("n"), f"{path}:{node.lineno}: number format of the locale"


def test_numbers_when_the_locale_says_comma(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        locale, "localeconv", lambda: {"decimal_point": ",", "thousands_sep": ".", "grouping": [3, 0]}
    )
    assert plain(show(1234.5, "mass", "metric", 1)) == "1,234.5 kg"
    assert plain(show(4.5e5, "pressure", "metric")) == "4.50 bar"


@pytest.mark.parametrize("name", ["C", "POSIX", "C.UTF-8", "xx_NO.such", ""])
def test_any_setting_of_the_environment_will_do(tmp_path: Path, name: str) -> None:
    write(tmp_path, "plover", nickname="Zoë")
    ran = apart("check", "--date", DAY, cwd=tmp_path, LC_ALL=name, LANG=name)
    assert ran.code == 0, ran.err
    assert "Zoe" in ran.out or "Zoë" in ran.out
