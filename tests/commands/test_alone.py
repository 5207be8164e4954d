"""Every command takes a file of a trailer alone or a vehicle alone, or says in a sentence why not."""

from __future__ import annotations

import json
from pathlib import Path

from cardgen.commands.exits import Exit
from tests.commands.workspace import DAY, ROOT, Run, write

DATA = ROOT / "tests" / "data" / "rigs"


def put(shed: Path) -> None:
    for name in ("trailer_only", "vehicle_only"):
        write(shed, name, (DATA / f"{name}.yaml").read_text())


def test_check_counts_what_a_vehicle_would_answer_in_one_line(run: Run, shed: Path) -> None:
    put(shed)
    ran = run("check", "trailer_only", "--date", DAY)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.count("no vehicle in this file") == 1
    assert "27 not checked: no vehicle in this file" in ran.out
    assert "vehicle." not in ran.out, "no field of a vehicle is asked for"
    ran = run("check", "vehicle_only", "--date", DAY)
    assert (ran.code, ran.err) == (0, "")
    assert "not checked: no trailer in this file" in ran.out
    assert "trailer." not in ran.out


def test_a_trailer_that_is_over_by_itself_is_over(run: Run, shed: Path) -> None:
    text = (DATA / "trailer_only.yaml").read_text()
    write(shed, "heavy", text.replace("gvwr: 7,000 lb", "gvwr: 5,000 lb"))
    ran = run("check", "heavy", "--date", DAY)
    assert ran.code == Exit.OVER
    assert "trailer-gross" in ran.out


def test_results_match_and_explain(run: Run, shed: Path) -> None:
    put(shed)
    for name, outcome in (("trailer_only", "close"), ("vehicle_only", "not checked")):
        ran = run("results", name, "--json", "--date", DAY)
        assert ran.code == 0
        assert json.loads(ran.out)["outcome"] == outcome
    ran = run("match", "trailer_only")
    assert ran.code == 2
    assert "describes trailer in the file itself" in ran.err
    assert run("explain", "vehicle").code == 0
    assert run("explain", "must-have-sheet").code == 0


def test_weigh_takes_the_trailer_by_itself(run: Run, shed: Path) -> None:
    put(shed)
    words = ("--case", "empty", "--date", DAY, "--read", "trailer_alone=2,180 lb", "coupler=300 lb")
    ran = run("weigh", "trailer_only", *words)
    assert ran.code == 0, ran.err
    assert "trailer_alone" in ran.out
    assert "2,180" in ran.err


def test_a_card_that_needs_a_vehicle_is_not_made_and_said_so(run: Run, shed: Path) -> None:
    put(shed)
    ran = run("build", "trailer_only", "--cards", "wallet-card,must-have-sheet", "--html-only", "--date", DAY)
    assert ran.code == 0, ran.err
    assert "not made, no vehicle in this file: wallet-card" in ran.out + ran.err


def test_the_starter_without_a_vehicle(run: Run, shed: Path) -> None:
    for words in ((), ("--short",)):
        name = f"Finch{len(words)}"
        assert run("new", name, "--vehicle", "unknown", "--kind", "car_hauler", *words).code == 0
        text = (shed / "rigs" / f"{name.lower()}.yaml").read_text()
        assert "\nvehicle:" not in text
        assert "\ngear:" not in text
        assert "occupants" not in text
        ran = run("check", name.lower(), "--date", DAY)
        assert (ran.code, ran.err) == (0, "")
        assert "no vehicle in this file" in ran.out
