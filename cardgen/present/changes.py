"""What each card prints, as label and value, so that a later revision can be told apart in words."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping

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
    Qr,
    Steps,
    Table,
)

_SILENT = frozenset(("id", "align", "level", "signal", "alt", "share", "state"))
"""Fields of blocks that are not printed as they stand."""


def printed_values(card: Card) -> dict[str, str]:
    """Return label and printed value of everything on a card, in order; a text without a label has no value."""
    blocks, told = tuple(_blocks(card)), labelled(card)
    known = " ".join((*told, *told.values()))
    heads = [card.subtitle, *(text for face in card.faces for text in (face.title, face.aside))]
    issue = f"{card.revision.partition('-')[0]}, {card.date}"
    texts = (
        _plain(text.replace(issue, "")) for text in (*heads, *(one for b in blocks for one in _texts(b)))
    )
    rest = {text: "" for text in texts if text and text not in known and text != card.title}
    return {"name": card.nickname} | told | rest


def labelled(card: Card) -> dict[str, str]:
    """Return label and printed value of what has a label on a card, in order."""
    return {label: value for label, value in _values(_blocks(card)) if label}


def _blocks(card: Card) -> Iterable[Block]:
    for face in card.faces:
        yield from (*face.blocks, *face.foot)
    yield from card.flow


def _texts(value: object, name: str = "") -> Iterator[str]:
    """Every text in a block, labels of drawings too; none of what passes, nor of codes."""
    if isinstance(value, str):
        if name not in _SILENT:
            yield value.strip()
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _texts(inner, name)
    elif isinstance(value, (tuple, list)):
        for inner in value:
            yield from _texts(inner, name)
    elif isinstance(value, Banner):
        yield from (value.title, value.tab)
    elif isinstance(value, (Qr, Call)) or (isinstance(value, Paragraph) and value.passing):
        return
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield from _texts(getattr(value, field.name), field.name)


def _values(blocks: Iterable[Block]) -> Iterable[tuple[str, str]]:
    for block in blocks:
        if isinstance(block, Pair):
            yield from _values((block.left, block.right))
        elif isinstance(block, KeyNumbers):
            for number in block.rows:
                yield number.label, _plain(number.value)
                if number.note:
                    yield f"{number.label}, remark", _plain(number.note)
        elif isinstance(block, Table):
            yield from _table(block)
        elif isinstance(block, Bars):
            for bar in block.rows:
                said = f"of {bar.capacity}, {bar.word}" if bar.word else bar.capacity
                yield f"{bar.label} ({block.title})", f"{_plain(bar.demand)} {_plain(said)}"
        elif isinstance(block, Banner):
            yield "verdict", _plain(block.title)
            for words in block.lines:
                head, _, rest = words.partition(": ")
                yield (f"verdict, {head}", _plain(rest)) if rest else ("verdict, in short", _plain(words))
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
            yield f"{row.label} ({block.title})", f"{row.value} {block.unit}" if row.value else "____"
            for end, value in (("at least", row.low), ("at most", row.high)):
                yield f"{row.label} ({block.title} {end}, {block.unit})", value or "__"
        yield block.limit[0], _plain(block.limit[1])
    elif isinstance(block, Steps):
        for step in block.rows:
            yield f"{block.title} {step.mark}".strip(), _plain(f"{step.strong} {step.text}".strip())
    elif isinstance(block, Call):
        yield "whom to call", _plain(f"{block.who} {block.phone}")
    elif isinstance(block, Paragraph) and block.strong and not block.passing:
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
    return text.replace("\u00a0", " ").strip()
