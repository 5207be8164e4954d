"""What a build may touch in the output folder, and what it leaves alone."""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path

import pytest

from cardgen.bundle.errors import OutputRefusedError
from cardgen.bundle.manifest import is_safe, is_slug
from cardgen.bundle.store import BadFileError, Stage, check_content
from tests.bundle.shed import Shed


def test_a_bad_rig_keeps_its_earlier_output_and_stops_nobody(shed: Shed) -> None:
    shed.rig("mule")
    shed.rig("wren")
    shed.build()
    before = shed.tree()
    shed.rig("mule", pressure="65")
    shed.rig("wren", pressure="65 psi")
    mule, wren = shed.build().rigs
    assert (mule.status, wren.status) == ("failed", "built")
    assert mule.faults[0].line == 11
    after = shed.tree()
    assert {n: s for n, s in after.items() if n.startswith("mule/")} == {
        n: s for n, s in before.items() if n.startswith("mule/")
    }
    assert b"mule 1 True" in (shed.out / "index.html").read_bytes(), "the page says it is an earlier one"
    shed.rig("mule")
    shed.build()
    assert b"mule 1 False" in (shed.out / "index.html").read_bytes()


def test_only_bad_rigs_write_nothing_at_all(shed: Shed) -> None:
    shed.rig("mule", pressure="65")
    assert shed.one().status == "failed"
    assert not shed.out.exists()
    assert not (shed.rigs / "revisions").exists()
    shed.out.mkdir()
    (shed.out / "mine.txt").write_text("x")
    shed.build()
    assert [one.name for one in shed.out.iterdir()] == ["mine.txt"]


@pytest.mark.parametrize(
    ("note", "what"),
    [("make a bug", "bug"), ("bad file", "bug"), ("system lacks", "missing"), ("does not fit", "problems")],
)
def test_what_the_maker_cannot_do_is_told_and_not_written(shed: Shed, note: str, what: str) -> None:
    shed.rig("mule", more=f"note: {note}\n")
    shed.rig("wren")
    mule, wren = shed.build().rigs
    assert (mule.status, wren.status) == ("failed", "built")
    assert getattr(mule, what)
    assert not (shed.out / "mule").exists()
    assert not shed.ledger_files("mule")


def test_what_could_be_made_without_the_engine_is_written_and_tried_again(shed: Shed) -> None:
    shed.rig("mule", more="note: no engine\n")
    for _ in range(2):
        rig = shed.one()
        assert (rig.status, rig.missing) == ("built", ("no print engine, so no PDF",))
    assert (shed.out / "mule" / "index.html").is_file()


def test_files_that_are_not_ours_are_left_alone(shed: Shed) -> None:
    shed.rig("mule")
    shed.rig("wren")
    shed.build()
    mine = {"notes.txt": "a", "mule/photo.jpg": "b", "other/x/index.html": "c", "wren/sub/y": "d"}
    for name, text in mine.items():
        (shed.out / name).parent.mkdir(parents=True, exist_ok=True)
        (shed.out / name).write_text(text)
    (shed.rigs / "wren.yaml").unlink()
    shed.rig("mule", pressure="65 psi")
    result = shed.build()
    assert result.removed == ["wren"]
    assert {name: (shed.out / name).read_text() for name in mine} == mine
    assert not (shed.out / "wren" / "index.html").exists()


def test_a_removed_rig_goes_with_its_folder(shed: Shed) -> None:
    shed.rig("mule")
    shed.rig("wren")
    shed.build()
    (shed.rigs / "wren.yaml").unlink()
    ledger = shed.ledger_files("wren")
    assert shed.build("mule").removed == [], "only a build of all rigs removes"
    assert shed.build().removed == ["wren"]
    assert not (shed.out / "wren").exists()
    assert b"wren" not in (shed.out / "index.html").read_bytes()
    assert shed.ledger_files("wren") == ledger, "if the rig comes back, so do its revisions"


