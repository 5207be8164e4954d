"""Reach over all fillings: brackets, is attained, keeps its limits and says what is missing."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace
from itertools import product

import pytest

from cardgen.model.ranges import Range
from cardgen.model.rig import Case, Occupant, Rig
from cardgen.physics.compute import compute
from cardgen.physics.envelope import envelope
from cardgen.physics.fillings import Fillings, Group, best, fillings, waste_limit
from cardgen.physics.load_model import LoadModel, stated
from cardgen.physics.loads import Aboard
from cardgen.physics.number import Number
from cardgen.physics.statics import statics
from cardgen.units import Quantity
from cardgen.units.parse import parse
from tests.physics.build import DEMO, carried, demo, item, length, mass, rig, trailer, vehicle


def figures_at(model: LoadModel, shares: Mapping[str, float]) -> dict[str, Number]:
    """All numbers of the model for a filling."""
    return statics(model, Aboard(dict(shares), {}))


def base_shares(model: LoadModel, room: Fillings) -> dict[str, float]:
    """Shares of what is always aboard; the rest at zero."""
    return {load.key: room.fixed.get(i, 0.0) for i, load in enumerate(model.loads)}


def random_filling(model: LoadModel, room: Fillings, dice: random.Random) -> dict[str, float]:
    """A filling that the groups allow; often at a corner, where extremes are."""
    shares = base_shares(model, room)
    for group in room.groups:
        values = [dice.choice((0.0, 1.0, dice.random())) for _ in group.members]
        if group.kind == "all":
            along, home = round(values[0]), dice.random() < 0.5
            values = [float(along and not (i in group.loose and home)) for i in group.members]
        elif group.kind == "people":
            values = [float(round(v)) for v in values]
            missing = group.least - int(sum(values))
            for at in range(len(values)):
                if missing > 0 and values[at] == 0.0:
                    values[at], missing = 1.0, missing - 1
        elif group.kind == "cylinder":
            aboard = not group.loose or dice.random() < 0.7
            values = [1.0, values[1]] if aboard else [0.0, 0.0]
        elif group.kind == "waste":
            filled = sum(v * size for v, size in zip(values, group.volumes, strict=True))
            if filled > group.limit:
                values = [v * group.limit / filled for v in values]
        for at, value in zip(group.members, values, strict=True):
            shares[model.loads[at].key] = value
    return shares


def optional_rig() -> Rig:
    """Heron with a rider who comes along once, a cylinder and battery left once, and a set in both bodies."""
    one = demo("heron")
    pulls = replace(one.vehicle, cargo=(replace(carried("cooler", "40 lb", "-1 ft"), set="camping"),))
    people = (*one.occupants, Occupant(name="friend", weight=mass("150 lb"), seat="rear"))
    first, second = one.cases
    first = replace(first, occupants=("driver", "passenger", "child"), without=("house batteries",))
    second = replace(second, occupants=("driver", "friend"), without=("left",))
    return replace(one, vehicle=pulls, occupants=people, cases=(first, second))


RIGS = {**{name: demo(name) for name in DEMO}, "optional": optional_rig()}


@pytest.mark.parametrize("name", RIGS)
def test_brackets_random_fillings(name: str) -> None:
    """1,000 random fillings of each rig stay inside every range."""
    model, dice = stated(RIGS[name]), random.Random(20261125)
    room, reach = fillings(model.rig, model.loads), envelope(model)
    for _ in range(1000):
        found = figures_at(model, random_filling(model, room, dice))
        for key, ends in reach.items():
            value = found[key].value if key in found else None
            if value is None or ends.low is None or ends.high is None:
                continue
            slack = 1e-9 * max(1.0, abs(value))
            assert ends.low - slack <= value <= ends.high + slack, key


@pytest.mark.parametrize("name", RIGS)
def test_ends_are_attained_by_the_named_filling(name: str) -> None:
    model = stated(RIGS[name])
    room = fillings(model.rig, model.loads)
    checked = 0
    for key, ends in envelope(model).items():
        for value, filling in ((ends.low, ends.low_filling), (ends.high, ends.high_filling)):
            if value is None:
                continue
            shares = base_shares(model, room) | {one.key: one.share for one in filling}
            # People and steel that do not matter to this figure must still be legal.
            found = figures_at(model, shares)
            if key in found and found[key].value is not None:
                assert found[key].value == pytest.approx(value, rel=1e-9, abs=1e-9), key
                checked += 1
    assert checked >= 20


@pytest.mark.parametrize("name", DEMO)
def test_declared_cases_lie_inside(name: str) -> None:
    made = compute(demo(name))
    for case in made.cases:
        for key, ends in made.envelope.items():
            value = case.figures[key].value if key in case.figures else None
            if value is not None and ends.low is not None and ends.high is not None:
                assert ends.low - 1e-9 <= value <= ends.high + 1e-9, (case.name, key)


def corners(model: LoadModel) -> list[dict[str, float]]:
    """Every corner of the set of fillings of a small rig without waste limit."""
    room = fillings(model.rig, model.loads)
    out = []
    for bits in product((0.0, 1.0), repeat=len(room.groups)):
        shares = base_shares(model, room)
        for group, bit in zip(room.groups, bits, strict=True):
            for at in group.members:
                shares[model.loads[at].key] = bit
        out.append(shares)
    return out


def test_share_is_exact_against_all_corners() -> None:
    """A ratio of linear forms has its extremes at corners; all 2^n are tried."""
    items = [
        replace(item(f"box {i}", f"{30 + 17 * i} lb", f"{40 + 37 * i} in"), set=f"set {i}") for i in range(8)
    ]
    one = rig(
        vehicle("2,000 lb", "2,000 lb", "120 in", "40 in"), trailer("900 lb", "90 lb", "150 in", *items)
    )
    model = stated(one)
    shares = [figures_at(model, filling)["tongue_share"].value for filling in corners(model)]
    known = [value for value in shares if value is not None]
    assert len(known) == 256
    ends = envelope(model)["tongue_share"]
    assert ends.low == pytest.approx(min(known), rel=1e-12)
    assert ends.high == pytest.approx(max(known), rel=1e-12)


def gallons(text: str) -> Quantity:
    """A volume as written in a rig file."""
    return parse(text, "volume")


def filled(ends: Range, key: str) -> float:
    """Share of a load in the filling that causes the lower end."""
    return next(one.share for one in ends.low_filling if one.key == key)


def test_waste_only_up_to_what_fresh_water_can_become() -> None:
    """Heron: 40 + 6 gal of water against 32 + 28 gal of waste tanks, both behind the axles."""
    free = demo("heron")
    one = replace(free, limits=replace(free.limits, water_from_fresh_only=True))
    limit = waste_limit(one)
    assert limit == pytest.approx(gallons("46 gal").si)
    ends = envelope(stated(one))["tongue_weight"]
    grey, black = filled(ends, "tank.grey"), filled(ends, "tank.black")
    assert black == 1.0  # farther behind, so it is filled first
    assert grey == pytest.approx((46 - 28) / 32)
    assert waste_limit(free) is None  # a hookup fills them, unless the owner declares otherwise
    wider = envelope(stated(free))["tongue_weight"]
    assert filled(wider, "tank.grey") == filled(wider, "tank.black") == 1.0
    assert wider.low is not None
    assert ends.low is not None
    assert wider.low < ends.low


def test_declared_waste_widens_the_limit() -> None:
    one = demo("heron")
    one = replace(one, limits=replace(one.limits, water_from_fresh_only=True))
    more = replace(
        one.cases[1], tanks={**one.cases[1].tanks, "grey": gallons("32 gal"), "black": gallons("28 gal")}
    )
    assert waste_limit(replace(one, cases=(one.cases[0], more))) == pytest.approx(gallons("60 gal").si)


@pytest.mark.parametrize("name", ["fresh", "grey"])
def test_unknown_capacity_lifts_the_waste_limit(name: str) -> None:
    """Without a capacity nothing may be assumed to limit the waste."""
    one = demo("heron")
    one = replace(one, limits=replace(one.limits, water_from_fresh_only=True))
    tanks = {**one.trailer.tanks, name: replace(one.trailer.tanks[name], capacity=None)}
    assert waste_limit(replace(one, trailer=replace(one.trailer, tanks=tanks))) is None


def test_no_fresh_tank_no_limit() -> None:
    one = demo("heron")
    one = replace(one, limits=replace(one.limits, water_from_fresh_only=True))
    tanks = {n: t for n, t in one.trailer.tanks.items() if t.holds in ("grey", "black")}
    assert waste_limit(replace(one, trailer=replace(one.trailer, tanks=tanks))) is None


def test_missing_place_is_told() -> None:
    one = demo("wren")
    tanks = {**one.trailer.tanks, "grey": replace(one.trailer.tanks["grey"], x=None)}
    ends = compute(replace(one, trailer=replace(one.trailer, tanks=tanks))).envelope
    assert ends["tongue_weight"].high is None
    assert {n.path for n in ends["tongue_weight"].needs} == {"trailer.tanks.grey.x"}
    assert ends["tongue_share"].needs
    assert ends["trailer_weight"].high is not None


def test_people_sets_and_cylinders() -> None:
    model = stated(RIGS["optional"])
    groups = {group.key: group for group in fillings(model.rig, model.loads).groups}
    assert groups["people"].least == 1  # driver always; the smaller case has one more
    assert len(groups["people"].members) == 3
    assert groups["cylinder.left"].loose
    assert not groups["cylinder.right"].loose
    assert groups["battery.house batteries"].kind == "all"
    assert len(groups["set.camping"].members) == 2
    ends = envelope(model)["combination_weight"]
    riders = [s.key for s in ends.low_filling if s.key.startswith("person.") and s.share == 1.0]
    assert riders == ["person.child"]  # the lightest of those who may ride
    steel = next(s for s in ends.low_filling if s.key == "cylinder.left")
    assert steel.words == "left cylinder left out"


def test_knapsack_fills_the_best_per_volume_first() -> None:
    group = Group("waste", "waste", (0, 1, 2), (10.0, 20.0, 5.0), 22.0)
    assert best(group, {0: 30.0, 1: 40.0, 2: -1.0}) == {0: 1.0, 1: pytest.approx(0.6), 2: 0.0}
    assert best(group, {0: -30.0, 1: -40.0}) == {0: 0.0, 1: 0.0, 2: 0.0}


def test_what_stays_at_home_of_a_set_never_rides_without_it() -> None:
    group = Group("set.work", "all", (0, 1), loose=(1,))
    assert best(group, {0: 5.0, 1: -2.0}) == {0: 1.0, 1: 0.0}
    assert best(group, {0: -5.0, 1: 2.0}) == {0: 0.0, 1: 0.0}
    assert best(group, {0: -5.0, 1: 6.0}) == {0: 1.0, 1: 1.0}


def test_nobody_and_nothing_optional() -> None:
    """One case with everybody leaves people fixed; fuel still ranges."""
    one = replace(demo("wren"), cases=(demo("wren").cases[0],))
    model = stated(one)
    room = fillings(one, model.loads)
    assert "people" not in {g.key for g in room.groups}
    ends = envelope(model)["occupant_weight"]
    assert ends.low == ends.high == pytest.approx(mass("335 lb").si)


def test_negative_arms_are_fine() -> None:
    """A load ahead of the ball still moves linearly."""
    box = replace(item("box", "100 lb", "-10 in"), set="front")
    one = rig(
        vehicle("2,000 lb", "2,000 lb", "120 in", "40 in"),
        trailer("900 lb", "90 lb", "100 in", box),
        [Case(name="out")],
    )
    ends = compute(one).envelope["tongue_weight"]
    assert length("-10 in").si < 0
    assert ends.high == pytest.approx(mass("200 lb").si)
