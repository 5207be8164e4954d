"""``cardgen new``: asks nothing where nobody can answer, and never writes over anything."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.workspace import DAY, Run, apart


def test_asks_nothing_without_a_terminal(shed: Path) -> None:
    ran = apart("new", "Finch", cwd=shed, stdin="")
    assert ran.code == 0, ran.err
    assert ran.err == ""
    assert ran.out.strip().replace("\\", "/") == "rigs/finch.yaml"
    ran = apart("new", "Siskin", cwd=shed, stdin="nonsense\n" * 20)
    assert ran.code == 0
    assert ran.err == ""


def test_a_starter_is_sound_and_can_be_built(run: Run, shed: Path) -> None:
    assert run("new", "Finch").code == 0
    ran = run("check", "finch", "--date", DAY)
    assert ran.code == 0, ran.err
    assert "not checked" in ran.out
    assert run("build", "finch", "--html-only", "--date", DAY).code == 0
    assert (shed / "build" / "finch" / "index.html").is_file()


@pytest.mark.parametrize("more", [[], ["--from", "mule"]], ids=["starter", "copy"])
def test_never_overwrites(run: Run, shed: Path, more: list[str]) -> None:
    (shed / "rigs" / "finch.yaml").write_text("mine", "utf-8")
    before = sorted(shed.rglob("*"))
    ran = run("new", "Finch", *more)
    assert ran.code == 5
    assert "finch.yaml" in ran.err
    assert ran.out == ""
    assert (shed / "rigs" / "finch.yaml").read_text("utf-8") == "mine"
    assert sorted(shed.rglob("*")) == before


def test_parts_of_the_owner_are_kept(run: Run, shed: Path) -> None:
    part = shed / "rigs" / "parts" / "vehicles" / "pebble.yaml"
    part.parent.mkdir(parents=True)
    part.write_text("mine", "utf-8")
    run("new", "Finch", "--from", "mule")
    assert part.read_text("utf-8") == "mine"


@pytest.mark.parametrize(
    "name",
    [
        "../../evil",
        "/tmp/evil",
        "..",
        "a/b/c",
        "C:\\evil",
        "evil\x00.yaml",
        "~root",
        "x" * 5000,
        "-",
        "CON",
        "aux.yaml",
    ],
    ids=lambda name: repr(name)[:20],
)
def test_odd_names_stay_in_the_folder(run: Run, shed: Path, name: str) -> None:
    outside = {path for path in shed.parent.iterdir() if path != shed}
    ran = run("new", "--", name)
    assert ran.code in (0, 2, 3, 5)
    assert "Traceback" not in ran.err
    assert {path for path in shed.parent.iterdir() if path != shed} == outside
    made = [path for path in shed.rglob("*") if path.is_file()]
    assert all(path.parent == shed / "rigs" for path in made)
    if ran.code == 0:
        assert run("check", ran.out.strip(), "--date", DAY).code == 0
