"""Writing in the output folder and its locks: nothing is followed out of it, nothing half written stays.

The system drops a lock when its process ends, however it ends.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from cardgen.bundle.errors import OutputRefusedError
from cardgen.bundle.manifest import OWN


@contextlib.contextmanager
def refusing(what: str) -> Iterator[None]:
    """Turn an error of the system into a sentence for the person."""
    try:
        yield
    except OSError as problem:
        reason = (problem.strerror or str(problem)).lower()
        raise OutputRefusedError(f"{what}: {reason}") from problem


def check_way(out: Path, name: str) -> Path:
    """Return the path of an output file after looking at each folder on the way.

    Raises:
        OutputRefusedError: a folder on the way is a link or a file.
    """
    path = out
    for step in name.split("/")[:-1]:
        path = path / step
        if path.is_symlink():
            raise OutputRefusedError(
                f"'{path}' is a link and links in the output folder are not followed; remove it"
            )
        if path.exists() and not path.is_dir():
            raise OutputRefusedError(f"'{path}' is in the way of a folder; move it elsewhere")
    return out / name


def write_synced(path: Path, data: bytes) -> None:
    """Write a new file and wait until the disk has it."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    handle = os.open(path, flags, 0o644)
    with os.fdopen(handle, "wb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())


def replace_whole(path: Path, data: bytes, mode: int | None = None) -> None:
    """Put a file in place so that at any moment the old or the new one is there, whole.

    Args:
        path: the file.
        data: what it will hold.
        mode: its permissions; those of a new file when None [-].
    """
    aside = path.with_name(f".{path.name}.new")
    with contextlib.suppress(FileNotFoundError):
        aside.unlink()
    try:
        write_synced(aside, data)
        if mode is not None:
            aside.chmod(mode)
        aside.replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            aside.unlink()
        raise
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Wait until the disk has the names in a folder, where the system can do that."""
    if os.name == "nt":
        return
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def drop_tree(folder: Path) -> None:
    """Remove a folder of ours with all it holds; links inside are removed, not followed."""
    if folder.is_symlink():
        folder.unlink()
    elif folder.exists():
        shutil.rmtree(folder)


_PAUSE = 0.1  # s between two tries


def _try_lock(handle: int) -> bool:
    """Take an exclusive lock on an open file, or say that somebody else has it."""
    if sys.platform == "win32":
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
    import fcntl

    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


@contextlib.contextmanager
def output_lock(out: Path, wait: float) -> Iterator[None]:
    """Keep other builds out of an output folder.

    Args:
        out: output folder, which exists.
        wait: how long to wait for another build [s].

    Raises:
        OutputRefusedError: another build is still busy, or the folder cannot be written.
    """
    path = out / OWN / "lock"
    handle = _opened(path, wait)
    try:
        yield
    finally:
        os.close(handle)


def _opened(path: Path, wait: float) -> int:
    end = time.monotonic() + wait
    flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0)
    while True:
        try:
            path.parent.mkdir(exist_ok=True)
            handle = os.open(path, flags, 0o644)
        except OSError as problem:
            reason = problem.strerror or str(problem)
            raise OutputRefusedError(f"the output folder cannot be written: {path}: {reason}") from problem
        if _try_lock(handle) and _still_there(path, handle):
            return handle
        os.close(handle)
        if time.monotonic() >= end:
            raise OutputRefusedError(
                f"another build is writing to '{path.parent.parent}'; wait for it to end, "
                "or let this one wait longer with --wait SECONDS"
            )
        time.sleep(_PAUSE)


def _still_there(path: Path, handle: int) -> bool:
    """Whether the locked file is the one that the next build would open."""
    try:
        return os.path.samestat(os.fstat(handle), path.lstat())
    except OSError:
        return False


@contextlib.contextmanager
def folder_lock(folder: Path, wait: float) -> Iterator[None]:
    """Keep builds with other output folders from entering revisions at the same time.

    The folder itself is locked, so that nothing is written beside the rigs. Where a system
    cannot lock folders nothing is locked: the ledger then tells two revisions of one number.

    Raises:
        OutputRefusedError: another build is still busy with these rigs.
    """
    if sys.platform == "win32":
        yield
        return
    end = time.monotonic() + wait
    handle = -1
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY | os.O_CLOEXEC)
    try:
        with contextlib.suppress(OSError):
            while handle >= 0 and not _try_lock(handle):
                if time.monotonic() >= end:
                    raise OutputRefusedError(
                        f"another build is busy with the rigs in '{folder}'; wait for it to end, "
                        "or let this one wait longer with --wait SECONDS"
                    )
                time.sleep(_PAUSE)
        yield
    finally:
        if handle >= 0:
            os.close(handle)
