"""The owner's own items, replacements and removals."""

from __future__ import annotations

from cardgen.checklist.catalog import catalog
from cardgen.checklist.changes import problems
from cardgen.checklist.features import features
from cardgen.checklist.select import build
from cardgen.checklist.types import Checklist
from cardgen.checklist.views import for_departure
from cardgen.model.rig import ChecklistChanges, OwnItem, Rig
from tests.checklist.rigs import ball_rig, camper, change
from tests.each import each


def rig(**changes: object) -> Rig:
    return change(camper(), checklist=ChecklistChanges(**changes))  # type: ignore[arg-type]  # by test


def made(changed: Rig) -> Checklist:
    return build(changed, features(changed), {}, None)


def test_a_sound_file_has_no_problems() -> None:
    own = OwnItem(phase="hitching", text="Wave to Ada", why="She waves back")
    assert problems(rig(add=(own,), replace={"awning": "Roll it in"}, remove={"wind": "inland"})) == []
    assert problems(camper()) == []


@each(
    ("changes", "path", "message", "hint"),
    [
        ({"remove": {"ball-sise": "no"}}, "checklist.remove.ball-sise", "not the id", "'ball-size'"),
        ({"replace": {"awnings": "x"}}, "checklist.replace.awnings", "not the id", "'awning'"),
        ({"remove": {"zzzzzz": "no"}}, "checklist.remove.zzzzzz", "not the id", "cardgen explain"),
        ({"remove": {"chock": "  "}}, "checklist.remove.chock", "safety-critical", "reason"),
        ({"remove": {"wind": ""}}, "checklist.remove.wind", "without a reason", "reason"),
        ({"replace": {"wind": " "}}, "checklist.replace.wind", "empty", "remove"),
        (
            {"replace": {"wind": "x"}, "remove": {"wind": "y"}},
            "checklist.replace.wind",
            "replaced and",
            "one",
        ),
        ({"add": (OwnItem(phase="hitchin", text="x"),)}, "checklist.add[0].phase", "phase", "'hitching'"),
        ({"add": (OwnItem(phase="qqq", text="x"),)}, "checklist.add[0].phase", "phase", "walk_around"),
        ({"add": (OwnItem(phase="hitching", text=" "),)}, "checklist.add[0].text", "no text", "write"),
        (
            {"add": (OwnItem(phase="hitching", text="x" * 45, safety=True),)},
            "checklist.add[0].text",
            "45 char",
            "few",
        ),
        ({"replace": {"chock": "x" * 45}}, "checklist.replace.chock", "holds 44", "few"),
    ],
)
def test_each_fault_names_its_field_and_what_to_write(
    changes: dict[str, object], path: str, message: str, hint: str
) -> None:
    found = [p for p in problems(rig(**changes)) if p.path == path]
    assert len(found) == 1
    assert message in found[0].message
    assert hint in found[0].hint


def test_a_long_text_is_a_fault_only_where_its_line_is_short() -> None:
    long = "Wave to Ada on the porch until she has waved back at you"
    own = (OwnItem(phase="hitching", text=long), OwnItem(phase="emergency", text=long, safety=True))
    assert problems(rig(add=own, replace={"wind": long})) == []


def test_all_faults_come_at_once() -> None:
    bad = OwnItem(phase="nowhere", text="")
    assert len(problems(rig(add=(bad, bad), replace={"a": ""}, remove={"b": ""}))) == 8


def test_faulty_changes_are_not_applied() -> None:
    plain = [line.id for line in made(camper()).lines()]
    odd = rig(add=(OwnItem(phase="nowhere", text="x"),), replace={"chock": " "}, remove={"chock": ""})
    assert [line.id for line in made(odd).lines()] == plain
    assert made(odd).removed == ()


def test_own_items_come_last_but_before_the_closing_lines() -> None:
    own = OwnItem(phase="walk_around", text="Feed the cat", why="It bites")
    lines = next(p for p in made(rig(add=(own,))).phases if p.key == "walk_around").items
    names = [line.id for line in lines]
    assert names[-3:] == ["own-1", "touch-again", "chocks-out"]
    line = lines[-3]
    assert (line.text, line.why, line.own, line.severity) == ("Feed the cat", "It bites", True, "important")
    assert line.every == ("every_tow",)
    assert line.source_words == ("the owner's own item",)


@each("phase", [p.key for p in catalog().scheme.phases])
def test_own_items_reach_every_phase_even_an_empty_one(phase: str) -> None:
    changed = change(
        ball_rig(), checklist=ChecklistChanges(add=(OwnItem(phase=phase, text="x", safety=True),))
    )
    lines = [line for p in made(changed).phases if p.key == phase for line in p.items if line.own]
    assert len(lines) == 1
    assert lines[0].safety
    assert set(lines[0].every) <= set(catalog().scheme.frequencies)
    assert (lines[0].mode == "tell") is (phase == "handover")


def test_own_items_of_a_departure_are_on_the_card() -> None:
    changed = rig(add=(OwnItem(phase="inside", text="Latch the piano"),))
    shown = {line.id for phase in for_departure(made(changed), tier=1) for line in phase.items}
    assert "own-1" in shown


def test_a_replaced_item_keeps_everything_but_its_text() -> None:
    before = {line.id: line for line in made(camper()).lines()}["chock"]
    after = {line.id: line for line in made(rig(replace={"chock": "Both red blocks"})).lines()}["chock"]
    assert after.text == "Both red blocks"
    assert after.replaced
    assert (after.severity, after.why, after.seen) == (before.severity, before.why, before.seen)


def test_a_removed_item_is_listed_with_its_reason() -> None:
    checklist = made(rig(remove={"ball-size": "welded ball", "transom": "no boat", "wind": "inland"}))
    assert "ball-size" not in {line.id for line in checklist.lines()}
    removed = {entry.id: entry for entry in checklist.removed}
    assert set(removed) == {"ball-size", "wind"}
    assert removed["ball-size"].reason == "welded ball"
    assert removed["ball-size"].severity == "safety_critical"
    assert "{" not in removed["ball-size"].text
