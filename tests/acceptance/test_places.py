"""No place for a word or a value is left open in anything a person reads."""

from __future__ import annotations

import re

import pypdfium2

from tests.acceptance.shed import Shed

OPEN = re.compile(r"\{[a-z][a-z_0-9]*\}", re.IGNORECASE)
CODE = re.compile(r"(?s)<(script|style)\b.*?</\1>")


def test_no_place_is_left_open(shed: Shed) -> None:
    left = [f"stdout: {found}" for found in OPEN.findall(shed.build.out + shed.build.err)]
    for path in sorted(shed.out.rglob("*.html")):
        left += [f"{path.name}: {found}" for found in OPEN.findall(CODE.sub("", path.read_text("utf-8")))]
    for path in sorted(shed.out.rglob("*.pdf")):
        with pypdfium2.PdfDocument(path) as document:
            text = " ".join(page.get_textpage().get_text_range() for page in document)
        left += [f"{path.parent.name}/{path.name}: {found}" for found in OPEN.findall(text)]
    assert left == []
