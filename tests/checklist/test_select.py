"""Choosing, filling and ordering: every item reachable, nothing dropped, nothing twice."""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping

from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.checklist.catalog import catalog
from cardgen.checklist.conditions import Value
from cardgen.checklist.features import features
from cardgen.checklist.schema import ItemDef
from cardgen.checklist.select import applies, build
from cardgen.checklist.types import SAFETY, Checklist
from cardgen.checklist.values import values
from cardgen.checklist.views import (
    for_arrival,
    for_borrower,
    for_delivery,
    for_departure,
    for_emergency,
    for_road,
)
from cardgen.model.rig import Rig
from tests.checklist.rigs import (
    DAY,
    assessment,
    ball_rig,
    boat,
    camper,
    caravan,
    change,
    fifth_wheel,
    horse,
    pool,
    travel_trailer,
    unknown_rig,
)
from tests.each import each

ITEMS = {item.id: item for item in catalog().items}
PLACE = {item.id: at for at, item in enumerate(catalog().items)}
CHOICES: Mapping[str, tuple[Value, ...]] = {"flag": (True, False), "count": (0, 1, 2, 4)}


def made(rig: Rig, told: Mapping[str, Value] | None = None) -> Checklist:
    return build(rig, features(rig) if told is None else told, values(assessment(rig), "us"), DAY)


def ids(checklist: Checklist) -> list[str]:
    return [line.id for line in checklist.lines()]


def domain(name: str) -> tuple[Value, ...]:
    define = catalog().features[name]
    return CHOICES.get(define.kind, define.choices)


def could_hold(item: ItemDef, told: Mapping[str, Value]) -> bool:
    """Whether any filling of the unknown features fulfils the condition, by plain Python."""
    names = sorted(catalog().conditions[item.id].names)
    # A test of "is None" asks about what was told, so it is settled before filling in.
    when = re.sub(r"(\w+) is (not )?None", lambda m: str((told[m[1]] is None) != bool(m[2])), item.when)
    spans = [(told[n],) if told[n] is not None else domain(n) for n in names]
    return any(
        eval(when or "True", {"__builtins__": {}}, dict(zip(names, fill, strict=True)))
        for fill in itertools.product(*spans)
    )


def test_every_item_is_reached_by_some_rig() -> None:
    reached: set[str] = set()
    for rig in pool():
        reached |= {line.id for line in made(rig).lines() if not line.if_fitted}
    assert reached == set(ITEMS)


@st.composite
def feature_sets(draw: st.DrawFn) -> dict[str, Value]:
    """Random features, unknown ones among them; coupling and market are always known."""
    told: dict[str, Value] = {}
    for name in catalog().features:
        span = list(domain(name))
        if name not in ("coupler", "market"):
            span.append(None)
        told[name] = draw(st.sampled_from(span))
    return told


@settings(max_examples=60, deadline=None)
@given(feature_sets())
def test_any_feature_set_gives_a_sound_list(told: dict[str, Value]) -> None:
    rig = change(unknown_rig(), market=told["market"])
    checklist = made(rig, told)
    lines = checklist.lines()
    printed = [line.id for line in lines]
    assert len(set(printed)) == len(printed)
    assert [PLACE[i] for i in printed] == sorted(PLACE[i] for i in printed)
    assert printed == ids(made(rig, told))
    for item in ITEMS.values():
        assert all(
            printed.index(b) < printed.index(item.id) for b in item.after if {b, item.id} <= set(printed)
        )
        possible = could_hold(item, told)
        if item.severity == SAFETY:
            assert item.id in printed or not possible
        if item.id in printed:
            assert possible
    for line in lines:
        assert line.text.strip()
        assert not re.search(r"[{}]|\bNone\b|\s\s", line.text)
        assert line.source_words
        assert all(line.source_words)


@settings(max_examples=40, deadline=None)
@given(feature_sets())
def test_a_line_without_doubt_is_not_marked(told: dict[str, Value]) -> None:
    """A line marked "if fitted" rests on a feature that is unknown, any other line on none of need."""
    rig = change(unknown_rig(), market=told["market"])
    for line in made(rig, told).lines():
        names = catalog().conditions[line.id].names
        unknown = any(told[name] is None for name in names)
        assert unknown or not line.if_fitted
        if applies(ITEMS[line.id], told) is True:
            assert not line.if_fitted


@settings(max_examples=40, deadline=None)
@given(feature_sets(), st.sampled_from([1, 2, 3]))
def test_no_view_drops_a_safety_critical_line(told: dict[str, Value], tier: int) -> None:
    checklist = made(change(unknown_rig(), market=told["market"]), told)
    critical = [line for line in checklist.lines() if line.safety]
    shown = {line.id for p in for_departure(checklist, tier) for line in p.items}
    later = {line.id for p in for_arrival(checklist, tier) for line in p.items}
    road = {line.id for p in for_road(checklist, tier) for line in p.items}
    events = {line.id for p in for_emergency(checklist, tier) for line in p.items}
    lent = {line.id for p in for_borrower(checklist) for line in p.items}
    given_over = {line.id for p in for_delivery(checklist) for line in p.items}
    phase = {item.id: item.phase for item in ITEMS.values()}
    for line in critical:
        where = phase[line.id]
        if "every_tow" in line.every and where not in ("first_stop", "on_the_road"):
            assert line.id in shown
        if where in ("arrival_unhitching", "setting_up", "boat_ramp"):
            assert line.id in later
        if where in ("first_stop", "on_the_road", "fuel_stop"):
            assert line.id in road
        if "when_it_happens" in line.every:
            assert line.id in events
            assert line.id in lent & given_over
        if where == "handover":
            assert line.id in lent or "at_handover" not in line.every
            assert line.id in given_over or "at_delivery" not in line.every


