"""What falls due by the calendar. A pure function of dates: no clock is read."""

from __future__ import annotations

import calendar
import datetime as dt
from collections.abc import Iterator, Mapping

from cardgen.checklist.catalog import Catalog, catalog
from cardgen.checklist.conditions import Value
from cardgen.checklist.schema import DueDef
from cardgen.checklist.types import Due, DueState
from cardgen.model.rig import Rig
from cardgen.model.tires import Tire
from cardgen.physics.dates import age_steps, tire_made
from cardgen.tables.sources import source
from cardgen.tables.words import say

IDLE = dt.timedelta(weeks=4)
"""Idle time after which the storage section applies (common practice, no source)."""


def due_list(rig: Rig, features: Mapping[str, Value], day: dt.date) -> tuple[Due, ...]:
    """What is due, what is good until when, and what cannot be told.

    Args:
        rig: the rig with its dates and tire date codes.
        features: every feature, so that nothing is asked about gear that is not there.
        day: the day for which it is reckoned.

    Returns:
        One entry per thing that applies to the rig, in a fixed order.
    """
    made = catalog()
    found: list[Due] = []
    for define in made.due:
        stated = define.rule == "expires" and getattr(rig.dates, define.date) is not None
        if stated or made.conditions[f"due:{define.key}"].holds(features):
            found += _entry(made, rig, define, day)
    return (*found, *_tires(made, rig, day))


def add_months(start: dt.date, months: int) -> dt.date:
    """The same day ``months`` [-] later; the month's last day when it has no such day."""
    years, month = divmod(start.month - 1 + months, 12)
    year, month = start.year + years, month + 1
    return dt.date(year, month, min(start.day, calendar.monthrange(year, month)[1]))


def _entry(made: Catalog, rig: Rig, define: DueDef, day: dt.date) -> Iterator[Due]:
    last: dt.date | None = getattr(rig.dates, define.date)
    market = rig.market
    limit: dt.date | None = None
    interval = ""
    if define.rule == "change":
        if last is None:
            return
        limit = _after_change(rig, last)
        interval = "before the next tow"
    elif define.rule == "idle":
        idle = rig.preferences.idle
        wait = IDLE if idle is None else dt.timedelta(days=int(idle.si // 86400))
        limit = None if last is None else last + wait
        interval = f"{wait.days} days idle"
    elif define.rule == "interval":
        limit = None if last is None else add_months(last, define.months)
        interval = _months(define.months)
    else:
        limit, interval = last, "the date itself"
    past = define.rule == "expires" or last is None or last <= day
    note = define.note if past else "the date lies after the build date"
    basis = made.source_words(define.source, market)
    if define.rule == "idle" and rig.preferences.idle is not None:
        basis = ("the owner's own limit",)
    yield _due(
        key=define.key,
        title=say(define.title, market),
        last=None if define.rule == "expires" else last,
        limit=limit if past else None,
        day=day,
        interval=interval,
        basis=basis,
        path=f"dates.{define.date}",
        items=define.items,
        frequency=define.frequency,
        note=say(note, market),
        settled=past and define.rule == "change" and limit is None,
    )


def _after_change(rig: Rig, change: dt.date) -> dt.date | None:
    towed = rig.dates.last_tow
    return change if towed is None or towed <= change else None


def _months(months: int) -> str:
    if months % 12:
        return f"{months} months"
    years = months // 12
    return "1 year" if years == 1 else f"{years} years"


def _due(
    *,
    key: str,
    title: str,
    last: dt.date | None,
    limit: dt.date | None,
    day: dt.date,
    interval: str,
    basis: tuple[str, ...],
    path: str,
    items: tuple[str, ...] = (),
    frequency: str = "",
    note: str = "",
    settled: bool = False,
) -> Due:
    state: DueState = "good" if settled else "unknown"
    if limit is not None:
        state = "due" if day >= limit else "good"
    return Due(
        key=key,
        title=title,
        state=state,
        last=last,
        since=limit if state == "due" else None,
        until=limit if state == "good" else None,
        interval=interval,
        basis=basis,
        path=path,
        items=items,
        frequency=frequency,
        note=note,
    )


def _tires(made: Catalog, rig: Rig, day: dt.date) -> Iterator[Due]:
    vehicle = rig.vehicle.tires
    sets: tuple[tuple[str, Tire | None, str, str, bool], ...] = (
        ("tires-trailer", rig.trailer.tires, "Trailer tires", "trailer.tires", True),
        ("tires-spare", rig.trailer.spare, "Spare tire", "trailer.spare", False),
        ("tires-front", vehicle.front, "Vehicle front tires", "vehicle.tires.front", False),
        ("tires-rear", vehicle.rear, "Vehicle rear tires", "vehicle.tires.rear", False),
    )
    for key, tire, title, path, always in sets:
        if tire is not None or always:
            yield _tire(made, rig, key, title, path, tire.date_code if tire else None, day)


def _tire(made: Catalog, rig: Rig, key: str, title: str, path: str, code: str | None, day: dt.date) -> Due:
    born = None if code is None else tire_made(code)
    limit: dt.date | None = None
    age, replace = rig.limits.tire_age, age_steps(rig, key.removeprefix("tires-"))[1]
    note = ""
    if code is not None and born is None:
        note = f"'{code}' is not a week and a year"
    elif born is not None and born > day:
        note = f"'{code}' lies after the build date"
    elif born is not None:
        years = add_months(born, replace.years * 12)
        limit = years if age is None else born + dt.timedelta(days=int(age.si // 86400))
    own = "the owner's own limit"
    return _due(
        key=key,
        title=say(title, rig.market),
        last=born,
        limit=limit,
        day=day,
        interval=_months(replace.years * 12) if age is None else (age.text or own),
        basis=(say(source(replace.source).words(), rig.market),) if age is None else (own,),
        path=f"{path}.date_code",
        items=("tires-date",),
        note=note,
    )
