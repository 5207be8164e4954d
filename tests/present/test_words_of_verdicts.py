"""What is said beside a verdict: of an empty trailer, of places that take nothing more, of limits nobody knows."""

from __future__ import annotations

import re
from typing import Any

from pydantic import TypeAdapter

from cardgen.checklist.values import values
from cardgen.limits.room import rooms
from cardgen.model.results import Outcome
from cardgen.model.rig import Rig
from cardgen.present.asking import briefly
from cardgen.present.blocks import KeyNumber, KeyNumbers, Steps, Table
from cardgen.present.cards import pieces
from cardgen.present.cards.front import front, gauges, verdict
from cardgen.present.cards.loading import first_turned, room_left
from cardgen.present.cards.wallet import card as wallet
from cardgen.present.format import NEAR as AS_NEAR
from cardgen.present.format import NOT_CHECKED
from cardgen.present.index import numbers as index_numbers
from cardgen.present.page import Items
from cardgen.present.prepare import prepare
from cardgen.present.report import keys
from cardgen.present.report_checks import allowed
from cardgen.present.report_checks import verdict as page_verdict
from cardgen.present.report_scale import _remarks, envelope, remedies
from cardgen.present.report_scale import visit as told_visit
from cardgen.present.report_wiring import labels
from cardgen.present.rig_view import RigView
from tests.laws.documents import DAY
from tests.limits.bench import Changes, finding, rig, tree_of
from tests.physics.build import POUND

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


def test_a_largest_trailer_that_is_not_known_says_what_to_read() -> None:
    (table,) = allowed(view({"trailer.gvwr": None}))
    assert isinstance(table, Table)
    assert "not checked; measure or read: gross vehicle weight rating (trailer)" in table.note
    assert "by what is known no more than" in table.note


def test_a_proposal_says_that_what_was_weighed_stands() -> None:
    light = {"trailer.gvwr": "2,860 lb"}
    weighed = light | {"weighings": [{"date": "2026-10-01", "case": "out", "trailer_alone": "3,060 lb"}]}
    told = [remedies(view(changes)) for changes in (light, weighed)]
    hints = ["" if one is None else one.hint for one in told]
    assert all("put into the computation" in hint for hint in hints)
    assert ["“out” stands until it is weighed anew" in hint for hint in hints] == [False, True]


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
    assert "more than the file says" in found["more"][0]
    assert "less than the file says" in found["less"][0]
    assert "as far as the scale can tell" in found["same"][0]
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


def why(made: RigView) -> dict[str, tuple[str, ...]]:
    """The reasons on the front of a rig that is over, by their name, and what to do, by its number."""
    face = front(made).blocks
    rows = {
        row[0]: row
        for block in face
        if isinstance(block, Table) and block.title == "Why"
        for row in block.rows
    }
    steps = {row.mark: (row.text,) for block in face if isinstance(block, Steps) for row in block.rows}
    return rows | steps


def test_every_reason_has_a_cure_and_every_cure_says_what_to_do() -> None:
    """A caravan past its plate whatever may be moved, one that is past it empty, and parts that do not fit."""
    stuck: Changes = {
        "trailer.gvwr": "1,020 kg",
        "trailer.cargo_capacity": "20 kg",
        "trailer.cargo.0.movable": False,
    }
    empty: Changes = {
        "trailer.gvwr": "990 kg",
        "trailer.cargo_capacity": None,
        "trailer.cargo": [],
        "cases.0.cargo": [],
    }
    heavy: Changes = {
        "trailer.gvwr": "1,100 kg",
        "trailer.cargo_capacity": "100 kg",
        "trailer.cargo.0.weight": "130 kg",
    }
    cases = {
        "40 kg off the loaded trailer: nothing listed does it.": (stuck, "teal"),
        "10 kg off the loaded trailer: nothing listed does it.": (empty, "teal"),
        "Leave 'boxes' (130 kg) at home. Cures all.": (heavy, "teal"),
        "Fit a towbar with a plate of 8.18 kN or more: put this right first.": (
            {"vehicle.receiver.d_value": "6 kN"},
            "teal",
        ),
        "Fit trailer tires that cover the GAWR: put this right first.": (
            {"trailer.tires.max_load": "1,500 lb"},
            "fern",
        ),
        "Ball 2 5/16 in does not fit coupler 2 in: put this right first.": (
            {"gear.ball.diameter": "2 5/16 in"},
            "fern",
        ),
    }
    for words, (changes, base) in cases.items():
        found = why(prepare(rig(changes, base), DAY))
        assert (words,) in [tuple(text.replace("\u00a0", " ") for text in row) for row in found.values()], (
            found
        )
        assert not [row for row in found.values() if row[-1] in ("", "-")]
        assert not [row for row in found.values() if any(cell.startswith("-") for cell in row)]


def test_what_cures_one_limit_is_told_for_the_other_it_cures() -> None:
    made = prepare(rig({"trailer.cargo_capacity": "40 kg"}, "teal"), DAY)
    kinds = {one.kind for one in made.assessment.remedies["trailer-cargo-label"]}
    assert kinds - {"short", "weigh"}


def test_the_least_of_a_band_is_never_above_its_most() -> None:
    show = view().formatter
    for low in range(90, 480, 7):
        for span in (0.0, 0.2, 0.9, 3.0, 9.0, 30.0):
            least, most = show.ends(low * POUND, (low + span) * POUND)
            assert least == AS_NEAR or low <= float(least) <= float(most) <= low + span
            assert float(most) <= low + span
    (row,) = gauges(view({"vehicle.tow_rating.tongue": "250 lb"})).rows
    assert (row.low, row.high) == (AS_NEAR, "250")


