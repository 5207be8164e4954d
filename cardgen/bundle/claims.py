"""Folder names in the output: each belongs to one rig file, and two that want one are told."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from pathlib import Path

from cardgen.bundle.fresh import relative
from cardgen.bundle.inputs import Bytes, nickname_line
from cardgen.bundle.manifest import Manifest
from cardgen.source.faults import Fault


@dataclass(frozen=True, slots=True)
class Taken:
    """Faults of a rig whose folder name is taken."""

    slug: str
    faults: tuple[Fault, ...]


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

    def settle(self, good: Collection[str], kept: Iterable[str]) -> dict[str, Taken]:
        """Faults by rig file, for each that wants a name another one has.

        Args:
            good: names of this build's rigs.
            kept: names of rigs that did not change.
        """
        moved = {relative(file, self.out) for name in good for file in self._wanted[name]}
        held = set(kept)
        found: dict[str, Taken] = {}
        for slug, files in self._wanted.items():
            rivals = list(files)
            entry = self.manifest.rigs.get(slug)
            if entry is not None and entry.source not in {relative(file, self.out) for file in files}:
                there = (self.out / entry.source).exists()
                if slug in held or (there and entry.source not in moved):
                    rivals.append(entry.source)
            if len(rivals) > 1:
                for file in files:
                    found[file] = Taken(slug, (self._fault(file, slug, rivals),))
        return found

    def _fault(self, file: str, slug: str, rivals: list[str]) -> Fault:
        others = ", ".join(Path(one).name for one in rivals if one != file) or "another file"
        message = f"'{slug}' is the folder name of two rigs, the other is in {others}"
        line = nickname_line(self.files.get(file) or b"")
        return Fault(file, line, 1, "nickname-taken", "nickname", message, "give this rig another nickname")
