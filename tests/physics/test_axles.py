"""How the axles of a group share: equalized, independent with stated springs, weighed, unknown."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from cardgen.model.gear import Ball, Mount
from cardgen.model.parts import TrailerLoad
from cardgen.model.results import CaseResult
from cardgen.model.rig import Rig
from cardgen.model.trailer import Coupler
from cardgen.model.vehicle import Receiver
from cardgen.model.weighing import AxleReadings, Weighing
from cardgen.physics.axles import PLAUSIBLE, attitude, group_gain, pitch_offsets
from cardgen.physics.compute import compute
from cardgen.physics.load_model import stated
from cardgen.units.parse import parse
from tests.physics.build import INCH, POUND, item, length, mass, rig, trailer, vehicle


def independent(*cargo: TrailerLoad, level: str | None = None, hitched: str = "21 in") -> Rig:
    """W 6600 lb, TW 820 lb, L 220 in, two axles 33 in apart, 1400 lb/in each.

    With ``level`` the coupler's level height is known, and the ball stands at
    ``hitched`` - 4 in + 3 in.
    """
    pulled = trailer("6,600 lb", "820 lb", "220 in", *cargo, count=2)
    axles = replace(
        pulled.axles, suspension="independent", rate=parse("1,400 lb/in", "rate"), spacing=length("33 in")
    )
    pulled = replace(pulled, axles=axles)
    pulls = vehicle("3,420 lb", "2,780 lb", "145 in", "64 in")
    one = rig(pulls, pulled)
    if level is None:
        return one
    coupler = Coupler(height=length(level), height_at="ball_top")
    receiver = Receiver(height_hitched=length(hitched))
    gear = replace(one.gear, ball=Ball(height=length("3 in")), mount=Mount(drop=length("4 in")))
    return replace(
        one, vehicle=replace(pulls, receiver=receiver), trailer=replace(pulled, coupler=coupler), gear=gear
    )


def axle_pounds(one: Rig) -> tuple[CaseResult, list[float]]:
    """The one case and its axle loads in pounds."""
    (case,) = compute(one).cases
    return case, [(case.figures[f"axle_{i}"].value or 0.0) / POUND for i in (1, 2)]


@pytest.mark.parametrize(
    ("level", "axles", "tongue"),
    [
        # A spring-supported frame solved by a general-purpose frame program; the rest of the
        # difference is the group's mean deflection changing, which the formula leaves out.
        ("22 in", (3114.5, 2696.8), 788.7),  # ball 2 in low
        ("18 in", (2665.5, 3083.2), 851.3),  # ball 2 in high
        ("20 in", (2890.0, 2890.0), 820.0),
    ],
)
def test_independent_axles_off_level(level: str, axles: tuple[float, float], tongue: float) -> None:
    case, found = axle_pounds(independent(level=level))
    assert found == pytest.approx(axles, rel=6e-4)
    shift = case.figures["tongue_off_level"].value or 0.0
    assert 820 + shift / POUND == pytest.approx(tongue, rel=3e-4)


def test_formula_of_the_reference() -> None:
    """k s th = R_f - R_r and k s^2 th/(2L): 1400 lb/in, 33 in, 2/220: 420 and 31.5 lb."""
    front, rear = pitch_offsets(1400, 33, 2, 2 / 220)
    assert front - rear == pytest.approx(1400 * 33 * 2 / 220)
    assert group_gain(1400, 33, 2, 2 / 220, 220) == pytest.approx(1400 * 33**2 * (2 / 220) / (2 * 220))
    with pytest.raises(ValueError, match="above zero"):
        pitch_offsets(0.0, 33, 2, 0.01)
    with pytest.raises(ValueError, match="above zero"):
        group_gain(1400, 33, 2, 0.01, 0.0)


def test_moments_balance_off_level() -> None:
    """Moments about the ball with the axle loads that are printed give the trailer's own moment."""
    one = independent(level="22 in")
    case, _ = axle_pounds(one)
    loads = [case.figures[f"axle_{i}"].value or 0.0 for i in (1, 2)]
    tongue = (case.figures["tongue_weight"].value or 0.0) + (case.figures["tongue_off_level"].value or 0.0)
    weight = case.figures["trailer_weight"].value or 0.0
    assert sum(loads) + tongue == pytest.approx(weight)
    arms = [(220 - 16.5) * INCH, (220 + 16.5) * INCH]
    centre = 220 * INCH * (1 - 820 / 6600)
    assert sum(r * x for r, x in zip(loads, arms, strict=True)) == pytest.approx(weight * centre)


