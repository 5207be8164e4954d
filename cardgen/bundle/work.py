"""What the bundle asks of the maker of cards and reports, and what it gets back.

A maker is named by ``module:attribute`` so that worker processes, also those on other
machines, can import it themselves. The bundle reads the rig file, lets the maker describe
what would be printed, decides on the revision, and only then has it rendered.
"""

from __future__ import annotations

import datetime as dt
import importlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Literal, Protocol, cast

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
        templates: folder with the workspace's own templates, None when there is none.
    """

    day: dt.date
    units: Literal["us", "metric"] | None = None
    size: str | None = None
    cards: tuple[str, ...] = ()
    base_url: str | None = None
    large_print: bool = False
    html_only: bool = False
    templates: Path | None = None


@dataclass(frozen=True, slots=True)
class PrintedCard:
    """What one card says.

    Args:
        id: name of the card and of its file [-].
        title: what the card is, for people [-].
        fingerprint: of everything printed on it except revision and date [-].
        values: label and printed value, for telling what changed [-].
    """

    id: str
    title: str
    fingerprint: str
    values: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Described:
    """What would be printed for a rig; cheap, nothing is laid out yet.

    Args:
        cards: all cards that will be printed, in their order.
        key_numbers: label and value of the numbers a driver looks for [-].
        outcome: worst outcome of the checks, in words [-].
        over: a sentence for each check that is over [-].
        due: what is due on the day of the build, in words [-].
        content: fingerprint of everything that is rendered, report included, without the
            revision [-]. The same content is not rendered again.
        same_until: first day on which another day might change the content; None when
            every day might.
        model: what the maker wants to find again when it renders; stays in its process.
    """

    cards: tuple[PrintedCard, ...]
    key_numbers: Mapping[str, str]
    outcome: str
    content: str
    over: tuple[str, ...] = ()
    due: tuple[str, ...] = ()
    same_until: dt.date | None = None
    model: object = None


@dataclass(frozen=True, slots=True)
class Issue:
    """Revision number and day that are printed on a card."""

    number: int
    day: dt.date


@dataclass(frozen=True, slots=True)
class Change:
    """What one revision changed.

    Args:
        number: revision [-].
        day: day of the build that made it.
        words: what changed, one change per line; empty for the first revision [-].
        reprint: ids of the cards whose print changed [-].
        withdrawn: ids of the cards that are no longer made [-].
    """

    number: int
    day: dt.date
    words: tuple[str, ...]
    reprint: tuple[str, ...]
    withdrawn: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RevisionInfo:
    """The revision of a rig that is being made.

    Args:
        number, day: newest revision of the rig and its day.
        cards: for each card the revision in which its print last changed: this is printed on
            it, so that a card that did not change stays current.
        history: what each revision changed, newest first.
    """

    number: int
    day: dt.date
    cards: Mapping[str, Issue]
    history: tuple[Change, ...]

    def of(self, card: str) -> Issue:
        """Revision and day to print on a card."""
        return self.cards.get(card) or Issue(self.number, self.day)


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
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
class Summary:
    """One rig on the page of all rigs.

    Args:
        slug: folder of the rig under the output folder [-].
        nickname: the rig's nickname [-].
        outcome, over, key_numbers: as described.
        revision: newest revision and its day.
        cards: id, title, and the revision in which its print last changed.
        files: relative names under the rig's folder [-].
        stale: whether the rig file has faults now, so that an earlier output is shown.
        due: what was due on the day the rig was last made, in words [-].
        source: the rig file, for pages that look at the rigs once more [-].
    """

    slug: str
    nickname: str
    outcome: str
    over: tuple[str, ...]
    key_numbers: Mapping[str, str]
    revision: Issue
    cards: tuple[tuple[str, str, Issue], ...]
    files: tuple[str, ...]
    stale: bool = False
    due: tuple[str, ...] = ()
    source: str = ""


class Maker(Protocol):
    """Makes the files of a rig. All methods are pure: no clock, no writing, no network.

    ``describe`` and ``render`` raise ``errors.MissingError`` when the system lacks something
    without which nothing can be made.
    """

    def warm(self) -> None:
        """Import and prepare what every rig needs; called once per worker process."""

    def describe(self, read: ReadResult, options: Options) -> Described:
        """Work out what would be printed. ``read.rig`` is not None."""

    def render(
        self,
        read: ReadResult,
        options: Options,
        described: Described,
        revision: RevisionInfo,
        kept: frozenset[str],
    ) -> Made:
        """Make the files of the rig, all but the cards that are ``kept``: theirs are as they should be."""

    def index(self, rigs: Sequence[Summary], options: Options) -> Mapping[str, bytes]:
        """Make ``index.html`` and shared files, named relative to the output folder."""


def maker_named(name: str) -> Maker:
    """Import a maker by ``module:attribute``; a class is called without arguments."""
    module, _, attribute = name.partition(":")
    found = getattr(importlib.import_module(module), attribute)
    return cast(Maker, found() if isinstance(found, type) else found)
