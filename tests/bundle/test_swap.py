"""A build stopped anywhere leaves the earlier output, or a swap that the next build finishes."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from cardgen.bundle import disk, store
from cardgen.bundle.errors import OutputRefusedError
from cardgen.bundle.store import JOURNAL
from tests.bundle.shed import Shed

ROOT = Path(__file__).parents[2]


class Stopped(BaseException):
    """Ends a build the way a kill would: nobody catches it but clean-up."""


def two_versions(shed: Shed) -> tuple[Mapping[str, str], Mapping[str, str]]:
    """Output before and after an edit of two rigs and the removal of a third; before is in place."""
    for name in ("heron", "mule", "wren"):
        shed.rig(name)
    shed.build()
    before = dict(shed.tree())
    ahead = Shed(shed.root / "ahead")
    for name in ("heron", "mule", "wren"):
        ahead.rig(name)
    ahead.build()
    edit(ahead)
    ahead.build()
    return before, dict(ahead.tree())


def edit(shed: Shed) -> None:
    shed.rig("heron", pressure="65 psi")
    shed.rig("mule", drop="6 in")
    (shed.rigs / "wren.yaml").unlink()


def fail_at(number: int, error: BaseException) -> Callable[..., None]:
    """A stand-in that counts calls and fails at one of them."""
    calls = iter(range(1_000_000))

    def check() -> None:
        if next(calls) == number:
            raise error

    return check


@pytest.mark.parametrize("number", range(13))
def test_a_full_disk_leaves_the_earlier_output(
    shed: Shed, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    before, after = two_versions(shed)
    edit(shed)
    ledgers = {name: shed.ledger_files(name) for name in ("heron", "mule", "wren")}
    full = fail_at(number, OSError(errno.ENOSPC, os.strerror(errno.ENOSPC)))
    real = disk.write_synced

    def write(path: Path, data: bytes) -> None:
        full()
        real(path, data)

    with monkeypatch.context() as patch:
        patch.setattr(disk, "write_synced", write)
        patch.setattr(store, "write_synced", write)
        said = ""
        try:
            shed.build()
        except OutputRefusedError as problem:
            said = str(problem)
    # 11 files need space: 4 of rigs, 1 index, 2 revisions twice, the manifest and the journal.
    failed = bool(said)
    assert failed == (number < 11)
    assert not failed or "no space left on device" in said
    assert shed.tree() == (before if failed else after)
    assert not (shed.out / ".cardgen" / "stage").exists()
    for name, files in ledgers.items():
        assert set(files) <= set(shed.ledger_files(name))
    shed.build()
    assert shed.tree() == after


@pytest.mark.parametrize("number", range(9))
def test_a_swap_stopped_in_the_middle_is_finished_by_the_next_build(
    shed: Shed, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    _, after = two_versions(shed)
    edit(shed)
    stop = fail_at(number, Stopped())
    real_move, real_drop = store._move, store._drop

    def move(aside: Path, target: Path, sha: str) -> bool:
        stop()
        return real_move(aside, target, sha)

    def drop(out: Path, name: str) -> None:
        stop()
        real_drop(out, name)

    with monkeypatch.context() as patch:
        patch.setattr(store, "_move", move)
        patch.setattr(store, "_drop", drop)
        stopped = False
        try:
            shed.build()
        except Stopped:
            stopped = True
    # 5 moves (2 changed cards, 2 reports, 1 index) and 3 drops.
    assert stopped == (number < 8)
    assert (shed.out / JOURNAL).exists() == stopped
    result = shed.build()
    assert result.finished == stopped
    assert [rig.status for rig in result.rigs] == ["unchanged", "unchanged"]
    assert shed.tree() == after
    assert not (shed.out / JOURNAL).exists()


def test_a_file_lost_while_a_swap_waits_is_made_again(shed: Shed, monkeypatch: pytest.MonkeyPatch) -> None:
    _, after = two_versions(shed)
    edit(shed)
    stop = fail_at(0, Stopped())
    with monkeypatch.context() as patch:
        patch.setattr(store, "_move", lambda *_: stop())
        with pytest.raises(Stopped):
            shed.build()
    for one in (shed.out / ".cardgen" / "stage").glob("0*"):
        one.unlink()
    result = shed.build()
    assert result.finished
    assert [rig.status for rig in result.rigs] == ["built", "built"]
    assert shed.tree() == after


@pytest.mark.parametrize(
    "text",
    [
        "{",
        "[]",
        '{"format": 2, "moves": [], "drops": []}',
        '{"format": 1, "moves": [["../x", "000001", ""]], "drops": []}',
        '{"format": 1, "moves": [["x", "../../y", ""]], "drops": []}',
        '{"format": 1, "moves": [], "drops": ["../rigs/wren.yaml"]}',
    ],
)
def test_a_damaged_journal_is_told_and_nothing_is_touched(shed: Shed, text: str) -> None:
    shed.rig("wren")
    shed.build()
    before = shed.tree()
    (shed.out / JOURNAL).write_text(text)
    with pytest.raises(OutputRefusedError, match=r"journal\.json"):
        shed.build()
    assert shed.tree() == before
    assert (shed.rigs / "wren.yaml").is_file()


def test_bytes_that_the_disk_did_not_keep_are_noticed(shed: Shed, monkeypatch: pytest.MonkeyPatch) -> None:
    before, _ = two_versions(shed)
    edit(shed)
    monkeypatch.setattr(store, "write_synced", lambda path, data: disk.write_synced(path, data[:-1]))
    with pytest.raises(OutputRefusedError, match="other bytes"):
        shed.build()
    assert shed.tree() == before


LIMITED = """
import resource, signal, sys
from pathlib import Path
from cardgen.bundle.errors import OutputRefusedError
from tests.bundle.shed import Shed
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
shed = Shed.__new__(Shed)
shed.root = Path(sys.argv[1]); shed.rigs = shed.root / "rigs"; shed.out = shed.root / "build"
request = shed.request()
from cardgen.bundle.build import build
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[2]), resource.RLIM_INFINITY))
try:
    build(request)
