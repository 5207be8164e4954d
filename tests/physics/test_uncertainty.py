"""Uncertainty of every figure: worked examples, an independent package, differences, Monte Carlo."""

from __future__ import annotations

import math
from dataclasses import fields, is_dataclass, replace
from typing import Any

import numpy as np
import pytest
from uncertainties import ufloat  # type: ignore[import-untyped]  # the package ships no types

from cardgen.model.gear import ArchHeights, WeightDistribution
from cardgen.model.ranges import Contribution
from cardgen.model.rig import Rig
from cardgen.model.trailer import Trailer
from cardgen.physics.cases import budgets, case_result
from cardgen.physics.compute import compute
from cardgen.physics.inputs import Input, Inputs, Origin
from cardgen.physics.load_model import moved_onto, stated
from cardgen.physics.loads import case_aboard
from cardgen.physics.number import Number
from cardgen.physics.statics import statics
from cardgen.units import Quantity
from cardgen.units.parse import parse
from tests.physics.build import DEMO, INCH, POUND, demo, item, mass, rig, trailer, vehicle


def rectangular(inputs: Inputs, path: str, value: float, half: float) -> Number:
    """An input with a stated half-width."""
    return inputs.take(Origin(path, Quantity(value, "mass", half), "item"))


def test_brochure_estimate() -> None:
    """Worked estimate (own numbers, checked with GTC 1.5.1 to 1e-9): brochure 640 lb +-10 %, water
    333.2 lb +-5 % at 20 +-6 in, gas 60 lb (u 1) at 190 +-3, batteries 110 +-5 at 185 +-3, cargo
    700 lb +-10 % at 15 +-24 in, L 220 +-1 in: 862.34 lb, u 57.90; cargo's place 44.09, brochure
    36.95, water's place 5.25."""
    inputs = Inputs()
    base = rectangular(inputs, "base", 640.0, 64.0)
    length = rectangular(inputs, "L", 220.0, 1.0)
    gas = inputs.add(Input("gas", "mass", 60.0, 1.0, "stated"))
    parts = [
        (rectangular(inputs, "water", 333.2, 16.66), rectangular(inputs, "water at", 20.0, 6.0)),
        (gas, rectangular(inputs, "gas at", 190.0, 3.0)),
        (rectangular(inputs, "batteries", 110.0, 5.0), rectangular(inputs, "batteries at", 185.0, 3.0)),
        (rectangular(inputs, "cargo", 700.0, 70.0), rectangular(inputs, "cargo at", 15.0, 24.0)),
    ]
    tongue = base
    for weight, ahead in parts:
        tongue = tongue + weight * ahead / length
    assert tongue.value == pytest.approx(862.34, abs=5e-3)
    assert inputs.u(tongue) == pytest.approx(57.90, abs=5e-3)
    largest = {c.path: c.part for c in inputs.budget(tongue)}
    assert largest["cargo at"] == pytest.approx(44.09, abs=5e-3)
    assert largest["base"] == pytest.approx(36.95, abs=5e-3)
    assert largest["water at"] == pytest.approx(5.25, abs=5e-3)
    assert [c.path for c in inputs.budget(tongue)][:2] == ["cargo at", "base"]


def figures_u(one: Rig, index: int = 0) -> dict[str, tuple[float, float]]:
    """Value and uncertainty of every known figure of a case."""
    made = case_result(stated(one), index).figures
    return {k: (f.value, f.u) for k, f in made.items() if f.value is not None and f.u is not None}


def budget(one: Rig, figure: str) -> tuple[Contribution, ...]:
    """What the uncertainty of a figure of the first case is made of."""
    return budgets(compute(one, deep=False), one.cases[0].name, (figure,))[figure]


@pytest.mark.parametrize("name", DEMO)
def test_every_known_figure_has_an_uncertainty(name: str) -> None:
    for figure in case_result(stated(demo(name)), 0).figures.values():
        assert (figure.u is None) == (figure.value is None), figure.id


def shifted(thing: Any, path: str, step: float) -> Any:
    """Copy a model object with the quantity at a field path changed by a step [SI]."""
    head, _, rest = path.partition(".")
    name, _, index = head.partition("[")
    if is_dataclass(thing) and not isinstance(thing, type):
        inner = getattr(thing, name)
        if index:
            at = int(index[:-1])
            changed = shifted(inner[at], rest, step) if rest else moved(inner[at], step)
            return replace(thing, **{name: (*inner[:at], changed, *inner[at + 1 :])})
        return replace(thing, **{name: shifted(inner, rest, step) if rest else moved(inner, step)})
    key = head
    assert isinstance(thing, dict)
    return {**thing, key: shifted(thing[key], rest, step) if rest else moved(thing[key], step)}


def moved(quantity: Quantity, step: float) -> Quantity:
    """The quantity with another value."""
    return replace(quantity, si=quantity.si + step)


