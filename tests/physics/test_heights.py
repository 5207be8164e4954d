"""Hitch heights, squat and ball mounts against worked figures."""

from __future__ import annotations

import math

import pytest

from cardgen.model.results import Computed
from cardgen.physics.hitch import needed_drop
from tests.limits.bench import Changes, computed

INCH, POUND_FORCE = 0.0254, 4.4482216152605
PER_INCH = POUND_FORCE / INCH


def test_unknown_surface_is_refused() -> None:
    with pytest.raises(ValueError, match="surface"):
        needed_drop(1, 1, 1, "roof")


RATES: Changes = {
    "vehicle.receiver.height_hitched": None,
    "vehicle.front_axle_rate": "700 lb/in",
    "vehicle.rear_axle_rate": "600 lb/in",
}


def figure(made: Computed, name: str) -> float:
    value = made.figures[name].value
    assert value is not None
    return value


def test_measured_squat_wins_and_the_drop_follows() -> None:
    made = computed()
    assert figure(made, "hitch_sag") == pytest.approx(INCH)
    assert figure(made, "drop_needed") == pytest.approx((19 - 1 - 19 + 3) * INCH)
    assert figure(made, "height_error") == pytest.approx(0.0, abs=1e-12)
    assert made.figures["hitch_sag"].source == "tape measure"


def test_squat_from_rates_follows_the_loads() -> None:
    made = computed(RATES)
    case = made.cases[0].figures
    tongue, wheelbase, overhang = case["tongue_weight"].value, 144 * INCH, 48 * INCH
    assert tongue is not None
    rear = tongue * (1 + overhang / wheelbase) * 9.80665 / (600 * PER_INCH)
    front = tongue * overhang / wheelbase * 9.80665 / (700 * PER_INCH)
    assert figure(made, "hitch_sag") == pytest.approx(rear + (rear + front) * overhang / wheelbase)
    engaged = {**RATES, "gear.weight_distribution": {"restoration": "100 %"}}
    assert figure(computed(engaged), "hitch_sag") < figure(made, "hitch_sag")


def test_without_squat_the_drop_says_so() -> None:
    made = computed({"vehicle.receiver.height_hitched": None})
    assert figure(made, "drop_needed") == pytest.approx(3 * INCH)
    assert "squat not counted" in made.figures["drop_needed"].label
    assert made.figures["height_error"].value is None
    assert {n.path for n in made.figures["height_error"].needs} == {"vehicle.receiver.height_hitched"}


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"trailer.coupler.height": None}, "trailer.coupler.height"),
        ({"trailer.coupler.height_at": None}, "trailer.coupler.height_at"),
        ({"gear.ball.height": None}, "gear.ball.height"),
        ({"vehicle.receiver": None}, "vehicle.receiver.height"),
        ({"gear.mount.drop": None}, "gear.mount.drop"),
    ],
)
def test_missing_heights_are_asked_for(changes: Changes, path: str) -> None:
    error = computed(changes).figures["height_error"]
    assert error.value is None
    assert path in {n.path for n in error.needs}


def test_lower_lip_and_ball_top_are_the_same_rig() -> None:
    top = computed()
    lip = computed({"trailer.coupler.height": "16 in", "trailer.coupler.height_at": "lower_lip"})
    assert figure(lip, "drop_needed") == pytest.approx(figure(top, "drop_needed"))
    assert figure(lip, "ball_height_needed") == pytest.approx(figure(top, "ball_height_needed"))


def test_fixed_ball_by_centre_and_bed_hitch_by_plate() -> None:
    fixed = computed({}, "teal")
    assert "drop_needed" not in fixed.figures
    # ball centre 41 cm less 1 cm of squat; coupler 43 cm to the top, centre 40.5 cm
    assert figure(fixed, "height_error") == pytest.approx(-0.005)
    bed = computed({}, "elm")
    squat = figure(bed, "hitch_sag")
    assert figure(bed, "height_error") == pytest.approx(INCH - squat)
    assert squat > 0


def test_mounts_are_ranked_and_misfits_last() -> None:
    stock = [
        {"name": "long", "drop": "6 in", "shank": "2 in", "hole": "1 in"},
        {"name": "fat", "drop": "2 in", "shank": "2.5 in", "hole": "1 in"},
        {"name": "weak", "drop": "2 in", "shank": "2 in", "hole": "1 in", "ratings": {"trailer": "1,000 lb"}},
        {"name": "unknown", "shank": "2 in", "hole": "1 in"},
        {
            "name": "light",
            "drop": "2 in",
            "shank": "2 in",
            "hole": "1 1/4 in",
            "ratings": {"tongue": "100 lb"},
        },
    ]
    made = computed({"gear.mount.drop": "3 in", "gear.stock": stock}).mounts
    assert [m.name for m in made][:3] == ["{ball_mount} in use", "long", "unknown"]
    assert {m.name for m in made if m.obstacles} == {"fat", "weak", "light"}
    light = next(m for m in made if m.name == "light")
    assert len(light.obstacles) == 2
    in_use = made[0]
    assert in_use.fitted
    assert in_use.error == pytest.approx(-INCH)
    assert in_use.pitch == pytest.approx(math.atan2(-INCH, 14 * 0.3048))
    assert computed({}, "teal").mounts == ()
