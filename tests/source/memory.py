"""Files in memory, so that tests of the reader need no disk."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from cardgen.source.disk import Store


class Memory:
    """A store of a few files, by path."""

    def __init__(self, files: Mapping[str, bytes | str]) -> None:
        self.files = {Path(name): text for name, text in files.items()}
        self.asked: list[Path] = []

    def read_bytes(self, path: Path, limit: int) -> bytes:
        self.asked.append(path)
        if path not in self.files:
            raise FileNotFoundError(2, "No such file or directory", str(path))
        text = self.files[path]
        return (text if isinstance(text, bytes) else text.encode())[: limit + 1]

    def inside(self, path: Path, folder: Path) -> bool:
        return path.is_relative_to(folder)

    def parts(self, folder: Path) -> Iterable[str]:
        inside = [path for path in self.files if path.is_relative_to(folder)]
        return sorted(path.relative_to(folder).with_suffix("").as_posix() for path in inside)


def memory(**files: bytes | str) -> Store:
    """A store with a rig file ``rig.yaml`` and parts, named with ``__`` for ``/``."""
    named = {"rig.yaml": files.pop("rig")}
    named |= {f"parts/{name.replace('__', '/')}.yaml": text for name, text in files.items()}
    return Memory(named)