def test_a_largest_weight_says_whose_it_is_where_scale_and_file_differ() -> None:
    lighter, heavier = (view(visit(trailer_alone=f"{n} lb")) for n in ("2,500", "3,200"))
    assert lighter.spread("trailer_weight").endswith("by the rig file; by the scale 2,500\u00a0lb")
    assert heavier.spread("trailer_weight").endswith("weighed 3\u00a0Oct\u00a02026")
    assert "rig file" not in view().spread("trailer_weight")
    assert values(lighter.assessment, "us")["trailer_weight"] == lighter.shown("trailer_weight_max")


def test_a_weighing_tells_how_the_trailer_differs_in_words() -> None:
    for pounds, words in (
        ("2,500", "less than the file says"),
        ("3,200", "more than the file says"),
        ("2,880", "weighs what the file says"),
    ):
        made = view(visit(trailer_alone=f"{pounds} lb", coupler="360 lb"))
        table, remarks = told_visit(made, made.assessment.computed.weighings[0])
        assert any(words in text for text in remarks), remarks
        assert not any("-" in text.replace("rig-file", "") for text in remarks[:1])
        assert not [
            row for row in table.rows if row[3][:1] in "+−" and not any(c in "123456789" for c in row[3])
        ]


def test_over_of_one_weighing_is_not_dated_by_another() -> None:
    other = {
        "date": "2026-11-02",
        "case": "out",
        "division": "10 lb",
        "coupler": "350 lb",
        "trailer_alone": "2,880 lb",
    }
    past = {
        "date": "2026-10-03",
        "case": "out",
        "division": "10 lb",
        "alone": {"front": "3,750 lb"},
        "anchor": False,
    }
    made = view({"weighings": [past, other]})
    assert [f.code for f in made.outcome(Outcome.OVER)] == ["weighed-vehicle-front-axle"]
    assert made.reckoned().startswith("What is over was weighed")
    assert any("then weigh again" in row[0] for row in why(made).values())


def test_a_number_that_is_not_known_has_nothing_beside_it() -> None:
    bare = view({"trailer.empty.weight": None, "trailer.empty.tongue": None, "vehicle.placard": None})
    told = [(one.value, one.note) for one in keys(bare).rows if one.value == NOT_CHECKED]
    assert told
    assert not [note for _, note in told if note.startswith(NOT_CHECKED) or "of the trailer" in note]
    assert page_verdict(bare).title.split(": ")[1].split()[0] == str(
        1
        + int(
            next(line for line in page_verdict(bare).lines if line.startswith("Not checked")).rsplit("+", 1)[
                1
            ]
        )
    )


def test_things_that_stay_at_home_load_no_trailer() -> None:
    made = view({"cases.0.cargo": [], "cases.0.tanks": {"fresh": "empty"}})
    assert made.trailer == "Empty trailer"
    both = [index_numbers({row.label: row.value for row in wallet_numbers(one)}) for one in (made, view())]
    assert [[name for name, _ in row] for row in both] == [["Tongue weight", "Trailer", "Tires"]] * 2
    assert both[0][1][1].endswith(", empty")


def wallet_numbers(made: RigView) -> tuple[KeyNumber, ...]:
    """The numbers of the wallet card, which the page of all rigs shows some of."""
    (block,) = (one for one in wallet(made).faces[0].blocks if isinstance(one, KeyNumbers))
    return block.rows


def test_an_animal_is_not_carried_in_part() -> None:
    mare = {"name": "mare", "weight": "1,150 lb", "x": "12 ft", "y": "0 in", "set": "trip"}
    made = view({"trailer.body": "horse", "trailer.cargo": [mare]})
    found = [one.text for some in made.assessment.remedies.values() for one in some]
    assert made.outcome(Outcome.OVER)
    assert found
    assert not [text for text in found if "of 'mare'" in text or "taken evenly" in text]


def test_what_is_used_up_is_told_as_over_and_never_below_nothing() -> None:
    made = view({"trailer.cargo_capacity": "100 lb", "vehicle.placard_capacity": "300 lb"})
    table = labels(made)
    assert table is not None
    shown = [row[1] for row in table.rows]
    assert [text for text in shown if text.startswith("-")] == []
    assert any(text.endswith(" over") for text in shown)


def test_what_is_not_stated_is_not_said_to_be_missing() -> None:
    """A file says nothing of the spare: so does every line on it."""
    made = view({"trailer.spare": None})
    told = [item.text for item in made.checklist.lines() if "spare" in item.text.lower()]
    assert told
    assert not [text for text in told if re.search(r"(?i)there is no|no spare aboard", text)]


def test_the_weakest_link_is_the_one_that_the_largest_trailer_stands_on() -> None:
    """What the coupling bears is full sooner as loaded now, and is no rating of the trailer: it is not the bold row."""
    made = prepare(rig({"vehicle.receiver.weight_carrying.tongue": "300 lb"}, "fern"), DAY)
    (table,) = allowed(made)
    assert isinstance(table, Table)
    (bold,) = table.strong
    assert table.rows[0][0].endswith("tongue")
    assert table.rows[bold][1] == made.shown("allowed_trailer")
