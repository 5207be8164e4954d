"""How much a file may hold: enough for any rig, little enough to be read in bounded time."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Bounds:
    """Bounds of one file and of a file with all its parts.

    Args:
        size: largest file [bytes].
        depth: most levels of nesting [-].
        nodes: most nodes, parts included [-].
        text: longest single text [characters].
        chain: most parts that refer to each other in a row [-].
        files: most files of one rig [-].
        faults: most faults reported for one file [-].
    """

    size: int = 1_000_000
    depth: int = 30
    nodes: int = 20_000
    text: int = 2_000
    chain: int = 10
    files: int = 100
    faults: int = 500
