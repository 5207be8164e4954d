"""Names of rigs on the command line: files, names, slips of the pen, and no rigs at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.workspace import DAY, Run, write

MANY = ("build", "check", "sheets", "preview")
ONE = ("results", "changes", "cargo")


def more(command: str) -> list[str]:
    return ["--export", "-"] if command == "cargo" else []


@pytest.mark.parametrize("command", [*MANY, *ONE])
def test_a_slip_of_the_pen(run: Run, command: str) -> None:
    ran = run(command, "plovre", *more(command))
    assert ran.code == 2
    assert "no rig 'plovre' in 'rigs'; did you mean 'plover'?" in ran.err


@pytest.mark.parametrize("command", [*MANY, *ONE])
def test_a_name_like_none_lists_what_there_is(run: Run, command: str) -> None:
    ran = run(command, "zzz", *more(command))
    assert ran.code == 2
    assert "known rigs: plover, sanderling" in ran.err


@pytest.mark.parametrize("command", MANY)
def test_all_wrong_names_are_told_at_once(run: Run, command: str) -> None:
    ran = run(command, "plovre", "sandreling", "plover")
    assert ran.code == 2
    assert ran.err.count("did you mean") == 2


@pytest.mark.parametrize("command", MANY)
def test_no_rigs_at_all(run: Run, shed: Path, command: str) -> None:
    for path in (shed / "rigs").glob("*.yaml"):
        path.unlink()
    for words in ([command], [command, "--rigs-dir", "elsewhere"]):
        ran = run(*words)
        assert ran.code == 2
        assert "cardgen new NAME" in ran.err
    assert not (shed / "build").exists()


def test_a_name_a_file_and_another_folder(run: Run, shed: Path) -> None:
    (shed / "other").mkdir()
    (shed / "rigs" / "plover.yaml").rename(shed / "other" / "dunlin.yaml")
    for words in (["other/dunlin.yaml"], ["dunlin", "--rigs-dir", "other"], ["--rigs-dir", "other"]):
        ran = run("check", *words, "--date", DAY)
        assert ran.code == 0, ran.err
        assert "Plover" in ran.out


def test_the_same_rig_twice_is_built_once(run: Run) -> None:
    ran = run("build", "plover", "rigs/plover.yaml", "./rigs/plover.yaml", "--html-only", "--date", DAY)
    assert ran.code == 0
    assert "1 rig: 1 built" in ran.out


def test_two_rigs_of_one_name_are_told(run: Run, shed: Path) -> None:
    write(shed, "other", nickname="PLOVER!")
    ran = run("build", "--html-only", "--date", DAY)
    assert ran.code == 3
    assert "[nickname-taken]" in ran.err
    assert "plover.yaml" in ran.err
    assert "other.yaml" in ran.err
    assert not (shed / "build" / "plover").exists()


@pytest.mark.parametrize(
    "name",
    ["../rigs/plover", "rigs", ".", "..", "/etc/passwd", "plover.yaml/", "", " ", "*", "con", "a\nb", "%s{}"],
)
def test_odd_names_are_no_rigs(run: Run, name: str) -> None:
    ran = run("check", name)
    assert ran.code in (0, 2)
    assert "Traceback" not in ran.err
    if ran.code == 0:
        assert "Plover" in ran.out


def test_a_folder_called_like_a_rig(run: Run, shed: Path) -> None:
    (shed / "rigs" / "folder.yaml").mkdir()
    ran = run("check")
    assert ran.code == 3
    assert "[file-unreadable]" in ran.err
    assert "Sanderling" in ran.out
