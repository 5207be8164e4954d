"""Ledgers of two people, and ledgers that are damaged."""

from __future__ import annotations

import datetime as dt
import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from cardgen.bundle.ledger import read_ledger
from tests.bundle.shed import DAY, Shed

NEXT = DAY + dt.timedelta(days=1)


def git(folder: Path, *words: str) -> str:
    """Run git without the settings of this machine."""
    clean = {
        **{name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ},
        "GIT_CONFIG_GLOBAL": os.devnull,
        "GIT_CONFIG_SYSTEM": os.devnull,
    }
    who = ("-c", "user.name=Ada", "-c", "user.email=ada@example.org", "-c", "commit.gpgsign=false")
    done = subprocess.run(
        ["git", *who, *words], cwd=folder, env=clean, check=True, capture_output=True, text=True
    )
    return done.stdout


def two_people(shed: Shed, ours: dict[str, str], theirs: dict[str, str], rig: str = "wren") -> None:
    """Two branches, a build on each, merged by git; our lines win. ``rig`` is the one they change."""
    (shed.root / ".gitignore").write_text("build/\n")
    shed.rig("wren")
    shed.build()
    git(shed.root, "init", "-q", "-b", "main")
    git(shed.root, "add", ".")
    git(shed.root, "commit", "-q", "-m", "start")
    git(shed.root, "switch", "-q", "-c", "theirs")
    shed.rig(rig, **theirs)
    shed.build(day=NEXT)
    git(shed.root, "add", ".")
    git(shed.root, "commit", "-q", "-m", "theirs")
    git(shed.root, "switch", "-q", "main")
    shed.rig("wren", **ours)
    shed.build(day=NEXT + dt.timedelta(days=1))
    git(shed.root, "add", ".")
    git(shed.root, "commit", "-q", "-m", "ours")
    git(shed.root, "merge", "-q", "-X", "ours", "-m", "merge", "theirs")


def test_the_same_change_made_twice_merges(shed: Shed) -> None:
    two_people(shed, {"pressure": "65 psi"}, {"pressure": "65 psi"})
    assert len(shed.ledger_files("wren")) == 3
    rig = shed.one()
    assert (rig.number, rig.day, rig.new_revision) == (2, NEXT.isoformat(), False)


def test_different_changes_of_one_number_are_refused_with_what_to_do(shed: Shed) -> None:
    two_people(shed, {"pressure": "65 psi"}, {"pressure": "60 psi"})
    before = shed.tree()
    ledger = shed.ledger_files("wren")
    rig = shed.one()
    assert rig.status == "failed"
    (fault,) = rig.faults
    assert fault.code == "revision-twice"
    assert "--join-revisions" in fault.hint
    assert all(name in fault.message for name in ledger if name.startswith("0002"))
    assert shed.tree() == before
    assert shed.ledger_files("wren") == ledger


def test_joining_goes_on_with_a_number_nobody_holds(shed: Shed) -> None:
    two_people(shed, {"pressure": "65 psi"}, {"pressure": "60 psi"})
    rig = shed.one(join=True)
    assert (rig.number, rig.new_revision, rig.reprint) == (3, True, ("Glovebox card",))
    again = shed.one()
    assert (again.status, again.number) == ("unchanged", 3)
    assert b"revision 3" in (shed.out / "wren" / "glovebox-card.pdf").read_bytes()
    assert b"revision 1" in (shed.out / "wren" / "mount-card.pdf").read_bytes()


def test_deleting_one_of_two_settles_it(shed: Shed) -> None:
    two_people(shed, {"pressure": "65 psi"}, {"pressure": "60 psi"})
    folder = shed.rigs / "revisions" / "wren"
    theirs = next(one for one in folder.iterdir() if f"0002-{NEXT.isoformat()}" in one.name)
    theirs.unlink()
    rig = shed.one()
    assert (rig.status, rig.number) == ("unchanged", 2)


