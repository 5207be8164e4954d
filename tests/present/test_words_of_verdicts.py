"""What is said beside a verdict: of an empty trailer, of places that take nothing more, of limits nobody knows."""

from __future__ import annotations

from typing import Any

from pydantic import TypeAdapter

from cardgen.checklist.values import values
from cardgen.limits.room import rooms
from cardgen.model.results import Outcome
from cardgen.model.rig import Rig
from cardgen.present.asking import briefly
from cardgen.present.blocks import Steps
from cardgen.present.cards import pieces
from cardgen.present.cards.front import front, verdict
from cardgen.present.cards.loading import first_turned, room_left
from cardgen.present.page import Items
from cardgen.present.prepare import prepare
from cardgen.present.report_checks import verdict as page_verdict
from cardgen.present.report_scale import _remarks, envelope, remedies
from cardgen.present.rig_view import RigView
from tests.laws.documents import DAY
from tests.limits.bench import Changes, finding, rig, tree_of

BARE: dict[str, Any] = {"trailer.cargo": [], "cases.0.cargo": [], "cases.0.tanks": {"fresh": "empty"}}
FULL: Changes = {"trailer.gvwr": "2,500 lb"}  # below its empty weight and more: over by any loading
NEAR: Changes = {"trailer.gvwr": "2,950 lb"}


def view(changes: Changes | None = None) -> RigView:
    return prepare(rig(changes), DAY)


def test_an_empty_trailer_is_called_empty_whatever_the_verdict() -> None:
    for changes, outcome in ((BARE, Outcome.WITHIN), (BARE | {"trailer.gvwr": "2,700 lb"}, Outcome.CLOSE)):
        made = view(changes)
        assert made.assessment.outcome() is outcome
        told = [*pieces.banner(made).lines, *verdict(made).lines, *page_verdict(made).lines]
        assert sum("Nothing loaded is listed" in line for line in told) == 3
        assert pieces.cases(made).rows[0][0] == made.trailer == "Empty trailer"
    assert "Nothing loaded" not in " ".join(page_verdict(view()).lines)
    assert pieces.cases(view()).rows[0][0] == "Loaded trailer"


def test_a_place_that_takes_nothing_says_whether_the_limit_is_over_close_or_to_be_weighed() -> None:
    said = {}
    for name, changes in (("over", FULL), ("close", NEAR), ("within", {})):
        made = view(changes)
        said[name] = [first_turned(made, room) for room in rooms(made.assessment)]
        again = "until another limit" in room_left(made, rooms(made.assessment)).aside
        assert again is (name != "within")
    assert any(text.startswith("Over already") for text in said["over"])
    assert not any("eigh first" in text for text in said["over"])
    assert any(text.startswith(("Close already", "Weigh first")) for text in said["close"])
    assert not any("already" in text for text in said["within"])


def test_no_filling_is_cleared_of_limits_that_nobody_knows_or_that_are_left_already() -> None:
    about = {}
    for name, changes in (("known", {}), ("unknown", {"trailer.gvwr": None}), ("over", FULL)):
        made = envelope(view(changes))
        assert made is not None
        about[name] = made.about
    assert about == {
        "known": "no filling leaves a limit",
        "unknown": "not every limit is known",
        "over": "a limit is left already",
    }


def test_a_drop_without_squat_says_so_and_makes_nothing_level() -> None:
    level, open_ = view(), view({"vehicle.receiver.height_hitched": None})
    assert "squat" not in level.drop()[1]
    assert open_.drop()[1].endswith("squat not counted")
    assert values(level.assessment, "us")["drop_needed"] is not None
    assert values(open_.assessment, "us")["drop_needed"] is None


def test_what_is_short_names_its_limit_once() -> None:
    found = remedies(view(FULL))
    assert found is not None
    rows = [row for block in found.blocks if isinstance(block, Items) for row in block.rows]
    assert any("short" in row.text for row in rows)
    assert [row for row in rows if row.note and row.note.removeprefix("for ") in row.text] == []


ALONE = {"front": "3,160 lb", "rear": "2,200 lb"}
SWAPPED = {
    "alone": ALONE,
    "slack": {"front": "3,090 lb", "rear": "2,620 lb", "trailer": "2,600 lb"},
    "engaged": {"front": "2,940 lb", "rear": "2,900 lb", "trailer": "2,470 lb"},
}


def visit(**readings: Any) -> dict[str, Any]:
    """The bench rig with one weighing of its case."""
    return {"weighings": [{"date": "2026-10-03", "case": "out", "division": "10 lb", **readings}]}


