"""Checks of weighings: against the file, against themselves, against the limits."""

from __future__ import annotations

from typing import Any

import pytest

from cardgen.model.results import Outcome
from tests.limits.bench import assessed, finding
from tests.physics.build import POUND


def visit(**readings: Any) -> dict[str, Any]:
    """The bench rig with one weighing of its case."""
    return {"weighings": [{"date": "2026-10-03", "case": "out", "division": "10 lb", **readings}]}


def test_agreeing_scale_is_silent() -> None:
    made = assessed(visit(coupler="347 lb", trailer_alone="2,880 lb"))
    assert not [f for f in made.findings if f.code.startswith("weigh")]


def test_scale_against_file() -> None:
    found = finding("weighing-file-1", visit(trailer_alone="3,200 lb"))
    assert found.outcome is Outcome.CLOSE
    assert not found.critical
    assert found.values["measured"][0] / POUND == pytest.approx(3200)
    assert found.values["extra"][0] / POUND == pytest.approx(3200 - 2883.3, abs=1)


def test_scale_against_itself() -> None:
    made = assessed(
        visit(coupler="350 lb", jack="500 lb", jack_behind_coupler="0 in", trailer_alone="2,880 lb")
    )
    assert any(f.code == "weighing-self-1-tongue_weight" for f in made.findings)


FIGURES: dict[str, tuple[dict[str, Any], float]] = {
    "trailer-gross": ({"trailer_alone": "3,700 lb"}, 3700),
    "hitch-tongue-coupler": ({"coupler": "700 lb"}, 700),
    "trailer-axle-1": ({"slack": {"trailer": "3,400 lb"}}, 3400),
    "vehicle-gross": ({"slack": {"front": "3,200 lb", "rear": "3,900 lb"}}, 7100),
}


def over(changes: dict[str, Any]) -> set[str]:
    """Codes of the checks that are over, whether by the figure that stands or by another reading."""
    return {f.code.removeprefix("weighed-") for f in assessed(changes).findings if f.outcome is Outcome.OVER}


@pytest.mark.parametrize("anchor", [True, False])
def test_weighed_over_counts_although_the_file_says_within(anchor: bool) -> None:
    """A heavier rig on the scale than in the file is never passed, whether it sets the numbers or not."""
    for code, (readings, pounds) in FIGURES.items():
        (found,) = [
            f
            for f in assessed(visit(**readings, anchor=anchor)).findings
            if f.code.removeprefix("weighed-") == code and f.outcome is Outcome.OVER
        ]
        assert found.critical, code
        assert found.demand is not None, code
        assert found.demand / POUND == pytest.approx(pounds), code
        assert found.code.startswith("weighed-") is not anchor, code


EVERY: dict[str, list[dict[str, Any]]] = {
    "vehicle-front-axle": [{s: {"front": "3,750 lb"}} for s in ("alone", "slack", "engaged")],
    "vehicle-rear-axle": [{s: {"rear": "4,050 lb"}} for s in ("alone", "slack", "engaged")],
    "trailer-axle-1": [
        {"slack": {"axles": ["3,250 lb"]}},
        {"engaged": {"axles": ["3,250 lb"]}},
        {"engaged": {"trailer": "3,250 lb"}},
        {"wheels": {"left 1": "1,700 lb", "right 1": "1,550 lb"}},
    ],
    "tire-load-trailer": [{"wheels": {"left 1": "2,100 lb"}}],
    "trailer-gross": [{"trailer_alone": "3,550 lb"}, {"slack": {"trailer": "3,550 lb"}}],
    "vehicle-gross": [{s: {"front": "3,400 lb", "rear": "3,700 lb"}} for s in ("alone", "slack", "engaged")],
    "combination": [
        {s: {"front": "3,600 lb", "rear": "3,900 lb", "trailer": "6,600 lb"}} for s in ("slack", "engaged")
    ],
}
"""Readings each past one rating of the bench rig, by the check that must see it."""


def test_every_reading_above_a_rating_is_over() -> None:
    """Whatever pass, axle, wheel or sum it is, setting the numbers or not, before a change of equipment or not."""
    missed = [
        (code, readings, more, changed)
        for code, many in EVERY.items()
        for readings in many
        for more in ({}, {"anchor": False})
        for changed in ({}, {"dates.equipment_change": "2026-11-01"})
        if code not in over(visit(**readings, **more) | changed)
    ]
    assert not missed


def test_a_later_partial_visit_hides_nothing() -> None:
    later: list[dict[str, Any]] = [
        {"jack": "300 lb", "jack_behind_coupler": "0 in"},
        {"alone": {"front": "2,900 lb"}},
        {"slack": {"front": "2,800 lb"}},
    ]
    hidden = []
    for code, many in EVERY.items():
        for readings in many:
            for more in later:
                first = {"date": "2026-09-01", "case": "out", **readings}
                second = {"date": "2026-10-03", "case": "out", **more}
                same = set(readings) & set(more)
                if not same and code not in over({"weighings": [first, second]}):
                    hidden.append((code, readings, more))
    assert not hidden


