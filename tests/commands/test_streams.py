"""Results go to stdout, diagnostics to stderr; colour only where it is wanted; any terminal will do."""

from __future__ import annotations

import io
import json
import os
import re
import sys
from pathlib import Path

import pytest

from cardgen.cli import main
from tests.commands.workspace import DAY, OVERLOADED, Run, apart, write

ESCAPE = re.compile(r"\x1b\[")


def test_faults_go_to_stderr_and_findings_to_stdout(run: Run, shed: Path) -> None:
    write(shed, "plover", "nickname: Plover\nmarket: mars\n")
    ran = run("check", "--date", DAY)
    assert "Sanderling" in ran.out
    assert "plover.yaml" not in ran.out
    assert "plover.yaml" in ran.err
    assert "Sanderling" not in ran.err


def test_json_is_alone_on_stdout(run: Run) -> None:
    ran = run("results", "plover", "--json", "--date", DAY)
    assert json.loads(ran.out)["nickname"] == "Plover"
    assert ran.err == ""
    ran = run("build", "--html-only", "--date", DAY, "--summary-json", "-")
    assert json.loads(ran.out)["counts"]["built"] == 2


def test_quiet_says_little(run: Run) -> None:
    first = run("build", "--html-only", "--date", DAY)
    again = run("build", "--html-only", "--date", DAY, "--quiet")
    assert len(first.out.splitlines()) > 2
    assert len(again.out.splitlines()) == 1
    assert again.err == ""


@pytest.mark.parametrize(
    "words", [["check"], ["results", "plover"], ["explain"], ["doctor"], ["build", "--html-only"]]
)
def test_no_colour_into_a_pipe(shed: Path, words: list[str]) -> None:
    ran = apart(*words, cwd=shed, TERM="xterm-256color")
    assert not ESCAPE.search(ran.out + ran.err)


@pytest.mark.skipif(sys.platform == "win32", reason="that system has no such terminals")
@pytest.mark.parametrize(("more", "coloured"), [({}, True), ({"NO_COLOR": "1"}, False)])
def test_colour_on_a_terminal_unless_it_is_not_wanted(
    shed: Path, more: dict[str, str], coloured: bool
) -> None:
    file = write(shed, "walrus", OVERLOADED.read_text("utf-8"))
    said = on_a_terminal(["check", str(file), "--date", DAY], shed, more)
    assert "10 over" in said
    assert bool(re.search(r"\x1b\[[0-9;]*3\d", said)) is coloured


def on_a_terminal(words: list[str], cwd: Path, more: dict[str, str]) -> str:
    """What a command says on a terminal of its own."""
    import pty

    from tests.commands.workspace import ROOT

    env = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "FORCE_COLOR")}
    env |= {"PYTHONPATH": str(ROOT), "TERM": "xterm-256color", "COLUMNS": "120"} | more
    pid, handle = pty.fork()
    if pid == 0:
        os.chdir(cwd)
        os.execve(sys.executable, [sys.executable, "-m", "cardgen", *words], env)
    said = b""
    try:
        while chunk := os.read(handle, 65536):
            said += chunk
    except OSError:  # the other end is closed
        pass
    finally:
        os.close(handle)
        os.waitpid(pid, 0)
    return said.decode("utf-8", "replace")


ODD = "Ängström № 7 \N{MUSICAL SYMBOL G CLEF} \u05e2\u05d2\u05dc\u05d4"


WORDS = (
    ["check"],
    ["results", "plover"],
    ["results", "plover", "--json"],
    ["build", "--html-only", "--date", DAY],
    ["changes", "plover"],
    ["explain", "tongue-share"],
    ["explain"],
    ["schema"],
    ["cargo", "plover", "--export", "-"],
)


def encoded(words: list[str], encoding: str, monkeypatch: pytest.MonkeyPatch) -> tuple[int, bytes, bytes]:
    """Run a command whose terminal has an encoding."""
    out, err = io.BytesIO(), io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(out, encoding))
    monkeypatch.setattr(sys, "stderr", io.TextIOWrapper(err, encoding))
    code = main(words)
    sys.stdout.flush()
    sys.stderr.flush()
    return code, out.getvalue(), err.getvalue()


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "cp437", "utf-16", "utf-8"])
def test_any_terminal_encoding(shed: Path, monkeypatch: pytest.MonkeyPatch, encoding: str) -> None:
    """A terminal that cannot show a letter gets another sign for it, never a traceback."""
    write(shed, "plover", nickname=ODD)
    for words in (*WORDS[3:4], *WORDS):
        code, out, err = encoded(words, encoding, monkeypatch)
        assert code == 0, err
        assert out
        assert b"Traceback" not in err
        out.decode(encoding)


def test_letters_are_written_alike(shed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(shed, "plover", nickname=ODD)
    _, out, _ = encoded(["check", "plover"], "ascii", monkeypatch)
    assert b"Angstrom No 7 ? ????: " in out


def test_json_is_whole_on_any_terminal(shed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What another program reads is never spoilt by the terminal's encoding."""
    write(shed, "plover", nickname=ODD)
    for encoding in ("ascii", "utf-8", "cp1252"):
        _, out, _ = encoded(["results", "plover", "--json"], encoding, monkeypatch)
        assert json.loads(out.decode(encoding))["nickname"] == ODD
        build = ["build", "plover", "--html-only", "--summary-json", "-"]
        _, out, _ = encoded(build, encoding, monkeypatch)
        assert json.loads(out.decode(encoding))["rigs"][0]["nickname"] == ODD


def test_a_process_of_its_own_on_a_plain_terminal(shed: Path) -> None:
    write(shed, "plover", nickname=ODD)
    ran = apart("check", cwd=shed, PYTHONIOENCODING="ascii", PYTHONUTF8="0", LC_ALL="C")
    assert ran.code == 0, ran.err
    assert "Angstrom" in ran.out


@pytest.mark.skipif(sys.platform != "linux", reason="other systems refuse such file names")
def test_file_names_that_are_no_utf8(shed: Path) -> None:
    name = os.fsdecode(b"rigs/b\xff\xfe.yaml")
    Path(name).write_text(
        (shed / "rigs" / "plover.yaml").read_text("utf-8").replace("Plover", "Odd"), "utf-8"
    )
    for words in (["check"], ["build", "--html-only", "--date", DAY], ["results", name], ["check", name]):
        ran = apart(*words, cwd=shed)
        assert "Traceback" not in ran.err, words
        assert ran.code == 0, ran.err
    Path(name).write_text("nickname: [\n", "utf-8")
    ran = apart("check", cwd=shed)
    assert ran.code == 3
    assert "Traceback" not in ran.err
