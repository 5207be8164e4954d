"""Proposals: each is carried out in the rig by hand and checked again; short ratings are named."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from pydantic import TypeAdapter

from cardgen.limits.assess import assess
from cardgen.limits.remedies import MOST
from cardgen.model.advice import Remedy
from cardgen.model.results import Assessment, Finding, Outcome
from cardgen.model.rig import Rig
from cardgen.physics.compute import compute
from tests.limits.bench import DAY, assessed, tree_of
from tests.limits.carry import Tree, carried_out
from tests.physics.build import POUND


def read(tree: Tree) -> Rig:
    """Read a document."""
    return TypeAdapter(Rig).validate_python(tree)


RANK = {Outcome.WITHIN: 0, Outcome.CLOSE: 1, Outcome.NOT_CHECKED: 2, Outcome.OVER: 3}
BAYS = {"front locker": "5 ft", "middle": "13 ft", "rear hatch": "18 ft"}
CARGO: list[dict[str, Any]] = [
    {"name": "boxes", "weight": "150 lb", "x": "12 ft", "y": "0 in", "set": "trip"},
    {"name": "grill", "weight": "90 lb", "x": "17 ft", "y": "0 in"},
    {"name": "tools", "weight": "80 lb", "x": "5 ft", "y": "0 in"},
    {"name": "piano", "weight": "60 lb", "x": "16 ft", "y": "0 in", "movable": False},
]
PLAIN: dict[str, Any] = {"trailer.bays": BAYS, "trailer.cargo": CARGO}
TROUBLES: dict[str, dict[str, Any]] = {
    "too heavy": PLAIN | {"trailer.gvwr": "3,000 lb"},
    "too little on the tongue": PLAIN
    | {
        "trailer.empty.tongue": "230 lb",
        "limits.tongue_share": {"low": "10 %", "high": "15 %", "source": "trailer handbook"},
    },
    "too much on the tongue": PLAIN | {"limits.tongue_weight": {"high": "345 lb"}},
    "cargo label": PLAIN | {"trailer.cargo_capacity": "420 lb"},
    "old cargo label": PLAIN | {"trailer.cargo_capacity": "340 lb", "trailer.year": 2005},
    "weak ball": PLAIN | {"gear.ball.rating": "2,000 lb"},
    "rear axle": PLAIN | {"vehicle.gawr.rear": "2,690 lb"},
    "placard": PLAIN
    | {
        "vehicle.placard_capacity": "590 lb",
        "vehicle.cargo": [{"name": "cooler", "weight": "80 lb", "ahead_of_rear_axle": "2 ft"}],
    },
    "one of two cases": PLAIN
    | {
        "trailer.gvwr": "3,300 lb",
        "limits.tongue_weight": {"high": "372 lb"},
        "vehicle.cargo": [{"name": "bags", "weight": "60 lb", "ahead_of_rear_axle": "1 ft", "set": "trip"}],
        "cases": [
            {
                "name": "out",
                "cargo": ["trip"],
                "tanks": {"fresh": "1/2"},
                "cylinders": {"left": "full"},
                "fuel": "full",
            },
            {"name": "home", "tanks": {"fresh": "1/4"}, "cylinders": {"left": "full"}, "fuel": "1/2"},
        ],
    },
    "tires": PLAIN | {"trailer.empty.left_minus_right": "0 lb", "trailer.tires.max_load": "1,300 lb"},
}


def trouble(name: str) -> Assessment:
    """An assessment with something to mend."""
    made = assessed(TROUBLES[name])
    assert any(f.outcome is Outcome.OVER for f in made.findings), name
    return made


def codes(made: Assessment) -> dict[str, Finding]:
    """Findings by code."""
    return {f.code: f for f in made.findings}


def broken_promises(changes: dict[str, Any], base: str = "fern") -> tuple[list[str], list[Remedy]]:
    """Carry every proposal out on the file; what it promised and did not do, and all that were tried."""
    tree = tree_of(changes, base)
    before = assessed(changes, base)
    offenders, tried = [], []
    for code, found in before.remedies.items():
        for remedy in found:
            if remedy.kind in ("weigh", "short"):
                continue
            after = codes(assess(compute(read(carried_out(tree, remedy))), DAY, advise=False))
            tried.append(remedy)
            if code not in after or after[code].outcome.value != remedy.after:
                offenders.append(f"{code}: {remedy.text} promises {remedy.after}")
            if RANK[after[code].outcome] >= RANK[codes(before)[code].outcome]:
                offenders.append(f"{code}: {remedy.text} is no better")
            for other, new in after.items():
                old = codes(before).get(other)
                if old is not None and RANK[new.outcome] > RANK[old.outcome]:
                    offenders.append(f"{code}: {remedy.text} turns {other} {new.outcome.value}")
            over = {c for c, f in after.items() if f.outcome is Outcome.OVER and f.critical}
            if over != set(remedy.left):
                offenders.append(f"{code}: {remedy.text} leaves {sorted(over)}, says {remedy.left}")
    return offenders, tried


def test_every_proposal_holds_when_it_is_carried_out() -> None:
    """The owner's own change of the file does what was promised and makes nothing else worse."""
    made = {name: broken_promises(changes) for name, changes in TROUBLES.items()}
    assert {name: offenders for name, (offenders, _) in made.items() if offenders} == {}
    assert [name for name, (_, tried) in made.items() if not tried] == []
    assert {r.kind for _, tried in made.values() for r in tried} >= {"move", "shift", "leave", "less", "part"}


