"""Lists for the cards and sheets, cut from one checklist.

A view is a choice of phases and frequencies. The tier may thin out a view; it
never takes away a safety-critical line or a line of the owner's own.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from cardgen.checklist.catalog import catalog
from cardgen.checklist.changes import on_short_list
from cardgen.checklist.types import Checklist, Line, PhaseList
from cardgen.tables.words import say

DEPARTURE: tuple[str, ...] = (
    "before_hitching",
    "inside",
    "hitching",
    "chains_wiring",
    "spring_bars",
    "lamps",
    "front_of_trailer",
    "loading",
    "walk_around",
    "drivers_seat",
)
ROAD = ("first_stop", "on_the_road", "fuel_stop")
ARRIVAL = ("arrival_unhitching", "setting_up", "boat_ramp")
LATER = ("storage", "first_after_storage", "equipment_change")
EVENTS = ("emergency", "on_the_road")
Phases = tuple[PhaseList, ...]
MOST, A_PART = 20, 7
"""Most lines of the short list and of one of its parts [-]; surgical checklists hold 5 to 9 items between pauses
(from memory), the total is a project choice."""


class ShortListError(ValueError):
    """The lines that may not be left out are more than the short list holds."""


def for_departure(checklist: Checklist, tier: int = 2, with_due: bool = False) -> Phases:
    """What is done before every tow, in order.

    Args:
        checklist: the whole list of a rig.
        tier: highest tier that is kept [-].
        with_due: also the lines and phases that are due on the build date.
    """
    now = {"every_tow"}
    phases = DEPARTURE
    if with_due:
        now |= due_frequencies(checklist)
        phases = (*DEPARTURE, *LATER)
    return _view(checklist, phases, lambda line: _due_now(line, now) and _kept(line, tier))


def for_road(checklist: Checklist, tier: int = 2) -> Phases:
    """First stop, driving and fuel stops, with what to do when it happens."""
    return _view(checklist, ROAD, lambda line: _kept(line, tier))


def for_arrival(checklist: Checklist, tier: int = 2) -> Phases:
    """Arrival and unhitching, setting up, and the boat ramp."""
    return _view(checklist, ARRIVAL, lambda line: _kept(line, tier))


def for_emergency(checklist: Checklist, tier: int = 2) -> Phases:
    """What to do when it happens: life in danger first, then on the road."""
    found = _view(checklist, EVENTS, lambda line: "when_it_happens" in line.every and _kept(line, tier))
    return tuple(sorted(found, key=lambda phase: EVENTS.index(phase.key)))


def for_season(checklist: Checklist) -> Phases:
    """Storage, first tow after storage, equipment change, and the season's other lines."""
    rare = {"each_season", "first_tow_after_idle", "monthly_in_use", "when_storing"}
    rare |= {"after_equipment_change", "after_load_change", "after_wheel_refit"}
    return _view(
        checklist,
        [phase.key for phase in checklist.phases if phase.key != "handover"],
        lambda line: _due_now(line, rare) and "every_tow" not in line.every,
    )


def for_borrower(checklist: Checklist) -> Phases:
    """The handover sheet for a borrower: told, shown, confirmed, what to do when, signed."""
    return _handover(checklist, "at_handover")


def for_delivery(checklist: Checklist) -> Phases:
    """The same sheet for a new owner, as the record of what was shown and tried."""
    return _handover(checklist, "at_delivery")


def killer_lines(checklist: Checklist) -> Phases:
    """The short list of the glovebox card: what kills when it is left out, in the order of the walk.

    From the lines of every tow that stand on every card: all safety-critical acts, then important ones in the
    rank of their look. Lines that one look settles are one line. Bans of a part are among its lines, with the
    kind ``ban``: they stand over it and are not ticked, nor counted. Unknown gear says "if fitted".

    Args:
        checklist: the whole list of a rig.

    Returns:
        The parts that have lines: at most 20 acts in all, at most 7 in a part.

    Raises:
        ShortListError: what may not be left out does not fit.
    """
    scheme = catalog().scheme
    parts = {part.key: _candidates(checklist, part.phases) for part in scheme.parts}
    loads = [line for line in parts["first"] if line.look == "load"]
    if parts["load"]:
        parts["first"] = [line for line in parts["first"] if line not in loads]
        parts["load"] = [*loads, *parts["load"]]
    always = {look for look, define in scheme.looks.items() if define.merge == "always"}
    for key, look in itertools.product(parts, always):
        parts[key] = _one_look(parts[key], look)
    for look, key in itertools.product(reversed(scheme.looks), parts):
        if _over(parts, key) and look in always:
            parts[key] = [line for line in parts[key] if line.safety or line.look != look]
        elif _over(parts, key):
            parts[key] = _one_look(parts[key], look)
    made = [
        PhaseList(
            part.key,
            "Load" if loads and part.key == "first" and not parts["load"] else part.title,
            catalog().scheme.readings["read_then_do"],
            tuple(replace(line, say=f"{line.say}, if fitted") if line.if_fitted else line for line in lines),
        )
        for part in scheme.parts
        if (lines := parts[part.key])
    ]
    if over := [part.title for part in made if _over(parts, part.key)]:
        raise ShortListError(f"more lines than the short list holds in {', '.join(over)}")
    return tuple(made)


