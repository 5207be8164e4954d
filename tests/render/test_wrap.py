"""Lines by arithmetic against the PDF engine's own layout."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from cardgen.present.blocks import Note
from cardgen.render.engine import press
from cardgen.render.html import PartSetting, Plan, card_html
from cardgen.render.sizes import SIZES
from cardgen.render.wrap import lines, shorten, split, width
from tests.render import samples, samples_more

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
