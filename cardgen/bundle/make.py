"""One unit of work: one rig from bytes to files. Runs anywhere; reads no clock, writes nothing."""

from __future__ import annotations

import datetime as dt
import threading
import traceback
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.bundle.changes import facts, history, notices
from cardgen.bundle.errors import MissingError
from cardgen.bundle.inputs import MemoryFirst, fingerprint, of_bytes, tool_key
from cardgen.bundle.ledger import MARK, CardPrint, Facts, Issue, Ledger, RevisionInfo, RigRevision, to_text
from cardgen.bundle.manifest import CardOutput, OutputFile, RigOutput
from cardgen.bundle.work import Described, Maker, Options, Order, PrintedCard, Rendered, RigBuild, maker_named
from cardgen.model.slug import slug

if TYPE_CHECKING:
    from cardgen.model.read import ReadResult


@dataclass(frozen=True, slots=True)
class Decision:
    """The revision to print, and whether it has to be entered in the ledger."""

    revision: RigRevision
    new: bool
    info: RevisionInfo


def decide(
    ledger: Ledger,
    rig: tuple[str, str],
    described: Described,
    facts: Facts,
    day: dt.date,
    *,
    partial: bool = False,
    before: RigOutput | None = None,
) -> Decision:
    """Compare what would be printed with the ledger.

    The revision is raised only when a card prints something different from its last print,
    is new, or is no longer made. Rivals in the ledger are joined by a new revision. Where the
    ledger ends before what the output folder was made with, its newest files are lost: the
    numbers go on above those, and what is known to be printed the same stays current.

    Args:
        ledger: revisions so far, without faults.
        rig: folder name and nickname.
        described: what would be printed.
        facts: what the rig file says.
        day: day of this build; becomes the day of a new revision.
        partial: whether only some cards were asked for, so that the others stay current.
        before: the earlier output; None when there is none.
    """
    last = _with_prints(ledger.last, before)
    lost = before is not None and before.number > (last.number if last else 0)
    if before is not None and lost:
        last = _remembered(before, last, described)
    if last is None:
        revision = _revision(rig, 1, day, described, facts, {})
        return _decision(ledger, revision, described, new=True)
    number = last.number + 1
    kept = {c.id: last.cards[c.id] for c in described.cards if _same(c, last, ledger.rivals)}
    changed = [card for card in described.cards if card.id not in kept]
    named = {card.id for card in described.cards}
    others = {name: card for name, card in last.cards.items() if name not in named}
    if not lost and not changed and not ledger.rivals and (partial or not others):
        return _decision(ledger, last, described, new=False)
    revision = _revision(rig, number, day, described, facts, kept | (others if partial else {}))
    if lost:  # whether a card that is not made now was changed meanwhile is not known
        others = {name: replace(card, since=number, since_day=day) for name, card in others.items()}
    joins = tuple(sorted({one.fingerprint for one in ledger.rivals}))
    after = ledger.last.seal if ledger.last else ""
    return _decision(ledger, replace(revision, joins=joins, after=after), described, new=True)


def _remembered(before: RigOutput, last: RigRevision | None, described: Described) -> RigRevision:
    """The newest revision as far as the earlier output tells it, in place of its lost file."""
    day = dt.date.fromisoformat(before.revision_day)
    cards = dict(last.cards) if last else {}
    for card in described.cards:
        cards.pop(card.id, None)
        old = before.cards.get(card.id)
        if old is None:
            continue
        since = dt.date.fromisoformat(old.day)
        printed = CardPrint(card.title, old.print, old.number, since, dict(card.values), old.page)
        if printed.prints(card.page, card.fingerprint):
            cards[card.id] = printed
    return RigRevision("", "", before.number, day, {}, cards, {})


def _same(card: PrintedCard, last: RigRevision, rivals: tuple[RigRevision, ...]) -> bool:
    """Whether everybody who holds the card holds this very print."""
    return all(
        card.id in one.cards and one.cards[card.id].prints(card.page, card.fingerprint)
        for one in (last, *rivals)
    )


