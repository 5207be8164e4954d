"""The picture of README, made from the built demo rig: ``python -m tests.docs.picture``."""

from __future__ import annotations

import contextlib
import io
import tempfile
from pathlib import Path

import pypdfium2
from PIL import Image, ImageOps

from cardgen.cli import main
from tests.docs.reading import ROOT

PICTURE = ROOT / ".pictures" / "glovebox-card.png"
RIG = "heron"
DAY = "2026-11-25"
SCALE = 1.6
"""Pixels per point: about 115 to the inch."""
GAP = 28
GROUND = (214, 218, 222)


def faces(folder: Path) -> list[Image.Image]:
    """Front and back of the glovebox card."""
    (file,) = folder.glob("*/glovebox-card.pdf")
    with contextlib.closing(pypdfium2.PdfDocument(file)) as document:
        pages = [page.render(scale=SCALE).to_pil().convert("RGB") for page in document]
    return [ImageOps.expand(page, 1, (150, 155, 160)) for page in pages]


def picture(folder: Path) -> Image.Image:
    """The faces side by side."""
    shown = faces(folder)
    width = sum(face.width for face in shown) + GAP * (len(shown) + 1)
    whole = Image.new("RGB", (width, max(face.height for face in shown) + 2 * GAP), GROUND)
    at = GAP
    for face in shown:
        whole.paste(face, (at, GAP))
        at += face.width + GAP
    return whole.quantize(48)


def build() -> None:
    """Build the rig aside and write the picture."""
    with tempfile.TemporaryDirectory() as name:
        rigs, out = Path(name, "rigs"), Path(name, "build")
        for source in [ROOT / "rigs" / f"{RIG}.yaml", *(ROOT / "rigs" / "parts").rglob("*.yaml")]:
            target = rigs / source.relative_to(ROOT / "rigs")
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(source.read_bytes())
        words = ["build", str(rigs / f"{RIG}.yaml"), "--rigs-dir", str(rigs), "--out", str(out)]
        with contextlib.redirect_stdout(io.StringIO()):
            main([*words, "--date", DAY, "--cards", "glovebox-card", "--jobs", "1"])
        PICTURE.parent.mkdir(exist_ok=True)
        picture(out).save(PICTURE, optimize=True)
    print(f"{PICTURE.relative_to(ROOT)}, {PICTURE.stat().st_size // 1000} kB")


if __name__ == "__main__":
    build()
