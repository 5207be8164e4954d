"""The checklist with ticks, and the cautions."""

from __future__ import annotations

from cardgen.checklist.types import Line
from cardgen.present.report_view import Phase, ReportCaution, Tick
from cardgen.present.rig_view import RigView

USUAL = (
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


def cautions(rig_view: RigView) -> tuple[ReportCaution, ...]:
    """Write the usual cautions, signal words as ANSI Z535.4 defines them."""
    return tuple(ReportCaution(signal, rig_view.say(text)) for signal, text in USUAL)


def checklist(rig_view: RigView) -> tuple[tuple[Phase, ...], tuple[str, ...]]:
    """Write every phase with its lines, and the sources in the order of their numbers.

    Texts come filled and in the market's words.
    """
    numbers: dict[str, int] = {}
    phases = tuple(
        Phase(
            phase.key,
            phase.title,
            phase.reading,
            phase.about,
            tuple(_tick(line, numbers) for line in phase.items),
        )
        for phase in rig_view.checklist.phases
        if phase.items
    )
    return phases, tuple(numbers)


def _tick(line: Line, numbers: dict[str, int]) -> Tick:
    notes = []
    if line.if_fitted:
        notes.append("if fitted")
    if line.own:
        notes.append("owner's own line")
    if line.replaced:
        notes.append("owner's wording")
    used = [numbers.setdefault(words, len(numbers) + 1) for words in line.source_words]
    return Tick(
        line.id,
        line.text,
        line.seen,
        line.why,
        line.safety,
        line.signal or "",
        ", ".join(notes),
        ", ".join(str(n) for n in used),
    )


def removed(rig_view: RigView) -> tuple[tuple[str, str], ...]:
    """List what the owner left out, with the reason."""
    return tuple((one.text, one.reason) for one in rig_view.checklist.removed)