def _with_prints(last: RigRevision | None, before: RigOutput | None) -> RigRevision | None:
    """The newest revision with the prints that were made of it since, where it was entered without."""
    if last is None or before is None:
        return last
    made = {
        name: replace(card, fingerprint=before.cards[name].print, page=before.cards[name].page)
        for name, card in last.cards.items()
        if not card.fingerprint and name in before.cards and before.cards[name].number == card.since
    }
    return replace(last, cards={**last.cards, **made}) if made else last


def _marked(order: Order, described: Described, maker: Maker) -> Described:
    """The cards with the fingerprints of their prints; one is laid out only where its page is new.

    Without PDFs only where there is a print to compare with.
    """
    last = _with_prints(order.ledger.last, order.before)
    cards = [card for one in order.ledger.revisions for card in one.cards.values()]
    known = {card.page: card.fingerprint for card in cards if card.page and card.fingerprint}
    if order.before is not None:
        known = {one.page: one.print for one in order.before.cards.values() if one.page and one.print} | known
    compared = {name for name, card in last.cards.items() if card.fingerprint} if last else set()
    look = compared if order.options.html_only else {card.id for card in described.cards}
    return maker.mark(described, order.options, known, look)


def _revision(
    rig: tuple[str, str],
    number: int,
    day: dt.date,
    described: Described,
    facts: Facts,
    kept: dict[str, CardPrint],
) -> RigRevision:
    cards = dict(kept)
    for card in described.cards:
        if card.id not in cards:
            cards[card.id] = CardPrint(
                card.title, card.fingerprint, number, day, dict(card.values), card.page
            )
    numbers = dict(described.key_numbers)
    return RigRevision(*rig, number=number, day=day, key_numbers=numbers, cards=cards, facts=facts)


def _decision(ledger: Ledger, current: RigRevision, described: Described, *, new: bool) -> Decision:
    marks = {card.id: card.fingerprint for card in described.cards}
    revisions = (*ledger.revisions, current) if new else ledger.revisions
    cards = {
        name: Issue(card.since, card.since_day, card.fingerprint[:MARK] or marks.get(name, "")[:MARK])
        for name, card in current.cards.items()
    }
    held = (*(one for one in ledger.revisions if one.number < current.number), current)
    told = {name: notices(held, name) for name in current.cards}
    info = RevisionInfo(current.number, current.day, cards, history(revisions), told)
    return Decision(current, new, info)


_ONE_AT_A_TIME = threading.Lock()
"""Layout libraries are not made for several threads; a worker may have some."""


@lru_cache(maxsize=2)
def maker_of(name: str) -> Maker:
    """The maker of this process, imported once; it prepares what it needs when it needs it."""
    return maker_named(name)


def make(order: Order) -> RigBuild:
    """Read, describe, decide on the revision, render. Never raises for what a rig can contain."""
    with _ONE_AT_A_TIME:
        rig = RigBuild(file=order.file, status="failed")
        try:
            rig = replace(rig, tools=tool_key(order.options.templates, order.maker))
            return _make(order, rig)
        except MissingError as problem:
            return replace(rig, lacks=(str(problem),))
        except Exception:
            return replace(rig, bug=traceback.format_exc())


def standing(order: Order) -> tuple[RigBuild, Decision | None]:
    """What a rig file says as it stands: its revision, entered or not; None where it has faults, which are told.

    Raises:
        MissingError: the system lacks something.
    """
    with _ONE_AT_A_TIME:
        rig = replace(
            RigBuild(file=order.file, status="failed"), tools=tool_key(order.options.templates, order.maker)
        )
        rig, read = _read(order, rig)
        if read is None:
            return rig, None
        described, decision = _decided(order, rig, read, maker_of(order.maker))
        return replace(rig, problems=described.problems), None if described.problems else decision


