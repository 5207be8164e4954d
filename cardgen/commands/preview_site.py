"""What the preview serves: pages made in memory, cards printed when they are asked for.

Nothing is written: no output folder, no revision is entered. A rig is made anew only when the
content of one of its files changed.
"""

from __future__ import annotations

import errno
import hashlib
import os
import threading
import traceback
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from cardgen.bundle.changes import facts
from cardgen.bundle.errors import MissingError
from cardgen.bundle.inputs import nickname_in
from cardgen.bundle.ledger import FOLDER, RevisionInfo, read_ledger
from cardgen.bundle.make import decide
from cardgen.bundle.maker import Draft, RigMaker
from cardgen.bundle.pages import PROOF, match_of, measuring_of, proof_file, report_makers, shared_files
from cardgen.bundle.reading import read_rig
from cardgen.bundle.work import Described, Options, Rendered
from cardgen.model.read import ReadResult
from cardgen.model.slug import slug
from cardgen.present.format import day_words
from cardgen.present.index import IndexRig, build_index, numbers
from cardgen.present.levels import level_of
from cardgen.render.env import TemplateFaultError, environment
from cardgen.render.live import FaultLine, faults_page, gone_page
from cardgen.render.site import index_page
from cardgen.source.disk import Disk
from cardgen.source.faults import Fault

Snapshot = Mapping[str, str]
"""Path and fingerprint of every watched file."""


def snapshot(folders: Iterable[Path]) -> Snapshot:
    """Fingerprint every YAML file, template, style sheet and script below some folders.

    What has just gone is left out, as is what is no file; the next look tells.

    Raises:
        OSError: the system has no descriptor left, so that nothing can be said about the files.
    """
    found: dict[str, str] = {}
    for folder in folders:
        for path in _below(folder):
            try:
                found[os.path.realpath(path)] = hashlib.sha256(Disk().read_bytes(path)).hexdigest()
            except OSError as problem:
                _gone(problem)
    return found


def _below(folder: Path) -> list[Path]:
    """Files of ours below a folder, the ledger left out."""
    found = []
    for place, inner, names in os.walk(folder, onerror=_gone):
        inner[:] = [name for name in inner if name != FOLDER]
        found += [Path(place, name) for name in names if name.endswith(SUFFIXES)]
    return sorted(found)


def _gone(problem: OSError) -> None:
    """Pass over what cannot be read, unless it is because nothing can."""
    if problem.errno in (errno.EMFILE, errno.ENFILE):
        raise problem


SUFFIXES = (".yaml", ".yml", ".j2", ".css", ".js")


