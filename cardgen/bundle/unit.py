"""One unit of work: one rig from bytes to files. Runs anywhere; reads no clock, writes nothing."""

from __future__ import annotations

import threading
import traceback
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.bundle.decide import decide
from cardgen.bundle.errors import MissingError
from cardgen.bundle.hashing import fingerprint, of_bytes
from cardgen.bundle.inputs import MemoryFirst
from cardgen.bundle.ledger import Ledger
from cardgen.bundle.revision import Revision
from cardgen.bundle.toolkey import tool_key
from cardgen.bundle.work import Described, Made, Maker, Options, RevisionInfo, maker_named
from cardgen.model.slug import slug
from cardgen.source.faults import Fault

if TYPE_CHECKING:
    from cardgen.model.read import ReadResult

_ONE_AT_A_TIME = threading.Lock()
"""Layout libraries are not made for several threads; a worker may have some."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What a unit of work needs; travels to a worker.

    Args:
        file: rig file as the person named it.
        files: bytes of the rig file and its parts by path.
        options: wishes from the command line.
        maker: name of the maker.
        slug: folder name the rig probably has; the ledger is that of this name.
        ledger: revisions of the rig.
        done: what was rendered before and is still whole; the same is not rendered again.
        done_cards: the same for each card whose file is still whole, by its id.
    """

    file: str
    files: Mapping[str, bytes]
    options: Options
    maker: str
    slug: str = ""
    ledger: Ledger = field(default_factory=Ledger)
    done: str = ""
    done_cards: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """What came of an order.

    Args:
        file: rig file.
        slug, nickname: of the rig, empty when it has faults.
        inputs: path and fingerprint of every file that was read, the rig file first.
        tools: fingerprint of the tools that made it.
        faults: faults of the rig file or of its ledger.
        other_ledger: whether the order has to come again with the ledger of ``slug``.
        described: what is printed, without the maker's model.
        revision: revision that was printed, and whether it is new.
        made: files; None when there are faults, or when nothing has to be rendered.
        kept: ids of the cards that were not rendered as their files are as they should be.
        render_key: fingerprint of what was rendered.
        card_keys: the same for each card, by its id.
        missing: what the system lacks so that nothing could be made.
        bug: traceback, for what should never happen.
    """

    file: str
    slug: str = ""
    nickname: str = ""
    inputs: tuple[tuple[str, str], ...] = ()
    tools: str = ""
    faults: tuple[Fault, ...] = ()
    other_ledger: bool = False
    described: Described | None = None
    revision: Revision | None = None
    info: RevisionInfo | None = None
    new_revision: bool = False
    made: Made | None = None
    kept: frozenset[str] = frozenset()
    render_key: str = ""
    card_keys: Mapping[str, str] = field(default_factory=dict)
    missing: str = ""
    bug: str = ""


@lru_cache(maxsize=2)
def maker_of(name: str) -> Maker:
    """The maker of this process, imported and warmed once."""
    made = maker_named(name)
    made.warm()
    return made


def make(order: Order) -> Delivery:
    """Read, describe, decide on the revision, render. Never raises for what a rig can contain."""
    with _ONE_AT_A_TIME:
        start = Delivery(file=order.file)
        try:
            start = replace(start, tools=tool_key(order.options.templates, order.maker))
            return _make(order, start)
        except MissingError as problem:
            return replace(start, missing=str(problem))
        except Exception:
            return replace(start, bug=traceback.format_exc())


def _make(order: Order, start: Delivery) -> Delivery:
    from cardgen.bundle.reading import read_rig

    read = read_rig(Path(order.file), MemoryFirst(order.files))
    start = replace(start, inputs=_inputs(read, order.files), faults=read.faults)
    if read.rig is None:
        return start
    name = slug(read.rig.nickname)
    start = replace(start, slug=name, nickname=read.rig.nickname)
    if name != order.slug:
        return replace(start, other_ledger=True)
    if order.ledger.faults:
        return replace(start, faults=order.ledger.faults)
    return _print(order, start, read, maker_of(order.maker))


def _print(order: Order, start: Delivery, read: ReadResult, maker: Maker) -> Delivery:
    from cardgen.bundle.facts import facts

    options = order.options
    described = maker.describe(read, options)
    rig = (start.slug, start.nickname)
    partial = bool(options.cards)
    decision = decide(order.ledger, rig, described, facts(read.rig), options.day, partial=partial)
    key = render_key(start.tools, options, described, decision.info)
    keys = card_keys(start.tools, options, described, decision.info)
    start = replace(
        start,
        described=replace(described, model=None),
        revision=decision.revision,
        info=decision.info,
        new_revision=decision.new,
        render_key=key,
        card_keys=keys,
    )
    if key == order.done:
        return start
    kept = frozenset(name for name, one in keys.items() if order.done_cards.get(name) == one)
    return replace(start, made=maker.render(read, options, described, decision.info, kept), kept=kept)


def render_key(tools: str, options: Options, described: Described, info: RevisionInfo) -> str:
    """Fingerprint of all that the files of a rig depend on; the day counts only where printed."""
    wishes = replace(options, day=info.day, templates=None)
    return fingerprint((tools, wishes, described.content, info))


def card_keys(tools: str, options: Options, described: Described, info: RevisionInfo) -> dict[str, str]:
    """Fingerprint, for each card, of all that its file depends on."""
    wishes = replace(options, day=options.day.min, templates=None, cards=())
    return {
        card.id: fingerprint((tools, wishes, card.id, card.fingerprint, info.of(card.id)))
        for card in described.cards
    }


def _inputs(read: ReadResult, files: Mapping[str, bytes]) -> tuple[tuple[str, str], ...]:
    """Fingerprints of the files the reader took, from the bytes that it was given."""
    found = []
    for path in read.files:
        data = files.get(str(path))
        if data is None:
            data = path.read_bytes()
        found.append((str(path), of_bytes(data)))
    return tuple(dict(found).items())
