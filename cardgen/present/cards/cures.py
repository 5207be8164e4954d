"""What is past a limit on the front of a rig that must not be towed as described, and what to do about each of it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from cardgen.limits.remedy_aim import BEHIND
from cardgen.model.results import Finding, Outcome
from cardgen.present.blocks import NumberedLine, Table
from cardgen.present.cards.short import short
from cardgen.present.rig_view import RigView, unique

REASONS, LEAST_REASONS, CURES, NAMED = 7, 3, 3, 4
"""Rows of what is over, most and least; most proposals; weights or parts that one line names [-]."""
NOTHING, AGAIN, FIRST = "nothing listed does it", "then weigh again", "put this right first"


def cures(rig_view: RigView, over: Sequence[Finding]) -> list[tuple[str, set[str]]]:
    """At most three proposals that cure most, each with the codes that it cures and what it leaves."""
    open_ = {f.code for f in over if f.critical}
    found: dict[tuple[str, frozenset[str]], str] = {}
    for finding in over:
        for remedy in rig_view.assessment.remedies.get(finding.code, ()):
            cured = frozenset(open_ - set(remedy.left))
            if remedy.kind not in ("weigh", "short") and cured:
                text = cap(rig_view.say(rig_view.formatter.filled(remedy.text, remedy.values)))
                found.setdefault((remedy.kind if remedy.kind == "less" else text, cured), text)
    most = CURES if len(over) < REASONS else CURES - 1
    better = {pair: text for pair, text in found.items() if not any(pair[1] < other for _, other in found)}
    best = sorted(((text, set(cured)) for (_, cured), text in better.items()), key=lambda one: -len(one[1]))[
        :most
    ]
    rest = [f for f in over if all(f.code not in cured for _, cured in best)]
    return [
        *best,
        *_amounts(rig_view, [f for f in rest if _load(f)]),
        *_unfit(rig_view, [f for f in rest if not _load(f)]),
    ]


def _load(finding: Finding) -> bool:
    """Whether what is past a limit is a weight that loading makes, so that some of it can come off."""
    known = finding.kind == "mass" and finding.demand is not None and finding.capacity is not None
    return known and (finding.demand_figure != "" or finding.code in BEHIND)


def _unfit(rig_view: RigView, over: Sequence[Finding]) -> list[tuple[str, set[str]]]:
    """What does not fit at all, in one line: no load cures it. A pressure that fails for its load is told with the load."""
    show, told = rig_view.formatter, []
    ends = [f.code.rpartition("-")[2] for f in over if f.code.startswith("tire-axle-")]
    if ends:
        whose = " and ".join(filter(None, (", ".join(ends[:-1]), ends[-1])))
        told.append(f"fit {whose} tires that cover the {{axle_rating}}")
    heavy = {
        f.code.replace("-load-", "-pressure-")
        for f in rig_view.outcome(Outcome.OVER)
        if "tire-load-" in f.code
    }
    for finding in over:
        text = show.message(finding).split(";")[0]
        if finding.code == "d-value" and finding.demand is not None:
            least = show.bound(finding.demand, "force", "lower")
            text = f"fit a {finding.governed_by} with a plate of {least} or more"
        if not finding.code.startswith("tire-axle-") and finding.code not in heavy:
            told.append(text or f"{short(finding.code, finding.title)}, {show.left(finding)}")
    lines = [cap(rig_view.say(line)) for line in unique(told)]
    return [(f"{'. '.join(_at_most(lines))}: {FIRST}", {f.code for f in over})] if lines else []


def _at_most(told: list[str]) -> list[str]:
    """The first of what a line names, and how many more there are."""
    return told if len(told) <= NAMED else [*told[: NAMED - 1], f"{len(told) - NAMED + 1} more in the report"]


_WEIGHT = re.compile(r",? against |,? inside |, as weighed| with \{")
"""What ends the name of a weight in the title of its check [-]."""


def _amounts(rig_view: RigView, over: Sequence[Finding]) -> list[tuple[str, set[str]]]:
    """What must come off, or go on, where no proposal brings a weight in: in one line, each weight by its worst rating."""
    most: dict[tuple[str, bool], tuple[str, float]] = {}
    for finding in over:
        low = finding.low is not None and (finding.demand or 0.0) < finding.low
        whole = next((f for f in over if f.demand_figure == "trailer_weight"), finding)
        named = (
            whole if finding.demand_figure.startswith("label_cargo") else finding
        )  # what is put in is part of it
        what = "loaded trailer" if named.code == "distribution-needed" else _WEIGHT.split(named.title)[0]
        first, least = most.get((named.demand_figure or named.code, low), (what, 0.0))
        most[named.demand_figure or named.code, low] = first, max(least, abs(finding.margin or 0.0))
    told = [
        f"{rig_view.formatter.bound(amount, 'mass', 'lower')} {'more on' if low else 'off'} "
        f"{'' if what.startswith('all ') else 'the '}{what}"
        for (_, low), (what, amount) in most.items()
    ]
    if not told:
        return []
    seen = all(f.code.startswith("weighed-") for f in over)
    text = f"{', '.join(_at_most(told))}{f'; {AGAIN}' if seen else f': {NOTHING}'}"
    return [(rig_view.say(text), {f.code for f in over})]


def steps(found: Sequence[tuple[str, set[str]]], over: int) -> tuple[NumberedLine, ...]:
    """What to do, numbered, each proposal with how many of the reasons it takes away."""
    made = []
    for number, (text, codes) in enumerate(found, 1):
        cured = " Cures all." if len(codes) == over else f" Cures {len(codes)} of {over}."
        made.append(
            NumberedLine(str(number), f"{text}.{'' if text.endswith((NOTHING, AGAIN, FIRST)) else cured}")
        )
    return tuple(made)


def _numbers(found: Sequence[int]) -> str:
    """Numbers of cures as their narrow column takes them in one line: ``1``, ``1, 2``, ``1–3``, ``1,2,4``."""
    if len(found) > 2 and found[-1] - found[0] == len(found) - 1:
        return f"{found[0]}–{found[-1]}"
    return (", " if len(found) < 3 else ",").join(map(str, found))


def why(
    rig_view: RigView, over: Sequence[Finding], found: Sequence[tuple[str, set[str]]], reasons: int
) -> Table:
    """The worst so many reasons, worst first, each with the numbers of its cures."""
    show = rig_view.formatter
    rows = []
    for finding in over[:reasons]:
        cure = _numbers([n for n, (_, codes) in enumerate(found, 1) if finding.code in codes]) or "-"
        name = rig_view.say(short(finding.code, finding.title))
        name = name[0].upper() + name[1:]
        if finding.demand is None or finding.capacity is None:
            rows.append((name, "", "", "does not fit", cure))
            continue
        low = finding.low is not None and finding.demand < finding.low
        allowed = (
            f"from {show.of(finding, finding.low)}" if low and finding.low is not None else show.most(finding)
        )
        past = f"{show.of(finding, abs(finding.margin or 0.0))} {'short' if low else 'over'}"
        rows.append((name, show.of(finding, finding.demand), allowed, past, cure))
    more = f"{len(over) - reasons} more, all in the report" if len(over) > reasons else ""
    head = ("limit", "is", "allowed", "over, short", "cure")
    return Table(
        "Why",
        head,
        tuple(rows),
        (1.95, 1.1, 1.15, 1.3, 0.5),
        note=more,
        aside="worst first; one line, one reason",
    )


def cap(text: str) -> str:
    """Begin a text with a capital."""
    return text[:1].upper() + text[1:]