@dataclass(slots=True)
class RigPages:
    """One rig as it is served.

    Args:
        file: its file.
        key: fingerprint of the files it was made from.
        slug: its folder.
        read, described, info: from reading to the revision; None while it has faults.
        makers: what makes each page, by name.
        pages: those that were asked for.
        cards: what printing of a card gave, by id.
        faults: what is wrong with it.
    """

    file: Path
    key: str
    slug: str
    read: ReadResult | None = None
    described: Described | None = None
    info: RevisionInfo | None = None
    makers: Mapping[str, Callable[[], bytes]] = field(default_factory=dict)
    pages: dict[str, bytes] = field(default_factory=dict)
    cards: dict[str, Rendered] = field(default_factory=dict)
    faults: tuple[FaultLine, ...] = ()


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer: status, kind of content, body, whether the reloading script belongs into it."""

    status: int
    kind: str
    body: bytes
    live: bool = False


HTML, STYLE, SCRIPT = (f"text/{kind}; charset=utf-8" for kind in ("html", "css", "javascript"))


class PreviewSite:
    """All pages of some rigs, made anew when a file changes.

    Args:
        files: the rig files, or None for all of ``folder``.
        folder: the folder of rigs.
        options: wishes from the command line.
    """

    def __init__(self, files: tuple[Path, ...] | None, folder: Path, options: Options) -> None:
        self.folder = folder
        self.options = options
        self.version = 0
        self.changed = threading.Condition()
        self._files = files
        self._lock = threading.Lock()
        self._maker = RigMaker()
        self._rigs: dict[Path, RigPages] = {}
        self._listing = threading.Lock()
        self._index: tuple[int, bytes] = (-1, b"")
        self._templates: list[str] = []

    def files(self) -> tuple[Path, ...]:
        """The rig files there are now."""
        if self._files is not None:
            return self._files
        return tuple(sorted(p for p in self.folder.glob("*.y*ml") if p.suffix in (".yaml", ".yml")))

    def refresh(self, seen: Snapshot) -> list[str]:
        """Make anew whatever a changed file belongs to; return a line for each rig that was made."""
        with self._lock:
            told: list[str] = []
            others = [v for k, v in sorted(seen.items()) if not k.endswith((".yaml", ".yml"))]
            if others != self._templates:
                environment.cache_clear()
                self._maker, self._templates = RigMaker(), others
            now: dict[Path, RigPages] = {}
            for file in self.files():
                old = self._rigs.get(file)
                key = self._key(old, file, seen, others)
                if old is not None and old.key == key:
                    now[file] = old
                    continue
                made = self._make(file, old)
                made.key = self._key(made, file, seen, others)
                now[file] = made
                told.append(self._told(made))
            self._rigs = now
            with self.changed:
                self.version += 1
                self.changed.notify_all()
        return told

    def _key(self, made: RigPages | None, file: Path, seen: Snapshot, others: list[str]) -> str:
        """Fingerprint of what a rig was made from; everything while it has faults."""
        if made is None or made.read is None:
            return repr((sorted(seen.items()), self.options))
        parts = [seen.get(str(path.resolve()), "") for path in (file, *made.read.files)]
        return repr((parts, others, self.options))

    def _told(self, made: RigPages) -> str:
        if made.faults:
            count = len(made.faults)
            return f"{made.file}: {count} fault{'s' if count > 1 else ''}"
        return f"{made.file}: made"

    def _make(self, file: Path, old: RigPages | None) -> RigPages:
        """Read a rig and work it out, or tell why not; its pages are made when they are asked for, the open one first."""
        made = RigPages(file, "", old.slug if old is not None else _name(file))

        def read() -> None:
            found = read_rig(file)
            if found.rig is None:
                made.faults = tuple(map(_line, found.faults))
                return
            made.read, made.slug = found, slug(found.rig.nickname)
            made.described = self._maker.describe(found, self.options)
            ledger = read_ledger(file.parent / FOLDER / made.slug)
            made.faults = tuple(map(_line, ledger.faults))
            who = (made.slug, found.rig.nickname)
            made.info = decide(ledger, who, made.described, facts(found.rig), self.options.day).info
            made.makers = self._makers(found, made.described, made.info)

        self._tried(made, read)
        return made

    def _tried(self, made: RigPages, act: Callable[[], None]) -> None:
        """Do something for a rig; what goes wrong is shown in place of its pages."""
        try:
            act()
        except (MissingError, TemplateFaultError, KeyError) as problem:
            made.faults = (FaultLine(str(problem), str(made.file)),)
        except Exception:  # whatever happens, the preview goes on and shows it
            made.faults = (FaultLine("this is a bug in cardgen", str(made.file), "", traceback.format_exc()),)
        if made.faults:
            made.read, made.makers, made.pages = None, {}, {"index.html": self._faulty(made)}

    def _makers(
        self, read: ReadResult, described: Described, info: RevisionInfo
    ) -> Mapping[str, Callable[[], bytes]]:
        """What makes each page; the cards are printed later, one by one."""
        draft = described.model
        assert isinstance(draft, Draft)  # the maker's own
        wishes, measuring = replace(self.options, html_only=False), measuring_of(draft.rig_view, read)
        return report_makers(draft.rig_view, info, draft.kinds, wishes, measuring)

    def _page(self, rig: RigPages, name: str) -> bytes | None:
        """One page of a rig, made once; that of its faults whichever is asked for; None where there is no such page."""
        if name in rig.makers and name not in rig.pages:
            self._tried(rig, lambda: rig.pages.update({name: rig.makers[name]()}))
        return rig.pages.get("index.html" if rig.faults and name.endswith(".html") else name)

    def _faulty(self, made: RigPages) -> bytes:
        return faults_page(f"{made.file.name} has faults", [(str(made.file), made.faults)], environment())

    def _all_rigs(self) -> bytes:
        """The page of all rigs, made when it is asked for: matching every pair takes longer than making a rig."""
        with self._listing:
            with self._lock:
                version, rigs = self.version, [_entry(one) for one in self._rigs.values()]
            if self._index[0] != version:
                try:
                    matrix = match_of(self.files(), self.options.day)
                    view = build_index(rigs, matrix, day_words(self.options.day), "en-US")
                    page = index_page(view, environment(self.options.templates))
                except TemplateFaultError as problem:
                    page = _no_index(FaultLine(str(problem), ""))
                except Exception:  # whatever happens, the preview goes on and shows it
                    page = _no_index(FaultLine("this is a bug in cardgen", "", "", traceback.format_exc()))
                self._index = (version, page)
            return self._index[1]

    def _gone(self, what: str) -> Answer:
        """Say that there is no such page, and lead to those that there are; it loads anew by itself."""
        there = [(_entry(one).nickname, f"/{one.slug}/") for one in self._rigs.values()]
        return Answer(404, HTML, gone_page(what, there, environment()), live=True)

    def answer(self, path: str) -> Answer:
        """Answer a request for a path without its query.

        Args:
            path: decoded path, starting with a slash [-].
        """
        parts = [part for part in path.split("/") if part]
        if not parts or parts == ["index.html"]:
            return Answer(200, HTML, self._all_rigs(), live=True)
        with self._lock:
            if parts == [PROOF]:
                return Answer(200, HTML, proof_file(self.options)[PROOF], live=True)
            beside = shared_files(self.options).get("/".join(parts))
            if beside is not None:
                return Answer(200, STYLE if path.endswith(".css") else SCRIPT, beside)
            rig = next((r for r in self._rigs.values() if r.slug == parts[0]), None)
            if rig is None or len(parts) > 2:
                return self._gone("page")
            name = parts[1] if len(parts) == 2 else "index.html"
            page = self._page(rig, name)
            if page is not None:
                return Answer(200, HTML, page, live=True)
            if name.endswith(".pdf"):
                return self._card(rig, name.removesuffix(".pdf"))
            return self._gone("page")

    def _card(self, rig: RigPages, card: str) -> Answer:
        """Print one card now, once for each state of the rig."""
        read, described, info = rig.read, rig.described, rig.info
        known = described is not None and card in {c.id for c in described.cards}
        if read is None or info is None or not known:
            return self._gone("card")
        if card not in rig.cards:
            options = replace(self.options, cards=(card,), html_only=False)
            rig.cards[card] = self._maker.render(read, options, self._maker.describe(read, options), info)
        made = rig.cards[card]
        body = made.files.get(f"{card}.pdf")
        if body is not None and not made.problems:
            return Answer(200, "application/pdf", body)
        lines = [FaultLine(text, card) for text in (*made.problems, *made.missing)]
        return Answer(
            500, HTML, faults_page(f"{card} cannot be printed", [(card, lines)], environment()), live=True
        )


def _no_index(line: FaultLine) -> bytes:
    return faults_page("The page of all rigs", [("index", (line,))], environment())


def _name(file: Path) -> str:
    """Folder name of a rig whose file may be broken."""
    try:
        return slug(nickname_in(Disk().read_bytes(file)) or file.stem)
    except OSError:
        return slug(file.stem)


def _line(fault: Fault) -> FaultLine:
    return FaultLine(
        fault.message, f"{fault.file}:{fault.line}:{fault.col}", fault.field, fault.hint, fault.code
    )


def _entry(one: RigPages) -> IndexRig:
    """One rig on the page of all rigs."""
    href = f"{one.slug}/index.html"
    if one.described is None or one.info is None or one.faults:
        faults = tuple(f"{line.place}: {line.message}" for line in one.faults[:3])
        return IndexRig(one.file.name, href, "", "unknown", faults, about=str(one.file), faulty=True)
    described = one.described
    return IndexRig(
        nickname=one.read.rig.nickname if one.read is not None and one.read.rig is not None else one.slug,
        href=href,
        word=described.outcome,
        level=level_of(described.outcome),
        over=described.over,
        numbers=numbers(described.key_numbers),
        about=described.about,
        due=described.due,
        cards=bool(described.cards),
    )
