"""One build from start to end: look, make, verify, enter revisions, swap."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from html import escape
from pathlib import Path

from cardgen.bundle.inputs import Bytes, absolute, fingerprint, shelf_files, tool_key
from cardgen.bundle.ledger import enter
from cardgen.bundle.manifest import Manifest, OutputFile, RigOutput
from cardgen.bundle.plan import (
    Claims,
    Request,
    Session,
    entry_key,
    is_unchanged,
    is_whole,
    ledger_folder,
    relative,
    work,
)
from cardgen.bundle.store import BadFileError, OutputFolder, commit, take_output
from cardgen.bundle.work import RigBuild, maker_named


@dataclass(slots=True)
class BuildResult:
    """What a build did.

    Args:
        rigs: in the order of the rig files.
        removed: folder names of rigs whose output was removed.
        renamed: new nickname by folder name, of those that were removed as their rig has another name now.
        followed: whether the owner said so, and old addresses answer with the new name.
        finished: whether an earlier, interrupted build was finished first.
        written: output files that were written [-].
        parts: nicknames of the rigs that use it, by each shared part that changed since they were built.
        behind: nickname and file of each rig whose part changed and that was not built now.
    """

    rigs: list[RigBuild] = field(default_factory=list)
    removed: list[str] = field(default_factory=list)
    renamed: dict[str, str] = field(default_factory=dict)
    followed: bool = False
    finished: bool = False
    written: int = 0
    parts: dict[str, list[str]] = field(default_factory=dict)
    behind: dict[str, str] = field(default_factory=dict)


def build(request: Request) -> BuildResult:
    """Build rigs into the output folder: all that was asked for is swapped in, or nothing.

    A rig with faults keeps its earlier output and does not stop the others.

    Raises:
        OutputRefusedError: the output or the ledger cannot be written; nothing has changed.
        MissingError: the cluster that was asked for cannot be used.
    """
    folders = {file.parent for file in request.files}
    with take_output(request.out, folders, wait=request.wait, force=request.force) as folder:
        session = _begin(request, folder)
        todo = [file for file in request.files if not is_unchanged(session, file)]
        request.progress.begin(len(todo), len(session.results))
        for rig in work(session, todo):
            staged = _staged(session, rig)
            session.results[Path(rig.file)] = staged
            request.progress.done(staged)
        return _finish(session)


def _begin(request: Request, folder: OutputFolder) -> Session:
    files = Bytes()
    return Session(
        request=request,
        folder=folder,
        tools=tool_key(request.options.templates, request.maker),
        bytes=files,
        claims=Claims(folder.out, folder.manifest, files),
        sources={entry.source: slug for slug, entry in folder.manifest.rigs.items()},
    )


def _staged(session: Session, rig: RigBuild) -> RigBuild:
    """Write the files of a rig aside, or tell why it failed."""
    if session.elsewhere and rig.tools != session.tools and not (rig.faults or rig.lacks or rig.bug):
        bad = "its worker has another cardgen, library, font or template than this machine"
        return _failed(rig, lacks=f"{bad}; install the same on every machine")
    if rig.output is None:
        return rig
    slug, out, stage = rig.slug, session.folder.out, session.folder.stage
    small = replace(rig, contents={}, revision_text=b"")
    if not session.claims.claim(slug, rig.file):
        return small
    try:
        new = {name: stage.add(f"{slug}/{name}", data) for name, data in rig.contents.items()}
    except BadFileError as problem:
        stage.withdraw(slug)
        return _failed(rig, bug=str(problem))
    output = replace(
        rig.output,
        source=relative(rig.output.source, out),
        inputs={relative(path, out): sha for path, sha in rig.output.inputs.items()},
        files=dict(sorted({**new, **rig.output.files}.items())),
    )
    session.staged[slug] = Path(rig.file)
    aside = stage.aside(rig.revision_text) if rig.revision else Path()
    return replace(small, output=output, aside=aside)


def _failed(rig: RigBuild, *, lacks: str = "", bug: str = "") -> RigBuild:
    """The rig without what was made of it."""
    why = (lacks,) if lacks else ()
    failed = RigBuild(file=rig.file, status="failed", slug=rig.slug, nickname=rig.nickname)
    return replace(failed, problems=rig.problems, lacks=why, bug=bug)


def _finish(session: Session) -> BuildResult:
    """Bring everything that was staged into the output, or leave it as it was.

    Raises:
        OutputRefusedError: the output or the ledger cannot be written.
    """
    _settle_names(session)
    rigs, removed = _all_rigs(session)
    stale = _stale(session, rigs)
    ordered = [session.results[file] for file in session.request.files]
    stage, old, finished = session.folder.stage, session.folder.manifest, session.folder.recovered
    parts = _changed_parts(session)
    if not session.staged and not removed and any(one.status == "failed" for one in ordered):
        return BuildResult(rigs=ordered, finished=finished)
    behind = _mark_behind(session, rigs)
    shared, index_key = _index(session, rigs, stale, behind)
    stage.refuse_foreign()
    _enter_revisions(session, rigs)
    names = {entry.source: entry.nickname for entry in rigs.values()}
    renamed = {slug: names[old.rigs[slug].source] for slug in removed if old.rigs[slug].source in names}
    new = Manifest(rigs=rigs, shared=shared, index_key=index_key)
    written = len(stage.moves)
    if stage.moves or new != old:
        drops = {name for name, _ in old.all_files()} - {name for name, _ in new.all_files()}
        commit(stage, drops, new)
    return BuildResult(
        rigs=ordered,
        removed=removed,
        renamed=renamed,
        followed=bool(session.request.renamed),
        finished=finished,
        written=written,
        parts=parts,
        behind={rigs[slug].nickname: rigs[slug].source for slug in behind},
    )


def _newer(session: Session, entry: RigOutput) -> list[str]:
    """Parts of a rig that changed since it was built, as paths relative to the output folder."""
    return [
        path
        for path, sha in entry.inputs.items()
        if path != entry.source and session.bytes.mark(session.folder.out / path) != sha
    ]


def _changed_parts(session: Session) -> dict[str, list[str]]:
    """Every rig that uses a part that changed, by the name of the part."""
    found: dict[str, list[str]] = {}
    for entry in session.folder.manifest.rigs.values():
        for path in _newer(session, entry):
            found.setdefault(_part(path), []).append(entry.nickname)
    return found


def _part(path: str) -> str:
    """Name of a part as rig files write it."""
    return path.rpartition("/parts/")[2].removesuffix(".yaml")


def _mark_behind(session: Session, rigs: dict[str, RigOutput]) -> dict[str, str]:
    """Say on the pages of rigs that were not built that a part of theirs changed; they are made anew next time.

    Returns:
        The names of those parts, by folder name of the rig.
    """
    stage, told = session.folder.stage, dict[str, str]()
    for slug, entry in rigs.items():
        parts = _newer(session, entry) if slug not in session.staged else []
        if not parts:
            continue
        told[slug] = ", ".join(map(_part, parts))
        words = f"Behind: {told[slug]} changed after this page was made, and it was not made anew."
        files = dict(entry.files)
        for name in entry.files:
            place = session.folder.out / slug / name
            page = place.read_bytes() if name.endswith(".html") and place.is_file() else b""
            if MAIN in page and BEHIND not in page:
                files[name] = stage.add(f"{slug}/{name}", page.replace(MAIN, MAIN + _notice(words), 1))
        rigs[slug] = replace(entry, files=files, key="", render_key="")
    return told


MAIN = b'<main id="main">'
BEHIND = b'<p id="behind" class="currency" data-state="old">'


def _notice(words: str) -> bytes:
    """The line on a page that is behind."""
    return BEHIND + escape(f"{words} Ask the owner before you rely on it.").encode() + b"</p>"


def _settle_names(session: Session) -> None:
    """Fail rigs that want a folder name which another rig has."""
    unchanged = (one.slug for one in session.results.values() if one.status == "unchanged")
    kept = [slug for slug in unchanged if slug in session.folder.manifest.rigs]
    for file, (slug, fault) in session.claims.settle(session.staged, kept).items():
        if session.staged.pop(slug, None) is not None:
            session.folder.stage.withdraw(slug)
        session.results[Path(file)] = RigBuild(file=file, status="failed", faults=(fault,))


def _all_rigs(session: Session) -> tuple[dict[str, RigOutput], list[str]]:
    """The manifest's entries after this build, and the names of those whose rig is gone."""
    out, old = session.folder.out, session.folder.manifest.rigs
    new = {slug: one for slug, file in session.staged.items() if (one := session.results[file].output)}
    now = {entry.source: slug for slug, entry in new.items()}

    def is_gone(slug: str, entry: RigOutput) -> bool:
        renamed = now.get(entry.source, slug) != slug
        return renamed or (session.request.whole and not (out / entry.source).exists())

    removed = [slug for slug, entry in old.items() if slug not in new and is_gone(slug, entry)]
    return {slug: entry for slug, entry in old.items() if slug not in removed} | new, removed


