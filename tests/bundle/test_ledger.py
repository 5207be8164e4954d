"""Ledgers of two people, and ledgers that are damaged."""

from __future__ import annotations

import datetime as dt
import json
import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from cardgen.bundle.inputs import fingerprint
from cardgen.bundle.ledger import read_ledger
from cardgen.bundle.work import Options
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
    shutil.rmtree(shed.out)  # which is theirs, and on another machine
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
    rig = shed.one(join=True, day=NEXT + dt.timedelta(days=1))
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
    "format": (lambda text: text.replace('"format": 4', '"format": 9'), "format 9"),
    "number": (lambda text: text.replace('"number": 1', '"number": "1"'), "number: "),
    "date": (lambda text: text.replace('"day": "2026-11-25"', '"day": "soon"'), "day: "),
    "other": (lambda text: text.replace('"number": 1', '"number": 7'), "edited after it was written"),
    "nickname": (lambda text: text.replace('"Wren"', '"Jenny"'), "edited after it was written"),
    "value": (lambda text: text.replace('"4 in"', '"5 in"'), "edited after it was written"),
    "fact": (lambda text: text.replace('"800 lb"', '"700 lb"'), "edited after it was written"),
    "no seal": (lambda text: text.replace('"seal"', '"seel"'), "seal"),
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
    assert (rig.number, rig.new_revision) == (2, True)
    assert path.name not in shed.ledger_files("wren")


def test_a_file_under_another_name_is_told(shed: Shed) -> None:
    path = ledger_file(shed)
    path.rename(path.with_name(path.name.replace("0001", "0002")))
    (fault,) = read_ledger(path.parent).faults
    assert "do not agree" in fault.message


def three_revisions(shed: Shed) -> list[Path]:
    for drop in ("4 in", "5 in", "6 in"):
        shed.rig("wren", drop=drop)
        shed.build()
    folder = shed.rigs / "revisions" / "wren"
    return [folder / name for name in shed.ledger_files("wren")]


def test_a_file_missing_in_the_middle_is_told_by_any_build(shed: Shed) -> None:
    files = three_revisions(shed)
    before = shed.tree()
    for lost in files[:2]:
        text = lost.read_bytes()
        lost.unlink()
        rig = shed.one()
        assert (rig.status, [one.code for one in rig.faults]) == ("failed", ["revision-file"])
        assert "is missing" in rig.faults[0].message
        assert shed.tree() == before
        lost.write_bytes(text)
    assert shed.one().status == "unchanged"


def test_an_edit_of_the_same_length_is_told_though_nothing_else_changed(shed: Shed) -> None:
    path = ledger_file(shed)
    path.write_text(path.read_text("utf-8").replace('"4 in"', '"9 in"'), "utf-8")
    rig = shed.one()
    assert rig.status == "failed"
    assert "edited after it was written" in rig.faults[0].message


def test_a_lost_ledger_goes_on_above_what_was_printed_and_says_so(shed: Shed) -> None:
    """No number is given twice, and a card that still says the same stays current."""
    three_revisions(shed)
    shutil.rmtree(shed.rigs / "revisions")
    shed.rig("wren", drop="6 in", pressure="65 psi")
    rig = shed.one(day=NEXT)
    assert (rig.number, rig.new_revision, rig.reprint) == (4, True, ("Glovebox card",))
    assert rig.changes[0] == "revisions 1 to 3 missing from the ledger"
    assert b"revision 3" in (shed.out / "wren" / "mount-card.pdf").read_bytes()
    assert b"revision 4" in (shed.out / "wren" / "glovebox-card.pdf").read_bytes()
    assert [shed.one(day=NEXT).status for _ in range(2)] == ["unchanged"] * 2


def test_the_newest_files_lost_are_missed(shed: Shed) -> None:
    files = three_revisions(shed)
    for one in files[1:]:
        one.unlink()
    rig = shed.one(day=NEXT)
    assert (rig.number, rig.new_revision, rig.reprint) == (4, True, ())
    assert "revisions 2 to 3 missing from the ledger" in rig.changes
    assert not read_ledger(files[0].parent).faults


