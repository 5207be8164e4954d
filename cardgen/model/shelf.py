"""Every vehicle and trailer among the shared parts, read one by one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from cardgen.model.trailer import Trailer
from cardgen.model.vehicle import Vehicle
from cardgen.source.check import check
from cardgen.source.disk import Disk, Store
from cardgen.source.faults import Fault
from cardgen.source.limits import Bounds
from cardgen.source.parts import load
from cardgen.source.tree import plain_tree

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Shelf:
    """The shared vehicles and trailers.

    Args:
        vehicles, trailers: by name of the part, for example ``vehicles/slate`` [-].
        faults: what could not be read.
        files: every file that was read.
    """

    vehicles: dict[str, Vehicle]
    trailers: dict[str, Trailer]
    faults: tuple[Fault, ...]
    files: tuple[Path, ...]


class _One:
    """A store that holds one more file, which does nothing but refer to a part."""

    def __init__(self, path: Path, text: str, under: Store) -> None:
        self._path = path
        self._text = text
        self._under = under

    def read_bytes(self, path: Path, limit: int) -> bytes:
        """Bytes of the extra file or of the store below."""
        return self._text.encode() if path == self._path else self._under.read_bytes(path, limit)

    def inside(self, path: Path, folder: Path) -> bool:
        """Whether a file lies inside a folder."""
        return self._under.inside(path, folder)

    def parts(self, folder: Path) -> Iterable[str]:
        """Names of the parts in a folder."""
        return self._under.parts(folder)


def read_shelf(rigs: Path, store: Store | None = None, bounds: Bounds | None = None) -> Shelf:
    """Read all parts below ``parts/vehicles`` and ``parts/trailers`` of a folder of rigs.

    Args:
        rigs: the folder.
        store: where bytes come from; the disk when None.
        bounds: how much a file may hold; the usual bounds when None.
    """
    under, limits = store or Disk(), bounds or Bounds()
    try:
        names = sorted(under.parts(rigs / "parts"))
    except OSError:
        names = []
    faults: list[Fault] = []
    files: dict[Path, None] = {}

    def read(prefix: str, shape: type[T]) -> dict[str, T]:
        found: dict[str, T] = {}
        for name in names:
            if not name.startswith(prefix):
                continue
            path = rigs / ".part.yaml"
            loaded = load(path, _One(path, f"part: {name}\n", under), limits)
            files.update(dict.fromkeys(loaded.files[1:]))
            problems = list(loaded.faults)
            value: T | None = None
            if loaded.top is not None and not problems:
                checked = check(plain_tree(loaded.top), shape, loaded.holes)
                problems += checked.faults
                value = checked.value
            faults.extend(problems)
            if value is not None and not problems:
                found[name] = value
        return found

    vehicles, trailers = read("vehicles/", Vehicle), read("trailers/", Trailer)
    return Shelf(vehicles, trailers, tuple(faults), tuple(files))
