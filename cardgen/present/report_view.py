"""View model of the report page: ready texts, drawings and the data of the what-if part.

Templates and drawings receive only these and never compute. Every string is final: rounded,
with its unit, in the words of the reader's market.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from cardgen.present.blocks import Drawing, Table
from cardgen.present.history import Download, RevisionRow
from cardgen.present.levels import Level
from cardgen.present.whatif_view import WhatIf


@dataclass(frozen=True, slots=True)
class Verdict:
    """How the rig came out, in words.

    Args:
        level: outcome.
        title: one sentence.
        lines: what is over, missing or close.
    """

    level: Level
    title: str
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Key:
    """A number people look for: its label, the number, a remark."""

    label: str
    value: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class LimitRow:
    """One limit: asked, allowed, what is left.

    Args:
        label: what is limited.
        used, left: ready texts with units.
        share: demand over capacity [-]; None when not checked.
        word: the outcome in words.
        level: outcome.
        anchor: id of the check on the page.
    """

    label: str
    used: str
    left: str
    share: float | None
    word: str
    level: Level
    anchor: str = ""


@dataclass(frozen=True, slots=True)
class Missing:
    """Something to measure or read: in words, its field, and the checks that wait for it."""

    words: str
    path: str
    opens: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WorkedNumber:
    """One number put into a formula."""

    label: str
    value: str
    origin: str = ""


@dataclass(frozen=True, slots=True)
class Working:
    """Formula, the numbers put in, the result.

    Args:
        title: what is worked out.
        formula: in symbols.
        numbers: what was put in.
        result: ready text.
        source: where the formula comes from.
        spread: uncertainty in words, may be empty.
        see: id of the check that shows the numbers, when they are not repeated here.
    """

    title: str
    formula: str
    numbers: tuple[WorkedNumber, ...]
    result: str
    source: str
    spread: str = ""
    see: str = ""


@dataclass(frozen=True, slots=True)
class Check:
    """One check with everything needed to follow it by hand.

    Args:
        anchor: id on the page.
        code: stable code.
        title: what is checked.
        level, word: outcome.
        summary: result in one line.
        share: demand over capacity [-]; None when there is no bar.
        workings: formula to result, for the demand.
        limit: the limit in words; may be empty.
        case: loading case that is worst.
        governed_by: part whose rating is the lowest.
        basis, source: where the limit gets its force from.
        meaning: what the check is about.
        measure: what to measure or read, one line each.
        critical: whether an over forbids towing as described.
    """

    anchor: str
    code: str
    title: str
    level: Level
    word: str
    summary: str
    share: float | None
    workings: tuple[Working, ...]
    limit: str
    case: str
    governed_by: str
    basis: str
    source: str
    meaning: str
    measure: tuple[str, ...]
    critical: bool


@dataclass(frozen=True, slots=True)
class CheckGroup:
    """Checks with one outcome."""

    title: str
    level: Level
    checks: tuple[Check, ...]


@dataclass(frozen=True, slots=True)
class TireRow:
    """The tires of one place.

    Args:
        title: which tires.
        pressure: cold pressure to set, or why none is printed.
        level: whether it can be set.
        facts: (label, value) pairs.
        reasons: sentences.
        strip: reading at several temperatures, or None.
    """

    title: str
    pressure: str
    level: Level
    facts: tuple[tuple[str, str], ...]
    reasons: tuple[str, ...]
    strip: Table | None = None


@dataclass(frozen=True, slots=True)
class PinRow:
    """One pin of a connector: clock position or number, and what it does."""

    at: str
    does: str


@dataclass(frozen=True, slots=True)
class PlugDrawing:
    """A connector.

    Args:
        shape: ``round`` by clock positions, ``row`` in line, ``numbers`` in the order of numbers.
        pins: its pins.
        title: which connector.
        view: how it is looked at.
        alt: the drawing in words.
    """

    shape: str
    pins: tuple[PinRow, ...]
    title: str
    view: str
    alt: str


@dataclass(frozen=True, slots=True)
class SectionPart:
    """A section made of tables, drawings and sentences.

    Args:
        id: id on the page.
        title: heading.
        intro: sentences before the tables.
        tables, drawings: what is shown.
        notes: remarks after them.
        plugs: connectors to draw.
    """

    id: str
    title: str
    intro: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    notes: tuple[str, ...] = ()
    plugs: tuple[PlugDrawing, ...] = ()


@dataclass(frozen=True, slots=True)
class ReachRow:
    """One weight over all fillings: its range, and the fillings that cause the ends."""

    label: str
    reach: str
    causes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Envelope:
    """Every weight over all fillings.

    Args:
        intro: what was varied.
        becoming: limits that some filling would break.
        rows: one per weight.
        chart: tongue weight against filling, or None.
    """

    intro: str
    becoming: tuple[str, ...]
    rows: tuple[ReachRow, ...]
    chart: Drawing | None


@dataclass(frozen=True, slots=True)
class Tick:
    """One line of the checklist; ``sources`` holds the numbers of its sources."""

    id: str
    text: str
    seen: str
    why: str
    critical: bool
    signal: str
    note: str
    sources: str


@dataclass(frozen=True, slots=True)
class Phase:
    """One phase of the checklist."""

    key: str
    title: str
    reading: str
    about: str
    lines: tuple[Tick, ...]


@dataclass(frozen=True, slots=True)
class DueRow:
    """One thing that falls due: title, state in words, level, remark."""

    title: str
    state: str
    level: Level
    note: str = ""


@dataclass(frozen=True, slots=True)
class ReportCaution:
    """One caution: signal word or none, and its text."""

    signal: str
    text: str


@dataclass(frozen=True, slots=True)
class GlossaryTerm:
    """One word of the trade: what it means, and the nearest word elsewhere."""

    word: str
    meaning: str
    elsewhere: str = ""


@dataclass(frozen=True, slots=True)
class ReportView:
    """Everything the report page prints."""

    language: str
    nickname: str
    slug: str
    subtitle: str
    note: str
    revision: str
    date: str
    verdict: Verdict
    keys: tuple[Key, ...]
    governs: tuple[LimitRow, ...]
    allowed: SectionPart
    cases: SectionPart
    checks: tuple[CheckGroup, ...]
    tires: tuple[TireRow, ...]
    hitch: SectionPart
    brakes: SectionPart
    checklist: tuple[Phase, ...]
    downloads: tuple[Download, ...]
    cautions: tuple[ReportCaution, ...]
    glossary: tuple[GlossaryTerm, ...]
    revisions: tuple[RevisionRow, ...]
    currency: dict[str, Any]
    missing: tuple[Missing, ...] = ()
    due: tuple[DueRow, ...] = ()
    removed: tuple[tuple[str, str], ...] = ()
    drawings: SectionPart | None = None
    envelope: Envelope | None = None
    weighings: SectionPart | None = None
    remedies: SectionPart | None = None
    sway: SectionPart | None = None
    labels: SectionPart | None = None
    whatif: WhatIf | None = None
    contacts: tuple[tuple[str, str], ...] = ()
    foot: tuple[str, ...] = ()
    borrower: str = ""
    measure: str = ""
    sources: tuple[str, ...] = ()
    """Sources of the checklist, in the order of their numbers."""
    words: dict[str, str] = field(default_factory=dict)
