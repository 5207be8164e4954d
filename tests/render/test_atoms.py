"""Heights by arithmetic against the PDF engine's own layout."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from cardgen.present.blocks import Block, CheckLine, ChecklistBlock, CheckPhase, Note, Pair
from cardgen.render.atoms import Measure, atoms, header
from cardgen.render.engine import press
from cardgen.render.html import PartSetting, Plan, card_html, default_gap, pen_for
from cardgen.render.sizes import SIZES
from cardgen.render.survey import PX
from cardgen.render.wrap import lines, shorten, split, width
from tests.each import each
from tests.render import samples, samples_more

TOLERANCE = 0.25  # mm
# Margins above a block are part of its arithmetic, but not of the engine's border box.
ABOVE = {"heading": ("head", 0.4), "note": ("note", 0.25)}


def heights(document: Any) -> list[float]:
    """Heights of all blocks directly inside a section [mm], in order."""
    return [
        child.border_height() * PX
        for page in document.pages
        for section in _sections(page._page_box)
        for child in section.children
    ]


def _sections(box: Any) -> Iterator[Any]:
    box = getattr(box, "_box", box)
    if box.element is not None and box.element.tag == "section" and "Block" in type(box).__name__:
        yield box
        return
    for child in getattr(box, "children", ()):
        yield from _sections(child)


def blocks(wide: bool) -> tuple[Block, ...]:
    """Blocks of every kind; on wide faces two of them in a pair."""
    long = CheckPhase("Hitching", "Read, then do. " * 12, (CheckLine("a " * 90, "b " * 40),))
    return (
        *samples_more.every_block(),
        *((Pair(samples.cautions(), samples.code(), 0.66),) if wide else ()),
        ChecklistBlock("", (long,)),
    )


@each("size", ["half-letter", "4x6", "a6", "a5", "letter"])
@each("pt", [10.0, 10.5, 12.0])
def test_every_block_is_as_high_as_the_engine_makes_it(size: str, pt: float) -> None:
    paper = replace(SIZES[size], height=3000.0, columns=1)
    card = replace(samples.glovebox(), faces=(), flow=blocks(paper.wide))
    document, problems = press().layout(card_html(card, paper, Plan((), PartSetting(pt)), None))
    assert [p for p in problems if p.code == "engine"] == []
    pen = pen_for(paper, pt, True)
    place = Measure(pen.scale, pen, default_gap(pt))
    predicted = [header(card, place).height]
    for block in card.flow:
        pieces = atoms(block, place)
        tall = sum(atom.height + atom.after for atom in pieces) - pieces[-1].after
        size_of, share = ABOVE.get(block.kind, ("item", 0.0))
        predicted.append(tall - share * getattr(place.scale, size_of) * 25.4 / 72)
    found = heights(document)
    assert len(found) == len(predicted)
    names = ["header", *(block.kind for block in card.flow)]
    for name, real, wanted in zip(names, found, predicted, strict=True):
        assert wanted == pytest.approx(real, abs=TOLERANCE), name


SENTENCES = [
    "Trailer sways: off the accelerator, wheel straight, no vehicle brakes, trailer brake alone.",
    "Raise tongue and vehicle with the jack before hooking or unhooking the spring bars.",
    "Second touch of latch, pin, chains, cable, plug and jack; chocks out and stowed last.",
    "Computed is not weighed: weigh the loaded rig once, axle by axle, on a public scale.",
    "7-way blade/4-way flat, cross-over, half-full; 12,345 lb at 65 psi (load range E).",
]


def test_lines_are_counted_as_the_engine_breaks_them() -> None:
    # Kerning draws letters together, so the engine may fit a word more; it never fits one less.
    same = total = 0
    for size in ("4x6", "half-letter", "letter"):
        paper = SIZES[size]
        room = paper.column_width(paper.columns)
        for pt in (7.5, 9.0, 10.0, 12.0, 15.0):
            card = replace(samples.glovebox(), faces=(), flow=tuple(map(Note, SENTENCES)))
            style = f"<style>#flow .note {{ font-size: {pt}pt }}</style></head>"
            page = card_html(card, paper, Plan((), PartSetting(10)), None).replace("</head>", style)
            document, _ = press().layout(page)
            rows = [row.strip() for row, note in _texts(document) if note]
            for text in SENTENCES:
                found = _rows_of(rows, text)
                predicted = lines(text, pt, room)
                assert predicted == len(split(text, pt, room))
                assert found <= predicted <= found + 1
                same += found == predicted
                total += 1
    assert total == 75
    assert same >= 70


def _rows_of(rows: list[str], text: str) -> int:
    """Number of lines that make up a text, taken from the front of the list."""
    rest, count = "".join(text.split()), 0
    while rest:
        row = "".join(rows.pop(0).split())
        assert rest.startswith(row)
        rest, count = rest[len(row) :], count + 1
    return count


def _texts(document: Any) -> list[tuple[str, bool]]:
    """Lines of text, and whether each belongs to a note."""
    from cardgen.render.survey import survey

    return [(leaf.text, "note" in leaf.classes) for leaf in survey(document).leaves]


def test_shortened_text_fits() -> None:
    for room in (5.0, 12.0, 40.0):
        cut = shorten(samples_more.LONG, 10, room)
        assert width(cut, 10) <= room
        assert cut.endswith("…")
    assert shorten("Juniper", 10, 50) == "Juniper"


def test_split_keeps_every_letter() -> None:
    for room in (8.0, 20.0, 60.0):
        rows = split(samples_more.LONG + samples_more.WORD, 9, room)
        assert "".join("".join(rows).split()) == "".join((samples_more.LONG + samples_more.WORD).split())
        assert all(width(row, 9) <= room for row in rows)
