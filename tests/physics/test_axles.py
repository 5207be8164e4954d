"""How the axles of a group share: equalized, independent with stated springs, weighed, unknown."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from cardgen.model.gear import Ball, Mount, WeightDistribution
from cardgen.model.parts import TrailerLoad
from cardgen.model.results import CaseResult
from cardgen.model.rig import Case, Rig
from cardgen.model.trailer import Coupler
from cardgen.model.vehicle import BedHitch, Receiver
from cardgen.model.weighing import AxleReadings, Weighing
from cardgen.physics.axles import PLAUSIBLE, group_gain, pitch_offsets
from cardgen.physics.compute import compute
from cardgen.physics.load_model import stated
from cardgen.physics.number import exact
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
    assert (case.figures["tongue_weight"].value or 0.0) / POUND == pytest.approx(tongue, rel=3e-4)
    shift = case.figures["tongue_off_level"].value or 0.0
    assert 820 + shift / POUND == pytest.approx(tongue, rel=3e-4)


def test_formula_of_the_reference() -> None:
    """k s th = R_f - R_r and k s^2 th/(2L): 1400 lb/in, 33 in, 2/220: 420 and 31.5 lb."""
    rate, spacing, length, pitch = map(exact, (1400.0, 33.0, 220.0, 2 / 220))
    front, rear = pitch_offsets(rate, spacing, 2, pitch)
    assert front.sure - rear.sure == pytest.approx(1400 * 33 * 2 / 220)
    gain = group_gain(rate, spacing, 2, pitch, length)
    assert gain.sure == pytest.approx(1400 * 33**2 * (2 / 220) / (2 * 220))
    with pytest.raises(ValueError, match="above zero"):
        pitch_offsets(exact(0.0), spacing, 2, pitch)
    with pytest.raises(ValueError, match="above zero"):
        group_gain(rate, spacing, 2, pitch, exact(0.0))


def test_moments_balance_off_level() -> None:
    """Moments about the ball with the axle loads that are printed give the trailer's own moment."""
    one = independent(level="22 in")
    case, _ = axle_pounds(one)
    loads = [case.figures[f"axle_{i}"].value or 0.0 for i in (1, 2)]
    tongue = case.figures["tongue_weight"].value or 0.0
    weight = case.figures["trailer_weight"].value or 0.0
    assert sum(loads) + tongue == pytest.approx(weight)
    arms = [(220 - 16.5) * INCH, (220 + 16.5) * INCH]
    centre = 220 * INCH * (1 - 820 / 6600)
    assert sum(r * x for r, x in zip(loads, arms, strict=True)) == pytest.approx(weight * centre)


def test_unknown_ride_is_a_range_and_the_worst_end_counts() -> None:
    one = independent()
    case, found = axle_pounds(one)
    ride = stated(one).ride
    assert (ride.assumed.value, ride.half) == (0.0, PLAUSIBLE)
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
    ride = stated(replace(one, vehicle=replace(one.vehicle, receiver=receiver))).ride
    assert ride.assumed.sure + ride.half == pytest.approx(0.0, abs=1e-12)
    assert ride.assumed.sure - ride.half == pytest.approx(-PLAUSIBLE)


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
        ({"rate": None, "gawr": ()}, "trailer.axles.gawr"),
        ({"spacing": None}, "trailer.axles.spacing"),
        ({"rate": None, "gawr": ()}, "weighings[0].slack.axles"),
    ],
)
def test_unknown_split_is_asked_for(change: dict[str, object], asked: str) -> None:
    one = independent()
    axles = replace(one.trailer.axles, **change)  # type: ignore[arg-type]  # what is changed is a field of the record
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
    assert stated(one).split.tongue.value == 0.0


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


SPRINGS = {"front_axle_rate": parse("700 lb/in", "rate"), "rear_axle_rate": parse("600 lb/in", "rate")}


def sprung(one: Rig, carrier: str) -> Rig:
    """The rig on stated axle rates, its coupling carried by a mount, a fixed ball, or a bed hitch."""
    level, height = length("20 in"), length("22 in")
    kind = "gooseneck" if carrier == "gooseneck" else "ball"
    pulls = replace(one.vehicle, **SPRINGS)  # type: ignore[arg-type]  # both are rates
    gear = replace(one.gear, ball=Ball(diameter=length("2 in"), height=length("3 in")))
    if carrier == "mount":
        pulls = replace(pulls, receiver=Receiver(height=height))
        gear = replace(gear, mount=Mount(drop=length("3 in")))
    elif carrier == "fixed":
        pulls = replace(pulls, receiver=Receiver(fixed_ball=True, ball_height=length("21 in")))
    else:
        pulls = replace(pulls, bed_hitch=BedHitch(height=height))
    pulled = replace(one.trailer, type=kind, coupler=Coupler(height=level, height_at="ball_top"))  # type: ignore[arg-type]  # one of two couplings, written above
    return replace(one, vehicle=pulls, trailer=pulled, gear=gear)


