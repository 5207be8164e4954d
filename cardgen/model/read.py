"""A rig file on disk to a checked ``Rig``, or to every fault it has."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from cardgen.model.rig import Rig
from cardgen.model.sense import sense
from cardgen.source.check import check
from cardgen.source.disk import Disk, Store
from cardgen.source.faults import Fault
from cardgen.source.limits import Bounds
from cardgen.source.parts import load
from cardgen.source.tree import plain_tree


@dataclass(frozen=True, slots=True)
class ReadResult:
    """Outcome of reading a rig file.

    Args:
        rig: the rig; None as soon as there is a single fault.
        faults: all faults, ordered by file and line.
        files: every file that was read, the rig file first.
    """

    rig: Rig | None
    faults: tuple[Fault, ...]
    files: tuple[Path, ...]


def read_rig(path: Path, store: Store | None = None, bounds: Bounds | None = None) -> ReadResult:
    """Read a rig file with its parts and check shape and sense.

    Why: nothing is computed from a file that has a fault, and the person gets all
    faults in one run. Bad input never raises.

    Args:
        path: the rig file; its parts lie in the folder ``parts`` beside it.
        store: where bytes come from; the disk when None.
        bounds: how much a file may hold; the usual bounds when None.
    """
    loaded = load(path, store or Disk(), bounds or Bounds())
    faults = list(loaded.faults)
    rig: Rig | None = None
    if loaded.top is not None:
        tree = plain_tree(loaded.top)
        checked = check(tree, Rig, loaded.holes)
        faults += checked.faults
        rig = checked.value
        if rig is not None:
            faults += sense(rig, tree, checked.holes)
    ordered = sorted(set(faults), key=lambda f: (f.file != str(path), f))
    return ReadResult(None if ordered else rig, tuple(ordered), loaded.files)
