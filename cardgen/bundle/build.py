"""One build from start to end: look, make, verify, enter revisions, swap."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from cardgen.bundle.claims import Claims
from cardgen.bundle.entries import entry_of, files_of, keyed, summaries, unchanged
from cardgen.bundle.fresh import entry_key, is_fresh, is_whole, ledger_folder, relative, whole_cards
from cardgen.bundle.hashing import fingerprint
from cardgen.bundle.inputs import Bytes, nickname_in, shelf_files
from cardgen.bundle.ledger import Ledger, enter, read_ledger, rivalry
from cardgen.bundle.manifest import Entry, File, Manifest
from cardgen.bundle.opened import Opened, opened
from cardgen.bundle.pool import deliveries
from cardgen.bundle.request import Request
from cardgen.bundle.result import Result, RigResult, built, failed
from cardgen.bundle.stage import BadFileError
from cardgen.bundle.swap import commit
from cardgen.bundle.toolkey import tool_key
from cardgen.bundle.unit import Delivery, Order
from cardgen.bundle.work import maker_named
from cardgen.model.slug import slug as slug_of


def build(request: Request) -> Result:
    """Build rigs into the output folder: all that was asked for is swapped in, or nothing.

    A rig with faults keeps its earlier output and does not stop the others.

    Raises:
        OutputRefusedError: the output or the ledger cannot be written; nothing has changed.
    """
    folders = {file.parent for file in request.files}
    with opened(request.out, folders, wait=request.wait, force=request.force) as place:
        return _Build(request, place).run()


@dataclass(slots=True)
class _Build:
    request: Request
    place: Opened
    bytes: Bytes = field(default_factory=Bytes)
    tools: str = ""
    elsewhere: bool = False
    results: dict[Path, RigResult] = field(default_factory=dict)
    entries: dict[str, Entry] = field(default_factory=dict)
    good: dict[str, Delivery] = field(default_factory=dict)
    sources: dict[str, str] = field(default_factory=dict)

    def run(self) -> Result:
        """Do it."""
        request, old = self.request, self.place.manifest
        self.tools = tool_key(request.options.templates, request.maker)
        self.sources = {entry.source: slug for slug, entry in old.rigs.items()}
        claims = Claims(self.place.out, old, self.bytes)
        todo = [file for file in request.files if not self.is_unchanged(file)]
        request.progress.begin(len(todo), len(self.results))
        for delivery in self.work(todo):
            self.take(delivery, claims)
        return self.finish(claims)

    def is_unchanged(self, file: Path) -> bool:
        """Whether a rig's output is already what would be made; told in the results."""
        slug = self.sources.get(relative(file, self.place.out))
        if slug is None or self.request.again:
            return False
        entry = self.place.manifest.rigs[slug]
        key = entry_key(self.tools, self.request.options, file, slug)
        if not is_fresh(entry, self.place.out, self.bytes, key, self.request.options):
            return False
        if not is_whole(self.place.out / slug, entry.files, verify=self.request.verify):
            return False
        self.results[file] = unchanged(file, slug, entry)
        self.bytes.forget(file)
        return True

    def work(self, todo: list[Path]) -> Iterator[Delivery]:
        """Have rigs made; an order that came without its own ledger is given out again."""
        crew = self.request.crew(len(todo), self.place.stage.open)
        self.elsewhere = crew.elsewhere
        wrong: list[Delivery] = []
        try:
            for delivery in deliveries((self.order(file, "") for file in todo), crew):
                if delivery.other_ledger:
                    wrong.append(delivery)
                else:
                    yield delivery
            again = (self.order(Path(one.file), one.slug) for one in wrong)
            yield from deliveries(again, crew)
        finally:
            crew.end()

    def order(self, file: Path, slug: str) -> Order:
        """Make the order for a rig, with the ledger of the name it probably has."""
        files = self.bytes.with_parts(file)
        self.bytes.mark(file)
        self.bytes.forget(file)
        old = self.place.manifest.rigs
        slug = slug or slug_of(nickname_in(files.get(str(file), b"")))
        entry = old.get(slug)
        mine = entry is not None and entry.source == relative(file, self.place.out)
        order = Order(
            file=str(file),
            files=files,
            options=self.request.options,
            maker=self.request.maker,
            slug=slug,
            ledger=self.ledger(file, slug),
        )
        if entry is None or not mine or self.request.again:
            return order
        folder, verify = self.place.out / slug, self.request.verify
        done = entry.render_key if is_whole(folder, entry.files, verify=verify) else ""
        return replace(order, done=done, done_cards=whole_cards(folder, entry, verify=verify))

    def ledger(self, file: Path, slug: str) -> Ledger:
        """Revisions of a rig; rivals are faults unless they are to be joined."""
        ledger = read_ledger(ledger_folder(file, slug))
        if ledger.rivals and not self.request.join:
            return replace(ledger, faults=(*ledger.faults, *rivalry(ledger.rivals)))
        return ledger

    def take(self, delivery: Delivery, claims: Claims) -> None:
        """Stage what came of a rig, or tell why it failed."""
        file = Path(delivery.file)
        bad = delivery.faults or delivery.missing or delivery.bug
        if not bad and self.elsewhere and delivery.tools != self.tools:
            bad = "its worker has another cardgen, library, font or template than this machine"
            delivery = replace(delivery, missing=f"{bad}; install the same on every machine")
        if bad or (delivery.made and delivery.made.problems):
            self.results[file] = failed(delivery)
        else:
            try:
                self.stage(delivery, claims)
                self.results[file] = built(delivery, self.entries[delivery.slug].all_notes)
            except BadFileError as problem:
                self.results[file] = failed(replace(delivery, bug=str(problem)))
        self.request.progress.done(self.results[file])

    def stage(self, delivery: Delivery, claims: Claims) -> None:
        """Write the files of a rig aside."""
        slug = delivery.slug
        old = self.place.manifest.rigs.get(slug)
        if not claims.claim(slug, delivery.file):
            return
        add = self.place.stage.add
        made = delivery.made.files if delivery.made else {}
        new = {name: add(f"{slug}/{name}", data) for name, data in made.items()}
        files = files_of(delivery, new, old)
        day = self.request.options.day
        self.entries[slug] = entry_of(delivery, self.place.out, day, files, old)
        # The bytes are on disk now: a fleet must not pile up in memory.
        self.good[slug] = replace(delivery, made=None)

    def finish(self, claims: Claims) -> Result:
        """Settle names, make the page of all rigs, enter revisions, swap everything in."""
        stage, old = self.place.stage, self.place.manifest
        kept = [
            one.slug for one in self.results.values() if one.status == "unchanged" and one.slug in old.rigs
        ]
        for file, faults in claims.settle(self.good, kept).items():
            gone = self.good.pop(faults.slug, None)
            self.entries.pop(faults.slug, None)
            stage.withdraw(faults.slug) if gone else None
            self.results[Path(file)] = RigResult(file=file, status="failed", faults=faults.faults)
        rigs, removed = self.all_rigs()
        ordered = [self.results[file] for file in self.request.files]
        if not self.entries and not removed and any(one.status == "failed" for one in ordered):
            return Result(rigs=ordered, finished=self.place.finished)
        stale = frozenset(
            self.sources[source]
            for file, one in self.results.items()
            if one.status == "failed" and (source := relative(file, self.place.out)) in self.sources
        )
        shared, index_key = self.index(rigs, stale)
        stage.refuse_foreign()
        for slug, delivery in self.good.items():
            if delivery.new_revision and delivery.revision is not None:
                enter(ledger_folder(Path(delivery.file), slug), delivery.revision)
        options = self.request.options
        for slug, delivery in self.good.items():
            # A file of the package may have been edited since this process started.
            key = entry_key(delivery.tools, options, Path(delivery.file), slug)
            rigs[slug] = keyed(rigs[slug], key)
        new = Manifest(rigs=rigs, shared=shared, index_key=index_key)
        written = len(stage.moves)
        if stage.moves or new != old:
            drops = {name for name, _ in old.all_files()} - {name for name, _ in new.all_files()}
            commit(stage, drops, new)
        return Result(rigs=ordered, removed=removed, finished=self.place.finished, written=written)

    def all_rigs(self) -> tuple[dict[str, Entry], list[str]]:
        """Entries after this build, and the names of those whose rig is gone."""
        out, old = self.place.out, self.place.manifest.rigs
        now = {entry.source: slug for slug, entry in self.entries.items()}
        removed = [
            slug
            for slug, entry in old.items()
            if slug not in self.entries
            and (
                now.get(entry.source, slug) != slug
                or (self.request.whole and not (out / entry.source).exists())
            )
        ]
        rigs = {slug: entry for slug, entry in old.items() if slug not in removed}
        return rigs | self.entries, removed

    def index(self, rigs: dict[str, Entry], stale: frozenset[str]) -> tuple[dict[str, File], str]:
        """Stage the page of all rigs, unless it is already as it should be."""
        old, place = self.place.manifest, self.place
        if not rigs:
            return {}, ""
        page = summaries(rigs, stale, place.out)
        parts = [self.bytes.mark(part) for part in shelf_files(Path(one.source) for one in page)]
        wishes = replace(self.request.options, day=self.request.options.day.min, templates=None)
        inputs = {slug: entry.inputs for slug, entry in rigs.items()}
        key = fingerprint((self.tools, wishes, page, parts, inputs))
        whole = is_whole(place.out, old.shared, verify=self.request.verify)
        if key == old.index_key and whole and not self.request.again:
            return dict(old.shared), key
        made = maker_named(self.request.maker).index(page, self.request.options)
        for name in made:
            if name.split("/")[0] in rigs:
                raise BadFileError(f"{name} lies in the folder of a rig")
        return {name: place.stage.add(name, data) for name, data in made.items()}, key
