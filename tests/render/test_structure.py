"""Tagging of the finished PDF, as far as a machine can check it (ISO 14289-1)."""

from __future__ import annotations

from tests.each import each
from tests.render import inspect_pdf
from tests.render.conftest import printed
from tests.render.test_pdf import EVERY


@each(("card", "size"), EVERY)
def test_tagged_as_pdf_ua_wants_it(card: str, size: str) -> None:
    found = inspect_pdf.structure(printed(card, size).pdf)
    assert found.language == ("en" if card == "barest" else "en-US")
    assert ": " in found.title
    assert found.marked
    assert found.title_shown
    assert found.part == "1"
    assert found.tabs_by_structure
    assert found.figures_without_text == 0
    assert found.cells_without_head == 0
    assert found.skipped_headings == 0
    assert found.unmarked_paint == 0
    assert found.marked_in_pages == found.marked_in_tree > 0
