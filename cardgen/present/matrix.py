"""Which vehicle matches which trailer: every pair put together and checked.

A pair takes everything but the vehicle from the first rig that uses the trailer: its loading
cases, people and coupling gear. A trailer that no rig uses is taken as described, everything
aboard and nobody in the vehicle. The gear stays away when one vehicle has a fixed ball and the
other a receiver; what then is missing is not checked, never passed.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from cardgen.limits.assess import assess
from cardgen.model.gear import Gear
from cardgen.model.results import Assessment, Finding, Outcome
from cardgen.model.rig import Case, Rig
from cardgen.model.trailer import Trailer
from cardgen.model.vehicle import Vehicle
from cardgen.physics.compute import compute
from cardgen.present.desk import LEVELS, RANK
from cardgen.present.format import Shower, system_of
from cardgen.present.levels import Level
from cardgen.tables.words import say
from cardgen.units import Quantity

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
    "Each pair is computed: the trailer with the loading cases, people and coupling gear of the first rig "
    "that uses it. A trailer that no rig uses is taken with everything aboard and nobody in the vehicle, by the "
    "rules of the vehicle's own rigs.",
    "Gear of a fixed {towbar} is not carried over to a {receiver}, nor the other way round: what is then missing "
    "is not checked.",
    "Within or close here is no permission: describe the pair in a rig file of its own and weigh it.",
)


def match(
    vehicles: Mapping[str, Vehicle], trailers: Mapping[str, Trailer], rigs: Sequence[Rig], day: dt.date
) -> Matrix | None:
    """Check every vehicle with every trailer.

    Args:
        vehicles, trailers: shared parts by name.
        rigs: the rigs of the folder.
        day: the build date.

    Returns:
        The matrix; None when a side is empty.
    """
    if not vehicles or not trailers:
        return None
    if len(vehicles) * len(trailers) > MOST:
        note = f"There are more than {MOST} pairs; they are not worked out on one page."
        return Matrix((), (), (note,))
    rows = []
    for name, vehicle in vehicles.items():
        cells = tuple(cell(vehicle, trailer, rigs, day) for trailer in trailers.values())
        rows.append((_called(name, vehicle.name, vehicle.kind), cells))
    heads = tuple(_called(n, t.name, t.body.replace("_", " ")) for n, t in trailers.items())
    return Matrix(heads, tuple(rows), tuple(say(note, rigs[0].market if rigs else "us") for note in NOTES))


def _called(part: str, name: str | None, kind: str | None) -> str:
    own = name or part.rsplit("/", 1)[-1]
    return f"{own} ({'SUV' if kind == 'suv' else kind})" if kind else own


def pair(vehicle: Vehicle, trailer: Trailer, rigs: Sequence[Rig]) -> Rig:
    """Put a vehicle and a trailer together."""
    uses = [r for r in rigs if r.trailer == trailer] or [
        r for r in rigs if trailer.name is not None and r.trailer.name == trailer.name
    ]
    if not uses:
        known = [r for r in rigs if r.vehicle == vehicle] or list(rigs)
        market = known[0].market if known else "us"
        return Rig(
            nickname="pair", market=market, vehicle=vehicle, trailer=trailer, cases=(_full(vehicle, trailer),)
        )
    base = next((r for r in uses if r.vehicle == vehicle), uses[0])
    gear = base.gear if _fixed(base.vehicle) == _fixed(vehicle) else Gear()
    return replace(
        base, vehicle=vehicle, gear=gear, weighings=base.weighings if base.vehicle == vehicle else ()
    )


def _fixed(vehicle: Vehicle) -> bool | None:
    return None if vehicle.receiver is None else vehicle.receiver.fixed_ball


def _full(vehicle: Vehicle, trailer: Trailer) -> Case:
    """Everything aboard: clean water and gas full, waste empty, every cargo set, fuel full."""
    full, empty = Quantity(1.0, "fraction", None, "full"), Quantity(0.0, "fraction", None, "empty")
    tanks = {n: empty if t.holds in ("grey", "black") else full for n, t in trailer.tanks.items()}
    named = [c.set for c in (*trailer.cargo, *trailer.batteries)] + [c.set for c in vehicle.cargo]
    sets = dict.fromkeys(name for name in named if name is not None)
    return Case(
        name="everything aboard",
        tanks=tanks,
        cylinders=dict.fromkeys(trailer.cylinders, full),
        cargo=tuple(sets),
        fuel=full,
    )


def cell(vehicle: Vehicle, trailer: Trailer, rigs: Sequence[Rig], day: dt.date) -> Cell:
    """Check one pair and name the limit that governs."""
    rig = pair(vehicle, trailer, rigs)
    own = next((r.nickname for r in rigs if r.vehicle == vehicle and r.trailer == trailer), "")
    assessment = assess(compute(rig, deep=False), day, advise=False)
    counted = [f for f in assessment.findings if f.critical]
    if not counted:
        return Cell(Outcome.NOT_CHECKED.value, "unknown", "no check could be made", own)
    worst = min(counted, key=lambda f: (RANK[f.outcome], -(f.share or 0.0)))
    return Cell(worst.outcome.value, LEVELS[worst.outcome], _limit(assessment, worst, counted), own)


def _limit(assessment: Assessment, worst: Finding, counted: Sequence[Finding]) -> str:
    rig = assessment.rig
    shower = Shower(system_of(rig), rig.market)
    same = [f for f in counted if f.outcome is worst.outcome]
    if worst.outcome is Outcome.NOT_CHECKED:
        needs = list(dict.fromkeys(n.what for f in same for n in f.needs))
        text = f"{len(same)} check{'s' if len(same) > 1 else ''} not made; missing: {', '.join(needs[:2])}"
        return say(text + (" and more" if len(needs) > 2 else ""), rig.market)
    loads = [f for f in same if f.demand is not None and f.kind in ("mass", "fraction")]
    governing = max(loads, key=lambda f: f.share or 0.0, default=worst)
    margin = governing.margin
    if margin is None:
        return say(f"{governing.title}: {shower.message(governing)}", rig.market)
    left = shower.left(governing)
    if governing.low is not None and margin < 0:
        left = f"{shower.of(governing, abs(margin))} outside the band"
    return say(f"{governing.title}: {left}", rig.market)
