"""Printed cards, read back from the finished PDF."""

from __future__ import annotations

from dataclasses import replace
from importlib import import_module
from typing import Any

import pytest

from cardgen.present.blocks import Card, CheckLine, ChecklistBlock, CheckPhase, Note, Pair, Qr
from cardgen.render.faults import FLOORS
from cardgen.render.pdf import render_card
from cardgen.render.sizes import SAFE, SIZES
from tests.conftest import long_run
from tests.each import each
from tests.render import inspect_pdf, samples, samples_more
from tests.render.conftest import CARDS, printed

BIG = tuple(size for size in SIZES if size != "wallet")
OTHERS = ("glovebox", "barest", "absurd")
EVERY = [("fullest", size) for size in BIG]
EVERY += [(card, size) for n, size in enumerate(BIG) for card in (OTHERS if long_run() else (OTHERS[n % 3],))]
EVERY.append(("wallet", "wallet"))


@each(("card", "size"), EVERY)
def test_no_problems_and_an_even_number_of_faces(card: str, size: str) -> None:
    made = printed(card, size)
    assert made.problems == ()
    assert made.faces % 2 == 0
    assert made.faces == len(inspect_pdf.page_sizes(made.pdf))


@each(("card", "size"), EVERY)
def test_page_size_is_exact(card: str, size: str) -> None:
    # Sizes by their names in inches, ISO 216 and ISO/IEC 7810 (ID-1: 85.60 x 53.98 mm).
    wanted = {
        "half-letter": (139.7, 215.9),
        "a5": (148.0, 210.0),
        "4x6": (101.6, 152.4),
        "a6": (105.0, 148.0),
        "wallet": (85.60, 53.98),
        "letter": (215.9, 279.4),
        "a4": (210.0, 297.0),
    }[size]
    for width, height in inspect_pdf.page_sizes(printed(card, size).pdf):
        assert width == pytest.approx(wanted[0], abs=0.01)
        assert height == pytest.approx(wanted[1], abs=0.01)


@each(("card", "size"), EVERY)
def test_only_our_font_and_all_of_it_embedded(card: str, size: str) -> None:
    found = inspect_pdf.fonts(printed(card, size).pdf)
    assert found
    assert all(found.values())
    assert all("IBM-Plex-Sans-Condensed" in name for name in found), found


@each(("card", "size"), EVERY)
def test_nothing_is_printed_near_the_paper_edge(card: str, size: str) -> None:
    paper = SIZES[size]
    for char in inspect_pdf.chars(printed(card, size).pdf):
        nearest = min(char.left, char.top, paper.width - char.right, paper.height - char.bottom)
        assert nearest >= SAFE - 0.05, char


@each(("card", "size"), EVERY)
def test_no_type_under_the_floor_of_notes(card: str, size: str) -> None:
    sizes = {char.pt for char in inspect_pdf.chars(printed(card, size).pdf)}
    assert min(sizes) >= FLOORS["note"] - 0.01


def _sizes_of(pdf: bytes, text: str) -> set[float]:
    """Type sizes in which a text without spaces is printed [pt]."""
    chars = inspect_pdf.chars(pdf)
    line = "".join(char.text for char in chars)
    found: set[float] = set()
    start = line.find(text)
    while start >= 0:
        found |= {round(chars[n].pt, 2) for n in range(start, start + len(text))}
        start = line.find(text, start + 1)
    assert found, f"{text} is not printed"
    return found


@each("size", BIG)
def test_sizes_by_class_read_from_the_pdf(size: str) -> None:
    pdf = printed("glovebox", size).pdf
    assert min(_sizes_of(pdf, "Chockbothsidesofthetrailer")) >= 12.25
    assert min(_sizes_of(pdf, "chocked")) >= 12.25
    assert min(_sizes_of(pdf, "Hitching")) >= 10.75
    assert min(_sizes_of(pdf, "90lb-ft") & _sizes_of(pdf, "50psi") or {14.0}) >= 9
    assert max(_sizes_of(pdf, "50psi")) >= 14
    assert min(_sizes_of(pdf, "Propane,2cylinders")) >= 9
    assert min(_sizes_of(pdf, "Water8.33lbperUSgallon")) >= 8.5


