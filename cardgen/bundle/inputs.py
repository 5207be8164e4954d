"""What a rig is made from: its file, the parts it may read, and their fingerprints."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from cardgen.bundle.hashing import of_bytes
from cardgen.source.disk import Disk
from cardgen.source.limits import Bounds

_PART = re.compile(rb"""part["']?\s*:\s*["']?([\w./-]+)""")
_NICKNAME = re.compile(rb"""^nickname\s*:[ \t]*([^\r\n#]*)""", re.MULTILINE)
_SIZE = Bounds().size


def shelf_files(files: Iterable[Path]) -> tuple[Path, ...]:
    """Every vehicle and trailer part beside some rig files, in order: what the match matrix is made from."""
    found: list[Path] = []
    for folder in sorted({file.parent for file in files}):
        for kind in ("vehicles", "trailers"):
            found += sorted((folder / "parts" / kind).glob("**/*.yaml"))
    return tuple(found)


def absolute(path: str | Path) -> str:
    """Full path without ``..``, links not followed."""
    return os.path.abspath(path)  # noqa: PTH100  # resolve() follows links and asks the disk


class Bytes:
    """Reads each file once per build, so that a rig is made from what was fingerprinted."""

    def __init__(self) -> None:
        self._read: dict[str, bytes | None] = {}
        self._marks: dict[str, str] = {}
        self._inside: dict[str, bool] = {}

    def get(self, path: str | Path) -> bytes | None:
        """Bytes of a file (one more than the reader's limit at most), None if unreadable."""
        name = absolute(path)
        if name not in self._read:
            try:
                self._read[name] = Disk().read_bytes(Path(name), _SIZE)
            except (OSError, ValueError):
                self._read[name] = None
        return self._read[name]

    def mark(self, path: str | Path) -> str:
        """Fingerprint of a file, empty if it cannot be read."""
        name = absolute(path)
        if name not in self._marks:
            data = self.get(name)
            self._marks[name] = "" if data is None else of_bytes(data)
        return self._marks[name]

    def forget(self, path: str | Path) -> None:
        """Drop the bytes of a file that is needed no more; its fingerprint stays."""
        self._read.pop(absolute(path), None)

    def with_parts(self, path: Path) -> dict[str, bytes]:
        """A rig file and every part that it may refer to, directly or through other parts.

        The names are found by a look at the text, which may find too many; the reader
        decides. A part that is missed is read from disk by the reader.
        """
        root = path.parent / "parts"
        found: dict[str, bytes] = {}
        todo = [path]
        while todo:
            one = todo.pop()
            data = self.get(one) if str(one) not in found and self._ours(one, path, root) else None
            if data is not None:
                found[str(one)] = data
                todo.extend(root / f"{name}.yaml" for name in _refers(data))
        return found

    def _ours(self, one: Path, rig: Path, root: Path) -> bool:
        """Whether a file is the rig's or lies in its parts folder, links followed."""
        name = str(one)
        if one == rig or self._inside.get(name):
            return True
        try:
            self._inside[name] = Disk().inside(one, root)
        except (OSError, ValueError, RuntimeError):  # a circle of links is a RuntimeError
            self._inside[name] = False
        return self._inside[name]


@lru_cache(maxsize=4096)
def _refers(data: bytes) -> tuple[str, ...]:
    """Names of parts that a text seems to refer to."""
    names = {one.decode("utf-8", "replace") for one in _PART.findall(data)}
    return tuple(sorted(name for name in names if ".." not in name and not name.startswith("/")))


def nickname_in(data: bytes) -> str:
    """The nickname a text seems to give: a guess, checked by the reader later."""
    found = _NICKNAME.search(data)
    return found[1].decode("utf-8", "replace").strip().strip("\"'") if found else ""


def nickname_line(data: bytes) -> int:
    """Line of the nickname, counted from 1 [-]."""
    found = _NICKNAME.search(data)
    return data.count(b"\n", 0, found.start(1)) + 1 if found else 1


@dataclass(frozen=True, slots=True)
class MemoryFirst:
    """A store for the reader: bytes that came with the order, and the disk for the rest."""

    files: Mapping[str, bytes]

    def read_bytes(self, path: Path, limit: int) -> bytes:
        """First bytes of a file, one more than the limit at most; raises OSError."""
        data = self.files.get(str(path))
        return Disk().read_bytes(path, limit) if data is None else data[: limit + 1]

    def inside(self, path: Path, folder: Path) -> bool:
        """Whether a file, links followed, lies inside a folder."""
        return Disk().inside(path, folder)

    def parts(self, folder: Path) -> Iterable[str]:
        """Names of the parts in a folder, for suggestions."""
        try:
            return Disk().parts(folder)
        except OSError:
            prefix = folder.as_posix() + "/"
            names = [Path(one).as_posix() for one in self.files]
            return [name[len(prefix) : -5] for name in names if name.startswith(prefix)]