def test_changes_to_different_rigs_merge(shed: Shed) -> None:
    shed.rig("mule")
    two_people(shed, {"pressure": "65 psi"}, {"pressure": "60 psi"}, rig="mule")
    assert len(shed.ledger_files("mule")) == len(shed.ledger_files("wren")) == 2
    assert [(rig.number, rig.new_revision) for rig in shed.build().rigs] == [(2, False), (2, False)]


def ledger_file(shed: Shed) -> Path:
    shed.rig("wren")
    shed.build()
    (name,) = shed.ledger_files("wren")
    return shed.rigs / "revisions" / "wren" / name


DAMAGE: dict[str, tuple[Callable[[str], str], str]] = {
    "cut": (lambda text: text[:200], "not JSON"),
    "empty": (lambda text: "", "not JSON"),
    "merge": (lambda text: text.replace(' "rig"', '<<<<<<< HEAD\n "rig"'), "unfinished merge"),
    "list": (lambda text: "[]", "not a revision"),
    "deep": (lambda text: "[" * 100_000, "not a revision"),
    "format": (lambda text: text.replace('"format": 1', '"format": 2'), "format 2"),
    "number": (lambda text: text.replace('"number": 1', '"number": "1"'), "a number"),
    "date": (lambda text: text.replace('"date": "2026-11-25"', '"date": "soon"'), "soon"),
    "other": (lambda text: text.replace('"number": 1', '"number": 7'), "do not agree"),
    "fingerprint": (lambda text: text.replace('"fingerprint": "', '"fingerprint": "0', 1), "fingerprint"),
    "missing": (lambda text: text.replace('"cards"', '"kards"'), "cards"),
}


@pytest.mark.parametrize("kind", DAMAGE)
def test_damage_is_told_with_its_place_and_nothing_is_written(shed: Shed, kind: str) -> None:
    path = ledger_file(shed)
    damage, words = DAMAGE[kind]
    path.write_text(damage(path.read_text("utf-8")), "utf-8")
    shed.rig("wren", pressure="65 psi")
    before = shed.tree()
    rig = shed.one()
    assert rig.status == "failed"
    (fault,) = rig.faults
    assert (fault.code, fault.file) == ("revision-file", str(path))
    assert words in fault.message
    assert fault.hint
    assert shed.tree() == before
    assert len(shed.ledger_files("wren")) == 1


def test_the_line_of_damage_is_told(shed: Shed) -> None:
    path = ledger_file(shed)
    lines = path.read_text("utf-8").splitlines()
    lines[4] = lines[4].rstrip(",")
    path.write_text("\n".join(lines), "utf-8")
    (fault,) = read_ledger(path.parent).faults
    assert fault.line == 6
    assert fault.col == 2


def test_not_utf8_and_unreadable(shed: Shed) -> None:
    path = ledger_file(shed)
    path.write_bytes(b"\xff\xfe")
    (fault,) = read_ledger(path.parent).faults
    assert "UTF-8" in fault.message
    path.unlink()
    path.mkdir()
    (fault,) = read_ledger(path.parent).faults
    assert "cannot be read" in fault.message


def test_a_stranger_in_the_ledger(shed: Shed) -> None:
    path = ledger_file(shed)
    (path.parent / ".DS_Store").write_bytes(b"x")
    shutil.copy(path, path.parent / "notes.txt")
    (fault,) = read_ledger(path.parent).faults
    assert fault.file.endswith("notes.txt")


def test_a_damaged_ledger_of_one_rig_does_not_stop_the_others(shed: Shed) -> None:
    ledger_file(shed).write_text("{")
    shed.rig("wren", pressure="65 psi")
    shed.rig("mule")
    assert {rig.slug: rig.status for rig in shed.build().rigs} == {"mule": "built", "wren": "failed"}


def test_a_changed_ledger_is_noticed_when_nothing_else_changed(shed: Shed) -> None:
    path = ledger_file(shed)
    path.rename(path.parent / "gone")
    (path.parent / "gone").unlink()
    rig = shed.one(day=DAY)
    assert (rig.number, rig.new_revision) == (1, True)
    assert shed.ledger_files("wren") == [path.name]
