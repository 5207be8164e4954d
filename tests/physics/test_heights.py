"""Hitch heights, squat and ball mounts against worked figures."""

from __future__ import annotations

import math

import pytest

from cardgen.model.results import Computed
from cardgen.physics.hitch import hitch_sag, needed_drop, trailer_pitch
from cardgen.physics.number import exact
from tests.limits.bench import Changes, computed

INCH, POUND_FORCE = 0.0254, 4.4482216152605
PER_INCH = POUND_FORCE / INCH


# magazine form "hitch height minus coupler top plus ball height": 22, 19 and 3 in make a drop of 6 in;
# measured to the coupler's lower lip the ball's height drops out
@pytest.mark.parametrize(
    ("receiver", "coupler", "ball", "surface", "sag", "drop"),
    [
        (22, 19, 3, "ball_top", 0, 6),
        (22, 19, 3, "lower_lip", 0, 3),
        (16, 19, 3, "ball_top", 0, 0),
        (14, 19, 3, "ball_top", 0, -2),
        (22, 19, 3, "ball_top", 2.5, 3.5),
    ],
)
def test_needed_drop(
    receiver: float, coupler: float, ball: float, surface: str, sag: float, drop: float
) -> None:
    got = needed_drop(receiver * INCH, coupler * INCH, ball * INCH, surface, sag * INCH)
    assert got == pytest.approx(drop * INCH, abs=1e-12)


def test_unknown_surface_is_refused() -> None:
    with pytest.raises(ValueError, match="surface"):
        needed_drop(1, 1, 1, "roof")


# worked with a hinged frame: rates 700 and 600 lb/in, wheelbase 145, overhang 64 in, tongue 820 lb:
# front -361.93, rear +1181.93 lb; hitch drop 3.068 in, with weight distribution 2.066 in
@pytest.mark.parametrize(
    ("rear", "front", "sag"),
    [(3961.931 - 2780, 3420 - 3058.069, 3.068), (3606.897 - 2780, 3420 - 3293.103, 2.066)],
)
def test_squat_of_the_hinged_frame(rear: float, front: float, sag: float) -> None:
    given = (rear * POUND_FORCE, front * POUND_FORCE, 600 * PER_INCH, 700 * PER_INCH, 145 * INCH, 64 * INCH)
    got = hitch_sag(*map(exact, given))
    assert got.sure / INCH == pytest.approx(sag, abs=6e-4)
    with pytest.raises(ValueError, match="rates"):
        hitch_sag(*map(exact, (1.0, 1.0, 0.0, 1.0, 1.0, 1.0)))


def test_pitch_of_one_inch() -> None:
    assert math.degrees(trailer_pitch(INCH, 220 * INCH)) == pytest.approx(0.26, abs=0.005)
    with pytest.raises(ValueError, match="axles"):
        trailer_pitch(0.1, 0.0)


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
