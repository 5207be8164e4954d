"""What each card prints, as label and value, so that a later revision can be told apart in words."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.present.blocks import (
    Banner,
    Bars,
    Block,
    Call,
    Card,
    CheckLine,
    ChecklistBlock,
    Gauges,
    KeyNumbers,
    Pair,
    Paragraph,
    Steps,
    Table,
)


def printed_values(card: Card) -> dict[str, str]:
    """Return label and printed value of everything on a card, in order."""
    return dict(_values(_blocks(card)))


def _blocks(card: Card) -> Iterable[Block]:
    for face in card.faces:
        yield from (*face.blocks, *face.foot)
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
                said = f"of {bar.capacity}, {bar.word}" if bar.word else bar.capacity
                yield f"{bar.label} ({block.title})", f"{_plain(bar.demand)} {_plain(said)}"
        elif isinstance(block, Banner):
            yield "verdict", block.title
        elif isinstance(block, ChecklistBlock):
            for phase in block.phases:
                for line in phase.lines:
                    yield f"item {line.id or _plain(line.text)}", _item(line)
        else:
            yield from _of_fixed(block)


def _of_fixed(block: Block) -> Iterable[tuple[str, str]]:
    """The same for blocks that only cards of fixed type have."""
    if isinstance(block, Gauges):
        for row in block.rows:
            yield f"{row.label} ({block.head[1]})", _plain(row.beside)
            yield f"{row.label} ({block.title})", f"{row.value}, {row.low} to {row.high} {block.unit}"
        yield block.limit[0], _plain(" ".join(block.limit[1:]))
    elif isinstance(block, Steps):
        for step in block.rows:
            yield f"{block.title} {step.mark}".strip(), _plain(f"{step.strong} {step.text}".strip())
    elif isinstance(block, Call):
        yield "whom to call", _plain(f"{block.who} {block.phone}")
    elif isinstance(block, Paragraph) and block.strong:
        yield block.strong, _plain(block.text)


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