except OutputRefusedError as problem:
    print("refused:", problem)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="the system has no limit on file sizes")
@pytest.mark.parametrize("limit", [0, 40, 90, 600])
def test_a_real_limit_on_writing_leaves_the_earlier_output(shed: Shed, limit: int) -> None:
    """The system itself refuses the write, as on a full disk."""
    before, after = two_versions(shed)
    edit(shed)
    done = subprocess.run(
        [sys.executable, "-c", LIMITED, str(shed.root), str(limit)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.startswith("refused:"), done.stderr
    assert "left as it was" in done.stdout or "nothing was built" in done.stdout
    assert shed.tree() == before
    shed.build()
    assert shed.tree() == after


@pytest.mark.parametrize("folder", ["build", "build/heron", "build/.cardgen", "rigs/revisions/heron"])
def test_a_folder_that_cannot_be_written(shed: Shed, monkeypatch: pytest.MonkeyPatch, folder: str) -> None:
    before, after = two_versions(shed)
    edit(shed)
    closed = shed.root / folder
    closed.chmod(0o555)
    if os.geteuid() == 0:  # the superuser may write everywhere, so the system is made to refuse
        refuse_in(closed, monkeypatch)
    try:
        with pytest.raises(OutputRefusedError, match=r"(?i)permission"):
            shed.build()
        assert shed.tree() == before
    finally:
        closed.chmod(0o755)
        monkeypatch.undo()
    shed.build()
    assert shed.tree() == after


def refuse_in(closed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Make the calls that change a folder fail there, as the system does for other users."""
    denied = PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    real_open: Any = os.open
    real_mkdir: Any = os.mkdir
    real_access: Any = os.access

    def opened(path: Any, flags: int, *more: Any, **named: Any) -> Any:
        if Path(path).parent == closed and flags & os.O_CREAT:
            raise denied
        return real_open(path, flags, *more, **named)

    def mkdir(path: Any, *more: Any, **named: Any) -> None:
        if Path(path).parent == closed:
            raise denied
        real_mkdir(path, *more, **named)

    def access(path: Any, mode: int, **named: Any) -> Any:
        return not (Path(path) == closed and mode & os.W_OK) and real_access(path, mode, **named)

    monkeypatch.setattr(os, "open", opened)
    monkeypatch.setattr(os, "mkdir", mkdir)
    monkeypatch.setattr(os, "access", access)
