"""The checks of the report: verdict, what governs, and every check opened to its numbers."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from cardgen.limits.legal import about, on_route
from cardgen.limits.registry import Rule, rules
from cardgen.model.results import Figure, Finding, Outcome
from cardgen.model.starter import left_open
from cardgen.physics.needs import need as need_of
from cardgen.present.asking import waiting
from cardgen.present.blocks import Table
from cardgen.present.cards import pieces
from cardgen.present.desk import LEVELS, Desk, unique
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

GROUPS = (
    (Outcome.OVER, "Over the limit"),
    (Outcome.NOT_CHECKED, "Not checked: something is missing"),
    (Outcome.CLOSE, "Close to the limit"),
    (Outcome.WITHIN, "Within the limit"),
)
_INDEX = re.compile(r"\[\d+\]")
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


def verdict(desk: Desk) -> Verdict:
    """Say what the cards' banner says, with every check that stands out."""
    banner = pieces.banner(desk, 1)
    over, close = desk.outcome(Outcome.OVER), desk.outcome(Outcome.CLOSE)
    unknown = [f for f in desk.outcome(Outcome.NOT_CHECKED) if about(f) is None]
    lines = [_why(desk, f) for f in over or (close if banner.level == "close" else ())]
    if unknown:
        named = [desk.say(f.title) for f in unknown[:NAMED]]
        more = f"; and {len(unknown) - NAMED} more" if len(unknown) > NAMED else ""
        lines.append(f"Not checked: {'; '.join(named)}{more}")
    lines += pieces.not_covered(desk)
    return Verdict(banner.level, banner.title, tuple(lines))


def missing(desk: Desk) -> tuple[Missing, ...]:
    """List what to measure or read, each once, what opens the most checks first; last what no check waits
    for now, although such a rig has it.
    """
    waited = waiting(desk.outcome(Outcome.NOT_CHECKED))
    named = {_INDEX.sub("[]", need.path) for need, _ in waited}
    rest = [need_of(path) for path in left_open(desk.rig) if path not in named]
    return tuple(
        Missing(desk.say(desk.shower.need(need)), need.path, unique(desk.say(f.title) for f in findings))
        for need, findings in (*waited, *((need, ()) for need in rest))
    )


def _why(desk: Desk, finding: Finding) -> str:
    title = upper_first(desk.say(finding.title))
    case = f" ({finding.case})" if finding.case else ""
    return f"{title}: {summary(desk, finding)}{case}"


def upper_first(text: str) -> str:
    """Write the first letter large and leave the rest alone."""
    return text[:1].upper() + text[1:]


def summary(desk: Desk, finding: Finding) -> str:
    """Say how a finding came out in one line, its remark included."""
    return desk.say(desk.shower.told(finding))


def limits(desk: Desk) -> tuple[LimitRow, ...]:
    """List every check that has a demand and a capacity, the least left first."""
    made = [
        _limit(desk, f)
        for f in desk.findings
        if f.critical
        and f.capacity is not None
        and f.demand is not None
        and (f.kind in ("mass", "fraction") or f.outcome is Outcome.OVER)
    ]
    order = {"over": 0}
    return tuple(sorted(made, key=lambda row: (order.get(row.level, 1), -(row.share or 0.0))))


def governs(desk: Desk) -> tuple[LimitRow, ...]:
    """List the limits with the least left."""
    return tuple(row for row in limits(desk) if not row.anchor.startswith(_FIXED))[:LEAST]


def _limit(desk: Desk, finding: Finding) -> LimitRow:
    show = desk.shower
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
        desk.say(finding.title),
        used,
        left,
        finding.share if known else None,
        finding.outcome.value,
        LEVELS[finding.outcome],
        anchor(finding.code),
    )


def allowed(desk: Desk) -> SectionPart:
    """Make the table of the largest trailer that each rated part allows."""
    show = desk.shower
    rows = []
    for one in desk.assessment.computed.allowances:
        value = show.bound(one.trailer, "mass", "upper") if one.trailer is not None else "not known"
        rows.append((desk.say(one.part), value, desk.say(one.formula)))
    total = desk.figure("allowed_trailer")
    intro: tuple[str, ...] = ()
    if total is not None:
        said = show.figure(total)
        known = [a.trailer for a in desk.assessment.computed.allowances if a.trailer is not None]
        if total.value is None and known:
            lowest = show.bound(min(known), "mass", "upper")
            said += f"; at most {lowest} by what is known, at today's {{tongue_share}}"
        intro = (f"{upper_first(desk.say(total.label))}: {desk.say(said)}. Only the lowest rating counts.",)
    table = Table(
        "",
        ("Part", "Allows a trailer of", "How it follows"),
        tuple(rows),
        (1.2, 0.8, 1.4),
        ("left", "right", "left"),
        strong=(0,),
    )
    return SectionPart("weakest-link", "The weakest link", intro, (table,) if rows else ())