def test_too_little_by_advice_is_told_what_to_move_or_that_nothing_here_is_enough() -> None:
    """Where one move does not do two are tried; what no move reaches is said with what is missing."""
    for tongue, kinds in (("210 lb", {"move", "shift"}), ("180 lb", {"shift"}), ("110 lb", {"short"})):
        light = PLAIN | {"trailer.empty.tongue": tongue}
        offenders, _ = broken_promises(light)
        made = assessed(light)
        told = {r.kind for r in made.remedies["tongue-share"] if r.kind != "weigh"}
        assert (codes(made)["tongue-share"].outcome, offenders) == (Outcome.CLOSE, [])
        assert told
        assert told <= kinds


@pytest.mark.parametrize("name", TROUBLES)
def test_smallest_first_few_and_varied(name: str) -> None:
    for found in trouble(name).remedies.values():
        amounts = [r.amount for r in found if r.kind not in ("weigh", "short")]
        assert amounts == sorted(amounts)
        assert len(found) <= MOST
        assert len({r.text for r in found}) == len(found)


@pytest.mark.parametrize("name", TROUBLES)
def test_what_may_not_be_moved_is_left_alone(name: str) -> None:
    assert not any("piano" in r.text for found in trouble(name).remedies.values() for r in found)


def test_amounts_are_plain_and_just_enough() -> None:
    """Whole pounds; a pound less does not do."""
    name = "too little on the tongue"
    shift = next(r for r in trouble(name).remedies["tongue-share"] if r.kind == "shift")
    mass = shift.values["mass"][0]
    assert mass / POUND == pytest.approx(round(mass / POUND), abs=1e-6)
    step = POUND * (1 if mass < 20.5 * POUND else 5)
    less = replace(shift, values={**shift.values, "mass": (mass - step, "mass")})
    after = codes(assess(compute(read(carried_out(tree_of(TROUBLES[name]), less))), DAY, advise=False))
    assert RANK[after["tongue-share"].outcome] > RANK[Outcome(shift.after)]


CAR: dict[str, Any] = {
    "trailer.cargo": [{"name": "small car", "weight": "600 lb", "x": "11 ft 6 in", "y": "0 in"}]
}
LADEN: dict[str, Any] = {
    "trailer.gvwr": "7,000 lb", "trailer.axles.gawr": ["7,000 lb"], "trailer.cargo_capacity": "4,000 lb",
    "trailer.tires.max_load": "3,600 lb", "trailer.tires.max_load_at": "80 psi", "trailer.axles.ball_to_center": "14 ft",
    "trailer.empty.weight": "3,600 lb", "trailer.empty.tongue": "430 lb", "trailer.bays": BAYS | {"over the axle": "14 ft"},
    "vehicle.receiver.weight_carrying": {"trailer": "7,000 lb", "tongue": "500 lb"},
    "trailer.cargo": [
        {"name": "boxes", "weight": "450 lb", "x": "8 ft", "y": "0 in"},
        {"name": "bricks", "weight": "900 lb", "x": "13 ft", "y": "0 in"},
        {"name": "stove", "weight": "400 lb", "x": "9 ft", "y": "0 in"},
    ],
}  # fmt: skip


