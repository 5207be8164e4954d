"""What has to be made: the request, what is still as it should be, and an order for each other rig."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Protocol

from cardgen.bundle.inputs import Bytes, absolute, fingerprint, nickname_in, nickname_line, of_bytes
from cardgen.bundle.ledger import FOLDER, Ledger, read_ledger, rivalry, state
from cardgen.bundle.manifest import MEASURE, Manifest, OutputFile, RigOutput, without_keys
from cardgen.bundle.store import OutputFolder
from cardgen.bundle.work import Options, Order, RigBuild
from cardgen.bundle.workers import WorkerPool, work_off
from cardgen.model.slug import slug as slug_of
from cardgen.source.faults import Fault

MAKER = "cardgen.bundle.maker:RigMaker"
"""The maker of the real cards and reports."""


class Progress(Protocol):
    """Told how a build goes on."""

    def begin(self, total: int, unchanged: int) -> None:
        """``total`` rigs are to be made, ``unchanged`` are already as they should be."""

    def done(self, rig: RigBuild) -> None:
        """One rig has come."""


class Quiet:
    """Says nothing."""

    def begin(self, total: int, unchanged: int) -> None:
        """Say nothing."""

    def done(self, rig: RigBuild) -> None:
        """Say nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """What a build is asked to do.

    Args:
        files: rig files to build.
        whole: whether these are all rig files there are; then outputs of removed rigs go.
        out: output folder.
        options: wishes for all rigs.
        pool: chooses who works, given the number of orders and a scratch folder maker.
        maker: name of the maker.
        wait: how long to wait for another build [s].
        force: write over files in the way that are not ours.
        again: make everything, even what has not changed.
        verify: compare the content of every output file, not only its size.
        join: go on from two people's revisions of one number.
        renamed: folder name that the only rig of the request had before; empty when it has its old name.
    """

    files: tuple[Path, ...]
    whole: bool
    out: Path
    options: Options
    pool: Callable[[int, Callable[[], Path]], WorkerPool] = field(
        default=lambda _orders, _scratch: WorkerPool()
    )
    maker: str = MAKER
    wait: float = 0.0
    force: bool = False
    again: bool = False
    verify: bool = False
    join: bool = False
    renamed: str = ""
    progress: Progress = field(default_factory=Quiet)


def relative(path: Path | str, out: Path) -> str:
    """Path of an input as the manifest keeps it: relative to the output folder where possible."""
    try:
        return Path(os.path.relpath(path, out)).as_posix()
    except ValueError:  # another drive
        return Path(absolute(path)).as_posix()


def ledger_folder(file: Path, slug: str) -> Path:
    """Folder of a rig's revisions, beside its file."""
    return file.parent / FOLDER / slug


def entry_key(tools: str, options: Options, file: Path, slug: str, read: Bytes, made: Collection[str]) -> str:
    """Fingerprint of all that a rig is made from besides its files and the day.

    Args:
        tools: fingerprint of the tools [-].
        options: wishes for all rigs.
        file: rig file.
        slug: its folder name [-].
        read: files that were read, for those that share a part: the measuring page names them.
        made: names of its output files [-].
    """
    wishes = replace(options, day=options.day.min, templates=None)
    sharing = sorted(read.sharing(file).values()) if MEASURE in made else []
    return fingerprint((tools, wishes, slug, state(ledger_folder(file, slug)), sharing))


def is_fresh(entry: RigOutput, out: Path, files: Bytes, key: str, options: Options) -> bool:
    """Whether nothing that a rig is made from has changed."""
    return (
        entry.key == key
        and entry.holds_on(options.day)
        and all(files.mark(out / path) == sha for path, sha in entry.inputs.items())
    )


def is_whole(folder: Path, files: Mapping[str, OutputFile], *, verify: bool) -> bool:
    """Whether output files are in place with their sizes, or with their content.

    Args:
        folder: where they lie.
        files: name and expected size and content.
        verify: whether to read and compare the content.
    """
    root = str(folder)
    for name, file in files.items():
        path = f"{root}/{name}"
        try:
            there = os.lstat(path)
        except OSError:
            return False
        if there.st_size != file.size or not stat.S_ISREG(there.st_mode):
            return False
        if verify and of_bytes(Path(path).read_bytes()) != file.sha256:
            return False
    return True


def _only_whole(entry: RigOutput, folder: Path, *, verify: bool) -> RigOutput:
    """The entry with keys only for what is in place; what has no key is rendered again."""
    cards = {}
    for name, card in entry.cards.items():
        file = entry.files.get(f"{name}.pdf")
        whole = file is not None and is_whole(folder, {f"{name}.pdf": file}, verify=verify)
        cards[name] = card if whole else replace(card, key="")
    key = entry.render_key if is_whole(folder, entry.files, verify=verify) else ""
    return replace(entry, render_key=key, cards=cards)


