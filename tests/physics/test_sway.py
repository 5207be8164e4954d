"""The order of loading cases by sway: direction, honesty, and agreement with the oracle."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations

import pytest

from cardgen.model.advice import Indicators
from cardgen.physics.compute import compute
from cardgen.physics.sway import behind_share, compare, swing_inertia
from tests.physics.build import DEMO, demo
from tests.physics.singletrack import Train, least_damping

AXLES = 5.2
LOADS: dict[str, list[tuple[float, float]]] = {
    "over the axle": [(400, 5.2)],
    "a little forward": [(400, 4.9)],
    "a little rearward": [(400, 5.5)],
    "at the front": [(400, 2.4)],
    "at both ends": [(200, 2.4), (200, 8.0)],
    "half way to both ends": [(200, 3.7), (200, 6.7)],
    "at the rear": [(400, 8.0)],
}
"""400 kg in a generic trailer of 2300 kg, ball to axles 5.2 m."""
EMPTY, EMPTY_TONGUE, EMPTY_INERTIA = 2300.0, 0.12 * 2300, 9700.0


def indicators(name: str) -> Indicators:
    """What the report's comparison sees."""
    masses, arms = zip(*LOADS[name], strict=True)
    tongue = EMPTY_TONGUE + sum(m * (1 - x / AXLES) for m, x in LOADS[name])
    return Indicators(
        name,
        tongue / (EMPTY + sum(masses)),
        swing_inertia(masses, arms, AXLES),
        behind_share(masses, arms, AXLES),
    )


def damping(name: str, speed: float = 100 / 3.6) -> float:
    """What the oracle computes for the same loading: generic vehicle, stiffness proportional to load."""
    centre = AXLES * (1 - EMPTY_TONGUE / EMPTY)
    whole = EMPTY + sum(m for m, _ in LOADS[name])
    moment = EMPTY * centre + sum(m * x for m, x in LOADS[name])
    d = moment / whole
    inertia = EMPTY_INERTIA + EMPTY * (centre - d) ** 2 + sum(m * (x - d) ** 2 for m, x in LOADS[name])
    tongue, vehicle, wheelbase, ahead, hang = whole * (1 - d / AXLES), 2500.0, 3.1, 1.43, 1.25
    front = 9.81 * (vehicle * (wheelbase - ahead) - tongue * hang) / wheelbase
    rear = 9.81 * (vehicle + tongue) - front
    group = 9.81 * (whole - tongue)
    train = Train(
        m1=vehicle, I1=vehicle * ahead * (wheelbase - ahead), a=ahead, b=wheelbase - ahead,
        h=wheelbase - ahead + hang, m2=whole, I2=inertia, d=d, Cf=5.5 * front, Cr=7.0 * rear,
        axles=((AXLES - 0.425, 3.25 * group), (AXLES + 0.425, 3.25 * group)),
    )  # fmt: skip
    return least_damping(train, speed)


@pytest.mark.parametrize(("first", "second"), list(combinations(LOADS, 2)))
def test_every_verdict_agrees_with_the_oracle(first: str, second: str) -> None:
    """Whenever the comparison names a better case, the single-track model agrees."""
    verdict = compare(indicators(first), indicators(second), {}).verdict
    if verdict == "first":
        assert damping(first) > damping(second)
    elif verdict == "second":
        assert damping(second) > damping(first)


@pytest.mark.parametrize(
    ("better", "worse"),
    [
        ("over the axle", "at the rear"),
        ("over the axle", "at both ends"),
        ("over the axle", "half way to both ends"),
        ("half way to both ends", "at both ends"),
        ("over the axle", "a little rearward"),
        ("a little forward", "a little rearward"),
        ("at both ends", "at the rear"),
    ],
)
def test_loadings_that_differ_in_one_way_are_ordered(better: str, worse: str) -> None:
    assert compare(indicators(better), indicators(worse), {}).verdict == "first"
    assert compare(indicators(worse), indicators(better), {}).verdict == "second"


def test_opposing_effects_cannot_be_told() -> None:
    """More on the tongue, but at the end: two effects against each other."""
    found = compare(indicators("at the front"), indicators("over the axle"), {})
    assert found.verdict == "cannot tell"
    assert "these effects oppose each other" in found.reasons


def test_equal_cases_are_the_same() -> None:
    one = indicators("over the axle")
    assert compare(one, replace(one, case="again"), {}).verdict == "same"


def test_a_case_that_breaks_a_limit_is_never_better() -> None:
    found = compare(
        indicators("over the axle"), indicators("at the rear"), {"over the axle": ("tongue weight",)}
    )
    assert found.verdict == "cannot tell"
    assert "breaks a limit" in found.reasons[-1]
    other = compare(indicators("over the axle"), indicators("at the rear"), {"at the rear": ("x",)})
    assert other.verdict == "first"


@pytest.mark.parametrize("field", ["tongue_share", "inertia", "behind"])
def test_unknown_cannot_be_told(field: str) -> None:
    unknown = replace(indicators("at the rear"), **{field: None})  # type: ignore[arg-type]  # all may be None
    assert compare(indicators("over the axle"), unknown, {}).verdict == "cannot tell"


@pytest.mark.parametrize("name", DEMO)
def test_no_speed_and_no_damping_number(name: str) -> None:
    """Only shares and a relative difference of inertia are ever told."""
    known = [case.sway for case in compute(demo(name)).cases if case.sway is not None]
    for first, second in combinations(known, 2):
        found = compare(first, second, {})
        assert {kind for _, kind in found.values.values()} <= {"fraction"}
        text = " ".join(found.reasons)
        assert not re.search(r"mph|km/h|m/s|speed|damping", text)
        assert set(re.findall(r"\{(\w+)\}", text)) <= {*found.values, "on_tongue"}


def test_missing_place_is_named() -> None:
    one = demo("wren")
    cargo = (replace(one.trailer.cargo[0], x=None), *one.trailer.cargo[1:])
    case = compute(replace(one, trailer=replace(one.trailer, cargo=cargo))).cases[0]
    assert case.sway is not None
    assert case.sway.inertia is None
    assert {n.path for n in case.sway.needs} == {"trailer.cargo[0].x"}