def test_a_carried_car_is_moved_without_a_bay() -> None:
    """One heavy item and no bays: moving it rearward is the obvious cure of too much on the tongue."""
    changes = CAR | {
        "limits.tongue_weight": {"high": "395 lb"},
        "trailer.gvwr": "4,500 lb",
        "trailer.axles.gawr": ["4,500 lb"],
    }
    found = assessed(changes).remedies["tongue-weight"]
    assert any("rearward until its middle" in r.text for r in found), [r.text for r in found]
    assert broken_promises(changes)[0] == []
    bags = [{"name": "toolbox", "weight": "200 lb", "ahead_of_rear_axle": "1 ft"}]
    carried = {"vehicle.cargo": bags, "vehicle.gawr.rear": "2,835 lb", "trailer.cargo": []}
    found = assessed(carried).remedies["vehicle-rear-axle"]
    assert any("forward until its middle" in r.text for r in found), [r.text for r in found]
    assert broken_promises(carried)[0] == []


def test_far_too_much_on_the_receiver_is_cured_by_shifts() -> None:
    """More than one thing is moved where one does not do, before a great weight is left at home."""
    made = assessed(LADEN)
    assert codes(made)["hitch-tongue-receiver"].outcome is Outcome.OVER
    found = made.remedies["hitch-tongue-receiver"]
    assert any(r.kind in ("move", "shift") for r in found), [r.text for r in found]
    assert broken_promises(LADEN)[0] == []


def test_unrated_gear_and_safety_gear_are_not_proposed() -> None:
    unrated = [{"name": "old one", "drop": "2 in", "shank": "2 in", "hole": "1 in"}]
    made = assessed({"gear.mount.drop": "6 in", "gear.stock": unrated})
    assert not any(r.kind == "mount" for found in made.remedies.values() for r in found)
    kept = [{"name": "fire extinguisher", "weight": "90 lb", "x": "12 ft", "y": "0 in"}]
    made = assessed({"trailer.cargo": kept, "trailer.gvwr": "2,800 lb"})
    assert made.remedies["trailer-gross"]
    assert not any("extinguisher" in r.text or r.kind == "less" for r in made.remedies["trailer-gross"])


def test_of_one_thing_nothing_is_taken_evenly() -> None:
    made = assessed({"trailer.gvwr": "2,850 lb"})
    told = [r.text for r in made.remedies["trailer-gross"] if r.kind == "less"]
    assert "leave {mass} of 'boxes' at home" in told
    assert not any("evenly" in text for text in told)


def test_a_law_that_weight_decides_is_met_by_less_cargo() -> None:
    heavy = {"trailer.chains": {"count": 2, "strength": "3,100 lb"}, "places": ["us-nh"],
             "trailer.empty.weight": "2,650 lb", "trailer.gvwr": "3,900 lb", "trailer.cargo_capacity": "1,200 lb"}  # fmt: skip
    offenders, tried = broken_promises(PLAIN | heavy)
    assert offenders == []
    assert [r for r in tried if r.code == "law-chains-us-nh"]


def test_metric_rigs_get_whole_kilograms() -> None:
    made = assessed(PLAIN | {"trailer.gvwr": "3,000 lb", "preferences.units": "metric"})
    masses = [r.amount for r in made.remedies["trailer-gross"] if r.kind == "less" and "cargo" in r.text]
    assert masses
    assert all(m == pytest.approx(round(m), abs=1e-9) for m in masses)


