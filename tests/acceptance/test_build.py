"""One command builds every demo rig; an overloaded rig is written and fails in words."""

from __future__ import annotations

import json
import re
from pathlib import Path

from cardgen.present.cards import USUAL
from cardgen.present.cards.short import short
from cardgen.tables.words import say
from tests.acceptance.reading import dense, letters, pages, plain
from tests.acceptance.shed import DAY, DEMO, Shed, cardgen, contents, results_of

NAMED = ("glovebox-card.pdf", "index.html")
PROGRESS = re.compile(r"\d+ rigs to make, \d+ unchanged|\d+ of \d+ rigs.*left")
LARGE = 18.0  # pt
"""Type size of the verdict when a limit is exceeded: twice that of the smallest item (10 pt) less
nothing, so that it is read first; the number is our own, no source."""


def test_the_default_build_is_fine(shed: Shed) -> None:
    assert shed.build.code == 0, shed.build.err
    assert not trouble(shed)
    assert f"{len(DEMO)} rigs: {len(DEMO)} built, 0 unchanged" in shed.build.out


def trouble(shed: Shed) -> list[str]:
    """Lines on stderr other than those that tell how far a slow build is."""
    return [line for line in shed.build.err.splitlines() if not PROGRESS.fullmatch(line)]


def test_the_named_files_are_there(shed: Shed) -> None:
    assert (shed.out / "index.html").is_file()
    slugs = {results_of(shed.rigs / f"{name}.yaml")["slug"] for name in DEMO}
    assert {folder.name for folder in shed.folders()} == slugs
    for folder in shed.folders():
        names = {path.name for path in folder.iterdir()}
        assert names >= {*NAMED, *(f"{card}.pdf" for card in USUAL)}
        assert all(path.stat().st_size > 1000 for path in folder.iterdir())


def test_no_demo_rig_is_over_and_none_is_plainly_empty(shed: Shed) -> None:
    for name in DEMO:
        rig = results_of(shed.rigs / f"{name}.yaml")
        outcomes = [finding["outcome"] for finding in rig["findings"]]
        assert "over" not in outcomes
        assert outcomes.count("within") > 15


def test_a_second_build_changes_nothing(shed: Shed) -> None:
    before = contents(shed.out)
    ran = cardgen("build", "--date", DAY, cwd=shed.root)
    assert ran.code == 0
    assert f"{len(DEMO)} unchanged" in ran.out
    assert contents(shed.out) == before


def test_the_same_input_gives_the_same_bytes(shed: Shed, tmp_path: Path) -> None:
    """Cards and pages hold no clock, no path and no order of chance."""
    (tmp_path / "deeper" / "still").mkdir(parents=True)
    rigs = shed.rigs.relative_to(shed.root)
    again = tmp_path / "deeper" / "still" / rigs
    again.mkdir()
    for path in shed.rigs.rglob("*.yaml"):
        target = again / path.relative_to(shed.rigs)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(path.read_bytes())
    ran = cardgen(
        "build", "mule", "wren", "--date", DAY, "--jobs", "1", cwd=again.parent, TZ="Pacific/Auckland"
    )
    assert ran.code == 0, ran.err
    for folder in (again.parent / "build").glob("*-and-*"):
        assert contents(folder) == contents(shed.out / folder.name)


def test_overloaded_is_written_and_fails(overloaded: Shed) -> None:
    assert overloaded.build.code == 1
    assert not trouble(overloaded)
    assert "Do not tow as described." in overloaded.build.out
    (folder,) = overloaded.folders()
    assert {path.name for path in folder.iterdir()} >= {*NAMED, *(f"{card}.pdf" for card in USUAL)}


def test_overloaded_is_told_with_reasons(overloaded: Shed) -> None:
    rig = results_of(overloaded.rigs / "walrus.yaml")
    over = [finding for finding in rig["findings"] if finding["outcome"] == "over"]
    assert {"trailer-gross", "tow-rating", "combination"} <= {one["code"] for one in over}
    for finding in over:
        assert f"OVER: {finding['title']}" in overloaded.build.out
    told = [line for line in overloaded.build.out.splitlines() if line.startswith("  OVER: ")]
    assert len(told) == len(over)


def test_the_banner_is_large_and_says_why(overloaded: Shed) -> None:
    front = pages(overloaded.out / "walrus-and-pebble" / "glovebox-card.pdf")[0]
    large = letters(char for char in front.chars if char.size >= LARGE)
    assert dense("Do not tow as described") in large
    rig = results_of(overloaded.rigs / "walrus.yaml")
    over = [finding for finding in rig["findings"] if finding["outcome"] == "over"]
    named = [
        one
        for one in over
        if dense(say(short(one["code"], one["title"]), "us")).lower() in dense(front.text).lower()
        and (one["demand"]["shown"] or "") in plain(front.text)
    ]
    assert len(named) >= 3
    left = len(over) - len(named)
    assert left == 0 or f"{left} more" in front.text


def test_every_card_of_an_overloaded_rig_and_its_pages_say_so(overloaded: Shed) -> None:
    """Whoever holds only the tag, or opens only the page, must not miss it."""
    (folder,) = overloaded.folders()
    for card in sorted(folder.glob("*.pdf")):
        if card.stem in ("arrival-card", "measuring-sheet"):  # for a rig that stands
            continue
        words = " ".join(page.text for page in pages(card))
        assert "do not tow" in words.lower(), card.name
    for page in (folder / "index.html", folder / "borrower.html", overloaded.out / "index.html"):
        assert "o not tow" in plain(page.read_text("utf-8")) or "over" in page.read_text("utf-8").lower()
    assert "Do not tow as described" in (folder / "index.html").read_text("utf-8")


def test_the_summary_for_programs_tells_the_same(overloaded: Shed) -> None:
    ran = cardgen("build", "--date", DAY, "--summary-json", "-", cwd=overloaded.root)
    assert ran.code == 1
    told = json.loads(ran.out)
    assert told["exit"] == 1
    assert told["counts"]["over"] == 1
    assert told["rigs"][0]["outcome"] == "over"
