"""The sheets of a trailer without a vehicle and of a vehicle without a trailer, as view models and as PDF."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pypdfium2

from cardgen.bundle.reading import read_rig
from cardgen.model.results import Outcome
from cardgen.model.vehicle import NoVehicle
from cardgen.present.blocks import KeyNumbers
from cardgen.present.cards import KINDS, must_have
from cardgen.present.prepare import prepare
from cardgen.present.rig_view import RigView
from cardgen.render.pdf import render_card
from cardgen.render.sizes import size_of
from cardgen.units import Quantity

ROOT = Path(__file__).parents[2]
DAY = dt.date(2026, 11, 28)
POUND = 0.45359237


@cache
def view(name: str) -> RigView:
    rig = read_rig(ROOT / "tests" / "data" / "rigs" / f"{name}.yaml").rig
    assert rig is not None
    return prepare(rig, DAY)


def without(demo: str) -> RigView:
    """A demo rig's trailer without its vehicle."""
    rig = read_rig(ROOT / "rigs" / f"{demo}.yaml").rig
    assert rig is not None
    return prepare(replace(rig, vehicle=NoVehicle(), occupants=(), weighings=()), DAY)


def printed(name: str, card: str) -> str:
    """Text of a card's PDF, which must be made without a problem."""
    made = render_card(KINDS[card].make(view(name)), size_of("letter"))
    assert list(made.problems) == []
    assert made.pdf is not None
    pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(made.pdf)]
    return re.sub(r"\s+", " ", " ".join(pages))


def test_the_least_of_all_may_be_loaded() -> None:
    """The label says less than GVWR less empty (6,400 - 4,760 lb) and than the axles."""
    heron = without("heron")
    most, why = must_have.may_load(heron)
    assert most is not None
    assert (round(most / POUND), why) == (1620, "{cargo_label}")
    bare = replace(heron.rig, trailer=replace(heron.rig.trailer, cargo_capacity=None))
    most, why = must_have.may_load(prepare(bare, DAY))
    assert most is not None
    assert round(most / POUND) == 1640
    assert why == "its {trailer_rating} less empty; not read: {cargo_label}"
    light = tuple(Quantity(2500 * POUND, "mass") for _ in range(2))
    weak = replace(heron.rig.trailer, axles=replace(heron.rig.trailer.axles, gawr=light))
    most, why = must_have.may_load(prepare(replace(heron.rig, trailer=weak), DAY))
    assert most is not None
    assert (round(most / POUND), why) == (round(5000 / 0.9 - 4760), "its axles, 10\xa0% {on_tongue}")


def test_the_tongue_is_that_of_the_band_or_the_largest_of_all_fillings() -> None:
    heron = without("heron")
    load, told = must_have.tongue(heron)
    assert load is not None
    assert round(load / POUND) == 960
    told = told.replace("\u00a0", " ")
    assert told.startswith("15 % of 6,400")
    reach = heron.assessment.computed.envelope["tongue_weight"].high
    assert reach is not None
    assert f"reaches {reach / POUND:.0f}" in told
    light = replace(heron.rig, trailer=replace(heron.rig.trailer, gvwr=Quantity(4800 * POUND, "mass")))
    assert must_have.tongue(prepare(light, DAY)) == (reach, "the largest of all fillings")
    load, told = must_have.tongue(view("trailer_only"))
    assert load is not None
    assert (round(load / POUND), told.split(";")[0]) == (1000, "the {coupler} bears no more")


def test_what_is_not_known_is_a_blank() -> None:
    heron = without("heron").rig
    rig = replace(heron, trailer=replace(heron.trailer, gvwr=None, connector=None))
    made = {one.what: one.needed for one in must_have.needs(prepare(rig, DAY))}
    blank = [what for what, needed in made.items() if needed == must_have.BLANK]
    assert blank[0].startswith("Tow rating, ")
    assert any(what.startswith("Socket") for what in blank)
    front = KINDS["must-have-sheet"].make(prepare(rig, DAY)).faces[0].blocks
    keys = next(block for block in front if isinstance(block, KeyNumbers))
    assert keys.rows[0].value == keys.rows[2].value == must_have.BLANK


def test_the_trailers_sheet_as_pdf() -> None:
    text = printed("trailer_only", "must-have-sheet")
    for words in (
        "7,000 lb", "4,790 lb", "cargo label", "1,000 lb", "2 in", "7-way blade", "Points to hook on for 2 chains", "200 ft behind",
        "What the vehicle carries", "18 in", "One empty: not checked, so not a yes", "Customer, name and signature",
    ):  # fmt: skip
        assert words in text.replace("\u00a0", " "), words


def test_the_vehicles_sheet_as_pdf() -> None:
    """GCWR 14,000 lb less 5,000 lb, 200 lb of driver and 15 lb of gear leave 8,785 lb."""
    text = printed("vehicle_only", "may-tow-sheet").replace("\u00a0", " ")
    for words in (
        "8,000 lb",
        "8,785 lb",
        "(5,215 lb)",
        "1,685 lb",
        "1,700 lb",
        "6,000 lb",
        "fitted",
        "read it first",
    ):
        assert words in text, words
    assert view("vehicle_only").assessment.outcome() is Outcome.NOT_CHECKED


def test_the_borrowers_sheet_asks_what_the_vehicle_has() -> None:
    text = printed("trailer_only", "borrower-sheet")
    assert "The vehicle must have" in text
    assert "yes / no" in text
    assert "rated for 7,000 lb and 1,000 lb tongue weight" in text.replace("\u00a0", " ")


def test_no_card_of_a_trailer_prints_a_vehicles_number() -> None:
    front = repr(KINDS["glovebox-card"].make(view("trailer_only")).faces[0])
    assert "Vehicle front" not in front
    assert "Trailer within every limit" in front
    assert "27 not checked: no vehicle in this file" in front
    assert "Vehicle" not in repr(KINDS["tire-tag"].make(view("trailer_only")).faces)