def test_some_cards_of_a_lost_ledger_withdraw_no_other(shed: Shed) -> None:
    files = three_revisions(shed)
    files[2].unlink()
    some = Options(day=NEXT, cards=("mount-card",))
    shed.one(options=some)
    last = read_ledger(files[0].parent).last
    assert last is not None
    assert (last.number, set(last.cards)) == (4, {"mount-card", "glovebox-card"})


def test_a_clock_behind_the_newest_revision_enters_nothing(shed: Shed) -> None:
    shed.rig("wren")
    shed.build(day=NEXT)
    files = shed.ledger_files("wren")
    assert shed.one(day=DAY).number == 1, "what has not changed can be looked at on any day"
    shed.rig("wren", drop="6 in")
    rig = shed.one(day=DAY)
    assert (rig.status, rig.number, rig.day) == ("built", 1, NEXT.isoformat())
    assert rig.warning.startswith(f"the day {DAY} lies before that of revision 1, {NEXT}")
    assert shed.ledger_files("wren") == files
    assert "6 in" in (shed.out / "wren" / "mount-card.pdf").read_text("utf-8")
    assert shed.one(day=DAY).warning, "it is told again until it is right"
    late = shed.one(day=NEXT)
    assert (late.number, late.reprint, late.warning) == (2, ("Mount card",), "")


def test_a_renamed_rig_goes_on_with_its_revisions_when_the_owner_says_so(shed: Shed) -> None:
    shed.rig("wren", "Wren")
    shed.build()
    shed.rig("wren", "Wren", pressure="65 psi")
    shed.build()
    shed.rig("wren", "Magpie", pressure="65 psi")
    result = shed.build("wren", renamed="wren", day=NEXT)
    rig = result.rigs[0]
    assert (rig.number, rig.slug, result.removed, result.followed) == (3, "magpie", ["wren"], True)
    assert rig.output is not None
    assert rig.output.formerly == {"wren": "Wren"}
    assert [len(shed.ledger_files(name)) for name in ("wren", "magpie")] == [2, 1]
    shed.rig("wren", "Magpie", pressure="70 psi")
    later = shed.one(day=NEXT)
    assert (later.number, later.new_revision) == (4, True), "no second word is needed"
    ledger = read_ledger(shed.rigs / "revisions" / "magpie")
    assert [(one.number, one.rig) for one in ledger.revisions] == [
        (1, "wren"),
        (2, "wren"),
        (3, "magpie"),
        (4, "magpie"),
    ]
    assert (ledger.faults, ledger.rivals) == ((), ())


def test_a_renamed_rig_whose_owner_says_nothing_begins_anew_and_that_is_told(shed: Shed) -> None:
    shed.rig("wren", "Wren")
    shed.build()
    shed.rig("wren", "Magpie")
    result = shed.build()
    assert (result.rigs[0].number, result.removed, result.renamed) == (1, ["wren"], {"wren": "Magpie"})
    assert not result.followed
    for old, words in (("wren", "revisions under its new name already"), ("lark", "under the name 'lark'")):
        if old == "lark":
            shutil.rmtree(shed.rigs / "revisions" / "magpie")
        (fault,) = shed.one("wren", renamed=old, again=True).faults
        assert words in fault.message
        assert fault.code == "rig-renamed"
    rig = shed.one("wren", renamed="wren", day=NEXT, again=True)
    assert (rig.number, rig.faults) == (2, ())


def test_days_under_their_earlier_names_are_read(shed: Shed) -> None:
    path = ledger_file(shed)
    (now,) = read_ledger(path.parent).revisions
    data = json.loads(path.read_text("utf-8"))
    del data["seal"]
    data |= {"format": 3, "date": data.pop("day")}
    for card in data["cards"].values():
        card["since_date"] = card.pop("since_day")
    path.write_text(json.dumps(data | {"seal": fingerprint(data)}), "utf-8")
    ledger = read_ledger(path.parent)
    assert (ledger.faults, ledger.revisions) == ((), (now,))