def test_short_rating_is_named_with_the_amount() -> None:
    """Nothing that may be moved or left can mend this; the rating and the shortfall are told."""
    made = assessed({"vehicle.tow_rating.braked": "2,000 lb"})
    (only,) = made.remedies["tow-rating"]
    assert only.kind == "short"
    finding = codes(made)["tow-rating"]
    assert finding.demand is not None
    assert finding.capacity is not None
    assert only.values["short"][0] == pytest.approx(finding.demand - finding.capacity)
    assert "braked rating" in only.text


def test_another_mount_from_the_shelf() -> None:
    stock = [
        {"name": "tall one", "drop": "6 in", "shank": "2 in", "hole": "1 in", "ratings": {"trailer": "6,000 lb", "tongue": "600 lb"}},
        {"name": "right one", "drop": "2 in", "shank": "2 in", "hole": "1 in", "ratings": {"trailer": "6,000 lb", "tongue": "600 lb"}},
    ]  # fmt: skip
    made = assessed({"gear.mount.drop": "6 in", "gear.stock": stock})
    code = next(c for c, found in made.remedies.items() if any(r.kind == "mount" for r in found))
    assert "mount" in code
    assert [r.text for r in made.remedies[code] if r.kind == "mount"] == ["use the {ball_mount} 'right one'"]


def test_slower_plan_for_slow_tires() -> None:
    made = assessed({"trailer.tires.speed_symbol": "B", "preferences.planned_speed": "60 mph"})
    (remedy,) = (r for r in made.remedies["tire-speed-trailer"] if r.kind == "speed")
    assert remedy.values["speed"][0] * 3.6 == pytest.approx(50, abs=0.5)


def test_too_close_to_call_asks_for_a_scale() -> None:
    made = assessed({"trailer.empty.source": "estimate", "trailer.gvwr": "3,150 lb"})
    first = made.remedies["trailer-gross"][0]
    assert first.kind == "weigh"
    assert first.values["u"][0] > 0


def test_nothing_to_mend_nothing_proposed() -> None:
    made = assessed()
    assert all(
        f.outcome not in (Outcome.CLOSE, Outcome.OVER) or f.code in made.remedies or f.demand is None
        for f in made.findings
    )


def test_advice_on_an_anchored_rig_keeps_the_weighed_weights() -> None:
    """A move is judged from the weighed rig, not from the brochure."""
    visit = {
        "date": "2026-10-03",
        "case": "out",
        "coupler": "300 lb",
        "trailer_alone": "3,050 lb",
        "anchor": True,
    }
    made = assessed(
        TROUBLES["too little on the tongue"] | {"trailer.empty.tongue": "330 lb", "weighings": [visit]}
    )
    share = codes(made)["tongue-share"]
    assert share.outcome is Outcome.OVER
    moves = [
        r
        for r in made.remedies["tongue-share"]
        if r.kind in ("move", "shift", "less", "empty", "leave", "fill")
    ]
    assert moves
    for remedy in moves:
        assert remedy.after in ("within", "close")


def test_a_battery_rides_with_its_set() -> None:
    """A battery of a set weighs in the cases that name the set, in the reach over all fillings, and nowhere else."""
    battery = {"name": "second battery", "weight": "100 lb", "x": "4 ft", "y": "0 in"}
    empty = {"trailer.empty.includes.without": ["second battery"]}
    weights = {}
    for name, one in {
        "always": battery,
        "trip": battery | {"set": "trip"},
        "far": battery | {"set": "far"},
    }.items():
        made = assessed({"trailer.batteries": [one]} | empty)
        reach = made.computed.envelope["trailer_weight"]
        here = made.computed.cases[0].figures["trailer_weight"].value
        assert here is not None
        assert reach.low is not None
        assert reach.high is not None
        weights[name] = (here, reach.low, reach.high)
    always, trip, far = weights["always"], weights["trip"], weights["far"]
    assert trip[0] == always[0]
    assert always[0] == pytest.approx(far[0] + 100 * POUND)
    assert always[1] == pytest.approx(trip[1] + 100 * POUND) == pytest.approx(far[1] + 100 * POUND)
    assert always[2] == pytest.approx(trip[2]) == pytest.approx(far[2])