@pytest.mark.parametrize("name", DEMO)
def test_sensitivities_are_differences_of_the_whole_computation(name: str) -> None:
    """Each input of each figure is changed in the rig itself and the rig computed anew."""
    one = demo(name)
    model = stated(one)
    slopes: dict[str, dict[str, float]] = {}
    for figure, number in statics(model, case_aboard(one, one.cases[0], 0)).items():
        for path, slope in number.by_input.items():
            slopes.setdefault(path, {})[figure] = slope
    assert len(slopes) > 15
    for path, wanted in slopes.items():
        value = model.inputs.take(Origin(path, Quantity(0.0, "mass"), "item"))  # only to name the path
        assert path in value.by_input
        step = 1e-4
        up, down = (figures_at(shifted(one, path, sign * step)) for sign in (1.0, -1.0))
        for figure, slope in wanted.items():
            if figure in up and up[figure] is not None and down[figure] is not None:
                found = (up[figure] - down[figure]) / (2 * step)
                assert found == pytest.approx(slope, rel=2e-5, abs=2e-6), (path, figure)


def figures_at(one: Rig) -> dict[str, float]:
    """Known figures of the first case of a rig."""
    model = stated(one)
    made = statics(model, case_aboard(one, one.cases[0], 0))
    return {k: f.value for k, f in made.items() if f.value is not None}


def box_rig() -> Rig:
    """A trailer with two boxes and every width stated."""
    boxes = (
        item("front box", "300 lb +/- 20 lb", "60 in +/- 6 in"),
        item("rear box", "200 lb +/- 10 lb", "180 in +/- 12 in"),
    )
    pulled = trailer("2,000 lb +/- 40 lb", "260 lb +/- 15 lb", "160 in +/- 1 in", *boxes)
    pulls = vehicle("2,600 lb +/- 30 lb", "2,000 lb +/- 30 lb", "120 in +/- 1 in", "45 in +/- 1 in")
    return rig(pulls, pulled, gear="30 lb +/- 2 lb")


def test_agrees_with_the_uncertainties_package() -> None:
    """The same formulas written anew with ``uncertainties`` 3.2, in pounds and inches."""

    def n(value: float, half: float) -> Any:
        return ufloat(value, half / math.sqrt(3))

    weight, tongue0, span = n(2000, 40), n(260, 15), n(160, 1)
    boxes = [(n(300, 20), n(60, 6)), (n(200, 10), n(180, 12))]
    front, rear, base, hang, gear = n(2600, 30), n(2000, 30), n(120, 1), n(45, 1), n(30, 2)
    gross = weight + sum(m for m, _ in boxes)
    tongue = tongue0 + sum(m * (1 - x / span) for m, x in boxes)
    expected = {
        "trailer_weight": gross,
        "tongue_weight": tongue,
        "trailer_axle_load": gross - tongue,
        "vehicle_front_axle": front - (gear + tongue) * hang / base,
        "vehicle_rear_axle": rear + (gear + tongue) * (1 + hang / base),
        "vehicle_weight": front + rear + gear + tongue,
        "combination_weight": front + rear + gear + gross,
        "placard_used": gear + tongue,
    }
    found = figures_u(box_rig())
    for name, number in expected.items():
        value, u = found[name]
        assert value / POUND == pytest.approx(number.nominal_value, rel=1e-9), name
        assert u / POUND == pytest.approx(number.std_dev, rel=1e-9), name
    share = tongue / gross
    assert found["tongue_share"][0] == pytest.approx(share.nominal_value, rel=1e-9)
    assert found["tongue_share"][1] == pytest.approx(share.std_dev, rel=1e-9)


def test_agrees_with_a_monte_carlo_run() -> None:
    """200,000 seeded draws of every rectangular input; first order is good to about one percent here."""
    dice = np.random.default_rng(20261125)
    size = 200_000

    def draw(value: float, half: float) -> Any:
        return dice.uniform(value - half, value + half, size)

    weight, tongue0, span = draw(2000, 40), draw(260, 15), draw(160, 1)
    boxes = [(draw(300, 20), draw(60, 6)), (draw(200, 10), draw(180, 12))]
    front, base, hang, gear = draw(2600, 30), draw(120, 1), draw(45, 1), draw(30, 2)
    gross = weight + sum(m for m, _ in boxes)
    tongue = tongue0 + sum(m * (1 - x / span) for m, x in boxes)
    found = figures_u(box_rig())
    for name, samples, unit in (
        ("tongue_weight", tongue, POUND),
        ("trailer_weight", gross, POUND),
        ("vehicle_front_axle", front - (gear + tongue) * hang / base, POUND),
        ("tongue_share", tongue / gross, 1.0),
    ):
        assert found[name][1] / unit == pytest.approx(float(samples.std()), rel=0.015), name
        assert found[name][0] / unit == pytest.approx(float(samples.mean()), rel=0.002), name


def with_bars(**target: Any) -> Rig:
    """The box rig with weight distribution set one way."""
    one = box_rig()
    return replace(one, gear=replace(one.gear, weight_distribution=WeightDistribution(**target)))


