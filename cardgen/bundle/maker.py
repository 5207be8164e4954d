"""The maker of cards and reports: from a checked rig to the files of its folder."""

from __future__ import annotations

import dataclasses
import datetime as dt
import hashlib
from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from cardgen.bundle.errors import MissingError, OutputRefusedError
from cardgen.bundle.ledger import RevisionInfo
from cardgen.bundle.pages import (
    PROOF,
    SHEET,
    index_files,
    measuring_of,
    proof_file,
    report_files,
    shared_files,
)
from cardgen.bundle.work import Described, Options, PrintedCard, Rendered, RigBuild
from cardgen.model.results import Outcome
from cardgen.model.rig import Rig
from cardgen.present.blocks import Card
from cardgen.present.cards import KINDS, MEASURING, CardKind, usual
from cardgen.present.changes import labelled, printed_values
from cardgen.present.measure import lacks
from cardgen.present.measuring_sheet import build_sheet
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import Edition, RigView
from cardgen.present.validity import same_until
from cardgen.render.engine import ScratchError
from cardgen.render.env import TemplateFaultError
from cardgen.render.mark import is_printed
from cardgen.render.pdf import Told
from cardgen.render.printer import Printer
from cardgen.render.sizes import WALLET, wished
from cardgen.units import base_of

if TYPE_CHECKING:
    from cardgen.model.read import ReadResult

NO_DAY = dt.date(2000, 1, 1)
"""Stands for the day of a revision while content is compared; never printed."""
NO_MARK = "000000"
"""Stands for the mark of a print meanwhile."""


@dataclass(frozen=True, slots=True)
class Draft:
    """What ``describe`` hands to ``mark`` and ``render``: the rig_view, the chosen cards without edition, how they were measured."""

    rig_view: RigView
    cards: Mapping[CardKind, Card]
    told: dict[str, Told] = dataclasses.field(default_factory=dict)

    @property
    def kinds(self) -> tuple[CardKind, ...]:
        """The chosen cards."""
        return tuple(self.cards)


