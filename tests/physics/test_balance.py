"""Statics against textbook problems and an independent beam solver."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sympy import Rational, Symbol  # type: ignore[import-untyped]  # sympy ships no types
from sympy.physics.continuum_mechanics.beam import Beam  # type: ignore[import-untyped]  # the same

from cardgen.model.results import CaseResult
from cardgen.model.rig import Case, Occupant, Rig
from cardgen.model.vehicle import CurbState
from cardgen.physics.balance import front_share_of_load, tongue_share_of_load
from cardgen.physics.compute import compute
from cardgen.physics.footing import stated
from cardgen.physics.loads import all_loads, case_aboard, empty_aboard
from tests.physics.build import DEMO, INCH, POUND, carried, demo, item, length, mass, rig, trailer, vehicle

NEWTON = 9.81  # the value the textbooks below use


def pounds(case: CaseResult, figure: str) -> float:
    """A figure of a case in pounds."""
    value = case.figures[figure].value
    assert value is not None, case.figures[figure].needs
    return value / POUND


def test_trailer_on_a_ball() -> None:
    """Beer & Johnston, Vector Mechanics for Engineers: Statics, ch. 6 prob. 6.95 (solution sheet).

    Trailer 2400 lb, centre of gravity 2 ft ahead of the axle, ball 11 ft ahead of it; truck
    2900 lb, wheelbase 9 ft, centre of gravity 5 ft ahead of the rear axle, ball 3 ft behind.
    Published per wheel: trailer 982, rear 935, front 733; changes +291 and -72.7.
    """
    pulled = trailer("2,400 lb", f"{2400 * 2 / 11} lb", "11 ft")
    pulls = vehicle(f"{2900 * 5 / 9} lb", f"{2900 * 4 / 9} lb", "9 ft", "3 ft")
    (case,) = compute(rig(pulls, pulled)).cases
    assert pounds(case, "tongue_weight") == pytest.approx(436.36, abs=0.005)
    assert pounds(case, "trailer_axle_load") / 2 == pytest.approx(982, abs=0.5)
    assert pounds(case, "vehicle_rear_axle") / 2 == pytest.approx(935, abs=0.5)
    assert pounds(case, "vehicle_front_axle") / 2 == pytest.approx(733, abs=0.5)
    rear = (pounds(case, "vehicle_rear_axle") - pounds(case, "rear_alone")) / 2
    front = (pounds(case, "vehicle_front_axle") - pounds(case, "front_alone")) / 2
    assert rear == pytest.approx(291, abs=0.5)
    assert front == pytest.approx(-72.7, abs=0.05)


def test_pickup_with_bed_loads() -> None:
    """Beer & Johnston prob. 4.1: two 350 kg crates, one behind the rear axle.

    1400 kg truck, centre of gravity 1.2 m behind the front axle, wheelbase 3 m; crates 2.05 m
    and 3.75 m behind the front axle. Published per wheel, g 9.81: rear 6.07 kN; front 4.2347 kN
    (the slide prints 4.24, rounded from 8.47/2).
    """
    pulls = vehicle("840 kg", "560 kg", "3 m", "1 m")
    pulls = replace(
        pulls,
        cargo=(carried("first crate", "350 kg", "0.95 m"), carried("second crate", "350 kg", "-0.75 m")),
    )
    (case,) = compute(rig(pulls, trailer("1 kg", "0 kg", "3 m"))).cases
    rear, front = (pounds(case, name) * POUND for name in ("rear_alone", "front_alone"))
    assert rear == pytest.approx(1236.667, abs=5e-4)
    assert front == pytest.approx(863.333, abs=5e-4)
    assert rear * NEWTON / 2000 == pytest.approx(6.0659, abs=5e-5)
    assert front * NEWTON / 2000 == pytest.approx(4.2347, abs=5e-5)


def test_evenly_loaded_utility_trailer() -> None:
    """Engineer's example in the trade press: L 100 in, load centre 88 in, 800 lb with 80 lb, gross 2500.

    Published tongue 284 lb. The published 11.86 % is a slip; 284/2500 is 11.36 %.
    """
    pulled = trailer("800 lb", "80 lb", "100 in", item("load", "1,700 lb", "88 in"))
    (case,) = compute(rig(vehicle("2,000 lb", "2,000 lb", "120 in", "40 in"), pulled)).cases
    assert pounds(case, "tongue_weight") == pytest.approx(284, abs=1e-9)
    assert case.figures["tongue_share"].value == pytest.approx(0.1136, abs=1e-12)
    assert case.figures["tongue_share"].value != pytest.approx(0.1186, abs=5e-5)


def test_negative_tongue() -> None:
    """Course problem: 220 kg trailer, centre of gravity 1.85 m, axle 2.15 m behind the coupler.

    Ball force 301.14 N empty, -2532.35 N with 540 kg at 3.30 m, axle 9987.95 N; zero with the
    load at 2.2722 m (g 9.81; answers recomputed).
    """
    pulls = vehicle("900 kg", "900 kg", "2.7 m", "1 m")
    empty = 220 * (1 - 1.85 / 2.15)
    assert empty * NEWTON == pytest.approx(301.14, abs=5e-3)
    pulled = trailer("220 kg", f"{empty} kg", "2.15 m", item("load", "540 kg", "3.3 m"))
    (case,) = compute(rig(pulls, pulled)).cases
    tongue, axle = case.figures["tongue_weight"].value, case.figures["trailer_axle_load"].value
    assert tongue is not None
    assert axle is not None
    assert tongue * NEWTON == pytest.approx(-2532.35, abs=5e-3)
    assert axle * NEWTON == pytest.approx(9987.95, abs=5e-3)
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
        front_share_of_load(1.0, -1.0)


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
    one = demo(name)
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
    one = demo(name)
    driver, seat = one.vehicle.curb.includes.driver, next(iter(one.vehicle.seats.values()))
    wheelbase, overhang = one.vehicle.wheelbase, one.vehicle.overhang
    assert wheelbase is not None
    assert overhang is not None
    assert driver is not None
    base = stated(one).base
    assert base.vehicle is not None
    assert base.front is not None
    assert base.gear is not None
    centre = wheelbase.si * (1 - base.front / base.vehicle)
    for index, case in enumerate(compute(one).cases):
        tongue = case.figures["tongue_weight"].value
        assert tongue is not None
        loads = [(base.vehicle, centre), (base.gear + tongue, wheelbase.si + overhang.si)]
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
