"""Lists for the cards and sheets, cut from one checklist.

A view is a choice of phases and frequencies. The tier may thin out a view; it
never takes away a safety-critical line or a line of the owner's own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from cardgen.checklist.catalog import catalog
from cardgen.checklist.types import Checklist, Line, PhaseList

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
EVENTS = ("on_the_road", "emergency")
Phases = tuple[PhaseList, ...]


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
    """What to do when it happens: on the road first, then stopped."""
    return _view(
        checklist,
        EVENTS,
        lambda line: "when_it_happens" in line.every and _kept(line, tier),
    )


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
            made.append(PhaseList(f"handover-{mode}", title, "read_then_do", part))
    events = for_emergency(checklist, tier=1)
    made += [replace(part, key=f"handover-{part.key}") for part in events]
    signed = tuple(line for line in lines if line.mode == "sign")
    if signed:
        made.append(PhaseList("handover-sign", "To sign", "read_then_do", signed))
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
