"""Whether a rig's output is still what a build would make, without making it."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from cardgen.bundle.hashing import fingerprint, of_bytes
from cardgen.bundle.inputs import Bytes, absolute
from cardgen.bundle.ledger import FOLDER, state
from cardgen.bundle.manifest import Entry, File
from cardgen.bundle.work import Options


def relative(path: Path | str, out: Path) -> str:
    """Path of an input as the manifest keeps it: relative to the output folder where possible."""
    try:
        return Path(os.path.relpath(path, out)).as_posix()
    except ValueError:  # another drive
        return Path(absolute(path)).as_posix()


def ledger_folder(file: Path, slug: str) -> Path:
    """Folder of a rig's revisions, beside its file."""
    return file.parent / FOLDER / slug


def entry_key(tools: str, options: Options, file: Path, slug: str) -> str:
    """Fingerprint of all that a rig is made from besides its files and the day."""
    wishes = replace(options, day=options.day.min, templates=None)
    return fingerprint((tools, wishes, slug, state(ledger_folder(file, slug))))


def is_fresh(entry: Entry, out: Path, files: Bytes, key: str, options: Options) -> bool:
    """Whether nothing that a rig is made from has changed."""
    return (
        entry.key == key
        and entry.holds_on(options.day)
        and all(files.mark(out / path) == sha for path, sha in entry.inputs.items())
    )


def is_whole(folder: Path, files: Mapping[str, File], *, verify: bool) -> bool:
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
            found = os.lstat(path)
        except OSError:
            return False
        if found.st_size != file.size or not _is_plain(found.st_mode):
            return False
        if verify and of_bytes(Path(path).read_bytes()) != file.sha256:
            return False
    return True


def whole_cards(folder: Path, entry: Entry, *, verify: bool) -> dict[str, str]:
    """Keys of the cards whose files are in place, by card.

    Args:
        folder: where they lie.
        entry: of the rig.
        verify: whether to read and compare the content.
    """
    found = {}
    for name, card in entry.cards.items():
        file = entry.files.get(f"{name}.pdf")
        if file is not None and is_whole(folder, {f"{name}.pdf": file}, verify=verify):
            found[name] = card.key
    return found


def _is_plain(mode: int) -> bool:
    return (mode & 0o170000) == 0o100000
