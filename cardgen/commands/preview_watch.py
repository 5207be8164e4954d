"""Notice changes below some folders, as the system tells them."""

from __future__ import annotations

import contextlib
import os
import threading
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer
from watchdog.observers.polling import PollingObserver

if TYPE_CHECKING:
    from watchdog.observers.api import BaseObserver, ObservedWatch

CHANGES = frozenset({"created", "modified", "moved", "deleted", "closed"})
"""Kinds of events that count. Reading a file is told too, and would never end if it counted."""

END = 5.0
"""How long the watching may take to end [s]; its threads end with the program in any case."""
LOOK = 0.4
"""Time between two looks where the system does not tell [s]."""


class FolderWatch(FileSystemEventHandler):
    """Sets ``changed`` whenever something below some folders changes; a context manager.

    A folder that goes and comes again is noticed through the folder above it. Where the
    system cannot tell, or has no room for more watches, the folders are looked at in turn.
    While ``blind`` is set, some folder could not be watched, and whoever waits looks for itself.

    Args:
        folders: to be watched with all below them.
    """

    def __init__(self, folders: Iterable[Path]) -> None:
        self.changed = threading.Event()
        self.blind = False
        self._folders = tuple(dict.fromkeys(folder.resolve() for folder in folders))
        self._watches: dict[Path, tuple[tuple[int, int], ObservedWatch]] = {}
        self._gone: set[Path] = set()
        self._observer: BaseObserver = Observer()

    def on_any_event(self, event: FileSystemEvent) -> None:
        """Take note of a change."""
        if event.event_type in ("deleted", "moved"):  # another may have come since, even of the same number
            self._gone.add(Path(os.fsdecode(event.src_path)))
        if event.event_type in CHANGES:
            self.changed.set()

    def __enter__(self) -> FolderWatch:
        """Begin to watch."""
        try:
            self._start()
        except OSError:
            self._stop()
            self._watches, self._observer = {}, PollingObserver(timeout=LOOK)
            self._start()
        return self

    def __exit__(self, *_: object) -> None:
        """Watch no longer."""
        self._stop()

    def _start(self) -> None:
        self._observer.start()
        self.renew(starting=True)

    def _stop(self) -> None:
        if self._observer.is_alive():
            self._observer.stop()
            self._observer.join(END)

    def renew(self, *, starting: bool = False) -> None:
        """Watch again what has gone and come again, and leave what has gone.

        Args:
            starting: whether a folder that cannot be watched is an error.

        Raises:
            OSError: only when starting.
        """
        gone, self._gone = self._gone, set()
        self.blind = False
        above = {folder.parent: False for folder in self._folders}
        for folder, deep in (above | dict.fromkeys(self._folders, True)).items():
            try:
                status = os.stat(folder)  # noqa: PTH116  # device and number are wanted, not a path's properties
                now = (status.st_dev, status.st_ino)
            except OSError:
                now = None
            before = self._watches.get(folder)
            if before is not None and (before[0] != now or folder in gone):
                del self._watches[folder]
                with contextlib.suppress(KeyError, OSError):  # it may have ended with its folder
                    self._observer.unschedule(before[1])
            if now is not None and folder not in self._watches:
                try:
                    watch = self._observer.schedule(self, str(folder), recursive=deep)
                except OSError:
                    if starting:
                        raise
                    self.blind = True
                    continue
                self._watches[folder] = (now, watch)
            self.blind = self.blind or (deep and folder not in self._watches)
