"""Print a card: settle its faces, lay out, look it over, paint."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from cardgen.present.blocks import Card
from cardgen.render.codes import checked_codes
from cardgen.render.engine import Press, press
from cardgen.render.faults import faults
from cardgen.render.fixed import ruled, settle
from cardgen.render.glyphs import clean_card
from cardgen.render.html import PartSetting, Plan, card_html
from cardgen.render.ink import ink_of
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


def render_card(
    card: Card,
    size: Size,
    *,
    large_print: bool = False,
    workspace: Path | None = None,
) -> RenderedCard:
    """Print a card.

    Args:
        card: view model.
        size: card size.
        large_print: whether to use the large type.
        workspace: folder with own templates; None for ours.

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
    card, laid = _settled(machine, card, size, large_print, workspace)
    pdf, more = machine.paint(laid.document, ink_of(laid.found, size.height))
    problems += laid.complaints + more + laid.faults
    if laid.found.pages % 2:
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


def _settled(
    machine: Press, card: Card, size: Size, large_print: bool, workspace: Path | None
) -> tuple[Card, _Laid]:
    """Lay out a card: once to measure, once to print, and once more with lines to write on where faces are odd."""

    def measure(card: Card, paper: Size, plan: Plan) -> Survey:
        return survey(machine.layout(card_html(card, paper, plan, workspace))[0])

    card, plan = settle(card, size, large_print, measure)
    laid = _lay_out(machine, card, size, plan, workspace)
    if laid.found.pages % 2:
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
    if found.pages > 2:
        notes.append(f"{card.title}: {found.pages} faces")
    return tuple(notes)
