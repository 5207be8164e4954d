"""Views: which lines go on which card, and the handover sheet in its two forms."""

from __future__ import annotations

from cardgen.checklist import select
from cardgen.checklist.catalog import catalog
from cardgen.checklist.features import features
from cardgen.checklist.select import build
from cardgen.checklist.types import Checklist, PhaseList
from cardgen.checklist.views import (
    for_arrival,
    for_borrower,
    for_delivery,
    for_departure,
    for_emergency,
    for_road,
    for_season,
)
from cardgen.model.rig import Rig
from tests.checklist.rigs import boat, camper, caravan, pool, travel_trailer, unknown_rig
from tests.each import each


def made(rig: Rig) -> Checklist:
    return build(rig, features(rig), {}, None)


def ids(phases: tuple[PhaseList, ...]) -> list[str]:
    return [line.id for phase in phases for line in phase.items]


@each("rig", pool())
def test_every_line_is_in_some_view(rig: Rig) -> None:
    checklist = made(rig)
    seen = set(
        ids(for_departure(checklist, 3)) + ids(for_road(checklist, 3)) + ids(for_arrival(checklist, 3))
    )
    seen |= set(ids(for_emergency(checklist, 3)) + ids(for_season(checklist)))
    seen |= set(ids(for_borrower(checklist)) + ids(for_delivery(checklist)))
    assert {line.id for line in checklist.lines()} == seen


def test_departure_is_what_every_tow_needs() -> None:
    checklist = made(travel_trailer())
    phases = for_departure(checklist)
    assert all("every_tow" in line.every for phase in phases for line in phase.items)
    assert [phase.key for phase in phases] == [p.key for p in checklist.phases][: len(phases)]
    assert phases[-1].key == "drivers_seat"


def test_arrival_of_a_boat_includes_the_ramp() -> None:
    assert [phase.key for phase in for_arrival(made(boat()))] == ["arrival_unhitching", "boat_ramp"]
    assert [phase.key for phase in for_arrival(made(camper()))] == ["arrival_unhitching", "setting_up"]


def test_the_borrowers_sheet_asks_shows_tells_and_ends_with_the_signature() -> None:
    phases = for_borrower(made(caravan()))
    assert [phase.key for phase in phases] == [
        "handover-confirm",
        "handover-show",
        "handover-tell",
        "handover-emergency",
        "handover-on_the_road",
        "handover-sign",
    ]
    assert [line.id for line in phases[-1].items] == ["lend-sign"]
    for phase in phases[:3]:
        assert {line.mode for line in phase.items} == {phase.key.removeprefix("handover-")}
    assert "sway-first" in ids(phases)
    assert "stop-call" in ids(phases)
    assert "lend-settings" in ids(phases)
    assert not any(name.startswith("deliver-") for name in ids(phases))


def test_the_delivery_form_is_the_same_sheet_for_a_new_owner() -> None:
    checklist = made(caravan())
    lent, delivered = set(ids(for_borrower(checklist))), set(ids(for_delivery(checklist)))
    assert "deliver-sign" in delivered
    assert "deliver-labels" in delivered
    assert lent - delivered == {"lend-sign", "lend-settings", "lend-return"}
    assert delivered - lent == {
        "deliver-labels", "deliver-retorque", "deliver-manuals", "deliver-service", "deliver-sign",
    }  # fmt: skip


def test_season_holds_what_no_tow_asks_for() -> None:
    names = ids(for_season(made(camper())))
    assert "tires-date" in names
    assert "season-bearings" in names
    assert "breakaway-test" in names
    assert "chock" not in names


def test_views_of_an_empty_checklist_are_empty() -> None:
    empty = Checklist(())
    for view in (for_departure, for_road, for_arrival, for_emergency):
        assert view(empty) == ()
    assert for_borrower(empty) == for_delivery(empty) == for_season(empty) == ()


def test_views_are_offered_where_the_list_is_made() -> None:
    assert select.for_departure is for_departure
    assert set(select.__all__) >= {"build", "for_arrival", "for_borrower", "for_delivery", "for_emergency"}


def test_hand_signals_begin_with_stop() -> None:
    signals = catalog().hand_signals
    assert signals[0].meaning == "stop"
    assert len({signal.sign for signal in signals}) == len(signals)


def test_marks_survive_in_views() -> None:
    marked = [line for phase in for_departure(made(unknown_rig())) for line in phase.items if line.if_fitted]
    assert {"chains-cross", "gas-valves"} <= {line.id for line in marked}
