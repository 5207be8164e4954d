"""View model of a rig's pages: sections made of the blocks of the cards, and a few blocks that only a screen has.

Templates and drawings receive only these and never compute. Every string is final: rounded,
with its unit, in the words of the reader's market.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, ClassVar, Literal

from cardgen.present.blocks import Block
from cardgen.present.levels import Level
from cardgen.present.whatif_view import WhatIf

Tool = Literal["", "trip", "keep", "confirm", "find"]
"""What the page's script adds to a section: the state of the ticks, saving the page, the borrower's yes, a search."""


@dataclass(frozen=True, slots=True)
class Item:
    """One entry of a list on a page.

    Args:
        text: what it is.
        note: a remark below it.
        word, level: its outcome or state.
        href: where it leads.
        lines: what belongs to it, a line each.
        code: field of the rig file.
        id: id on the page.
        day: ISO day up to which it is good or from which it is due, for the reader's own clock.
    """

    text: str
    note: str = ""
    word: str = ""
    level: Level | None = None
    href: str = ""
    lines: tuple[str, ...] = ()
    code: str = ""
    id: str = ""
    day: str = ""


@dataclass(frozen=True, slots=True)
class Items:
    """Entries under each other: a plain list, a menu of big lines to press, numbered, things due, or words with
    what they mean."""

    kind: ClassVar[str] = "items"
    rows: tuple[Item, ...]
    title: str = ""
    style: Literal["list", "menu", "numbered", "due", "words"] = "list"


@dataclass(frozen=True, slots=True)
class WorkedNumber:
    """One number put into a formula."""

    label: str
    value: str


@dataclass(frozen=True, slots=True)
class Working:
    """Formula, the numbers put in, the result.

    Args:
        title: what is worked out.
        formula: in symbols.
        numbers: what was put in.
        result: ready text.
        source: where the formula comes from.
        spread: uncertainty in words, may be empty.
        see: id of the check that shows the numbers, when they are not repeated here.
    """

    kind: ClassVar[str] = "working"
    title: str
    formula: str
    numbers: tuple[WorkedNumber, ...]
    result: str
    source: str
    spread: str = ""
    see: str = ""


@dataclass(frozen=True, slots=True)
class PinRow:
    """One pin of a connector: clock position or number, and what it does."""

    at: str
    does: str


@dataclass(frozen=True, slots=True)
class PlugDrawing:
    """A connector.

    Args:
        shape: ``round`` by clock positions, ``row`` in line, ``numbers`` in the order of numbers.
        pins: its pins.
        title: which connector.
        view: how it is looked at.
        alt: the drawing in words.
    """

    kind: ClassVar[str] = "plug"
    shape: str
    pins: tuple[PinRow, ...]
    title: str
    view: str
    alt: str


@dataclass(frozen=True, slots=True)
class Fold:
    """Blocks behind a line that opens them.

    Args:
        title: the line.
        blocks: what it opens.
        id: id on the page.
        level, word: outcome beside the line.
        said: result in one line below it.
    """

    kind: ClassVar[str] = "fold"
    title: str
    blocks: tuple[PageBlock, ...]
    id: str = ""
    level: Level | None = None
    word: str = ""
    said: str = ""


PageBlock = Block | Items | Fold | Working | PlugDrawing | WhatIf


@dataclass(frozen=True, slots=True)
class View:
    """One view of a page, or a part of it where a page has no views.

    Args:
        id: id on the page.
        title: heading.
        blocks: what is shown.
        about: what the menu says of it.
        hint: one sentence under the heading.
        up: id of the view that leads back.
        next: id of the list that comes after this one.
        tool: what the script adds.
    """

    id: str
    title: str
    blocks: tuple[PageBlock, ...]
    about: str = ""
    hint: str = ""
    up: str = "home"
    next: str = ""
    tool: Tool = ""


@dataclass(frozen=True, slots=True)
class Page:
    """One page of a rig.

    Args:
        name: name of its file without the ending.
        what: what the page is.
        nickname, subtitle, note: of the rig.
        language: BCP 47 tag of the texts.
        revision, date: ready texts.
        sections: the first is what opens.
        foot: sentences at its end.
        data: what its script reads; plain JSON values.
        views: whether a script shows one section at a time.
    """

    name: str
    what: str
    nickname: str
    subtitle: str
    note: str
    language: str
    revision: str
    date: str
    sections: tuple[View, ...]
    foot: tuple[str, ...] = ()
    data: dict[str, Any] = field(default_factory=dict)
    views: bool = True

    def section(self, name: str) -> View | None:
        """Return a section by its id; None when the rig has no such thing."""
        return next((one for one in self.sections if one.id == name), None)
