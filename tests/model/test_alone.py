"""A trailer without a vehicle and a vehicle without a trailer: what the file then says, and what it does not."""

from __future__ import annotations

import dataclasses
import datetime as dt
from pathlib import Path

from cardgen.bundle.reading import read_rig
from cardgen.model.rig import Rig
from cardgen.model.vehicle import NoVehicle
from cardgen.present.cards import KINDS, usual
from tests.model.thimble import codes
from tests.source.memory import Memory

DATA = Path(__file__).parents[1] / "data" / "rigs"
DAY = dt.date(2026, 11, 28)
LEFT: tuple[object, ...] = (None, False, (), {})
"""What a field says that says nothing [-]."""


def read(text: str) -> tuple[Rig | None, list[str]]:
    found = read_rig(Path("r.yaml"), Memory({"r.yaml": text}))
    return found.rig, [fault.code for fault in found.faults]


HEAD = "nickname: Thimble\nmarket: us\ncases: [{name: out}]\n"


def test_one_of_both_may_be_left_out_and_not_both() -> None:
    trailer, none = read(HEAD + "trailer: {type: ball, body: utility}\n")
    assert (trailer and trailer.alone, none) == ("trailer", [])
    vehicle, none = read(HEAD + "vehicle: {kind: suv}\n")
    assert (vehicle and vehicle.alone, none) == ("vehicle", [])
    pair, none = read(HEAD + "trailer: {type: ball, body: utility}\nvehicle: {kind: unknown}\n")
    assert (pair and pair.alone, none) == (None, []), "a vehicle of which nothing is known is a vehicle"
    assert read(HEAD) == (None, ["key-missing"])
    assert codes(trailer="gvwr: 5") != [], "a fault in a group does not make it absent"


def test_a_faulty_vehicle_is_not_a_missing_one() -> None:
    """What could not be read is told once, and nothing is said of the seats or of a missing half."""
    people = "occupants: [{name: driver, seat: front}]\n"
    both = "trailer: {type: ball, body: utility}\n"
    assert read(HEAD + both + people + "vehicle: 5\n") == (None, ["node-kind"])
    assert read(HEAD + people + "vehicle: 5\n") == (None, ["node-kind"])
    assert read(HEAD + both + people)[1] == [], "people are nobody's while there is no vehicle"


def test_nothing_is_known_of_a_vehicle_that_is_not_there() -> None:
    """The stand-in claims nothing: no field, at any depth, has a value, a count or a yes."""

    def said(thing: object, path: str = "") -> list[str]:
        if dataclasses.is_dataclass(thing):
            return [
                one
                for f in dataclasses.fields(thing)
                for one in said(getattr(thing, f.name), f"{path}.{f.name}")
            ]
        return [] if any(thing is no or thing == no for no in LEFT) else [path]

    assert said(NoVehicle()) == []


def test_a_bed_hitch_alone_is_no_fault() -> None:
    """Nor is a trailer whose hitch in the bed nobody knows."""
    assert read(HEAD + "vehicle: {kind: pickup, bed_hitch: {kind: gooseneck}}\n")[1] == []
    assert read(HEAD + "trailer: {type: fifth_wheel, body: travel_trailer}\n")[1] == []


def test_the_usual_cards_are_those_that_can_be_made() -> None:
    trailer, vehicle = read_rig(DATA / "trailer_only.yaml").rig, read_rig(DATA / "vehicle_only.yaml").rig
    assert trailer is not None
    assert vehicle is not None
    plain = ("glovebox-card", "departure-card", "tire-tag", "loading-card", "must-have-sheet")
    assert usual(dataclasses.replace(trailer, use="private")) == plain
    assert set(usual(trailer)) == {*plain, "borrower-sheet"}
    assert usual(vehicle) == ("may-tow-sheet",)
    for rig in (trailer, vehicle):
        assert [name for name in usual(rig) if not KINDS[name].fits(rig)] == []