def _make(order: Order, rig: RigBuild) -> RigBuild:
    rig, read = _read(order, rig)
    return rig if read is None else _print(order, rig, read, maker_of(order.maker))


def _read(order: Order, rig: RigBuild) -> tuple[RigBuild, ReadResult | None]:
    """Read a rig file; no rig where something is wrong, which is told."""
    from cardgen.bundle.reading import read_rig

    read = replace(read_rig(Path(order.file), MemoryFirst(order.files)), sharing=order.sharing)
    if read.rig is None:
        return replace(rig, faults=read.faults), None
    rig = replace(rig, slug=slug(read.rig.nickname), nickname=read.rig.nickname, faults=read.faults)
    if rig.slug != order.slug:
        return replace(rig, status="misdirected"), None
    if order.ledger.faults:
        return replace(rig, faults=order.ledger.faults), None
    return rig, None if rig.faults else read


def _decided(order: Order, rig: RigBuild, read: ReadResult, maker: Maker) -> tuple[Described, Decision]:
    """Describe a sound rig and decide on its revision."""
    options, before = order.options, order.before
    described = _marked(order, maker.describe(read, options), maker)
    who = (rig.slug, rig.nickname)
    said, partial = facts(read.rig), bool(options.cards)
    made = decide(order.ledger, who, described, said, options.day, partial=partial, before=before)
    known = any(one.rig == rig.slug for one in order.ledger.revisions)
    if made.new and order.was and not known:
        made = replace(made, revision=replace(made.revision, was=order.was))
    return described, made


def _print(order: Order, rig: RigBuild, read: ReadResult, maker: Maker) -> RigBuild:
    """Describe a sound rig, decide on its revision and render what is not as it should be."""
    options, before = order.options, order.before
    described, decision = _decided(order, rig, read, maker)
    if described.problems:
        return replace(rig, problems=described.problems)
    info = decision.info
    behind = _behind(order) if decision.new else ""
    if behind:
        decision = _unentered(decision, order)
        rig, info = replace(rig, warning=behind), decision.info
    keys = card_keys(rig.tools, options, described, info)
    whole = {name: card.key for name, card in before.cards.items()} if before else {}
    kept = frozenset(name for name, key in keys.items() if whole.get(name) == key)
    key = render_key(rig.tools, options, described, info)
    rendered = None
    if before is None or before.render_key != key:
        rendered = maker.render(read, options, described, info, kept)
        if rendered.problems:
            return replace(rig, problems=rendered.problems)
    output = RigOutput(
        nickname=rig.nickname,
        source=order.file,
        inputs=_inputs(read, order.files),
        key="",
        day=options.day.isoformat(),
        same_until=described.same_until.isoformat() if described.same_until else None,
        render_key="" if rendered and rendered.missing else key,
        files=_kept_files(before, rendered, kept),
        outcome=described.outcome,
        over=described.over,
        due=described.due,
        about=described.about,
        key_numbers=dict(described.key_numbers),
        number=info.number,
        revision_day=info.day.isoformat(),
        cards=_cards(described, info, keys, rendered, before),
        notes=rendered.notes if rendered else before.notes if before else (),
        missing=rendered.missing if rendered else (),
        wishes=options.wishes,
        address=described.address,
        formerly={one.rig: one.nickname for one in order.ledger.revisions if one.rig != rig.slug},
    )
    if before is not None and before.number and before.address and before.address != described.address:
        moved = f"the address on its cards was {before.address} and is {described.address or 'none'}"
        rig = replace(
            rig, asides=(f"{moved}: nothing has to be printed again for that while the old one answers",)
        )
    rig = replace(
        rig,
        status="built" if rendered else "unchanged",
        output=output,
        contents=rendered.files if rendered else {},
    )
    return _with_revision(rig, decision) if decision.new else rig