class Claims:
    """Who wants which folder name.

    Args:
        out: output folder.
        manifest: who had which name before.
        files: for the line of the nickname.
    """

    def __init__(self, out: Path, manifest: Manifest, files: Bytes) -> None:
        self.out = out
        self.manifest = manifest
        self.files = files
        self._wanted: dict[str, list[str]] = {}

    def claim(self, slug: str, file: str) -> bool:
        """Note that a rig file wants a name; whether it is the first in this build."""
        files = self._wanted.setdefault(slug, [])
        files.append(file)
        return len(files) == 1

    def settle(self, good: Collection[str], kept: Iterable[str]) -> dict[str, tuple[str, Fault]]:
        """Name and fault by rig file, for each that wants a name another one has.

        Args:
            good: names of this build's rigs.
            kept: names of rigs that did not change.
        """
        moved = {relative(file, self.out) for name in good for file in self._wanted[name]}
        held = set(kept)
        faults: dict[str, tuple[str, Fault]] = {}
        for slug, files in self._wanted.items():
            rivals = list(files)
            entry = self.manifest.rigs.get(slug)
            if entry is not None and entry.source not in {relative(file, self.out) for file in files}:
                there = (self.out / entry.source).exists()
                if slug in held or (there and entry.source not in moved):
                    rivals.append(entry.source)
            if len(rivals) > 1:
                for file in files:
                    faults[file] = (slug, self._fault(file, slug, rivals))
        return faults

    def _fault(self, file: str, slug: str, rivals: list[str]) -> Fault:
        others = ", ".join(Path(one).name for one in rivals if one != file) or "another file"
        message = f"'{slug}' is the folder name of two rigs, the other is in {others}"
        line = nickname_line(self.files.get(file) or b"")
        return Fault(file, line, 1, "nickname-taken", "nickname", message, "give this rig another nickname")


@dataclass(slots=True)
class Session:
    """One build under way.

    Args:
        request: what was asked for.
        folder: the output folder.
        tools: fingerprint of the tools of this process.
        bytes: files that were read.
        claims: who wants which folder name.
        sources: folder name by rig file, as the manifest has it.
        elsewhere: whether workers may be on other machines.
        results: what came of each rig file.
        staged: rig file by folder name, for each whose files are staged.
    """

    request: Request
    folder: OutputFolder
    tools: str
    bytes: Bytes
    claims: Claims
    sources: dict[str, str]
    elsewhere: bool = False
    results: dict[Path, RigBuild] = field(default_factory=dict)
    staged: dict[str, Path] = field(default_factory=dict)


def is_unchanged(session: Session, file: Path) -> bool:
    """Whether a rig's output is already what would be made; told in the results."""
    out, request = session.folder.out, session.request
    slug = session.sources.get(relative(file, out))
    if slug is None or request.again:
        return False
    entry = session.folder.manifest.rigs[slug]
    key = entry_key(session.tools, request.options, file, slug, session.bytes, entry.files)
    if not is_fresh(entry, out, session.bytes, key, request.options):
        return False
    if not is_whole(out / slug, entry.files, verify=request.verify):
        return False
    session.results[file] = RigBuild(
        file=str(file), status="unchanged", slug=slug, nickname=entry.nickname, output=entry
    )
    session.bytes.forget(file)
    return True


def work(session: Session, todo: list[Path]) -> Iterator[RigBuild]:
    """Have rigs made; an order that came without its own ledger is given out again."""
    pool = session.request.pool(len(todo), session.folder.stage.open)
    session.elsewhere = pool.elsewhere
    again: list[RigBuild] = []
    try:
        for rig in work_off((order(session, file, "") for file in todo), pool):
            if rig.status == "misdirected":
                again.append(rig)
            else:
                yield rig
        yield from work_off((order(session, Path(one.file), one.slug) for one in again), pool)
    finally:
        pool.end()


def order(session: Session, file: Path, slug: str) -> Order:
    """Make the order for a rig, with the ledger of the name it probably has.

    Args:
        session: the build.
        file: rig file.
        slug: its folder name; empty to guess it from the text.
    """
    return order_of(session.request, session.folder.manifest, session.bytes, file, slug)


def order_of(request: Request, manifest: Manifest, read: Bytes, file: Path, slug: str = "") -> Order:
    """Make the order for a rig outside a build under way, to learn what a build would do.

    Args:
        request: what a build would be asked.
        manifest: of its output folder.
        read: files that were read.
        file: rig file.
        slug: its folder name; empty to guess it from the text.
    """
    out = request.out
    files = read.with_parts(file)
    read.mark(file)
    read.forget(file)
    slug = slug or slug_of(nickname_in(files.get(str(file), b"")))
    before = manifest.rigs.get(slug)
    if before is not None:
        ours = before.source == relative(file, out) and not request.again
        before = _only_whole(before, out / slug, verify=request.verify) if ours else without_keys(before)
    return Order(
        file=str(file),
        files=files,
        sharing=read.sharing(file),
        options=request.options,
        maker=request.maker,
        slug=slug,
        ledger=_ledger(request, file, slug),
        was=request.renamed if request.renamed != slug else "",
        before=before,
    )


def _ledger(request: Request, file: Path, slug: str) -> Ledger:
    """Revisions of a rig; rivals are faults unless they are to be joined."""
    ledger, was = read_ledger(ledger_folder(file, slug)), request.renamed
    if was and was != slug and not any(one.was == was for one in ledger.revisions):
        ledger = _continued(ledger, ledger_folder(file, was), file)
    if ledger.rivals and not request.join:
        return replace(ledger, faults=(*ledger.faults, *rivalry(ledger.rivals)))
    return ledger


def _continued(ledger: Ledger, old: Path, file: Path) -> Ledger:
    """The ledger that a rig had under another name, as its own has to be empty."""
    earlier = read_ledger(old)
    message = hint = ""
    if ledger.last is not None:
        message = f"it has revisions under its new name already: revision {ledger.last.number}"
        hint = f"delete '{Path(ledger.last.file).parent}' if its cards were never handed out; else build without --renamed"
    elif earlier.last is None:
        message = f"there are no revisions under the name '{old.name}'"
        hint = "name the folder below 'revisions' that holds them"
    if message:
        return replace(
            ledger, faults=(*ledger.faults, Fault(str(file), 1, 1, "rig-renamed", "nickname", message, hint))
        )
    return earlier
