"""Print a card: settle its faces, lay out, look it over, paint."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from cardgen.present.blocks import Card
from cardgen.render.codes import checked_codes
from cardgen.render.engine import Press, press
from cardgen.render.faults import faults
from cardgen.render.fixed import ELSEWHERE, ENDLESS, ruled, settle
from cardgen.render.glyphs import clean_card
from cardgen.render.html import PartSetting, Plan, card_html
from cardgen.render.ink import ink_of
from cardgen.render.mark import printed_text
from cardgen.render.problems import Problem
from cardgen.render.sizes import Size
from cardgen.render.survey import Survey, survey


@dataclass(frozen=True, slots=True)
class RenderedCard:
    """A printed card.

    Args:
        pdf: the document.
        faces: number of pages, always even unless the card asks for a single face [-].
        problems: faults; a card with any must not be handed out.
        notes: what the reader of the build should know, for example more faces than wished.
        type_size_pt: smallest size of a checklist item or running text on the card [pt].
        plan: the type sizes that were chosen.
    """

    pdf: bytes
    faces: int
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]
    type_size_pt: float
    plan: Plan


@dataclass(frozen=True, slots=True)
class Told:
    """What a card prints, and how its faces were measured for that.

    Args:
        text: see ``mark.printed_text``.
        measured: what each measuring found, to be used again when the card is printed.
    """

    text: str
    measured: tuple[Survey, ...] = ()


def tell_card(card: Card, size: Size, *, large_print: bool = False, workspace: Path | None = None) -> Told:
    """Lay a card out without an end of the paper and return what it prints.

    Args:
        card: view model.
        size: card size.
        large_print: whether to use the large range of type sizes.
        workspace: folder with own templates; None for ours.

    Raises:
        EngineMissingError: WeasyPrint or a native library is missing.
        CardTemplateError: a template cannot be rendered.
    """
    card, _ = checked_codes(clean_card(card)[0], size)
    gauge = _Gauge(press(workspace), workspace)
    card, plan = settle(card, size, large_print, gauge.measure)
    measured = tuple(gauge.found)
    if not measured:  # what only flows is not measured to be printed
        gauge.measure(card, replace(size, height=ENDLESS), plan)
    return Told(printed_text(gauge.pages, card), measured)


@dataclass(slots=True)
class _Gauge:
    """Measures faces; what was found before comes first. Keeps how each face was laid out last."""

    machine: Press
    workspace: Path | None
    before: list[Survey] = field(default_factory=list)
    found: list[Survey] = field(default_factory=list)
    pages: list[Any] = field(default_factory=list)

    def measure(self, card: Card, paper: Size, plan: Plan) -> Survey:
        """Say where everything lies on a face."""
        if self.before:
            return self.before.pop(0)
        document = self.machine.layout(card_html(card, paper, plan, self.workspace))[0]
        kept = {n for n, face in enumerate(card.faces) if face is ELSEWHERE}
        self.pages = [self.pages[n] if n in kept else page for n, page in enumerate(document.pages)]
        self.found.append(survey(document))
        return self.found[-1]


def render_card(
    card: Card,
    size: Size,
    *,
    large_print: bool = False,
    workspace: Path | None = None,
    measured: Sequence[Survey] = (),
) -> RenderedCard:
    """Print a card.

    Args:
        card: view model.
        size: card size.
        large_print: whether to use the large type.
        workspace: folder with own templates; None for ours.
        measured: what ``tell_card`` found of the same card with another revision; measured anew where that fails.

    Raises:
        ValueError: the card holds nothing to print.
        EngineMissingError: WeasyPrint or a native library is missing.
        CardTemplateError: a template cannot be rendered.
    """
    if not card.faces and not card.flow:
        raise ValueError(f"card {card.id!r} holds nothing to print")
    card, letters = clean_card(card)
    card, codes = checked_codes(card, size)
    problems = letters + codes
    machine = press(workspace)
    whole = card
    card, laid = _settled(machine, whole, size, large_print, _Gauge(machine, workspace, [*measured]))
    if measured and laid.clipped:
        card, laid = _settled(machine, whole, size, large_print, _Gauge(machine, workspace))
    pdf, more = machine.paint(laid.document, ink_of(laid.found, size.height))
    problems += laid.complaints + more + laid.faults
    if laid.found.pages % 2 and laid.found.pages != len(card.faces):
        problems += (Problem("faces", f"{laid.found.pages} faces, an odd number: shorten a long block"),)
    plan = laid.plan
    return RenderedCard(
        pdf,
        laid.found.pages,
        tuple(replace(p, where=p.where or card.id) for p in problems),
        _notes(card, laid.found, plan),
        min(part.pt for part in (*plan.faces, *((plan.flow,) if card.flow else ()))),
        plan,
    )


def _settled(machine: Press, card: Card, size: Size, large_print: bool, gauge: _Gauge) -> tuple[Card, _Laid]:
    """Lay out a card: once to measure, once to print, and once more with lines to write on where faces that run on are odd."""
    workspace = gauge.workspace
    card, plan = settle(card, size, large_print, gauge.measure)
    laid = _lay_out(machine, card, size, plan, workspace)
    if laid.found.pages % 2 and laid.found.pages != len(card.faces):
        notes = PartSetting(plan.flow.pt, lines=ruled(size))
        laid = _lay_out(machine, card, size, replace(plan, notes=notes), workspace)
    return card, laid


@dataclass(frozen=True, slots=True)
class _Laid:
    """A card laid out with a plan: where everything lies, what the engine and the survey complain of."""

    plan: Plan
    document: Any
    found: Survey
    complaints: tuple[Problem, ...]
    faults: tuple[Problem, ...]

    @property
    def clipped(self) -> int:
        """Pieces that do not fit their place [-]."""
        return sum(problem.code == "clipped" for problem in self.faults)


def _lay_out(machine: Press, card: Card, size: Size, plan: Plan, workspace: Path | None) -> _Laid:
    """Lay the card out with a plan and look it over."""
    document, complaints = machine.layout(card_html(card, size, plan, workspace))
    found = survey(document)
    return _Laid(plan, document, found, complaints, tuple(faults(found, size, card.id)))


def _notes(card: Card, found: Survey, plan: Plan) -> tuple[str, ...]:
    """Say where the card needed more room than wished."""
    notes = [
        f"{card.title}: face {n} needs {found.pages_of(f'face{n}')} faces at {part.pt:g} pt"
        for n, part in enumerate(plan.faces, 1)
        if found.pages_of(f"face{n}") > 1
    ]
    cut = [leaf.text.strip() for leaf in found.leaves if leaf.text.rstrip().endswith("…")]
    notes += [f"{card.title}: cut short for its line: {text!r}; the report has all of it" for text in cut]
    if found.pages > max(2, len(card.faces)):
        notes.append(f"{card.title}: {found.pages} faces")
    return tuple(notes)
