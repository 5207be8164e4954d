"""The owner's texts: one letter more than a place has room for is a fault there, and the engine prints the rest whole."""

from __future__ import annotations

import random
import re
from pathlib import Path

from cardgen.bundle.reading import read_rig
from cardgen.model.read import ReadResult
from cardgen.present.blocks import Bar, Bars, Block, Call, Card, Face, Gauge, Gauges, Paragraph
from cardgen.render.engine import press
from cardgen.render.fixed import plain
from cardgen.render.html import HEAD, ORDINARY, SMALL, card_html
from cardgen.render.ink import TICK_DOWN
from cardgen.render.room import ROOMS, fits, longest
from cardgen.render.sizes import CHOICES, SIZES, WALLET, Size, type_size
from cardgen.render.survey import survey
from tests.source.memory import Memory

LETTERS = "WWMm@ÄÖÜßéØ itlaeon 0189-"
RIG = """\
nickname: {}
market: us
note: {}
vehicle: {{kind: pickup, registration: DEMO 1}}
trailer:
  type: ball
  body: camper
  unit: {}
  tanks:
    {}: {{holds: fresh, capacity: 20 gal, x: 5 ft}}
  bays:
    {}: 4 ft
  cargo:
    - name: {}
cases:
  - name: out
  - name: {}
contacts:
  - who: {}
    phone: {}
preferences:
  cards: [glovebox-card, loading-card, tire-tag, wallet-card]
  large_print: {}
  size: {}
"""
FIELDS = 9


def word(chance: random.Random, count: int = 150) -> str:
    """A text of random letters, wide ones among them."""
    return f"x{''.join(chance.choice(LETTERS) for _ in range(count))}x"


def read(names: list[str], size: str, large: bool) -> ReadResult:
    quoted = [f"'{name}'" for name in names]
    text = RIG.format(*quoted, str(large).lower(), size)
    return read_rig(Path("r.yaml"), Memory({"r.yaml": text.encode()}))


def test_a_text_as_long_as_its_room_is_read_and_one_letter_more_is_a_fault_at_its_place() -> None:
    wrong: list[tuple[str, object]] = []
    for size in CHOICES:
        chance = random.Random(size)
        names = [word(chance) for _ in range(FIELDS)]
        long = sorted(read(names, size, False).faults, key=lambda one: one.line)
        most = [int(one.hint.split()[3]) for one in long]
        whole = read([name[:n].rstrip() for name, n in zip(names, most, strict=True)], size, False)
        more = read([name[: n + 1] for name, n in zip(names, most, strict=True)], size, False).faults
        lines = [n for n, line in enumerate(RIG.splitlines(), 1) if line.count("{}") and n < 21]
        if whole.rig is None or {one.code for one in (*long, *more)} != {"text-room"}:
            wrong.append((size, whole.faults))
        if not [one.line for one in long] == sorted(one.line for one in more) == lines:
            wrong.append((size, long))
    assert not wrong


def card_of(said: dict[str, str], compact: bool) -> Card:
    """A card with nothing on it but texts of the owner's."""
    first: tuple[Block, ...] = (
        Gauges("Weight", "", ("case", "trailer", "now", "at least", "at most"), (Gauge(said["case"], "1", "2", "3", "4", 0.5),), "lb"),
        Bars("Room", (Bar(said["place"], "250 lb", "a rating", 0.5, "", "within"),)),
        Paragraph(said["note"], "Note"),
        Call("no address", "none", said["who"], said["phone"]),
    )  # fmt: skip
    faces = (
        Face(() if compact else first),
        Face((Paragraph("."),), said["tag" if compact else "title"], "aside"),
    )
    return Card(
        "x", "Card", said["name"], said["rig"], "Revision 1", "1 Jan 2026", "en", faces, (), "", "2026-01-01"
    )


def test_the_engine_prints_them_whole_in_their_lines() -> None:
    wrong = []
    for size, large in ((SIZES["half-letter"], False), (SIZES["half-letter"], True), (SIZES["4x6"], False), (SIZES["letter"], False), (SIZES[WALLET], False)):  # fmt: skip
        chance, pt = random.Random(size.id), type_size(size, large)

        def whole(room: str, text: str, size: Size = size, pt: float = pt) -> bool:
            return fits(room, text, size.text_width, pt)

        said = {}
        for room in ROOMS:
            text = word(chance)
            said[room] = text[: longest(text, lambda part, room=room: whole(room, part))].rstrip()  # type: ignore[misc]  # bound now
        card = card_of(said, size.id == WALLET)
        page = card_html(card, size, plain(card, size, large))
        found = survey(press().layout(page)[0])
        rows = ["".join(piece.text.split()) for piece in found.leaves if piece.text]
        for room in ("tag",) if size.id == WALLET else [one for one in ROOMS if one not in ("tag", "thing")]:
            text = "".join(said[room].split())
            parts = [row for row in rows if row in text and len(row) > 3]
            if text not in {"".join(parts), *(a + b for a in parts for b in parts)}:
                wrong.append((size.id, large, room, said[room], parts))
            if len(parts) > ROOMS[room].lines:
                wrong.append((size.id, large, room, said[room], parts))
    assert not wrong


SHEET = {
    (".fixed h2, .fixed h3", "font-size"): HEAD,
    (".fixed th, .fixed td, .fixed .small", "font-size"): SMALL,
    (".fixed .phase li", "font-size"): ORDINARY,
    (".fixed .text", "font-size"): ROOMS["note"].sizes[-1],
    (".fixed .bars th", "font-size"): ROOMS["place"].sizes[-1],
    (".phase li", "background"): TICK_DOWN,
}
"""What Python measures with, by the rule of the style sheets that has it too [em]."""


def test_python_measures_with_the_numbers_of_the_style_sheets() -> None:
    styles = Path(__file__).parents[2] / "templates" / "styles"
    text = "".join((styles / name).read_text("utf-8") for name in ("card.css", "browser.css"))
    wrong = []
    for (selector, name), number in SHEET.items():
        rules = re.findall(rf"(?m)^{re.escape(selector)} \{{([^}}]*)", text)
        found = [float(em) for rule in rules for em in re.findall(rf"{name}:[^;]*?(\d*\.\d+)em", rule)]
        if not any(abs(one - number) < 6e-4 for one in found):
            wrong.append((selector, name, number, found))
    assert not wrong
