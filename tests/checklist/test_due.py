"""What is due: a pure function of dates, year ends, leap days and week 53 included."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from cardgen.checklist.due import add_months, due_list
from cardgen.checklist.features import features
from cardgen.checklist.select import build
from cardgen.checklist.types import Due
from cardgen.checklist.views import due_frequencies, for_departure
from cardgen.model.rig import Dates, Limits, Preferences, Rig
from cardgen.model.tires import Spare, Tire
from cardgen.model.vehicle import AxleTires
from tests.checklist.rigs import ball_rig, camper, change, q
from tests.each import each

DAY = dt.date(2026, 11, 25)


def due(rig: Rig, key: str, day: dt.date = DAY) -> Due:
    return {entry.key: entry for entry in due_list(rig, features(rig), day)}[key]


def dated(**dates: dt.date) -> Rig:
    return change(camper(), dates=Dates(**dates))


def tired(code: str | None, **limits: object) -> Rig:
    rig = change(camper(), trailer__tires=Tire(date_code=code))
    return change(rig, limits=replace(Limits(), **limits)) if limits else rig  # type: ignore[arg-type]  # one field


@each(
    ("start", "months", "expected"),
    [
        ("2024-02-29", 12, "2025-02-28"),
        ("2024-02-29", 48, "2028-02-29"),
        ("2025-12-31", 2, "2026-02-28"),
        ("2025-12-31", 12, "2026-12-31"),
        ("2026-01-31", 1, "2026-02-28"),
        ("2026-11-30", 3, "2027-02-28"),
        ("2026-12-01", 1, "2027-01-01"),
    ],
)
def test_months_reach_over_years_and_leap_days(start: str, months: int, expected: str) -> None:
    assert add_months(dt.date.fromisoformat(start), months) == dt.date.fromisoformat(expected)


@given(st.dates(dt.date(2000, 1, 1), dt.date(2090, 1, 1)), st.integers(1, 130))
def test_months_are_neither_lost_nor_won(start: dt.date, months: int) -> None:
    later = add_months(start, months)
    assert (later.year - start.year) * 12 + later.month - start.month == months
    assert later.day <= start.day


@each(
    ("last", "state", "since", "until"),
    [
        ("2025-11-25", "due", "2026-11-25", None),
        ("2025-11-26", "good", None, "2026-11-26"),
        ("2024-02-29", "due", "2025-02-28", None),
        ("2026-11-25", "good", None, "2027-11-25"),
        ("2026-11-26", "unknown", None, None),
    ],
)
def test_an_interval_ends_on_its_day(last: str, state: str, since: str | None, until: str | None) -> None:
    entry = due(dated(bearing_service=dt.date.fromisoformat(last)), "bearings")
    assert entry.state == state
    assert entry.since == (dt.date.fromisoformat(since) if since else None)
    assert entry.until == (dt.date.fromisoformat(until) if until else None)
    assert entry.interval == "1 year"
    assert entry.items == ("season-bearings",)
    assert (entry.note == "the date lies after the build date") is (state == "unknown")


def test_a_missing_date_is_unknown_and_names_its_field() -> None:
    for key in (
        "bearings",
        "brakes",
        "battery",
        "lp-hose",
        "lp-check",
        "cylinder-test",
        "registration",
        "idle",
    ):
        entry = due(camper(), key)
        assert (entry.state, entry.since, entry.until) == ("unknown", None, None)
        assert entry.path.startswith("dates.")
        assert hasattr(Dates(), entry.path.removeprefix("dates."))
        assert entry.basis


def test_nothing_is_asked_about_gear_that_is_not_there() -> None:
    rig = change(ball_rig(), trailer__spare=None)
    keys = {entry.key for entry in due_list(rig, features(rig), DAY)}
    assert keys == {"idle", "bearings", "registration", "tires-trailer"}


def test_idle_weeks_are_the_owners_or_four() -> None:
    towed = dt.date(2026, 10, 28)
    assert due(dated(last_tow=towed), "idle").since == dt.date(2026, 11, 25)
    assert due(dated(last_tow=towed + dt.timedelta(1)), "idle").state == "good"
    rig = change(dated(last_tow=towed), preferences=Preferences(idle=q("6 weeks", "duration")))
    entry = due(rig, "idle")
    assert (entry.state, entry.until) == ("good", dt.date(2026, 12, 9))
    assert entry.basis == ("the owner's own limit",)
    assert due(dated(last_tow=towed), "idle").basis == ("common practice, no source",)


@each(
    ("changed", "towed", "state"),
    [
        ("2026-11-20", "2026-11-01", "due"),
        ("2026-11-20", "2026-11-20", "due"),
        ("2026-11-20", "2026-11-21", "good"),
        ("2026-11-20", None, "due"),
        ("2026-12-20", "2026-11-21", "unknown"),
    ],
)
def test_a_change_is_due_until_the_next_tow(changed: str, towed: str | None, state: str) -> None:
    dates = {"equipment_change": dt.date.fromisoformat(changed)}
    if towed:
        dates["last_tow"] = dt.date.fromisoformat(towed)
    assert due(dated(**dates), "change").state == state


def test_without_a_change_nothing_is_said_of_it() -> None:
    assert "change" not in {entry.key for entry in due_list(camper(), features(camper()), DAY)}


@each(("market", "asked"), [("us", True), ("nz", True), ("uk", False), ("eu", False)])
def test_a_registration_that_does_not_run_out_is_asked_of_nobody(market: str, asked: bool) -> None:
    for rig, told in ((dated(), asked), (dated(registration=DAY), True)):
        here = change(rig, market=market)
        keys = {entry.key for entry in due_list(here, features(here), DAY)}
        assert ("registration" in keys) is told


def test_registration_is_due_on_its_day() -> None:
    assert due(dated(registration=DAY), "registration").state == "due"
    entry = due(dated(registration=DAY + dt.timedelta(1)), "registration")
    assert (entry.state, entry.until, entry.note) == ("good", DAY + dt.timedelta(1), "")


@each(
    ("code", "made"),
    [
        ("5320", "2020-12-28"),  # 2020 has a week 53
        ("5315", "2015-12-28"),  # so has 2015
        ("0121", "2021-01-04"),  # its week 1 begins on the fourth
        ("0120", "2019-12-30"),  # week 1 of 2020 begins in 2019
        ("2318", "2018-06-04"),
    ],
)
def test_week_codes_at_the_turn_of_the_year(code: str, made: str) -> None:
    """ISO 8601: the week with the year's first Thursday is week 1; checked with a calendar."""
    entry = due(tired(code), "tires-trailer")
    assert entry.last == dt.date.fromisoformat(made)
    assert entry.last.weekday() == 0


