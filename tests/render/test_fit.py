"""Choosing type sizes and numbers of faces."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.present.blocks import Card, CheckLine, ChecklistBlock, CheckPhase
from cardgen.render.atoms import Atom
from cardgen.render.fit import Fitter, pack
from cardgen.render.html import default_gap
from cardgen.render.scale import FLOORS, Scale
from cardgen.render.sizes import SIZES, TypeRange, UnknownSizeError, size_of
from cardgen.render.survey import Survey
from tests.each import each
from tests.render import samples

pieces = st.lists(
    st.builds(
        Atom,
        st.floats(1, 40),
        st.floats(0, 5),
        st.booleans(),
    ),
    max_size=40,
)


@given(pieces)
def test_packing_holds_everything_and_wastes_no_page(atoms: list[Atom]) -> None:
    pages, rest = pack(atoms, (100.0, 100.0))
    total = sum(atom.height for atom in atoms)
    assert pages >= total / 100 - 1e-9
    assert pages <= max(1, len(atoms))
    assert rest <= 100.0
    wide, _ = pack(atoms, (100_000.0, 100_000.0))
    assert wide == 1


@given(pieces, st.floats(1.0, 2.0))
def test_more_room_never_needs_more_pages(atoms: list[Atom], factor: float) -> None:
    plain = [replace(atom, keep=False) for atom in atoms]
    small, _ = pack(plain, (100.0, 100.0))
    large, _ = pack(plain, (100.0 * factor, 100.0 * factor))
    assert large <= small


def test_a_heading_is_not_left_alone() -> None:
    atoms = [Atom(60), Atom(30, keep=True), Atom(30)]
    assert pack(atoms, (100.0, 100.0)) == (2, 40.0)
    assert pack(atoms[:2], (100.0, 100.0)) == (1, 10.0)


def test_two_columns_hold_twice_as_much() -> None:
    atoms = [Atom(30)] * 6
    assert pack(atoms, (100.0, 100.0))[0] == 2
    assert pack(atoms, (100.0, 100.0), columns=2)[0] == 1


def test_the_largest_size_that_fits_is_taken() -> None:
    small = replace(samples.glovebox(), flow=())
    few = replace(small, faces=(replace(small.faces[0], blocks=small.faces[0].blocks[:2]),))
    assert Fitter(few, SIZES["half-letter"], False).plan().faces[0].pt == 12.0
    assert Fitter(small, SIZES["half-letter"], False).plan().faces[0].pt == 10.0


def items(count: int) -> Card:
    """A card with a checklist of so many one-line items."""
    lines = tuple(CheckLine(f"Item {n}", "done") for n in range(count))
    return replace(samples.glovebox(), flow=(ChecklistBlock("", (CheckPhase("Phase", "", lines),)),))


@settings(deadline=None)
@given(st.integers(1, 200), st.sampled_from([s for s in SIZES if s != "wallet"]), st.booleans())
def test_faces_are_even_and_type_stays_in_its_range(count: int, size: str, large: bool) -> None:
    paper = SIZES[size]
    fitter = Fitter(items(count), paper, large)
    plan = fitter.plan()
    sizes = (paper.large if large else paper.type).sizes()
    assert sum(fitter.predicted.values()) % 2 == 0
    assert plan.flow.pt in sizes
    assert all(part.pt in sizes for part in plan.faces)
    assert all(part.gap is None or part.gap > 0.4 * default_gap(part.pt) for part in plan.faces)


def test_more_items_never_get_larger_type_on_as_many_faces() -> None:
    size = SIZES["half-letter"]
    before = (0, 99.0)
    for count in range(5, 120, 3):
        fitter = Fitter(items(count), size, False)
        plan = fitter.plan()
        now = (fitter.predicted["flow"], plan.flow.pt)
        if now[0] == before[0]:
            assert now[1] <= before[1]
        assert now[0] >= before[0] or now[0] % 2 == before[0] % 2
        before = now


def test_a_wrong_prediction_makes_heights_larger() -> None:
    fitter = Fitter(samples.glovebox(), SIZES["half-letter"], False)
    plan = fitter.plan()
    right = Survey(2, {"face1": (0, 0), "flow": (1, 1)})
    assert fitter.replan(right, plan) is None
    wrong = Survey(3, {"face1": (0, 0), "flow": (1, 2)})
    other = fitter.replan(wrong, plan)
    assert other is not None
    assert other.flow.pt < plan.flow.pt
    assert fitter.even(plan).notes is not None
    assert fitter.even(fitter.even(plan)) == plan


def test_type_range() -> None:
    assert TypeRange(12, 10).sizes() == (12, 11.5, 11, 10.5, 10)
    assert TypeRange(10, 10).sizes() == (10,)


@each("size", list(SIZES))
def test_no_range_goes_under_its_floor(size: str) -> None:
    assert SIZES[size].type.floor >= FLOORS["item"]
    assert SIZES[size].large.floor >= 14


@given(st.floats(10, 18))
def test_no_class_goes_under_its_floor(item: float) -> None:
    scale = Scale(item)
    assert scale.head >= FLOORS["head"]
    assert scale.key >= 14
    assert scale.table >= FLOORS["table"]
    assert scale.note >= FLOORS["note"]
    # Z535.2 as reprinted: signal words at least half again as tall as the message's capitals
    # need not hold for grouped messages; larger than the message they are.
    assert scale.verdict > item


def test_unknown_size_lists_the_known_ones() -> None:
    assert size_of("a6").width == 105
    with pytest.raises(UnknownSizeError, match="half-letter, a5, 4x6"):
        size_of("a7")
