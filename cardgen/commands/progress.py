"""How a build goes on: a bar with an estimate on a terminal, now and then a line elsewhere."""

from __future__ import annotations

import contextlib
import sys
import time
from collections.abc import Iterator
from typing import TYPE_CHECKING

from cardgen.bundle.plan import Progress, Quiet
from cardgen.bundle.work import RigBuild

if TYPE_CHECKING:
    from rich.progress import Progress as RichProgress
    from rich.progress import TaskID

_FEW = 3
"""Up to this many rigs nothing is told: the result comes soon."""


@contextlib.contextmanager
def progress(*, quiet: bool) -> Iterator[Progress]:
    """Tell on stderr how a build goes on.

    Args:
        quiet: say nothing.
    """
    if quiet:
        yield Quiet()
    elif sys.stderr.isatty():
        bar = ProgressBar()
        try:
            yield bar
        finally:
            bar.end()
    else:
        yield ProgressLines()


class ProgressBar:
    """A bar with counts and an estimate."""

    def __init__(self) -> None:
        self._rich: RichProgress | None = None
        self._task: TaskID | None = None
        self._failed = 0

    def begin(self, total: int, unchanged: int) -> None:
        """Show the bar."""
        if total <= _FEW:
            return
        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

        self._rich = Progress(
            TextColumn("{task.description}"),
            BarColumn(),
            MofNCompleteColumn(),
            TextColumn("rigs, left"),
            TimeRemainingColumn(),
            console=Console(stderr=True),
            transient=True,
        )
        self._task = self._rich.add_task("making", total=total)
        self._rich.start()

    def done(self, rig: RigBuild) -> None:
        """Move the bar."""
        if self._rich is None or self._task is None:
            return
        self._failed += rig.status == "failed"
        words = f"making, {self._failed} failed" if self._failed else "making"
        self._rich.update(self._task, advance=1, description=words)

    def end(self) -> None:
        """Take the bar away."""
        if self._rich is not None:
            self._rich.stop()


class ProgressLines:
    """Plain lines for logs: at the start, and after every tenth part of the work."""

    def __init__(self) -> None:
        self._total = self._done = self._failed = 0
        self._began = 0.0

    def begin(self, total: int, unchanged: int) -> None:
        """Say what is to be done."""
        self._total, self._began = total, time.monotonic()
        if total > _FEW:
            print(f"{total} rigs to make, {unchanged} unchanged", file=sys.stderr)

    def done(self, rig: RigBuild) -> None:
        """Say how far it is, now and then."""
        self._done += 1
        self._failed += rig.status == "failed"
        if self._total <= _FEW or self._done == self._total:
            return
        if self._done * 10 // self._total > (self._done - 1) * 10 // self._total:
            left = (time.monotonic() - self._began) / self._done * (self._total - self._done)
            failed = f", {self._failed} failed" if self._failed else ""
            words = f"{self._done} of {self._total} rigs{failed}, about {left:.0f} s left"
            print(words, file=sys.stderr)
