"""Heights of blocks by arithmetic, as the style sheet ``styles/card.css`` sets them.

A block becomes a run of atoms: pieces that cannot be broken over two faces. The numbers here
repeat those of the style sheet; a test compares both with the PDF engine's own layout.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from cardgen.present import blocks as b
from cardgen.render import figures
from cardgen.render.fonts import Weight
from cardgen.render.html import Pen
from cardgen.render.scale import Scale
from cardgen.render.wrap import PT, lines

LEADING = 1.27
BORDERS = {"over": (1.6, 1.6, 2.0, 2.4), "close": (0.8, 1.2, 1.4, 2.0), "unknown": (0.5, 1.2, 1.4, 2.0)}
WITHIN = (0.0, 0.2, 0.2, 2.0)  # border, padding above, below and beside [mm]


@dataclass(frozen=True, slots=True)
class Atom:
    """A piece that stays on one face.

    Args:
        height: its own height [mm].
        after: space below it, dropped at the end of a face [mm].
        keep: whether the next atom must stand on the same face.
    """

    height: float
    after: float = 0.0
    keep: bool = False


@dataclass(frozen=True, slots=True)
class Measure:
    """Where blocks are measured: type sizes, drawing helper, space between blocks [mm]."""

    scale: Scale
    pen: Pen
    gap: float

    @property
    def width(self) -> float:
        """Width of the place [mm]."""
        return self.pen.width


def atoms(block: b.Block, place: Measure) -> list[Atom]:
    """Return the pieces of a block, the gap to the next block after the last one."""
    parts = list(_KINDS[block.kind](block, place))  # type: ignore[operator]  # by its own kind
    if parts and block.kind not in ("note", "paragraph", "heading"):
        parts[-1] = replace(parts[-1], after=place.gap)
    return parts


def header(card: b.Card, place: Measure) -> Atom:
    """Return the top of the first face."""
    scale = place.scale
    room = 0.7 * place.width  # the edition stands beside title and name
    height = lines(card.title, scale.table, room) * scale.table * LEADING
    height += lines(card.nickname, scale.name, room, "bold") * scale.name * 1.05
    extra = 0.0
    if card.subtitle:
        height += lines(card.subtitle, scale.table, place.width) * scale.table * LEADING
        extra = 0.5
    return Atom(height * PT + extra + 1.2 + 0.7, 2.4)


def _title(text: str, place: Measure, keep: bool = True) -> Iterator[Atom]:
    if text:
        head = place.scale.head * PT
        count = lines(text, place.scale.head, place.width, "bold")
        yield Atom(count * 1.15 * head, 0.18 * head, keep)


def _note_height(text: str, place: Measure) -> float:
    pt = place.scale.note
    return (0.25 + 1.25 * lines(text, pt, place.width)) * pt * PT if text else 0.0


def _note(block: b.Note, place: Measure) -> Iterator[Atom]:
    yield Atom(_note_height(block.text, place))


def _paragraph(block: b.Paragraph, place: Measure) -> Iterator[Atom]:
    em = place.scale.item * PT
    yield Atom(lines(block.text, place.scale.item, place.width) * LEADING * em, 0.5 * em)


def _heading(block: b.Heading, place: Measure) -> Iterator[Atom]:
    head = place.scale.head * PT
    count = lines(block.text, place.scale.head, place.width, "bold")
    yield Atom(0.4 * head + 0.25 + 0.3 * head + count * 1.15 * head, 0.18 * head, True)


def _banner(block: b.Banner, place: Measure) -> Iterator[Atom]:
    scale = place.scale
    border, above, below, beside = BORDERS.get(block.level, WITHIN)
    room = place.width - 2 * (border + beside) if border else place.width - 1.2 - beside
    pt = scale.over if block.level == "over" else scale.verdict
    height = lines(block.title, pt, room, "bold") * 1.15 * pt * PT
    height += 0.15 * pt * PT if block.level == "over" else 0.0
    height += sum(lines(line, scale.item, room) for line in block.lines) * LEADING * scale.item * PT
    yield Atom(height + 2 * border + above + below)


def _cautions(block: b.Cautions, place: Measure) -> Iterator[Atom]:
    scale = place.scale
    room = place.width - 2 * 2.6
    em = scale.item * PT
    height = 1.0 + 1.2 + 2 * 0.6
    if block.signal:
        height += (1.135 + 0.3) * scale.verdict * PT + 0.8 + 0.35
    if block.title:
        height += lines(block.title, scale.head, room, "bold") * 1.33 * scale.head * PT
    if block.rows and (block.signal or block.title):
        height -= 0.12 * em  # margins collapse
    for row in block.rows:
        height += (0.12 + 1.22 * lines(row.text, scale.item, room - 0.8 * em)) * em
    yield Atom(height)


def _key_numbers(block: b.KeyNumbers, place: Measure) -> Iterator[Atom]:
    yield from _title(block.title, place)
    scale, count = place.scale, place.pen.keys
    room = place.width / count - 0.5 * scale.table * PT
    for start in range(0, len(block.rows), count):
        row = block.rows[start : start + count]
        labels = max(lines(key.label, scale.table, room) for key in row)
        beside = place.width / count - 0.3 * scale.key * PT
        values = max(lines(key.value, scale.key, beside, "bold") for key in row)
        notes = max(lines(key.note, scale.note, place.width / count - 0.6 * scale.note * PT) for key in row)
        text = (0.3 + 1.15 * labels) * scale.table + 1.15 * values * scale.key
        height = 0.25 + (text + 1.2 * notes * scale.note) * PT
        yield Atom(height, 0.35 * scale.item * PT)


def _cells(cells: tuple[str, ...], widths: tuple[float, ...], pt: float, bold: bool) -> int:
    """Lines of the tallest cell of a row."""
    pad = 0.5 * pt * PT
    weight: Weight = "bold" if bold else "regular"
    return max(
        (
            lines(cell, pt, room - (pad if n else 0), weight)
            for n, (cell, room) in enumerate(zip(cells, widths, strict=False))
        ),
        default=0,
    )


def _table(block: b.Table, place: Measure) -> Iterator[Atom]:
    yield from _title(block.title, place)
    pt = place.scale.table
    em = pt * PT
    widths = tuple(place.width * share / 100 for share in block.percent())
    if block.head:
        yield Atom((0.3 + 1.15 * _cells(block.head, widths, pt, False)) * em + 0.35, 0, True)
    for n, row in enumerate(block.rows):
        count = _cells(row, widths, pt, n in block.strong)
        yield Atom((0.3 + 1.25 * max(1, count)) * em + 0.15)
    if block.note:
        yield Atom(_note_height(block.note, place))


def _bars(block: b.Bars, place: Measure) -> Iterator[Atom]:
    yield from _title(block.title, place)
    pt, pen = place.scale.table, place.pen
    em = pt * PT
    shares = (0.31, 0.29, 0.16) if pen.wide else (0.36, 0.40, 0.24)
    widths = tuple(place.width * share for share in shares)
    yield Atom((0.3 + 1.15 * _cells(block.head, widths, pt, False)) * em + 0.35, 0, True)
    for row in block.rows:
        asked = f"{row.demand} of {row.capacity}" if row.capacity else row.demand
        plain = _cells((row.label, asked), widths, pt, False)
        word = _cells(("", "", row.word), widths, pt, True)
        height = 1.25 * max(plain, word) * em
        if not pen.wide:
            label = (1.25 * lines(row.label, pt, widths[0]) + 0.84) * em
            height = max(height, label)
        yield Atom(0.3 * em + height + 0.15)
    if block.note:
        yield Atom(_note_height(block.note, place))


def _line(line: b.CheckLine, prefix: str, place: Measure) -> Atom:
    em = place.scale.item * PT
    return Atom((0.12 + LEADING * place.pen.item(line, prefix).lines) * em)


def _phase_head(phase: b.CheckPhase, place: Measure) -> Iterator[Atom]:
    """Return the phase's title, and the reading mode below it where it does not fit beside it."""
    scale = place.scale
    head = scale.head * PT
    count = lines(phase.title, scale.head, place.width, "bold")
    yield Atom(count * 1.15 * head + 0.75, 0.25 * head, True)
    if phase.reading and not place.pen.reading_beside(phase):
        below = scale.table * PT
        count = lines(phase.reading, scale.table, place.width)
        yield Atom(count * LEADING * below, 0.3 * below, True)


