"""Black on white: contrast of everything printed, and outcomes told apart without colour."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cardgen.present.figures import LimitBar
from cardgen.present.levels import Level
from cardgen.render.env import templates_dir
from cardgen.render.figures import limit_bar
from tests.each import each
from tests.render import figure_samples, inspect_pdf
from tests.render.conftest import printed


def luminance(hex_colour: str) -> float:
    """Relative luminance (WCAG 2.1)."""
    value = hex_colour.lstrip("#")
    if len(value) == 3:
        value = "".join(c * 2 for c in value)
    parts = [int(value[n : n + 2], 16) / 255 for n in (0, 2, 4)]
    linear = [p / 12.92 if p <= 0.03928 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str = "#fff") -> float:
    """Contrast ratio of two colours (WCAG 2.1)."""
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_formula_gives_the_published_ends() -> None:
    # WCAG 2.1, contrast ratio: 21 for black on white, 1 for equal colours.
    assert contrast("#000") == pytest.approx(21)
    assert contrast("#fff") == pytest.approx(1)
    # 595959 is the lightest grey above 7 on white.
    assert contrast("#595959") > 7 > contrast("#5a5a5a") - 0.15


def colours(text: str) -> set[str]:
    """Colours written in a style sheet, template or drawing."""
    plain = re.sub(r"%23", "#", text)
    return set(re.findall(r"#(?:[0-9a-fA-F]{6}|[0-9a-fA-F]{3})\b", plain))


@each("path", sorted(templates_dir().glob("styles/*")), ids=lambda p: p.name)
def test_colours_of_card_styles(path: Path) -> None:
    if path.name not in ("card.css", "page.css.j2", "extra.css"):
        return
    text = path.read_text("utf-8")
    for colour in colours(text) - {"#fff"}:
        lines = [line for line in text.splitlines() if colour in line.replace("%23", "#")]
        if all("border-bottom: .15mm" in line for line in lines):
            assert contrast(colour) >= 3, colour  # hairlines between rows carry no meaning
        else:
            assert contrast(colour) >= 7, (colour, lines)


def test_drawings_are_black_and_white() -> None:
    from cardgen.render.figures import draw

    for figure in figure_samples.ALL.values():
        assert colours(draw(figure, 124.0, 9.0, "alt").svg) <= {"#000", "#fff"}


def test_printed_text_is_black() -> None:
    # Every printed face holds full black, and no page is mostly ink.
    for card, size in (("glovebox", "half-letter"), ("wallet", "wallet")):
        made = printed(card, size)
        for page in range(made.faces):
            histogram = inspect_pdf.raster(made.pdf, page, 100).histogram()
            ink = sum((255 - grey) / 255 * count for grey, count in enumerate(histogram))
            assert histogram[0] > 0
            assert ink / sum(histogram) < 0.25


def test_outcomes_differ_in_grey_print() -> None:
    # Bars of equal length: how dark each is must tell the four outcomes apart.
    import pypdfium2

    from cardgen.render.engine import press

    levels: tuple[Level, ...] = ("within", "close", "over", "unknown")
    darkness: list[float] = []
    for level in levels:
        bar = limit_bar(LimitBar(None if level == "unknown" else 0.9, level), 40, 4, level).svg
        page = (
            "<html lang=en><title>t</title><style>@page{size:40mm 4mm;margin:0}"
            "svg{display:block}</style><body style='margin:0'>" + bar
        )
        document, _ = press().layout(page)
        pdf, _ = press().paint(document)
        opened = pypdfium2.PdfDocument(pdf)
        picture = opened[0].render(scale=4, grayscale=True).to_pil()
        opened.close()
        histogram = picture.histogram()
        total = sum(histogram)
        darkness.append(sum((255 - g) / 255 * n for g, n in enumerate(histogram)) / total)
    within, close, over, unknown = darkness
    assert within > over + 0.05 > close + 0.10 > unknown + 0.15