def groups(desk: Desk) -> tuple[CheckGroup, ...]:
    """Group every check by outcome, worst first."""
    known = {rule.code: rule for rule in rules()}
    shown: dict[tuple[str, str], str] = {}
    told: set[str] = set()
    out = []
    routes = [f for f in desk.findings if on_route(f)]
    parts = [
        (o, title, [f for f in desk.findings if f.outcome is o and f not in routes]) for o, title in GROUPS
    ]
    parts.insert(1, (Outcome.CLOSE, "Not allowed on this route", routes))
    for outcome, title, found in parts:
        if found:
            checks = tuple(_once(check(desk, f, rule_of(known, f.code), shown), told) for f in found)
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


def rule_of(known: Mapping[str, Rule], code: str) -> Rule | None:
    """Return the rule that made a finding: its code, or the longest code it starts with."""
    fitting = [c for c in known if code == c or code.startswith(f"{c}-")]
    return known[max(fitting, key=len)] if fitting else None


def check(
    desk: Desk, finding: Finding, rule: Rule | None, shown: dict[tuple[str, str], str] | None = None
) -> Check:
    """Open one finding to formula, numbers, result, limit, source and what to measure.

    Args:
        desk: the desk.
        finding: the finding.
        rule: the rule that made it.
        shown: where a figure was worked out already on the page, by id and loading case;
            this check is added.
    """
    show = desk.shower
    bar = finding.share if finding.outcome is not Outcome.NOT_CHECKED else None
    return Check(
        anchor(finding.code),
        finding.code,
        desk.say(finding.title),
        LEVELS[finding.outcome],
        finding.outcome.value,
        summary(desk, finding),
        bar if finding.capacity is not None and finding.demand is not None else None,
        workings(desk, finding, {} if shown is None else shown),
        _limit_words(desk, finding),
        finding.case,
        desk.say(finding.governed_by),
        finding.basis.value,
        desk.say(finding.source),
        desk.say(rule.meaning) if rule is not None else "",
        tuple(desk.say(show.need(n)) for n in finding.needs),
        finding.critical,
    )


def _limit_words(desk: Desk, finding: Finding) -> str:
    if finding.capacity is None or finding.capacity == float("inf"):
        return ""
    text = desk.shower.value(finding.capacity, finding.kind)
    if finding.low is not None:
        return f"{desk.shower.value(finding.low, finding.kind)} to {text}"
    return f"at most {text}" if finding.demand is not None else text


def workings(desk: Desk, finding: Finding, shown: dict[tuple[str, str], str]) -> tuple[Working, ...]:
    """Show how the demand of a finding was worked out, or where that stands on the page."""
    figure = figure_of(desk, finding)
    if figure is None:
        return ()
    made = working(desk, figure)
    first = shown.setdefault((figure.id, finding.case), anchor(finding.code))
    if first != anchor(finding.code) and len(made.numbers) > SHORT:
        return (replace(made, numbers=(), see=first),)
    return (made,)


def figure_of(desk: Desk, finding: Finding) -> Figure | None:
    """Find the figure that is the demand of a finding."""
    computed = desk.assessment.computed
    for case in computed.cases:
        if case.name == finding.case and finding.demand_figure in case.figures:
            return case.figures[finding.demand_figure]
    if finding.demand_figure in computed.figures:
        return computed.figures[finding.demand_figure]
    for prefix, name in (("tire-pressure-", "pressure_{}"), ("mount-height", "drop_needed")):
        if finding.code.startswith(prefix):
            return computed.figures.get(name.format(finding.code.removeprefix(prefix)))
    return None


def working(desk: Desk, figure: Figure) -> Working:
    """Write formula, numbers and result of a figure."""
    show = desk.shower
    numbers = tuple(
        WorkedNumber(desk.say(t.label), signed(desk, t.value, t.kind, index), t.path)
        for index, t in enumerate(figure.terms)
    )
    spread = f"± {show.value(figure.expanded, figure.kind)}" if figure.u else ""
    return Working(
        desk.say(figure.label),
        desk.say(figure.formula),
        numbers,
        show.figure(figure),
        desk.say(figure.source),
        spread,
    )


def signed(desk: Desk, si: float, kind: str, index: int) -> str:
    """Write one number of a sum with its sign in front, the first one bare."""
    text = desk.shower.value(abs(si), kind)
    if si < 0:
        return f"− {text}"
    return text if index == 0 else f"+ {text}"
