"""The output folder: files are written aside and verified, then all are swapped in, or none.

A journal is written first, so that a swap once begun is finished: until the journal is in
place the output is untouched. From then on each file is renamed into place, whole; after a
kill or a crash the next build finishes what the journal says.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from cardgen.bundle.disk import (
    check_way,
    drop_tree,
    folder_lock,
    output_lock,
    refusing,
    replace_whole,
    sync_folder,
    write_synced,
)
from cardgen.bundle.errors import OutputRefusedError
from cardgen.bundle.inputs import of_bytes
from cardgen.bundle.ledger import FOLDER as REVISIONS
from cardgen.bundle.manifest import (
    MANIFEST,
    OWN,
    Manifest,
    OutputFile,
    is_safe,
    read_manifest,
    to_bytes,
    without_keys,
)
from cardgen.source.disk import Disk

FOLDER = f"{OWN}/stage"
JOURNAL = f"{OWN}/journal.json"


class BadFileError(ValueError):
    """The maker handed over something that is no proper file: a bug."""


def check_content(name: str, data: bytes) -> None:
    """See that a file is what its name says, before it is written and after.

    Raises:
        BadFileError: the name is unsafe or the content is not whole.
    """
    if not is_safe(name):
        raise BadFileError(f"unsafe name of an output file: {name!r}")
    if not data:
        raise BadFileError(f"{name} is empty")
    if name.endswith(".pdf") and not (data.startswith(b"%PDF-") and b"%%EOF" in data[-1024:]):
        raise BadFileError(f"{name} is no whole PDF")
    if name.endswith(".html") and b"</html>" not in data[-1024:].lower():
        raise BadFileError(f"{name} is no whole page")


class Stage:
    """Files written aside. Nothing of it is seen in the output until it is swapped in.

    Args:
        out: output folder.
        ours: files that an earlier build wrote, relative to the output folder.
        force: whether files in the way that are not ours are written over.
    """

    def __init__(self, out: Path, ours: Mapping[str, OutputFile], *, force: bool = False) -> None:
        self.out = out
        self.ours = ours
        self.force = force
        self.folder = out / FOLDER
        self.moves: dict[str, tuple[str, str]] = {}
        self.in_the_way: list[str] = []
        self._count = 0

    def open(self) -> Path:
        """Make the folder for files on their way, and return it."""
        with refusing(f"the output folder '{self.out}' cannot be written"):
            self.folder.mkdir(parents=True, exist_ok=True)
        return self.folder

    def add(self, name: str, data: bytes) -> OutputFile:
        """Write one file aside and verify it; the same content in place is left as it is.

        Args:
            name: relative to the output folder.
            data: its bytes.
        """
        check_content(name, data)
        file = OutputFile(len(data), of_bytes(data))
        target = check_way(self.out, name)
        if os.path.lexists(target):
            if _holds(target, file):
                return file
            if name not in self.ours and not (self.force and _plain(target)):
                self.in_the_way.append(name)
                return file
        with refusing(f"'{name}' cannot be written to the output folder, which was left as it was"):
            path = self._write(data)
            if of_bytes(path.read_bytes()) != file.sha256:
                raise OSError("the disk gave back other bytes than were written")
        self.moves[name] = (path.name, file.sha256)
        return file

    def aside(self, data: bytes) -> Path:
        """Write a file aside that goes elsewhere; returns where it waits."""
        with refusing(f"the output folder '{self.out}' cannot be written, it was left as it was"):
            return self._write(data)

    def _write(self, data: bytes) -> Path:
        self._count += 1
        path = self.open() / f"{self._count:06d}"
        write_synced(path, data)
        return path

    def withdraw(self, folder: str) -> None:
        """Take back everything staged for one folder."""
        prefix = f"{folder}/"
        self.in_the_way = [name for name in self.in_the_way if not name.startswith(prefix)]
        self.moves = {name: move for name, move in self.moves.items() if not name.startswith(prefix)}

    def refuse_foreign(self) -> None:
        """Stop when files that are not ours are in the way.

        Raises:
            OutputRefusedError: naming them.
        """
        if self.in_the_way:
            names = ", ".join(f"'{self.out / name}'" for name in self.in_the_way[:5])
            more = len(self.in_the_way) - 5
            helps = not self.force and all(map(_plain, (self.out / name for name in self.in_the_way)))
            ways = ["move them elsewhere", "choose another folder with --out", "write over them with --force"]
            raise OutputRefusedError(
                f"in the way and not written by cardgen: {names}{f' and {more} more' if more > 0 else ''}; "
                + (", or ".join((", ".join(ways[:2]), ways[2])) if helps else " or ".join(ways[:2]))
            )

    def drop(self) -> None:
        """Remove everything that was written aside, unless a journal still needs it."""
        if not (self.out / JOURNAL).exists():
            drop_tree(self.folder)


def _plain(path: Path) -> bool:
    """Whether a name is that of a regular file and no link; only such a file is ever written over."""
    return path.is_file() and not path.is_symlink()


def _holds(path: Path, file: OutputFile) -> bool:
    """Whether a regular file with this very content is in place."""
    try:
        if not _plain(path) or path.stat().st_size != file.size:
            return False
        return of_bytes(path.read_bytes()) == file.sha256
    except OSError:
        return False


_MANIFEST_ASIDE = "manifest"


def commit(stage: Stage, drops: Iterable[str], manifest: Manifest) -> None:
    """Swap everything in.

    Args:
        stage: staged files.
        drops: files of ours that are to go, relative to the output folder.
        manifest: what the output folder holds afterwards.

    Raises:
        OutputRefusedError: the output cannot be written; before the journal nothing has
            changed, after it the next build finishes the swap.
    """
    out = stage.out
    gone = sorted(set(drops) - stage.moves.keys())
    with refusing(f"the output folder '{out}' cannot be written, it was left as it was"):
        stage.open()
        _make_folders(out, stage.moves)
        replace_whole(stage.folder / _MANIFEST_ASIDE, to_bytes(manifest))
        sync_folder(stage.folder)
        moves = [[name, number, sha] for name, (number, sha) in stage.moves.items()]
        journal = json.dumps({"format": 1, "moves": moves, "drops": gone}).encode("utf-8")
        replace_whole(out / JOURNAL, journal)
    _finish(out, moves, gone)


def recover(out: Path) -> bool:
    """Finish a swap that was begun, or remove what an unfinished build left aside.

    Returns:
        Whether a swap was finished.

    Raises:
        OutputRefusedError: the journal is damaged or the output cannot be written.
    """
    path = out / JOURNAL
    try:
        text = Disk().read_bytes(path)
    except FileNotFoundError:
        with refusing(f"what an unfinished build left in '{out / OWN}' cannot be removed"):
            drop_tree(out / FOLDER)
        return False
    except OSError as problem:
        raise OutputRefusedError(f"'{path}' cannot be read: {problem.strerror}") from problem
    try:
        data = json.loads(text)
        moves = [[str(name), str(number), str(sha)] for name, number, sha in data["moves"]]
        drops = [str(name) for name in data["drops"]]
        safe = all(is_safe(name) and number.isdigit() for name, number, _ in moves)
        if data["format"] != 1 or not safe or not all(map(is_safe, drops)):
            raise ValueError("it names files that no build writes")
    except (ValueError, KeyError, TypeError) as problem:
        raise OutputRefusedError(
            f"'{path}' is damaged ({problem}); delete the folder '{path.parent}' and build with --force"
        ) from problem
    lost = _finish(out, moves, drops)
    if lost:
        _forget(out, lost)
    return True


def _make_folders(out: Path, names: Iterable[str]) -> None:
    for name in names:
        path = check_way(out, name)
        path.parent.mkdir(parents=True, exist_ok=True)
        if not os.access(path.parent, os.W_OK | os.X_OK):
            raise PermissionError(13, f"no permission to write in '{path.parent}'")


def _finish(out: Path, moves: list[list[str]], drops: list[str]) -> set[str]:
    """Do what the journal says; safe to repeat. Returns names whose new content is lost."""
    lost = set()
    stage = out / FOLDER
    with refusing(f"the swap in '{out}' is not finished; put this right and build again to finish it"):
        for name, number, sha in moves:
            if not _move(stage / number, check_way(out, name), sha):
                lost.add(name)
        for name in drops:
            _drop(out, name)
        with contextlib.suppress(FileNotFoundError):
            (stage / _MANIFEST_ASIDE).replace(out / MANIFEST)
        for folder in {out, out / OWN, *((out / name).parent for name, _, _ in moves)}:
            sync_folder(folder)
        (out / JOURNAL).unlink()
        drop_tree(stage)
    return lost


def _move(aside: Path, target: Path, sha: str) -> bool:
    if not aside.exists():
        return target.is_file() and of_bytes(target.read_bytes()) == sha
    target.parent.mkdir(parents=True, exist_ok=True)
    aside.replace(target)
    return True


def _drop(out: Path, name: str) -> None:
    """Remove one file of ours, and its folders once they are empty."""
    path = check_way(out, name)
    with contextlib.suppress(FileNotFoundError):
        path.unlink()
    for folder in path.parents:
        if folder == out:
            break
        with contextlib.suppress(OSError):
            folder.rmdir()


def _forget(out: Path, lost: set[str]) -> None:
    """Let the rigs whose new files are lost be made anew."""
    manifest = read_manifest(out)
    slugs = {name.split("/")[0] for name in lost}
    rigs = {slug: without_keys(entry) if slug in slugs else entry for slug, entry in manifest.rigs.items()}
    fresh = replace(
        manifest, rigs=rigs, index_key="" if lost & manifest.shared.keys() else manifest.index_key
    )
    replace_whole(out / MANIFEST, to_bytes(fresh))


@dataclass(frozen=True, slots=True)
class OutputFolder:
    """An output folder that is ours for now.

    Args:
        out: the folder.
        manifest: what it holds.
        recovered: whether a swap that was interrupted has been finished.
        stage: where new files are put together.
    """

    out: Path
    manifest: Manifest
    recovered: bool
    stage: Stage


@contextlib.contextmanager
def take_output(out: Path, folders: Iterable[Path], *, wait: float, force: bool) -> Iterator[OutputFolder]:
    """Take an output folder and the revisions of some rig folders for one build.

    Args:
        out: output folder; made when it is missing, and removed again if nothing came of it.
        folders: folders of rig files.
        wait: how long to wait for other builds [s].
        force: whether files in the way that are not ours may be written over.

    Raises:
        OutputRefusedError: it cannot be written, or another build has it.
    """
    folders = sorted(set(folders))
    _refuse_sources(out, folders)
    new_folders = _make_output(out)
    try:
        with contextlib.ExitStack() as locks:
            locks.enter_context(output_lock(out, wait))
            try:
                for folder in folders:
                    locks.enter_context(folder_lock(folder, wait))
                recovered = recover(out)
                manifest = read_manifest(out)
                stage = Stage(out, dict(manifest.all_files()), force=force)
                try:
                    yield OutputFolder(out, manifest, recovered, stage)
                finally:
                    with contextlib.suppress(OSError):
                        stage.drop()
            finally:
                if not (out / MANIFEST).exists():
                    _tidy(out)
    finally:
        for folder in new_folders:
            with contextlib.suppress(OSError):
                folder.rmdir()


def _refuse_sources(out: Path, folders: Iterable[Path]) -> None:
    """Stop when the output would lie among what it is made from, where the next build would trip over it."""
    place = Path(os.path.realpath(out))
    for folder in folders:
        for name, what in ((REVISIONS, "revisions"), ("parts", "shared parts")):
            if place.is_relative_to(os.path.realpath(folder / name)):
                raise OutputRefusedError(
                    f"'{out}' is where the {what} of the rigs are kept; choose another folder with --out"
                )


def _make_output(out: Path) -> list[Path]:
    """Make the output folder; returns the folders that were made, innermost first."""
    missing = []
    folder = out
    with refusing(f"the output folder '{out}' cannot be made"):
        while not folder.exists() and not folder.is_symlink():
            missing.append(folder)
            folder = folder.parent
        out.mkdir(parents=True, exist_ok=True)
    if (out / OWN).is_symlink():
        raise OutputRefusedError(f"'{out / OWN}' is a link and links in the output folder are not followed")
    return missing


def _tidy(out: Path) -> None:
    """Remove our own folder when it holds nothing but the lock."""
    own = out / OWN
    with contextlib.suppress(OSError):
        if [one.name for one in own.iterdir()] == ["lock"]:
            (own / "lock").unlink()
            own.rmdir()