def test_unknown_ride_is_a_range_and_the_worst_end_counts() -> None:
    one = independent()
    case, found = axle_pounds(one)
    ride = attitude(one)
    assert (ride.low, ride.high, ride.known) == (-PLAUSIBLE, PLAUSIBLE, False)
    for i in (1, 2):
        figure = case.figures[f"axle_{i}"]
        assert figure.low is not None
        assert figure.high is not None
        assert figure.low < figure.high == figure.value
    assert sum(found) > 5780
    assert "not measured" in case.figures["axle_1"].source
    sure = compute(independent(level="20 in")).cases[0].figures["tongue_weight"].u or 0.0
    assert (case.figures["tongue_weight"].u or 0.0) > sure


def test_free_height_only_lets_the_hitch_sink() -> None:
    one = independent(level="20 in")
    receiver = Receiver(height=length("21 in"))
    ride = attitude(replace(one, vehicle=replace(one.vehicle, receiver=receiver)))
    assert ride.high == pytest.approx(0.0, abs=1e-12)
    assert ride.low == pytest.approx(-PLAUSIBLE)


def test_weighed_axles_win_over_springs() -> None:
    """The readings stand in their case; elsewhere their difference stays and the group's load is computed."""
    visit = Weighing(
        date=dt.date(2026, 10, 3),
        case="as it is",
        slack=AxleReadings(axles=(mass("3,050 lb"), mass("2,750 lb"))),
    )
    one = independent(item("box", "440 lb", "220 in"))
    _, found = axle_pounds(replace(one, weighings=(visit,)))
    assert found == pytest.approx([3050, 2750])
    _, kept = axle_pounds(replace(one, weighings=(replace(visit, anchor=False),)))
    assert kept == pytest.approx([(5780 + 440) / 2 + 150, (5780 + 440) / 2 - 150])


@pytest.mark.parametrize(
    ("change", "asked"),
    [
        ({"suspension": None}, "trailer.axles.suspension"),
        ({"rate": None}, "trailer.axles.rate"),
        ({"spacing": None}, "trailer.axles.spacing"),
        ({"rate": None}, "weighings[0].slack.axles"),
    ],
)
def test_unknown_split_is_asked_for(change: dict[str, None], asked: str) -> None:
    one = independent()
    axles = replace(one.trailer.axles, **change)  # type: ignore[arg-type]  # None fits every field changed
    case, _ = axle_pounds(replace(one, trailer=replace(one.trailer, axles=axles)))
    assert case.figures["axle_1"].value is None
    assert asked in {n.path for n in case.figures["axle_1"].needs}


@pytest.mark.parametrize("count", [1, 2, 3])
def test_equalized_axles_share_evenly(count: int) -> None:
    one = rig(
        vehicle("3,000 lb", "2,500 lb", "140 in", "50 in"),
        trailer("5,000 lb", "500 lb", "200 in", count=count),
    )
    (case,) = compute(one).cases
    loads = [(case.figures[f"axle_{i + 1}"].value or 0.0) / POUND for i in range(count)]
    assert loads == pytest.approx([4500 / count] * count)
    assert stated(one).split.tongue == (0.0, 0.0)


def test_left_and_right() -> None:
    """100 lb 20 in right of the middle, track 80 in: all of its roll moment lands on the axle:
    right 50 + 25, left 50 - 25 (textbook: left = T/2 + W y/t for y to the left)."""
    pulled = trailer("2,000 lb", "200 lb", "200 in", item("box", "100 lb", "200 in", "20 in"))
    pulled = replace(pulled, empty=replace(pulled.empty, left_minus_right=mass("0 lb")))
    (case,) = compute(rig(vehicle("2,000 lb", "2,000 lb", "120 in", "40 in"), pulled)).cases
    left, right = ((case.figures[n].value or 0.0) / POUND for n in ("left_wheels", "right_wheels"))
    assert (left, right) == pytest.approx((925.0, 975.0))


def test_left_and_right_unknown_without_sides() -> None:
    pulled = trailer("2,000 lb", "200 lb", "200 in", item("box", "100 lb", "200 in", None))
    pulled = replace(pulled, empty=replace(pulled.empty, left_minus_right=mass("0 lb")))
    (case,) = compute(rig(vehicle("2,000 lb", "2,000 lb", "120 in", "40 in"), pulled)).cases
    assert case.figures["left_wheels"].value is None
    assert {n.path for n in case.figures["left_wheels"].needs} == {"trailer.cargo[0].y"}
