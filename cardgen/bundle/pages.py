"""The HTML pages of the bundle: report and borrower page of a rig, and the page of all rigs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from cardgen.bundle.match import match_of
from cardgen.bundle.work import Options, RevisionInfo, Summary
from cardgen.present.borrower_page import build_borrower_page
from cardgen.present.cards import KINDS, CardKind
from cardgen.present.desk import Desk, Edition
from cardgen.present.format import LANGUAGES, day_words
from cardgen.present.history import Download, Revision
from cardgen.present.index import IndexLink, IndexRig, build_index, index_level
from cardgen.present.report import build_report
from cardgen.render.env import environment
from cardgen.render.site import borrower_page, index_page, report_page

REPORT = "index.html"
BORROWER = "borrower.html"
REVISIONS, CHANGES = 8, 8
"""Revisions, and changes of each, that a report tells; it has to stay small."""
NUMBERS = 4
"""Key numbers of each rig on the page of all rigs [-]."""


def report_files(
    desk: Desk, revision: RevisionInfo, kinds: Sequence[CardKind], options: Options
) -> dict[str, bytes]:
    """Make the report and the borrower's page of one rig.

    Args:
        desk: assessment, checklist and reader.
        revision: newest revision and history of the rig.
        kinds: the cards that are on offer.
        options: wishes from the command line.
    """
    env = environment(options.templates)
    current = Edition(revision.number, revision.day, desk.edition.base_url)
    desk = Desk(desk.assessment, desk.checklist, desk.shower, current)
    downloads = () if options.html_only else tuple(_download(desk, kind, revision) for kind in kinds)
    history = tuple(Revision(c.number, c.day, _few(c.words), c.reprint) for c in revision.history[:REVISIONS])
    return {
        REPORT: report_page(build_report(desk, history, downloads, BORROWER), env),
        BORROWER: borrower_page(build_borrower_page(desk), env),
    }


def _few(words: tuple[str, ...]) -> tuple[str, ...]:
    """The first changes of a revision, and how many there are besides."""
    left = len(words) - CHANGES
    return words if left <= 0 else (*words[:CHANGES], f"and {left} more; cardgen changes tells all")


def _download(desk: Desk, kind: CardKind, revision: RevisionInfo) -> Download:
    return Download(kind.id, kind.letter, desk.say(kind.title), f"{kind.id}.pdf", revision.of(kind.id).number)


def index_files(rigs: Sequence[Summary], options: Options) -> Mapping[str, bytes]:
    """Make the page of all rigs.

    Args:
        rigs: one summary per rig.
        options: wishes from the command line.
    """
    files = [Path(one.source) for one in rigs if one.source]
    matrix = match_of(files, options.day) if files else None
    view = build_index([_rig(one) for one in rigs], matrix, day_words(options.day), LANGUAGES["us"])
    return {REPORT: index_page(view, environment(options.templates))}


def _rig(one: Summary) -> IndexRig:
    titles = {name: title for name, title, _ in one.cards}
    cards = tuple(
        IndexLink(titles.get(file.removesuffix(".pdf"), file), f"{one.slug}/{file}")
        for file in one.files
        if file.endswith(".pdf") and file.removesuffix(".pdf") in KINDS
    )
    page = (IndexLink("For the borrower", f"{one.slug}/{BORROWER}"),) if BORROWER in one.files else ()
    links = (*page, *cards)
    report = f"{one.slug}/{REPORT}" if REPORT in one.files else ""
    revision = f"Revision {one.revision.number}, {day_words(one.revision.day)}"
    numbers = tuple(one.key_numbers.items())[:NUMBERS]
    return IndexRig(
        one.nickname, report, one.outcome, index_level(one.outcome), one.over, numbers,
        revision, one.due, links, one.stale,
    )  # fmt: skip
