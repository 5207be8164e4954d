"""QR codes: decoded by an independent reader, sized by the module."""

from __future__ import annotations

import math

import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from cardgen.render.qr import MODULE, QUIET, QrTooLongError, draw, matrix
from tests.each import each


def picture(payload: str, scale: int = 4) -> Image.Image:
    """The matrix as a picture with its quiet zone."""
    cells = matrix(payload)
    side = len(cells) + 2 * QUIET
    image = Image.new("L", (side, side), 255)
    for y, row in enumerate(cells):
        for x, dark in enumerate(row):
            image.putpixel((x + QUIET, y + QUIET), 0 if dark else 255)
    return image.resize((side * scale, side * scale), Image.Resampling.NEAREST)


@settings(max_examples=40, deadline=None)
@given(st.text(min_size=1, max_size=120))
def test_any_text_comes_back(payload: str) -> None:
    (code,) = zxingcpp.read_barcodes(picture(payload))
    assert code.bytes.decode("utf-8") == payload
    assert code.ec_level == "Q"


# ISO/IEC 18004, capacity in byte mode at level Q, versions 1 to 10.
CAPACITY = {1: 11, 2: 20, 3: 32, 4: 46, 5: 60, 6: 74, 7: 86, 8: 108, 9: 130, 10: 151}


@each(("version", "most"), CAPACITY.items())
def test_smallest_version_that_holds_the_payload(version: int, most: int) -> None:
    assert draw("a" * most, 10, "t").version == version
    assert draw("a" * (most + 1), 10, "t").version == version + 1


@each("length", [5, 46, 60, 150, 600])
def test_module_is_never_under_half_a_millimetre(length: int) -> None:
    code = draw("x" * length, 22.0, "t")
    assert code.module >= MODULE - 1e-9
    modules = 17 + 4 * code.version + 2 * QUIET
    assert math.isclose(code.side, code.module * modules, abs_tol=1e-6)
    assert code.side >= 22.0


def test_one_path_and_an_alternative_text() -> None:
    code = draw("https://example.org", 22, 'say "<b>"')
    assert code.svg.count("<path") == 1
    assert "<rect" not in code.svg
    assert "<title>say &quot;&lt;b&gt;&quot;</title>" in code.svg


def test_too_long_is_an_error() -> None:
    with pytest.raises(QrTooLongError, match="5000 bytes"):
        draw("x" * 5000, 22, "t")
