"""Visits to the scale: solved figures, their uncertainty, comparison, anchoring, what is missing."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from cardgen.model.gear import WeightDistribution
from cardgen.model.parts import Tank
from cardgen.model.rig import Case, Rig
from cardgen.model.weighed import WeighingResult
from cardgen.model.weighing import AxleReadings, BeamReading, Weighing
from cardgen.physics.compute import compute
from cardgen.physics.inputs import Inputs
from cardgen.physics.number import exact
from cardgen.physics.readings import readings
from cardgen.physics.ways import at_coupler, beam_load, implied_position
from cardgen.physics.weighing import weigh
from cardgen.units import Quantity
from cardgen.units.parse import parse
from tests.physics.build import POUND, demo, item, length, mass, rig, trailer, vehicle

DAY = dt.date(2026, 10, 3)


def passes(front: float, rear: float, group: float | None = None) -> AxleReadings:
    """One pass over the scale, in pounds."""
    return AxleReadings(
        front=mass(f"{front} lb"), rear=mass(f"{rear} lb"), trailer=mass(f"{group} lb") if group else None
    )


def three_pass() -> Rig:
    """Rig of the reference example: wb 145, h 64, L 220 in, F0 3420, R0 2780, W 6600, TW 820 lb."""
    pulls = vehicle("3,420 lb", "2,780 lb", "145 in", "64 in")
    one = rig(pulls, trailer("6,600 lb", "820 lb", "220 in", count=2))
    bars = WeightDistribution(restoration=Quantity(0.5, "fraction"))
    return replace(one, gear=replace(one.gear, weight_distribution=bars))


def weighed(one: Rig, **given: Any) -> WeighingResult:
    """The rig with one weighing, solved."""
    visit = Weighing(**{"date": DAY, "case": one.cases[0].name, **given})
    (result,) = compute(replace(one, weighings=(visit,))).weighings
    return result


def pounds(result: WeighingResult, figure: str) -> float:
    """A solved figure in pounds."""
    value = result.figures[figure].value
    assert value is not None
    return value / POUND


FULL: dict[str, Any] = {
    "alone": passes(3420, 2780),
    "slack": passes(3060, 3960, 5780),
    "engaged": passes(3300, 3600, 5900),
    "division": mass("20 lb"),
}


def test_three_passes() -> None:
    """A 20 lb scale (own numbers, checked by a hinged-frame solution): GCW 12,800 both times, tongue 820,
    gross 6,600, 12.42 %, restoration 240/360 = 66.7 %, lever check 815.6, bars-on-only 824.5."""
    result = weighed(three_pass(), **FULL)
    assert pounds(result, "combination_weight") == pytest.approx(12800)
    assert pounds(result, "trailer_weight") == pytest.approx(6600)
    assert pounds(result, "tongue_weight") == pytest.approx(820)
    assert result.figures["tongue_share"].value == pytest.approx(0.1242, abs=5e-5)
    assert result.figures["restoration"].value == pytest.approx(0.667, abs=5e-4)
    ways = {f.formula: (f.value or 0.0) / POUND for f in result.ways["tongue_weight"]}
    assert ways["(F3 - F2) wb/e"] == pytest.approx(815.6, abs=0.05)
    bars = next(v for formula, v in ways.items() if formula.startswith("S + "))
    assert bars == pytest.approx(824.5, abs=0.05)
    moments = [(f.value or 0.0) / 9.80665 / POUND / 0.0254 / 220 for f in result.ways["distribution_moment"]]
    assert sorted(round(m, 1) for m in moments) == [120.0, 122.5, 124.5]
    assert result.disagreements == ()


def test_bars_on_readings_are_no_tongue_weight() -> None:
    """The commonest error: 700 lb with the bars on is not among the ways to the tongue."""
    ways = [round((f.value or 0.0) / POUND) for f in weighed(three_pass(), **FULL).ways["tongue_weight"]]
    assert 700 not in ways


def test_uncertainty_of_four_readings() -> None:
    """Four readings on a 20 lb scale: u sqrt(4) * 5.7735 = 11.547 lb; share u 0.1536 points; FALR u 0.0200
    (own numbers, GTC 1.5.1). A common gain of +-0.2 % makes it 11.586 only, as the tongue is a difference."""
    one = three_pass()
    visit = Weighing(date=DAY, case="as it is", **FULL)
    inputs = Inputs()
    read = readings(replace(one, weighings=(visit,)), 0, inputs)
    four = read.get("slack.front", "slack.rear", "alone.front", "alone.rear")
    assert four is not None
    tongue = four[0] + four[1] - four[2] - four[3]
    own = {k: v for k, v in tongue.by_input.items() if not k.endswith(".scale")}
    assert sum((g * 20 / 12**0.5) ** 2 for g in own.values()) ** 0.5 == pytest.approx(11.547, abs=5e-4)
    gain = tongue.by_input["weighings[0].scale"] / POUND
    assert gain == pytest.approx(820)
    with_gain = (11.547**2 + (gain * 0.002 / 3**0.5) ** 2) ** 0.5
    assert with_gain == pytest.approx(11.586, abs=5e-4)
    result = weighed(one, **FULL)
    u = next(f.u for f in result.ways["tongue_weight"] if f.formula == "(F2 + R2) - (F3 + R3)")
    assert u is not None
    assert u / POUND == pytest.approx(11.6, abs=0.1)
    assert result.figures["restoration"].u == pytest.approx(0.0200, abs=2e-4)
    assert result.figures["tongue_share"].u == pytest.approx(0.001536, abs=2e-5)


def test_cumulative_weighing_of_three_axles() -> None:
    """A truck-scale maker's method page: tractor alone 7300 kg, successive totals 8550, 10350, 12050,
    13700: axles 1800, 1700, 1650; trailer 6400; on the coupling 1250."""
    pulls = vehicle("3,300 kg", "4,000 kg", "4 m", "1 m")
    one = rig(pulls, trailer("6,400 kg", "1,250 kg", "5 m", count=3))
    readings_of = AxleReadings(
        front=mass("3,000 kg"),
        rear=mass(f"{8550 - 3000} kg"),
        axles=(mass(f"{10350 - 8550} kg"), mass(f"{12050 - 10350} kg"), mass(f"{13700 - 12050} kg")),
    )
    alone = AxleReadings(front=mass("3,300 kg"), rear=mass("4,000 kg"))
    result = weighed(one, alone=alone, slack=readings_of, division=mass("50 kg"))
    assert [result.figures[f"axle_{i}"].value for i in (1, 2, 3)] == pytest.approx([1800, 1700, 1650])
    assert result.figures["trailer_weight"].value == pytest.approx(6400)
    assert result.figures["tongue_weight"].value == pytest.approx(1250)
    assert result.figures["trailer_axle_load"].value == pytest.approx(6400 - 1250)


def test_jack_reading_is_not_the_coupler() -> None:
    """850 lb under a jack 12 in behind the coupler, L 220: 803.6 lb at the coupler (moments)."""
    assert at_coupler(exact(850.0), exact(12.0), exact(220.0)).value == pytest.approx(803.6, abs=0.05)
    one = three_pass()
    result = weighed(one, jack=mass("850 lb"), jack_behind_coupler=length("12 in"))
    assert pounds(result, "tongue_weight") == pytest.approx(803.6, abs=0.05)
    without = weighed(one, jack=mass("850 lb"))
    assert "tongue_weight" not in without.figures
    assert "weighings[0].jack_behind_coupler" in {n.path for n in without.missing}


@pytest.mark.parametrize(("scale", "factor"), [(2.0, 3.0), (3.0, 4.0), (4.0, 5.0)])
def test_lever_method(scale: float, factor: float) -> None:
    """150 lb with gaps 1 and 2 ft is x3 = 450 lb; 1 and 3 ft x4 = 600. A page that keeps x3 at
    3 to 4 ft is wrong."""
    found = beam_load(exact(150.0), exact(0.0), exact(1.0), exact(scale)).value
    assert found == pytest.approx(150 * factor)


def test_beam_counts_its_own_weight() -> None:
    beam = BeamReading(
        reading=mass("160 lb"),
        beam_only=mass("10 lb"),
        support_to_jack=length("1 ft"),
        jack_to_scale=length("2 ft"),
    )
    one = three_pass()
    result = weighed(one, beam=beam, jack_behind_coupler=length("0 in"))
    assert pounds(result, "tongue_weight") == pytest.approx(450)
    bare = weighed(one, beam=replace(beam, beam_only=None), jack_behind_coupler=length("0 in"))
    assert "tongue_weight" not in bare.figures
    assert "weighings[0].beam.beam_only" in {n.path for n in bare.missing}


def test_jack_and_axles_give_the_whole_trailer() -> None:
    result = weighed(
        three_pass(),
        coupler=mass("820 lb"),
        slack=AxleReadings(trailer=mass("5,780 lb")),
    )
    assert pounds(result, "trailer_weight") == pytest.approx(6600)
    other = weighed(three_pass(), coupler=mass("820 lb"), trailer_alone=mass("6,600 lb"))
    assert pounds(other, "trailer_axle_load") == pytest.approx(5780)


def test_least_uncertain_way_speaks() -> None:
    result = weighed(three_pass(), **FULL, coupler=mass("806 lb +/- 2 lb"))
    assert pounds(result, "tongue_weight") == pytest.approx(806)
    assert [f.u for f in result.ways["tongue_weight"]] == sorted(
        f.u or 0.0 for f in result.ways["tongue_weight"]
    )


def test_two_ways_that_disagree_are_told() -> None:
    result = weighed(three_pass(), **FULL, coupler=mass("700 lb +/- 2 lb"))
    told = {(d.id, d.second_way) for d in result.disagreements}
    assert ("tongue_weight", "(F2 + R2) - (F3 + R3)") in told
    crossed = {**FULL, "engaged": passes(3300, 3600, 6200)}
    found = weighed(three_pass(), **crossed)
    assert {d.id for d in found.disagreements} >= {"combination_weight", "trailer_weight"}


def test_single_wheels() -> None:
    one = rig(vehicle("2,000 lb", "2,000 lb", "120 in", "40 in"), trailer("3,000 lb", "400 lb", "200 in"))
    result = weighed(one, wheels={"left 1": mass("1,350 lb"), "right 1": mass("1,250 lb")})
    assert pounds(result, "side_difference") == pytest.approx(-100)
    assert pounds(result, "trailer_axle_load") == pytest.approx(2600)
    assert pounds(result, "left_wheels") == pytest.approx(1350)
    half = weighed(one, wheels={"left 1": mass("1,350 lb")})
    assert "side_difference" not in half.figures


def test_comparison_with_the_model() -> None:
    """The scale agrees with the file within its uncertainty, or the difference is told item by item."""
    agreeing = weighed(three_pass(), **FULL)
    assert all(c.agrees for c in agreeing.comparisons if c.id in ("tongue_weight", "trailer_weight"))
    pulled = trailer("6,200 lb +/- 10 lb", "700 lb +/- 10 lb", "220 in", count=2)
    off = weighed(replace(three_pass(), trailer=pulled), **FULL)
    by_id = {c.id: c for c in off.comparisons}
    assert by_id["trailer_weight"].difference / POUND == pytest.approx(400)
    assert not by_id["trailer_weight"].agrees
    assert off.unexplained is not None
    assert off.unexplained / POUND == pytest.approx(400)
    assert off.unexplained_tongue is not None
    assert off.unexplained_tongue / POUND == pytest.approx(120)
    assert off.implied_x is not None
    assert off.implied_x / 0.0254 == pytest.approx(220 * (1 - 120 / 400))


def test_implied_position_needs_a_mass() -> None:
    assert implied_position(100.0, 50.0, 4.0) == pytest.approx(2.0)
    with pytest.raises(ValueError, match="no mass"):
        implied_position(0.0, 1.0, 4.0)


def test_within_its_uncertainty_nothing_is_implied() -> None:
    result = weighed(three_pass(), **FULL)
    assert result.unexplained == pytest.approx(0.0, abs=1e-6)
    assert result.implied_x is None


def boxed(weight: str | None) -> Rig:
    """A trailer with a heavy box that only rides in one case; its weight may be unknown."""
    box = replace(item("box", "400 lb", "60 in"), set="trip", weight=None if weight is None else mass(weight))
    pulled = trailer("2,000 lb", "200 lb", "200 in", box)
    cases = [Case(name="loaded", cargo=("trip",)), Case(name="empty")]
    return rig(vehicle("2,000 lb", "2,000 lb", "120 in", "40 in"), pulled, cases)


ANCHOR: dict[str, Any] = {
    "coupler": mass("600 lb +/- 2 lb"),
    "trailer_alone": mass("2,700 lb"),
    "anchor": True,
}


def test_anchor_reproduces_the_readings_in_its_case() -> None:
    visit = Weighing(date=DAY, case="loaded", **ANCHOR)
    made = compute(replace(boxed("400 lb"), weighings=(visit,)))
    loaded, empty = made.cases
    assert (loaded.figures["trailer_weight"].value or 0.0) / POUND == pytest.approx(2700)
    assert (loaded.figures["tongue_weight"].value or 0.0) / POUND == pytest.approx(600)
    assert (empty.figures["trailer_weight"].value or 0.0) / POUND == pytest.approx(2300)
    assert (empty.figures["tongue_weight"].value or 0.0) / POUND == pytest.approx(600 - 400 * 0.7)
    (result,) = made.weighings
    assert set(result.anchors) == {"trailer_weight", "tongue_weight"}
    assert result.unexplained is not None
    assert result.unexplained / POUND == pytest.approx(2700 - 2400)


def test_anchored_case_carries_the_scale_and_nothing_else() -> None:
    """In the weighed case no cargo estimate adds to the uncertainty; in another it does."""
    visit = Weighing(date=DAY, case="loaded", **ANCHOR)
    loaded, empty = compute(replace(boxed("400 lb"), weighings=(visit,))).cases
    assert (loaded.figures["tongue_weight"].u or 0.0) / POUND == pytest.approx(2 / 3**0.5)
    assert (empty.figures["tongue_weight"].u or 0.0) > (loaded.figures["tongue_weight"].u or 0.0)


def test_anchor_stands_in_for_what_was_never_weighed() -> None:
    """An unknown box does not matter in the case that was weighed with it; elsewhere it is asked for."""
    visit = Weighing(date=DAY, case="loaded", **ANCHOR)
    loaded, empty = compute(replace(boxed(None), weighings=(visit,))).cases
    assert (loaded.figures["tongue_weight"].value or 0.0) / POUND == pytest.approx(600)
    assert empty.figures["tongue_weight"].value is None
    assert {n.path for n in empty.figures["tongue_weight"].needs} == {"trailer.cargo[0].weight"}


def test_filling_on_the_scale_stays_uncertain_when_the_tank_is_emptied_later() -> None:
    """Weighed with half a tank by the gauge, then emptied: the gauge's error is in the result."""
    tank = Tank(holds="fresh", capacity=parse("40 gal", "volume"), x=length("150 in"))
    one = boxed("400 lb")
    pulled = replace(one.trailer, tanks={"fresh": tank})
    half, empty = Quantity(0.5, "fraction", None, "1/2"), Quantity(0.0, "fraction", None, "empty")
    first = replace(one.cases[0], tanks={"fresh": half})
    visit = Weighing(date=DAY, case="loaded", **ANCHOR)
    weighed_rig = replace(one, trailer=pulled, cases=(first,), weighings=(visit,))
    ground, _ = weigh(weighed_rig)
    later = replace(weighed_rig, cases=(replace(first, tanks={"fresh": empty}),))
    before = compute(weighed_rig).cases[0].figures["trailer_weight"]
    after = compute(later, ground=ground).cases[0].figures["trailer_weight"]
    gauge = 0.1 / 3**0.5 * 333.2
    assert (before.value or 0.0) / POUND == pytest.approx(2700)
    assert (after.value or 0.0) / POUND == pytest.approx(2700 - 333.2 / 2, abs=0.1)
    assert ((after.u or 0.0) / POUND) ** 2 - ((before.u or 0.0) / POUND) ** 2 > 0.9 * gauge**2


