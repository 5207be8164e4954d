"""The real maker's files: the same whatever was there before, and what pages say of cards that are not made now."""

from __future__ import annotations

import contextlib
import json
import re
import shutil
from pathlib import Path

from cardgen.cli import main
from cardgen.render.env import environment
from tests.bundle.shed import tree_of
from tests.commands.workspace import DAY, write
from tests.packed import measure_data

BARE = """\
nickname: {name}
market: us
vehicle: {{part: vehicles/pickup}}
trailer: {{type: ball, body: utility}}
cases: [{{name: out}}]
"""
"""A rig of which nothing is known but a shared vehicle."""
CARDS = "loading-card,wallet-card,tire-tag"
NEXT = "2026-12-01"


def build(root: Path, *words: str, day: str = DAY) -> None:
    with contextlib.chdir(root):
        assert main(["build", "--date", day, "--quiet", "--jobs", "1", *words]) == 0


def card_data(page: Path) -> dict[str, dict[str, object]]:
    """What the page knows of printed cards, by the letter in their address."""
    found = re.search(r'id="card-data"[^>]*>(.*?)</script>', page.read_text("utf-8"), re.DOTALL)
    assert found is not None
    known: dict[str, dict[str, object]] = json.loads(found[1])["cards"]
    return known


def timeless(out: Path) -> dict[str, bytes]:
    """Every output file, pages without the day on which ages and due dates were reckoned."""
    day = re.compile(rb'(reckoned(?: on |":")).{6,16}?20\d\d')
    return {name: day.sub(rb"\1", (out / name).read_bytes()) for name in tree_of(out)}


def test_what_was_built_before_leaves_no_trace_in_the_output(tmp_path: Path) -> None:
    """Edited and built again, or built from nothing with the same ledger: the same bytes."""
    root, clean = tmp_path / "one", tmp_path / "other"
    root.mkdir()
    write(root, "sanderling")
    file = write(root, "plover")
    build(root, "--cards", CARDS)
    file.write_text(file.read_text("utf-8").replace("2,000 lb", "2,100 lb"), "utf-8")
    build(root, "--cards", CARDS, day=NEXT)
    (root / "build" / "plover" / "loading-card.pdf").unlink()
    build(root, "--cards", CARDS, day=NEXT)
    shutil.copytree(root / "rigs", clean / "rigs")
    build(clean, "--cards", CARDS, day=NEXT)
    assert timeless(root / "build") == timeless(clean / "build")


def test_the_measuring_sheet_is_chosen_as_the_cards_are(tmp_path: Path) -> None:
    with contextlib.chdir(tmp_path):
        assert main(["new", "Finch", "--kind", "horse"]) == 0
    file = tmp_path / "rigs" / "finch.yaml"
    text = file.read_text("utf-8")
    made = []
    for cards in ("wallet-card", "measuring-sheet"):
        file.write_text(text.replace("preferences:\n", f"preferences:\n  cards:\n    - {cards}\n"), "utf-8")
        build(tmp_path)
        made.append(sorted(one.name for one in (tmp_path / "build" / "finch").glob("*.pdf")))
    assert made == [["wallet-card.pdf"], ["measuring-sheet.pdf"]]


def test_cards_that_are_not_made_now_stay_current(tmp_path: Path) -> None:
    """A page of a partial build, or of one without PDFs, knows every card that the ledger holds current."""
    write(tmp_path, "plover")
    page = tmp_path / "build" / "plover" / "use.html"
    build(tmp_path, "--html-only")
    known = card_data(page)
    assert len(known) >= 4
    assert {card["href"] for card in known.values()} == {""}
    build(tmp_path, "--cards", "loading-card")
    some = card_data(page)
    assert some.keys() == known.keys()
    assert sorted(str(card["href"]) for card in some.values() if card["href"]) == ["loading-card.pdf"]
    assert all(some[letter]["changed"] == 1 for letter in known)
    assert "loading-card.pdf" in page.read_text("utf-8")


def test_the_measuring_page_names_the_rigs_that_share_a_part(tmp_path: Path) -> None:
    """Also when one of them comes or goes later: what was built before leaves no trace."""
    page = tmp_path / "build" / "plover" / "measure.html"
    part = tmp_path / "rigs" / "parts" / "vehicles" / "pickup.yaml"
    part.parent.mkdir(parents=True)
    part.write_text("kind: pickup\ngvwr: unknown\n", "utf-8")

    def rigs() -> dict[str, list[str]]:
        build(tmp_path, "--html-only")
        return {one["name"]: one["rigs"] for one in measure_data(page)["files"]}

    for name in ("plover", "heron", "wren"):
        write(tmp_path, name, BARE.format(name=name.title()))
        if name == "plover":
            assert rigs() == {"plover.yaml": [], "parts/vehicles/pickup.yaml": []}
    assert rigs() == {"plover.yaml": [], "parts/vehicles/pickup.yaml": ["heron", "wren"]}
    (tmp_path / "rigs" / "wren.yaml").unlink()
    assert rigs()["parts/vehicles/pickup.yaml"] == ["heron"]


def beside(out: Path) -> set[str]:
    """Names of the files that pages of rigs share."""
    return {f"assets/{one.name}" for one in (out / "assets").glob("*")}


def named(out: Path, rig: str) -> set[str]:
    """Names of those that the pages of one rig take."""
    texts = (page.read_text("utf-8") for page in (out / rig).glob("*.html"))
    return {name for text in texts for name in re.findall(r'="\.\./(assets/[^"]+)"', text)}


def test_what_pages_share_is_there_as_long_as_a_page_takes_it(tmp_path: Path) -> None:
    """Old names stay while a rig was not made anew, and go with its pages; one-file pages take nothing."""
    out, own = tmp_path / "build", tmp_path / "templates" / "styles" / "check.css"
    write(tmp_path, "plover")
    write(tmp_path, "sanderling")
    build(tmp_path, "--html-only")
    first = beside(out)
    assert first == named(out, "plover") == named(out, "sanderling") != set()
    own.parent.mkdir(parents=True)
    own.write_text("p { color: red }", "utf-8")
    build(tmp_path, "--html-only", "plover")
    second = named(out, "plover")
    assert named(out, "sanderling") == first
    assert beside(out) == first | second > first
    (out / min(first - second)).unlink()
    (out / min(second - first)).unlink()
    build(tmp_path, "--html-only")
    assert beside(out) == second == named(out, "plover") == named(out, "sanderling")
    build(tmp_path, "--html-only", "--one-file", "plover")
    assert named(out, "plover") == set()
    assert beside(out) == second == named(out, "sanderling")
    build(tmp_path, "--html-only", "--one-file")
    assert beside(out) == set()
    assert not (out / "assets").exists()
    environment.cache_clear()
