"""Arithmetic and dates behind placards, weight labels and class thresholds."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from cardgen.tables.exact import si
from cardgen.tables.lookup import NotInTableError, OutOfTableError, holds, read
from cardgen.tables.sources import Stated

Era = Literal["before", "after"]


@dataclass(frozen=True, slots=True)
class LabelEra:
    """What the cargo figure of a weight label means.

    Args:
        era: ``before`` or ``after`` 2 June 2008 [-].
        words: the meaning in words [-].
        water_is_cargo: whether fresh water comes out of the cargo figure [-].
        gas_is_cargo: whether LP gas comes out of it [-].
        source: source key [-].

    Source: the key it carries.
    """

    era: Era
    words: str
    water_is_cargo: bool
    gas_is_cargo: bool
    source: str


def seat_mass(units: Literal["lb", "kg"]) -> Stated:
    """Mass a placard counts for one seat; real people are weighed, not counted.

    Args:
        units: which of the rule's two figures, which do not convert exactly [-].

    Returns:
        150 lb or 68 kg [kg].

    Source: ``placard-150``.
    """
    row = read("placard")["occupant"]
    text = row["us"][0 if units == "lb" else 1]
    return Stated(si(text), row["source"], text)


def label_era(year: int) -> Era | None:
    """Era of a weight label by the trailer's model year.

    Args:
        year: model year [calendar year].

    Returns:
        ``before`` up to 2007, ``after`` from 2009; None for 2008, when the label's
        own wording tells [-].

    Source: ``rv-label-rule``.
    """
    changed = _changed()
    if year == changed.year:
        return None
    return "before" if year < changed.year else "after"


def label_meaning(era: Era) -> LabelEra:
    """Say what the cargo figure of an era counts.

    Args:
        era: ``before`` or ``after`` [-].

    Returns:
        The meaning [-].

    Raises:
        NotInTableError: unknown era.

    Source: ``rv-label-rule``, ``label-before-2008``.
    """
    row = read("placard")["eras"].get(era)
    if not isinstance(row, dict):
        raise NotInTableError(f"no label era '{era}'")
    return LabelEra(era, row["words"], row["water_is_cargo"], row["gas_is_cargo"], row["source"])


def dealer_added_limit(gvwr: float) -> Stated:
    """Weight added before first sale above which an RV trailer's label must be corrected.

    Args:
        gvwr: the trailer's GVWR [kg].

    Returns:
        The lesser of 1.5 percent of {{trailer_rating}} and 100 lb [kg].

    Raises:
        OutOfTableError: not a weight.

    Source: ``rv-label-rule``.
    """
    if not gvwr > 0:
        raise OutOfTableError(f"{gvwr} kg is no weight")
    row = read("placard")["dealer_added"]
    limit = min(si(row["share"]) * gvwr, si(row["mass"]))
    return Stated(
        limit, row["source"], f"the lesser of {row['share']} of {{trailer_rating}} and {row['mass']}"
    )


def is_commercial_size(combination: float) -> bool:
    """Whether a combination reaches the size of a commercial motor vehicle; not for private trips.

    Args:
        combination: gross combination weight or its rating, the larger [kg].

    Returns:
        True from 10,001 lb [-].

    Source: ``cmv-10001``.
    """
    return holds(combination, ">=", si(read("placard")["commercial"]["combination"]))


def is_cdl_group_a(combination: float, towed: float) -> bool:
    """Whether a combination is of the commercial licence class Group A; information only.

    Args:
        combination: gross combination weight or its rating [kg].
        towed: gross weight or GVWR of the towed unit [kg].

    Returns:
        True from 26,001 lb with more than 10,000 lb towed [-].

    Source: ``cdl-group-a``.
    """
    row = read("placard")["cdl_group_a"]
    return holds(combination, ">=", si(row["combination"])) and holds(towed, ">", si(row["towed_over"]))


def _changed() -> dt.date:
    day: dt.date = read("placard")["eras"]["changed"]
    return day