def test_an_unknown_feature_keeps_the_safety_critical_line_marked() -> None:
    lines = {line.id: line for line in made(unknown_rig()).lines()}
    for name in ("gas-valves", "gas-appliances", "chains-cross", "breakaway-cable", "mount-pin", "gain"):
        assert lines[name].if_fitted, name
    assert "awning" not in lines
    assert "windows" not in lines
    assert "jack-any" in lines
    assert not lines["jack-any"].if_fitted
    assert not lines["chock"].if_fitted


def test_without_a_day_nothing_is_reckoned() -> None:
    rig = camper()
    assert build(rig, features(rig), {}, None).due == ()


def test_phases_come_in_the_order_of_a_tow_with_title_and_reading() -> None:
    checklist = made(camper())
    order = [phase.key for phase in catalog().scheme.phases]
    keys = [phase.key for phase in checklist.phases]
    assert keys == [key for key in order if key in keys]
    assert all(phase.title and phase.reading and phase.about for phase in checklist.phases)
    assert "loading" not in keys
    assert "boat_ramp" not in keys


GEAR_WORDS = {
    "utility": (
        ball_rig(),
        r"gas|awning|slide|breakaway|winch|animal|fridge|stabilizer|gain|fresh|waste|spring bar",
    ),
    "camper": (camper(), r"winch|animal|kingpin|clamp and pin|spring bar|surge|transom|tailgate"),
    "travel trailer": (travel_trailer(), r"winch|animal|kingpin|surge|transom|partition"),
    "fifth wheel": (fifth_wheel(), r"winch|animal|ball stamp|spring bar|surge|jockey|tongue"),
    "boat": (boat(), r"gas |awning|slide-out|animal|kingpin|spring bar|gain\b|fridge|fresh"),
    "horse": (
        change(horse(), trailer__features__living_space=False),
        r"winch|gas |awning|slide-out|kingpin|spring bar|surge|fridge|tongue",
    ),
    "caravan": (caravan(), r"winch|animal|kingpin|spring bar|chain|tires?\b|surge|tongue|gain|hitch pin"),
}


@each("name", GEAR_WORDS)
def test_no_line_speaks_of_gear_the_rig_lacks(name: str) -> None:
    rig, words = GEAR_WORDS[name]
    rig = rig if name != "caravan" else change(rig, vehicle__receiver__fixed_ball=True)
    stray = [
        line.text
        for phase in made(rig).phases
        for line in phase.items
        if phase.key not in ("emergency", "equipment_change", "first_after_storage")
        and re.search(rf"\b({words})", line.text, re.I)
    ]
    assert stray == []


ORDERS = [
    (travel_trailer(), "chock gap-clear vehicle-park lower-on latch lift-test chains-cross breakaway-cable "
     "plug bars-raise bars-set bars-lower jack-fixed lamps-stop touch-again chocks-out ease-off squeeze"),
    (fifth_wheel(), "chock jaws-open tailgate-down back-up plate-height jaws-close vehicle-park jaws-look "
     "jaws-lock plug tug-test tailgate-up jack-legs chocks-out"),
    (horse(), "chock bed-ball tailgate-down neck-raise vehicle-park neck-latch chains-bed plug tug-test "
     "jack-swivel lamps-tail animals-floor animals-last animals-bar ramp-latch touch-again chocks-out"),
    (boat(), "chock latch chains-cross plug lamps-tail winch bow-chain transom outboard chocks-out ease-off"),
    (caravan(), "parking-brake-on stabilizers-up latch breakaway-cable-uk plug plug-13 friction-lever "
     "jack-clamp parking-brake-off touch-again chocks-out ease-off ramps-off"),
    (camper(), "gas-appliances slide-path slide-in last-out shore-cord hoses stabilizers-up latch gas-valves steps entry-door"),
    (fifth_wheel(), "arrive-chock arrive-legs arrive-tailgate arrive-unplug arrive-jaws arrive-part-way "
     "arrive-drive arrive-tailgate-up arrive-stabilizers arrive-steps arrive-slide"),
    (travel_trailer(), "arrive-chock arrive-sway-bar arrive-bars arrive-ball-slack arrive-unplug arrive-latch arrive-chains "
     "arrive-drive arrive-stabilizers"),
    (caravan(), "arrive-chock arrive-friction arrive-ball-slack arrive-latch"),
    (ball_rig(), "wheel-hold wheel-loosen wheel-jack wheel-tight stop-leave"),
    (horse(), "arrive-chock arrive-animals arrive-neck arrive-chains arrive-drive"),
    (boat(), "ramp-ready ramp-lines ramp-plug ramp-unplug ramp-hold ramp-strap ramp-load ramp-unchock ramp-out"),
]  # fmt: skip


@each(("rig", "order"), ORDERS)
def test_steps_that_must_follow_each_other_do(rig: Rig, order: str) -> None:
    wanted = [name for name in order.split() if name != "neck-raise"]
    printed = [name for name in ids(made(rig)) if name in wanted]
    assert printed == wanted


def test_tier_thins_out_but_keeps_own_and_safety_lines() -> None:
    checklist = made(travel_trailer())
    counts = [sum(len(p.items) for p in for_departure(checklist, tier)) for tier in (1, 2, 3)]
    assert counts[0] < counts[1] < counts[2]
