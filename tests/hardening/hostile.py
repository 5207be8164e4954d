"""A full rig in which every text of the owner's own is a payload, and pages taken apart."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import tinyhtml5  # type: ignore[import-untyped]  # it ships no types

from cardgen.bundle.ledger import Change, Issue, RevisionInfo
from cardgen.bundle.maker import RigMaker
from cardgen.bundle.manifest import CardOutput, OutputFile, RigOutput
from cardgen.bundle.pages import index_files, report_files
from cardgen.bundle.reading import FURTHER, room_faults
from cardgen.bundle.work import Options, RigBuild
from cardgen.model.read import ReadResult, judge
from cardgen.model.rig import Rig
from cardgen.present.cards import KINDS, USUAL, CardKind
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import RigView
from cardgen.render.fixed import plain
from cardgen.render.glyphs import clean_card
from cardgen.render.html import card_html
from cardgen.render.sizes import SIZES
from cardgen.source.disk import Disk
from cardgen.source.faults import Path as Field
from cardgen.source.limits import Bounds
from cardgen.source.parts import Loaded, load
from cardgen.source.shapes import shape_of, spot_at
from cardgen.source.tree import Keyed, Node, branch

FULL = Path(__file__).parents[1] / "data" / "rigs" / "full.yaml"
DAY = dt.date(2026, 11, 25)
OPTIONS = Options(day=DAY)
MAKER = RigMaker()


@cache
def whole() -> Loaded:
    """The full rig with its parts put in."""
    return load(FULL, Disk(), Bounds())


def judged(top: Node) -> ReadResult:
    """Judge a changed rig as every command does, but for the room on cards: any text is let through to them."""
    return judge(replace(whole(), top=top), FULL, tuple(one for one in FURTHER if one is not room_faults))


def texts(node: Node, path: Field = ()) -> Iterator[str]:
    """Every free text of the rig, and every name that the owner chose."""
    spot = spot_at(shape_of(Rig), path)
    if isinstance(node.value, dict):
        for key, entry in node.value.items():
            if spot is not None and spot.shape.form == "map":
                yield key
            yield from texts(entry.value, (*path, key))
    elif isinstance(node.value, list):
        for number, item in enumerate(node.value):
            yield from texts(item, (*path, number))
    elif (
        isinstance(node.value, str) and spot is not None and spot.shape.hint is str and not spot.shape.choices
    ):
        yield node.value


def swapped(node: Node, swaps: dict[str, str], path: Field = ()) -> Node:
    """The tree with texts replaced wherever they stand, so that names still fit together."""
    spot = spot_at(shape_of(Rig), path)
    if isinstance(node.value, dict):
        free = spot is not None and spot.shape.form == "map"
        entries = {
            (swaps.get(key, key) if free else key): Keyed(e.key, swapped(e.value, swaps, (*path, key)))
            for key, e in node.value.items()
        }
        return branch(entries, node.place)
    if isinstance(node.value, list):
        return branch([swapped(one, swaps, (*path, n)) for n, one in enumerate(node.value)], node.place)
    free = spot is not None and spot.shape.hint is str and not spot.shape.choices
    if isinstance(node.value, str) and free and node.value in swaps:
        return Node(swaps[node.value], node.place)
    return node


@dataclass(frozen=True, slots=True)
class Poisoned:
    """A rig with a payload in every text that takes one.

    Args:
        read: the rig.
        put: old text and what stands there now.
        kept: texts that the reader refuses to have replaced, such as ids of items.
    """

    read: ReadResult
    put: dict[str, str]
    kept: tuple[str, ...]


def poisoned(*payloads: str, letters: int | None = None) -> Poisoned:
    """Put payloads into the free texts of the full rig, one after the other, each with a number of its own.

    Args:
        payloads: what to put there [-].
        letters: cut each to so many letters [-]; None to leave them whole.
    """
    top = whole().top
    assert top is not None
    put: dict[str, str] = {}
    kept = []
    for number, text in enumerate(dict.fromkeys(texts(top))):
        tried = put | {text: f"{payloads[number % len(payloads)][:letters]}{number}"}
        if judged(swapped(top, tried)).rig is None:
            kept.append(text)
        else:
            put = tried
    read = judged(swapped(top, put))
    assert read.rig is not None, read.faults
    return Poisoned(read, put, tuple(kept))


def view_of(read: ReadResult, base: str | None = None) -> RigView:
    """The rig_view of a rig."""
    assert read.rig is not None
    made = prepare(read.rig, DAY)
    return replace(made, edition=replace(made.edition, base_url=base))


def pages(read: ReadResult) -> dict[str, str]:
    """Report, borrower's page, page of all rigs, and the page of every card, as HTML."""
    assert read.rig is not None
    rig_view = view_of(read)
    described = MAKER.describe(read, OPTIONS)
    cards = {card.id: Issue(2, DAY) for card in described.cards}
    words = tuple(f"{name}: {value}" for name, value in described.key_numbers.items())
    change = Change(2, DAY, (rig_view.rig.nickname, *words), tuple(cards))
    info = RevisionInfo(2, DAY, cards, (change, Change(1, DAY, (), tuple(cards))))
    kinds = tuple(KINDS[name] for name in USUAL)
    files = report_files(rig_view, info, kinds, OPTIONS)
    output = RigOutput(
        nickname=rig_view.rig.nickname, source="rig.yaml", inputs={}, key="", day=DAY.isoformat(), same_until=None,
        render_key="", outcome=described.outcome, over=described.over, key_numbers=described.key_numbers,
        files=dict.fromkeys(("index.html", "glovebox-card.pdf"), OutputFile(1, "")), number=2,
        revision_day=DAY.isoformat(),
        cards={card.id: CardOutput(card.title, 2, DAY.isoformat(), "") for card in described.cards},
    )  # fmt: skip
    rig = RigBuild(
        file="", status="unchanged", slug=rig_view.slug, nickname=rig_view.rig.nickname, output=output
    )
    files |= {f"all {name}": data for name, data in index_files([rig], OPTIONS).items()}
    made = {name: data.decode("utf-8") for name, data in files.items()}
    return made | {kind.id: card_page(rig_view, kind) for kind in KINDS.values()}


