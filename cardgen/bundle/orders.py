"""Which rigs have to be made, and the orders for them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from cardgen.bundle.entries import unchanged
from cardgen.bundle.fresh import entry_key, is_fresh, is_whole, ledger_folder, relative, whole_cards
from cardgen.bundle.inputs import nickname_in
from cardgen.bundle.ledger import Ledger, read_ledger, rivalry
from cardgen.bundle.pool import deliveries
from cardgen.bundle.session import Session
from cardgen.bundle.unit import Delivery, Order
from cardgen.model.slug import slug as slug_of


def is_unchanged(session: Session, file: Path) -> bool:
    """Whether a rig's output is already what would be made; told in the results."""
    out, request = session.place.out, session.request
    slug = session.sources.get(relative(file, out))
    if slug is None or request.again:
        return False
    entry = session.place.manifest.rigs[slug]
    key = entry_key(session.tools, request.options, file, slug)
    if not is_fresh(entry, out, session.bytes, key, request.options):
        return False
    if not is_whole(out / slug, entry.files, verify=request.verify):
        return False
    session.results[file] = unchanged(file, slug, entry)
    session.bytes.forget(file)
    return True


def work(session: Session, todo: list[Path]) -> Iterator[Delivery]:
    """Have rigs made; an order that came without its own ledger is given out again."""
    crew = session.request.crew(len(todo), session.place.stage.open)
    session.elsewhere = crew.elsewhere
    wrong: list[Delivery] = []
    try:
        for delivery in deliveries((order(session, file, "") for file in todo), crew):
            if delivery.other_ledger:
                wrong.append(delivery)
            else:
                yield delivery
        again = (order(session, Path(one.file), one.slug) for one in wrong)
        yield from deliveries(again, crew)
    finally:
        crew.end()


def order(session: Session, file: Path, slug: str) -> Order:
    """Make the order for a rig, with the ledger of the name it probably has.

    Args:
        session: the build.
        file: rig file.
        slug: its folder name; empty to guess it from the text.
    """
    request, out = session.request, session.place.out
    files = session.bytes.with_parts(file)
    session.bytes.mark(file)
    session.bytes.forget(file)
    slug = slug or slug_of(nickname_in(files.get(str(file), b"")))
    made = Order(
        file=str(file),
        files=files,
        options=request.options,
        maker=request.maker,
        slug=slug,
        ledger=_ledger(session, file, slug),
    )
    entry = session.place.manifest.rigs.get(slug)
    if entry is None or entry.source != relative(file, out) or request.again:
        return made
    folder, verify = out / slug, request.verify
    done = entry.render_key if is_whole(folder, entry.files, verify=verify) else ""
    return replace(made, done=done, done_cards=whole_cards(folder, entry, verify=verify))


def _ledger(session: Session, file: Path, slug: str) -> Ledger:
    """Revisions of a rig; rivals are faults unless they are to be joined."""
    ledger = read_ledger(ledger_folder(file, slug))
    if ledger.rivals and not session.request.join:
        return replace(ledger, faults=(*ledger.faults, *rivalry(ledger.rivals)))
    return ledger
