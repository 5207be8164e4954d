"""The glovebox card: two faces for every rig. Its front holds the numbers, its back what kills when forgotten."""

from __future__ import annotations

from dataclasses import replace

from cardgen.checklist.catalog import catalog
from cardgen.checklist.views import drills as known_by_heart
from cardgen.checklist.views import killer_lines
from cardgen.model.results import Outcome
from cardgen.present.blocks import Block, Card, CheckLine, ChecklistBlock, CheckPhase, Face, Heading, Step, Steps
from cardgen.present.cards import pieces
from cardgen.present.cards.front import front, little_known
from cardgen.present.cards.lists import checklist
from cardgen.present.rig_view import RigView


def card(rig_view: RigView) -> Card:
    """Make the glovebox card."""
    made = pieces.frame(rig_view, "glovebox-card", "Glovebox card", (front(rig_view), back(rig_view)))
    return replace(made, fixed=True)


def back(rig_view: RigView) -> Face:
    """The killer lines in the order of the walk, the rule for interruptions, the drills."""
    phases = checklist(rig_view, killer_lines(rig_view.checklist), "", short=True).phases
    if rig_view.outcome(Outcome.OVER):
        gate = CheckLine("Load described anew, card printed anew", "Other card", True)
        phases = (CheckPhase("Stop", "", (gate,)), *phases)
        bar = Heading("Do not tow as described: see the front")
    else:
        bar = Heading("Interrupted? Start that part again.", "Tick only what you have seen.")
    if little_known(rig_view) and not rig_view.outcome(Outcome.OVER):
        gate = CheckLine("Every box overleaf written in and compared", "All yes", True)
        phases = (CheckPhase("Known?", "", (gate,)), *phases)
    count = sum(len(phase.lines) for phase in phases)
    numbered = tuple(replace(phase, mark=str(n)) for n, phase in enumerate(phases, 1))
    blocks: tuple[Block, ...] = (bar, ChecklistBlock("", numbered, gutter=True))
    aside = f"{count} lines, every tow. All lines: departure card"
    return Face(blocks, rig_view.rig.nickname, aside, foot=(drills(rig_view),))


def drills(rig_view: RigView) -> Steps:
    """What is known by heart: sway, a tire that fails, whom to call and what to say."""
    known = rig_view.texts
    number = catalog().markets[rig_view.rig.market].emergency_number
    who = rig_view.rig.contacts[0] if rig_view.rig.contacts else None
    place = ", ".join(filter(None, ("place", known.get("rig_length"), known.get("trailer_weight"))))
    then = f"Then {who.who} {who.phone}: {place}" if who else f"Then say: {place}"
    steps = [known.get("sway_first"), known.get("sway_never")]
    if rig_view.rig.vehicle.brake_controller.fitted:
        steps.append(known.get("sway_brake"))
    rows = [Step(str(n), f"{text[0].upper()}{text[1:]}") for n, text in enumerate(filter(None, steps), 1)]
    rows.append(Step("", "Hold straight, off the brakes, coast down", "Tire fails", rule=True))
    rows.append(Step(number, f"Off the road, out, away from traffic. {then}", "if life is in danger.", rule=True, large=True))
    return Steps("Trailer sways", tuple(rows), "learn by heart; do not read while driving")