def test_the_last_rig_goes_with_the_page_of_all_rigs(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    (shed.rigs / "wren.yaml").unlink()
    shed.build()
    assert shed.tree() == {}


def test_a_new_nickname_moves_the_output(shed: Shed) -> None:
    shed.rig("wren", "Wren")
    shed.build()
    shed.rig("wren", "Jenny Wren")
    result = shed.build()
    assert result.removed == ["wren"]
    assert sorted({name.split("/")[0] for name in shed.tree()}) == ["assets", "index.html", "jenny-wren"]


def test_two_rigs_may_swap_their_nicknames(shed: Shed) -> None:
    shed.rig("a", "Mule", pressure="65 psi")
    shed.rig("b", "Wren")
    shed.build()
    shed.rig("a", "Wren", pressure="65 psi")
    shed.rig("b", "Mule")
    assert [(rig.slug, rig.status) for rig in shed.build().rigs] == [("wren", "built"), ("mule", "built")]
    assert b"65 psi" in (shed.out / "wren" / "glovebox-card.pdf").read_bytes()


def test_two_rigs_of_one_name_are_both_refused(shed: Shed) -> None:
    shed.rig("a", "Wee Wren")
    shed.rig("b", "wee-wren!")
    shed.rig("c", "Mule")
    a, b, c = shed.build().rigs
    assert (a.status, b.status, c.status) == ("failed", "failed", "built")
    assert [one.faults[0].code for one in (a, b)] == ["nickname-taken"] * 2
    assert "b.yaml" in a.faults[0].message
    assert a.faults[0].line == 1
    assert not (shed.out / "wee-wren").exists()
    assert not shed.ledger_files("wee-wren")


def test_a_newcomer_cannot_take_a_name(shed: Shed) -> None:
    shed.rig("b", "Wren")
    shed.build()
    before = shed.tree()
    shed.rig("a", "Wren", pressure="65 psi")
    a, b = shed.build().rigs
    assert (a.status, b.status) == ("failed", "unchanged")
    assert shed.tree() == before
    assert shed.one("a").status == "failed", "also when the owner of the name is not built now"
    assert shed.tree() == before


def test_a_file_in_the_way_is_refused_and_force_writes_over_it(shed: Shed) -> None:
    (shed.out / "wren").mkdir(parents=True)
    mine = shed.out / "wren" / "index.html"
    mine.write_text("mine")
    shed.rig("wren")
    shed.rig("mule")
    with pytest.raises(OutputRefusedError, match=r"wren/index\.html.*--force"):
        shed.build()
    assert shed.tree().keys() == {"wren/index.html"}
    assert not (shed.rigs / "revisions").exists()
    shed.build(force=True)
    assert mine.read_text() != "mine"


def test_a_folder_in_the_way_is_refused_even_with_force(shed: Shed) -> None:
    (shed.out / "wren" / "index.html").mkdir(parents=True)
    shed.rig("wren")
    with pytest.raises(OutputRefusedError, match=r"index\.html"):
        shed.build(force=True)


def test_a_lost_manifest_can_be_built_over(shed: Shed) -> None:
    shed.rig("wren")
    shed.build()
    before = shed.tree()
    shutil.rmtree(shed.out / ".cardgen")
    shed.build()
    assert shed.tree() == before, "the very same files are taken over"
    shutil.rmtree(shed.out / ".cardgen")
    shed.rig("wren", pressure="65 psi")
    with pytest.raises(OutputRefusedError):
        shed.build()
    shed.build(force=True)


@pytest.mark.parametrize("name", ["wren", "wren/index.html", "index.html", "assets", ".cardgen"])
@pytest.mark.parametrize("force", [False, True])
def test_links_in_the_output_are_not_followed(shed: Shed, tmp_path: Path, name: str, force: bool) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    victim = outside / "victim.txt"
    victim.write_text("precious")
    target = victim if name.endswith(".html") else outside
    link = shed.out / name
    link.parent.mkdir(parents=True, exist_ok=True)
    link.symlink_to(target)
    shed.rig("wren")
    with pytest.raises(OutputRefusedError):
        shed.build(force=force)
    assert [one.name for one in outside.iterdir()] == ["victim.txt"]
    assert victim.read_text() == "precious"


def test_a_link_put_in_place_of_our_folder_is_not_followed(shed: Shed, tmp_path: Path) -> None:
    shed.rig("wren")
    shed.build()
    outside = tmp_path / "outside"
    shutil.move(shed.out / "wren", outside)
    (shed.out / "wren").symlink_to(outside)
    kept = sorted(one.name for one in outside.iterdir())
    (shed.rigs / "wren.yaml").unlink()
    shed.rig("mule")
    with pytest.raises(OutputRefusedError, match="link"):
        shed.build()
    assert sorted(one.name for one in outside.iterdir()) == kept


def test_the_output_folder_itself_may_be_a_link(shed: Shed, tmp_path: Path) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    shed.out.symlink_to(stick)
    shed.rig("wren")
    shed.build()
    assert (stick / "wren" / "index.html").is_file()
    assert [rig.status for rig in shed.build().rigs] == ["unchanged"]


def test_unsafe_names() -> None:
    names = [
        "../x", "/x", "a/../b", ".", "..", "a//b", "a/", "con", "aux.txt", "a\\b", "c:x", ".hidden", "a/.b", "x.",
        "é", "a/b/c/d/e/f/g", "", "a b",
    ]  # fmt: skip
    assert [name for name in names if is_safe(name)] == []
    for name in names:
        with pytest.raises(BadFileError, match="unsafe name"):
            check_content(name, b"x")


def test_safe_names() -> None:
    for name in ("index.html", "glovebox-card.pdf", "assets/fonts/a_b.woff2"):
        assert is_safe(name)
    assert is_slug("wee-bothy-2")
    assert not any(map(is_slug, ("index", "con", "..", "a/b", "A", "", "-a")))


def test_files_that_are_not_whole_are_not_staged(tmp_path: Path) -> None:
    wrong = [("a.pdf", b"%PDF-1.7 cut"), ("a.pdf", b"<html>"), ("a.html", b"<html>cut"), ("a.css", b"")]
    for name, data in wrong:
        with pytest.raises(BadFileError, match=name):
            Stage(tmp_path, {}).add(name, data)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "nickname",
    [
        "🚐🚐",
        "عربة صغيرة",
        "ＷＲＥＮ",
        "Wren" * 4,
        "a/../../b",
        "Straße & Söhne",
        "'--force'",
    ],
)
def test_any_nickname_gives_a_safe_folder(shed: Shed, nickname: str) -> None:
    path = shed.rig("wren")
    quoted = "'" + nickname.replace("'", "''") + "'"
    path.write_text(path.read_text("utf-8").replace("nickname: Wren", f"nickname: {quoted}"), "utf-8")
    rig = shed.one()
    assert (rig.status, rig.nickname) == ("built", nickname)
    assert is_slug(rig.slug)
    assert sorted({name.split("/")[0] for name in shed.tree()}) == sorted({"assets", "index.html", rig.slug})
    assert len(shed.ledger_files(rig.slug)) == 1
    assert shed.one().status == "unchanged"


