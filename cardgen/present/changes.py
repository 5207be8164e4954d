"""What each card prints, as label and value, so that a later revision can be told apart in words."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.present.blocks import (
    Banner,
    Bars,
    Block,
    Card,
    CheckLine,
    ChecklistBlock,
    KeyNumbers,
    Pair,
    Table,
)
from cardgen.present.cards import KINDS
from cardgen.present.rig_view import RigView


def printed_values(rig_view: RigView, card: str) -> dict[str, str]:
    """Return label and printed value of everything on a card, in order."""
    made = KINDS[card].make(rig_view)
    return dict(_values(_blocks(made)))


def _blocks(card: Card) -> Iterable[Block]:
    for face in card.faces:
        yield from face.blocks
    yield from card.flow


def _values(blocks: Iterable[Block]) -> Iterable[tuple[str, str]]:
    for block in blocks:
        if isinstance(block, Pair):
            yield from _values((block.left, block.right))
        elif isinstance(block, KeyNumbers):
            for number in block.rows:
                yield number.label, _plain(number.value)
        elif isinstance(block, Table):
            yield from _table(block)
        elif isinstance(block, Bars):
            for bar in block.rows:
                yield (
                    f"{bar.label} ({block.title})",
                    f"{_plain(bar.demand)} of {_plain(bar.capacity)}, {bar.word}",
                )
        elif isinstance(block, Banner):
            yield "verdict", block.title
        elif isinstance(block, ChecklistBlock):
            for phase in block.phases:
                for line in phase.lines:
                    yield f"item {line.id or _plain(line.text)}", _item(line)


def _item(line: CheckLine) -> str:
    text = _plain(line.text) + (f": {_plain(line.answer)}" if line.answer else "")
    return f"if fitted: {text}" if line.if_fitted else text


def _table(table: Table) -> Iterable[tuple[str, str]]:
    for row in table.rows:
        for column, cell in enumerate(row[1:], 1):
            head = table.head[column] if column < len(table.head) else ""
            label = " ".join(part for part in (table.title, row[0], head) if part)
            if cell.strip():
                yield label, _plain(cell)


def _plain(text: str) -> str:
    return text.replace("\u00a0", " ")
