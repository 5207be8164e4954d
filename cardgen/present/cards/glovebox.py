"""The glovebox card: two faces for every rig. Its front holds the numbers, its back what kills when forgotten."""

from __future__ import annotations

from dataclasses import replace

from cardgen.checklist.catalog import catalog
from cardgen.checklist.views import drills as known_by_heart
from cardgen.checklist.views import killer_lines
from cardgen.model.results import Outcome
from cardgen.present.blocks import (
    Block,
    Card,
    CheckLine,
    ChecklistBlock,
    CheckPhase,
    Face,
    Heading,
    NumberedLine,
    Steps,
)
from cardgen.present.cards import pieces
from cardgen.present.cards.front import front, little_known
from cardgen.present.cards.lists import checklist
from cardgen.present.rig_view import RigView


def card(rig_view: RigView) -> Card:
    """Make the glovebox card."""
    return pieces.frame(rig_view, "glovebox-card", "Glovebox card", (front(rig_view), back(rig_view)))


def back(rig_view: RigView) -> Face:
    """The killer lines in the order of the walk, the rule for interruptions, the drills."""
    phases = tuple(
        replace(
            phase,
            lines=tuple(replace(line, if_fitted=False) for line in phase.lines),
            bans=tuple(ban.removesuffix(", if fitted") for ban in phase.bans),
        )
        for phase in checklist(rig_view, killer_lines(rig_view.checklist), "", short=True).phases
    )  # the short list says "if fitted" behind its lines
    if rig_view.outcome(Outcome.OVER):
        gate = CheckLine("Load described anew, card printed anew", "Other card", True)
        phases = (CheckPhase("Stop", "", (gate,)), *phases)
        bar = Heading("Do not tow as described: see the front")
    else:
        bar = Heading("Interrupted? Start that part again.", "Tick only what you have seen.")
    if little_known(rig_view) and not rig_view.outcome(Outcome.OVER):
        gate = CheckLine("Every box overleaf written in and compared", "All yes", True)
        phases = (CheckPhase("Known?", "", (gate,)), *phases)
    numbered = tuple(
        replace(phase, mark=str(n), title=rig_view.say(phase.title)) for n, phase in enumerate(phases, 1)
    )
    blocks: tuple[Block, ...] = (bar, ChecklistBlock("", numbered, gutter=True))
    aside = "Every tow. All lines: departure card"
    return Face(blocks, rig_view.rig.nickname, aside, foot=(drills(rig_view),))


def drills(rig_view: RigView) -> Steps:
    """What is known by heart: sway, a tire that fails, whom to call and what to say."""
    number = catalog().markets[rig_view.rig.market].emergency_number
    known = {part.key: part for part in known_by_heart(rig_view.checklist, rig_view.rig.market)}
    rows: list[NumberedLine] = []
    for key in ("sway", "blowout", "call"):
        lines = [line.say for line in known[key].items] if key in known else []
        if key == "sway":
            rows += [NumberedLine(str(n), line) for n, line in enumerate(lines, 1)]
        elif key == "blowout":
            rows += [NumberedLine("", line, known[key].title, rule=n == 0) for n, line in enumerate(lines)]
        else:
            said = ". ".join(line for line in lines if number not in line)
            rows.append(
                NumberedLine(number, f"{said}.", "first if life is in danger.", rule=True, large=True)
            )
    title = known["sway"].title if "sway" in known else "In an emergency"
    return Steps(title, tuple(rows), "learn by heart; do not read while driving")
