"""What goes to workers and makers, and what comes back.

A maker is named by ``module:attribute`` so that worker processes, also those on other
machines, can import it themselves. The bundle reads the rig file, lets the maker describe
what would be printed, decides on the revision, and only then has it rendered.
"""

from __future__ import annotations

import datetime as dt
import importlib
from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, Protocol, cast

from cardgen.bundle.ledger import Ledger, RevisionInfo
from cardgen.bundle.manifest import RigOutput
from cardgen.source.faults import Fault

if TYPE_CHECKING:
    from cardgen.model.read import ReadResult


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """Wishes from the command line; what is None or empty is left to the rig file.

    Args:
        day: the day for which ages and due dates are reckoned.
        units, size, base_url: as in ``preferences`` of a rig file.
        cards: ids of the cards to print; empty for the rig's own choice.
        large_print: larger type.
        html_only: leave the PDFs out.
        one_file: every page carries its style and script itself.
        templates: folder with the workspace's own templates, None when there is none.
    """

    day: dt.date
    units: Literal["us", "metric"] | None = None
    size: str | None = None
    cards: tuple[str, ...] = ()
    base_url: str | None = None
    large_print: bool = False
    html_only: bool = False
    one_file: bool = False
    templates: Path | None = None

    @property
    def wishes(self) -> dict[str, Any]:
        """What was wished, by name: all that is not left to the rig, without the day and the templates."""
        said = {name: getattr(self, name) for name in WISHES}
        return {name: list(value) if name == "cards" else value for name, value in said.items() if value}

    def like(self, wishes: Mapping[str, Any]) -> Options:
        """The same day and templates with the wishes of an earlier build."""
        bare: dict[str, Any] = {f.name: f.default for f in fields(self) if f.name in WISHES}
        known = {name: wishes[name] for name in WISHES if name in wishes}
        return replace(self, **(bare | known | {"cards": tuple(known.get("cards", ()))}))


WISHES = ("units", "size", "cards", "base_url", "large_print", "html_only", "one_file")


