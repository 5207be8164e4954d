"""Statics against textbook problems and an independent beam solver."""

from __future__ import annotations

import ast
import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sympy import Rational, Symbol  # type: ignore[import-untyped]  # sympy ships no types
from sympy.physics.continuum_mechanics.beam import Beam  # type: ignore[import-untyped]  # the same

import cardgen
from cardgen.model.parts import Tank
from cardgen.model.results import CaseResult
from cardgen.model.rig import Case, Occupant, Rig
from cardgen.model.vehicle import CurbState
from cardgen.model.weighing import AxleReadings, Weighing
from cardgen.physics.compute import compute
from cardgen.physics.load_model import front_share_of_load, stated
from cardgen.physics.load_model import tongue_share_of_load as tongue_share
from cardgen.physics.loads import Aboard, all_loads, case_aboard, empty_aboard
from cardgen.physics.number import exact
from cardgen.physics.statics import moved_by_loads, statics
from cardgen.units.parse import parse
from tests.physics.build import DEMO, INCH, POUND, demo, item, length, mass, rig, trailer, vehicle

NEWTON = 9.81  # the value the textbooks below use


def tongue_share_of_load(arm: float, length: float) -> float:
    """Part of a load on the tongue, of plain numbers."""
    return tongue_share(exact(arm), exact(length)).sure


def pounds(case: CaseResult, figure: str) -> float:
    """A figure of a case in pounds."""
    value = case.figures[figure].value
    assert value is not None, case.figures[figure].needs
    return value / POUND


def test_where_a_load_takes_the_tongue_away() -> None:
    """Course problem: 220 kg trailer, centre of gravity 1.85 m, axle 2.15 m behind the coupler.

    Ball force 301.14 N empty; zero with 540 kg at 2.2722 m (g 9.81; answers recomputed).
    """
    empty = 220 * (1 - 1.85 / 2.15)
    assert empty * NEWTON == pytest.approx(301.14, abs=5e-3)
    zero = 2.15 * (1 + empty / 540)
    assert zero == pytest.approx(2.2722, abs=5e-5)
    assert empty + 540 * tongue_share_of_load(zero, 2.15) == pytest.approx(0, abs=1e-9)


def test_moving_an_axle() -> None:
    """Boat trailer from a trailer page: tongue 280 lb, axle 2820 lb, spacing 180 in.

    For a 160 lb tongue the axle stands 172.653 in behind the ball, 7.347 in forward.
    A dealer's shortcut X = (TW - 0.1 W)/W * D gives 6.50 in where 7.222 in is exact.
    """
    weight, centre = 3100.0, 180.0 * 2820.0 / 3100.0
    assert centre == pytest.approx(163.742, abs=5e-4)
    assert weight * tongue_share_of_load(centre * INCH, 172.653 * INCH) == pytest.approx(160.0, abs=0.01)
    assert pytest.approx(7.347, abs=5e-4) == 180.0 - 172.653
    whole, tongue, old = 1025 + 7200.0, 1025.0, 264.0
    middle = old * (1 - tongue / whole)
    assert old - middle / 0.9 == pytest.approx(7.222, abs=5e-4)
    assert whole * tongue_share_of_load(middle, middle / 0.9) == pytest.approx(0.1 * whole)
    shortcut = (tongue - 0.1 * whole) / whole * old
    assert shortcut == pytest.approx(6.50, abs=5e-3)
    assert whole * tongue_share_of_load(middle, old - shortcut) == pytest.approx(843.3, abs=0.05)


@pytest.mark.parametrize(
    ("pin", "ahead", "wheelbase", "front", "rear"),
    [
        # Payload x load base / wheelbase, the truck body builders' formula for the front axle.
        (2400, 2, 160, 30, 2370),
        (2400, -2, 160, -30, 2430),
        (2400, 0, 160, 0, 2400),
        (1800, 6, 145, 74.483, 1725.517),
    ],
)
def test_fifth_wheel(pin: float, ahead: float, wheelbase: float, front: float, rear: float) -> None:
    pulled = replace(trailer("9,000 lb", f"{pin} lb", "300 in"), type="fifth_wheel")
    pulls = vehicle("4,000 lb", "3,000 lb", f"{wheelbase} in", f"{-ahead} in")
    (case,) = compute(rig(pulls, pulled)).cases
    assert pounds(case, "vehicle_front_axle") - 4000 == pytest.approx(front, abs=5e-4)
    assert pounds(case, "vehicle_rear_axle") - 3000 == pytest.approx(rear, abs=5e-4)