@pytest.mark.parametrize("stem", ["wren é 🚐", "a b", "-x", "x" * 200, "name:colon", "quote'"])
def test_any_name_of_a_rig_file_will_do(shed: Shed, stem: str) -> None:
    shed.rig(stem, "Wren")
    assert [shed.one().status for _ in range(2)] == ["built", "unchanged"]


@pytest.mark.parametrize(
    ("first", "second"),
    [("2026-12-31", "2027-01-01"), ("2024-02-29", "2025-02-28"), ("0001-01-01", "9999-12-31")],
)
def test_days_at_the_ends_of_the_calendar(shed: Shed, first: str, second: str) -> None:
    shed.rig("wren", more="dates:\n  registration: 2027-01-01\n")
    days = [dt.date.fromisoformat(day) for day in (first, second)]
    shed.build(day=days[0])
    shed.rig("wren", drop="6 in")
    rig = shed.one(day=days[1])
    assert (rig.number, rig.day) == (2, second)
    assert shed.one(day=days[0]).number == 2


def test_a_shared_part_that_changed_names_its_rigs_and_marks_those_not_built(shed: Shed) -> None:
    shed.rig("wren")
    shed.rig("mule")
    first = shed.build()
    assert (first.parts, first.behind) == ({}, {})
    plain = (shed.out / "mule" / "index.html").read_bytes()
    shed.part("wheelbase: 121 in")
    result = shed.build("wren")
    assert result.parts == {"vehicles/plain": ["Mule", "Wren"]}
    assert list(result.behind) == ["Mule"]
    assert b"<li>mule 1 False vehicles/plain</li>" in (shed.out / "index.html").read_bytes()
    assert b"vehicles/plain changed" in (shed.out / "mule" / "index.html").read_bytes()
    assert b"behind" not in (shed.out / "wren" / "index.html").read_bytes()
    again = shed.build("wren")
    assert (list(again.behind), again.written) == (["Mule"], 0)
    assert shed.build("mule").behind == {}
    assert b"vehicles/plain" not in (shed.out / "index.html").read_bytes()
    assert (shed.out / "mule" / "index.html").read_bytes() == plain
