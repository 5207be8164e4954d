"""Checks of coupling ratings, classes, balls, plates, sizes, heights, chains and plugs."""

from __future__ import annotations

import pytest

from cardgen.limits.registry import rules
from cardgen.model.results import Basis, Outcome
from tests.limits.bench import Changes, assessed, computed, finding, paths

W, C, O, N = Outcome.WITHIN, Outcome.CLOSE, Outcome.OVER, Outcome.NOT_CHECKED  # noqa: E741 - one letter each
LB = 0.45359237
ADAPTER: Changes = {
    "gear.adapter": {
        "kind": "reducer", "outside": "2.5 in", "inside": "2 in",
        "ratings": {"trailer": "3,500 lb", "tongue": "350 lb"},
    },
    "vehicle.receiver.opening": "2.5 in",
}  # fmt: skip
DISTRIBUTION: Changes = {
    "gear.weight_distribution": {
        "restoration": "50 %",
        "ratings": {"trailer": "8,000 lb", "tongue": "800 lb"},
    }
}


@pytest.mark.parametrize(
    ("code", "outcome", "changes", "base"),
    [
        ("hitch-trailer-receiver", W, {}, "fern"),
        ("hitch-trailer-receiver", C, {"vehicle.receiver.weight_carrying.trailer": "2,950 lb"}, "fern"),
        ("hitch-trailer-receiver", O, {"vehicle.receiver.weight_carrying.trailer": "2,000 lb"}, "fern"),
        ("hitch-trailer-receiver", N, {"vehicle.receiver.weight_carrying": {}}, "fern"),
        ("hitch-trailer-receiver", N, {"vehicle.receiver": None}, "fern"),
        ("hitch-trailer-ball-mount", N, {"gear.mount": None}, "fern"),
        ("hitch-trailer-ball", N, {"gear.ball": None}, "fern"),
        ("hitch-trailer-receiver-adapter", W, ADAPTER, "fern"),
        ("hitch-trailer-receiver-adapter", O, {**ADAPTER, "gear.adapter.ratings": {"trailer": "2,000 lb"}}, "fern"),
        ("hitch-tongue-receiver-adapter", N, {**ADAPTER, "gear.adapter.ratings": {"trailer": "3,500 lb"}}, "fern"),
        ("hitch-trailer-weight-distribution", W, DISTRIBUTION, "fern"),
        ("hitch-trailer-vehicle-rating-without-weight-distribution", O, {"vehicle.tow_rating.weight_carrying": "2,500 lb"}, "fern"),
        ("hitch-tongue-receiver", N, {"vehicle.receiver": None}, "fern"),
        ("hitch-tongue-ball-mount", N, {"gear.mount": None}, "fern"),
        ("hitch-trailer-bed-hitch", W, {}, "elm"),
        ("hitch-trailer-bed-hitch", O, {"vehicle.bed_hitch.ratings.trailer": "2,000 lb"}, "elm"),
        ("hitch-tongue-bed-hitch", N, {"vehicle.bed_hitch.ratings": {}}, "elm"),
        ("s-value", W, {}, "teal"),
        ("s-value", C, {"vehicle.tow_rating.tongue": "67 kg"}, "teal"),
        ("s-value", O, {"vehicle.tow_rating.tongue": "60 kg"}, "teal"),
        ("s-value", N, {"trailer.coupler.ratings.tongue": None}, "teal"),
        ("d-value", W, {}, "teal"),
        ("d-value", C, {"vehicle.receiver.d_value": "8.4 kN"}, "teal"),
        ("d-value", O, {"vehicle.receiver.d_value": "8 kN"}, "teal"),
        ("d-value", O, {"vehicle.receiver.d_value": "8 kN", "trailer.coupler.d_value": None}, "teal"),
        ("d-value", N, {"trailer.coupler.d_value": None}, "teal"),
        ("d-value", N, {"vehicle.gvwr": None}, "teal"),
        ("d-value", N, {"vehicle.receiver.d_value": "40 kN"}, "fern"),
        ("s-value", N, {"vehicle.tow_rating.tongue": None}, "teal"),
        ("hitch-trailer-ball-mount", O, {**DISTRIBUTION, "gear.mount.ratings": {"trailer": "2,000 lb"}}, "fern"),
        ("hitch-tongue-ball-mount", O, {"gear.mount": {"ratings": {"tongue": "20 kg"}}}, "teal"),
        ("coupling-class", W, {}, "fern"),
        ("coupling-class", C, {"gear.ball.rating": "3,000 lb"}, "fern"),
        ("coupling-class", C, {"gear.ball.diameter": "1 7/8 in"}, "fern"),
        ("coupling-class", N, {"trailer.gvwr": None}, "fern"),
        ("coupling-class", N, {"gear.ball.diameter": None}, "fern"),
        ("bed-hitch-reach", W, {}, "elm"),
        ("bed-hitch-reach", C, {"trailer.gvwr": "30,001 lb"}, "elm"),
        ("bed-hitch-reach", N, {"trailer.gvwr": None}, "elm"),
        ("ball-size", W, {}, "fern"),
        ("ball-size", O, {"trailer.coupler.ball": "50 mm"}, "fern"),
        ("ball-size", N, {"trailer.coupler.ball": None}, "fern"),
        ("ball-size", N, {"gear.ball.measured": "50 mm"}, "fern"),
        ("ball-size", N, {"gear.ball.measured": "50.7 mm"}, "teal"),
        ("ball-wear", W, {}, "teal"),
        ("ball-wear", C, {"gear.ball.measured": "49 mm"}, "teal"),
        ("ball-wear", N, {"gear.ball.measured": None}, "teal"),
        ("ball-wear", C, {"gear.ball.measured": "50.7 mm"}, "teal"),
        ("ball-wear", W, {"gear.ball.measured": "50.7 mm"}, "fern"),
        ("ball-wear", C, {"gear.ball.measured": "50 mm"}, "fern"),
        ("shank-fit", W, {}, "fern"),
        ("shank-fit", O, {"vehicle.receiver.opening": "2.5 in"}, "fern"),
        ("shank-fit", N, {"gear.mount.shank": None}, "fern"),
        ("shank-fit", N, {"gear.mount.shank": "50 mm"}, "fern"),
        ("shank-fit", N, {"vehicle.receiver.opening": "50 mm"}, "fern"),
        ("shank-fit", O, {"vehicle.receiver.opening": "49 mm"}, "fern"),
        ("ball-hole-fit", O, {"gear.mount.hole": "26.2 mm"}, "fern"),
        ("adapter-fit", W, ADAPTER, "fern"),
        ("adapter-fit", O, {**ADAPTER, "vehicle.receiver.opening": "3 in"}, "fern"),
        ("adapter-fit", N, {**ADAPTER, "vehicle.receiver.opening": None}, "fern"),
        ("ball-hole-fit", W, {}, "fern"),
        ("ball-hole-fit", O, {"gear.mount.hole": "1 1/4 in"}, "fern"),
        ("ball-hole-fit", N, {"gear.ball.shank": None}, "fern"),
        ("mount-height", W, {}, "fern"),
        ("mount-height", C, {"gear.mount.drop": "4 in"}, "fern"),
        ("mount-height", N, {"vehicle.receiver.height_hitched": None}, "fern"),
        ("mount-height", W, {}, "teal"),
        ("mount-height", C, {"vehicle.receiver.height_hitched": "36 cm"}, "teal"),
        ("mount-height", N, {"vehicle.receiver.height_hitched": None}, "teal"),
        ("mount-height", W, {}, "elm"),
        ("mount-height", C, {"vehicle.bed_hitch.height": "53 in"}, "elm"),
        ("mount-height", N, {"vehicle.rear_axle_rate": None}, "elm"),
        ("mount-height", N, {"trailer.coupler.height_at": None}, "elm"),
        ("coupling-height-head", W, {}, "teal"),
        ("coupling-height-head", C, {"trailer.coupler.height": "50 cm"}, "teal"),
        ("coupling-height-head", N, {"trailer.coupler.height": None}, "teal"),
        ("coupling-height-centre", W, {}, "teal"),
        ("coupling-height-centre", C, {"vehicle.receiver.ball_height": "45 cm"}, "teal"),
        ("coupling-height-centre", N, {"vehicle.receiver.ball_height": None}, "teal"),
        ("chains", W, {}, "fern"),
        ("chains", C, {"trailer.chains.strength": "3,400 lb"}, "fern"),
        ("chains", C, {"trailer.chains.count": 1}, "fern"),
        ("chains", N, {"trailer.chains.strength": None}, "fern"),
        ("connector", W, {}, "fern"),
        ("connector", W, {"trailer.connector": "6-round", "gear.plug_adapter": True}, "fern"),
        ("connector", O, {"trailer.connector": "4-flat", "gear.plug_adapter": True}, "fern"),
        ("connector", O, {"trailer.connector": "6-round", "gear.plug_adapter": False}, "fern"),
        ("connector", N, {"trailer.connector": "6-round"}, "fern"),
        *(
            ("connector", outcome, {"trailer.connector": plug, "vehicle.connector": socket, "gear.plug_adapter": False, "trailer.brakes.kind": brakes}, "fern")
            for plug, socket, brakes, outcome in (
                ("4-flat", "5-flat", "none", C), ("7-flat-au", "12-flat-au", "electric", C), ("4-flat", "5-flat", None, N),
                ("5-flat", "4-flat", "none", O), ("4-flat", "5-flat", "electric", O),
            )
        ),
        ("connector", N, {"trailer.connector": "5-flat", "gear.plug_adapter": True}, "fern"),
        ("connector", N, {"vehicle.connector": None}, "fern"),
    ],
)  # fmt: skip
def test_outcomes(code: str, outcome: Outcome, changes: Changes, base: str) -> None:
    assert finding(code, changes, base).outcome is outcome


