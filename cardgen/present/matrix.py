"""Which vehicle matches which trailer: every pair checked as the rig file of that pair would be.

A pair that a rig of the folder is says what that rig's own verdict says. A pair whose file would be
refused is told so, with the reason.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from cardgen.limits.assess import assess
from cardgen.model.results import RANK, Assessment, Finding, Outcome
from cardgen.model.shelf import APART, PairRig
from cardgen.model.trailer import Trailer
from cardgen.model.vehicle import Vehicle
from cardgen.model.written import units_of
from cardgen.physics.compute import compute
from cardgen.present.asking import briefly
from cardgen.present.format import Formatter
from cardgen.present.levels import Level
from cardgen.present.rig_view import LEVELS
from cardgen.tables.words import kind_word, papers_of, say

MOST = 400
"""Largest number of pairs that is worked out on one page [-]."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One pair.

    Args:
        word, level: outcome.
        limit: the governing limit and what is left, or what is missing.
        own: nickname of the rig that is this pair; empty when none is.
    """

    word: str
    level: Level
    limit: str
    own: str = ""


@dataclass(frozen=True, slots=True)
class Matrix:
    """All pairs.

    Args:
        trailers: names of the columns.
        rows: (name of the vehicle, cells).
        notes: how the pairs were made.
    """

    trailers: tuple[str, ...]
    rows: tuple[tuple[str, tuple[Cell, ...]], ...]
    notes: tuple[str, ...]


NOTES = (
    "Each pair is computed as its own rig file would be: the trailer with the loading cases, people and coupling "
    "gear of the first rig that uses it, less what belongs to that rig's vehicle alone (weighings, an adapter for "
    "its socket). A trailer that no rig uses is taken with everything aboard and nobody in the vehicle.",
    "Gear of a fixed ball is not carried over to a removable one, nor the other way round: what is then missing "
    "is not checked.",
    "Within or close here is no permission: describe the pair in a rig file of its own and weigh it.",
)
Pairs = Callable[[str, str], PairRig]
"""Gives the pair of a vehicle and a trailer by the names of their parts."""


def match(
    vehicles: Mapping[str, Vehicle], trailers: Mapping[str, Trailer], pairs: Pairs, day: dt.date, market: str
) -> Matrix | None:
    """Check every vehicle with every trailer.

    Args:
        vehicles, trailers: shared parts by name.
        pairs: what a vehicle and a trailer make together.
        day: the build date.
        market: market of the page [-].

    Returns:
        The matrix; None when a side is empty.
    """
    if not vehicles or not trailers:
        return None
    if len(vehicles) * len(trailers) > MOST:
        note = f"There are more than {MOST} pairs; they are not worked out on one page."
        return Matrix((), (), (note,))
    rows, words = [], dict[str, str]()
    for name, vehicle in vehicles.items():
        made = {trailer: pairs(name, trailer) for trailer in trailers}
        cells = tuple(cell(pair, day) for pair in made.values())
        # what a thing is called is told by the rigs that have it: a trailer's own, and a vehicle's
        words |= {t: pair.rig.market for t, pair in made.items() if pair.rig is not None}
        own = next((pair.rig.market for pair in made.values() if pair.own and pair.rig), market)
        rows.append((_called(name, vehicle.name, vehicle.kind and kind_word(vehicle.kind, own)), cells))
    heads = tuple(_called(n, t.name, kind_word(t.body, words.get(n, market))) for n, t in trailers.items())
    return Matrix(heads, tuple(rows), tuple(say(note, market) for note in NOTES))


def _called(part: str, name: str | None, kind: str | None) -> str:
    own = name or part.rsplit("/", 1)[-1]
    return f"{own} ({kind})" if kind else own


def cell(pair: PairRig, day: dt.date) -> Cell:
    """Check one pair as its rig is checked, and name the limit that governs; of several rigs the worst speaks."""
    if pair.others:
        made = [cell(one, day) for one in (replace(pair, others=()), *pair.others)]
        return max(made, key=lambda one: RANK[Outcome(one.word)])
    if pair.rig is None:
        apart = pair.code == APART
        return Cell("does not couple" if apart else "refused", "over" if apart else "unknown", pair.refused)
    assessment = assess(compute(pair.rig, deep=False), day, advise=False)
    outcome = assessment.outcome()
    same = [
        f for f in assessment.findings if f.outcome is outcome and (f.critical or outcome is Outcome.OVER)
    ]
    if not same:
        return Cell(Outcome.NOT_CHECKED.value, "unknown", "no check could be made", pair.own)
    worst = max(same, key=lambda f: f.share or 0.0)
    return Cell(outcome.value, LEVELS[outcome], _limit(assessment, worst, same), pair.own)


def _limit(assessment: Assessment, worst: Finding, same: Sequence[Finding]) -> str:
    rig = assessment.rig
    formatter = Formatter(units_of(rig), rig.market, rig.trailer.type, papers_of(rig.market, rig.places))
    if worst.outcome is Outcome.NOT_CHECKED:
        needs = list(dict.fromkeys(briefly(n) for f in same for n in f.needs))
        text = f"{len(same)} check{'s' if len(same) > 1 else ''} not made; missing: {', '.join(needs[:2])}"
        return formatter.say(text + (" and more" if len(needs) > 2 else ""))
    loads = [f for f in same if f.demand is not None and f.kind in ("mass", "fraction")]
    governing = max(loads, key=lambda f: f.share or 0.0, default=worst)
    margin = governing.margin
    if margin is None:
        return formatter.say(f"{governing.title}: {formatter.message(governing)}")
    left = formatter.left(governing)
    if governing.low is not None and margin < 0:
        left = f"{formatter.of(governing, abs(margin))} outside the band"
    return formatter.say(f"{governing.title}: {left}")