def _checklist(block: b.ChecklistBlock, place: Measure) -> Iterator[Atom]:
    yield from _title(block.title, place)
    scale = place.scale
    if block.has_critical:
        count = lines(block.critical_word, scale.table, place.width)
        yield Atom(count * LEADING * scale.table * PT, 0.3 * scale.table * PT, True)
    for phase in block.phases:
        yield from _phase_head(phase, place)
        for n, line in enumerate(phase.lines, 1):
            atom = _line(line, block.if_fitted_word, place)
            if n == len(phase.lines):
                yield replace(atom, after=0.6 * scale.item * PT)
            else:
                yield replace(atom, keep=phase.short)


def _qr(block: b.Qr, place: Measure) -> Iterator[Atom]:
    code = place.pen.qr(block)
    beside = place.pen.beside(code)
    pt = place.scale.table
    room = place.width - code.side - 1 if beside else place.width
    count = lines(block.caption, pt, room) + lines(block.url_text, pt, room, "bold")
    text = count * LEADING * pt * PT
    yield Atom(max(code.side, 1.6 + text) if beside else code.side + text)


def _drawing(block: b.Drawing, place: Measure) -> Iterator[Atom]:
    yield from _title(block.title, place)
    yield Atom(figures.draw(block.figure, place.width, place.pen.label_pt, block.alt).height)


def _sign(block: b.Sign, place: Measure) -> Iterator[Atom]:
    for title in _title(block.title, place):
        yield replace(title, after=0)  # margins collapse
    pt = place.scale.table
    for row in block.rows:
        yield Atom(9 + 0.25 + lines(row, pt, place.width) * LEADING * pt * PT)


def _pair(block: b.Pair, place: Measure) -> Iterator[Atom]:
    if not place.pen.wide:
        yield from atoms(block.left, place)
        yield from atoms(block.right, place)
        return
    sides = [
        atoms(part, replace(place, pen=place.pen.part(block, n)))
        for n, part in enumerate((block.left, block.right))
    ]
    yield Atom(max(sum(a.height + a.after for a in side) - side[-1].after for side in sides if side))


_KINDS = {
    "banner": _banner,
    "bars": _bars,
    "cautions": _cautions,
    "checklist": _checklist,
    "drawing": _drawing,
    "heading": _heading,
    "key_numbers": _key_numbers,
    "note": _note,
    "pair": _pair,
    "paragraph": _paragraph,
    "qr": _qr,
    "sign": _sign,
    "table": _table,
}
