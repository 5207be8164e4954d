"""``cardgen new`` asks, writes a rig that reads back, and never writes over anything."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pexpect
import pytest

from cardgen.bundle.reading import read_rig
from cardgen.cli import main
from cardgen.commands.schema import schema_text
from cardgen.model.starter_fields import KINDS
from tests.conftest import PATIENCE

ROOT = Path(__file__).parent.parent.parent
DEMOS = sorted(path.stem for path in (ROOT / "rigs").glob("*.yaml"))


@pytest.fixture(autouse=True)
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder in which the command runs."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def ask(folder: Path, *words: str) -> pexpect.spawn[str]:
    return pexpect.spawn(
        sys.executable, ["-m", "cardgen", "new", *words], cwd=str(folder), encoding="utf-8", timeout=PATIENCE
    )


def ended(child: pexpect.spawn[str]) -> int | None:
    child.expect(pexpect.EOF)
    child.close()
    code: int | None = child.exitstatus
    return code


def test_it_asks_on_a_terminal(empty: Path) -> None:
    child = ask(empty, "Fähre")
    for question, answer in (
        ("words, rules and units", "u"),
        ("'u' is several of them", ""),
        ("words, rules and units", "eu"),
        ("What tows it", "lorry"),
        ("'lorry' is none of them", ""),
        ("What tows it", "ca"),
        ("in the driveway", "c"),
        ("'c' is several of them", ""),
        ("in the driveway", "caravan"),
        ("How many axles", "2"),
        ("How does it brake", "surge"),
    ):
        child.expect(question)
        if not question.startswith("'"):
            child.sendline(answer)
    child.expect("rigs/fahre.yaml")
    assert ended(child) == 0
    rig = read_rig(empty / "rigs" / "fahre.yaml").rig
    assert rig is not None
    assert rig.nickname == "Fähre"
    assert (rig.market, rig.vehicle.kind, rig.trailer.type) == ("eu", "car", "ball")
    assert (rig.trailer.body, rig.trailer.axles.count, rig.trailer.brakes.kind) == ("caravan", 2, "surge")


def test_flags_are_not_asked_again(empty: Path) -> None:
    child = ask(empty, "Wren", "--market", "us", "--vehicle", "pickup", "--type", "ball", "--axles", "2")
    child.expect("What is the trailer")
    child.sendline("car hauler")
    child.expect("How does it brake")
    child.sendline("el")
    child.expect("'el' is several")
    child.expect("How does it brake")
    child.sendline("electric")
    child.expect("weight-distributing")
    child.sendline("y")
    child.expect("rigs/wren.yaml")
    assert ended(child) == 0
    rig = read_rig(empty / "rigs" / "wren.yaml").rig
    assert rig is not None
    assert rig.trailer.body == "car_hauler"
    assert rig.gear.weight_distribution is not None


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("short", [False, True], ids=["full", "short"])
def test_a_kind_tells_coupling_body_and_equipment(
    empty: Path, kind: str, short: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "Finch", "--kind", kind, *(["--short"] if short else [])]) == 0
    assert capsys.readouterr().err == ""
    path = empty / "rigs" / "finch.yaml"
    rig = read_rig(path).rig
    assert rig is not None
    coupling, body, told = KINDS[kind]
    assert rig.alone == ("vehicle" if kind == "vehicle" else None)
    assert rig.alone or (rig.trailer.type, rig.trailer.body) == (coupling, body)
    text = path.read_text(encoding="utf-8")
    assert [one for one in told if f"    {one[0]}: {one[1]}\n" not in text] == []
    asked = re.findall(r": (?:unknown|\[\])(?=\s)", text)
    assert (len(asked) <= 30) is short
    assert (
        re.search(r"^ +#", text, re.M) is None
    ) is short  # one line for each answer, its comment at its end
    assert "[" not in re.sub(r"#.*|\[\]", "", text)  # lists stand in block style
    assert "{" not in re.sub(r"\{\}", "", text)


def test_of_nothing_there_is_no_file(empty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "Finch", "--kind", "vehicle", "--vehicle", "unknown"]) == 2
    assert "one of them has to be known" in capsys.readouterr().err
    assert list(empty.iterdir()) == []


def test_flags_win_over_the_kind(empty: Path) -> None:
    words = ["new", "Finch", "--kind", "horse", "--type", "gooseneck", "--body", "cargo"]
    assert main(words) == 0
    text = (empty / "rigs" / "finch.yaml").read_text(encoding="utf-8")
    assert "  type: gooseneck\n  body: cargo\n" in text
    assert "livestock: true" not in text


def test_the_maker_s_curb_weight_is_offered_where_its_law_holds(empty: Path) -> None:
    for name, market, there in (("One", "us", True), ("Two", "uk", False)):
        assert main(["new", name, "--market", market]) == 0
        text = (empty / "rigs" / f"{name.lower()}.yaml").read_text(encoding="utf-8")
        assert ("full fluids, no driver (49 CFR 571.3)" in text) is there


def test_bars_that_do_not_go_with_the_rig_are_said(empty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name, words in (("One", ["--market", "eu"]), ("Two", ["--type", "gooseneck"])):
        assert main(["new", name, "--bars", "yes", *words]) == 0
        assert "weight distribution is left out" in capsys.readouterr().err
    assert main(["new", "Three", "--bars", "yes"]) == 0
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize(("key", "code"), [("\x04", 2), ("\x03", 130)])
def test_leaving_halfway_writes_nothing(empty: Path, key: str, code: int) -> None:
    child = ask(empty, "Wren")
    child.expect("words, rules and units")
    for _ in range(int(PATIENCE)):  # what is sent while the terminal is being set up is lost
        child.send(key)
        if child.expect([pexpect.EOF, pexpect.TIMEOUT], timeout=1.0) == 0:
            break
    assert ended(child) == code
    assert list(empty.iterdir()) == []


def test_without_a_terminal_the_usual_answers_are_taken(
    empty: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "Finch"]) == 0
    told = capsys.readouterr()
    assert told.out == f"{Path('rigs/finch.yaml')}\n"
    assert told.err == ""
    text = (empty / "rigs" / "finch.yaml").read_text(encoding="utf-8")
    assert text.startswith("# yaml-language-server: $schema=rig.schema.json\n")
    assert (empty / "rigs" / "rig.schema.json").read_text(encoding="utf-8") == schema_text()
    assert read_rig(empty / "rigs" / "finch.yaml").rig is not None


@pytest.mark.parametrize("demo", DEMOS)
def test_a_copy_of_a_demo_rig_is_whole(empty: Path, demo: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", 'My: #1 "rig"', "--from", demo]) == 0
    made = empty / "rigs" / "my-1-rig.yaml"
    assert capsys.readouterr() == (f"{Path('rigs/my-1-rig.yaml')}\n", "")
    text = made.read_text(encoding="utf-8")
    assert text.startswith("# yaml-language-server: $schema=rig.schema.json\n")
    assert "invented" in text.splitlines()[1]
    copy, own = read_rig(made).rig, read_rig(ROOT / "rigs" / f"{demo}.yaml").rig
    assert copy is not None
    assert own is not None
    assert copy.nickname == 'My: #1 "rig"'
    assert (copy.trailer, copy.vehicle, copy.cases) == (own.trailer, own.vehicle, own.cases)


def test_parts_that_are_there_are_kept(empty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["new", "One", "--from", "heron"])
    part = empty / "rigs" / "parts" / "trailers" / "heron.yaml"
    part.write_text(part.read_text(encoding="utf-8") + "# mine\n", encoding="utf-8")
    capsys.readouterr()
    assert main(["new", "Two", "--from", "heron"]) == 0
    assert "heron.yaml' was there already" in capsys.readouterr().err
    assert part.read_text(encoding="utf-8").endswith("# mine\n")


def test_nothing_is_written_over(empty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["new", "Finch"])
    path = empty / "rigs" / "finch.yaml"
    path.write_text("mine", encoding="utf-8")
    (empty / "rigs" / "rig.schema.json").write_text("mine too", encoding="utf-8")
    assert main(["new", "Finch"]) == 5
    assert main(["new", "Finch", "--from", "otter"]) == 5
    assert main(["new", "Wren"]) == 0
    assert path.read_text(encoding="utf-8") == "mine"
    assert (empty / "rigs" / "rig.schema.json").read_text(encoding="utf-8") == "mine too"
    (empty / "rigs" / "gone.yaml").symlink_to(empty / "elsewhere.yaml")
    assert main(["new", "Gone"]) == 5
    assert not (empty / "elsewhere.yaml").exists()


@pytest.mark.parametrize("name", ["con", "", "  ", "a\nb: c", "a\x1b[31m", "\udcff"])
def test_nicknames_that_cannot_be_are_refused(
    empty: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", name]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert "nickname" in told.err
    assert list(empty.iterdir()) == []


def test_an_unknown_demo_is_named_with_the_nearest(empty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "Wren", "--from", "../otter"]) == 2
    assert main(["new", "Wren", "--from", "oter"]) == 2
    assert "did you mean 'otter'?" in capsys.readouterr().err
    assert list(empty.iterdir()) == []


def test_a_folder_that_cannot_be_written_is_said(empty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (empty / "rigs").write_text("a file", encoding="utf-8")
    assert main(["new", "Wren"]) == 5
    assert "cannot be" in capsys.readouterr().err


@pytest.mark.parametrize("market", ["us", "eu"])
def test_a_starter_builds(empty: Path, market: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "Finch", "--market", market]) == 0
    assert main(["build", "--html-only", "--jobs", "1", "--date", "2026-11-25"]) == 0
    page = (empty / "build" / "finch" / "use.html").read_text(encoding="utf-8")
    assert "not checked" in page.lower()
