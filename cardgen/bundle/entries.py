"""From what came of a rig to its line in the manifest and on the page of all rigs."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from cardgen.bundle.fresh import relative
from cardgen.bundle.manifest import Entry, File
from cardgen.bundle.result import RigResult
from cardgen.bundle.unit import Delivery
from cardgen.bundle.work import Issue, Summary


def entry_of(
    delivery: Delivery, out: Path, day: dt.date, files: Mapping[str, File], old: Entry | None
) -> Entry:
    """Make the manifest's entry of a rig; its ``key`` is filled in once the ledger is written.

    Args:
        delivery: without faults.
        out: output folder.
        day: day it was described for.
        files: its output files.
        old: entry of the same output, when nothing had to be rendered.
    """
    described, info, made = delivery.described, delivery.info, delivery.made
    assert described is not None  # by make(): a delivery without faults is complete
    assert info is not None
    until = described.same_until
    issues = [(card.id, card.title, info.of(card.id)) for card in described.cards]
    before = old if made is None else None
    return Entry(
        nickname=delivery.nickname,
        source=relative(delivery.file, out),
        inputs={relative(path, out): sha for path, sha in delivery.inputs},
        key="",
        day=day.isoformat(),
        same_until=until.isoformat() if until else None,
        render_key=delivery.render_key if not (made and made.missing) else "",
        files=dict(files),
        outcome=described.outcome,
        over=described.over,
        key_numbers=dict(described.key_numbers),
        number=info.number,
        revision_day=info.day.isoformat(),
        cards=tuple((name, title, issue.number, issue.day.isoformat()) for name, title, issue in issues),
        notes=made.notes if made else (before.notes if before else ()),
        missing=made.missing if made else (),
    )


def unchanged(file: Path, slug: str, entry: Entry) -> RigResult:
    """Tell of a rig that is already as it should be."""
    return RigResult(
        file=str(file),
        status="unchanged",
        slug=slug,
        nickname=entry.nickname,
        outcome=entry.outcome,
        over=entry.over,
        number=entry.number,
        day=entry.revision_day,
        notes=entry.notes,
    )


def summaries(rigs: Mapping[str, Entry], stale: frozenset[str]) -> tuple[Summary, ...]:
    """The rigs as the page of all rigs shows them, by folder name.

    Args:
        rigs: entries by folder name.
        stale: folder names whose rig files have faults now.
    """
    return tuple(
        Summary(
            slug=slug,
            nickname=one.nickname,
            outcome=one.outcome,
            over=one.over,
            key_numbers=one.key_numbers,
            revision=Issue(one.number, dt.date.fromisoformat(one.revision_day)),
            cards=tuple((i, t, Issue(n, dt.date.fromisoformat(d))) for i, t, n, d in one.cards),
            files=tuple(one.files),
            stale=slug in stale,
        )
        for slug, one in sorted(rigs.items())
    )


def keyed(entry: Entry, key: str) -> Entry:
    """The entry with its key; without one while something could not be made."""
    return entry if entry.missing else replace(entry, key=key)