def test_the_scale_stands_in_its_case_and_moves_the_check_itself() -> None:
    changes = visit(trailer_alone="3,700 lb", coupler="450 lb")
    found = finding("trailer-gross", changes)
    assert found.outcome is Outcome.OVER
    assert found.demand is not None
    assert found.demand / POUND == pytest.approx(3700)
    assert "the worse of the two counts" in finding("weighing-file-1", changes).message


def test_the_worse_of_scale_and_file_counts_while_they_disagree() -> None:
    """A lighter scale does not clear what the file says, nor a heavier tongue a light one of the file."""
    lighter = visit(trailer_alone="2,500 lb", coupler="300 lb")
    gross = finding("trailer-gross", lighter)
    plain = finding("trailer-gross")
    assert gross.demand == pytest.approx(plain.demand)
    heavy = visit(trailer_alone="2,880 lb", coupler="480 lb")
    share = finding("tongue-share", heavy)
    assert share.interval is not None
    assert share.interval[0] < 0.13 < 0.16 < share.interval[1]


def test_what_was_weighed_is_not_sent_to_the_scale_again() -> None:
    """At a rating but for the scale's own error the words no longer ask for a weighing."""
    changes = visit(trailer_alone="2,880 lb", coupler="347 lb") | {"trailer.gvwr": "2,885 lb"}
    found = finding("trailer-gross", changes)
    assert found.outcome is Outcome.CLOSE
    assert "weigh it" not in found.message
    assert "weigh it" in finding("trailer-gross", {"trailer.gvwr": "2,885 lb"}).message


def test_a_newer_reading_of_the_very_figure_takes_the_place_of_an_old_one() -> None:
    old = {"date": "2024-05-01", "case": "out", "trailer_alone": "3,700 lb"}
    new = {"date": "2026-10-03", "case": "out", "trailer_alone": "2,880 lb"}
    for order in ([old, new], [new, old]):
        assert "trailer-gross" not in over({"weighings": order})


def test_a_weighing_before_a_change_of_equipment_clears_nothing() -> None:
    heavy = {"trailer.gvwr": "2,800 lb", **visit(trailer_alone="2,500 lb", coupler="300 lb")}
    assert (
        finding("trailer-gross", heavy).outcome is Outcome.OVER
    )  # by the file, which it does not agree with
    old = visit(trailer_alone="2,880 lb", coupler="347 lb") | {"dates.equipment_change": "2026-11-01"}
    assert finding("weighing-old-1", old).outcome is Outcome.CLOSE
    assert not any(f.weighed for c in assessed(old).computed.cases for f in c.figures.values())


def test_a_ticket_at_odds_with_itself_sets_nothing_and_is_told() -> None:
    swapped = {
        "alone": {"front": "3,160 lb", "rear": "2,200 lb"},
        "slack": {"front": "3,090 lb", "rear": "2,620 lb", "trailer": "2,600 lb"},
        "engaged": {"front": "2,940 lb", "rear": "2,900 lb", "trailer": "2,470 lb"},
    }
    sums = {
        "slack": {"front": "3,000 lb", "rear": "2,700 lb", "trailer": "2,540 lb"},
        "engaged": {"front": "3,000 lb", "rear": "2,700 lb", "trailer": "2,940 lb"},
    }
    for readings in (swapped, sums):
        made = assessed(visit(**readings))
        told = [f for f in made.findings if f.code.startswith("weighing-self-")]
        assert told
        assert all(f.critical and f.outcome is Outcome.CLOSE for f in told)
        assert not any(f.weighed for c in made.computed.cases for f in c.figures.values())
        assert not made.computed.weighings[0].anchors


def test_who_rode_on_the_scale_still_counts_on_the_placard() -> None:
    """People, vehicle cargo, and what the scale found beyond the file; never less than without the weighing."""
    alone = {"alone": {"front": "3,160 lb", "rear": "2,200 lb"}}
    before = finding("placard").demand
    assert before is not None
    listed = finding("placard", visit(**alone)).demand
    assert listed is not None
    assert listed >= before - 1e-6
    heavier = {"alone": {"front": "3,260 lb", "rear": "2,600 lb"}}
    more = finding("placard", visit(**heavier)).demand
    assert more is not None
    assert more > listed + 300 * POUND


BARE: dict[str, Any] = {
    "trailer.empty": {}, "vehicle.curb": {}, "trailer.tanks": {}, "trailer.cylinders": {}, "trailer.cargo": [],
    "trailer.axles.ball_to_center": None, "trailer.axles.track": None,
    "vehicle.wheelbase": None, "vehicle.overhang": None, "vehicle.fuel": None, "vehicle.seats": {},
    "occupants": [], "cases": [{"name": "out"}],
}  # fmt: skip


