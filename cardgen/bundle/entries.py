"""From what came of a rig to its line in the manifest and on the page of all rigs."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from cardgen.bundle.fresh import relative
from cardgen.bundle.inputs import absolute
from cardgen.bundle.manifest import CardEntry, Entry, File
from cardgen.bundle.result import RigResult
from cardgen.bundle.unit import Delivery
from cardgen.bundle.work import Described, Issue, RevisionInfo, Summary


def files_of(delivery: Delivery, new: Mapping[str, File], old: Entry | None) -> dict[str, File]:
    """Output files of a rig: those just made, and those that are kept.

    Args:
        delivery: without faults.
        new: files just made.
        old: entry of the same output before.
    """
    before = old.files if old else {}
    if delivery.made is None:
        return dict(before)
    kept = {f"{name}.pdf" for name in delivery.kept}
    return {**new, **{name: file for name, file in before.items() if name in kept}}


def entry_of(
    delivery: Delivery, out: Path, day: dt.date, files: Mapping[str, File], old: Entry | None
) -> Entry:
    """Make the manifest's entry of a rig; its ``key`` is filled in once the ledger is written.

    Args:
        delivery: without faults.
        out: output folder.
        day: day it was described for.
        files: its output files.
        old: entry of the same output before.
    """
    described, info, made = delivery.described, delivery.info, delivery.made
    assert described is not None  # by make(): a delivery without faults is complete
    assert info is not None
    until = described.same_until
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
        due=described.due,
        key_numbers=dict(described.key_numbers),
        number=info.number,
        revision_day=info.day.isoformat(),
        cards=_cards(delivery, described, info, old),
        notes=made.notes if made else (old.notes if old else ()),
        missing=made.missing if made else (),
    )


def _cards(
    delivery: Delivery, described: Described, info: RevisionInfo, old: Entry | None
) -> dict[str, CardEntry]:
    """Each card with the notes of the rendering that its file comes from."""
    said = delivery.made.card_notes if delivery.made else {}
    before = old.cards if old else {}
    made = {}
    for card in described.cards:
        name, issue = card.id, info.of(card.id)
        notes = before[name].notes if name in before and name not in said else said.get(name, ())
        key = delivery.card_keys.get(name, "")
        made[name] = CardEntry(card.title, issue.number, issue.day.isoformat(), key, tuple(notes))
    return made


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
        notes=entry.all_notes,
    )


def summaries(rigs: Mapping[str, Entry], stale: frozenset[str], out: Path) -> tuple[Summary, ...]:
    """The rigs as the page of all rigs shows them, by folder name.

    Args:
        rigs: entries by folder name.
        stale: folder names whose rig files have faults now.
        out: output folder.
    """
    return tuple(
        Summary(
            slug=slug,
            nickname=one.nickname,
            outcome=one.outcome,
            over=one.over,
            key_numbers=one.key_numbers,
            revision=Issue(one.number, dt.date.fromisoformat(one.revision_day)),
            cards=tuple((name, c.title, _issue(c)) for name, c in one.cards.items()),
            files=tuple(one.files),
            stale=slug in stale,
            due=one.due,
            source=absolute(out / one.source),
        )
        for slug, one in sorted(rigs.items())
        if one.number
    )


def _issue(card: CardEntry) -> Issue:
    return Issue(card.number, dt.date.fromisoformat(card.day))


def keyed(entry: Entry, key: str) -> Entry:
    """The entry with its key; without one while something could not be made."""
    return entry if entry.missing else replace(entry, key=key)
