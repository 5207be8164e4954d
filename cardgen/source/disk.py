"""The only place where the reader touches files: bytes of a rig file and of its parts."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Protocol


class Store(Protocol):
    """Where files come from; tests use one that lives in memory."""

    def read_bytes(self, path: Path, limit: int) -> bytes:
        """First bytes of a regular file, one more than the limit at most; raises OSError."""

    def inside(self, path: Path, folder: Path) -> bool:
        """Whether a file, links followed, lies inside a folder."""

    def parts(self, folder: Path) -> Iterable[str]:
        """Names of the parts in a folder, for suggestions."""


class Disk:
    """Files on disk."""

    def read_bytes(self, path: Path, limit: int | None = None) -> bytes:
        """First bytes of a regular file, one more than the limit at most, or all; raises OSError.

        A pipe or device is refused before it is opened, as whoever opens it might wait for ever.
        """
        if path.exists() and not path.is_file():
            raise IsADirectoryError(21, "not a regular file", str(path))
        with path.open("rb") as stream:
            return stream.read() if limit is None else stream.read(limit + 1)

    def inside(self, path: Path, folder: Path) -> bool:
        """Whether a file, links followed, lies inside a folder."""
        return path.resolve().is_relative_to(folder.resolve())

    def parts(self, folder: Path) -> Iterable[str]:
        """Names of the parts in a folder, for suggestions."""
        found = sorted(folder.glob("**/*.yaml"))[:2000]
        return [path.relative_to(folder).with_suffix("").as_posix() for path in found]