class RigMaker:
    """Makes the files of one rig; see ``cardgen.bundle.work.Maker``."""

    def __init__(self) -> None:
        self._printer: Printer | None = None

    def _press(self, templates: Path | None) -> Printer:
        if self._printer is None or self._printer.templates != templates:
            self._printer = Printer(templates)
        return self._printer

    def describe(self, read: ReadResult, options: Options) -> Described:
        """Work out what would be printed for a rig, without laying anything out."""
        assert read.rig is not None  # the bundle hands over sound rigs only
        base = options.base_url or read.rig.preferences.base_url
        rig_view = prepare(read.rig, options.day, Edition(0, NO_DAY, base, NO_MARK), options.units)
        kinds = chosen(options.cards or read.rig.preferences.cards, read.rig)
        made = {kind: kind.make(rig_view) for kind in kinds}
        cards = tuple(
            PrintedCard(
                kind.id,
                rig_view.say(kind.title),
                "",
                printed_values(card),
                said=_said(card, size_for(kind, rig_view, options), _large(rig_view, options)),
            )
            for kind, card in made.items()
        )
        telling = KINDS["may-tow-sheet" if read.rig.alone == "vehicle" else "wallet-card"]
        over = tuple(
            rig_view.say(f"{f.title}: {rig_view.formatter.verdict(f)}")
            for f in rig_view.outcome(Outcome.OVER)
        )
        content = _digest(
            *(c.said for c in cards),
            repr(rig_view.assessment),
            repr(rig_view.checklist),
            repr(rig_view.formatter),
            *(
                (*read.texts.values(), repr(sorted(read.sharing.values())))
                if read.tree is not None and lacks(rig_view, read.tree)
                else ()
            ),
        )
        return Described(
            cards=cards,
            key_numbers=labelled(made.get(telling) or telling.make(rig_view)),
            outcome=rig_view.assessment.outcome().value,
            over=over,
            due={
                rig_view.say(one.title): day.isoformat() if (day := one.since or one.until) else ""
                for one in rig_view.checklist.due
                if one.state != "good" or one.until
            },
            about=rig_view.subtitle,
            content=content,
            same_until=same_until(rig_view),
            model=Draft(rig_view, made),
            address=base or "",
        )

    def mark(
        self, described: Described, options: Options, known: Mapping[str, str], look: Container[str]
    ) -> Described:
        """Add to each card its page and the fingerprint of its print."""
        draft = described.model
        assert isinstance(draft, Draft)  # described in this process
        try:
            cards = tuple(
                self._marked(draft, kind, card, options, known, look)
                for kind, card in zip(draft.kinds, described.cards, strict=True)
            )
        except TemplateFaultError as fault:
            return dataclasses.replace(described, problems=(str(fault),))
        except ScratchError as fault:
            raise MissingError(str(fault)) from fault
        return dataclasses.replace(described, cards=cards)

    def _marked(
        self,
        draft: Draft,
        kind: CardKind,
        card: PrintedCard,
        options: Options,
        known: Mapping[str, str],
        look: Container[str],
    ) -> PrintedCard:
        """One card with its page and, where that is known or to be looked at, its fingerprint and printed values."""
        press, view = self._press(options.templates), draft.rig_view
        wish = draft.cards[kind], size_for(kind, view, options), _large(view, options)
        page = _digest(press.styles, press.page(*wish))
        told = press.told(*wish) if page not in known and kind.id in look else None
        if told is None:
            return dataclasses.replace(card, page=page, fingerprint=known.get(page, ""))
        draft.told[kind.id] = told
        values = {
            label: value for label, value in card.values.items() if is_printed(value or label, told.text)
        }
        return dataclasses.replace(card, page=page, fingerprint=_digest(told.text), values=values)

    def render(
        self,
        read: ReadResult,
        options: Options,
        described: Described,
        revision: RevisionInfo,
        kept: frozenset[str] = frozenset(),
    ) -> Rendered:
        """Print the cards, without those that are kept, and write the report of a rig."""
        try:
            return self._render(read, options, described, revision, kept)
        except TemplateFaultError as fault:
            return Rendered(files={}, problems=(str(fault),))
        except ScratchError as fault:
            raise MissingError(str(fault)) from fault

    def _render(
        self,
        read: ReadResult,
        options: Options,
        described: Described,
        revision: RevisionInfo,
        kept: frozenset[str],
    ) -> Rendered:
        draft = described.model
        if not isinstance(draft, Draft):
            draft = self._draft(read, options)
        files: dict[str, bytes] = {}
        notes: list[str] = []
        card_notes: dict[str, tuple[str, ...]] = {}
        problems: list[str] = []
        missing: list[str] = []
        press = self._press(options.templates)
        for kind in draft.kinds:
            if options.html_only:
                break
            if kind.id in kept:
                continue
            issue = revision.of(kind.id)
            edition = Edition(issue.number, issue.day, draft.rig_view.edition.base_url, issue.mark)
            card = kind.make(dataclasses.replace(draft.rig_view, edition=edition))
            size, large = size_for(kind, draft.rig_view, options), _large(draft.rig_view, options)
            printed = press.card(card, size, large, draft.told.get(kind.id))
            if printed.pdf is not None:
                files[f"{kind.id}.pdf"] = printed.pdf
            card_notes[kind.id] = tuple(printed.notes)
            problems += printed.problems
            missing += [m for m in printed.missing if m not in missing]
        if draft.rig_view.edition.base_url is None:
            notes.append(
                "no base URL set: QR codes hold the key numbers as text (--base-url or preferences.base_url)"
            )
        named = options.cards or draft.rig_view.rig.preferences.cards
        unfit = [n for n in named if n in KINDS and not KINDS[n].fits(draft.rig_view.rig)]
        if unfit:
            notes.append(f"not made, {draft.rig_view.left_out.partition(': ')[2]}: {', '.join(unfit)}")
        issued = dataclasses.replace(
            draft.rig_view, edition=Edition(revision.number, revision.day, draft.rig_view.edition.base_url)
        )
        measuring = measuring_of(issued, read)
        files |= report_files(issued, revision, tuple(draft.kinds), options, measuring)
        if measuring is not None and not options.html_only and (not named or MEASURING in named):
            sheet = build_sheet(measuring, [case.name for case in issued.rig.cases])
            if sheet.worth:
                made = press.sheet(sheet, issued, options.size)
                files |= {SHEET: made.pdf} if made.pdf is not None else {}
                notes += made.notes
                problems += made.problems
        return Rendered(
            files=files,
            notes=tuple(notes),
            card_notes=card_notes,
            problems=tuple(problems),
            missing=tuple(missing),
        )

    def _draft(self, read: ReadResult, options: Options) -> Draft:
        model = self.describe(read, options).model
        assert isinstance(model, Draft)  # made three lines above
        return model

    def index(self, rigs: Sequence[RigBuild], options: Options, kept: frozenset[str]) -> Mapping[str, bytes]:
        """Make the page of all rigs, the page of proof, and what the pages of rigs share."""
        try:
            known = {} if PROOF in kept else proof_file(options)
            return index_files(rigs, options) | known | shared_files(options)
        except TemplateFaultError as fault:
            raise OutputRefusedError(f"the pages beside the rigs cannot be made: {fault}") from fault


def chosen(names: Sequence[str], rig: Rig) -> tuple[CardKind, ...]:
    """Return the cards of some names that fit what the rig file describes; when no name is given, all usual ones.

    Raises:
        KeyError: a name is not a card; callers check names first.
    """
    return tuple(KINDS[n] for n in (names or usual(rig)) if n in KINDS and KINDS[n].fits(rig))


def size_for(kind: CardKind, rig_view: RigView, options: Options) -> str:
    """Choose the size of a card: flag, rig, or the usual one; wallet card and tire tag have only one."""
    if kind.us == WALLET:
        return WALLET
    asked = options.size or rig_view.rig.preferences.size
    return (asked and wished(asked)) or (
        kind.us if base_of(rig_view.formatter.system) == "us" else kind.metric
    )


def _large(rig_view: RigView, options: Options) -> bool:
    return options.large_print or rig_view.rig.preferences.large_print


def _said(card: Card, size: str, large_print: bool) -> str:
    """Fingerprint of all that goes on a card, its size and type, without revision and day."""
    return _digest(repr(card), size, str(large_print))


def _digest(*parts: str) -> str:
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()[:32]
