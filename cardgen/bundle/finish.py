"""The end of a build: names settled, page of all rigs, revisions entered, everything swapped in."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from cardgen.bundle.entries import keyed, summaries
from cardgen.bundle.fresh import entry_key, is_whole, ledger_folder, relative
from cardgen.bundle.hashing import fingerprint
from cardgen.bundle.inputs import shelf_files
from cardgen.bundle.ledger import enter
from cardgen.bundle.manifest import Entry, File, Manifest
from cardgen.bundle.result import Result, RigResult
from cardgen.bundle.session import Session
from cardgen.bundle.stage import BadFileError
from cardgen.bundle.swap import commit
from cardgen.bundle.work import maker_named


def finish(session: Session) -> Result:
    """Bring everything that was staged into the output, or leave it as it was.

    Raises:
        OutputRefusedError: the output or the ledger cannot be written.
    """
    _settle_names(session)
    rigs, removed = _all_rigs(session)
    stale = _stale(session, rigs)
    ordered = [session.results[file] for file in session.request.files]
    finished = session.place.finished
    if not session.entries and not removed and any(one.status == "failed" for one in ordered):
        return Result(rigs=ordered, finished=finished)
    stage, old = session.place.stage, session.place.manifest
    shared, index_key = _index(session, rigs, stale)
    stage.refuse_foreign()
    _enter_revisions(session, rigs)
    new = Manifest(rigs=rigs, shared=shared, index_key=index_key)
    written = len(stage.moves)
    if stage.moves or new != old:
        drops = {name for name, _ in old.all_files()} - {name for name, _ in new.all_files()}
        commit(stage, drops, new)
    return Result(rigs=ordered, removed=removed, finished=finished, written=written)


def _settle_names(session: Session) -> None:
    """Fail rigs that want a folder name which another rig has."""
    unchanged = (one.slug for one in session.results.values() if one.status == "unchanged")
    kept = [slug for slug in unchanged if slug in session.place.manifest.rigs]
    for file, taken in session.claims.settle(session.ready, kept).items():
        if session.ready.pop(taken.slug, None) is not None:
            session.entries.pop(taken.slug)
            session.place.stage.withdraw(taken.slug)
        session.results[Path(file)] = RigResult(file=file, status="failed", faults=taken.faults)


def _all_rigs(session: Session) -> tuple[dict[str, Entry], list[str]]:
    """Entries after this build, and the names of those whose rig is gone."""
    out, old = session.place.out, session.place.manifest.rigs
    now = {entry.source: slug for slug, entry in session.entries.items()}

    def is_gone(slug: str, entry: Entry) -> bool:
        renamed = now.get(entry.source, slug) != slug
        return renamed or (session.request.whole and not (out / entry.source).exists())

    removed = [slug for slug, entry in old.items() if slug not in session.entries and is_gone(slug, entry)]
    return {slug: entry for slug, entry in old.items() if slug not in removed} | session.entries, removed


def _stale(session: Session, rigs: dict[str, Entry]) -> frozenset[str]:
    """Folder names that keep an earlier output, as their rig failed now; told in the results."""
    names = set()
    for file, one in session.results.items():
        slug = session.sources.get(relative(file, session.place.out))
        if one.status == "failed" and slug in rigs:
            names.add(slug)
            session.results[file] = replace(one, kept=f"{slug}, revision {rigs[slug].number}")
    return frozenset(names)


def _index(session: Session, rigs: dict[str, Entry], stale: frozenset[str]) -> tuple[dict[str, File], str]:
    """Stage the page of all rigs, unless it is already as it should be."""
    request, place = session.request, session.place
    old = place.manifest
    if not rigs:
        return {}, ""
    page = summaries(rigs, stale, place.out)
    parts = [session.bytes.mark(part) for part in shelf_files(Path(one.source) for one in page)]
    wishes = replace(request.options, day=request.options.day.min, templates=None)
    inputs = {slug: entry.inputs for slug, entry in rigs.items()}
    key = fingerprint((session.tools, wishes, page, parts, inputs))
    whole = is_whole(place.out, old.shared, verify=request.verify)
    if key == old.index_key and whole and not request.again:
        return dict(old.shared), key
    made = maker_named(request.maker).index(page, request.options)
    for name in made:
        if name.split("/")[0] in rigs:
            raise BadFileError(f"{name} lies in the folder of a rig")
    return {name: place.stage.add(name, data) for name, data in made.items()}, key


def _enter_revisions(session: Session, rigs: dict[str, Entry]) -> None:
    """Write new revisions to the ledger, then give the entries their keys."""
    for slug, one in session.ready.items():
        if one.revision:
            enter(ledger_folder(one.file, slug) / one.revision, one.aside)
    for slug, one in session.ready.items():
        # A file of the package may have been edited since this process started.
        key = entry_key(one.tools, session.request.options, one.file, slug)
        rigs[slug] = keyed(rigs[slug], key)