def _stale(session: Session, rigs: dict[str, RigOutput]) -> frozenset[str]:
    """Folder names that keep an earlier output, as their rig failed now; told in the results."""
    names = set()
    for file, one in session.results.items():
        slug = session.sources.get(relative(file, session.folder.out))
        if one.status == "failed" and slug in rigs:
            names.add(slug)
            session.results[file] = replace(one, kept=f"{slug}, revision {rigs[slug].number}")
    return frozenset(names)


def _index(
    session: Session, rigs: dict[str, RigOutput], stale: frozenset[str], behind: Mapping[str, str]
) -> tuple[dict[str, OutputFile], str]:
    """Stage the page of all rigs, unless it is already as it should be."""
    request, folder = session.request, session.folder
    old = folder.manifest
    if not rigs:
        return {}, ""
    page = _on_page(rigs, stale, behind, folder.out)
    parts = [session.bytes.mark(part) for part in shelf_files(Path(one.file) for one in page)]
    wishes = replace(request.options, templates=None)
    inputs = {slug: entry.inputs for slug, entry in rigs.items()}
    said = fingerprint((wishes, [_shown(one) for one in page], parts, inputs))
    key = f"{session.tools} {said}"
    whole = is_whole(folder.out, old.shared, verify=request.verify)
    if key == old.index_key and whole and not request.again:
        unused = _unused(session, rigs, old.shared)
        return {name: file for name, file in old.shared.items() if name not in unused}, key
    same_tools = whole and not request.again and old.index_key.startswith(f"{session.tools} ")
    kept = frozenset(old.shared) if same_tools else frozenset()
    pages = maker_named(request.maker).index(page, request.options, kept)
    for name in pages:
        if name.split("/")[0] in rigs:
            raise BadFileError(f"{name} lies in the folder of a rig")
    unused = _unused(session, rigs, {*old.shared, *pages})
    staged = {name: folder.stage.add(name, data) for name, data in pages.items() if name not in unused}
    others = {name for name in old.shared if name.startswith(BESIDE) and (folder.out / name).is_file()}
    return {name: old.shared[name] for name in sorted((kept | others) - unused)} | staged, key


