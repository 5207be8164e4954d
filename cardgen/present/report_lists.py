"""The checklist as lists to tick, its reasons, and the cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from cardgen.checklist.types import Line, PhaseList
from cardgen.present.blocks import Caution, Cautions, ChecklistBlock, Note, NumberedLine, Signal, Steps
from cardgen.present.cards.lists import checklist
from cardgen.present.page import Fold, Item, Items, PageBlock, View
from cardgen.present.rig_view import RigView

USUAL: tuple[tuple[Signal | Literal[""], str], ...] = (
    ("WARNING", "Chock the wheels on both sides before coupling or uncoupling; a rolling trailer can kill."),
    ("WARNING", "Never stand between vehicle and trailer while one of them can move."),
    ("WARNING", "Computed is not weighed: put the loaded rig on a scale before trusting a narrow margin."),
    (
        "CAUTION",
        "Water, gas and cargo change the {coupling_load}; the numbers hold for the loading cases shown.",
    ),
    ("CAUTION", "Set pressures cold, with a gauge; never let air out of a warm tire."),
    ("", "Only the lowest rating of all parts counts; a stronger part does not raise it."),
    ("", "Local law, the makers' manuals and licensed practice come before anything printed here."),
)


def cautions(rig_view: RigView) -> Cautions:
    """Write the usual cautions, signal words as ANSI Z535.4 defines them."""
    return Cautions("", tuple(Caution(signal, rig_view.say(text)) for signal, text in USUAL))


def lists(rig_view: RigView, phases: Sequence[PhaseList], up: str) -> tuple[View, ...]:
    """One view for each phase, in the words of the cards, in order.

    Args:
        rig_view: the rig.
        phases: what is done.
        up: id of the view that leads to them [-].
    """
    made = checklist(rig_view, phases, "", short=True)
    ids = [
        f"{up}-{phase.key.replace('_', '-')}" for phase in phases if len(phase.of("ban")) < len(phase.items)
    ]
    return tuple(
        View(
            name,
            phase.title,
            (_one(made, number),),
            f"{len(phase.lines)} line{'s' if len(phase.lines) > 1 else ''}",
            _hint(number, len(ids), phase.reading),
            up,
            (*ids, "")[number + 1],
        )
        for number, (name, phase) in enumerate(zip(ids, made.phases, strict=True))
    )


def _hint(number: int, count: int, reading: str) -> str:
    sentence = f"{reading[:1].upper()}{reading[1:]}."
    return f"List {number + 1} of {count}. {sentence}" if count > 1 else sentence


def _one(made: ChecklistBlock, number: int) -> ChecklistBlock:
    return replace(made, phases=made.phases[number : number + 1])


def spoken(phases: Sequence[PhaseList]) -> tuple[Steps, ...]:
    """Lines that are read and learned and never ticked; what can by itself kill stands in bold."""
    return tuple(
        Steps(
            phase.title,
            tuple(
                NumberedLine("", *(("", line.say) if line.safety else (line.say,))) for line in phase.items
            ),
        )
        for phase in phases
        if phase.items
    )


def reasons(rig_view: RigView) -> tuple[PageBlock, ...]:
    """Every line of the checklist with its reason and the numbers of its sources, and the sources themselves."""
    numbers: dict[str, int] = {}
    folds = tuple(
        Fold(phase.title, (*_about(phase), Items(tuple(_reason(line, numbers) for line in phase.items))))
        for phase in rig_view.checklist.phases
        if phase.items
    )
    sources = Items(tuple(map(Item, numbers)), style="numbered")
    return (*folds, Fold("Sources of the checklist", (sources,)))


def _about(phase: PhaseList) -> tuple[Note, ...]:
    return (Note(phase.about),) if phase.about else ()


def _reason(line: Line, numbers: dict[str, int]) -> Item:
    fitted = ("if fitted", line.if_fitted), ("owner's own line", line.own), ("owner's wording", line.replaced)
    notes = ", ".join(words for words, holds in fitted if holds)
    used = [numbers.setdefault(words, len(numbers) + 1) for words in line.source_words]
    cited = f" [{', '.join(map(str, used))}]" if used else ""
    signal = f"{line.signal}: " if line.signal else ""
    return Item(f"{signal}{line.text}{f' ({notes})' if notes else ''}", f"{line.why}{cited}", line.seen)