def test_wallet_key_numbers_are_eleven_point() -> None:
    pdf = printed("wallet", "wallet").pdf
    assert min(_sizes_of(pdf, "3,124lb")) >= 11.0
    assert min(_sizes_of(pdf, "Trailertires")) >= 8.5
    assert printed("wallet", "wallet").faces == 2


@each("size", BIG)
def test_every_text_of_the_card_is_printed(size: str) -> None:
    text = "".join(inspect_pdf.words(printed("fullest", size).pdf).split())
    for wanted in _texts(samples_more.every_block()):
        assert "".join(wanted.split()) in text, wanted


def _texts(blocks: tuple[object, ...]) -> list[str]:
    """Texts that stand in one piece whatever the width: short words of the sample."""
    assert len(blocks) > 10
    return [
        "Do not tow as described", "Not checked", "3,124\u00a0lb", "Propane",
        "Black water", "WARNING", "Loading", "Owner", "Departure", "Planned top speed", "60 mph",
        "Kitchen box 45 lb", "Centre of gravity", "15 %: 468", "50 mm ball", "12.1 %",
    ]  # fmt: skip


@each("size", BIG)
def test_absurd_lengths_lose_nothing(size: str) -> None:
    # Long words break anywhere, long lists flow on: letters can be counted.
    text = "".join(inspect_pdf.words(printed("absurd", size).pdf).split())
    assert text.count(samples_more.WORD) + text.count("Donaudampf") >= 40
    squeezed = "".join(samples_more.LONG.split())
    assert squeezed in text
    for row in range(1, 41):
        assert f"{row * 3}lb" in text


@each(("card", "size"), [(c, s) for c, s in EVERY if c == "glovebox" or s in ("a6", "wallet")])
def test_same_card_same_bytes(card: str, size: str) -> None:
    """One card in every size, every card in the size that takes the most faces."""
    again = render_card(CARDS[card](), SIZES[size])
    assert again.pdf == printed(card, size).pdf


def test_bytes_do_not_depend_on_what_was_printed_before() -> None:
    first = printed("glovebox", "half-letter").pdf
    render_card(samples_more.barest(), SIZES["a4"])
    assert render_card(samples.glovebox(), SIZES["half-letter"]).pdf == first


@each(("card", "size"), [e for e in EVERY if e[0] in ("glovebox", "wallet")])
def test_a_card_is_small(card: str, size: str) -> None:
    assert len(printed(card, size).pdf) < 150_000


@each(("card", "size"), EVERY)
def test_code_decodes_from_a_150_dpi_raster(card: str, size: str) -> None:
    if card == "barest":
        assert inspect_pdf.codes(printed(card, size).pdf) == []
        return
    assert set(inspect_pdf.codes(printed(card, size).pdf)) == {samples.URL}


def test_code_is_a_link_and_its_address_is_printed() -> None:
    pdf = printed("fullest", "half-letter").pdf
    assert set(inspect_pdf.links(pdf)) == {samples.URL}
    assert "rigs.example.org/r/juniper" in inspect_pdf.words(pdf)


def test_front_and_checklist_fill_two_faces() -> None:
    made = printed("glovebox", "half-letter")
    assert made.faces == 2
    assert made.notes == ()
    assert made.type_size_pt >= 10


def test_more_items_take_more_faces_and_say_so() -> None:
    made = render_card(samples.glovebox(4), SIZES["half-letter"])
    assert made.faces > 2
    assert made.faces % 2 == 0
    assert any(f"{made.faces} faces" in note for note in made.notes)
    assert made.type_size_pt >= 10
    text = inspect_pdf.words(made.pdf)
    assert text.count("Fit the latch pin") == 4


