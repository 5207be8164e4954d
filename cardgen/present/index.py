"""The page of all rigs: verdicts, what is due, and which vehicle matches which trailer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.present.levels import Level, level_of
from cardgen.present.matrix import Matrix

TITLE = "All rigs"


@dataclass(frozen=True, slots=True)
class IndexLink:
    """A file of a rig: title and address relative to the page."""

    title: str
    href: str


@dataclass(frozen=True, slots=True)
class IndexRig:
    """One rig on the page.

    Args:
        nickname: its nickname.
        href: address of its report; empty when it has none.
        word, level: outcome.
        over: a sentence for each limit that is exceeded.
        keys: label and printed value.
        revision: revision and day in words.
        due: what is due, in words.
        links: cards and other files.
        stale: whether an earlier output is shown because the rig file has faults now.
    """

    nickname: str
    href: str
    word: str
    level: Level
    over: tuple[str, ...]
    keys: tuple[tuple[str, str], ...]
    revision: str
    due: tuple[str, ...]
    links: tuple[IndexLink, ...]
    stale: bool = False


@dataclass(frozen=True, slots=True)
class IndexView:
    """Everything the page of all rigs prints."""

    title: str
    language: str
    date: str
    summary: str
    rigs: tuple[IndexRig, ...]
    matrix: Matrix | None


ORDER = {"over": 0, "unknown": 1, "close": 2, "within": 3}


def build_index(
    rigs: Sequence[IndexRig], matrix: Matrix | None = None, date: str = "", language: str = "en"
) -> IndexView:
    """Lay out the page of all rigs.

    Args:
        rigs: one entry per rig, in any order.
        matrix: the match matrix; None to leave it out.
        date: day of the build in words.
        language: BCP 47 tag of the texts.
    """
    words = {
        "over": "over a limit",
        "unknown": "not fully checked",
        "close": "close to a limit",
        "within": "within",
    }
    counted = [(word, sum(r.level == level for r in rigs)) for level, word in words.items()]
    summary = f"{len(rigs)} rig{'s' if len(rigs) != 1 else ''}: " + ", ".join(
        f"{count} {word}" for word, count in counted if count
    )
    ordered = tuple(sorted(rigs, key=lambda r: (ORDER[r.level], r.nickname.casefold())))
    return IndexView(TITLE, language, date, summary if rigs else "No rigs yet", ordered, matrix)


def index_level(outcome: str) -> Level:
    """Return the level of an outcome word."""
    return level_of(outcome)