@dataclass(frozen=True, slots=True)
class PrintedCard:
    """What one card says.

    Args:
        id: name of the card and of its file [-].
        title: what the card is, for people [-].
        fingerprint: of what is printed on it, without revision, day, what is due and address; empty where
            it was not looked at [-].
        values: label and printed value, for telling what changed [-].
        page: fingerprint of what its print comes of; equal pages print the same, others may [-].
        said: fingerprint of all that goes on it, what changes with the day and the address too [-].
    """

    id: str
    title: str
    fingerprint: str
    values: Mapping[str, str] = field(default_factory=dict)
    page: str = ""
    said: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Described:
    """What would be printed for a rig; cheap, nothing is laid out yet.

    Args:
        cards: all cards that will be printed, in their order.
        key_numbers: label and value of the numbers a driver looks for [-].
        outcome: worst outcome of the checks, in words [-].
        over: a sentence for each check that is over [-].
        due: day until which each service is good, ISO 8601; empty where no date tells [-].
        about: the rig in a few words [-].
        content: fingerprint of everything that is rendered, report included, without the
            revision [-]. The same content is not rendered again.
        same_until: first day on which another day might change the content; None when
            every day might.
        model: what the maker wants to find again when it renders; stays in its process.
        problems: why nothing can be made of it [-].
        address: under which the output folder is served; empty without one [-].
    """

    cards: tuple[PrintedCard, ...]
    key_numbers: Mapping[str, str]
    outcome: str
    content: str
    over: tuple[str, ...] = ()
    due: Mapping[str, str] = field(default_factory=dict)
    about: str = ""
    same_until: dt.date | None = None
    model: object = None
    problems: tuple[str, ...] = ()
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rendered:
    """Files of one rig.

    Args:
        files: relative name under the rig's folder, and bytes; a card is ``<id>.pdf``.
        notes: what the person should know about the rig's files [-].
        card_notes: the same for one card, by its id, such as further faces [-].
        problems: why this must not be handed out; with any of them nothing is written [-].
        missing: what is missing from this system, with the fix; the files that could be
            made are written and the command fails [-].
    """

    files: Mapping[str, bytes]
    notes: tuple[str, ...] = ()
    card_notes: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    problems: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What a unit of work needs; travels to a worker.

    Args:
        file: rig file as the person named it.
        files: bytes of the rig file and its parts by path.
        sharing: names of other rigs that take a part in, by its path.
        options: wishes from the command line.
        maker: name of the maker.
        slug: folder name the rig probably has; the ledger is that of this name.
        ledger: revisions of the rig.
        was: folder name that it had before, when the owner renamed it.
        before: what the manifest says of that folder, with keys only for what is still whole:
            what has the same key is not rendered again.
    """

    file: str
    files: Mapping[str, bytes]
    options: Options
    maker: str
    slug: str = ""
    ledger: Ledger = field(default_factory=Ledger)
    was: str = ""
    before: RigOutput | None = None
    sharing: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


Status = Literal["built", "unchanged", "failed", "misdirected"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RigBuild:
    """What became of one rig: it comes from the worker, is staged, and is told to people.

    Args:
        file: rig file.
        status: built, unchanged, failed (an earlier output is kept), or misdirected: the order
            has to come again with the ledger of ``slug``.
        slug, nickname: of the rig, empty when its file has faults.
        output: what the manifest keeps of it and the page of all rigs shows; None when it failed.
        tools: fingerprint of the tools that made it.
        contents: name and bytes of the files that were made; none once they are staged, as a
            fleet must not pile up in memory.
        revision: name of the file of its new revision, empty when it has none.
        revision_text: content of that file; empty once it is staged.
        aside: where that file waits then.
        reprint: titles of the cards that the new revision makes invalid.
        again: their ids.
        waits: ids of those on which no figure, limit or thing to do changed.
        withdrawn: ids of the cards that the new revision no longer makes.
        asides: what else this build did that the person should know.
        changes: what the new revision changed, in words.
        faults: faults of the rig file or of its ledger.
        problems: why the cards must not be handed out.
        lacks: what the system lacks so that nothing could be made.
        bug: traceback, for what should never happen.
        kept: folder name and revision of the earlier output that stays, when it failed.
        warning: why its new revision was not entered, though it was made.
        behind: names of its parts that changed since its output was made, where it was not made anew.
    """

    file: str
    status: Status
    slug: str = ""
    nickname: str = ""
    output: RigOutput | None = None
    tools: str = ""
    contents: Mapping[str, bytes] = field(default_factory=dict)
    revision: str = ""
    revision_text: bytes = b""
    aside: Path = Path()
    reprint: tuple[str, ...] = ()
    again: tuple[str, ...] = ()
    waits: tuple[str, ...] = ()
    withdrawn: tuple[str, ...] = ()
    asides: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()
    problems: tuple[str, ...] = ()
    lacks: tuple[str, ...] = ()
    bug: str = ""
    kept: str = ""
    warning: str = ""
    behind: str = ""

    @property
    def outcome(self) -> str:
        """Worst outcome of the checks, in words."""
        return self.output.outcome if self.output else ""

    @property
    def over(self) -> tuple[str, ...]:
        """A sentence for each check that is over."""
        return self.output.over if self.output else ()

    @property
    def number(self) -> int:
        """Newest revision; 0 when it failed [-]."""
        return self.output.number if self.output else 0

    @property
    def day(self) -> str:
        """Day of the newest revision."""
        return self.output.revision_day if self.output else ""

    @property
    def notes(self) -> tuple[str, ...]:
        """What else the person should know, also of cards that are kept."""
        return (*self.asides, *(self.output.all_notes if self.output else ()))

    @property
    def missing(self) -> tuple[str, ...]:
        """What the system lacks, for the whole rig or for some of its files."""
        return self.output.missing if self.output else self.lacks

    @property
    def new_revision(self) -> bool:
        """Whether this build raised the revision."""
        return bool(self.revision)


class Maker(Protocol):
    """Makes the files of a rig. All methods are pure: no clock, no writing, no network.

    ``describe`` and ``render`` raise ``errors.MissingError`` when the system lacks something
    without which nothing can be made.
    """

    def describe(self, read: ReadResult, options: Options) -> Described:
        """Work out what would be printed. ``read.rig`` is not None."""

    def mark(
        self, described: Described, options: Options, known: Mapping[str, str], look: Container[str]
    ) -> Described:
        """Add pages and fingerprints to the cards that were described in this process.

        Args:
            described: what would be printed.
            options: wishes from the command line.
            known: fingerprint of the print that came of a page.
            look: ids of the cards to be laid out when their page is not known.
        """

    def render(
        self,
        read: ReadResult,
        options: Options,
        described: Described,
        revision: RevisionInfo,
        kept: frozenset[str],
    ) -> Rendered:
        """Make the files of the rig, all but the cards that are ``kept``: theirs are as they should be."""

    def index(self, rigs: Sequence[RigBuild], options: Options, kept: frozenset[str]) -> Mapping[str, bytes]:
        """Make ``index.html`` and shared files, named relative to the output folder.

        What pages of rigs take from there lies under ``assets`` and is named by its content; it goes when no page names it.

        Every rig has an ``output``; where one failed now, it is the earlier one. Of the files that the tools
        alone decide, those that are ``kept`` may be left out: they are as they should be.
        """


def maker_named(name: str) -> Maker:
    """Import a maker by ``module:attribute``; a class is called without arguments."""
    module, _, attribute = name.partition(":")
    found = getattr(importlib.import_module(module), attribute)
    return cast(Maker, found() if isinstance(found, type) else found)