def test_a_ticket_against_itself_is_no_limit_that_is_close() -> None:
    made = view(visit(**SWAPPED))
    codes = {f.code.rsplit("-", 1)[0] for f in made.weighty(Outcome.CLOSE)}
    assert codes == {"weighing-self-1"}
    told = verdict(made)
    assert "are close" not in told.title
    assert "ticket" in told.title
    assert all(len(line) < 80 for line in told.lines)


def test_an_over_of_an_old_weighing_is_not_called_computed() -> None:
    old = visit(alone={"front": "3,750 lb"}) | {"dates.equipment_change": "2026-11-01"}
    made = view(old)
    assert made.assessment.outcome() is Outcome.OVER
    assert not any("not weighed" in made.reckoned(brief=brief) for brief in (True, False))
    assert "not weighed" in view().reckoned()


def test_numbers_beside_a_weighing_that_sets_none_are_not_called_unweighed() -> None:
    """Only compared, before a change, against itself; and only a rig weighed whole is called weighed."""
    front, both = {"alone": {"front": "3,160 lb"}}, {"coupler": "347 lb", "trailer_alone": "2,880 lb"}
    whole = both | {"slack": {"front": "3,020 lb", "rear": "2,687 lb"}}
    said = {
        "compared": view(visit(**both, anchor=False)),
        "old": view(visit(**front) | {"dates.equipment_change": "2026-11-01"}),
        "swapped": view(visit(**SWAPPED)),
        "nothing": view(visit(jack="300 lb")),
        "half": view(visit(**both)),
        "whole": view(visit(**whole)),
    }
    assert {name: made.reckoned().replace("\N{NO-BREAK SPACE}", " ") for name, made in said.items()} == {
        "compared": "Computed; the weighing only compares.",
        "old": "Computed; weighed before equipment was changed.",
        "swapped": "Computed; the scale ticket contradicts itself.",
        "nothing": "Computed; the scale ticket tells no weight yet.",
        "half": "Weighed 3 Oct 2026; the rest is computed.",
        "whole": "Weighed 3 Oct 2026.",
    }
    assert all(len(made.reckoned(brief=True)) < 30 for made in said.values())


def test_what_the_scale_found_beyond_the_file_sits_on_the_trailer_or_nowhere() -> None:
    """More or less, in words; a mass that would have to sit beyond its ends is given no place."""
    found = {}
    for name, readings in {
        "more": {"coupler": "390 lb", "trailer_alone": "3,080 lb"},
        "less": {"coupler": "200 lb", "trailer_alone": "2,800 lb"},
        "same": {"coupler": "347 lb", "trailer_alone": "2,880 lb"},
    }.items():
        made = view(visit(**readings))
        (one,) = made.assessment.computed.weighings
        found[name] = (_remarks(made, one)[0], one.implied_x is not None)
    assert [placed for _, placed in found.values()] == [True, False, False]
    assert "more than the file lists" in found["more"][0]
    assert "less than the file lists" in found["less"][0]
    assert "agree within" in found["same"][0]
    assert not any("-" in said for said, _ in found.values())


def test_what_is_to_be_read_again_is_named() -> None:
    doubted = finding("vehicle-gross", {"vehicle.gvwr": "7,900 lb"})
    (named,) = {briefly(need) for need in doubted.needs}
    assert named == "{gross_vehicle}, read again (vehicle)"


def test_a_vehicle_alone_has_no_empty_trailer() -> None:
    tree = tree_of({"cases": [{"name": "out", "fuel": "full"}]})
    del tree["trailer"]
    made = prepare(TypeAdapter(Rig).validate_python(tree), DAY)
    assert made.rig.alone == "vehicle"
    assert "Nothing loaded" not in " ".join(page_verdict(made).lines)


def test_what_must_come_off_is_said_once_in_words() -> None:
    heavy: Changes = {
        "trailer.empty.tongue": "140 kg",
        "trailer.cargo_capacity": "20 kg",
        "trailer.cargo.0.movable": False,
        "vehicle.tow_rating.tongue": "40 kg",
    }
    made = prepare(rig(heavy, "teal"), DAY)
    (steps,) = (block for block in front(made).blocks if isinstance(block, Steps))
    (line,) = (row.text for row in steps.rows if row.text.endswith("nothing listed does it."))
    assert line.count("off the noseweight") == 1
    assert "the all" not in line