def _behind(order: Order) -> str:
    """Why no revision can be entered on the day of a build: there are newer ones. Empty when there are none."""
    known = {one.day.isoformat(): one.number for one in order.ledger.revisions}
    if order.before is not None and order.before.number:
        known.setdefault(order.before.revision_day, order.before.number)
    newest = max(known, default="")
    if order.options.day.isoformat() >= newest:
        return ""
    return (
        f"the day {order.options.day} lies before that of revision {known[newest]}, {newest}, so no revision is "
        "entered; what changed is made all the same and told by the mark behind its number. Set the clock right or "
        "give the day with --date, and build again; or delete that revision if its cards were never handed out"
    )


def _unentered(decision: Decision, order: Order) -> Decision:
    """The decision without its revision: what changed carries the newest number, and its own mark."""
    last = order.ledger.last
    entered = decision.info.number - 1
    day = last.day if last is not None and last.number == entered else decision.info.day
    if order.before is not None and order.before.number == entered:
        day = dt.date.fromisoformat(order.before.revision_day)
    cards = {
        name: issue if issue.number <= entered else Issue(entered, day, issue.mark)
        for name, issue in decision.info.cards.items()
    }
    info = RevisionInfo(entered, day, cards, history(order.ledger.revisions), decision.info.notices)
    return Decision(last or decision.revision, False, info)


def _with_revision(rig: RigBuild, decision: Decision) -> RigBuild:
    """Add the new revision's file, and what it changed."""
    newest, now = decision.info.history[0], decision.revision
    return replace(
        rig,
        revision=decision.revision.file_name,
        revision_text=to_text(decision.revision).encode("utf-8"),
        reprint=tuple(card.title for card in now.cards.values() if card.since == now.number),
        again=tuple(name for name, card in now.cards.items() if card.since == now.number),
        waits=newest.waits,
        withdrawn=newest.withdrawn,
        changes=newest.words,
    )


def _kept_files(
    before: RigOutput | None, rendered: Rendered | None, kept: Collection[str]
) -> dict[str, OutputFile]:
    """Output files that stay: all when nothing was rendered, else the cards that are kept."""
    files = before.files if before else {}
    names = {f"{name}.pdf" for name in kept}
    return {name: file for name, file in files.items() if rendered is None or name in names}


def _cards(
    described: Described,
    info: RevisionInfo,
    keys: Mapping[str, str],
    rendered: Rendered | None,
    before: RigOutput | None,
) -> dict[str, CardOutput]:
    """Each card with the notes of the rendering that its file comes from."""
    said = rendered.card_notes if rendered else {}
    old = before.cards if before else {}
    cards = {}
    for card in described.cards:
        name, issue = card.id, info.of(card.id)
        notes = old[name].notes if name in old and name not in said else said.get(name, ())
        day = issue.day.isoformat()
        cards[name] = CardOutput(
            card.title, issue.number, day, keys[name], tuple(notes), card.fingerprint, card.page
        )
    return cards


def render_key(tools: str, options: Options, described: Described, info: RevisionInfo) -> str:
    """Fingerprint of all that the files of a rig depend on; the day counts only where printed."""
    wishes = replace(options, day=info.day, templates=None)
    return fingerprint((tools, wishes, described.content, info))


def card_keys(tools: str, options: Options, described: Described, info: RevisionInfo) -> dict[str, str]:
    """Fingerprint, for each card, of all that its file depends on."""
    wishes = replace(options, day=options.day.min, templates=None, cards=())
    return {
        card.id: fingerprint((tools, wishes, card.id, card.said, card.fingerprint, info.of(card.id)))
        for card in described.cards
    }


def _inputs(read: ReadResult, files: Mapping[str, bytes]) -> dict[str, str]:
    """Fingerprints of the files the reader took, from the bytes that it was given."""
    found = {}
    for path in read.files:
        data = files.get(str(path))
        if data is None:
            data = path.read_bytes()
        found[str(path)] = of_bytes(data)
    return found
