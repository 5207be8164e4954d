"""The checks of the report: verdict, what governs, and every check opened to its numbers."""

from __future__ import annotations

from dataclasses import replace

from cardgen.limits.legal import about, on_route
from cardgen.limits.registry import Rule, rule_of
from cardgen.model.results import Figure, Finding, Outcome
from cardgen.model.starter import left_open
from cardgen.physics.needs import need as need_of
from cardgen.present.asking import bare, waiting
from cardgen.present.blocks import Table
from cardgen.present.cards import pieces
from cardgen.present.report_view import (
    Check,
    CheckGroup,
    LimitRow,
    Missing,
    SectionPart,
    Verdict,
    WorkedNumber,
    Working,
)
from cardgen.present.rig_view import LEVELS, RigView, unique

GROUPS = (
    (Outcome.OVER, "Over the limit"),
    (Outcome.NOT_CHECKED, "Not checked: something is missing"),
    (Outcome.CLOSE, "Close to the limit"),
    (Outcome.WITHIN, "Within the limit"),
)
NAMED = 4
"""Checks that were not made and are named in the verdict [-]."""
LEAST = 8
"""Limits listed under what governs [-]."""
FIXED = ("chains", "tire-axle-", "tire-speed-")
"""Codes that compare parts with each other, whatever is loaded."""


SHORT = 3
"""Workings of at most so many numbers are printed with every check that uses them [-]."""
_FIXED = tuple(f"check-{code}" for code in FIXED)


def anchor(code: str) -> str:
    """Return the id of a check on the page [-]."""
    return f"check-{code}"


def verdict(rig_view: RigView) -> Verdict:
    """Say what the cards' banner says, with every check that stands out."""
    banner = pieces.banner(rig_view, 1)
    over, close = rig_view.outcome(Outcome.OVER), rig_view.outcome(Outcome.CLOSE)
    unknown = [f for f in rig_view.outcome(Outcome.NOT_CHECKED) if about(f) is None]
    lines = [_why(rig_view, f) for f in over or (close if banner.level == "close" else ())]
    if unknown:
        named = [rig_view.say(f.title) for f in unknown[:NAMED]]
        more = f"; and {len(unknown) - NAMED} more" if len(unknown) > NAMED else ""
        lines.append(f"Not checked: {'; '.join(named)}{more}")
    lines += filter(None, (rig_view.left_out,))
    lines += pieces.not_covered(rig_view)
    return Verdict(banner.level, banner.title, tuple(lines))


def missing(rig_view: RigView) -> tuple[Missing, ...]:
    """List what to measure or read, each once, what opens the most checks first; last what no check waits
    for now, although such a rig has it.
    """
    waited = waiting(rig_view.outcome(Outcome.NOT_CHECKED), rig_view.rig)
    named = {bare(need.path) for need, _ in waited}
    rest = [need_of(path) for path in left_open(rig_view.rig) if bare(path) not in named]
    return tuple(
        Missing(
            rig_view.say(rig_view.formatter.need(need)),
            need.path,
            unique(rig_view.say(f.title) for f in findings),
        )
        for need, findings in (*waited, *((need, ()) for need in rest))
    )


def _why(rig_view: RigView, finding: Finding) -> str:
    title = upper_first(rig_view.say(finding.title))
    case = f" ({finding.case})" if finding.case else ""
    return f"{title}: {summary(rig_view, finding)}{case}"


def upper_first(text: str) -> str:
    """Write the first letter large and leave the rest alone."""
    return text[:1].upper() + text[1:]


def summary(rig_view: RigView, finding: Finding) -> str:
    """Say how a finding came out in one line, its remark included."""
    return rig_view.say(rig_view.formatter.told(finding))


def limits(rig_view: RigView) -> tuple[LimitRow, ...]:
    """List every check that has a demand and a capacity, the least left first."""
    made = [
        _limit(rig_view, f)
        for f in rig_view.findings
        if f.critical
        and f.capacity is not None
        and f.demand is not None
        and (f.kind in ("mass", "fraction") or f.outcome is Outcome.OVER)
    ]
    order = {"over": 0}
    return tuple(sorted(made, key=lambda row: (order.get(row.level, 1), -(row.share or 0.0))))


def governs(rig_view: RigView) -> tuple[LimitRow, ...]:
    """List the limits with the least left."""
    return tuple(row for row in limits(rig_view) if not row.anchor.startswith(_FIXED))[:LEAST]


def _limit(rig_view: RigView, finding: Finding) -> LimitRow:
    show = rig_view.formatter
    capacity, demand = show.of(finding, finding.capacity or 0.0), show.of(finding, finding.demand or 0.0)
    left, used = show.left(finding), f"{demand} of {capacity}"
    if finding.low is not None:
        margin = finding.margin or 0.0
        left = f"{show.of(finding, abs(margin))} {'outside' if margin < 0 else 'from the nearer end'}"
        if margin < 0 and finding.outcome is Outcome.WITHIN:
            left = "more than advised"
        used = f"{demand}, band {show.of(finding, finding.low)} to {capacity}"
    known = finding.outcome is not Outcome.NOT_CHECKED
    return LimitRow(
        rig_view.say(finding.title),
        used,
        left,
        finding.share if known else None,
        finding.outcome.value,
        LEVELS[finding.outcome],
        anchor(finding.code),
    )


