"""Loads of a rig: masses, places, what each case and the stated state hold aboard."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen.model.parts import Cylinder, Fuel, Tank
from cardgen.model.rig import Case
from cardgen.model.trailer import EmptyState
from cardgen.physics.aboard import called
from cardgen.physics.compute import compute
from cardgen.physics.loads import all_loads, case_aboard, empty_aboard
from cardgen.units import Quantity
from cardgen.units.parse import parse
from tests.each import each
from tests.physics.build import POUND, demo, item, length, mass, rig, trailer, vehicle

PULLS = vehicle("2,000 lb", "2,000 lb", "120 in", "40 in")


def volume(text: str) -> Quantity:
    """A volume as written in a rig file."""
    return parse(text, "volume")


def fill(share: float) -> Quantity:
    """A filling as a share."""
    return Quantity(share, "fraction", None, str(share))


def test_water_by_density() -> None:
    """40 US gal at 20 C is 333.2 lb at 8.33 lb/gal (IAPWS-95 by iapws 1.5.5: 8.3304)."""
    tanks = {"fresh": Tank(holds="fresh", capacity=volume("40 gal"), x=length("200 in"))}
    one = rig(PULLS, replace(trailer("3,000 lb", "400 lb", "220 in"), tanks=tanks))
    load, _ = all_loads(one)  # and a driver
    assert load.full is not None
    assert load.full / POUND == pytest.approx(333.2, abs=0.05)
    assert load.sort == "fresh"


def test_gas_is_42_percent_of_the_stamped_water_capacity() -> None:
    """WAC 296-307-41037 Table U-4: 47.6 lb of water gives 19.992 lb of propane."""
    cylinder = Cylinder(water_capacity=mass("47.6 lb"), tare=mass("17.5 lb"), x=length("15 in"))
    one = rig(PULLS, replace(trailer("3,000 lb", "400 lb", "220 in"), cylinders={"left": cylinder}))
    gas, steel, _ = all_loads(one)
    assert gas.full is not None
    assert gas.full / POUND == pytest.approx(19.992, abs=5e-4)
    assert steel.full == pytest.approx(17.5 * POUND)


@each("size", ["6 kg", "3.9 kg", "7 kg", "11 kg", "13 kg", "4.5 kg", "8.5 kg", "9 kg", "15 kg", "33 lb"])
def test_a_size_is_the_gas_it_is_sold_for(size: str) -> None:
    """Usual sizes of Britain, Europe, Australia and New Zealand, propane or butane; no stamp is asked for."""
    cylinder = Cylinder(size=mass(size), tare=mass("7 kg"), x=length("15 in"))
    one = rig(PULLS, replace(trailer("3,000 lb", "400 lb", "220 in"), cylinders={"left": cylinder}))
    gas = all_loads(one)[0]
    assert gas.full == pytest.approx(mass(size).si, rel=0.03)  # a usual stamp may say a little more
    assert gas.mass_needs == ()


def test_volume_filling_is_that_volume() -> None:
    tanks = {"fresh": Tank(holds="fresh", capacity=volume("40 gal"), x=length("200 in"))}
    pulled = replace(trailer("3,000 lb", "400 lb", "220 in"), tanks=tanks)
    pulled = replace(pulled, empty=replace(pulled.empty, includes=EmptyState(tanks={"fresh": fill(0.0)})))
    one = rig(PULLS, pulled, [Case(name="out", tanks={"fresh": volume("10 gal")})])
    assert case_aboard(one, one.cases[0], 0).shares["tank.fresh"] == pytest.approx(0.25)
    found = compute(one).cases[0].figures["water_weight"].value
    assert found is not None
    assert found / POUND == pytest.approx(83.3, abs=0.05)


def test_sets_people_and_what_stays_at_home() -> None:
    one = demo("wren")
    case = replace(one.cases[0], without=("left", "house battery"), cargo=("camping",), occupants=("driver",))
    shares = case_aboard(one, case, 0).shares
    assert shares["gas.left"] == shares["cylinder.left"] == shares["battery.house battery"] == 0.0
    assert shares["cargo.folding chairs"] == shares["cargo.galley box"] == 1.0
    assert shares["cargo.firewood"] == 0.0
    assert (shares["person.driver"], shares["person.passenger"]) == (1.0, 0.0)


def test_empty_state_takes_nothing_for_granted() -> None:
    """A tank the state does not mention is unknown, not empty."""
    one = demo("wren")
    bare = replace(one.trailer, empty=replace(one.trailer.empty, includes=EmptyState()))
    state = empty_aboard(replace(one, trailer=bare))
    assert state.shares["tank.fresh"] is None
    assert state.needs["tank.fresh"][0].path == "trailer.empty.includes.tanks.fresh"
    assert state.shares["cargo.galley box"] == 0.0


def test_same_place_is_one_input() -> None:
    """Gas and steel of a cylinder share their place, so its uncertainty is counted once."""
    gas, steel = (x for x in all_loads(demo("wren")) if x.key in ("gas.left", "cylinder.left"))
    assert gas.arm_from is not None
    assert gas.arm_from == steel.arm_from


def test_vehicle_without_a_fuel_tank() -> None:
    electric = replace(PULLS, fuel=Fuel(kind="none"))
    one = rig(electric, trailer("3,000 lb", "400 lb", "220 in", item("box", "10 lb", "9 ft")))
    assert [load.key for load in all_loads(one)] == ["cargo.box", "person.driver"]
    unknown = rig(replace(PULLS, fuel=None), trailer("3,000 lb", "400 lb", "220 in"))
    figure = compute(unknown).cases[0].figures["vehicle_alone"]
    assert figure.value is None
    assert {need.path for need in figure.needs} == {"cases[0].fuel", "vehicle.curb.includes.fuel"}


def test_a_kind_is_said_once() -> None:
    """A tank that its owner calls a tank, in any letters, is not a tank tank."""
    tanks = {"Fuel Tank": Tank(holds="diesel", capacity=volume("40 gal"), x=length("60 in"))}
    one = rig(PULLS, replace(trailer("3,000 lb", "400 lb", "220 in"), tanks=tanks))
    assert all_loads(one)[0].label == "Fuel Tank"
    assert [called(name, "tank") for name in ("fresh", "fresh tank")] == ["fresh tank"] * 2
