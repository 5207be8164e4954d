"""Print sheets: places, registration of both sides, marks, ruler, bytes."""

from __future__ import annotations

from io import BytesIO

import pikepdf
import pypdfium2 as pdfium
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.render.marks import RULER, name_mark
from cardgen.render.places import PAPERS, Flip, SheetError, behind, grid
from cardgen.render.sheets import SheetOptions, duplex_sheets, fold_sheets, goes_on
from tests.each import each
from tests.render import inspect_pdf
from tests.render.conftest import printed
from tests.render.inspect_pdf import MM

units = st.tuples(st.floats(40, 200), st.floats(40, 200))


@given(units, st.sampled_from(sorted(PAPERS)), st.booleans())
def test_units_stay_on_the_paper_and_apart(unit: tuple[float, float], paper: str, loose: bool) -> None:
    sheet = grid(PAPERS[paper], unit, 9.0 if loose else 0.0, 6.0)
    places = [sheet.place(n) for n in range(sheet.count)]
    for n, a in enumerate(places):
        assert a.x >= -0.1
        assert a.y >= -0.1
        assert a.x + a.width <= sheet.width + 0.1
        assert a.y + a.height <= sheet.height + 0.1
        for b in places[n + 1 :]:
            assert (
                a.x + a.width <= b.x + 0.01
                or b.x + b.width <= a.x + 0.01
                or a.y + a.height <= b.y + 0.01
                or b.y + b.height <= a.y + 0.01
            )


@given(units, st.sampled_from(["long", "short"]))
def test_turning_the_paper_brings_the_back_behind_the_front(unit: tuple[float, float], flip: Flip) -> None:
    sheet = grid(PAPERS["letter"], unit, 9.0, 6.0)
    for n in range(sheet.count):
        front = sheet.place(n)
        back = behind(front, sheet, flip)
        # Turn the sheet over as the printer does and look where the back comes to lie.
        upright_axis = (flip == "long") == (sheet.height >= sheet.width)
        seen_x = sheet.width - back.x - back.width if upright_axis else back.x
        seen_y = back.y if upright_axis else sheet.height - back.y - back.height
        assert (seen_x, seen_y) == pytest.approx((front.x, front.y))
        assert back.turned is not upright_axis


# Units that fit, computed by hand from the sizes: margins 9 mm, gutters 6 mm, or none.
FITS = [
    ("letter", "half-letter", 2, True),
    ("letter", "4x6", 2, False),
    ("letter", "wallet", 8, False),
    ("a4", "a5", 2, True),
    ("a4", "a6", 4, True),
    ("a4", "4x6", 2, False),
    ("a4", "wallet", 9, False),
    ("a4", "half-letter", 1, False),
]


@each(("paper", "size", "count", "tight"), FITS)
def test_how_many_cards_fit(paper: str, size: str, count: int, tight: bool) -> None:
    (width, height) = inspect_pdf.page_sizes(printed("barest", size).pdf)[0]
    sheet = grid(PAPERS[paper], (width, height), 9.0, 6.0)
    assert sheet.count == count
    assert sheet.tight is tight


def find(pdf: bytes, page: int, words: str) -> list[tuple[float, float]]:
    """Lower left corners of all places of some words on a page [mm]."""
    document = pdfium.PdfDocument(pdf)
    text = document[page].get_textpage()
    search = text.search(words)
    out = []
    while (found := search.get_next()) is not None:
        boxes = [text.get_charbox(found[0] + n) for n in range(found[1])]
        out.append((min(b[0] for b in boxes) * MM, min(b[1] for b in boxes) * MM))
    text.close()
    document.close()
    return out


