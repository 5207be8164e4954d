"""Dates on tires: week and year of making."""

from __future__ import annotations

import datetime as dt
import re

from cardgen.model.rig import Rig
from cardgen.tables.tire_rules import AgeStep, age_guidance

_CODE = re.compile(r"(\d{2})(\d{2})", re.ASCII)


def tire_made(code: str) -> dt.date | None:
    """Return the Monday of the week in which a tire was made; None when the code cannot be read.

    Args:
        code: last four digits of the tire identification number, week then year,
            for example ``2323`` for week 23 of 2023 [-].

    Validity: tires made from 2000 on; week 01 to 53. A week 53 in a year without one
    counts as the week after week 52.

    Source: 49 CFR 574.5 (secondary copies: owner's manuals that reproduce it).
    """
    found = _CODE.fullmatch(code.strip())
    if not found:
        return None
    week, year = int(found[1]), 2000 + int(found[2])
    if not 1 <= week <= 53:
        return None
    return dt.date.fromisocalendar(year, 1, 1) + dt.timedelta(weeks=week - 1)


def code_words(code: str) -> str:
    """Write a date code as ``week 23 of 2023`` [-]; empty when it cannot be read.

    Args:
        code: last four digits of the tire identification number [-].

    Source: 49 CFR 574.5 (secondary copies).
    """
    if tire_made(code) is None:
        return ""
    plain = code.strip()
    return f"week {int(plain[:2])} of {2000 + int(plain[2:])}"


def age_steps(rig: Rig, position: str) -> tuple[AgeStep, AgeStep]:
    """Ages [calendar years] from which to look harder at a tire and by which to replace it.

    Args:
        rig: the rig, whose market and kind of trailer decide.
        position: ``trailer``, ``spare``, ``front`` or ``rear`` [-].

    Source: ``cardgen.tables.tire_rules``; guidance, never law.
    """
    lived_in = rig.trailer.body in ("camper", "travel_trailer", "caravan")
    return age_guidance(rig.market, lived_in and position in ("trailer", "spare"))


def age_words(steps: tuple[AgeStep, AgeStep], year: int) -> str:
    """Say what to do with a tire from which year on [-], an age being wrong as soon as it is printed.

    Args:
        steps: as of ``age_steps`` [calendar years].
        year: calendar year in which it was made [-].

    Source: that of the steps.
    """
    first, last = steps
    return f"{first.advice} from {year + first.years}; {last.advice} by {year + last.years}"
