"""Default uncertainties by kind of evidence, and scale divisions and tolerances."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from cardgen.tables.exact import si
from cardgen.tables.lookup import NotInTableError, OutOfTableError, read
from cardgen.tables.sources import Stated

Evidence = Literal["scale", "label", "brochure", "estimate"]
Kind = Literal["mass", "tongue", "length", "position", "fill"]


@dataclass(frozen=True, slots=True)
class Spread:
    """An uncertainty taken as rectangular.

    Args:
        half_width: the value lies within plus or minus this [unit of the value].
        source: source key [-].

    Source: the key it carries; formula ``gum``.
    """

    half_width: float
    source: str

    @property
    def u(self) -> float:
        """Standard uncertainty, half-width over the root of three [unit of the value].

        Source: ``gum`` 4.3.7.
        """
        return self.half_width / math.sqrt(3)


def default_spread(kind: Kind, evidence: Evidence, value: float) -> Spread:
    """Half-width for a figure that carries no uncertainty of its own.

    Args:
        kind: ``mass``, ``tongue`` (a tongue or pin weight), ``length``, ``position``
            (of a load) or ``fill`` (share of a tank) [-].
        evidence: ``scale`` (for lengths a tape), ``label``, ``brochure`` or ``estimate`` [-].
        value: the figure [kg, m, or - for fills].

    Returns:
        The spread [unit of the value]; a choice of this project, to be said so.

    Raises:
        NotInTableError: unknown kind or evidence.

    Source: ``uncertainty-defaults``.
    """
    data = read("scales")
    row = data["defaults"].get(kind, {}).get(evidence)
    if row is None:
        raise NotInTableError(f"no default uncertainty for {kind} from {evidence}")
    return Spread(si(row["fixed"]) + si(row["share"]) * abs(value), data["defaults_source"])


def scale_division(metric: bool) -> Stated:
    """Usual division of a public vehicle scale.

    Args:
        metric: 10 kg instead of 20 lb [-].

    Returns:
        Division [kg].

    Source: ``scale-division``.
    """
    row = read("scales")["division"]
    text = row["metric" if metric else "us"]
    return Stated(si(text), row["source"], text)


def division_u(division: float) -> float:
    """Standard uncertainty of reading a digital scale, division over the root of twelve.

    Args:
        division: smallest step of the scale [any unit].

    Returns:
        Standard uncertainty [same unit].

    Source: ``gum`` F.2.2.1.
    """
    return division / math.sqrt(12)


def scale_tolerance(load: float, division: float) -> Spread:
    """Error a vehicle scale in service is allowed, in both directions.

    It cancels largely from differences taken on one scale in one visit, and stays
    in single readings.

    Args:
        load: load on the scale [kg].
        division: smallest step of the scale [kg].

    Returns:
        Tolerance as half-width [kg].

    Raises:
        OutOfTableError: load below zero or no division.

    Source: ``hb44-iiil``.
    """
    if not load >= 0 or not division > 0:
        raise OutOfTableError(f"no tolerance for {load} kg in steps of {division} kg")
    row = read("scales")["tolerance"]
    steps = load / division
    for upper, allowed in row["steps"]:
        if steps <= upper * (1 + 1e-9):
            return Spread(allowed * division, row["source"])
    last, allowed = row["steps"][-1]
    more = math.ceil((steps - last) / row["further"] - 1e-9)
    return Spread((allowed + more) * division, row["source"])