def test_tape_measure_restoration() -> None:
    """Heights 35 8/16, 36 0/16, 35 11/16 in, each +-1/16 in: 0.625, u 0.089 (own numbers)."""
    sixteenth = INCH / 16
    heights = {
        name: Quantity(inches * INCH, "length", sixteenth)
        for name, inches in (("alone", 35.5), ("slack", 36.0), ("engaged", 35 + 11 / 16))
    }
    value, u = figures_u(with_bars(arches=ArchHeights(**heights)))["restoration"]
    assert value == pytest.approx(0.625, abs=1e-9)
    assert u == pytest.approx(0.089, abs=5e-4)


def test_engaged_axles_against_the_package() -> None:
    """Restoration 50 % +-10 points; bars as a moment about the ball."""

    def n(value: float, half: float) -> Any:
        return ufloat(value, half / math.sqrt(3))

    target = Quantity(0.5, "fraction", 0.1)
    weight, tongue0, span = n(2000, 40), n(260, 15), n(160, 1)
    boxes = [(n(300, 20), n(60, 6)), (n(200, 10), n(180, 12))]
    front, base, hang, gear = n(2600, 30), n(120, 1), n(45, 1), n(30, 2)
    gross = weight + sum(m for m, _ in boxes)
    tongue = tongue0 + sum(m * (1 - x / span) for m, x in boxes)
    moment = n(0.5, 0.1) * tongue * hang * span / (span + hang)
    expected = {
        "front_axle_engaged": front - (gear + tongue) * hang / base + moment * (span + hang) / (base * span),
        "trailer_axles_engaged": gross - tongue + moment / span,
    }
    found = figures_u(with_bars(restoration=target))
    for name, number in expected.items():
        assert found[name][0] / POUND == pytest.approx(number.nominal_value, rel=1e-9), name
        assert found[name][1] / POUND == pytest.approx(number.std_dev, rel=1e-9), name


def test_stated_moment_spreads_into_the_restoration() -> None:
    torque = parse("1,000 lb-ft +/- 100 lb-ft", "torque")
    found = figures_u(with_bars(moment=torque))
    assert found["distribution_moment"][1] == pytest.approx((torque.half_width or 0.0) / math.sqrt(3))
    assert found["restoration"][1] > 0


def test_defaults_by_evidence() -> None:
    """Worse evidence is wider; what states nothing is taken as an estimate and says so."""
    one = rig(vehicle("2,600 lb", "2,000 lb", "120 in", "45 in"), trailer("2,000 lb", "260 lb", "160 in"))
    widths = []
    for source in ("scale", "label", "brochure", "estimate"):
        empty = replace(one.trailer.empty, source=source)
        widths.append(figures_u(replace(one, trailer=replace(one.trailer, empty=empty)))["trailer_weight"][1])
    assert widths == sorted(widths)
    assert figures_u(one)["trailer_weight"][1] == pytest.approx(widths[-1])
    (first, *_) = budget(one, "trailer_weight")
    assert "source not stated" in first.how
    assert first.path == "trailer.empty.weight"


def test_shared_places_are_counted_once() -> None:
    """Two riders on one seat row move together: their parts add before they are squared."""
    one = demo("wren")
    made = budget(one, "front_alone")
    seat = next(c for c in made if c.path == "vehicle.seats.front")
    riders = mass("335 lb").si
    assert one.vehicle.wheelbase is not None
    assert seat.sensitivity == pytest.approx(riders / one.vehicle.wheelbase.si)


def test_changed_rig_has_inputs_of_its_own() -> None:
    """Two changes that put different loads at the same place in the list do not share a width."""
    one = box_rig()
    ground = stated(one)
    widths = []
    for text in ("100 lb +/- 0 lb", "100 lb +/- 50 lb", "100 lb +/- 0 lb"):
        cargo = (*one.trailer.cargo, item("more", text, "100 in"))
        changed = moved_onto(ground, replace(one, trailer=replace(one.trailer, cargo=cargo)))
        widths.append(case_result(changed, 0).figures["trailer_weight"].u or 0.0)
    assert widths[0] == widths[2] < widths[1]


def test_budget_adds_up() -> None:
    one = replace(demo("heron"), weighings=())
    for figure in ("tongue_weight", "tongue_share", "rear_axle_engaged"):
        parts = budget(one, figure)
        total = math.sqrt(sum(c.part**2 for c in parts))
        assert total == pytest.approx(figures_u(one)[figure][1], rel=1e-12)
        assert [c.part for c in parts] == sorted((c.part for c in parts), reverse=True)
        assert all(c.label and c.how for c in parts)


def test_every_field_of_the_trailer_that_weighs_is_an_input() -> None:
    """A new weight in the model must not slip past the uncertainty."""
    known = {"empty", "axles", "cylinders", "tanks", "batteries", "cargo"}
    assert known <= {f.name for f in fields(Trailer)}
    one = replace(demo("heron"), weighings=())
    paths = {c.path for c in budget(one, "tongue_weight")}
    for start in (
        "trailer.empty.tongue",
        "trailer.tanks.fresh.x",
        "trailer.cargo[0].weight",
        "trailer.axles",
    ):
        assert any(path.startswith(start) for path in paths), start