@each("flip", ["long", "short"])
@each(("size", "paper"), [("half-letter", "letter"), ("4x6", "a4"), ("wallet", "letter")])
def test_backs_register_with_fronts(size: str, paper: str, flip: Flip) -> None:
    name = "wallet" if size == "wallet" else "glovebox"
    card = printed(name, size).pdf
    sheets = duplex_sheets([[card], [card]], SheetOptions(paper, flip, one_rig_per_sheet=False))
    width, height = inspect_pdf.page_sizes(card)[0]
    sheet = grid(PAPERS[paper], (width, height), 9.0, 6.0)
    word = "rigs.example.org" if size == "wallet" else "Juniper"
    pages = len(inspect_pdf.page_sizes(card))
    own = [find(card, n, word) for n in range(pages)]
    for n in range(2 * pages // 2):
        front = sheet.place(n % sheet.count)
        leaf = n % (pages // 2)
        side = 2 * (n // sheet.count)
        back = behind(front, sheet, flip)
        for page, place, wanted in ((side, front, own[2 * leaf]), (side + 1, back, own[2 * leaf + 1])):
            seen = find(sheets.pdf, page, word)
            for x, y in wanted:
                if place.turned:
                    continue  # upside down: compared by the test of the picture below
                assert any(abs(x + place.x - u) < 0.3 and abs(y + place.y - v) < 0.3 for u, v in seen), (
                    n,
                    page,
                )


def test_turned_backs_are_the_card_upside_down() -> None:
    card = printed("glovebox", "half-letter").pdf
    sheets = duplex_sheets([[card]], SheetOptions("letter", "long"))
    single = inspect_pdf.raster(card, 1, 60)
    whole = inspect_pdf.raster(sheets.pdf, 1, 60).rotate(180)
    # Turned about the level axis the card lies at the right; seen upside down at the left end.
    part = whole.crop((whole.width - single.width, 0, whole.width, single.height))
    pairs = zip(part.tobytes(), single.tobytes(), strict=True)
    differing = sum(abs(a - b) > 96 for a, b in pairs)
    assert differing / (single.width * single.height) < 0.02


def test_nudge_moves_backs_only() -> None:
    card = printed("glovebox", "4x6").pdf
    plain = duplex_sheets([[card]], SheetOptions("letter", "short"))
    moved = duplex_sheets([[card]], SheetOptions("letter", "short", nudge=(1.5, -0.5)))
    assert find(plain.pdf, 0, "Juniper") == find(moved.pdf, 0, "Juniper")
    for (x, y), (u, v) in zip(find(plain.pdf, 1, "Juniper"), find(moved.pdf, 1, "Juniper"), strict=True):
        assert (u - x, v - y) == pytest.approx((1.5, -0.5), abs=0.01)


def test_fold_sheet_has_back_left_and_front_right() -> None:
    card = printed("glovebox", "half-letter").pdf
    sheets = fold_sheets([[card]], SheetOptions("letter"))
    assert sheets.pages == 1
    assert inspect_pdf.page_sizes(sheets.pdf) == [pytest.approx((279.4, 215.9), abs=0.01)]
    (front,) = find(sheets.pdf, 0, "SUV with camper")
    (back,) = find(sheets.pdf, 0, "Notes")
    assert front[0] > 139.7 > back[0]
    assert front[0] - 139.7 == pytest.approx(find(card, 0, "SUV with camper")[0][0], abs=0.01)
    assert "fold the left half behind" in sheets.notes[0].lower()


def test_every_leaf_is_printed_once_per_copy() -> None:
    card = printed("glovebox", "4x6").pdf
    leaves = len(inspect_pdf.page_sizes(card)) // 2
    sheets = fold_sheets([[card]], SheetOptions("letter", copies=3))
    assert sheets.pages == 3 * leaves
    both = duplex_sheets([[card]], SheetOptions("letter", copies=3))
    assert both.pages == 2 * -(-3 * leaves // 2)


def test_rigs_share_sheets_only_when_asked() -> None:
    card = printed("wallet", "wallet").pdf
    apart = duplex_sheets([[card], [card]], SheetOptions())
    shared = duplex_sheets([[card], [card]], SheetOptions(one_rig_per_sheet=False))
    assert (apart.pages, shared.pages) == (4, 2)


def test_sizes_are_not_mixed_on_a_sheet() -> None:
    group = [printed("wallet", "wallet").pdf, printed("barest", "4x6").pdf]
    assert duplex_sheets([group], SheetOptions()).pages == 4


@each("fold", [False, True])
def test_same_cards_same_bytes(fold: bool) -> None:
    card = printed("glovebox", "half-letter").pdf
    make = fold_sheets if fold else duplex_sheets
    assert make([[card]], SheetOptions()).pdf == make([[card]], SheetOptions()).pdf


def test_sheets_use_no_font_but_the_cards() -> None:
    card = printed("glovebox", "half-letter").pdf
    made = duplex_sheets([[card]], SheetOptions(corners=True, hole=True))
    assert inspect_pdf.fonts(made.pdf) == inspect_pdf.fonts(card)


def test_codes_still_decode_from_a_sheet() -> None:
    card = printed("glovebox", "half-letter").pdf
    made = fold_sheets([[card]], SheetOptions())
    assert set(inspect_pdf.codes(made.pdf)) == {"https://rigs.example.org/r/juniper/"}


def strokes(pdf: bytes) -> list[tuple[float, float, float, float]]:
    """Straight strokes of the first page's own content [mm]."""
    out: list[tuple[float, float, float, float]] = []
    with pikepdf.open(BytesIO(pdf)) as document:
        at: tuple[float, float] | None = None
        for step in pikepdf.parse_content_stream(document.pages[0]):
            name = str(step.operator)
            if name in ("m", "l"):
                here = (float(step.operands[0]), float(step.operands[1]))
                if name == "l" and at is not None:
                    out.append((*at, *here))
                at = here
    return out


@each("size", ["half-letter", "4x6", "wallet"])
@each("fold", [False, True])
def test_check_ruler_is_fifty_millimetres(size: str, fold: bool) -> None:
    card = printed("barest", size).pdf
    make = fold_sheets if fold else duplex_sheets
    made = make([[card, card]], SheetOptions())
    lengths = [abs(x1 - x0) + abs(y1 - y0) for x0, y0, x1, y1 in strokes(made.pdf)]
    assert any(length == pytest.approx(RULER, abs=1e-6) for length in lengths)
    assert "100 %" in made.notes[0]


def test_crop_marks_point_at_the_card_and_stay_off_it() -> None:
    card = printed("barest", "4x6").pdf
    made = duplex_sheets([[card]], SheetOptions())
    sheet = grid(PAPERS["letter"], (101.6, 152.4), 9.0, 6.0)
    place = sheet.place(0)
    marks = [s for s in strokes(made.pdf) if abs(s[2] - s[0]) + abs(s[3] - s[1]) < 5]
    level = [s for s in marks if s[1] == s[3] and abs(s[1] - place.y) < 0.01]
    assert len(level) >= 2
    for x0, y0, x1, y1 in marks:
        inside = (
            place.x + 0.5 < min(x0, x1) and max(x0, x1) < place.x + place.width - 0.5
            and place.y + 0.5 < min(y0, y1) and max(y0, y1) < place.y + place.height - 0.5
        )  # fmt: skip
        assert not inside


def test_hole_and_corners_are_marked_only_when_asked() -> None:
    card = printed("barest", "4x6").pdf

    def curves(options: SheetOptions) -> int:
        with pikepdf.open(BytesIO(duplex_sheets([[card]], options).pdf)) as document:
            steps = pikepdf.parse_content_stream(document.pages[0])
            return sum(str(step.operator) == "c" for step in steps)

    plain = curves(SheetOptions())
    assert curves(SheetOptions(corners=True)) == plain + 4
    assert curves(SheetOptions(hole=True)) == plain + 4


@each("size", ["letter", "a5"])
def test_faces_that_cannot_be_folded_stand_alone(size: str) -> None:
    """A letter card is as large as the paper; two A5 faces are 296 mm wide, letter paper 279.4 mm."""
    card = printed("glovebox", size).pdf
    assert goes_on(card, "letter")
    sheets = fold_sheets([[card]], SheetOptions("letter"))
    count = len(inspect_pdf.page_sizes(card))
    assert sheets.pages == count
    for page in range(count):
        assert find(sheets.pdf, page, "Juniper")
    assert sheets.notes[0] == "Print at 100 %, one side."


def test_too_large_and_unknown_paper_are_errors() -> None:
    card = printed("barest", "letter").pdf
    assert not goes_on(card, "a4")
    for place in (fold_sheets, duplex_sheets):
        with pytest.raises(SheetError, match=r"215\.9 x 279\.4 mm does not fit a4"):
            place([[card]], SheetOptions("a4"))
    with pytest.raises(SheetError, match="letter, a4"):
        duplex_sheets([[card]], SheetOptions(paper="a3"))


def test_the_rigs_name_stands_where_the_sheet_is_cut() -> None:
    """Above each front, off the cards; where cards fill the sheet there is no paper for it."""
    card = printed("glovebox", "4x6").pdf
    named, bare = (fold_sheets([[card]], SheetOptions(), names) for names in (["Wren and Pebble"], ()))
    counts = []
    for sheets in (named, bare):
        with pikepdf.open(BytesIO(sheets.pdf)) as document:
            counts.append([len(page.Contents.read_bytes()) for page in document.pages])
    assert all(a > b for a, b in zip(*counts, strict=True))
    unit = grid(PAPERS["letter"], (200.0, 120.0), 9.0, 6.0).place(0)
    assert name_mark(unit, grid(PAPERS["letter"], (200.0, 120.0), 9.0, 6.0), "Wren")
    tight = grid(PAPERS["letter"], (215.9, 139.7), 0.0, 0.0)
    assert not name_mark(tight.place(0), tight, "Wren")
