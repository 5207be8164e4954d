"""Until which day the printed content stays the same when nothing but the date changes."""

from __future__ import annotations

import datetime as dt
import math

from cardgen.physics.dates import tire_made
from cardgen.present.format import YEAR
from cardgen.present.rig_view import RigView


def same_until(rig_view: RigView) -> dt.date:
    """Return the first day after the build on which an age or a due date may read differently.

    Tire ages are told in whole years, so they change on anniversaries of the week of
    making; due dates change on the day after they are good.
    """
    day = rig_view.assessment.day
    found = [dt.date.max]
    rig = rig_view.rig
    for tire in (rig.trailer.tires, rig.trailer.spare, rig.vehicle.tires.front, rig.vehicle.tires.rear):
        made = tire_made(tire.date_code) if tire is not None and tire.date_code else None
        if made is not None:
            found += [_anniversary(made, day), _completed(made, day)]
    for due in rig_view.checklist.due:
        if due.until is not None and due.until >= day:
            found.append(due.until + dt.timedelta(days=1))
    return min(found)


def _completed(made: dt.date, day: dt.date) -> dt.date:
    """The first day after another day on which one more year is told as completed."""
    year = YEAR / 86400.0
    count = max(0, math.floor((day - made).days / year)) + 1
    return made + dt.timedelta(days=math.ceil(count * year))


def _anniversary(made: dt.date, day: dt.date) -> dt.date:
    """The first anniversary of a day after another day; the made day itself when it is ahead."""
    if made > day:
        return made
    for year in range(day.year, day.year + 2):
        try:
            then = made.replace(year=year)
        except ValueError:  # 29 February in a common year
            then = dt.date(year, 3, 1)
        if then > day:
            return then
    return dt.date(day.year + 2, 1, 1)