def card_page(rig_view: RigView, kind: CardKind) -> str:
    """The page from which a card is printed."""
    card, _ = clean_card(kind.make(rig_view))
    size = SIZES[kind.us]
    plan = plain(card, size, False)
    return card_html(card, size, plan, None)


@dataclass(frozen=True, slots=True)
class Anatomy:
    """A page taken apart by an HTML parser that had no part in making it.

    Args:
        tags: how often each element stands there.
        attributes: names of attributes by element.
        addresses: everything that could be opened or fetched.
        scripts: texts of script elements that run.
        data: texts of data blocks.
        styles: texts of style elements, and of style attributes.
        comments: number of comments [-].
        text: all text that people read, attributes such as labels included.
    """

    tags: Counter[str]
    attributes: frozenset[tuple[str, str]]
    addresses: tuple[str, ...]
    scripts: tuple[str, ...]
    data: tuple[str, ...]
    styles: tuple[str, ...]
    comments: int
    text: str


ADDRESS = {"href", "src", "action", "formaction", "data", "poster", "srcset", "background", "cite", "ping"}
NAMESPACE = "{http://www.w3.org/1999/xhtml}"


def anatomy(page: str) -> Anatomy:
    """Take a page apart."""
    tags: Counter[str] = Counter()
    attributes: set[tuple[str, str]] = set()
    addresses: list[str] = []
    scripts: list[str] = []
    data: list[str] = []
    styles: list[str] = []
    words: list[str] = []
    comments = 0
    for node in tinyhtml5.parse(page).iter():
        if not isinstance(node.tag, str):
            comments += 1
            continue
        tag = node.tag.removeprefix(NAMESPACE)
        tags[tag] += 1
        for name, value in node.attrib.items():
            attributes.add((tag, str(name)))
            if str(name).rpartition("}")[2].lower() in ADDRESS:
                addresses.append(value)
            elif name == "style":
                styles.append(value)
            else:
                words.append(value)
        inner = node.text or ""
        if tag == "script":
            (data if node.get("type") == "application/json" else scripts).append(inner)
        elif tag == "style":
            styles.append(inner)
        else:
            words.append(inner)
        words.append(node.tail or "")
    return Anatomy(
        tags, frozenset(attributes), tuple(addresses), tuple(scripts), tuple(data), tuple(styles), comments,
        "\n".join(words),
    )  # fmt: skip


def strings(value: Any) -> Iterator[str]:
    """Every text inside JSON data."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from strings(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from strings(inner)