def test_tank_contents() -> None:
    """40 US gal fresh (333.2 lb) 20 in ahead of the axle, L 220: +30.29 lb; 30 gal grey
    (249.9 lb) 60 in behind: -68.15 lb (own numbers; the warning is a trailer manual's)."""
    fresh, grey = 333.2 * tongue_share_of_load(200, 220), 249.9 * tongue_share_of_load(280, 220)
    assert fresh == pytest.approx(30.29, abs=5e-3)
    assert grey == pytest.approx(-68.15, abs=6e-3)


def test_bad_lengths_are_refused() -> None:
    with pytest.raises(ValueError, match="behind the ball"):
        tongue_share_of_load(1.0, 0.0)
    with pytest.raises(ValueError, match="wheelbase"):
        front_share_of_load(exact(1.0), exact(-1.0))


def reactions(span: float, end: float, loads: list[tuple[float, float]]) -> tuple[float, float]:
    """Reactions of a beam on supports at 0 and ``span`` by sympy's Beam, exact rationals."""
    low = min([0.0, *(x for _, x in loads)])
    high = max([end, span, *(x for _, x in loads)])
    e, i, r1, r2 = (Symbol(name) for name in ("E", "I", "R1", "R2"))

    def at(x: float) -> Rational:
        return Rational(x) - Rational(low)

    beam = Beam(at(high) + 1, e, i)
    beam.apply_load(r1, at(0.0), -1)
    beam.apply_load(r2, at(span), -1)
    for weight, x in loads:
        beam.apply_load(-Rational(weight), at(x), -1)
    beam.bc_deflection = [(at(0.0), 0), (at(span), 0)]
    beam.solve_for_reaction_loads(r1, r2)
    found = beam.reaction_loads
    return float(found[r1]), float(found[r2])


def added(one: Rig, index: int, body: str) -> list[tuple[float, float]]:
    """What a case adds to the stated state: (mass, arm) of every load of a body, from the file alone."""
    now, state = case_aboard(one, one.cases[index], index), empty_aboard(one)
    out = []
    for load in all_loads(one):
        share, was = now.shares[load.key], state.shares[load.key]
        assert share is not None
        assert was is not None
        if load.body == body and share != was:
            assert load.full is not None
            assert load.arm is not None
            out.append((load.full * (share - was), load.arm))
    return out


@pytest.mark.parametrize("name", DEMO)
def test_demo_trailers_agree_with_a_beam_solver(name: str) -> None:
    """Ball and axle group carry what sympy 1.14's Beam says they carry, to 1e-9."""
    one = replace(demo(name), weighings=())
    empty, span = one.trailer.empty, one.trailer.axles.ball_to_center
    assert empty.weight is not None
    assert empty.tongue is not None
    assert span is not None
    centre = span.si * (1 - empty.tongue.si / empty.weight.si)
    for index, case in enumerate(compute(one).cases):
        loads = [(empty.weight.si, centre), *added(one, index, "trailer")]
        ball, axles = reactions(span.si, span.si, loads)
        assert case.figures["tongue_weight"].value == pytest.approx(ball, rel=1e-9)
        assert case.figures["trailer_axle_load"].value == pytest.approx(axles, rel=1e-9)


@pytest.mark.parametrize("name", DEMO)
def test_demo_vehicles_agree_with_a_beam_solver(name: str) -> None:
    """Front and rear axle carry what sympy's Beam says, tongue and gear at the coupling."""
    one = replace(demo(name), weighings=())
    driver, seat = one.vehicle.curb.includes.driver, next(iter(one.vehicle.seats.values()))
    wheelbase, overhang = one.vehicle.wheelbase, one.vehicle.overhang
    assert wheelbase is not None
    assert overhang is not None
    assert driver is not None
    half = stated(one).vehicle
    assert half is not None
    weight, front_curb, gear = half.weight.sure, half.front.sure, half.gear.sure
    centre = wheelbase.si * (1 - front_curb / weight)
    for index, case in enumerate(compute(one).cases):
        tongue = case.figures["tongue_weight"].value
        assert tongue is not None
        loads = [(weight, centre), (gear + tongue, wheelbase.si + overhang.si)]
        loads.append((-driver.si, wheelbase.si - seat.si))
        loads += [(m, wheelbase.si - arm) for m, arm in added(one, index, "vehicle")]
        front, rear = reactions(wheelbase.si, wheelbase.si, loads)
        assert case.figures["vehicle_front_axle"].value == pytest.approx(front, rel=1e-9)
        assert case.figures["vehicle_rear_axle"].value == pytest.approx(rear, rel=1e-9)


amounts = st.floats(1, 900)
places = st.floats(0.2, 7)


