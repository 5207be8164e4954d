"""Contact sheets: every face of every card of a build, side by side, one picture per rig.

``python -m tests.docs.contact [BUILD [OUT [DPI]]]`` reads ``build`` and writes
``build/contact/<rig>.png`` at 110 dpi unless told otherwise.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pypdfium2 as pdfium
from PIL import Image

GAP = 12
PER_ROW = 6


def faces(pdf: Path, dpi: float) -> list[Image.Image]:
    """Every page of a PDF as a picture."""
    document = pdfium.PdfDocument(pdf)
    try:
        return [page.render(scale=dpi / 72).to_pil() for page in document]
    finally:
        document.close()


def sheet(pictures: list[Image.Image]) -> Image.Image:
    """Put pictures into rows on grey."""
    rows = [pictures[n : n + PER_ROW] for n in range(0, len(pictures), PER_ROW)]
    width = max(sum(p.width + GAP for p in row) for row in rows) + GAP
    height = sum(max(p.height for p in row) + GAP for row in rows) + GAP
    made = Image.new("RGB", (width, height), "#888888")
    y = GAP
    for row in rows:
        x = GAP
        for picture in row:
            made.paste(picture, (x, y))
            x += picture.width + GAP
        y += max(p.height for p in row) + GAP
    return made


def main(argv: list[str]) -> int:
    """Write one picture per rig folder that holds cards."""
    build = Path(argv[0]) if argv else Path("build")
    out = Path(argv[1]) if len(argv) > 1 else build / "contact"
    dpi = float(argv[2]) if len(argv) > 2 else 110.0
    out.mkdir(parents=True, exist_ok=True)
    for folder in sorted(p for p in build.iterdir() if p.is_dir() and p.name not in ("sheets", "contact")):
        pictures = [face for pdf in sorted(folder.glob("*.pdf")) for face in faces(pdf, dpi)]
        if pictures:
            target = out / f"{folder.name}.png"
            sheet(pictures).save(target)
            print(target)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
