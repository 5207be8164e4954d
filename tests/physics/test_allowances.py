"""The largest trailer by every rated part; only the lowest counts."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.physics.allowances import AS_LOADED, bounds
from cardgen.tables.words import say
from tests.limits.bench import Changes, assessed, computed

LB = 0.45359237
FREE: Changes = {
    "vehicle.receiver.weight_carrying.tongue": "5,000 lb",
    "gear.mount.ratings.tongue": "5,000 lb",
    "trailer.coupler.ratings.tongue": "5,000 lb",
}
"""Ratings of the tongue out of the way [-]."""


def by_part(changes: Changes | None = None, base: str = "fern") -> dict[str, float | None]:
    return {say(a.part, "us"): a.trailer for a in computed(changes, base).allowances}


def test_plain_ratings_and_the_governing_one() -> None:
    made = by_part()
    assert made["trailer GVWR"] == pytest.approx(3500 * LB)
    assert made["receiver"] == pytest.approx(6000 * LB)
    assert made["vehicle tow rating"] == pytest.approx(7000 * LB)
    full = computed({"trailer.cargo_capacity": "1,000 lb"})
    assert full.allowances[0].part == "trailer {trailer_rating}"
    assert full.figures["allowed_trailer"].value == pytest.approx(3500 * LB)


def test_a_cargo_label_leaves_what_it_counts() -> None:
    case = computed().cases[0].figures
    weight, used = case["trailer_weight"].value, case["label_cargo"].value
    assert weight is not None
    assert used is not None
    assert by_part()["trailer cargo label"] == pytest.approx(weight + 850 * LB - used)
    assert computed().allowances[0].part == "trailer {cargo_label}"


def test_tongue_ratings_by_the_rigs_own_share() -> None:
    share = computed().worst("tongue_share")
    assert share is not None
    assert by_part()["receiver, tongue"] == pytest.approx(600 * LB / share[1])


def test_axles_and_tires_carry_what_the_tongue_does_not() -> None:
    share = computed().cases[0].figures["tongue_share"].value
    assert share is not None
    made = by_part(FREE)
    assert made["trailer axles"] == pytest.approx(3200 * LB / (1 - share))
    assert made["trailer tires"] == pytest.approx(2 * 2040 * LB / (1 - share))
    passenger = {"trailer.tires.type": "P", "trailer.tires.extra_load": False}
    assert by_part({**FREE, **passenger})["trailer tires"] == pytest.approx(2 * 2040 * LB / 1.1 / (1 - share))
    assert by_part({**FREE, "trailer.gtm": "3,000 lb"})[
        "trailer rating of all axles together"
    ] == pytest.approx(3000 * LB / (1 - share))


# UN R55: the weaker plate of 11 kN behind a 2,500 kg car allows 2,033.3 kg
def test_d_value_is_an_allowance() -> None:
    made = by_part({}, "teal")
    assert made["receiver, D value"] == pytest.approx(2033.3, abs=0.05)
    assert made["coupler, D value"] == pytest.approx(12000 * 2500 / (9.81 * 2500 - 12000), rel=1e-9)
    assert "receiver, D value" not in by_part()
    assert by_part({"vehicle.receiver.d_value": "11 kN"})["receiver, D value"] is not None


def test_what_the_vehicle_has_left() -> None:
    made, case = by_part(FREE), computed().cases[0].figures
    alone, share = case["vehicle_alone"].value, case["tongue_share"].value
    used, tongue = case["placard_used"].value, case["tongue_weight"].value
    assert alone is not None
    assert share is not None
    assert used is not None
    assert tongue is not None
    assert made["GCWR less loaded vehicle"] == pytest.approx(14000 * LB - alone)
    assert made["vehicle GVWR less loaded vehicle"] == pytest.approx((7000 * LB - alone) / share)
    assert made["placard less people and cargo"] == pytest.approx((1700 * LB - (used - tongue)) / share)
    assert by_part({"vehicle.gvwr": "4,000 lb"})["vehicle GVWR less loaded vehicle"] == 0.0


@pytest.mark.parametrize(
    "changes",
    [
        {"vehicle.gcwr": None},
        {"vehicle.receiver": None},
        {"gear.ball": None},
        {"trailer.brakes": {}},
        {"trailer.tires.max_load": None},
        {"trailer.empty.tongue": None},
    ],
)
def test_one_unknown_rating_leaves_the_whole_unknown(changes: Changes) -> None:
    allowed = computed(changes).figures["allowed_trailer"]
    assert allowed.value is None
    assert allowed.needs


def test_weight_distribution_asked_for_is_a_rating_without_it() -> None:
    asked: Changes = {"vehicle.tow_rating.needs_distribution_above": "3,400 lb"}
    assert computed(asked).allowances[0].part == "vehicle rating without weight distribution"
    fitted = {**asked, "gear.weight_distribution": {"restoration": "50 %"}}
    assert "vehicle rating without weight distribution" not in by_part(fitted)


@given(
    gvwr=st.integers(2900, 9000),
    rating=st.integers(500, 9000),
    ball=st.integers(500, 9000),
    gcwr=st.integers(7000, 20000),
)
@settings(max_examples=25, deadline=None)
def test_the_allowed_trailer_is_the_lowest_of_all(gvwr: int, rating: int, ball: int, gcwr: int) -> None:
    made = assessed(
        {
            "trailer.gvwr": f"{gvwr} lb",
            "vehicle.tow_rating.braked": f"{rating} lb",
            "gear.ball.rating": f"{ball} lb",
            "vehicle.gcwr": f"{gcwr} lb",
        }
    ).computed
    known = [a.trailer for a in made.allowances if a.trailer is not None and a.formula != AS_LOADED]
    assert made.figures["allowed_trailer"].value == min(known)
    assert known == sorted(known)


def test_an_axle_without_a_link_eases_as_the_coupling_sinks() -> None:
    """What a kilogram of tongue takes off each axle is the slope between two rigs that differ in nothing else."""
    rig: dict[str, object] = {
        "trailer.axles": {
            "count": 2, "gawr": ["2,000 lb", "2,000 lb"], "ball_to_center": "14 ft", "track": "6 ft",
            "suspension": "independent", "spacing": "33 in", "rate": "1,400 lb/in",
        },
        "vehicle.receiver.height_hitched": None, "vehicle.front_axle_rate": "600 lb/in", "vehicle.rear_axle_rate": "500 lb/in",
    }  # fmt: skip
    light, heavy = (computed(rig | {"trailer.empty.tongue": f"{t} lb"}) for t in (320, 360))
    first, second = (one.cases[0].figures for one in (light, heavy))

    def gained(name: str) -> float:
        return (second[name].value or 0.0) - (first[name].value or 0.0)

    made = [one for one in bounds(light, light.cases[0]) if one.part == "trailer axles"]
    for bound, name in zip(made, ("axle_1", "axle_2"), strict=True):
        assert bound.by_tongue == pytest.approx(gained(name) / gained("tongue_weight"))
    assert made[0].by_tongue != pytest.approx(made[1].by_tongue)