def drills(checklist: Checklist, market: str) -> Phases:
    """What is known by heart, for the foot of the short list: a swaying trailer, a failed tire, whom to call.

    Args:
        checklist: the whole list of a rig.
        market: market whose words the titles use [-].
    """
    every = [line for line in checklist.lines() if line.kind == "drill"]
    titles = (("sway", "Trailer {sways}"), ("blowout", "Tire fails"), ("call", "Call"))
    found = (
        PhaseList(
            look,
            say(title, market),
            catalog().scheme.readings["learn_before"],
            tuple(line for line in every if line.look == look),
        )
        for look, title in titles
    )
    return tuple(part for part in found if part.items)


def _candidates(checklist: Checklist, keys: tuple[str, ...]) -> list[Line]:
    ranked = catalog().scheme.looks
    return [
        line
        for phase in checklist.phases
        if phase.key in keys
        for line in phase.items
        if on_short_list(line) and (line.safety or line.look in ranked)
    ]


def _over(parts: Mapping[str, list[Line]], key: str) -> bool:
    """Whether a part, or the whole list, holds too many acts."""
    acts = {name: sum(line.kind == "act" for line in lines) for name, lines in parts.items()}
    return acts[key] > A_PART or sum(acts.values()) > MOST


def _one_look(lines: list[Line], look: str) -> list[Line]:
    """Make one line of those that one look settles; an owner's wording stays by itself."""
    same = [line for line in lines if line.look == look and line.kind == "act" and not line.replaced]
    if len(same) < 2:
        return lines
    define = catalog().scheme.looks[look]
    lead = max(same, key=lambda line: line.safety)
    shorts = ", ".join(dict.fromkeys(line.short for line in same))
    shorts = shorts[:1] + shorts[1:].lower()
    answer = define.seen or (same[-1] if define.say else lead).seen
    words = define.say.replace("{shorts}", shorts.lower()).replace("{Shorts}", shorts)
    one = replace(
        lead,
        say=words or lead.say,
        seen=answer,
        if_fitted=all(line.if_fitted for line in same),
    )
    return [one if line is same[0] else line for line in lines if line not in same[1:]]


def due_frequencies(checklist: Checklist) -> set[str]:
    """Frequencies whose lines all fall due on the build date."""
    return {due.frequency for due in checklist.due if due.state == "due" and due.frequency}


def _handover(checklist: Checklist, frequency: str) -> Phases:
    made: list[PhaseList] = []
    modes = catalog().scheme.modes
    phase = next((p for p in checklist.phases if p.key == "handover"), None)
    lines = [line for line in (phase.items if phase else ()) if frequency in line.every]
    for mode in ("confirm", "show", "tell"):
        part = tuple(line for line in lines if line.mode == mode)
        if part:
            title = modes[mode][0].upper() + modes[mode][1:]
            made.append(PhaseList(f"handover-{mode}", title, catalog().scheme.readings["read_then_do"], part))
    events = for_emergency(checklist, tier=1)
    made += [replace(part, key=f"handover-{part.key}") for part in events]
    signed = tuple(line for line in lines if line.mode == "sign")
    if signed:
        made.append(PhaseList("handover-sign", "To sign", catalog().scheme.readings["read_then_do"], signed))
    return tuple(made)


def _view(checklist: Checklist, keys: Iterable[str], keep: Callable[[Line], bool]) -> Phases:
    wanted = set(keys)
    made = (
        replace(phase, items=tuple(line for line in phase.items if keep(line)))
        for phase in checklist.phases
        if phase.key in wanted
    )
    return tuple(phase for phase in made if phase.items)


def _due_now(line: Line, frequencies: set[str]) -> bool:
    return not frequencies.isdisjoint(line.every)


def _kept(line: Line, tier: int) -> bool:
    return line.tier <= tier or line.safety or line.own
