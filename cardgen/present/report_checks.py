"""The checks of the report: verdict, what governs, and every check opened to its numbers."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from cardgen.limits.legal import about, on_route
from cardgen.limits.registry import Rule, rule_of
from cardgen.model.results import Basis, Figure, Finding, Outcome
from cardgen.model.starter import left_open
from cardgen.physics.allowances import lowest
from cardgen.physics.needs import need as need_of
from cardgen.present.asking import bare, waiting
from cardgen.present.blocks import Banner, Bar, Bars, Heading, Note, Table
from cardgen.present.cards import pieces
from cardgen.present.cards.short import short
from cardgen.present.page import Fold, Item, Items, PageBlock, View, WorkedNumber, Working
from cardgen.present.rig_view import LEVELS, RigView, unique
from cardgen.tables.law import place_words

GROUPS = (
    (Outcome.OVER, "Over the limit"),
    (Outcome.NOT_CHECKED, "Not checked: something is missing"),
    (Outcome.CLOSE, "Close to the limit"),
    (Outcome.WITHIN, "Within the limit"),
)
NAMED = 3
"""Things of one sort that the verdict names at most; the rest is counted [-]."""
LINE = 42
"""Letters of a line of the verdict that a phone of 390 px shows in one line; what is longer stands behind its link [-]."""
OVER = 6
"""Limits that are over and have a line of their own in the verdict [-]."""
LEAST = 8
"""Limits listed under what governs [-]."""
FIXED = ("chains", "tire-axle-", "tire-speed-")
"""Codes that compare parts with each other, whatever is loaded."""


SHORT = 3
"""Workings of at most so many numbers are printed with every check that uses them [-]."""


def anchor(code: str) -> str:
    """Return the id of a check on the page [-]."""
    return f"check-{code}"


def verdict(rig_view: RigView, *, owner: bool = True) -> Banner:
    """The cards' verdict with what stands out: over, close, can become, overdue, not checked, each a short line that
    leads to the rest; what is overdue is the owner's to see to, and told where the page compares it with today.
    """
    empty = rig_view.assessment.computed.unloaded
    lines = [("Nothing loaded is listed", f"workings.html#{anchor('trailer-gross')}")] if empty else []
    over = rig_view.outcome(Outcome.OVER)
    close = [f for f in rig_view.outcome(Outcome.CLOSE) if not pieces.aging(f)]
    for found, most, word in ((over, OVER, "over"), (close, NAMED, "close")):
        lines += [
            (_why(rig_view, f, upper_first(word)), f"workings.html#{anchor(f.code)}") for f in found[:most]
        ]
        if found[most:]:
            lines.append((f"And {len(found) - most} more {word}", "workings.html#checks"))
    become = [f for f in rig_view.findings if f.can_become and f.critical]
    lines += [(_can(rig_view, f), "check.html#envelope") for f in become[:NAMED]]
    if become[NAMED:]:
        lines.append((f"And {len(become) - NAMED} more can become close or over", "check.html#envelope"))
    due = unique(rig_view.say(d.title) for d in rig_view.checklist.due if d.state == "due")
    lines += _named("Overdue", due if owner else (), "use.html#due")
    unknown = [f for f in rig_view.outcome(Outcome.NOT_CHECKED) if about(f) is None]
    weighty = [f for f in unknown if f.critical] or unknown
    names = unique(upper_first(rig_view.say(short(f.code, f.title))) for f in weighty)
    lines += _named("Not checked", names, "check.html#missing")
    if unknown[len(weighty) :]:
        lines.append((f"Advice not checked: {len(unknown) - len(weighty)}", "check.html#missing"))
    lines += [(rig_view.left_out, "check.html#missing")] if rig_view.left_out else []
    found_in = (about(f) for f in rig_view.outcome(Outcome.NOT_CHECKED))
    places = unique(place_words(one[0]) for one in found_in if one is not None)
    lines += _named("Road rules not checked", places, "check.html#places")
    told = pieces.banner(rig_view, 1)
    return Banner(told.level, told.title, tuple(a for a, _ in lines), links=tuple(b for _, b in lines))


def _named(words: str, names: Sequence[str], href: str) -> list[tuple[str, str]]:
    """One line with as many of some names as it takes, at least one, and how many there are besides; none without names."""
    told = [
        f"{words}: {'; '.join(names[:few])}{f' + {len(names) - few}' if len(names) > few else ''}"
        for few in range(min(NAMED, len(names)), 0, -1)
    ]
    return [(next((line for line in told if len(line) <= LINE), told[-1]), href)] if told else []


def missing(rig_view: RigView) -> tuple[Item, ...]:
    """List what to measure or read, each once, what opens the most checks first; last what no check waits
    for now, although such a rig has it.
    """
    waited = waiting(rig_view.outcome(Outcome.NOT_CHECKED), rig_view.rig)
    named = {bare(need.path) for need, _ in waited}
    rest = [need_of(path) for path in left_open(rig_view.rig) if bare(path) not in named]
    return tuple(
        Item(
            rig_view.say(rig_view.formatter.need(need)),
            code=need.path,
            lines=unique(rig_view.say(f.title) for f in findings),
        )
        for need, findings in (*waited, *((need, ()) for need in rest))
    )


def open_ends(rig_view: RigView, measure: str = "") -> View | None:
    """What to measure or read next; None when nothing is missing.

    Args:
        rig_view: the rig.
        measure: address of the measuring page; empty without one [-].
    """
    found = missing(rig_view)
    waited = [_brief(one) for one in found if one.lines]
    quiet = tuple(one for one in found if not one.lines)
    if not found:
        return None
    blocks: list[PageBlock] = []
    if measure:
        page = Item(
            "Measuring page", "asks for all of it where you stand, and gives the rig file back", href=measure
        )
        blocks.append(Items((page,), style="menu"))
    if waited:
        blocks.append(Items(tuple(waited[:LEAST]), style="numbered"))
    if waited[LEAST:]:
        blocks.append(Fold(f"{len(waited) - LEAST} more", (Items(tuple(waited[LEAST:])),)))
    if quiet:
        many = (
            f"{len(quiet)} line{'s' if len(quiet) > 1 else ''} of such a rig still open; no check waits for "
        )
        blocks.append(Fold(f"{many}{'them' if len(quiet) > 1 else 'it'} now", (Items(quiet),)))
    hint = "Nothing is guessed: what is not known is not checked. What opens the most checks comes first."
    about = f"{len(waited)} thing{'s' if len(waited) != 1 else ''} to read or measure"
    return View("missing", "What to measure or read next", tuple(blocks), about, hint)


def _brief(one: Item) -> Item:
    many = f"{len(one.lines)} checks" if len(one.lines) > SHORT else ", ".join(one.lines)
    return replace(one, note=f"for {many}")


def _why(rig_view: RigView, finding: Finding, word: str) -> str:
    """A limit that stands out in one line: with what is left or past it, where that has room, else its name alone."""
    if on_route(finding):
        return rig_view.say(f"Not allowed: {finding.title}")
    show, title = rig_view.formatter, rig_view.say(short(finding.code, finding.title))
    told = [f"{word}: {title}"]
    if finding.demand is not None and finding.capacity is not None:
        band = finding.low is not None
        told.insert(0, f"{told[0]}, {show.of(finding, finding.demand) if band else show.left(finding)}")
        told.insert(0, f"{told[-1]}, {rig_view.say(show.verdict(finding))}")
    return next((line for line in told if len(line) <= LINE), told[-1])


def _can(rig_view: RigView, finding: Finding) -> str:
    """What a check can become in one line; how stands behind the link."""
    title = rig_view.say(short(finding.code, finding.title))
    told = rig_view.formatter.filled(re.split(r" \(| with ", finding.can_become)[0], finding.values)
    return f"{upper_first(title)} {rig_view.say(told)}"


def upper_first(text: str) -> str:
    """Write the first letter large and leave the rest alone."""
    return text[:1].upper() + text[1:]


def summary(rig_view: RigView, finding: Finding) -> str:
    """Say how a finding came out in one line, its remark included."""
    return rig_view.say(rig_view.formatter.told(finding))


def governs(rig_view: RigView) -> Bars | None:
    """The limits with the least left, each with what is left and how it follows; None while none is known."""
    rows = [
        _limit(rig_view, f)
        for f in rig_view.findings
        if f.critical
        and f.capacity is not None
        and f.demand is not None
        and (f.kind in ("mass", "fraction") or f.outcome is Outcome.OVER)
        and not f.code.startswith(FIXED)
    ]
    rows.sort(key=lambda row: (row.level != "over", -(row.share or 0.0)))
    note = "The upright mark is the limit. Solid: within; hatched: close; dark hatched: over; dashed: not checked."
    return Bars("", tuple(rows[:LEAST]), note=note) if rows else None


def _limit(rig_view: RigView, finding: Finding) -> Bar:
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
    return Bar(
        rig_view.say(finding.title), left, used, finding.share if known else None,
        finding.outcome.value, LEVELS[finding.outcome], f"workings.html#{anchor(finding.code)}",
    )  # fmt: skip


def allowed(rig_view: RigView) -> tuple[PageBlock, ...]:
    """The largest trailer that each rated part allows; nothing while no rating is known."""
    show, made = rig_view.formatter, rig_view.assessment.computed.allowances
    rows: list[tuple[str, str, str]] = []
    least, governs = lowest(made), 0
    for one in made:
        if one.trailer is None and rig_view.rig.lacks((one.path,)):
            continue
        value = show.bound(one.trailer, "mass", "upper") if one.trailer is not None else "not known"
        governs = len(rows) if one is least else governs
        rows.append((rig_view.say(one.part), value, rig_view.say(one.formula)))
    total = rig_view.figure("allowed_trailer")
    intro = ""
    if total is not None:
        said = show.figure(total)
        full = lowest(made, as_loaded=True)
        if total.value is None and least is not None and least.trailer is not None:
            most = show.bound(least.trailer, "mass", "upper")
            said += f"; {show.need(total.needs[0])}; by what is known no more than {most}, at today's {{tongue_share}}"
        if full is not None and full.trailer is not None and full.trailer < (total.value or 0.0):
            said += f"; as loaded now {show.bound(full.trailer, 'mass', 'upper')}, where {full.part} is full"
        intro = (
            f"{upper_first(rig_view.say(total.label))}: {rig_view.say(said)}. Only the lowest rating counts."
        )
    table = Table(
        "The weakest link",
        ("Part", "Allows a trailer of", "How it follows"),
        tuple(rows),
        (1.2, 0.8, 1.4),
        ("left", "right", "left"),
        intro,
        strong=(governs,),
    )
    return (table,) if rows else ()


def groups(rig_view: RigView) -> tuple[PageBlock, ...]:
    """Every check, opened to its numbers, by outcome, worst first."""
    shown: dict[tuple[str, str], str] = {}
    told: set[str] = set()
    out: list[PageBlock] = []
    routes = [f for f in rig_view.findings if on_route(f)]
    parts = [(title, [f for f in rig_view.outcome(o) if f not in routes]) for o, title in GROUPS]
    parts.insert(1, ("Not allowed on this route", routes))
    for title, found in parts:
        if found:
            out.append(Heading(f"{title} ({len(found)})"))
            out += [check(rig_view, f, rule_of(f.code), shown, told) for f in found]
    return tuple(out)


def check(
    rig_view: RigView,
    finding: Finding,
    rule: Rule | None,
    shown: dict[tuple[str, str], str] | None = None,
    told: set[str] | None = None,
) -> Fold:
    """Open one finding to formula, numbers, result, limit, source and what to measure.

    Args:
        rig_view: the rig_view.
        finding: the finding.
        rule: the rule that made it.
        shown: where a figure was worked out already on the page, by id and loading case;
            this check is added.
        told: ids and explanations that the page has already; this check's are added.
    """
    told = set() if told is None else told
    known = workings(rig_view, finding, {} if shown is None else shown)
    ask = tuple(Item(rig_view.say(rig_view.formatter.need(n))) for n in finding.needs)
    limit = _limit_words(rig_view, finding)
    governed = f" ({rig_view.say(finding.governed_by)})" if finding.governed_by else ""
    rows = (
        ("Limit", limit and limit + governed),
        ("Worst loading case", finding.case),
        ("Basis", _basis(finding)),
        ("Source", rig_view.say(finding.source)),
        ("Code", finding.code),
    )
    meaning = rig_view.say(rule.meaning) if rule is not None else ""
    name, number = anchor(finding.code), 1
    while name in told:
        number += 1
        name = f"{anchor(finding.code)}-{number}"
    blocks = (
        *((Items(ask, "To check it"),) if ask else ()),
        *known,
        Table("", (), tuple(row for row in rows if row[1])),
        *((Note(meaning),) if meaning and meaning not in told else ()),
    )
    told |= {name, meaning}
    title, word = rig_view.say(finding.title), finding.outcome.value
    return Fold(title, blocks, name, LEVELS[finding.outcome], word, summary(rig_view, finding))


def _basis(finding: Finding) -> str:
    """Where the limit gets its force from, and that it forbids nothing where it does not decide."""
    if finding.critical:
        return finding.basis.value
    if finding.basis is not Basis.LAW:
        return f"{finding.basis.value}; exceeding this is advice only"
    return f"law; {'holds on that route' if on_route(finding) else 'told as advice, as far as it was read'}"


def _limit_words(rig_view: RigView, finding: Finding) -> str:
    if finding.capacity is None or finding.capacity == float("inf"):
        return ""
    show = rig_view.formatter.at(finding.code)
    text = show.value(finding.capacity, finding.kind)
    if finding.low is not None:
        return f"{show.value(finding.low, finding.kind)} to {text}"
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
        WorkedNumber(rig_view.say(t.label), signed(rig_view, t.value, t.kind, index))
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
