"""Files on their way: written aside in the output folder, verified, then swapped in."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from cardgen.bundle.disk import check_way, drop_tree, refusing, write_synced
from cardgen.bundle.errors import OutputRefusedError
from cardgen.bundle.hashing import of_bytes
from cardgen.bundle.manifest import File
from cardgen.bundle.names import OWN, is_safe

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

    def __init__(self, out: Path, ours: Mapping[str, File], *, force: bool = False) -> None:
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

    def add(self, name: str, data: bytes) -> File:
        """Write one file aside and verify it; the same content in place is left as it is.

        Args:
            name: relative to the output folder.
            data: its bytes.
        """
        check_content(name, data)
        file = File(len(data), of_bytes(data))
        target = check_way(self.out, name)
        if os.path.lexists(target):
            if _holds(target, file):
                return file
            if name not in self.ours and not (self.force and target.is_file() and not target.is_symlink()):
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
            raise OutputRefusedError(
                f"in the way and not written by cardgen: {names}{f' and {more} more' if more > 0 else ''}; "
                "move them elsewhere, choose another folder with --out, or write over them with --force"
            )

    def drop(self) -> None:
        """Remove everything that was written aside, unless a journal still needs it."""
        if not (self.out / JOURNAL).exists():
            drop_tree(self.folder)


def _holds(path: Path, file: File) -> bool:
    """Whether a regular file with this very content is in place."""
    try:
        if path.is_symlink() or not path.is_file() or path.stat().st_size != file.size:
            return False
        return of_bytes(path.read_bytes()) == file.sha256
    except OSError:
        return False