@given(st.lists(st.tuples(amounts, places), max_size=6), st.floats(-1.5, 2.0), st.floats(2, 6))
def test_vertical_load_is_conserved(loads: list[tuple[float, float]], overhang: float, span: float) -> None:
    items = [item(f"item {i}", f"{m} kg", f"{x} m") for i, (m, x) in enumerate(loads)]
    pulls = vehicle("1,100 kg", "900 kg", "3 m", f"{overhang:.6f} m")
    one = rig(pulls, trailer("700 kg", "60 kg", f"{span:.6f} m", *items), gear="20 kg")
    (case,) = compute(one, deep=False).cases
    found = {name: case.figures[name].value or 0.0 for name in case.figures}
    whole = 2000 + 20 + 700 + sum(m for m, _ in loads)
    ground = found["vehicle_front_axle"] + found["vehicle_rear_axle"] + found["trailer_axle_load"]
    assert ground == pytest.approx(whole, rel=1e-12)
    assert found["combination_weight"] == pytest.approx(whole, rel=1e-12)
    assert found["tongue_weight"] + found["trailer_axle_load"] == pytest.approx(found["trailer_weight"])


@given(amounts, places, st.floats(0.01, 4))
def test_moving_rearward_never_raises_the_tongue(weight: float, place: float, further: float) -> None:
    pulls = vehicle("1,100 kg", "900 kg", "3 m", "1 m")

    def tongue(x: float) -> float:
        one = rig(pulls, trailer("700 kg", "60 kg", "4 m", item("item", f"{weight} kg", f"{x} m")))
        value = compute(one, deep=False).cases[0].figures["tongue_weight"].value
        assert value is not None
        return value

    assert tongue(place + further) < tongue(place)


def test_driver_in_the_curb_weight_is_not_counted_twice() -> None:
    """A European curb weight with its 75 kg driver, and the driver listed as an occupant."""
    pulls = vehicle("900 kg", "700 kg", "2.7 m", "1 m")
    pulls = replace(
        pulls,
        curb=replace(pulls.curb, includes=CurbState(driver=mass("75 kg"))),
        seats={"front": length("1.4 m")},
    )
    one = rig(pulls, trailer("700 kg", "60 kg", "4 m"), [Case(name="going")])
    one = replace(one, occupants=(Occupant(name="driver", weight=mass("75 kg"), seat="front"),))
    (case,) = compute(one).cases
    assert case.figures["vehicle_alone"].value == pytest.approx(1600, rel=1e-12)
    assert case.figures["front_alone"].value == pytest.approx(900, rel=1e-12)


@pytest.mark.parametrize("name", DEMO)
def test_levers_are_differences_of_the_whole_computation(name: str) -> None:
    """Each load is changed by itself; every weight moves by its lever, every ratio to first order."""
    model = stated(demo(name))
    now = case_aboard(model.rig, model.rig.cases[0], 0)
    here, step, checked = statics(model, now), 1e-3, 0
    for i, load in enumerate(model.loads):
        share = now.shares[load.key]
        assert share is not None
        assert load.full is not None
        up, down = (
            statics(model, Aboard({**now.shares, load.key: share + sign * step}, now.needs))
            for sign in (1, -1)
        )
        for figure, number in here.items():
            if number.value is None or load.full == 0.0:
                continue
            found = (up[figure].sure - down[figure].sure) / (2 * step * load.full)
            assert found == pytest.approx(number.levers.get(i, 0.0), rel=1e-5, abs=1e-8), (figure, load.key)
            checked += 1
    assert checked > 50


@pytest.mark.parametrize("name", DEMO)
def test_a_weight_is_its_base_and_what_the_loads_add(name: str) -> None:
    model = stated(demo(name))
    for index, case in enumerate(model.rig.cases):
        now = case_aboard(model.rig, case, index)
        for figure, number in statics(model, now).items():
            if not moved_by_loads(figure) or number.value is None:
                continue
            total = number.base or 0.0
            for i, lever in number.levers.items():
                load = model.loads[i]
                total += (
                    lever
                    * (load.full or 0.0)
                    * ((now.shares[load.key] or 0.0) - (model.state.shares[load.key] or 0.0))
                )
            assert number.value == pytest.approx(total, rel=1e-9, abs=1e-9), figure


def with_tank(**changes: object) -> Rig:
    """A trailer with one tank, full in its only case and empty when it was weighed."""
    tank = Tank(holds="fresh", capacity=parse("40 gal", "volume"), x=length("100 in"), y=length("0 in"))
    tank = replace(tank, **changes)  # type: ignore[arg-type]  # fields of the record, by the caller
    pulled = trailer("2,000 lb", "200 lb", "200 in")
    empty = replace(
        pulled.empty, includes=replace(pulled.empty.includes, tanks={"fresh": parse("0 %", "fraction")})
    )
    pulled = replace(pulled, tanks={"fresh": tank}, empty=empty)
    full = Case(name="full", tanks={"fresh": parse("100 %", "fraction")})
    return rig(vehicle("2,000 lb", "2,000 lb", "120 in", "40 in"), pulled, [full])