def codes(changes: Changes, base: str = "fern") -> set[str]:
    return {f.code for f in assessed(changes, base).findings}


def test_a_part_that_is_not_in_use_is_not_checked() -> None:
    assert "hitch-trailer-ball-mount" not in codes({}, "teal")  # the ball is part of the bar
    assert "hitch-trailer-ball-mount" not in codes({**DISTRIBUTION, "gear.mount.ratings": None})
    assert finding("hitch-trailer-ball-mount", DISTRIBUTION).outcome is W  # stated, so it counts
    assert not {c for c in codes({}, "elm") if c.startswith(("ball-", "coupling-class", "shank"))}
    assert not codes({}) & {"s-value", "d-value", "coupling-height-head"}
    assert "d-value" in codes({"vehicle.receiver.d_value": "40 kN"})  # stated, so it counts anywhere


def test_weight_distribution_takes_the_other_column() -> None:
    assert finding("hitch-trailer-receiver").capacity == pytest.approx(6000 * LB)
    assert finding("hitch-trailer-receiver", DISTRIBUTION).capacity == pytest.approx(10000 * LB)
    raw = finding("hitch-tongue-receiver", DISTRIBUTION)
    assert raw.demand == pytest.approx(finding("hitch-tongue-receiver").demand)  # static, bars slack


