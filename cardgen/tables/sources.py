"""The documents behind the figures: title, clause, edition, and how the text was seen."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from cardgen.tables.lookup import NotInTableError, read


class Standing(StrEnum):
    """How far a citation can be trusted. Source: none, this project's own scale."""

    OFFICIAL = "official text"
    PART = "official text, read in part"
    COPY = "word-for-word copy"
    SECONDARY = "secondary copy"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"
    EXACT = "exact definition"
    COMPUTED = "computed"


@dataclass(frozen=True, slots=True)
class Source:
    """One document.

    Args:
        key: short stable name [-].
        title: title of the document [-].
        clause: clause, table or page [-], empty when it has none.
        edition: edition or date [-], empty when unknown.
        standing: how the text was seen [-].
        note: what a reader must know, for example that copies disagree [-].
        markets: the only markets whose readers are told of it; all when empty [-].

    Source: the document it names.
    """

    key: str
    title: str
    clause: str
    edition: str
    standing: Standing
    note: str
    markets: tuple[str, ...] = ()

    def words(self) -> str:
        """One-line citation ending in the standing, a passage for ``say`` where markets are named [-]; source: this record."""
        parts = [p for p in (self.title, self.clause, self.edition) if p]
        told = f"{', '.join(parts)} ({self.standing.value})"
        return f"[{' '.join(self.markets)}: {told}]" if self.markets else told

    @property
    def is_law_text(self) -> bool:
        """Whether the official text itself was read [-]; only then may it be called law.

        Source: ``standing``.
        """
        return self.standing is Standing.OFFICIAL


@dataclass(frozen=True, slots=True)
class Stated:
    """A figure with its source.

    Args:
        value: the figure [SI unit of its function].
        source: source key [-].
        words: the figure or rule in words [-].

    Source: the key it carries.
    """

    value: float
    source: str
    words: str = ""


@cache
def all_sources() -> dict[str, Source]:
    """Every source record by key [-].

    Source: ``data/sources.yaml``, ``data/law_sources.yaml``.
    """
    return {
        key: Source(
            key,
            entry["title"],
            str(entry.get("clause", "")),
            str(entry.get("edition", "")),
            Standing(entry["standing"]),
            entry.get("note", ""),
            tuple(entry.get("markets", ())),
        )
        for key, entry in (read("sources") | read("law_sources")).items()
    }


def source(key: str) -> Source:
    """Find a source record.

    Args:
        key: its short name [-].

    Returns:
        The record [-].

    Raises:
        NotInTableError: no such key.

    Source: ``data/sources.yaml``, ``data/law_sources.yaml``.
    """
    try:
        return all_sources()[key]
    except KeyError:
        raise NotInTableError(f"no source record '{key}'") from None
