"""Changes that the preview must notice; nothing here asks how soon."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from watchdog.events import FileSystemEvent
from watchdog.observers.polling import PollingObserver

from cardgen.commands import preview_watch
from cardgen.commands.preview_site import snapshot
from cardgen.commands.preview_watch import FolderWatch

LONG = 60.0  # s, after which a change is held to be missed


def edit(rigs: Path) -> None:
    (rigs / "wren.yaml").write_text("nickname: Other\n")


def replace(rigs: Path) -> None:
    """What editors do that write beside and rename."""
    (rigs / ".wren.swp").write_text("nickname: Replaced\n")
    (rigs / ".wren.swp").replace(rigs / "wren.yaml")


def remove(rigs: Path) -> None:
    (rigs / "wren.yaml").unlink()


def new_folder(rigs: Path) -> None:
    (rigs / "parts" / "trailers").mkdir(parents=True)
    (rigs / "parts" / "trailers" / "wren.yaml").write_text("type: ball\n")


def in_new_folder(rigs: Path) -> None:
    (rigs / "parts" / "trailers" / "wren.yaml").write_text("type: other\n")


def other_folder(rigs: Path) -> None:
    """The watched folder goes and another comes under its name, as with a checkout."""
    shutil.rmtree(rigs)
    rigs.mkdir()
    (rigs / "mule.yaml").write_text("nickname: Mule\n")


STEPS: tuple[Callable[[Path], None], ...] = (
    edit,
    replace,
    new_folder,
    in_new_folder,
    other_folder,
    edit,
    remove,
)


def noticed(watch: FolderWatch, rigs: Path, before: object) -> bool:
    """Whether a change is told, now or with a later event of the same change."""
    while watch.changed.wait(LONG):
        watch.changed.clear()
        watch.renew()
        if snapshot((rigs,)) != before:
            return True
    return False


@pytest.mark.parametrize("crowded", [False, True], ids=["told by the system", "no room for more watches"])
def test_every_kind_of_change_is_noticed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, crowded: bool
) -> None:
    rigs = tmp_path / "rigs"
    rigs.mkdir()
    (rigs / "wren.yaml").write_text("nickname: Wren\n")
    if crowded:

        class Full(PollingObserver):
            def schedule(self, *_: object, **__: object) -> None:  # type: ignore[override]  # never returns
                raise OSError(28, os.strerror(28))

        monkeypatch.setattr(preview_watch, "Observer", Full)
    with FolderWatch((rigs,)) as watch:
        missed = []
        for step in STEPS:
            before = snapshot((rigs,))
            step(rigs)
            if not noticed(watch, rigs, before):
                missed.append(step.__name__)
    assert missed == []


class Listener(FolderWatch):
    """Keeps the names of what is held to be changed."""

    names: set[str]

    def on_any_event(self, event: FileSystemEvent) -> None:
        if event.event_type in preview_watch.CHANGES:
            self.names.add(Path(os.fsdecode(event.src_path)).name)
        super().on_any_event(event)


def test_reading_is_no_change(tmp_path: Path) -> None:
    (tmp_path / "wren.yaml").write_text("nickname: Wren\n")
    watch = Listener((tmp_path,))
    watch.names = set()
    with watch:
        for _ in range(3):
            snapshot((tmp_path,))
        (tmp_path / "end.yaml").write_text("nickname: End\n")
        while "end.yaml" not in watch.names:
            assert watch.changed.wait(LONG)
            watch.changed.clear()
    assert "wren.yaml" not in watch.names