def test_an_adapter_lowers_the_allowed_trailer() -> None:
    def part(changes: Changes) -> float | None:
        return next(
            a.trailer for a in assessed(changes).computed.allowances if a.part == "{receiver} adapter"
        )

    assert part(ADAPTER) == pytest.approx(3500 * LB)


# COMAR 11.13.08.04(B) classes by gross weight, 11.13.08.10 Table 1 balls: 1-7/8, 2, 2 in, none
@pytest.mark.parametrize(
    ("gvwr", "ball", "outcome", "number"),
    [
        ("3,400 lb", "2 in", W, 2),
        ("3,500 lb", "1 7/8 in", C, 2),
        ("3,501 lb", "1 7/8 in", C, 3),
        ("5,001 lb", "1 7/8 in", C, 4),  # class 4: the ball is sized by strength, the coupler is rated 5,000
    ],
)
def test_classes(gvwr: str, ball: str, outcome: Outcome, number: int) -> None:
    found = finding("coupling-class", {"trailer.gvwr": gvwr, "gear.ball.diameter": ball})
    assert found.outcome is outcome
    assert f"class {number}" in found.message


def test_above_ten_thousand_pounds_only_makers_count() -> None:
    found = finding("coupling-class", {"trailer.gvwr": "10,001 lb"})
    assert (found.outcome, found.critical) == (W, False)
    assert "makers' ratings" in found.message


# UN R55 2.11, own example: T 2.50 t, R 1.80 t asks 10.27 kN; a bar of 11.0 kN allows 2.03 t
def test_d_value_of_the_example() -> None:
    changes = {"trailer.gvwr": "1,800 kg", "trailer.cargo_capacity": None}
    found = finding("d-value", changes, "teal")
    assert found.demand is not None
    assert found.demand / 1e3 == pytest.approx(10.266, abs=5e-4)
    assert found.governed_by == "{receiver}"
    assert found.values["allowed"][0] == pytest.approx(2033.3, abs=0.05)
    assert found.critical


def test_worn_ball_takes_the_test_ball_of_the_regulation() -> None:
    assert finding("ball-wear", {"gear.ball.measured": "49.1 mm"}, "teal").outcome is W
    assert finding("ball-wear", {"gear.ball.measured": "49.0 mm"}, "teal").outcome is C


def test_chains_count_each_alone() -> None:
    # two chains of 5,000 lb, trailer 7,000 lb: J684 class 4 asks each to hold the GVWR
    weak = {"trailer.gvwr": "7,000 lb", "trailer.axles.gawr": ["6,600 lb"]}
    found = finding("chains", weak)
    assert (found.outcome, found.basis) == (C, Basis.STANDARD)
    assert found.demand == pytest.approx(7000 * LB)


