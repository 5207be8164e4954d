"""A rig file on disk to a checked ``Rig``, or to every fault it has."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from cardgen.model.rig import Rig
from cardgen.model.sense import sense
from cardgen.source.check import check
from cardgen.source.disk import Disk, Store
from cardgen.source.faults import Fault, shown
from cardgen.source.limits import Bounds
from cardgen.source.parts import Loaded, load
from cardgen.source.tree import Tree, plain_tree

Further = Callable[[Rig, Tree, frozenset[str]], Iterable[Fault]]
"""A check that only a later room can make: it gets the rig, possibly with stand-ins for what
could not be read, the tree with the place of every node, and the dotted paths of the stand-ins."""


@dataclass(frozen=True, slots=True)
class ReadResult:
    """Outcome of reading a rig file.

    Args:
        rig: the rig; None as soon as there is a single fault.
        faults: all faults, those of the rig file first, each file in the order of its lines.
        files: every file that was read, the rig file first.
        tree: plain data with the place of every node, for faults found later; None when
            the file could not be read at all.
        texts: text of each file by its name in messages [-].
        sharing: names of other rigs that take a part in, by its path, as far as somebody looked [-].
    """

    rig: Rig | None
    faults: tuple[Fault, ...]
    files: tuple[Path, ...]
    tree: Tree | None = None
    texts: Mapping[str, str] = field(default_factory=dict)
    sharing: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def read_rig(
    path: Path,
    store: Store | None = None,
    bounds: Bounds | None = None,
    further: Sequence[Further] = (),
) -> ReadResult:
    """Read a rig file with its parts and check shape and sense.

    Why: nothing is computed from a file that has a fault, and the person gets all
    faults in one run. Bad input never raises.

    Args:
        path: the rig file; its parts lie in the folder ``parts`` beside it.
        store: where bytes come from; the disk when None.
        bounds: how much a file may hold; the usual bounds when None.
        further: checks of later rooms, whose faults come in the same run.
    """
    return judge(load(path, store or Disk(), bounds or Bounds()), path, further)


def judge(loaded: Loaded, path: Path, further: Sequence[Further] = ()) -> ReadResult:
    """Check shape and sense of what was loaded from a rig file.

    Args:
        loaded: the file with its parts put in.
        path: the rig file, whose faults come first.
        further: checks of later rooms.
    """
    if loaded.top is None:
        return ReadResult(None, _ordered(loaded.faults, path), loaded.files)
    tree = plain_tree(loaded.top)
    checked = check(tree, Rig, loaded.holes)
    faults = [*loaded.faults, *checked.faults]
    if checked.value is not None:
        faults += sense(checked.value, tree, checked.holes)
        for check_further in further:
            faults += check_further(checked.value, tree, checked.holes)
    rig = None if faults else checked.value
    return ReadResult(rig, _ordered(faults, path), loaded.files, tree, loaded.texts)


def _ordered(faults: Iterable[Fault], path: Path) -> tuple[Fault, ...]:
    return tuple(sorted(set(faults), key=lambda found: (found.file != shown(path), found)))
