"""Cards whose type stands still: what is left of a face goes between its lines, never into its type.

A face is laid out once on paper without an end, which shows how high it is. What then is left of the real
paper is shared out: first between lines and blocks, the rest above what stands at the foot. A face that is
too full hands its spare blocks to the last face, says less where it can, then gives up its good habits, then other lines that are not safety-critical; on
small paper and in large print it runs on over a further face instead. The real layout is the proof.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from cardgen.present.blocks import (
    Bars,
    Block,
    Card,
    CheckLine,
    ChecklistBlock,
    Face,
    Gauges,
    KeyNumbers,
    Note,
    Pair,
    Table,
)
from cardgen.render.html import GAP, PartSetting, Plan
from cardgen.render.sizes import CRITICAL, LARGE, WALLET, Size, type_size
from cardgen.render.survey import Survey
from cardgen.render.wrap import PT

ENDLESS = 3000.0
"""Height of the paper on which a face is measured [mm]."""
AIR = 1.1
"""What a line may get at most [mm], at 12.25 pt; its pitch is then about 1.5 times its type."""
GAPS = (GAP, 3.2)
"""Space between blocks [mm], least and most."""
SPARE = 0.6
"""Kept free below, for what rounding takes [mm]."""
RULE = 8.15
"""From one ruled line to the next [mm]."""
LEAST_BARS, LEAST_ROWS, LEAST_NUMBERS = 2, 3, 6
"""Bars, rows of a table side by side and key numbers that stay where a face of numbers is too full [-]."""
LINE = 1.24 * 10.75 * PT
"""Height of an ordinary line [mm], by which the number of lines that must go is reckoned."""

Measure = Callable[[Card, Size, Plan], Survey]


def settle(card: Card, size: Size, large_print: bool, measure: Measure) -> tuple[Card, Plan]:
    """Return the card as it fits its faces, and how they are set.

    Args:
        card: view model; what flows goes to a face of notes behind an odd number of faces, or, without faces, runs on
            over as many as it needs.
        size: card size.
        large_print: whether to use the large type.
        measure: lays a card out on some paper and says where everything lies.
    """
    if not card.faces:
        return card, plain(card, size, large_print)
    pt = type_size(size, large_print)
    may_thin = size.id == WALLET or (size.wide and (size.columns > 1 or not large_print))
    room = size.text_height(True) - SPARE
    odd = len(card.faces) % 2 == 1
    if odd and (card.flow or len(card.faces) == 1):
        notes = Face(card.flow, card.words.notes, f"{card.nickname}, {card.title.lower()}")
        card = replace(card, faces=(*card.faces, notes), flow=())
    hands_over = odd or any(isinstance(face.blocks[-1], Note) for face in card.faces if face.spare)
    heights = _heights(card, size, pt, measure)
    while may_thin:
        thinner = _without_spare(card, [high > room for high in heights]) if hands_over else card
        if thinner is card:
            faces = (
                _thinner(face, high - room) if high > room else face
                for face, high in zip(card.faces, heights, strict=True)
            )
            thinner = replace(card, faces=tuple(faces))
        if thinner == card:
            break
        heights = _heights(thinner, size, pt, measure, tuple(zip(card.faces, heights, strict=True)))
        card = thinner
    parts = tuple(_share_out(face, room - high, pt) for face, high in zip(card.faces, heights, strict=True))
    return card, Plan(parts, PartSetting(pt))


def ruled(size: Size) -> int:
    """Return the ruled lines of a face that holds nothing else: eight, fewer on small paper [-]."""
    return min(8, max(0, int((size.text_height(True) - SPARE - 8.0) / RULE)))


def plain(card: Card, size: Size, large_print: bool) -> Plan:
    """Return the plan that shares nothing out, for a printer that cannot be asked for heights."""
    pt = type_size(size, large_print)
    if not card.faces:  # columns on a sheet are as wide as a card
        pt = LARGE if large_print else CRITICAL
    return Plan(tuple(PartSetting(pt) for _ in card.faces), PartSetting(pt, sum(GAPS) / 2))


ELSEWHERE = Face((Note("."),))
"""Stands for a face that need not be measured again, so that the others keep their places."""


def _heights(
    card: Card, size: Size, pt: float, measure: Measure, known: Sequence[tuple[Face, float]] = ()
) -> list[float]:
    """How high each face is without an end of the paper [mm]; one that is known is not laid out again."""
    plan = Plan(tuple(PartSetting(pt) for _ in card.faces), PartSetting(pt))
    before = [next((high for one, high in known if one == face), None) for face in card.faces]
    faces = (face if high is None else ELSEWHERE for face, high in zip(card.faces, before, strict=True))
    found = measure(replace(card, faces=tuple(faces)), replace(size, height=ENDLESS), plan)
    pieces = [piece for piece in (*found.leaves, *found.frames) if not piece.margin]
    return [
        max((piece.bottom for piece in pieces if piece.page == page), default=size.top) - size.top
        if high is None
        else high
        for page, high in enumerate(before)
    ]


def _without_spare(card: Card, full: Sequence[bool]) -> Card:
    """Return the card with the spare blocks of full faces on its last face, the same when there are none.

    A remark stands there first; what else is spare stays so, and stands last.
    """
    *faces, last = card.faces
    spared: list[Block] = []
    for n, face in enumerate(faces):
        if full[n] and face.spare:
            spared += face.blocks[-face.spare :]
            faces[n] = replace(face, blocks=face.blocks[: -face.spare], spare=0)
    if not spared:
        return card
    if isinstance(spared[0], Note):
        last = replace(last, blocks=(*spared, *last.blocks))
    else:
        last = replace(last, blocks=(*last.blocks, *spared), spare=last.spare + len(spared))
    return replace(card, faces=(*faces, last))


def _thinner(face: Face, excess: float) -> Face:
    """Return the face with a little less on it; the same when nothing may go.

    Args:
        face: a face that is too full.
        excess: by how much [mm].
    """
    if face.spare:
        return replace(face, blocks=face.blocks[:-1], spare=face.spare - 1)
    if face.less is not None:
        return face.less
    lines = [line for block in face.blocks for line in _lines(block)]
    if not lines:
        return _shorter(face)
    if any(isinstance(block, ChecklistBlock) and block.gutter and not block.tight for block in face.blocks):
        tight = (replace(b, tight=True) if isinstance(b, ChecklistBlock) else b for b in face.blocks)
        return replace(face, blocks=tuple(tight))
    order = sorted((line for line in reversed(lines) if line.weight), key=lambda line: -line.weight)
    gone = {line.id for line in order[: max(1, round(excess / LINE + 0.5))]}
    if not gone:
        return face
    return replace(face, blocks=tuple(_without(block, gone) for block in face.blocks))


def _shorter(face: Face) -> Face:
    """Return a face of numbers with one row less: of bars, of tables side by side, of key numbers two by two."""
    for kind in (Bars, Pair, KeyNumbers):
        for n, block in enumerate(face.blocks):
            shorter = _one_row_less(block) if isinstance(block, kind) else block
            if shorter != block:
                return replace(face, blocks=(*face.blocks[:n], shorter, *face.blocks[n + 1 :]))
    return face


def _one_row_less(block: Block) -> Block:
    """Return bars, tables side by side or key numbers without their last row, while they have more than the least."""
    if isinstance(block, KeyNumbers) and len(block.rows) > LEAST_NUMBERS:
        return replace(block, rows=block.rows[:-2])
    if isinstance(block, Bars) and len(block.rows) > LEAST_BARS:
        return replace(block, rows=block.rows[:-1])
    if isinstance(block, Pair):
        most = max(_rows(block.left), _rows(block.right))
        return (
            block
            if most <= LEAST_ROWS
            else replace(block, left=_to(block.left, most - 1), right=_to(block.right, most - 1))
        )
    return block


def _to(block: Block, most: int) -> Block:
    """Return a table with at most so many rows."""
    return replace(block, rows=block.rows[:most]) if isinstance(block, Table) else block


def _lines(block: Block) -> list[CheckLine]:
    """The items of a block; none when it is no list."""
    return (
        [line for phase in block.phases for line in phase.lines] if isinstance(block, ChecklistBlock) else []
    )


def _without(block: Block, gone: set[str]) -> Block:
    """Take items out of a list, and phases that are left empty."""
    if not isinstance(block, ChecklistBlock):
        return block
    kept = (
        replace(phase, lines=tuple(line for line in phase.lines if line.id not in gone))
        for phase in block.phases
    )
    return replace(block, phases=tuple(phase for phase in kept if phase.lines))


def _share_out(face: Face, free: float, pt: float) -> PartSetting:
    """Say how a face is set.

    Args:
        face: what is printed.
        free: what is left below it when nothing is shared out [mm].
        pt: type of a critical line [pt].
    """
    least, most = GAPS
    gaps = sum(len(b.phases) if isinstance(b, ChecklistBlock) else 1 for b in (*face.blocks, *face.foot))
    if free <= 0.0:  # where nothing more may go, the blocks move together
        return PartSetting(pt, max(least / 2.0, least + free / max(1, gaps)))
    if not face.foot and not any(_rows(block) for block in face.blocks if isinstance(block, ChecklistBlock)):
        return PartSetting(pt, least, lines=max(0, int((free - 8.0) / RULE)))
    blocks = (*face.blocks, *face.foot)
    rows = sum(_rows(block) for block in blocks)
    air = AIR * pt / CRITICAL
    share = min(1.0, free / max(0.01, rows * air + gaps * (most - least)))
    used = share * (rows * air + gaps * (most - least))
    return PartSetting(
        pt, least + share * (most - least), air=share * air, rest=max(0.0, free - used) if face.foot else 0.0
    )


def _rows(block: Block) -> int:
    """Lines and rows of a block below which there may be air [-]."""
    if isinstance(block, Pair):
        return max(_rows(block.left), _rows(block.right))
    if isinstance(block, ChecklistBlock):
        return sum(len(phase.lines) for phase in block.phases)
    return len(block.rows) if isinstance(block, Table | Bars | Gauges) else 0
