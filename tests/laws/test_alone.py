"""Without the vehicle a trailer's own checks come out as with it, and no check speaks of what is not there."""

from __future__ import annotations

from copy import deepcopy
from functools import cache

from cardgen.limits.registry import rules
from tests.laws.rigs import random_rig
from tests.laws.subject import OPEN, OVER, RANK, Findings, judged, rule_of

RIGS = range(300, 322)
PAIRED = ("ball-hole-fit", "law-licence")
"""Rules that name no field of the vehicle and yet look at it: whether its ball is fixed, both plates together."""
GROUPS = ("vehicle", "occupants")
"""Groups of fields that go with the vehicle; the yard's own coupling gear stays."""


def group(path: str) -> str:
    return path.split(".")[0].partition("[")[0]


@cache
def of_rules() -> dict[str, set[str]]:
    """The groups of fields that each rule may ask for."""
    return {one.code: {group(path) for path in one.fields} for one in rules()}


@cache
def both() -> dict[int, tuple[Findings, Findings]]:
    """Findings of random rigs with their vehicle and without it; nothing is weighed, no height known.

    How high the vehicle holds the coupling moves load between independent axles, as bars do; every other rig
    has none.
    """
    made = {}
    for seed in RIGS:
        pair = random_rig(seed)
        pair["weighings"] = []
        for name in ("front_axle_rate", "rear_axle_rate"):
            pair["vehicle"].pop(name, None)
        for part in ("receiver", "bed_hitch"):
            for name in ("height", "height_hitched", "ball_height"):
                (pair["vehicle"].get(part) or {}).pop(name, None)
        if seed % 2 and isinstance(pair.get("gear"), dict):
            pair["gear"].pop("weight_distribution", None)
        alone = deepcopy(pair)
        del alone["vehicle"], alone["occupants"]
        for case in alone["cases"]:
            case.pop("occupants", None)
        made[seed] = judged(pair), judged(alone)
    return made


def test_a_trailers_own_checks_do_not_need_the_vehicle() -> None:
    found, compared = [], 0
    for seed, (pair, alone) in both().items():
        for code in pair.keys() | alone.keys():
            groups = of_rules()[rule_of(code)]
            if not seed % 2 or not groups or groups & {*GROUPS} or rule_of(code) in PAIRED:
                continue
            compared += 1
            a, b = pair.get(code), alone.get(code)
            told = [None if f is None else (f.outcome, f.demand, f.capacity, f.low, f.needs) for f in (a, b)]
            if told[0] != told[1]:
                found.append(f"rig {seed} {code}: {told[0]} with, {told[1]} without")
    assert compared > 100
    assert not found, "\n".join(found)


def test_nothing_is_claimed_of_a_vehicle_that_is_not_there() -> None:
    """What asks only for the vehicle is absent; what is left asks for nothing of it and passes no more than before."""
    found, left_out = [], 0
    for seed, (pair, alone) in both().items():
        left_out += len(pair.keys() - alone.keys())
        for code, one in alone.items():
            groups = of_rules()[rule_of(code)]
            if groups and groups <= {*GROUPS}:
                found.append(f"rig {seed} {code}: asks for nothing but the vehicle")
            if one.outcome is OPEN and any(group(n.path) in GROUPS for n in one.needs):
                found.append(f"rig {seed} {code}: asks for the vehicle")
            if code in pair and pair[code].outcome is OVER and RANK[one.outcome] < RANK[OPEN]:
                found.append(f"rig {seed} {code}: over with, {one.outcome.value} without")
            if code not in pair and one.outcome is OVER:
                found.append(f"rig {seed} {code}: over without, not there with")
    assert left_out > 100
    assert not found, "\n".join(found)