BESIDE = "assets/"
HEAD, TAIL = 4_000, 400
"""A page names its style sheet within so many bytes of its start, its script of its end [B]."""


def _unused(session: Session, rigs: dict[str, RigOutput], names: Iterable[str]) -> set[str]:
    """Style sheets and scripts beside the rigs that no page of a rig names.

    Rigs made by another cardgen, or with other templates, and not made anew now still use theirs.
    """
    left = {name for name in names if name.startswith(BESIDE)}
    for slug, entry in rigs.items():
        for name in entry.files if left else ():
            if name.endswith(".html"):
                ends = _ends(session, f"{slug}/{name}")
                left -= {one for one in left if one.encode() in ends}
    return left


def _ends(session: Session, name: str) -> bytes:
    """Start and end of a page as it will be after this build."""
    stage = session.folder.stage
    path = stage.folder / stage.moves[name][0] if name in stage.moves else stage.out / name
    try:
        with path.open("rb") as page:
            start = page.read(HEAD)
            page.seek(max(0, path.stat().st_size - TAIL))
            return start + page.read(TAIL)
    except OSError:
        return b""


def _on_page(
    rigs: dict[str, RigOutput], stale: frozenset[str], behind: Mapping[str, str], out: Path
) -> list[RigBuild]:
    """The rigs of the page of all rigs, by folder name; one that failed or is behind shows its earlier output."""
    return [
        RigBuild(
            file=absolute(out / one.source),
            status="failed" if slug in stale else "unchanged",
            slug=slug,
            nickname=one.nickname,
            output=one,
            behind=behind.get(slug, ""),
        )
        for slug, one in sorted(rigs.items())
        if one.number
    ]


def _shown(rig: RigBuild) -> Sequence[object]:
    """What the page of all rigs can show of a rig."""
    one = rig.output
    assert one is not None  # made in the function above
    cards = [(name, card.title, card.number, card.day) for name, card in one.cards.items()]
    said = (
        one.nickname,
        one.outcome,
        one.over,
        one.key_numbers,
        one.due,
        one.about,
        one.number,
        one.revision_day,
    )
    return (rig.file, rig.status, rig.behind, rig.slug, said, cards, list(one.files), dict(one.formerly))


def _enter_revisions(session: Session, rigs: dict[str, RigOutput]) -> None:
    """Write new revisions to the ledger, then give the entries their keys."""
    for slug, file in session.staged.items():
        rig = session.results[file]
        if rig.revision:
            enter(ledger_folder(file, slug) / rig.revision, rig.aside)
    for slug, file in session.staged.items():
        if not (rigs[slug].missing or session.results[file].warning):  # those are tried again
            # A file of the package may have been edited since this process started.
            tools, options = session.results[file].tools, session.request.options
            key = entry_key(tools, options, file, slug, session.bytes, rigs[slug].files)
            rigs[slug] = replace(rigs[slug], key=key)
