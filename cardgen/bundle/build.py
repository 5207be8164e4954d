"""One build from start to end: look, make, verify, enter revisions, swap."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from cardgen.bundle.claims import Claims
from cardgen.bundle.entries import entry_of, files_of
from cardgen.bundle.finish import finish
from cardgen.bundle.inputs import Bytes
from cardgen.bundle.opened import Opened, opened
from cardgen.bundle.orders import is_unchanged, work
from cardgen.bundle.request import Request
from cardgen.bundle.result import Result, built, failed
from cardgen.bundle.revision import to_text
from cardgen.bundle.session import Ready, Session
from cardgen.bundle.stage import BadFileError
from cardgen.bundle.toolkey import tool_key
from cardgen.bundle.unit import Delivery


def build(request: Request) -> Result:
    """Build rigs into the output folder: all that was asked for is swapped in, or nothing.

    A rig with faults keeps its earlier output and does not stop the others.

    Raises:
        OutputRefusedError: the output or the ledger cannot be written; nothing has changed.
        MissingError: the cluster that was asked for cannot be used.
    """
    folders = {file.parent for file in request.files}
    with opened(request.out, folders, wait=request.wait, force=request.force) as place:
        session = _begin(request, place)
        todo = [file for file in request.files if not is_unchanged(session, file)]
        request.progress.begin(len(todo), len(session.results))
        for delivery in work(session, todo):
            _take(session, delivery)
        return finish(session)


def _begin(request: Request, place: Opened) -> Session:
    files = Bytes()
    return Session(
        request=request,
        place=place,
        tools=tool_key(request.options.templates, request.maker),
        bytes=files,
        claims=Claims(place.out, place.manifest, files),
        sources={entry.source: slug for slug, entry in place.manifest.rigs.items()},
    )


def _take(session: Session, delivery: Delivery) -> None:
    """Stage what came of a rig, or tell why it failed."""
    file = Path(delivery.file)
    bad = delivery.faults or delivery.missing or delivery.bug
    if not bad and session.elsewhere and delivery.tools != session.tools:
        bad = "its worker has another cardgen, library, font or template than this machine"
        delivery = replace(delivery, missing=f"{bad}; install the same on every machine")
    if bad or (delivery.made and delivery.made.problems):
        session.results[file] = failed(delivery)
    else:
        try:
            _stage(session, delivery)
            session.results[file] = built(delivery, session.entries[delivery.slug].all_notes)
        except BadFileError as problem:
            session.place.stage.withdraw(delivery.slug)
            session.results[file] = failed(replace(delivery, made=None, bug=str(problem)))
    session.request.progress.done(session.results[file])


def _stage(session: Session, delivery: Delivery) -> None:
    """Write the files of a rig aside."""
    slug, place = delivery.slug, session.place
    if not session.claims.claim(slug, delivery.file):
        return
    old = place.manifest.rigs.get(slug)
    made = delivery.made.files if delivery.made else {}
    new = {name: place.stage.add(f"{slug}/{name}", data) for name, data in made.items()}
    files = files_of(delivery, new, old)
    session.entries[slug] = entry_of(delivery, place.out, session.request.options.day, files, old)
    session.ready[slug] = _ready(session, delivery)


def _ready(session: Session, delivery: Delivery) -> Ready:
    """Put a new revision aside as well: a fleet must not pile up in memory."""
    ready = Ready(Path(delivery.file), delivery.tools)
    if not delivery.new_revision or delivery.revision is None:
        return ready
    aside = session.place.stage.aside(to_text(delivery.revision).encode("utf-8"))
    return replace(ready, revision=delivery.revision.file_name, aside=aside)
