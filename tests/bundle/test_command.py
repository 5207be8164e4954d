"""The commands ``build`` and ``changes`` as people and programs use them."""

from __future__ import annotations

import datetime as dt
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from cardgen.bundle import plan
from cardgen.cli import main
from cardgen.commands.exits import MEANINGS, Exit
from tests.bundle.fake import NAME
from tests.bundle.shed import Shed


@pytest.fixture(autouse=True)
def workspace(shed: Shed, monkeypatch: pytest.MonkeyPatch) -> Shed:
    """Run in the workspace with the fake maker."""
    monkeypatch.chdir(shed.root)
    monkeypatch.setattr(plan, "MAKER", NAME)
    return shed


def build(*words: str) -> int:
    return main(["build", "--date", "2026-11-25", *words])


def test_every_exit_code_is_in_the_help(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["--help"])
    said = capsys.readouterr().out
    assert set(MEANINGS) == set(Exit)
    for code, words in MEANINGS.items():
        assert f"{code.value}  {words}" in said


def test_fine(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    shed.rig("wren")
    shed.rig("mule")
    assert build() == Exit.FINE
    out, said = capsys.readouterr()
    assert "Wren: built, revision 1 of 2026-11-25, within" in out
    assert "note, all rigs: made by a fake" in out
    assert out.endswith("2 rigs: 2 built, 0 unchanged; open build/index.html\n")
    assert said == ""
    assert build("--quiet") == Exit.FINE
    assert capsys.readouterr().out == "2 rigs: 0 built, 2 unchanged; open build/index.html\n"
    shed.rig("heron")
    assert build("--quiet") == Exit.FINE
    assert capsys.readouterr().out == "3 rigs: 1 built, 2 unchanged; open build/index.html\n"


def test_over_is_written_and_fails_every_time(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    shed.rig("wren", more="note: too heavy\n")
    for _ in range(2):
        assert build("--quiet") == Exit.OVER
        out = capsys.readouterr().out
        assert "OVER: tongue weight 900 lb of 800 lb" in out
        assert "Do not tow as described." in out
    assert (shed.out / "wren" / "glovebox-card.pdf").is_file()


def test_faults(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    shed.rig("wren", pressure="65")
    shed.rig("mule", more="note: too heavy\n")
    assert build() == Exit.FAULTS
    out, said = capsys.readouterr()
    assert "rigs/wren.yaml:11:18: trailer.tire_pressure:" in said
    assert "[quantity-bare]" in said
    assert "2 rigs: 1 built, 0 unchanged, 1 failed, 1 over" in out
    assert "earlier output" not in said
    shed.rig("mule", pressure="65")
    assert build() == Exit.FAULTS
    said = capsys.readouterr().err
    assert "rigs/mule.yaml: not built; its earlier output stays (mule, revision 1)" in said


@pytest.mark.parametrize(
    ("note", "code", "words"),
    [
        ("does not fit", Exit.FAULTS, "text leaves its box by 3 mm; nothing was written for this rig"),
        ("system lacks", Exit.ENVIRONMENT, "install it"),
        ("no engine", Exit.ENVIRONMENT, "no print engine"),
        ("make a bug", Exit.BUG, "ZeroDivisionError"),
    ],
)
def test_what_the_maker_cannot_do(
    shed: Shed, capsys: pytest.CaptureFixture[str], note: str, code: Exit, words: str
) -> None:
    shed.rig("wren", more=f"note: {note}\n")
    assert build() == code
    assert words in capsys.readouterr().err


def test_usage(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    assert build() == Exit.USAGE
    assert "cardgen new" in capsys.readouterr().err
    shed.rig("wren")
    assert build("wern") == Exit.USAGE
    assert "did you mean 'wren'?" in capsys.readouterr().err
    for words in (["--jobs", "0"], ["--date", "soon"], ["--units", "furlong"], ["--nothing"]):
        with pytest.raises(SystemExit) as end:
            build(*words)
        assert end.value.code == Exit.USAGE


def test_refused(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    shed.rig("wren")
    (shed.root / "file").write_text("x")
    assert build("--out", "file") == Exit.REFUSED
    assert build("--out", "file/inner") == Exit.REFUSED
    said = capsys.readouterr().err
    assert said.count("\n") == 2
    assert "Traceback" not in said


def test_rigs_by_file_name_and_twice(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    shed.rig("wren")
    shed.rig("mule")
    assert build("wren", "rigs/wren.yaml", "rigs/../rigs/wren.yaml") == Exit.FINE
    assert "1 rig: 1 built" in capsys.readouterr().out


def test_summary_as_json(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    shed.rig("wren")
    shed.rig("mule", pressure="65")
    assert build("--summary-json", "done.json") == Exit.FAULTS
    data = json.loads((shed.root / "done.json").read_text("utf-8"))
    assert data["counts"] == {
        "rigs": 2,
        "built": 1,
        "unchanged": 0,
        "failed": 1,
        "over": 0,
        "new_revisions": 1,
        "removed": 0,
        "files_written": 5,
    }
    assert (data["format"], data["exit"], data["meaning"]) == (1, 3, "faults")
    mule, wren = data["rigs"]
    assert (mule["file"], mule["status"]) == ("rigs/mule.yaml", "failed")
    assert (mule["faults"][0]["line"], mule["faults"][0]["code"]) == (11, "quantity-bare")
    assert (wren["slug"], wren["revision"], wren["date"]) == ("wren", 1, "2026-11-25")
    assert wren["reprint"] == ["Glovebox card", "Mount card"]
    capsys.readouterr()
    build("--summary-json", "-")
    again = json.loads(capsys.readouterr().out)
    assert again["rigs"][1].keys() == wren.keys()
    assert again["rigs"][1]["status"] == "unchanged"


def test_a_summary_that_cannot_be_written(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    shed.rig("wren")
    assert build("--summary-json", "no/such/folder.json") == Exit.REFUSED
    assert "no/such/folder.json" in capsys.readouterr().err


def test_a_raised_revision_is_told(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    shed.rig("wren")
    build()
    shed.rig("wren", pressure="65 psi")
    capsys.readouterr()
    build("--quiet")
    out = capsys.readouterr().out
    assert "trailer tire pressure: 50 psi -> 65 psi" in out
    assert "print again: Glovebox card" in out


def test_changes(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    shed.rig("wren", "Wee Wren")
    assert main(["changes", "wren"]) == Exit.USAGE
    assert "no revisions yet" in capsys.readouterr().err
    build("--quiet")
    capsys.readouterr()
    assert main(["changes", "wren"]) == Exit.FINE
    first = capsys.readouterr().out
    assert "revision 1 of 2026-11-25; nothing prints otherwise since\n" in first
    assert "current from revision 1 on: Glovebox card, Mount card\n" in first
    shed.rig("wren", "Wee Wren", pressure="65 psi")
    files = shed.ledger_files("wee-wren")
    for names in (["wren"], []):
        assert main(["changes", *names]) == Exit.FINE
        out = capsys.readouterr().out
        assert "from revision 1 of 2026-11-25 to the rig file as it stands, not built yet" in out
        assert "tire pressure: 50 -> 65 psi: print glovebox card" in out
        assert "print again: Glovebox card\n" in out
        assert "current from revision 1 on: Mount card\ncurrent from revision 2 on: Glovebox card\n" in out
    assert shed.ledger_files("wee-wren") == files, "nothing is entered"
    build("--quiet")
    shed.rig("wren", "Wee Wren", pressure="65 psi", drop="6 in")
    build("--quiet")
    capsys.readouterr()
    for name in ("wren", "rigs/wren.yaml", "Wee Wren", "wee-wren"):
        assert main(["changes", name]) == Exit.FINE
        out = capsys.readouterr().out
        assert "from revision 2 of 2026-11-25 to revision 3 of 2026-11-25" in out
        assert "gear mount drop: 4 in -> 6 in" in out
        assert "print again: Mount card\n" in out
        assert "current from revision 2 on: Glovebox card\n" in out
    main(["changes", "wren", "--from", "1"])
    assert "print again: Glovebox card, Mount card\n" in capsys.readouterr().out
    main(["changes", "wren", "--from", "1", "--to", "2"])
    assert "print again: Glovebox card\n" in capsys.readouterr().out
    main(["changes", "wren", "--all"])
    assert [line for line in capsys.readouterr().out.splitlines() if line.startswith("rev")] == [
        f"revision {n} of 2026-11-25" for n in (3, 2, 1)
    ]
    assert main(["changes", "wren", "--from", "9"]) == Exit.USAGE
    assert "there are: 1, 2, 3" in capsys.readouterr().err
    assert main(["changes", "wern"]) == Exit.USAGE


def test_changes_of_a_damaged_ledger(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    shed.rig("wren")
    build("--quiet")
    (name,) = shed.ledger_files("wren")
    (shed.rigs / "revisions" / "wren" / name).write_text("{")
    assert main(["changes", "wren"]) == Exit.FAULTS
    assert "[revision-file]" in capsys.readouterr().err


def test_the_day_is_read_once_and_only_in_the_command(shed: Shed, monkeypatch: pytest.MonkeyPatch) -> None:
    shed.rig("wren")
    assert main(["build", "--quiet"]) == Exit.FINE
    (name,) = shed.ledger_files("wren")
    assert name[5:15] in {(dt.date.today() - dt.timedelta(days=n)).isoformat() for n in (0, 1)}


def test_progress_without_a_terminal(shed: Shed, capsys: pytest.CaptureFixture[str]) -> None:
    for number in range(12):
        shed.rig(f"rig{number:02d}", pressure="65" if number == 3 else "50 psi")
    build("--jobs", "1")
    said = capsys.readouterr().err.splitlines()
    assert said[0] == "12 rigs to make, 0 unchanged"
    assert said[1].startswith("2 of 12 rigs, about ")
    assert any(line.startswith("5 of 12 rigs, 1 failed, about ") for line in said)
    build("--quiet", "--again", "--jobs", "1")
    assert "of 12" not in capsys.readouterr().err


def test_progress_on_a_terminal(shed: Shed) -> None:
    """In a pseudo terminal there is a bar with counts and an estimate, gone at the end."""
    pty: Any = pytest.importorskip("pty", reason="the system has no pseudo terminals")
    import os

    from tests.bundle.test_kill import COMMAND, ROOT

    for number in range(8):
        shed.rig(f"rig{number}", more="note: sleep 0.15\n")
    script = shed.root / "command.py"
    script.write_text(COMMAND)
    leader, follower = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, str(script), "build", "--jobs", "1"],
        cwd=shed.root,
        env={**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm", "COLUMNS": "100"},
        stdout=subprocess.DEVNULL,
        stderr=follower,
    )
    os.close(follower)
    seen = bytearray()
    try:
        while piece := os.read(leader, 4096):
            seen += piece
    except OSError:  # the other end is gone
        pass
    finally:
        os.close(leader)
    assert process.wait() == 0
    assert b"/8" in seen
    assert b"rigs, left" in seen
    assert b"0:00:0" in seen


def test_the_fleet_to_measure_with(tmp_path: Path) -> None:
    from cardgen.model.read import read_rig
    from tests.benchmarks.fleet import main as write_fleet
    from tests.benchmarks.fleet import nickname

    write_fleet(["40", "--out", "fleet"])
    files = sorted(Path("fleet").glob("*.yaml"))
    read = [read_rig(path) for path in files]
    assert [one.faults for one in read] == [()] * 40
    assert len({one.rig.nickname for one in read if one.rig}) == 40
    assert len({one.rig.trailer.body for one in read if one.rig}) >= 4
    write_fleet(["40", "--out", "same"])
    assert [one.read_bytes() for one in files] == [
        one.read_bytes() for one in sorted(Path("same").glob("*.yaml"))
    ]
    write_fleet(["3", "--out", "other", "--seed", "2"])
    assert Path("other/rig-1.yaml").read_bytes() != files[0].read_bytes()
    names = [nickname(number) for number in range(5000)]
    assert len(set(names)) == 5000
    for words in (
        ["3", "--out", "fleet"],
        ["0", "--out", "new"],
        ["x", "--out", "new"],
        ["100001", "--out", "new"],
    ):
        with pytest.raises(SystemExit):
            write_fleet(words)


def test_a_bug_is_told_as_one(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    from cardgen.commands import build as module

    monkeypatch.setattr(module, "run", lambda args: 1 // 0)
    assert main(["build"]) == Exit.BUG
    assert "please report" in capsys.readouterr().err


def test_interrupted(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    from cardgen.commands import build as module

    def stop(args: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(module, "run", stop)
    assert main(["build"]) == Exit.INTERRUPTED
    assert capsys.readouterr().err == "\ninterrupted\n"
