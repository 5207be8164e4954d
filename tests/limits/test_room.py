"""Room left, carried out: that much keeps every check within, clearly more turns the named one.

Held over the demo rigs with cargo and places drawn at random, by the whole engine, and over the
random rigs of ``tests.laws`` written into the file as a person would.
"""

from __future__ import annotations

import datetime as dt
from collections import Counter
from copy import deepcopy
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import Any

from cardgen.bundle.reading import read_rig
from cardgen.limits.assess import assess
from cardgen.limits.remedies import recheck
from cardgen.limits.room import places, rooms, with_added, with_filled
from cardgen.model.advice import Room
from cardgen.model.results import Finding, Outcome
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from cardgen.physics.loads import Load
from cardgen.physics.weighing import weigh
from cardgen.units import Quantity
from tests.laws.rigs import random_rig
from tests.laws.subject import Subject, judged
from tests.limits.bench import assessed

DAY = dt.date(2026, 11, 28)
RIGS = sorted((Path(__file__).parents[2] / "rigs").glob("*.yaml"))
CLEARLY = 1.05, 3.0
"""What is clearly more: so many times the amount and so many kg on top."""


def demo(name: str) -> Rig:
    """A demo rig."""
    found = read_rig(next(p for p in RIGS if p.stem == name)).rig
    assert found is not None
    return found


def drawn(seed: int) -> Rig:
    """A demo rig with its cargo made lighter or heavier and moved about, weighed or not."""
    dice = Random(seed)
    rig = demo(RIGS[seed % len(RIGS)].stem)
    cargo = tuple(
        replace(
            one,
            weight=one.weight and replace(one.weight, si=one.weight.si * dice.uniform(0.2, 1.6)),
            x=one.x and replace(one.x, si=one.x.si + dice.uniform(-0.6, 0.6)),
        )
        for one in rig.trailer.cargo
    )
    weighed = rig.weighings if dice.random() < 0.5 else ()
    return replace(rig, trailer=replace(rig.trailer, cargo=cargo), weighings=weighed)


def test_what_a_scale_found_over_leaves_no_room_where_more_adds_to_it() -> None:
    """The figure of the file is within, so only the reading can stop what is added."""
    over: dict[str, tuple[dict[str, Any], list[str]]] = {
        "trailer-gross": ({"trailer_alone": "3,700 lb"}, ["axles", "tank.fresh"]),
        "vehicle-gross": ({"slack": {"front": "3,200 lb", "rear": "3,900 lb"}}, ["vehicle", "tank.fresh"]),
        "trailer-axle-1": ({"slack": {"trailer": "3,400 lb"}}, ["axles", "tank.fresh"]),
        "vehicle-rear-axle": ({"alone": {"rear": "4,100 lb"}}, ["vehicle"]),
    }
    told = {}
    for code, (readings, _) in over.items():
        visit = {"date": "2026-10-03", "case": "out", "division": "10 lb", "anchor": False, **readings}
        made = assessed({"weighings": [visit]})
        assert any(f.code == f"weighed-{code}" and f.outcome is Outcome.OVER for f in made.findings), code
        told[code] = [
            room.key for room in rooms(made) if (room.amount, room.code) == (0.0, f"weighed-{code}")
        ]
    assert told == {code: keys for code, (_, keys) in over.items()}


def turned(before: dict[str, Finding], after: dict[str, Finding]) -> list[str]:
    """Checks that were within, or were not there, and no longer are."""
    within = Outcome.WITHIN
    return [
        code
        for code, f in after.items()
        if f.outcome is not within and (code not in before or before[code].outcome is within)
    ]


def test_carried_out_on_varied_demo_rigs() -> None:
    """Adding what is printed keeps every check; clearly more turns the one that is named."""
    wrong, seen = [], Counter[str]()
    for seed in range(24):
        rig = drawn(seed)
        made = assess(compute(rig), DAY, advise=False)
        ground, _ = weigh(rig)
        loads = {load.key: load for load in ground.loads}
        now = recheck(rig, made, ground)
        for room in rooms(made):
            if room.amount is None:
                seen["unknown"] += 1
                assert room.needs, room
                continue
            tank = loads.get(room.key)
            seen["full" if room.full else "some" if room.amount else "none"] += 1

            def after(mass: float, room: Room = room, rig: Rig = rig, tank: Load | None = tank) -> Rig:
                names = tuple(case.name for case in rig.cases)
                return with_added(rig, room, mass) if tank is None else with_filled(rig, tank, mass, names)

            found = turned(now, recheck(after(room.amount), made, ground)) if room.amount else []
            wrong += [f"{seed} {room.key} {room.amount:.0f} kg turns {code}" for code in found]
            if room.full or now[room.code].outcome is not Outcome.WITHIN:
                continue
            more = recheck(after(room.amount * CLEARLY[0] + CLEARLY[1]), made, ground)
            if room.code not in turned(now, more):
                wrong.append(f"{seed} {room.key} {room.amount:.0f} kg and more does not turn {room.code}")
    assert not wrong, "\n".join(wrong)
    assert min(seen["full"], seen["some"], seen["none"]) > 10, seen


def test_carried_out_in_the_file() -> None:
    """The same for random rigs, with one more thing written into the file."""
    wrong, tried = [], 0
    for seed in range(120):
        subject = Subject(str(seed), random_rig(seed))
        if subject.weighed:
            continue
        for room in rooms(subject.plain):
            if not room.amount or room.key.startswith("tank.") or room.amount < 5.0:
                continue
            tried += 1
            tree = deepcopy(subject.tree)
            thing = {"name": "one more thing", "weight": f"{0.999 * room.amount:.3f} kg"}
            if room.body == "trailer":
                thing |= {"x": f"{room.arm} m", "y": "0 m"}
            else:
                thing |= {"ahead_of_rear_axle": "0 m"}
            tree[room.body].setdefault("cargo", []).append(thing)
            found = turned(subject.findings, judged(tree))
            wrong += [f"{seed} {room.key} {room.amount:.0f} kg turns {code}" for code in found]
    assert not wrong, "\n".join(wrong)
    assert tried > 5, tried


def test_unknown_rating_leaves_no_amount() -> None:
    """Without a rating nothing is said, and it is asked for."""
    rig = demo("heron")
    bare = replace(rig, trailer=replace(rig.trailer, gvwr=None))
    found = rooms(assess(compute(bare), DAY, advise=False))
    assert {room.amount for room in found if room.body == "trailer"} == {None}
    assert all("trailer.gvwr" in {n.path for n in room.needs} for room in found if room.body == "trailer")


def test_over_leaves_nothing() -> None:
    """A rig over its trailer rating has no room wherever more makes it worse."""
    rig = demo("heron")
    heavy = replace(rig, trailer=replace(rig.trailer, gvwr=Quantity(2000.0, "mass")))
    found = [r for r in rooms(assess(compute(heavy), DAY, advise=False)) if r.body == "trailer"]
    assert all(r.amount == 0.0 and r.code == "trailer-gross" for r in found if not r.full), found


def test_places_of_a_rig() -> None:
    """Every bay is a place; behind the axles is told; a rig without bays has the place over its axles."""
    rig = demo("heron")
    told = {room.key: room.behind for room in places(rig)}
    assert {f"bay.{name}" for name in rig.trailer.bays} | {"vehicle"} == set(told)
    assert [key for key, behind in told.items() if behind] == ["bay.rear bench"]
    bare = replace(rig, trailer=replace(rig.trailer, bays={}))
    assert [room.key for room in places(bare)] == ["axles", "vehicle"]