@each("code", ["0020", "5420", "20", "abcd", "12345", "٢٣١٨"])
def test_a_code_that_is_no_week_is_unknown_and_said(code: str) -> None:
    entry = due(tired(code), "tires-trailer")
    assert entry.state == "unknown"
    assert code in entry.note


def test_a_tire_of_the_future_is_unknown() -> None:
    entry = due(tired("0127"), "tires-trailer")
    assert entry.state == "unknown"
    assert "after the build date" in entry.note


def test_tires_fall_due_when_guidance_says_replace_or_at_the_owners_age() -> None:
    """The same age as the check names: ten years; on a caravan in Britain seven."""
    entry = due(tired("4716"), "tires-trailer")
    assert (entry.last, entry.since) == (dt.date(2016, 11, 21), dt.date(2026, 11, 21))
    assert any("10 years" in words for words in entry.basis)
    assert due(tired("4816"), "tires-trailer").state == "good"
    british = change(tired("4819"), market="uk", trailer__body="caravan")
    assert due(british, "tires-trailer").interval == "7 years"
    own = due(tired("4820", tire_age=q("8 years", "duration")), "tires-trailer")
    assert (own.state, own.interval, own.basis) == ("good", "8 years", ("the owner's own limit",))


def test_each_set_of_tires_has_its_own_entry() -> None:
    rig = change(
        tired(None),
        trailer__spare=Spare(date_code="4614"),
        vehicle__tires=AxleTires(front=Tire(date_code="1024"), rear=Tire()),
    )
    states = {
        e.key: (e.state, e.path) for e in due_list(rig, features(rig), DAY) if e.key.startswith("tires")
    }
    assert states == {
        "tires-trailer": ("unknown", "trailer.tires.date_code"),
        "tires-spare": ("due", "trailer.spare.date_code"),
        "tires-front": ("good", "vehicle.tires.front.date_code"),
        "tires-rear": ("unknown", "vehicle.tires.rear.date_code"),
    }


@given(st.dates(dt.date(2010, 1, 1), dt.date(2040, 1, 1)), st.dates(dt.date(2010, 1, 1), dt.date(2040, 1, 1)))
def test_states_and_days_agree(last: dt.date, day: dt.date) -> None:
    rig = dated(last_tow=last, bearing_service=last, registration=last, lp_hose=last)
    for entry in due_list(rig, features(rig), day):
        assert (entry.since is not None) is (entry.state == "due")
        assert entry.until is None or (entry.state == "good" and entry.until > day)
        assert entry.since is None or entry.since <= day


def test_due_sections_join_the_departure_list_on_request() -> None:
    rig = dated(last_tow=dt.date(2026, 8, 1))
    checklist = build(rig, features(rig), {}, DAY)
    assert due_frequencies(checklist) == {"first_tow_after_idle"}
    plain = {line.id for phase in for_departure(checklist) for line in phase.items}
    more = {line.id for phase in for_departure(checklist, with_due=True) for line in phase.items}
    assert "breakaway-test" in more - plain
    assert "idle-hubs" in more - plain
    assert plain < more
