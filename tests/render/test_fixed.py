"""Glovebox and departure card: faces, whole phases, type sizes, codes. Nothing here is printed smaller to fit."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import zxingcpp

from cardgen.model.read import read_rig
from cardgen.present.blocks import Card, CheckLine, ChecklistBlock, CheckPhase, Face, Note, Pair, Qr
from cardgen.present.cards import KINDS
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import Edition, RigView
from cardgen.render import qr
from cardgen.render.engine import press
from cardgen.render.fixed import plain, settle
from cardgen.render.html import ORDINARY, QR_SIDE, Plan, card_html, pen_for
from cardgen.render.pdf import RenderedCard, render_card
from cardgen.render.sizes import CRITICAL, Size, size_of
from cardgen.render.survey import Piece, Survey, survey
from cardgen.render.wrap import PT
from tests.laws.documents import DAY
from tests.laws.rigs import random_rig
from tests.laws.subject import quick
from tests.render.inspect_pdf import chars

ROOT = Path(__file__).parents[2]
FILES = (*sorted((ROOT / "rigs").glob("*.yaml")), ROOT / "tests/data/rigs/overloaded.yaml", ROOT / "tests/data/rigs/small.yaml")  # fmt: skip
LITTLE = {
    "nickname": "Borrowed flatbed",
    "market": "us",
    "note": "Spare key hangs in the shed",
    "vehicle": {"kind": "suv"},
    "trailer": {"type": "ball", "body": "utility", "connector": "4-flat"},
    "cases": [{"name": "as found"}],
}
SEEDS = range(6)
LONG = "https://a-rather-long-name-of-a-shed.example/cards/of-the-rigs/that-are-lent/"


@lru_cache
def views() -> dict[str, RigView]:
    """The demo rigs, one that is over, one of which little is known, and random ones."""
    made = {}
    for file in FILES:
        rig = read_rig(file).rig
        assert rig is not None
        made[file.stem] = prepare(rig, DAY)
    made["little"] = prepare(quick(LITTLE), DAY)
    made |= {f"random {seed}": prepare(quick(random_rig(seed)), DAY) for seed in SEEDS}
    return made


def size_for(card: str, rig_view: RigView) -> Size:
    kind = KINDS[card]
    return size_of(kind.us if rig_view.rig.market == "us" else kind.metric)


@lru_cache(maxsize=64)
def printed(card: str, name: str) -> RenderedCard:
    return render_card(KINDS[card].make(views()[name]), size_for(card, views()[name]))


def pages(pdf: bytes) -> list[str]:
    """Text of each page, without blanks."""
    with pdfium.PdfDocument(pdf) as document:
        return ["".join(page.get_textpage().get_text_range().split()) for page in document]


def test_the_glovebox_has_two_faces_whatever_the_rig() -> None:
    wrong = {
        name: (made.faces, made.problems)
        for name in views()
        if (made := printed("glovebox-card", name)).faces != 2 or made.problems
    }
    assert not wrong


def test_the_departure_card_has_three_faces_at_most_and_breaks_no_phase() -> None:
    wrong = []
    for name in (*(file.stem for file in FILES), "little"):
        made = printed("departure-card", name)
        told = pages(made.pdf)
        if made.faces > 3 or made.problems:
            wrong.append(f"{name}: {made.faces} faces, {made.problems}")
        for phase in phases_of(KINDS["departure-card"].make(views()[name])):
            lines = [line for line in phase.lines if line.critical]
            on = {n for line in lines for n, text in enumerate(told) if "".join(line.text.split()) in text}
            if lines and len(on) != 1:
                wrong.append(f"{name}: {phase.title} on faces {on}")
    assert not wrong


def phases_of(card: Card) -> Iterator[CheckPhase]:
    for face in card.faces:
        for block in face.blocks:
            if isinstance(block, ChecklistBlock):
                yield from block.phases


def test_no_type_under_8_and_critical_lines_of_12() -> None:
    names = [file.stem for file in FILES]
    small = {
        (name, card): letter.pt
        for name in names
        for card in ("glovebox-card", "departure-card")
        for letter in chars(printed(card, name).pdf)
        if letter.pt < 7.99
    }
    assert not small
    # x-height of the regular face is 0.516 em: 2.2 mm asks for 12.1 pt
    assert 0.516 * CRITICAL * 25.4 / 72 >= 2.2
    shown = {round(letter.pt, 2) for letter in chars(printed("departure-card", "heron").pdf)}
    assert {CRITICAL, CRITICAL * ORDINARY} <= shown


def test_bans_keep_their_type_where_the_back_is_full() -> None:
    """Above their lines instead of beside them, and the face is lower for it."""
    rig_view = views()["mule"]
    back = KINDS["glovebox-card"].make(rig_view).faces[1]
    blocks = tuple(replace(b, tight=True) if isinstance(b, ChecklistBlock) else b for b in back.blocks)
    bans = "".join(
        "".join(ban.split())
        for b in blocks
        if isinstance(b, ChecklistBlock)
        for p in b.phases
        for ban in p.bans
    )
    card = KINDS["glovebox-card"].make(rig_view)
    heights = {}
    for name, shown in (("beside", back.blocks), ("above", blocks)):
        made = replace(card, faces=(replace(back, blocks=shown), card.faces[0]))
        page = card_html(
            made, replace(size_of("half-letter"), height=600.0), plain(made, size_of("half-letter"), False)
        )
        found = survey(press().layout(page)[0])
        ban = [piece for piece in found.leaves if "ban" in piece.classes]
        assert "".join("".join(piece.text.split()) for piece in ban) == bans
        assert {round(piece.pt, 2) for piece in ban} == {CRITICAL}
        heights[name] = max(piece.bottom for piece in found.leaves if piece.page == 0 and not piece.margin)
    assert heights["above"] < heights["beside"] - 2.0


def test_killer_lines_take_one_line_each() -> None:
    """By the widths of the font, in every market that the random rigs are of; gear that may not be there excepted."""
    wide = []
    for name, rig_view in views().items():
        card = KINDS["glovebox-card"].make(rig_view)
        pen = pen_for(size_for("glovebox-card", rig_view), CRITICAL, False).beside_gutter()
        for phase in phases_of(card):
            wide += [
                f"{name}: {line.text} ... {line.answer}"
                for line in phase.lines
                if pen.item(line, "", True).low and "if fitted" not in line.text
            ]
    assert not wide


def test_the_front_says_the_owners_note_and_scans_nothing_without_an_address() -> None:
    told = pages(printed("glovebox-card", "little").pdf)[0]
    assert "Sparekeyhangsintheshed" in told
    assert "Noreportaddress" in told
    assert "Scan" not in told


def test_a_long_address_keeps_its_modules_and_is_read_with_a_spot_on_it() -> None:
    """An address of 77 letters with six fields behind it."""
    assert len(LONG) == 77
    address = f"{LONG}heron-and-anvil/?c=g&r=12-464391&f=d92a27&w=5520&t=740&d=2026-11-28"
    code = qr.draw(address, QR_SIDE * CRITICAL * PT, "")
    assert code.module >= 0.5
    rig_view = views()["heron"]
    card = KINDS["glovebox-card"].make(replace(rig_view, edition=Edition(1, dt.date(2026, 11, 28), LONG)))
    blocks = tuple(
        replace(block, right=replace(block.right, payload=address))
        if isinstance(block, Pair) and isinstance(block.right, Qr)
        else block
        for block in card.faces[0].blocks
    )
    made = render_card(
        replace(card, faces=(replace(card.faces[0], blocks=blocks), card.faces[1])), size_of("half-letter")
    )
    assert (made.faces, made.problems) == (2, ())
    with pdfium.PdfDocument(made.pdf) as document:
        picture = np.array(document[0].render(scale=150 / 72).to_pil().convert("L"))
    found = zxingcpp.read_barcodes(picture)
    assert [code.text for code in found] == [address]
    corners = found[0].position
    x, y = (
        (corners.top_left.x + corners.bottom_right.x) // 2,
        (corners.top_left.y + corners.bottom_right.y) // 2,
    )
    picture[y - 6 : y + 6, x - 6 : x + 6] = 255  # a gloss spot of 2 mm
    assert [code.text for code in zxingcpp.read_barcodes(picture)] == [address]


def lines(count: int, weight: int, critical: bool = False) -> tuple[CheckLine, ...]:
    return tuple(
        CheckLine(f"w{weight} {n}", "", critical, id=f"{weight}-{n}", weight=weight) for n in range(count)
    )


def settled(face: Face, line: float, room: float) -> Card:
    """A card of one full face, settled on paper where every line takes as much as is said [mm]."""
    card = Card("x", "X", "Rig", "", "", "", "en-US", (face,))
    size = replace(size_of("half-letter"), height=room + 19.0)

    def measure(card: Card, paper: Size, plan: Plan) -> Survey:
        found = Survey(len(card.faces))
        for page, one in enumerate(card.faces):
            count = sum(len(p.lines) for b in one.blocks if isinstance(b, ChecklistBlock) for p in b.phases)
            count += sum(isinstance(b, Note) for b in one.blocks)
            low = paper.top + count * line
            found.leaves.append(Piece(page, "x", 0, low, 0, low, (0, 0, 0, 0), None, 10.0, (), False))
        return found

    return settle(card, size, False, measure)[0]


def test_a_full_face_gives_up_spare_blocks_then_habits_and_never_what_is_critical() -> None:
    block = ChecklistBlock("", (CheckPhase("p", "", (*lines(5, 3), *lines(5, 2), *lines(10, 0, True))),))
    face = Face((block, Note("signals")), spare=1)
    kept = settled(face, 5.0, 102.0)
    assert kept.faces[0].blocks == (block,)
    assert kept.faces[1].blocks == (Note("signals"),)
    ids = [line.id for phase in phases_of(settled(face, 5.0, 82.0)) for line in phase.lines]
    assert [i for i in ids if i.startswith("0")] == [f"0-{n}" for n in range(10)]
    assert [i for i in ids if i.startswith("2")] == [f"2-{n}" for n in range(5)]
    assert not [i for i in ids if i.startswith("3-4")]
    least = [line.id for phase in phases_of(settled(face, 5.0, 20.0)) for line in phase.lines]
    assert least == [f"0-{n}" for n in range(10)]
