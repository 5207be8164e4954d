"""What a build is asked to do."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol

from cardgen.bundle.pool import Crew
from cardgen.bundle.result import RigResult
from cardgen.bundle.work import Options

MAKER = "cardgen.bundle.maker:RigMaker"
"""The maker of the real cards and reports."""


class Progress(Protocol):
    """Told how a build goes on."""

    def begin(self, total: int, unchanged: int) -> None:
        """``total`` rigs are to be made, ``unchanged`` are already as they should be."""

    def done(self, rig: RigResult) -> None:
        """One rig has come."""


class Quiet:
    """Says nothing."""

    def begin(self, total: int, unchanged: int) -> None:
        """Say nothing."""

    def done(self, rig: RigResult) -> None:
        """Say nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """What a build is asked to do.

    Args:
        files: rig files to build.
        whole: whether these are all rig files there are; then outputs of removed rigs go.
        out: output folder.
        options: wishes for all rigs.
        crew: who works, given the number of orders and a scratch folder maker.
        maker: name of the maker.
        wait: how long to wait for another build [s].
        force: write over files in the way that are not ours.
        again: make everything, even what has not changed.
        verify: compare the content of every output file, not only its size.
        join: go on from two people's revisions of one number.
    """

    files: tuple[Path, ...]
    whole: bool
    out: Path
    options: Options
    crew: Callable[[int, Callable[[], Path]], Crew] = field(default=lambda _orders, _scratch: Crew())
    maker: str = MAKER
    wait: float = 0.0
    force: bool = False
    again: bool = False
    verify: bool = False
    join: bool = False
    progress: Progress = field(default_factory=Quiet)