def test_chain_strength_in_force() -> None:
    # 22.2 kN is class 3's figure beside 5,000 lb in SAE J684 (secondary copy): it covers class 2
    assert finding("chains", {"trailer.chains.strength": "22.2 kN"}).outcome is W


def test_a_better_mount_on_the_shelf_is_named() -> None:
    stock = [
        {"name": "long drop", "drop": "6 in", "shank": "2 in", "hole": "1 in"},
        {"name": "short drop", "drop": "1.5 in", "shank": "2 in", "hole": "1 in"},
        {"name": "thick shank", "drop": "2 in", "shank": "2.5 in", "hole": "1 in"},
    ]
    found = finding("mount-height", {"gear.mount.drop": "4 in", "gear.stock": stock})
    assert found.outcome is C
    assert "'short drop'" in found.message
    assert "pitch" in found.values


def test_squat_is_asked_for_and_what_is_known_is_still_said() -> None:
    found = finding("mount-height", {"vehicle.receiver.height_hitched": None})
    assert paths(found) == {"vehicle.receiver.height_hitched"}
    assert "without the squat" in found.message
    assert found.values["needed"][0] == pytest.approx(3 * 0.0254)


def test_every_finding_belongs_to_a_rule_by_its_code() -> None:
    known = {r.code for r in rules()}
    for base in ("fern", "teal", "elm"):
        for changes in ({}, {"use": "commercial"}, {"places": ["us-wa", "atlantis"]}):
            for found in assessed(changes, base).findings:
                assert any(found.code == c or found.code.startswith(f"{c}-") for c in known), found.code


SPRUNG: Changes = {
    "vehicle.receiver.height_hitched": None,
    "vehicle.receiver.height": "19 in",
    "vehicle.front_axle_rate": "700 lb/in",
    "vehicle.rear_axle_rate": "300 lb/in",
    "trailer.cargo": [{"name": "load", "weight": "900 lb", "x": "2 ft", "y": "0 in", "set": "load"}],
    "trailer.tanks": {},
    "trailer.cylinders": {},
    "trailer.empty.includes": {},
    "cases": [{"name": "full", "cargo": ["load"], "fuel": "full"}, {"name": "empty", "fuel": "full"}],
}


def test_every_case_is_judged_for_its_height() -> None:
    """A drop that suits the loaded trailer leaves the empty one high: the deepest case is not the only one."""
    full, empty = (case.figures["height_error"].value or 0.0 for case in computed(SPRUNG).cases)
    drop = 2 * 0.0254 + full  # the bench's mount drops 2 in
    suited = finding("mount-height", {**SPRUNG, "gear.mount.drop": f"{drop / 0.0254:.4f} in"})
    assert empty - full > 2 * 0.0254
    assert suited.outcome is C
    assert suited.case == "empty"
    assert "high" in suited.message
    assert suited.values["off"][0] == pytest.approx(empty - full, abs=1e-4)
    other = finding("mount-height", {**SPRUNG, "gear.mount.drop": f"{(2 * 0.0254 + empty) / 0.0254:.4f} in"})
    assert (other.outcome, other.case) == (C, "full")
    assert "low" in other.message


@pytest.mark.parametrize("count", [2, 3])
def test_an_axle_is_over_in_whichever_case_leans_on_it(count: int) -> None:
    """Ratings just above an even share: low in front the first axle is over, high in front the last."""
    changes: Changes = {
        **SPRUNG,
        "trailer.axles.count": count,
        "trailer.axles.suspension": "independent",
        "trailer.axles.rate": "1,400 lb/in",
        "trailer.axles.spacing": "33 in",
        "trailer.tires": None,
    }
    for drop in ("5 in", "-3 in"):
        made = computed({**changes, "gear.mount.drop": drop, "trailer.axles.gawr": None})
        names = [f"axle_{i + 1}" for i in range(count)]
        loads = [[case.figures[name].value or 0.0 for name in names] for case in made.cases]
        least = max(sum(row) / count for row in loads) * 1.02 / 0.45359237
        rated = {**changes, "gear.mount.drop": drop, "trailer.axles.gawr": [f"{least:.1f} lb"] * count}
        judged = [f for f in assessed(rated).findings if f.code.removeprefix("trailer-axle-").isdigit()]
        over = [f.code[-1] for f in judged if f.outcome is O]
        worst = max(range(count), key=lambda i: max(row[i] for row in loads))
        assert worst == (0 if drop == "5 in" else count - 1)
        assert str(worst + 1) in over
        for i, one in enumerate(judged):
            assert one.demand == pytest.approx(max(row[i] for row in loads))
