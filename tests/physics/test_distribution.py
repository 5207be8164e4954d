"""Weight distribution: worked examples, conservation, the three ways to state a target."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.model.gear import ArchHeights, WeightDistribution
from cardgen.model.results import CaseResult
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from cardgen.physics.distribution import (
    moment_for_restoration,
    restoration_from_arches,
    restoration_of_moment,
    shift,
)
from cardgen.physics.number import Number, exact
from cardgen.units import Quantity
from tests.physics.build import POUND, item, length, rig, trailer, vehicle


def plain(*values: float) -> list[Number]:
    """Numbers without uncertainty."""
    return [exact(value) for value in values]


def travel_trailer(bars: WeightDistribution | None) -> Rig:
    """F0 3420, R0 2780 lb, wb 145, h 64, W 6600, L 220 in, TW 820 lb (own numbers, solved as a hinged
    frame by a general-purpose frame program)."""
    one = rig(
        vehicle("3,420 lb", "2,780 lb", "145 in", "64 in"),
        trailer("6,600 lb", "820 lb", "220 in", count=2),
    )
    return replace(one, gear=replace(one.gear, weight_distribution=bars))


def pounds(case: CaseResult, name: str) -> float:
    """A figure in pounds."""
    value = case.figures[name].value
    assert value is not None, case.figures[name].needs
    return value / POUND


def engaged(bars: WeightDistribution) -> CaseResult:
    """The one case with the bars set."""
    (case,) = compute(travel_trailer(bars)).cases
    return case


@pytest.mark.parametrize(("share", "moved", "rear"), [(0.5, 92.394, -273.36), (1.0, 184.789, -546.720)])
def test_stated_restoration(share: float, moved: float, rear: float) -> None:
    case = engaged(WeightDistribution(restoration=Quantity(share, "fraction")))
    assert pounds(case, "trailer_axles_engaged") - 5780 == pytest.approx(moved, abs=5e-4)
    assert pounds(case, "rear_axle_engaged") - 3961.931 == pytest.approx(rear, abs=1e-3)
    assert pounds(case, "front_axle_engaged") - 3058.069 == pytest.approx(share * 361.931, abs=1e-3)


def test_arch_heights() -> None:
    """35 8/16, 36 0/16 and 35 11/16 in give 0.625."""
    assert restoration_from_arches(*plain(35.5, 36.0, 35 + 11 / 16)).value == pytest.approx(0.625)
    heights = ArchHeights(alone=length("35.5 in"), slack=length("36 in"), engaged=length("35 11/16 in"))
    case = engaged(WeightDistribution(arches=heights))
    assert case.figures["restoration"].value == pytest.approx(0.625)
    assert pounds(case, "front_axle_engaged") - 3058.069 == pytest.approx(0.625 * 361.931, abs=1e-3)
    with pytest.raises(ValueError, match="did not rise"):
        restoration_from_arches(*plain(36.0, 36.0, 35.0))


def test_worked_moment() -> None:
    """T 800 lb, e 50, wb 130, L2 210 in, 50 %: M 16,153.8 lb in, +153.8, -230.8, +76.9 lb."""
    moment = moment_for_restoration(*plain(0.5, 800, 50, 210))
    assert moment.value == pytest.approx(16153.846, abs=5e-4)
    moved = shift(moment, *plain(130, 50, 210))
    assert (moved.front.value, moved.rear.value, moved.trailer.value) == pytest.approx(
        (153.846, -230.769, 76.923), abs=5e-4
    )


def test_nothing_stated_is_asked_for() -> None:
    case = engaged(WeightDistribution())
    assert case.figures["front_axle_engaged"].value is None
    assert "gear.weight_distribution.restoration" in {n.path for n in case.figures["restoration"].needs}


def test_tongue_ratings_see_the_slack_weight() -> None:
    """The static tongue weight is the same whatever the bars do."""
    bars = [None, WeightDistribution(restoration=Quantity(1.2, "fraction"))]
    found = [pounds(compute(travel_trailer(one)).cases[0], "tongue_weight") for one in bars]
    assert found == pytest.approx([820, 820])


@given(st.floats(0, 3), st.floats(1, 500), st.floats(0.2, 2), st.floats(2, 4), st.floats(2, 8))
def test_moved_load_adds_up_to_nothing(
    share: float, tongue: float, overhang: float, wheelbase: float, length_: float
) -> None:
    lengths = plain(overhang, length_)
    moment = moment_for_restoration(*plain(share, tongue), *lengths)
    moved = shift(moment, exact(wheelbase), *lengths)
    assert (moved.front + moved.rear + moved.trailer).value == pytest.approx(0, abs=1e-9 * tongue)
    assert restoration_of_moment(moment, exact(tongue), *lengths).value == pytest.approx(share, abs=1e-12)
    assert moved.front.value == pytest.approx(share * tongue * overhang / wheelbase)


def test_bad_input_is_refused() -> None:
    with pytest.raises(ValueError, match="behind the rear axle"):
        moment_for_restoration(*plain(0.5, 100, 0.0, 4.0))
    with pytest.raises(ValueError, match="no front axle load"):
        restoration_of_moment(*plain(10.0, 0.0, 1.0, 4.0))
    with pytest.raises(ValueError, match="wheelbase"):
        shift(*plain(10.0, 0.0, 1.0, 4.0))


def test_engaged_axles_follow_the_load() -> None:
    """With a stated restoration more tongue weight moves more load."""
    bars = WeightDistribution(restoration=Quantity(0.5, "fraction"))
    one = travel_trailer(bars)
    heavier = replace(one, trailer=replace(one.trailer, cargo=(item("box", "300 lb", "40 in"),)))
    before, after = (compute(r).cases[0] for r in (one, heavier))
    moved = [pounds(c, "trailer_axles_engaged") - pounds(c, "trailer_axle_load") for c in (before, after)]
    assert moved[1] / moved[0] == pytest.approx(pounds(after, "tongue_weight") / 820)