def test_a_ticket_and_the_labels_are_enough() -> None:
    """No length, place, tank or empty weight: one ticket gives every verdict that it can give."""
    ticket = visit(
        alone={"front": "3,160 lb", "rear": "2,200 lb"},
        slack={"front": "3,010 lb", "rear": "2,690 lb", "trailer": "2,540 lb"},
    )
    wanted = (
        "trailer-gross", "trailer-axle-1", "vehicle-gross", "vehicle-front-axle", "vehicle-rear-axle",
        "combination", "tow-rating", "hitch-tongue-coupler", "hitch-tongue-receiver", "tire-load-trailer",
        "tire-load-front", "tire-load-rear", "tongue-share",
    )  # fmt: skip
    made = {f.code: f.outcome for f in assessed(BARE | ticket).findings}
    assert not [code for code in wanted if made[code] is Outcome.NOT_CHECKED]
    other = BARE | ticket | {"cases": [{"name": "out"}, {"name": "back", "without": []}]}
    other["vehicle.fuel"] = {"kind": "gasoline", "capacity": "26 gal"}
    left = {f.code: f.outcome for f in assessed(other).findings}
    assert left["combination"] is Outcome.NOT_CHECKED  # the fuel of the other case is not told


def test_wheels_weighed_before_a_change_do_not_take_the_allowance_away() -> None:
    changes = visit(wheels={"left 1": "1,270 lb", "right 1": "1,270 lb"})
    now = assessed(changes).computed.tires["trailer"]
    old = assessed(changes | {"dates.equipment_change": "2026-11-01"}).computed.tires["trailer"]
    assert now.wheel_load == now.sure_load
    assert old.wheel_load is not None
    assert old.sure_load is not None
    assert old.wheel_load > old.sure_load


def test_label_room_puts_back_what_was_away_at_the_empty_weighing() -> None:
    """Weighed without its cylinder a trailer has less room than the weight alone tells; unknown is asked for."""
    at = {"trailer.cargo_capacity": "900 lb"}
    assert finding("label-room", at).outcome is Outcome.WITHIN
    assert (
        finding("label-room", at | {"trailer.empty.includes": {"without": ["left"]}}).outcome is Outcome.CLOSE
    )
    unknown = finding("label-room", at | {"trailer.empty.includes": {}})
    assert unknown.outcome is Outcome.NOT_CHECKED
    assert {n.path for n in unknown.needs} == {"trailer.empty.includes.cylinders.left"}


def test_label_sum_takes_the_tongue_of_a_full_trailer() -> None:
    """A light case's tongue is less than the part of the rating that rests on the vehicle."""
    tongue = next(c.figures["tongue_weight"].value for c in assessed().computed.cases) or 0.0
    share = next(c.figures["tongue_share"].value for c in assessed().computed.cases) or 0.0
    gvwr = (3200 + (tongue / POUND + share * 3500) / 2) // 1
    assert tongue / POUND < gvwr - 3200 < share * gvwr
    codes = {f.code for f in assessed({"trailer.gvwr": f"{gvwr:,.0f} lb"}).findings}
    assert "trailer-label-sum" not in codes


TANDEM: dict[str, Any] = {
    "trailer.axles.count": 2, "trailer.axles.gawr": ["1,600 lb", "1,600 lb"], "trailer.axles.spacing": "30 in",
    "trailer.axles.suspension": "equalized", "trailer.brakes.braked_axles": 2,
}  # fmt: skip


def test_a_newer_group_takes_the_place_of_an_old_share_but_not_of_an_axle_read_by_itself() -> None:
    def heavy(**readings: Any) -> set[str]:
        first = {"date": "2026-03-01", "case": "out", **readings}
        second = {"date": "2026-10-03", "case": "out", "slack": {"trailer": "2,540 lb"}}
        return {code for code in over(TANDEM | {"weighings": [first, second]}) if "trailer-axle" in code}

    assert "trailer-axle-1" in over(TANDEM | visit(slack={"trailer": "3,400 lb"}))
    assert not heavy(slack={"trailer": "3,400 lb"})
    assert heavy(slack={"axles": ["1,800 lb", "800 lb"]})


def test_what_was_weighed_again_is_no_longer_held_against_the_file() -> None:
    """Nor is it to be weighed again; a later ticket that sets nothing takes nothing away."""
    first = {"date": "2026-03-01", "case": "out", "trailer_alone": "3,200 lb"}
    again = {"date": "2026-10-03", "case": "out", "trailer_alone": "2,880 lb"}
    for later, changed, told in (
        ({}, {}, {"weighing-file-1"}),
        (again, {}, set[str]()),
        (again, {"dates.equipment_change": "2026-06-01"}, set[str]()),
        (again | {"anchor": False}, {}, {"weighing-file-1"}),
        (
            {"date": "2026-10-03", "case": "out", "alone": {"front": "2,980 lb"}},
            {"dates.equipment_change": "2026-06-01"},
            {"weighing-file-1", "weighing-old-1"},
        ),
    ):
        made = assessed({"weighings": [one for one in (first, later) if one]} | changed)
        codes = {f.code: f.message for f in made.findings if f.code.startswith("weighing-")}
        assert codes.keys() == told
        assert "the numbers are computed" not in codes.get("weighing-old-1", "")
