"""Disks that are full, read-only or broken: exit 5, a sentence, and what was there is untouched."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

import cardgen.bundle.disk
import cardgen.bundle.store
from cardgen.cli import main
from tests.acceptance.shed import DAY, contents
from tests.commands.workspace import ROOT, write

ERRORS = (errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO, errno.EDQUOT)


@pytest.fixture
def shed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workspace with one rig that was built, and has been edited since."""
    monkeypatch.chdir(tmp_path)
    file = write(tmp_path, "plover")
    assert main(["build", "--html-only", "--date", DAY]) == 0
    file.write_text(file.read_text("utf-8").replace("2,000 lb", "2,100 lb"), "utf-8")
    return tmp_path


def failing(after: int, number: int) -> Callable[[Path, bytes], None]:
    """A write that works so many times, then the disk fails for good."""
    real, calls = cardgen.bundle.disk.write_synced, iter(range(10_000))

    def write_synced(path: Path, data: bytes) -> None:
        if next(calls) >= after:
            raise OSError(number, os.strerror(number), str(path))
        real(path, data)

    return write_synced


@pytest.mark.parametrize("number", ERRORS, ids=[errno.errorcode[n] for n in ERRORS])
def test_whichever_write_fails_the_earlier_output_stays(
    shed: Path, capsys: pytest.CaptureFixture[str], number: int
) -> None:
    before, refused = visible(shed), 0
    for after in range(40):
        with pytest.MonkeyPatch.context() as patch:
            write_synced = failing(after, number)
            patch.setattr(cardgen.bundle.disk, "write_synced", write_synced)
            patch.setattr(cardgen.bundle.store, "write_synced", write_synced)
            code = main(["build", "--html-only", "--date", DAY])
        said = capsys.readouterr()
        assert "Traceback" not in said.err
        if code == 0:
            break
        assert code == 5, said.err
        assert os.strerror(number).lower() in said.err.lower()
        assert visible(shed) == before, after
        refused += 1
    else:
        pytest.fail("the build never came through")
    assert refused >= 4
    assert visible(shed) != before
    again = main(["build", "--html-only", "--date", DAY, "--verify"])
    assert again == 0


def visible(shed: Path) -> dict[str, str]:
    """Output files that people see, without our own folder."""
    return {name: sha for name, sha in contents(shed / "build").items() if not name.startswith(".cardgen/")}


@pytest.mark.skipif(sys.platform == "win32", reason="the system has no such limit")
def test_a_limit_of_the_system_stops_a_real_card(shed: Path) -> None:
    """Real cards are larger than the limit, so that the system itself refuses the write."""
    before, ledger = contents(shed / "build"), contents(shed / "rigs")
    limited = f"ulimit -f 16; exec '{sys.executable}' -m cardgen build --date {DAY} --cards hitch-card"
    ran = subprocess.run(
        ["sh", "-c", limited],
        cwd=shed,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode in (4, 5), ran.stderr  # the engine's own scratch files, or the output
    assert "too large" in ran.stderr.lower()
    assert "Traceback" not in ran.stderr
    assert contents(shed / "build") == before
    assert contents(shed / "rigs") == ledger


@pytest.mark.parametrize(
    "words",
    [["new", "Finch"], ["new", "Finch", "--from", "mule"]],
    ids=" ".join,
)
def test_other_commands_say_so_too(
    shed: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, words: list[str]
) -> None:
    def full(self: Path, *_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", str(self))

    monkeypatch.setattr(Path, "write_text", full)
    monkeypatch.setattr(Path, "write_bytes", full)
    real: Callable[..., object] = Path.open

    def opened(self: Path, mode: str = "r", *more: object, **named: object) -> object:
        if set(mode) & set("wxa"):
            raise OSError(errno.ENOSPC, "No space left on device", str(self))
        return real(self, mode, *more, **named)

    monkeypatch.setattr(Path, "open", opened)
    assert main(words) == 5
    said = capsys.readouterr()
    assert "no space left" in said.err.lower()
    assert "Traceback" not in said.err


def test_sheets_on_a_full_disk(
    shed: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["build", "--date", DAY, "--cards", "glovebox-card"]) == 0

    def full(self: Path, *_: object) -> int:
        raise OSError(errno.ENOSPC, "No space left on device", str(self))

    monkeypatch.setattr(Path, "write_bytes", full)
    assert main(["sheets", "--date", DAY, "--cards", "glovebox-card"]) == 5
    assert "no space left" in capsys.readouterr().err.lower()


def test_an_output_that_vanishes_is_made_again(shed: Path) -> None:
    shutil.rmtree(shed / "build")
    assert main(["build", "--html-only", "--date", DAY]) == 0
    assert (shed / "build" / "plover" / "index.html").is_file()
