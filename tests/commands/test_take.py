"""``cardgen take``: what the measuring page gave back goes into the rig file whole, after a yes, or not at all."""

from __future__ import annotations

import io
import json
import os
from hashlib import sha256
from pathlib import Path

import pytest

from tests.commands.workspace import Ran, Run, write

RIG = """\
# mine
nickname: Finch
market: us
vehicle:
  gvwr: unknown   # door
  year: unknown
trailer:
  type: ball
  body: utility
  tanks: {}
  cargo:
    - name: spare parts
      weight: 40 lb
cases:
  - name: empty run
"""
CAME = (
    RIG.replace("gvwr: unknown   # door", "gvwr: 6350 lb   # door")
    .replace("year: unknown", "year: unknown  # year: not there, looked 2026-11-27")
    .replace("  tanks: {}\n", "  tanks:\n    fresh:\n      holds: fresh\n")
    .replace("weight: 40 lb\n", 'weight: 40 lb\n    - name: "no"\n      weight: 12 lb\n')
)
FIELDS = [["vehicle", "gvwr"], ["trailer", "tanks", "fresh"], ["trailer", "cargo"]]


@pytest.fixture
def finch(shed: Path) -> Path:
    """A rig of which little is known."""
    return write(shed, "finch", RIG)


def gave(text: str, made_from: str = RIG, /, **other: object) -> None:
    """Save what the page gives back."""
    mark = {"rig": "finch.yaml", "file": "finch.yaml", "sha256": sha256(made_from.encode()).hexdigest()}
    told = {**mark, "fields": FIELDS, "looked": [[["vehicle", "year"], "2026-11-27"]], **other}
    Path("back.yaml").write_text(f"# cardgen measured {json.dumps(told)}\n{text}", encoding="utf-8")


def take(run: Run, monkeypatch: pytest.MonkeyPatch, typed: str = "yes\n") -> Ran:
    """Run it with something typed on a terminal; nothing is the key that ends the input."""
    ours, theirs = os.openpty()
    os.write(ours, typed.encode() or b"\x04")
    with os.fdopen(theirs) as terminal:
        monkeypatch.setattr("sys.stdin", terminal)
        ran = run("take", "back.yaml")
    os.close(ours)
    return ran


def test_the_file_it_was_made_from_becomes_the_one_given_back(
    run: Run, finch: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gave(CAME)
    finch.chmod(0o640)
    ran = take(run, monkeypatch)
    assert (ran.code, ran.out) == (0, "rigs/finch.yaml\n")
    assert "    5 +   gvwr: 6350 lb   # door" in ran.err.splitlines()
    assert "      -   gvwr: unknown   # door" in ran.err.splitlines()
    assert finch.read_text() == CAME
    assert finch.stat().st_mode & 0o777 == 0o640
    gave(CAME.replace("\n", "\r\n"))  # as a mail program sends it
    assert take(run, monkeypatch).code == 0
    assert finch.read_bytes().decode() == CAME


@pytest.mark.parametrize("typed", ["", "y\n", "no\n", "ye\n"])
def test_nothing_is_written_without_a_whole_yes(
    run: Run, finch: Path, monkeypatch: pytest.MonkeyPatch, typed: str
) -> None:
    gave(CAME)
    ran = take(run, monkeypatch, typed)
    assert (ran.code, ran.out) == (5, "")
    assert "nothing was written" in ran.err
    assert finch.read_text() == RIG


def test_a_yes_that_nobody_typed_is_refused(run: Run, finch: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    gave(CAME)
    monkeypatch.setattr("sys.stdin", io.StringIO("yes\n"))
    ran = run("take", "back.yaml")
    assert (ran.code, ran.out) == (5, "")
    assert ran.err.splitlines()[-1].endswith("nothing was written: only a yes typed on a terminal is taken")
    assert "    5 +   gvwr: 6350 lb   # door" in ran.err.splitlines()
    assert finch.read_text() == RIG


def test_answers_are_placed_again_where_the_file_has_changed(
    run: Run, finch: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = RIG.replace("# mine\n", "# mine, and more\n\n").replace("gvwr: unknown   # door", "gvwr: 6,400 lb")
    finch.write_text(now.replace("  tanks: {}\n", ""))
    gave(CAME)
    ran = take(run, monkeypatch)
    assert ran.code == 0, ran.err
    assert "left out: vehicle.gvwr is '6,400 lb' in rigs/finch.yaml now" in ran.err
    assert finch.read_text() == (
        now.replace("year: unknown", "year: unknown  # year: not there, looked 2026-11-27")
        .replace("  tanks: {}\n", "")
        .replace(
            "weight: 40 lb\n",
            'weight: 40 lb\n    - name: "no"\n      weight: 12 lb\n  tanks:\n    fresh:\n      holds: fresh\n',
        )
    )


def test_a_part_is_taken_into_the_part(run: Run, shed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rig = write(
        shed,
        "finch",
        RIG.replace("vehicle:\n  gvwr: unknown   # door\n  year: unknown", "vehicle:\n  part: van"),
    )
    part = shed / "rigs" / "parts" / "van.yaml"
    part.parent.mkdir()
    part.write_text("gvwr: unknown\n# changed since\n")
    came = "gvwr: 6350 lb\n"
    gave(came, "gvwr: unknown\n", file="parts/van.yaml", fields=[["vehicle", "gvwr"]], looked=[])
    write(shed, "heron", rig.read_text().replace("Finch", "Heron"))
    before = rig.read_text()
    ran = take(run, monkeypatch)
    assert ran.code == 0, ran.err
    assert "a shared part: heron will change with it" in ran.err
    assert part.read_text() == "gvwr: 6350 lb\n# changed since\n"
    assert rig.read_text() == before


@pytest.mark.parametrize(
    ("other", "told"),
    [
        ({"file": "../finch.yaml"}, "is no rig file below"),
        ({"file": "/etc/passwd"}, "is no rig file below"),
        ({"file": "heron.yaml"}, "cannot be read"),
        ({"fields": [["vehicle", "horn"]]}, "does not begin with the line"),
        ({"fields": 3}, "does not begin with the line"),
    ],
)
def test_a_mark_that_leads_elsewhere_is_refused(
    run: Run, finch: Path, monkeypatch: pytest.MonkeyPatch, other: dict[str, object], told: str
) -> None:
    gave(CAME, **other)
    ran = take(run, monkeypatch)
    assert (ran.code, finch.read_text()) == (2, RIG)
    assert told in ran.err


def test_a_file_with_faults_is_not_written(run: Run, finch: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    gave(CAME.replace("6350 lb", "6350"))
    ran = take(run, monkeypatch)
    assert (ran.code, finch.read_text()) == (3, RIG)
    assert "rigs/finch.yaml:5:9: vehicle.gvwr: '6350' is a number without a unit" in ran.err
    Path("back.yaml").write_text(CAME)
    assert take(run, monkeypatch).code == 2
