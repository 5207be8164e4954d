"""What is drawn straight into the page: tick boxes, leaders, bars; and the fast way in."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pikepdf

from cardgen.present.blocks import Card
from cardgen.render.engine import BASE, VARIANT, Press, press
from cardgen.render.fixed import plain, settle
from cardgen.render.html import Plan, card_html
from cardgen.render.ink import ink_of
from cardgen.render.sizes import SIZES, Size
from cardgen.render.survey import Mark, Survey, survey
from tests.each import each
from tests.render import inspect_pdf, samples, samples_more
from tests.render.conftest import printed


def page_of(card: Card, size: str) -> str:
    """The page of a card as it is printed."""
    set_card, plan = settle(card, SIZES[size], False, measured)
    return card_html(set_card, SIZES[size], plan)


def measured(card: Card, paper: Size, plan: Plan) -> Survey:
    """Where everything lies on some paper."""
    return survey(press().layout(card_html(card, paper, plan))[0])


def marks_of(card: Card, size: str) -> list[Mark]:
    """Places of ink on the pages of a card."""
    document, _ = press().layout(page_of(card, size))
    return survey(document).marks


@each("size", ["half-letter", "4x6", "letter"])
def test_every_item_has_its_box_and_every_answer_its_leader(size: str) -> None:
    marks = marks_of(samples.glovebox(), size)
    lines = [line for _, _, lines in samples.PHASES for line in lines]
    kinds = [mark.ink.split()[0] for mark in marks]
    assert kinds.count("heavy") == sum(critical for _, _, critical in lines)
    assert kinds.count("tick") == len(lines) - kinds.count("heavy")
    assert kinds.count("dots") == len(lines)
    assert kinds.count("bar") == len(samples.bars().rows)


@each("size", ["half-letter", "4x6", "letter"])
def test_boxes_stand_left_of_their_text_and_are_seen(size: str) -> None:
    pdf = printed("glovebox", size).pdf
    dpi = 200
    chars = inspect_pdf.chars(pdf)
    marks = [m for m in marks_of(samples.glovebox(), size) if m.ink in ("tick", "heavy")]
    for mark in marks:
        picture = inspect_pdf.raster(pdf, mark.page, dpi)
        side = round(0.92 * mark.em * dpi / 25.4)
        x, y = round(mark.left * dpi / 25.4), round((mark.top + 0.23 * mark.em) * dpi / 25.4)
        box = picture.crop((x - 1, y - 1, x + side + 1, y + side + 1))
        dark = sum(box.histogram()[:128]) / (box.width * box.height)
        assert (0.5 if mark.ink == "heavy" else 0.1) < dark < (0.85 if mark.ink == "heavy" else 0.4)
        over = [c for c in chars if c.page == mark.page
                and c.left < mark.left + 0.92 * mark.em and c.right > mark.left
                and c.top < mark.top + mark.em and c.bottom > mark.top + 0.3 * mark.em]  # fmt: skip
        assert over == []


def test_leaders_stand_between_item_and_answer() -> None:
    size = SIZES["half-letter"]
    for mark in marks_of(samples.glovebox(), "half-letter"):
        if mark.ink.startswith("dots"):
            length = float(mark.ink.split()[1])
            assert mark.left + length < size.width - size.side - 3
            assert length > 2


def test_ink_is_an_artifact_in_front_of_the_text() -> None:
    with pikepdf.open(BytesIO(printed("glovebox", "half-letter").pdf)) as document:
        for page in document.pages:
            steps = [str(step.operator) for step in pikepdf.parse_content_stream(page)]
            assert steps[:3] == ["BMC", "q", "cm"]
            assert steps.count("q") == steps.count("Q")
            assert steps.index("EMC") < steps.index("BT")


def test_nothing_is_drawn_where_nothing_is_marked() -> None:
    document, _ = press().layout(page_of(samples_more.barest(), "a6"))
    assert not [page for page in ink_of(survey(document), 148.0) if page]


def _slow(machine: Press, page: str) -> bytes:
    """Print a page by the engine's own parser and its own style sheet."""
    document = machine.weasyprint.HTML(string=page, url_fetcher=machine.fetcher, base_url=BASE).render(
        stylesheets=[machine.css],
        font_config=machine.fonts,
        counter_style=machine.counters,
        pdf_variant=VARIANT,
    )
    return machine.paint(document)[0]


@each(
    ("card", "size"),
    [
        (samples.glovebox(), "half-letter"),
        (samples_more.fullest(), "letter"),
        (samples_more.fullest(), "4x6"),
        (samples_more.absurd(), "a5"),
        (samples_more.wallet(), "wallet"),
        (samples_more.hostile('<b>&amp;"'), "a6"),
    ],
)
def test_the_fast_way_in_gives_the_same_bytes(card: Card, size: str) -> None:
    page = page_of(card, size)
    machine = press()
    document, problems = machine.layout(page)
    assert [problem for problem in problems if problem.code == "engine"] == []
    assert machine.paint(document)[0] == _slow(machine, page)


def test_other_elements_get_the_whole_style_sheet() -> None:
    page = page_of(samples_more.barest(), "a6").replace("<section", "<blockquote>own</blockquote><section", 1)
    machine = press()
    document, _ = machine.layout(page)
    assert machine.paint(document)[0] == _slow(machine, page)


def test_html_that_is_no_xml_is_still_printed() -> None:
    page = page_of(samples_more.barest(), "a6").replace("</section>", "<p>open<br></section>", 1)
    machine = press()
    document, _ = machine.layout(page)
    assert "open" in inspect_pdf.words(machine.paint(document)[0])


def test_pictures_for_browsers_replace_the_ink() -> None:
    card = replace(samples.glovebox())
    plan = plain(card, SIZES["half-letter"], False)
    page = card_html(card, SIZES["half-letter"], plan, None, pictures=True)
    assert page.count("<svg ") == len(samples.bars().rows) + 2  # alert symbol, QR code
    assert "--dots:" in page
    assert 'data-ink="bar' not in page
