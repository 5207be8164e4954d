"""Read a finished PDF independently of the engine that made it (pikepdf, pypdfium2)."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import pikepdf
import pypdfium2 as pdfium
import pypdfium2.raw as raw
import zxingcpp
from PIL import Image

MM = 25.4 / 72  # mm per pt


@dataclass(frozen=True, slots=True)
class Char:
    """A printed character: page from 0, box from the paper's top left [mm], size [pt]."""

    page: int
    text: str
    left: float
    top: float
    right: float
    bottom: float
    pt: float


def page_sizes(pdf: bytes) -> list[tuple[float, float]]:
    """Media box of every page [mm]."""
    with pikepdf.open(BytesIO(pdf)) as document:
        boxes = [[float(v) for v in page.mediabox] for page in document.pages]
    assert all(box[:2] == [0, 0] for box in boxes)
    return [(box[2] * MM, box[3] * MM) for box in boxes]


def fonts(pdf: bytes) -> dict[str, bool]:
    """Names of all fonts, and whether each is embedded and has a map to Unicode."""
    out: dict[str, bool] = {}
    with pikepdf.open(BytesIO(pdf)) as document:
        for item in document.objects:
            if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/Font":
                if item.get("/Subtype") != "/Type0":
                    if str(item.get("/Subtype")) not in ("/CIDFontType2", "/CIDFontType0"):
                        out[str(item.get("/BaseFont"))] = False
                    continue
                inner = item["/DescendantFonts"][0]["/FontDescriptor"]
                embedded = any(key in inner for key in ("/FontFile2", "/FontFile3"))
                out[str(item["/BaseFont"])] = embedded and "/ToUnicode" in item
    return out


def chars(pdf: bytes) -> list[Char]:
    """Every visible character with its place and size."""
    document = pdfium.PdfDocument(pdf)
    out: list[Char] = []
    for number, page in enumerate(document):
        height = page.get_height()
        text = page.get_textpage()
        for n in range(text.count_chars()):
            char = chr(raw.FPDFText_GetUnicode(text, n))
            if not char.strip() or raw.FPDFText_IsGenerated(text, n) == 1:
                continue
            left, bottom, right, top = text.get_charbox(n)
            matrix = raw.FS_MATRIX()
            raw.FPDFText_GetMatrix(text, n, ctypes.byref(matrix))
            size = raw.FPDFText_GetFontSize(text, n) * abs(matrix.d or matrix.b)
            out.append(
                Char(
                    number, char, left * MM, (height - top) * MM,
                    right * MM, (height - bottom) * MM, size,
                )
            )  # fmt: skip
        text.close()
        page.close()
    document.close()
    return out


def words(pdf: bytes) -> str:
    """All text of the document."""
    document = pdfium.PdfDocument(pdf)
    parts = []
    for page in document:
        text = page.get_textpage()
        parts.append(text.get_text_bounded())
        text.close()
        page.close()
    document.close()
    return "\n".join(parts).replace("\r\n", "\n")


def raster(pdf: bytes, page: int = 0, dpi: int = 150) -> Image.Image:
    """One page as a grey picture."""
    document = pdfium.PdfDocument(pdf)
    picture: Image.Image = document[page].render(scale=dpi / 72, grayscale=True).to_pil()
    document.close()
    return picture


def codes(pdf: bytes, dpi: int = 150) -> list[str]:
    """Texts of all QR codes, decoded from the rasterised pages."""
    count = len(page_sizes(pdf))
    return [code.text for page in range(count) for code in zxingcpp.read_barcodes(raster(pdf, page, dpi))]


def links(pdf: bytes) -> list[str]:
    """Addresses of all link annotations."""
    with pikepdf.open(BytesIO(pdf)) as document:
        return [
            str(note["/A"]["/URI"])
            for page in document.pages
            for note in page.get("/Annots", [])
            if note.get("/Subtype") == "/Link"
        ]


@dataclass(frozen=True, slots=True)
class Structure:
    """Faults of the tagging (ISO 14289-1), each counted; all must be zero or true."""

    language: str
    title: str
    marked: bool
    title_shown: bool
    part: str
    figures_without_text: int
    cells_without_head: int
    skipped_headings: int
    unmarked_paint: int
    marked_in_pages: int
    marked_in_tree: int
    tabs_by_structure: bool


PAINT = {"f", "f*", "F", "S", "s", "B", "B*", "b", "b*", "Tj", "TJ", "'", '"', "Do", "sh"}


def structure(pdf: bytes) -> Structure:
    """Read what PDF/UA asks for and can be checked by a machine without its standard's text."""
    with pikepdf.open(BytesIO(pdf)) as document:
        root = document.Root
        nodes = list(_nodes(root["/StructTreeRoot"]["/K"]))
        tags = [str(node.get("/S")) for node in nodes]
        levels = [int(tag[2:]) for tag in tags if tag[1:2] == "H" and tag[2:].isdigit()]
        unmarked, inside = 0, 0
        for page in document.pages:
            lost, found = _paint(page)
            unmarked, inside = unmarked + lost, inside + found
        with document.open_metadata() as meta:
            part = str(meta.get("pdfuaid:part", ""))
        return Structure(
            language=str(root.get("/Lang", "")),
            title=str(document.docinfo.get("/Title", "")),
            marked=bool(root["/MarkInfo"]["/Marked"]),
            title_shown=bool(root["/ViewerPreferences"]["/DisplayDocTitle"]),
            part=part,
            figures_without_text=sum(
                tag == "/Figure" and "/Alt" not in node for tag, node in zip(tags, nodes, strict=True)
            ),
            cells_without_head=sum(
                tag == "/TD" and "/Headers" not in _attributes(node)
                for tag, node in zip(tags, nodes, strict=True)
            ),
            skipped_headings=sum(b > a + 1 for a, b in zip([0, *levels], levels, strict=False)),
            unmarked_paint=unmarked,
            marked_in_pages=inside,
            marked_in_tree=sum(_ids(node) for node in nodes),
            tabs_by_structure=all(str(page.get("/Tabs")) == "/S" for page in document.pages),
        )


def _nodes(kids: Any) -> Iterator[Any]:
    """Walk the structure tree."""
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            if "/K" in kid:
                yield from _nodes(kid["/K"])


def _attributes(node: Any) -> Any:
    found = node.get("/A", {})
    return found[0] if isinstance(found, pikepdf.Array) and len(found) else found


def _ids(node: Any) -> int:
    """Count marked content that hangs directly on a node."""
    kids = node.get("/K", [])
    total = 0
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, int) or (isinstance(kid, pikepdf.Dictionary) and "/MCID" in kid):
            total += 1
    return total


def _paint(page: Any) -> tuple[int, int]:
    """Count paint operators outside any marked content, and marked content with an id."""
    depth, unmarked, ids = 0, 0, 0
    for step in pikepdf.parse_content_stream(page):
        operands, name = step.operands, str(step.operator)
        if name in ("BDC", "BMC"):
            depth += 1
            if name == "BDC" and isinstance(operands[1], pikepdf.Dictionary):
                ids += "/MCID" in operands[1]
        elif name == "EMC":
            depth -= 1
        elif name in PAINT and depth == 0:
            unmarked += 1
    return unmarked, ids