def test_reach_of_an_anchored_rig_holds_its_cases() -> None:
    visit = Weighing(date=DAY, case="loaded", **ANCHOR)
    made = compute(replace(boxed("400 lb"), weighings=(visit,)))
    ends = made.envelope["tongue_weight"]
    values = [case.figures["tongue_weight"].value or 0.0 for case in made.cases]
    assert ends.low == pytest.approx(min(values))
    assert ends.high == pytest.approx(max(values))


def test_anchor_with_the_tongue_alone_keeps_the_stated_weight() -> None:
    visit = Weighing(date=DAY, case="loaded", coupler=mass("600 lb"), anchor=True)
    loaded, _ = compute(replace(boxed("400 lb"), weighings=(visit,))).cases
    assert (loaded.figures["tongue_weight"].value or 0.0) / POUND == pytest.approx(600)
    assert (loaded.figures["trailer_weight"].value or 0.0) / POUND == pytest.approx(2400)


def test_anchor_sets_the_vehicle_too() -> None:
    one = demo("wren")
    alone = AxleReadings(front=mass("2,500 lb"), rear=mass("1,900 lb"))
    visit = Weighing(date=DAY, case="leaving home", alone=alone, anchor=True)
    made = compute(replace(one, weighings=(visit,)))
    first, second = made.cases
    assert (first.figures["front_alone"].value or 0.0) / POUND == pytest.approx(2500)
    assert (first.figures["rear_alone"].value or 0.0) / POUND == pytest.approx(1900)
    before = compute(one).cases
    for name in ("vehicle_alone", "front_alone"):
        moved = (second.figures[name].value or 0.0) - (first.figures[name].value or 0.0)
        same = (before[1].figures[name].value or 0.0) - (before[0].figures[name].value or 0.0)
        assert moved == pytest.approx(same)


def test_newest_anchor_wins() -> None:
    old = Weighing(date=dt.date(2025, 1, 1), case="loaded", **{**ANCHOR, "trailer_alone": mass("2,900 lb")})
    new = Weighing(date=DAY, case="loaded", **ANCHOR)
    made = compute(replace(boxed("400 lb"), weighings=(new, old)))
    assert (made.cases[0].figures["trailer_weight"].value or 0.0) / POUND == pytest.approx(2700)
    assert [bool(r.anchors) for r in made.weighings] == [True, False]


def test_readings_that_are_missing_are_listed() -> None:
    one = three_pass()
    result = weighed(one, slack=passes(3060, 3960, 5780))
    paths = [n.path.removeprefix("weighings[0].") for n in result.missing]
    assert paths[:2] == ["alone.front", "alone.rear"]
    assert {"engaged.front", "engaged.trailer", "slack.axles", "wheels", "division"} <= set(paths)
    assert all("tells:" in n.what for n in result.missing)
    assert len(paths) == len(set(paths))
    enough = weighed(one, **FULL)
    left = {n.path.removeprefix("weighings[0].") for n in enough.missing}
    assert left == {"slack.axles", "wheels"}
