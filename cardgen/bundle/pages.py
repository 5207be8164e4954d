"""The HTML pages of the bundle: those of a rig, page of all rigs, page of proof."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path, PurePosixPath

from cardgen.bundle.ledger import RevisionInfo
from cardgen.bundle.manifest import MEASURE
from cardgen.bundle.reading import FURTHER
from cardgen.bundle.work import Options, RigBuild
from cardgen.model.read import ReadResult, judge
from cardgen.model.shelf import Known, PairRig, Shelf, pair, read_shelf
from cardgen.present.borrower_page import build_borrower_page
from cardgen.present.cards import KINDS, CardKind
from cardgen.present.format import LANGUAGES, day_words
from cardgen.present.history import Download, Revision
from cardgen.present.index import IndexRig, build_index, numbers
from cardgen.present.levels import level_of
from cardgen.present.matrix import Matrix, Pairs, match
from cardgen.present.measure import FileText, MeasureView, build_measure, lacks
from cardgen.present.proof import proof
from cardgen.present.report import page_makers
from cardgen.present.rig_view import Edition, RigView
from cardgen.render.env import environment
from cardgen.render.site import (
    asset_files,
    index_page,
    landing_page,
    measure_page,
    moved_page,
    proof_page,
    rig_page,
)
from cardgen.source.disk import Disk
from cardgen.source.faults import shown
from cardgen.source.limits import Bounds
from cardgen.source.parts import load

_PART = re.compile(rb"""part["']?\s*:\s*["']?((?:trailers|vehicles)/[\w./-]+)""")
ALL = 40
"""Folders of at most so many rigs are read whole; of larger ones the first rig of each trailer, and of each
vehicle with it [-]."""


def match_of(files: Sequence[Path], day: dt.date) -> Matrix | None:
    """Check every vehicle with every trailer among the parts beside the rig files.

    Args:
        files: the rig files.
        day: the build date.

    Returns:
        The matrix; None when there are no shared vehicles or trailers.
    """
    shelf, pairs, market = _beside(files)
    return match(shelf.vehicles, shelf.trailers, pairs, day, market)


def matches_of(rig: Path, files: Sequence[Path], day: dt.date) -> tuple[Matrix, ...]:
    """Check one rig's vehicle with every trailer, and its trailer behind every vehicle.

    Args:
        rig: the rig file.
        files: the rig files beside it, itself included.
        day: the build date.

    Returns:
        One matrix for each of the two that is a shared part: a single row, a single column.
    """
    shelf, pairs, market = _beside(files)
    loaded = load(rig, Disk(), Bounds())
    market = next((known.rig.market for known in known_rigs([rig])), market)
    vehicles = {name: one for name, one in shelf.vehicles.items() if shelf.uses(name, loaded)}
    trailers = {name: one for name, one in shelf.trailers.items() if shelf.uses(name, loaded)}
    read = judge(loaded, rig, FURTHER).rig

    def of_rig(vehicle: str, trailer: str) -> PairRig:
        """Its own pair is this rig, also where another rig has both parts."""
        if read is None or vehicle not in vehicles or trailer not in trailers:
            return pairs(vehicle, trailer)
        return PairRig(read, read.nickname)

    row = match(vehicles, shelf.trailers, of_rig, day, market)
    column = match(shelf.vehicles, trailers, of_rig, day, market)
    return tuple(one for one in (row, column) if one is not None)


def _beside(files: Sequence[Path]) -> tuple[Shelf, Pairs, str]:
    """The shared parts beside rig files, what any two of them make together, and the market of the page."""
    shelves = [read_shelf(folder) for folder in sorted({file.parent for file in files})]
    shelf = Shelf(
        {name: one for s in shelves for name, one in s.vehicles.items()},
        {name: one for s in shelves for name, one in s.trailers.items()},
        (),
        (),
        {name: one for s in shelves for name, one in s.loaded.items()},
    )
    rigs = tuple(known_rigs(files))

    def pairs(vehicle: str, trailer: str) -> PairRig:
        return pair(shelf, vehicle, trailer, rigs)

    return shelf, pairs, rigs[0].rig.market if rigs else "us"


def known_rigs(files: Sequence[Path]) -> Iterable[Known]:
    """Read the rigs that show how a trailer is loaded and coupled; those with faults are passed over."""
    seen: set[frozenset[bytes]] = set()
    for file in sorted(files):
        if len(files) > ALL:
            try:
                names = frozenset(_PART.findall(file.read_bytes()))
            except OSError:
                continue
            if not names or names in seen:
                continue
            seen.add(names)
        loaded = load(file, Disk(), Bounds())
        rig = judge(loaded, file, FURTHER).rig
        if rig is not None:
            yield Known(rig, loaded)


REPORT, USE = "index.html", "use.html"
BORROWER = "borrower.html"
SHEET = "measuring-sheet.pdf"
PROOF = "proof.html"
REVISIONS, CHANGES = 8, 8
"""Revisions, and changes of each, that a report tells; it has to stay small."""


def report_makers(
    rig_view: RigView,
    revision: RevisionInfo,
    kinds: Sequence[CardKind],
    options: Options,
    measuring: MeasureView | None = None,
) -> dict[str, Callable[[], bytes]]:
    """What makes each page of one rig, by the name of its file: one may be needed before the others.

    Args:
        rig_view: assessment, checklist and reader.
        revision: newest revision and history of the rig.
        kinds: the cards that were asked for.
        options: wishes from the command line.
        measuring: the measuring page; None for a rig that lacks nothing.
    """
    env, whole = environment(options.templates), options.one_file
    current = Edition(revision.number, revision.day, rig_view.edition.base_url)
    rig_view = replace(rig_view, edition=current)
    printed = () if options.html_only else kinds
    downloads = tuple(
        _download(rig_view, kind, revision, there=kind in printed)
        for kind in (*kinds, *(one for one in KINDS.values() if one not in kinds))
        if kind in printed or kind.id in revision.cards
    )
    history = tuple(Revision(c.number, c.day, _few(c.words), c.reprint) for c in revision.history[:REVISIONS])
    made = page_makers(rig_view, history, downloads, MEASURE if measuring else "")
    made["borrower"] = lambda: build_borrower_page(rig_view, downloads)
    pages = {name: cache(make) for name, make in made.items()}
    makers: dict[str, Callable[[], bytes]] = {
        f"{name}.html": lambda page=page: rig_page(page(), env, whole=whole)  # type: ignore[misc]  # bound now
        for name, page in pages.items()
    }
    makers[REPORT] = lambda: landing_page([page() for page in pages.values()], env, whole=whole)
    if measuring is not None:
        makers[MEASURE] = lambda: measure_page(measuring, rig_view.rig.market, env)
    return makers


def report_files(
    rig_view: RigView,
    revision: RevisionInfo,
    kinds: Sequence[CardKind],
    options: Options,
    measuring: MeasureView | None = None,
) -> dict[str, bytes]:
    """Make the pages of one rig, the one behind the address on its cards and, where it lacks something, the measuring page.

    Args:
        rig_view, revision, kinds, options, measuring: as for ``report_makers``.
    """
    makers = report_makers(rig_view, revision, kinds, options, measuring)
    return {name: make() for name, make in makers.items()}


def measuring_of(rig_view: RigView, read: ReadResult) -> MeasureView | None:
    """Lay out the measuring page of a rig; None for a rig that lacks nothing.

    Args:
        rig_view: the rig.
        read: its files.
    """
    if read.tree is None or not lacks(rig_view, read.tree):
        return None
    top = read.files[0].parent
    files = [
        FileText(
            shown(PurePosixPath(*file.relative_to(top).parts)),
            shown(file),
            read.texts[shown(file)],
            read.sharing.get(str(file), ()),
        )
        for file in dict.fromkeys(read.files)
        if shown(file) in read.texts
    ]
    return build_measure(rig_view, read.tree, files)


def _few(words: tuple[str, ...]) -> tuple[str, ...]:
    """The first changes of a revision, and how many there are besides."""
    left = len(words) - CHANGES
    return words if left <= 0 else (*words[:CHANGES], f"and {left} more; cardgen changes tells all")


def _download(rig_view: RigView, kind: CardKind, revision: RevisionInfo, *, there: bool) -> Download:
    """A card that is current by the ledger; it has an address where its file was made as well."""
    href = f"{kind.id}.pdf" if there else ""
    issue = revision.of(kind.id)
    prints = revision.notices.get(kind.id, ())[:REVISIONS]
    title = rig_view.say(kind.title)
    return Download(kind.id, kind.letter, title, href, issue.number, "", issue.mark, prints)


def proof_file(options: Options) -> dict[str, bytes]:
    """Make the page of proof, which is the same for all rigs and days."""
    return {PROOF: proof_page(proof(), environment(options.templates))}


def shared_files(options: Options) -> dict[str, bytes]:
    """Make the style sheets and scripts beside the rigs; none where every page carries its own."""
    return {} if options.one_file else asset_files(environment(options.templates))


def index_files(rigs: Sequence[RigBuild], options: Options) -> dict[str, bytes]:
    """Make the page of all rigs.

    Args:
        rigs: each with its output, by folder name; one that failed now shows its earlier output.
        options: wishes from the command line.
    """
    files = [Path(one.file) for one in rigs if one.file]
    matrix = match_of(files, options.day) if files else None
    view = build_index([_on_index(one) for one in rigs], matrix, day_words(options.day), LANGUAGES["us"])
    env = environment(options.templates)
    slugs = {one.slug for one in rigs}
    moved = {
        f"{old}/{REPORT}": moved_page(name, one.nickname, f"../{one.slug}/{REPORT}", env)
        for one in rigs
        if one.output is not None
        for old, name in one.output.formerly.items()
        if old not in slugs
    }
    return {REPORT: index_page(view, env)} | moved


def _on_index(rig: RigBuild) -> IndexRig:
    """One rig as the page of all rigs shows it."""
    output = rig.output
    assert output is not None  # the build hands over rigs that have one
    return IndexRig(
        nickname=output.nickname,
        href=next((f"{rig.slug}/{name}" for name in (USE, REPORT) if name in output.files), ""),
        word=output.outcome,
        level=level_of(output.outcome),
        over=output.over,
        numbers=numbers(output.key_numbers),
        about=output.about,
        due=output.due,
        cards=any(f"{name}.pdf" in output.files for name in output.cards),
        measure=MEASURE in output.files,
        sheet=SHEET in output.files,
        faulty=rig.status == "failed",
        behind=rig.behind,
    )
