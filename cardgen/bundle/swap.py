"""Swapping staged files in: a journal is written first, so that a swap once begun is finished.

Until the journal is in place the output is untouched. From then on each file is renamed
into place, whole; after a kill or a crash the next build finishes what the journal says.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from cardgen.bundle.disk import check_way, drop_tree, refusing, replace_whole, sync_folder
from cardgen.bundle.errors import OutputRefusedError
from cardgen.bundle.hashing import of_bytes
from cardgen.bundle.manifest import NAME as MANIFEST
from cardgen.bundle.manifest import Manifest, read_manifest, to_bytes, without_keys
from cardgen.bundle.names import OWN, is_safe
from cardgen.bundle.stage import FOLDER, JOURNAL, Stage

_MANIFEST_ASIDE = "manifest"


def commit(stage: Stage, drops: Iterable[str], manifest: Manifest) -> None:
    """Swap everything in.

    Args:
        stage: staged files.
        drops: files of ours that are to go, relative to the output folder.
        manifest: what the output folder holds afterwards.

    Raises:
        OutputRefusedError: the output cannot be written; before the journal nothing has
            changed, after it the next build finishes the swap.
    """
    out = stage.out
    gone = sorted(set(drops) - stage.moves.keys())
    with refusing(f"the output folder '{out}' cannot be written, it was left as it was"):
        stage.open()
        _make_folders(out, stage.moves)
        replace_whole(stage.folder / _MANIFEST_ASIDE, to_bytes(manifest))
        sync_folder(stage.folder)
        moves = [[name, number, sha] for name, (number, sha) in stage.moves.items()]
        journal = json.dumps({"format": 1, "moves": moves, "drops": gone}).encode("utf-8")
        replace_whole(out / JOURNAL, journal)
    _finish(out, moves, gone)


def recover(out: Path) -> bool:
    """Finish a swap that was begun, or remove what an unfinished build left aside.

    Returns:
        Whether a swap was finished.

    Raises:
        OutputRefusedError: the journal is damaged or the output cannot be written.
    """
    path = out / JOURNAL
    try:
        text = path.read_bytes()
    except FileNotFoundError:
        with refusing(f"what an unfinished build left in '{out / OWN}' cannot be removed"):
            drop_tree(out / FOLDER)
        return False
    except OSError as problem:
        raise OutputRefusedError(f"'{path}' cannot be read: {problem.strerror}") from problem
    try:
        data = json.loads(text)
        moves = [[str(name), str(number), str(sha)] for name, number, sha in data["moves"]]
        drops = [str(name) for name in data["drops"]]
        safe = all(is_safe(name) and number.isdigit() for name, number, _ in moves)
        if data["format"] != 1 or not safe or not all(map(is_safe, drops)):
            raise ValueError("it names files that no build writes")
    except (ValueError, KeyError, TypeError) as problem:
        raise OutputRefusedError(
            f"'{path}' is damaged ({problem}); delete the folder '{path.parent}' and build with --force"
        ) from problem
    lost = _finish(out, moves, drops)
    if lost:
        _forget(out, lost)
    return True


def _make_folders(out: Path, names: Iterable[str]) -> None:
    for name in names:
        path = check_way(out, name)
        path.parent.mkdir(parents=True, exist_ok=True)
        if not os.access(path.parent, os.W_OK | os.X_OK):
            raise PermissionError(13, f"no permission to write in '{path.parent}'")


def _finish(out: Path, moves: list[list[str]], drops: list[str]) -> set[str]:
    """Do what the journal says; safe to repeat. Returns names whose new content is lost."""
    lost = set()
    stage = out / FOLDER
    with refusing(f"the swap in '{out}' is not finished; put this right and build again to finish it"):
        for name, number, sha in moves:
            if not _move(stage / number, check_way(out, name), sha):
                lost.add(name)
        for name in drops:
            _drop(out, name)
        with contextlib.suppress(FileNotFoundError):
            (stage / _MANIFEST_ASIDE).replace(out / MANIFEST)
        for folder in {out, out / OWN, *((out / name).parent for name, _, _ in moves)}:
            sync_folder(folder)
        (out / JOURNAL).unlink()
        drop_tree(stage)
    return lost


def _move(aside: Path, target: Path, sha: str) -> bool:
    if not aside.exists():
        return target.is_file() and of_bytes(target.read_bytes()) == sha
    target.parent.mkdir(parents=True, exist_ok=True)
    aside.replace(target)
    return True


def _drop(out: Path, name: str) -> None:
    """Remove one file of ours, and its folders once they are empty."""
    path = check_way(out, name)
    with contextlib.suppress(FileNotFoundError):
        path.unlink()
    for folder in path.parents:
        if folder == out:
            break
        with contextlib.suppress(OSError):
            folder.rmdir()


def _forget(out: Path, lost: set[str]) -> None:
    """Let the rigs whose new files are lost be made anew."""
    manifest = read_manifest(out)
    slugs = {name.split("/")[0] for name in lost}
    rigs = {slug: without_keys(entry) if slug in slugs else entry for slug, entry in manifest.rigs.items()}
    fresh = replace(
        manifest, rigs=rigs, index_key="" if lost & manifest.shared.keys() else manifest.index_key
    )
    replace_whole(out / MANIFEST, to_bytes(fresh))
