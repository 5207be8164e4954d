"""Writing in the output folder: nothing is followed out of it, nothing half written stays."""

from __future__ import annotations

import contextlib
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

from cardgen.bundle.errors import OutputRefusedError


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


def replace_whole(path: Path, data: bytes) -> None:
    """Put a file in place so that at any moment the old or the new one is there, whole."""
    aside = path.with_name(f".{path.name}.new")
    with contextlib.suppress(FileNotFoundError):
        aside.unlink()
    try:
        write_synced(aside, data)
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
