"""What the printed cards are, read from the PDF files: sizes, type, margins, fonts, words."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from functools import cache
from pathlib import Path

import pytest

from cardgen.model.read import read_rig
from cardgen.present.blocks import Block, Card, ChecklistBlock, Pair, Table
from cardgen.present.cards import KINDS
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import Edition
from tests.acceptance.reading import (
    MM,
    Page,
    context,
    dense,
    fonts,
    inkless,
    letters,
    overlaps,
    pages,
    plain,
    raster,
)
from tests.acceptance.shed import DAY, DEMO, Shed, results_of

SAFE = 5.0  # mm
HAIR = 0.05  # mm, for the rounding of coordinates in the file
ITEM, CELL = 10.0, 9.0  # pt
ROUNDING = 0.02  # pt
INCH = 25.4
PAPER = {
    "half-letter": (5.5 * INCH, 8.5 * INCH),
    "a5": (148.0, 210.0),
    "4x6": (4 * INCH, 6 * INCH),
    "a6": (105.0, 148.0),
    "wallet": (85.60, 53.98),
    "letter": (8.5 * INCH, 11 * INCH),
    "a4": (210.0, 297.0),
}
"""Width and height [mm]: inches by name, A sizes by ISO 216, ID-1 by ISO/IEC 7810."""
SHEETS = ("borrower-sheet", "delivery-sheet")
ID_1 = ("wallet-card", "tire-tag")
"""Cards that have no room for a foot, nor for a long name [-]."""


@cache
def read(pdf: Path) -> list[Page]:
    return pages(pdf)


def every_card(*sheds: Shed) -> Iterable[Path]:
    found = [path for shed in sheds for path in shed.cards()]
    assert len(found) > len(DEMO) * 5
    return found


def named(pdf: Path) -> str:
    return f"{pdf.parent.name}/{pdf.name}"


def test_exact_page_size(shed: Shed) -> None:
    for pdf in every_card(shed):
        kind = KINDS[pdf.stem]
        metric = pdf.parent.name == "dormouse-and-sixpence"
        width, height = PAPER[kind.metric if metric else kind.us]
        for page in read(pdf):
            assert page.width == pytest.approx(width, abs=0.01), named(pdf)
            assert page.height == pytest.approx(height, abs=0.01), named(pdf)


def test_even_number_of_faces(shed: Shed, overloaded: Shed) -> None:
    """Two faces, or more in pairs; the departure card has three lists, and the back of the third is free."""
    odd = {
        named(pdf): len(read(pdf))
        for pdf in every_card(shed, overloaded)
        if len(read(pdf)) % 2 and (len(read(pdf)), pdf.stem) != (3, "departure-card")
    }
    assert not odd


def test_more_faces_than_a_card_is_to_have_are_said(shed: Shed) -> None:
    for name in DEMO:
        rig = results_of(shed.rigs / f"{name}.yaml")
        for pdf in sorted((shed.out / rig["slug"]).glob("*.pdf")):
            count = len(read(pdf))
            title = f"{KINDS[pdf.stem].title}: {count} faces"
            about = [line for line in shed.build.out.splitlines() if title in line]
            said = any(rig["nickname"] in line or "all rigs" in line for line in about)
            meant = 3 if pdf.stem == "departure-card" else 2
            assert count <= meant or said, f"{named(pdf)} has {count} faces"


def test_every_font_is_ours_and_embedded(shed: Shed, overloaded: Shed) -> None:
    for pdf in every_card(shed, overloaded):
        found = fonts(pdf)
        assert found, named(pdf)
        assert all(found.values()), f"{named(pdf)}: {found}"
        families = {name.partition(",")[0] for name in found}
        assert families == {"IBM-Plex-Sans-Condensed"}, f"{named(pdf)}: {found}"


def test_nothing_is_printed_in_the_margin(shed: Shed, overloaded: Shed) -> None:
    for pdf in every_card(shed, overloaded):
        for page in read(pdf):
            for char in page.chars:
                edges = (
                    char.left * MM,
                    char.top * MM,
                    page.width - char.right * MM,
                    page.height - char.bottom * MM,
                )
                assert min(edges) >= SAFE - HAIR, f"{named(pdf)}: {context(page, char)!r} {edges}"


def test_no_ink_at_all_in_the_margin(shed: Shed) -> None:
    """Drawings, rules and codes keep off the edge too."""
    dpi = 72
    for pdf in every_card(shed):
        for number, _ in enumerate(read(pdf)):
            picture = raster(pdf, number, dpi)
            rim = int(SAFE / INCH * dpi) - 1
            inner = picture[rim:-rim, rim:-rim]
            assert (picture == 255).sum() - (inner == 255).sum() == picture.size - inner.size, named(pdf)


def test_no_letters_on_top_of_each_other(shed: Shed, overloaded: Shed) -> None:
    wrong = []
    for pdf in every_card(shed, overloaded):
        for number, page in enumerate(read(pdf)):
            found = overlaps(page.chars)
            if found:
                one, other = found[0]
                wrong.append(
                    f"{named(pdf)} face {number + 1}: {len(found)} pairs, first "
                    f"{context(page, one)!r} and {context(page, other)!r}"
                )
    assert wrong == []


def test_the_search_for_overlaps_finds_them() -> None:
    """The same letters a millimetre aside count, the same line below does not."""
    pdf = Path(__file__).parent / "overlap.pdf"
    assert len(overlaps(pages(pdf)[0].chars)) > 5
    assert overlaps(pages(pdf)[1].chars) == []


def test_no_letter_is_clipped_or_covered(shed: Shed, overloaded: Shed) -> None:
    dpi = 150
    wrong = []
    for pdf in every_card(shed, overloaded):
        for number, page in enumerate(read(pdf)):
            for char in inkless(page, raster(pdf, number, dpi), dpi):
                wrong.append(f"{named(pdf)} face {number + 1}: {char.text!r} in {context(page, char)!r}")
    assert wrong == []


def test_the_search_for_clipped_letters_finds_them() -> None:
    pdf = Path(__file__).parent / "overlap.pdf"
    third = pages(pdf)[2]
    lost = {char.text for char in inkless(third, raster(pdf, 2, 150), 150)}
    assert lost == set("gone")


def test_type_sizes(shed: Shed) -> None:
    """Every checklist item is 10 pt or more, every table cell 9 pt or more, nothing under 8 pt.

    Where type stands still, lines that are not safety-critical and spare blocks may give way on a full face.
    """
    items = cells = 0
    for name in DEMO:
        file = shed.rigs / f"{name}.yaml"
        for pdf, card in cards_of(shed, file):
            found = read(pdf)
            assert min(char.size for page in found for char in page.chars) >= 8 - ROUNDING, named(pdf)
            big = dense(
                "".join(letters(c for c in page.chars if c.size >= ITEM - ROUNDING) for page in found)
            )
            middle = dense(
                "".join(letters(c for c in page.chars if c.size >= CELL - ROUNDING) for page in found)
            )
            spare = [block for face in card.faces if face.spare for block in face.blocks[-face.spare :]]
            gone = [b for b in spare if isinstance(b, Table) and b.title and dense(b.title) not in big]
            for block in (b for b in blocks(card) if b not in gone):
                if isinstance(block, ChecklistBlock):
                    for line in (line for phase in block.phases for line in phase.lines):
                        if line.weight:
                            continue
                        items += 1
                        assert dense(line.text) in big, f"{named(pdf)}: {line.text}"
                        assert dense(line.answer) in big, f"{named(pdf)}: {line.answer}"
                if isinstance(block, Table):
                    for cell in (cell for row in (block.head, *block.rows) for cell in row):
                        cells += 1
                        assert dense(cell) in middle, f"{named(pdf)}: {cell}"
    assert items > 300
    assert cells > 500


def cards_of(shed: Shed, file: Path) -> Iterable[tuple[Path, Card]]:
    """Every printed card of a rig with the view model it was made from."""
    rig = read_rig(file).rig
    assert rig is not None
    day = dt.date.fromisoformat(DAY)
    rig_view = prepare(rig, day, Edition(1, day, rig.preferences.base_url))
    for pdf in sorted((shed.out / rig_view.slug).glob("*.pdf")):
        yield pdf, KINDS[pdf.stem].make(rig_view)


def blocks(card: Card) -> Iterable[Block]:
    for block in (*(b for face in card.faces for b in face.blocks), *card.flow):
        yield from (block.left, block.right) if isinstance(block, Pair) else (block,)


KEY = {
    "glovebox-card": ("tongue_weight_max", "trailer_weight_max", "pressure_trailer", "allowed_trailer"),
    "wallet-card": (
        "tongue_weight_max", "trailer_weight_max", "pressure_trailer", "pressure_rear", "allowed_trailer",
    ),
    "tire-tag": ("pressure_trailer",),
}  # fmt: skip
CASE = ("trailer_weight", "tongue_weight")


def test_the_key_numbers_can_be_found_in_the_text(shed: Shed) -> None:
    for name in DEMO:
        rig = results_of(shed.rigs / f"{name}.yaml")
        for card, figures in KEY.items():
            words = " ".join(page.text for page in read(shed.out / rig["slug"] / f"{card}.pdf"))
            assert plain(rig["nickname"]) in words or card in ID_1
            for figure in figures:
                shown = rig["figures"][figure]["shown"] or "not checked"
                assert shown in words, f"{name} {card}: {figure} {shown}"
        words = " ".join(page.text for page in read(shed.out / rig["slug"] / "glovebox-card.pdf"))
        for case in rig["cases"]:
            assert case["name"] in words
            for figure in CASE:
                assert (case["figures"][figure]["shown"] or "not checked") in words


def test_revision_and_date_on_every_face(shed: Shed) -> None:
    for pdf in every_card(shed):
        first = read(pdf)[0]
        if pdf.stem not in ID_1:
            assert "25 Nov 2026" in first.text, named(pdf)
            assert all("Revision 1" in page.text for page in read(pdf)), named(pdf)
        assert "evision 1" in " ".join(page.text for page in read(pdf)), named(pdf)


def test_cautions_and_standing_are_on_the_glovebox_card(shed: Shed) -> None:
    for name in DEMO:
        rig = results_of(shed.rigs / f"{name}.yaml")
        words = " ".join(page.text for page in read(shed.out / rig["slug"] / "glovebox-card.pdf"))
        standing = "In part weighed." if rig["weighings"] else "Computed, not weighed."
        assert standing in words
        assert "Local law and makers' manuals come first." in words
