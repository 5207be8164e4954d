"""An output folder taken for one build: locked, earlier work finished, nothing left behind."""

from __future__ import annotations

import contextlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from cardgen.bundle.disk import refusing
from cardgen.bundle.errors import OutputRefusedError
from cardgen.bundle.lock import folder_lock, output_lock
from cardgen.bundle.manifest import NAME, Manifest, read_manifest
from cardgen.bundle.names import OWN
from cardgen.bundle.stage import Stage
from cardgen.bundle.swap import recover


@dataclass(frozen=True, slots=True)
class Opened:
    """An output folder that is ours for now.

    Args:
        out: the folder.
        manifest: what it holds.
        finished: whether a swap that was interrupted has been finished.
        stage: where new files are put together.
    """

    out: Path
    manifest: Manifest
    finished: bool
    stage: Stage


@contextlib.contextmanager
def opened(out: Path, folders: Iterable[Path], *, wait: float, force: bool) -> Iterator[Opened]:
    """Take an output folder and the revisions of some rig folders for one build.

    Args:
        out: output folder; made when it is missing, and removed again if nothing came of it.
        folders: folders of rig files.
        wait: how long to wait for other builds [s].
        force: whether files in the way that are not ours may be written over.

    Raises:
        OutputRefusedError: it cannot be written, or another build has it.
    """
    made = _made(out)
    try:
        with contextlib.ExitStack() as locks:
            locks.enter_context(output_lock(out, wait))
            try:
                for folder in sorted(set(folders)):
                    locks.enter_context(folder_lock(folder, wait))
                finished = recover(out)
                manifest = read_manifest(out)
                stage = Stage(out, dict(manifest.all_files()), force=force)
                try:
                    yield Opened(out, manifest, finished, stage)
                finally:
                    with contextlib.suppress(OSError):
                        stage.drop()
            finally:
                if not (out / NAME).exists():
                    _tidy(out)
    finally:
        for folder in made:
            with contextlib.suppress(OSError):
                folder.rmdir()


def _made(out: Path) -> list[Path]:
    """Make the output folder; returns the folders that were made, innermost first."""
    missing = []
    folder = out
    while not folder.exists() and not folder.is_symlink():
        missing.append(folder)
        folder = folder.parent
    with refusing(f"the output folder '{out}' cannot be made"):
        out.mkdir(parents=True, exist_ok=True)
    if (out / OWN).is_symlink():
        raise OutputRefusedError(f"'{out / OWN}' is a link and links in the output folder are not followed")
    return missing


def _tidy(out: Path) -> None:
    """Remove our own folder when it holds nothing but the lock."""
    own = out / OWN
    with contextlib.suppress(OSError):
        if [one.name for one in own.iterdir()] == ["lock"]:
            (own / "lock").unlink()
            own.rmdir()