def asked(one: Rig, figure: str) -> list[str]:
    """What is missing for a figure of the only case."""
    made = compute(one).cases[0].figures[figure]
    assert (made.value is None) == bool(made.needs)
    return [n.path for n in made.needs]


def test_what_is_missing_is_asked_for() -> None:
    whole = with_tank()
    assert asked(whole, "tongue_weight") == []
    assert asked(with_tank(capacity=None), "tongue_weight") == ["trailer.tanks.fresh.capacity"]
    assert asked(with_tank(x=None), "tongue_weight") == ["trailer.tanks.fresh.x"]
    assert asked(with_tank(x=None), "trailer_weight") == []
    open_case = replace(whole, cases=(Case(name="open"),))
    assert asked(open_case, "tongue_weight") == ["cases[0].tanks.fresh"]
    bare = replace(whole, trailer=replace(whole.trailer, empty=replace(whole.trailer.empty, tongue=None)))
    assert asked(bare, "tongue_weight") == ["trailer.empty.tongue"]
    long = replace(
        whole, trailer=replace(whole.trailer, axles=replace(whole.trailer.axles, ball_to_center=None))
    )
    assert asked(long, "tongue_weight") == ["trailer.axles.ball_to_center"]
    sideways = replace(with_tank(y=None), trailer=replace(with_tank(y=None).trailer, empty=replace(
        whole.trailer.empty, left_minus_right=mass("0 lb"))))  # fmt: skip
    assert asked(sideways, "right_wheels") == ["trailer.tanks.fresh.y"]


def test_what_does_not_matter_is_not_asked_for() -> None:
    empty = (Case(name="empty", tanks={"fresh": parse("0 %", "fraction")}),)
    for unknown in ({"capacity": None}, {"x": None}):
        assert asked(replace(with_tank(**unknown), cases=empty), "tongue_weight") == []  # unchanged
    at_axle = replace(with_tank(x=length("200 in")), cases=(Case(name="open"),))
    assert asked(at_axle, "tongue_weight") == []  # has no lever
    nothing = replace(with_tank(capacity=parse("0 gal", "volume")), cases=(Case(name="open"),))
    assert asked(nothing, "tongue_weight") == []  # weighs nothing


def test_unknown_place_is_never_taken_as_zero() -> None:
    """Even a load that asks for nothing leaves the total unknown."""
    one = with_tank(x=None)
    bare = replace(all_loads(one)[0], arm_needs=())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("cardgen.physics.load_model.all_loads", lambda _: (bare,))
        model = stated(one)
        found = statics(model, case_aboard(one, one.cases[0], 0))["tongue_weight"]
    assert found.value is None
    assert found.needs


def test_trailer_by_itself() -> None:
    """Without a vehicle the trailer's own figures are there and the others are not."""
    model = stated(demo("heron"))
    now = case_aboard(model.rig, model.rig.cases[0], 0)
    alone = statics(replace(model, vehicle=None), now)
    both = statics(model, now)
    assert alone["tongue_weight"].value == both["tongue_weight"].value
    assert {"trailer_weight", "axle_1", "left_wheels", "tongue_share", "cargo_weight"} <= set(alone)
    assert not {"vehicle_weight", "combination_weight", "front_axle_engaged"} & set(alone)


def test_people_that_were_on_the_scale_count_against_the_placard() -> None:
    """Weighed with its riders, the vehicle still carries them: the placard's use is what is aboard."""
    one = demo("wren")
    alone = AxleReadings(front=mass("2,500 lb"), rear=mass("1,900 lb"))
    visit = Weighing(date=dt.date(2026, 10, 3), case="leaving home", alone=alone, anchor=True)
    before, after = (compute(r).cases[0] for r in (one, replace(one, weighings=(visit,))))
    assert after.figures["placard_used"].value == pytest.approx(before.figures["placard_used"].value)


def reads(room: Path) -> list[str]:
    """Places in a room's source that read ``ball_to_center`` of something."""
    found = []
    for path in sorted(room.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Attribute) and node.attr == "ball_to_center":
                found.append(f"{path.name}:{node.lineno}")
    return found


def test_the_length_to_the_axles_is_read_once() -> None:
    """Once in the physics, once in the checks of meaning: everything else is handed it."""
    package = Path(cardgen.__file__).parent
    for room in ("physics", "model/sense"):
        assert len(reads(package / room)) == 1, reads(package / room)