def allowed(rig_view: RigView) -> SectionPart:
    """Make the table of the largest trailer that each rated part allows."""
    show = rig_view.formatter
    rows = []
    for one in rig_view.assessment.computed.allowances:
        if one.trailer is None and rig_view.rig.lacks((one.path,)):
            continue
        value = show.bound(one.trailer, "mass", "upper") if one.trailer is not None else "not known"
        rows.append((rig_view.say(one.part), value, rig_view.say(one.formula)))
    total = rig_view.figure("allowed_trailer")
    intro: tuple[str, ...] = ()
    if total is not None:
        said = show.figure(total)
        known = [a.trailer for a in rig_view.assessment.computed.allowances if a.trailer is not None]
        if total.value is None and known:
            lowest = show.bound(min(known), "mass", "upper")
            said += f"; at most {lowest} by what is known, at today's {{tongue_share}}"
        intro = (
            f"{upper_first(rig_view.say(total.label))}: {rig_view.say(said)}. Only the lowest rating counts.",
        )
    table = Table(
        "",
        ("Part", "Allows a trailer of", "How it follows"),
        tuple(rows),
        (1.2, 0.8, 1.4),
        ("left", "right", "left"),
        strong=(0,),
    )
    return SectionPart("weakest-link", "The weakest link", intro, (table,) if rows else ())


def groups(rig_view: RigView) -> tuple[CheckGroup, ...]:
    """Group every check by outcome, worst first."""
    shown: dict[tuple[str, str], str] = {}
    told: set[str] = set()
    out = []
    routes = [f for f in rig_view.findings if on_route(f)]
    parts = [
        (o, title, [f for f in rig_view.findings if f.outcome is o and f not in routes])
        for o, title in GROUPS
    ]
    parts.insert(1, (Outcome.CLOSE, "Not allowed on this route", routes))
    for outcome, title, found in parts:
        if found:
            checks = tuple(_once(check(rig_view, f, rule_of(f.code), shown), told) for f in found)
            out.append(CheckGroup(f"{title} ({len(found)})", LEVELS[outcome], checks))
    return tuple(out)


def _once(made: Check, told: set[str]) -> Check:
    """Leave the explanation out where a check of the same rule gave it already; keep ids apart."""
    number, name = 1, made.anchor
    while made.anchor in told:
        number += 1
        made = replace(made, anchor=f"{name}-{number}")
    told.add(made.anchor)
    if made.meaning in told:
        return replace(made, meaning="")
    told.add(made.meaning)
    return made


def check(
    rig_view: RigView, finding: Finding, rule: Rule | None, shown: dict[tuple[str, str], str] | None = None
) -> Check:
    """Open one finding to formula, numbers, result, limit, source and what to measure.

    Args:
        rig_view: the rig_view.
        finding: the finding.
        rule: the rule that made it.
        shown: where a figure was worked out already on the page, by id and loading case;
            this check is added.
    """
    show = rig_view.formatter
    bar = finding.share if finding.outcome is not Outcome.NOT_CHECKED else None
    return Check(
        anchor(finding.code),
        finding.code,
        rig_view.say(finding.title),
        LEVELS[finding.outcome],
        finding.outcome.value,
        summary(rig_view, finding),
        bar if finding.capacity is not None and finding.demand is not None else None,
        workings(rig_view, finding, {} if shown is None else shown),
        _limit_words(rig_view, finding),
        finding.case,
        rig_view.say(finding.governed_by),
        finding.basis.value,
        rig_view.say(finding.source),
        rig_view.say(rule.meaning) if rule is not None else "",
        tuple(rig_view.say(show.need(n)) for n in finding.needs),
        finding.critical,
    )


def _limit_words(rig_view: RigView, finding: Finding) -> str:
    if finding.capacity is None or finding.capacity == float("inf"):
        return ""
    text = rig_view.formatter.value(finding.capacity, finding.kind)
    if finding.low is not None:
        return f"{rig_view.formatter.value(finding.low, finding.kind)} to {text}"
    return f"at most {text}" if finding.demand is not None else text


def workings(rig_view: RigView, finding: Finding, shown: dict[tuple[str, str], str]) -> tuple[Working, ...]:
    """Show how the demand of a finding was worked out, or where that stands on the page."""
    figure = figure_of(rig_view, finding)
    if figure is None:
        return ()
    made = working(rig_view, figure)
    first = shown.setdefault((figure.id, finding.case), anchor(finding.code))
    if first != anchor(finding.code) and len(made.numbers) > SHORT:
        return (replace(made, numbers=(), see=first),)
    return (made,)


def figure_of(rig_view: RigView, finding: Finding) -> Figure | None:
    """Find the figure that is the demand of a finding."""
    computed = rig_view.assessment.computed
    for case in computed.cases:
        if case.name == finding.case and finding.demand_figure in case.figures:
            return case.figures[finding.demand_figure]
    if finding.demand_figure in computed.figures:
        return computed.figures[finding.demand_figure]
    for prefix, name in (("tire-pressure-", "pressure_{}"), ("mount-height", "drop_needed")):
        if finding.code.startswith(prefix):
            return computed.figures.get(name.format(finding.code.removeprefix(prefix)))
    return None


def working(rig_view: RigView, figure: Figure) -> Working:
    """Write formula, numbers and result of a figure."""
    show = rig_view.formatter
    numbers = tuple(
        WorkedNumber(rig_view.say(t.label), signed(rig_view, t.value, t.kind, index), t.path)
        for index, t in enumerate(figure.terms)
    )
    spread = f"± {show.value(figure.expanded, figure.kind)}" if figure.u else ""
    return Working(
        rig_view.say(figure.label),
        rig_view.say(figure.formula),
        numbers,
        show.figure(figure),
        rig_view.say(figure.source),
        spread,
    )


def signed(rig_view: RigView, si: float, kind: str, index: int) -> str:
    """Write one number of a sum with its sign in front, the first one bare."""
    text = rig_view.formatter.value(abs(si), kind)
    if si < 0:
        return f"− {text}"
    return text if index == 0 else f"+ {text}"
