"""``cardgen sheets``: every face of every card on paper of its own kind, and what is left out is named."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pytest

from cardgen.bundle.manifest import read_manifest
from cardgen.commands.exits import Exit
from tests.acceptance.shed import Ran, copy_rigs, here

DAY = "2026-11-25"
PAPERS = {"letter": (612.0, 792.0), "a4": (595.28, 841.89)}
"""Width and height of the papers [pt]: 8.5 x 11 in; ISO 216 A4, 210 x 297 mm."""


@pytest.fixture(scope="module")
def shed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A US rig and a metric one, with their cards."""
    root = tmp_path_factory.mktemp("shed")
    copy_rigs(root / "rigs")
    lent = root / "rigs" / "dormouse.yaml"  # a rig that is lent out has the handover sheet besides
    lent.write_text(f"{lent.read_text(encoding='utf-8')}\nuse: lending\n", encoding="utf-8")
    return root


@pytest.fixture
def at(shed: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.chdir(shed)
    yield shed
    for file in (shed / "build" / "sheets").glob("*"):
        file.unlink()


def sheets(*words: str) -> Ran:
    return here("sheets", "--date", DAY, *words)


def written(ran: Ran) -> list[Path]:
    return [Path(found) for found in re.findall(r"^(\S+\.pdf) \(\d+ pages\)$", ran.out, re.M)]


def faces(pdf: Path) -> int:
    """Card faces placed on the sheets of a document."""
    with pikepdf.open(pdf) as document:
        return sum(len(page.Resources.XObject) for page in document.pages)


def pages(folder: Path, without: str = "") -> int:
    """Faces of the finished cards of a rig; behind an odd one lies a blank."""
    count = 0
    for pdf in folder.glob("*.pdf"):
        if pdf.stem != without:
            with pikepdf.open(pdf) as document:
                count += len(document.pages) + len(document.pages) % 2
    return count


@pytest.mark.parametrize("how", [(), ("--duplex", "long"), ("--duplex", "short")])
def test_each_rig_goes_on_its_own_paper_and_no_face_is_lost(at: Path, how: tuple[str, ...]) -> None:
    ran = sheets("wren", "dormouse", *how)
    assert ran.code == Exit.FINE, ran.err
    found = {path.name.split("-")[-2 if not how else -3]: path for path in written(ran)}
    assert set(found) == {"letter", "a4"}
    for paper, rig in (("letter", "wren-and-pebble"), ("a4", "dormouse-and-sixpence")):
        assert found[paper].name.startswith(rig)
        assert faces(found[paper]) == pages(at / "build" / rig)
        with pikepdf.open(found[paper]) as document:
            for page in document.pages:
                size = sorted(float(page.mediabox[n]) for n in (2, 3))
                assert size == pytest.approx(PAPERS[paper], abs=0.05)
    assert "left out" not in ran.err


def test_a_card_larger_than_the_paper_is_named(at: Path) -> None:
    ran = sheets("dormouse", "--paper", "letter")
    assert ran.code == Exit.FINE
    assert "left out: 'build/dormouse-and-sixpence/borrower-sheet.pdf' is larger than letter" in ran.err
    (pdf,) = written(ran)
    assert faces(pdf) == pages(at / "build" / "dormouse-and-sixpence", without="borrower-sheet")


def test_nothing_that_fits_is_an_error_and_writes_nothing(at: Path) -> None:
    ran = sheets("dormouse", "--paper", "letter", "--cards", "borrower-sheet")
    assert ran.code == Exit.USAGE
    assert "no card goes on letter paper" in ran.err
    assert not list((at / "build" / "sheets").glob("*"))


def test_several_rigs_on_one_paper(at: Path) -> None:
    ran = sheets("wren", "mule", "--cards", "wallet-card", "--mixed")
    (pdf,) = written(ran)
    assert pdf.name == "all-rigs-letter-fold.pdf"
    with pikepdf.open(pdf) as document:
        assert len(document.pages) == 1


def test_copies(at: Path) -> None:
    (once,) = written(sheets("mule", "--cards", "tire-tag"))
    count = faces(once)
    (thrice,) = written(sheets("mule", "--cards", "tire-tag", "--copies", "3"))
    assert faces(thrice) == 3 * count > 0


def test_what_lies_there_is_printed_as_it_was_built(at: Path) -> None:
    """Nothing is built anew with other options, no card goes, and only what changed since is put on paper."""
    built = (
        "build",
        "mule",
        "--date",
        DAY,
        "--cards",
        "hitch-card,tire-tag",
        "--base-url",
        "https://x.example",
    )
    assert here(*built).code == Exit.FINE
    folder = at / "build" / "mule-and-pebble"
    before = {path.name: path.read_bytes() for path in folder.glob("*.pdf")}
    assert "hitch-card.pdf" in before
    (pdf,) = written(sheets("mule", "--cards", "hitch-card"))
    assert faces(pdf) == pages(folder, without="tire-tag")
    assert {path.name: path.read_bytes() for path in folder.glob("*.pdf")} == before
    newest = read_manifest(at / "build").rigs["mule-and-pebble"].number
    for since, count in (("0", 1), ("2026-11-24", 1), (str(newest), 0), (DAY, 0)):
        assert len(written(sheets("mule", "--since", since))) == count, since
    file = at / "rigs" / "mule.yaml"
    text = file.read_text("utf-8")
    file.write_text(f"{text}\n# seen\n", "utf-8")
    ran = sheets("mule")
    assert "changed since it was built" in ran.err
    assert {path.name: path.read_bytes() for path in folder.glob("*.pdf")} == before
    file.write_text(text, "utf-8")
    asked = here(*built[:-2])
    assert asked.code == Exit.USAGE
    assert "have to be printed again: " in asked.err
    assert "--recall" in asked.err
    assert {path.name: path.read_bytes() for path in folder.glob("*.pdf")} == before
    assert here(*built[:-2], "--recall").code == Exit.FINE