def test_large_print_is_larger() -> None:
    normal = printed("glovebox", "half-letter")
    large = render_card(samples.glovebox(), SIZES["half-letter"], large_print=True)
    assert large.problems == ()
    assert large.type_size_pt >= 14 > normal.type_size_pt
    assert min(_sizes_of(large.pdf, "Fitthelatchpin")) >= 14


def test_missing_letters_are_named_and_replaced() -> None:
    card = replace(samples.glovebox(), nickname="Juniper \u2603")
    made = render_card(card, SIZES["half-letter"])
    (problem,) = made.problems
    assert problem.code == "glyph"
    assert "U+2603 SNOWMAN" in problem.message
    assert "Juniper ?" in inspect_pdf.words(made.pdf)
    assert all("IBM-Plex" in name for name in inspect_pdf.fonts(made.pdf))


def _flow(*texts: str) -> Card:
    lines = tuple(CheckLine(text, "done") for text in texts)
    return replace(samples.glovebox(), faces=(), flow=(ChecklistBlock("", (CheckPhase("P", "", lines),)),))


def test_card_without_fixed_faces_has_its_header() -> None:
    made = render_card(_flow("Chock"), SIZES["a5"])
    assert made.problems == ()
    text = inspect_pdf.words(made.pdf)
    assert "Revision 3" in text
    assert "neighbourhood" in text
    assert made.faces == 2


def test_what_does_not_fit_a_face_runs_on() -> None:
    card = samples.glovebox()
    face = replace(card.faces[0], blocks=(*card.faces[0].blocks, samples.hitch(), Note("the end")))
    made = render_card(replace(card, faces=(face,)), SIZES["half-letter"])
    assert made.problems == ()
    assert made.faces % 2 == 0
    assert "the end" in inspect_pdf.words(made.pdf)


@each(
    ("size", "length", "said"),
    [
        ("half-letter", 5000, "5000 bytes do not fit a QR code"),
        ("wallet", 700, "700 bytes take a code of"),
    ],
)
def test_a_code_that_cannot_be_printed_is_told_and_left_out(size: str, length: int, said: str) -> None:
    code = Qr("x" * length, "caption")
    card = replace(samples.glovebox(), faces=(), flow=(Pair(Note("n"), code), code))
    made = render_card(card, SIZES[size])
    assert [problem.code for problem in made.problems] == ["qr", "qr"]
    assert said in made.problems[0].message
    assert inspect_pdf.codes(made.pdf) == []
    assert "No QR code here" in inspect_pdf.words(made.pdf)


def test_a_code_of_plain_text_grows_instead_of_getting_finer() -> None:
    text = "Juniper rev 3: tongue 378 lb, trailer 3,124 lb, tires 50 psi, ball 2 in, gain 6.0"
    card = replace(samples.glovebox(), flow=(Qr(text, "Key numbers as text"),))
    made = render_card(card, SIZES["half-letter"])
    assert made.problems == ()
    assert text in inspect_pdf.codes(made.pdf)
    assert inspect_pdf.links(made.pdf) == [samples.URL] * len(inspect_pdf.links(made.pdf))


def test_an_empty_card_is_refused() -> None:
    with pytest.raises(ValueError, match="holds nothing"):
        render_card(replace(samples.glovebox(), faces=(), flow=()), SIZES["a6"])


def test_remembered_lines_are_those_the_engine_breaks(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same bytes whether every line is broken anew, remembered by this card, or by an earlier print of it."""
    made = [render_card(samples.glovebox(), SIZES["half-letter"]).pdf for _ in range(2)]
    for name in ("inline", "preferred"):
        module: Any = import_module(f"weasyprint.layout.{name}")
        monkeypatch.setattr(module, "split_first_line", module.split_first_line.__wrapped__)
    made.append(render_card(samples.glovebox(), SIZES["half-letter"]).pdf)
    assert made[0] == made[1] == made[2]
