"""What lines say and show in few words, what undoes them, and the short list of what kills."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings

from cardgen.checklist.catalog import SAY, SEEN, catalog
from cardgen.checklist.conditions import Value
from cardgen.checklist.features import features
from cardgen.checklist.select import build, killer_lines
from cardgen.checklist.types import Checklist, Line, PhaseList
from cardgen.checklist.values import values
from cardgen.checklist.views import A_PART, MOST, ShortListError, drills, for_departure
from cardgen.model.rig import ChecklistChanges, OwnItem, Rig
from cardgen.render.wrap import width
from cardgen.units import System
from tests.checklist.rigs import assessment, boat, caravan, change, horse, pool, travel_trailer, unknown_rig
from tests.checklist.test_select import feature_sets

ITEMS = {item.id: item for item in catalog().items}
MARKETS = tuple(catalog().markets)
DAY = dt.date(2026, 11, 25)
LINE, POINT = 96.0, 12.25
"""Room of a line on the glovebox card [mm] and the size of its type [pt]."""


def made(rig: Rig, told: Mapping[str, Value] | None = None) -> Checklist:
    system: System = "us" if rig.market == "us" else "metric"
    return build(rig, features(rig) if told is None else told, values(assessment(rig), system), DAY)


@cache
def listed() -> tuple[tuple[Rig, Checklist], ...]:
    """Every rig of the pool in every market."""
    rigs = [change(rig, market=market) for rig in pool() for market in MARKETS]
    return tuple((rig, made(rig)) for rig in rigs)


def acts(parts: tuple[PhaseList, ...]) -> list[Line]:
    return [line for part in parts for line in part.of("act")]


def too_wide(line: Line) -> bool:
    needed = width(line.say, POINT) + width(line.seen, POINT, "bold") + 3.0
    return needed > LINE or len(line.say) > SAY or len(line.seen) > SEEN


def faults_of(checklist: Checklist) -> list[str]:
    """What is wrong with the short list of one rig."""
    parts = killer_lines(checklist)
    lines, titles = acts(parts), [part.key for part in parts]
    order = [part.key for part in catalog().scheme.parts]
    ids = [line.id for line in lines]
    all_lines = {line.id: line for line in checklist.lines()}
    wrong = [f"{line.id} is too wide: {line.say} / {line.seen}" for line in lines if too_wide(line)]
    wrong += [f"{len(lines)} lines"] * (len(lines) > MOST)
    wrong += [f"part {p.title} holds {len(p.of('act'))}" for p in parts if len(p.of("act")) > A_PART]
    wrong += ["parts out of order"] * (titles != sorted(titles, key=order.index))
    wrong += ["twice"] * (len(set(ids)) < len(ids))
    looks = {line.look for line in lines if line.look}
    for line in all_lines.values():
        due = line.safety and line.tier == 1 and "every_tow" in line.every and line.kind == "act"
        if due and where(line.id) and line.id not in ids and line.look not in looks:
            wrong.append(f"{line.id} is left out")
    for line in lines:
        later = [undo for undo in line.undone_by if undo in all_lines and where(undo)]
        shown = [undo for undo in later if undo in ids or all_lines[undo].look in looks]
        if later and not shown:
            wrong.append(f"{line.id} is not undone by {later}")
    return wrong


def where(name: str) -> bool:
    """Whether an item stands in a phase of the short list."""
    return any(ITEMS[name].phase in part.phases for part in catalog().scheme.parts)


def test_every_rig_in_every_market_has_a_short_list_that_fits() -> None:
    wrong = {
        f"{rig.trailer.body} {rig.market}: {fault}" for rig, found in listed() for fault in faults_of(found)
    }
    assert wrong == set()


@settings(max_examples=120, deadline=None)
@given(feature_sets())
def test_any_feature_set_has_a_short_list_that_fits(told: dict[str, Value]) -> None:
    assert faults_of(made(change(unknown_rig(), market=told["market"]), told)) == []


def test_the_walk_ends_with_a_second_touch_and_the_chocks() -> None:
    for rig, found in listed():
        walk = next(part for part in killer_lines(found) if part.key == "walk")
        assert [line.id for line in walk.of("act")][-2:] == ["touch-again", "chocks-out"], rig.trailer.body


def test_the_first_part_is_named_by_what_stands_in_it() -> None:
    first = {rig.trailer.body: killer_lines(made(rig))[0] for rig in (travel_trailer(), horse())}
    assert [part.title for part in first.values()] == ["Load", "Tires"]
    assert "load-low" in [line.id for line in first["travel_trailer"].items]
    loading = next(part for part in killer_lines(made(horse())) if part.key == "load")
    assert loading.of("act")[0].id == "load-low"


def test_one_look_is_one_line_with_the_words_of_each() -> None:
    lines = {line.look: line for line in acts(killer_lines(made(travel_trailer()))) if line.look}
    assert (lines["outside"].say, lines["outside"].seen) == (
        "Slides, awning, antenna, steps, doors",
        "In, locked",
    )
    assert lines["gas"].say == "Gas: appliances, valves"
    assert (lines["lamps"].say, lines["lamps"].seen) == ("Plug home; tail, stop, turn lights", "All work")
    assert lines["lamps"].safety


def test_unknown_gear_says_if_fitted() -> None:
    lines = {line.id: line for line in acts(killer_lines(made(unknown_rig())))}
    assert lines["chains-cross"].say == "Chains crossed and hooked, if fitted"
    assert lines["ball-size"].seen == "________"
    assert "fitted" not in lines["chock"].say


def test_bans_stand_over_their_part_and_are_not_counted() -> None:
    parts = {part.key: part for part in killer_lines(made(travel_trailer()))}
    assert [line.say for line in parts["couple"].of("ban")] == ["Nobody in the gap while anything rolls"]
    assert [line.id for line in parts["connect"].of("ban")] == ["bars-clear"]
    assert "gap-clear" not in [line.id for line in acts(tuple(parts.values()))]


def test_what_the_owner_adds_and_rewords_stands_on_the_short_list() -> None:
    own = OwnItem(phase="walk_around", text="Kayak rack pins in", why="They slid out once", safety=True)
    rig = change(boat(), checklist=ChecklistChanges(add=(own,), replace={"winch": "Winch strap, new hook"}))
    said = [line.say for line in acts(killer_lines(made(rig)))]
    assert {"Kayak rack pins in", "Winch strap, new hook"} <= set(said)


def test_more_than_fits_is_no_third_face() -> None:
    own = tuple(OwnItem(phase="walk_around", text=f"Pin {n} in", why="", safety=True) for n in range(8))
    with pytest.raises(ShortListError, match="Walk"):
        killer_lines(made(change(boat(), checklist=ChecklistChanges(add=own))))


def test_the_drill_is_the_markets_own_and_ends_with_whom_to_call() -> None:
    us = {part.key: part for part in drills(made(travel_trailer()), "us")}
    assert [len(us[key].items) for key in ("sway", "blowout", "call")] == [3, 1, 3]
    assert us["call"].items[0].say == "Life in danger: call 911 first"
    uk = {part.key: part for part in drills(made(caravan()), "uk")}
    assert len(uk["sway"].items) == 2
    assert (us["sway"].title, uk["sway"].title, uk["blowout"].title) == (
        "Trailer sways",
        "Trailer snakes",
        "Tyre fails",
    )
    assert uk["sway"].items[0].say != us["sway"].items[0].say
    wide = [
        line.say
        for rig, found in listed()
        for p in drills(found, rig.market)
        for line in p.items
        if len(line.say) > 64
    ]
    assert wide == []


def test_departure_lines_keep_within_their_line() -> None:
    wrong = {
        f"{line.id}: {line.say} / {line.seen}"
        for _, found in listed()
        for phase in for_departure(found, tier=3)
        for line in phase.of("act", "value", "home")
        if not line.own and too_wide(line)
    }
    assert wrong == set()


NO_STATE = {"set", "done", "ok", "okay", "checked", "repeated", "repeated back", "understood", "said", "looked",
            "walked", "scanned", "rechecked", "tested", "shown", "tried", "felt", "counted"}  # fmt: skip
"""Words that say that a thing was done, not what is then seen."""


def test_what_is_seen_is_a_state_or_a_value() -> None:
    assert [f"{i.id}: {i.seen}" for i in ITEMS.values() if i.seen.lower() in NO_STATE] == []


def test_a_condition_is_no_tick() -> None:
    """A line that begins with what may happen is learnt, or says what is then seen, never that it happened."""
    conditional = [i for i in ITEMS.values() if i.text.startswith("Lose sight")]
    assert conditional
    assert all(i.kind == "ban" for i in conditional)


DOES = """chock arrive-chock arrive-parking-brake parking-brake-on stabilizers arrive-stabilizers arrive-sides
arrive-level lockout-manual sway-bar-off arrive-lock store-lock tailgate-down arrive-tailgate arrive-shore
arrive-hoses arrive-gas-one arrive-gas-two arrive-gas-any arrive-awning arrive-slide arrive-steps ramp-support
arrive-unload ramp-hold wheel-hold fuel-charge gain-wet arrive-unplug arrive-bars arrive-latch jaws-open"""
"""Lines after which the rig is not fit for the road until something is undone."""


def test_every_do_has_its_undo() -> None:
    missing = [name for name in DOES.split() if name in ITEMS and not ITEMS[name].undone_by]
    assert missing == []


def shown_at(line: Line) -> int:
    """The tier at which a line is printed [-]: a safety-critical one on every card."""
    return 1 if line.safety else line.tier


def not_undone(checklist: Checklist) -> list[str]:
    lines = {line.id: line for line in checklist.lines()}
    return [
        line.id
        for line in lines.values()
        if line.undone_by
        and not any(undo in lines and shown_at(lines[undo]) <= shown_at(line) for undo in line.undone_by)
    ]


def test_what_is_done_is_undone_as_prominently_on_every_rig() -> None:
    assert {f"{rig.trailer.body}: {name}" for rig, found in listed() for name in not_undone(found)} == set()


@settings(max_examples=60, deadline=None)
@given(feature_sets())
def test_what_is_done_is_undone_whatever_the_features(told: dict[str, Value]) -> None:
    assert not_undone(made(change(unknown_rig(), market=told["market"]), told)) == []


STATES = (("open", "close|shut|latch"), ("on", "off"), ("up|raise", "down|lower"), ("extend", "bring"))
PARTS = """windows? stall.vents? roof.vents? cylinder.valves? appliances fridge generator heater pump jaws tailgate awning antenna
slide-outs steps plug doors? hatch(?:es)? ramp stabilizers jack"""


@cache
def state_of(text: str, part: str) -> set[tuple[int, int]]:
    """States that a text wants of a part, in its own clause: the pair and which side of it."""
    wanted: set[tuple[int, int]] = set()
    for clause in re.split(r"[;:,]", text.lower()):
        if re.search(rf"\b{part}\b", clause):
            wanted |= {
                (at, side)
                for at, pair in enumerate(STATES)
                for side, words in enumerate(pair)
                if re.search(rf"\b({words})\b", clause)
            }
    return wanted


def all_before(name: str) -> set[str]:
    """Items that must come before one, and those before them."""
    before = set(ITEMS[name].after)
    return before.union(*(all_before(other) for other in before))


def contradictions(checklist: Checklist) -> set[str]:
    """Pairs of departure lines that want opposite states of one part, neither undoing or following the other."""
    lines = [line for phase in for_departure(checklist, tier=3) for line in phase.items]
    linked = {(line.id, undo) for line in lines for undo in line.undone_by}
    linked |= {(line.id, before) for line in lines for before in all_before(line.id)}
    found = set()
    for part in PARTS.split():
        states = [(line.id, state_of(line.text, part)) for line in lines]
        for one, wants in states:
            for other, has in states:
                opposed = any((at, 1 - side) in has for at, side in wants)
                if one < other and opposed and not {(one, other), (other, one)} & linked:
                    found.add(f"{part}: {one} / {other}")
    return found


def test_no_rig_is_told_two_states_of_one_part() -> None:
    assert {fault for _, found in listed() for fault in contradictions(found)} == set()


@settings(max_examples=30, deadline=None)
@given(feature_sets())
def test_no_feature_set_is_told_two_states_of_one_part(told: dict[str, Value]) -> None:
    assert contradictions(made(change(unknown_rig(), market=told["market"]), told)) == set()


def test_contradictions_are_found_where_there_are_any() -> None:
    rig = change(
        horse(),
        checklist=ChecklistChanges(
            replace={"animals-air": "Close every roof vent", "ramp-latch": "Open every roof vent"}
        ),
    )
    assert contradictions(made(rig)) == {"roof.vents?: animals-air / ramp-latch"}


def test_a_text_too_long_for_its_line_is_named_with_its_file(tmp_path: Path) -> None:
    import shutil
    from importlib.resources import as_file, files

    from cardgen.checklist.catalog import CatalogError, load

    with as_file(files("cardgen.checklist")) as folder:
        shutil.copytree(folder, tmp_path / "data")
    path = tmp_path / "data" / "items" / "hitching.yaml"
    path.write_text(
        path.read_text("utf-8").replace("say: Chocks, both sides", f"say: {'long ' * 10}", 1), "utf-8"
    )
    with pytest.raises(CatalogError, match=r"items/hitching\.yaml: chock: say has 49 characters, at most 44"):
        load(tmp_path / "data")