@pytest.mark.parametrize(
    ("carrier", "bars"),
    [("mount", None), ("fixed", None), ("gooseneck", None), ("mount", "80 %")],
)
def test_one_height_for_figures_axles_and_tongue(carrier: str, bars: str | None) -> None:
    """Springs of vehicle and trailer solved together as a frame on seven unknowns, apart from the package."""
    boxes = [item("near", "600 lb", "60 in"), item("far", "500 lb", "250 in")]
    one = sprung(independent(*boxes), carrier)
    if bars is not None:
        fitted = WeightDistribution(restoration=parse(bars, "fraction"))
        one = replace(one, gear=replace(one.gear, weight_distribution=fitted))
    (case,) = compute(one).cases
    free = 2.0  # each carries the coupling 2 in above level before it is coupled
    share = 0.0 if bars is None else float(bars.split()[0]) / 100.0
    weight, level = 6600 + 1100, 820 + 600 * (1 - 60 / 220) + 500 * (1 - 250 / 220)
    wheelbase, back, rate, spacing, arm = 145.0, 64.0, 1400.0, 33.0, 220.0
    tongue, above = level, free
    for _ in range(200):  # walks to the balance in small steps
        moment = share * tongue * back * arm / (arm + back)
        added = tongue * (1 + back / wheelbase) - moment * (wheelbase + back + arm) / (wheelbase * arm)
        lost = tongue * back / wheelbase - moment * (arm + back) / (wheelbase * arm)
        above = free - (added / 600 + (added / 600 + lost / 700) * back / wheelbase)
        tongue = level + rate * (above / arm) * 2 * (spacing / 2) ** 2 / arm
    lean = rate * spacing / 2 * above / arm
    figure = {name: (f.value or 0.0) for name, f in case.figures.items()}
    assert figure["height_error"] / INCH == pytest.approx(above, abs=1e-6)
    assert figure["tongue_weight"] / POUND == pytest.approx(tongue, abs=1e-6)
    axles = [(weight - tongue) / 2 - lean, (weight - tongue) / 2 + lean]
    assert [figure["axle_1"] / POUND, figure["axle_2"] / POUND] == pytest.approx(axles, abs=1e-6)
    assert case.figures["axle_1"].low is None
    assert "axle rates" in case.figures["axle_1"].source


def test_each_case_has_its_own_height_and_three_axles_lean_with_it() -> None:
    """Heavy ahead, the nose is low and the first axle bears most; empty it is high and the last one does."""
    one = sprung(independent(item("load", "1,500 lb", "40 in", set="load")), "mount")
    one = replace(one, trailer=replace(one.trailer, axles=replace(one.trailer.axles, count=3)))
    one = replace(one, gear=replace(one.gear, mount=Mount(drop=length("1 in"))))
    made = compute(replace(one, cases=(Case(name="full", cargo=("load",)), Case(name="empty"))))
    low, high = (case.figures for case in made.cases)
    assert (low["height_error"].value or 0.0) < 0.0 < (high["height_error"].value or 0.0)
    for figures, order in ((low, (1, 2, 3)), (high, (3, 2, 1))):
        loads = [figures[f"axle_{i}"].value or 0.0 for i in order]
        assert loads == sorted(loads, reverse=True)
        assert sum(loads) == pytest.approx(figures["trailer_axle_load"].value)


def test_a_stated_spread_of_rates_and_heights_counts() -> None:
    """By the change that the end of each range makes, apart from the gradients."""
    sure = sprung(independent(), "mount")
    base = compute(sure).cases[0].figures
    for path, kind, text, far in (
        ("trailer.axles.rate", "rate", "1,400 lb/in +/- 400 lb/in", "1,401 lb/in"),
        ("vehicle.rear_axle_rate", "rate", "600 lb/in +/- 150 lb/in", "600.1 lb/in"),
        ("vehicle.receiver.height", "length", "22 in +/- 1 in", "22.001 in"),
    ):
        given, other = parse(text, kind), parse(far, kind)
        assert given.half_width is not None
        figures, shifted, narrow = (
            compute(placed(sure, path.split("."), value)).cases[0].figures
            for value in (given, other, replace(given, half_width=0.0))
        )
        for name in ("axle_1", "axle_2", "tongue_weight", "height_error"):
            slope = ((shifted[name].value or 0.0) - (base[name].value or 0.0)) / (other.si - given.si)
            own = slope * given.half_width / 3.0**0.5
            rest = narrow[name].u or 0.0
            assert figures[name].u == pytest.approx((rest**2 + own**2) ** 0.5, rel=2e-3), (path, name)


def placed(thing: Any, steps: list[str], value: object) -> Any:
    """A copy of a record with one field changed."""
    first, *rest = steps
    return replace(thing, **{first: placed(getattr(thing, first), rest, value) if rest else value})


def test_a_tongue_that_was_weighed_as_it_rode_is_not_moved_again() -> None:
    """On the scale the nose was low; with another load the tongue moves by what the load does, eased by squat."""
    one = sprung(independent(item("box", "500 lb", "100 in")), "mount")
    read = AxleReadings(front=mass("3,020 lb"), rear=mass("4,080 lb"), trailer=mass("6,100 lb"))
    alone = AxleReadings(front=mass("3,420 lb"), rear=mass("2,780 lb"))
    visit = Weighing(date=dt.date(2026, 10, 3), case="as it is", slack=read, alone=alone, anchor=True)
    case = compute(replace(one, weighings=(visit,))).cases[0]
    assert (case.figures["tongue_weight"].value or 0.0) / POUND == pytest.approx(7100 - 6200)
    assert case.figures["height_error"].value is not None
