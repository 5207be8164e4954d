"""Compare a demand with a limit, worst loading case first, unknowns never passed.

Every check with a number is decided here: its thresholds are worked out once, from a limit
(``up_to``) or a band (``inside``), and ``judge`` is the one rule that compares with them.
The finding carries both, so nothing later has to decide again.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

from cardgen.limits.becoming import NEVER, can_exceed, can_leave
from cardgen.limits.plausible import doubts, odd_unit
from cardgen.limits.registry import Context
from cardgen.model.figure import COVERAGE
from cardgen.model.results import Basis, Finding, Need, Outcome, Thresholds
from cardgen.physics.band import LEAST
from cardgen.physics.needs import heights_asked, need
from cardgen.tables.lookup import holds
from cardgen.units import Quantity

TOO_CLOSE = "too close to call: weigh it"
SCALE_CLOSE = "too close to call: the scale is no finer"


@dataclass(frozen=True, slots=True)
class Demand:
    """The worst demand over the loading cases and what is missing in any of them.

    Args:
        value: the worst demand [SI]; None when no case has one.
        case: its loading case [-].
        needs: what is missing in any case.
        figure: id of the figure that is worst [-].
        u: standard uncertainty of the worst demand [SI].
        names: ids of all figures that were looked at [-].
        interval: the worst of ``value - U`` and of ``value + U`` over all cases [SI]; None
            when no case has a value.
        weighed: day on which a scale read the worst demand; None when it was computed.
        sure: the worst demand without what rests on heights that were not measured [SI].
    """

    value: float | None
    case: str
    needs: tuple[Need, ...]
    figure: str
    u: float | None = None
    names: tuple[str, ...] = ()
    interval: tuple[float, float] | None = None
    weighed: dt.date | None = None
    sure: float | None = None


def demand(context: Context, *names: str, smallest: bool = False) -> Demand:
    """Find the worst value of some figures over the cases.

    Args:
        context: the computed rig.
        names: ids of figures, of which the worst counts [-].
        smallest: whether the smallest is worst [-].
    """
    worst = min if smallest else max
    looked = [
        (case.name, case.figures[n]) for case in context.computed.cases for n in names if n in case.figures
    ]
    needs = tuple({n.path: n for _, figure in looked for n in figure.needs}.values())
    known = [
        (value, name, figure, u)
        for name, figure in looked
        if figure.value is not None
        for value, u in ((figure.value, figure.u), *((figure.rival,) if figure.rival else ()))
    ]
    if not known:
        return Demand(None, "", needs, "", names=names)
    value, case, top, spread = worst(known, key=lambda row: row[0])
    interval = tuple(worst(v + sign * COVERAGE * (u or 0.0) for v, _, _, u in known) for sign in (-1.0, 1.0))
    weighed = top.weighed if value == top.value else None
    ends = ((v, figure.high if smallest else figure.low) for v, _, figure, _ in known)
    sure = worst(v if end is None else end for v, end in ends)
    return Demand(value, case, needs, top.id, spread, names, (interval[0], interval[1]), weighed, sure)


def up_to(limit: float | None, close: float = 0.0) -> Thresholds:
    """Thresholds of an upper limit.

    Args:
        limit: the limit [any unit]; None when unknown.
        close: share of the limit that must be left [-].
    """
    return Thresholds() if limit is None else Thresholds(limit, limit * (1.0 - close))


def inside(low: float | None, high: float | None, close: float = 0.0) -> Thresholds:
    """Thresholds of a band; with one end only, that end stands for its width.

    Args:
        low, high: ends of the band [any unit]; None when there is no such end.
        close: share of the band's width that must be left at either end [-].
    """
    width = abs(high or low or 0.0) if low is None or high is None else high - low
    above = None if high is None else high - close * width
    below = None if low is None else low + close * width
    return Thresholds(high, above, below, low)


MOVE = "move load before you tow"


def advised(low: float | None, high: float | None, close: float = 0.0) -> Thresholds:
    """Thresholds of an advised band of what must stay above zero: only far too little is over.

    Args:
        low, high: ends of the band [any unit]; None when there is no such end.
        close: share of the band's width that must be left at the lower end [-].
    """
    below = inside(low, high, close).close_below
    return Thresholds(
        close_below=below, over_below=None if low is None else LEAST * low, close_unless_above=low
    )


def _advice(words: tuple[str, str], limits: Thresholds, value: float, too_much: bool) -> str:
    """Say what lies outside an advised band, and what follows from it."""
    if too_much:
        return "more than advised; the ratings govern"
    if past(value, None, limits.over_below):
        return also(words[0], f"less than half of the least advised, a line of our own; {MOVE}")
    return also(words[0], MOVE)


def past(value: float, above: float | None, below: float | None) -> bool:
    """Whether a value lies beyond one of two thresholds [any unit], but for rounding; None is no threshold."""
    too_much = above is not None and holds(value, ">", above)
    return too_much or (below is not None and holds(value, "<", below))


def reaches(limits: Thresholds, interval: tuple[float, float] | None) -> bool:
    """Whether an interval [SI] reaches beyond a threshold for over, or below where it must lie."""
    return interval is not None and any(
        past(end, limits.over_above, limits.over_below) or past(end, None, limits.close_unless_above)
        for end in interval
    )


def touches(limits: Thresholds, interval: tuple[float, float] | None) -> bool:
    """Whether an interval [SI] reaches down to what it must lie above not to be over."""
    least = limits.over_unless_above
    return interval is not None and least is not None and holds(interval[0], "<=", least)


def judge(
    limits: Thresholds,
    value: float | None,
    interval: tuple[float, float] | None = None,
    *,
    sure: float | None = None,
    complete: bool = True,
) -> Outcome:
    """Decide a check; the one rule, which the page's script repeats on the same numbers.

    Args:
        limits: where the check turns close or over [SI].
        value: the demand [SI]; None when unknown.
        interval: least and largest demand that is possible [SI]; None when unknown.
        sure: the demand without what is only assumed [SI]; None when nothing is assumed.
        complete: whether the demand is known in every case [-].

    Returns:
        ``over`` when what is sure lies past a threshold for over, or the interval reaches down
        to what it must lie above; ``not checked`` without a threshold or when anything is missing; ``close`` when the interval reaches past a
        threshold for over or the demand lies past one for close; else ``within``.
    """
    if value is None or limits == Thresholds():
        return Outcome.NOT_CHECKED
    if past(value if sure is None else sure, limits.over_above, limits.over_below):
        return Outcome.OVER
    if touches(limits, interval):
        return Outcome.OVER
    if not complete:
        return Outcome.NOT_CHECKED
    if reaches(limits, interval) or past(value, limits.close_above, limits.close_below):
        return Outcome.CLOSE
    return Outcome.WITHIN


def at_most(
    context: Context,
    code: str,
    worst: Demand,
    limit: Quantity | float | None,
    path: str,
    *,
    title: str = "",
    critical: bool = True,
    source: str = "",
    governed_by: str = "",
    message: str = "",
    unsaid: tuple[str, Sequence[Need]] | None = None,
) -> Finding:
    """Check ``demand <= limit`` over all cases; weights only.

    Args:
        context: the computed rig.
        code: code of the check [-].
        worst: the worst demand [kg].
        limit: the limit [kg] or the quantity that states it; None when unknown.
        path: field of the limit, to ask for when it is unknown [-].
        title, source, governed_by, message: see ``Finding`` [-].
        critical: whether an over forbids towing as described [-].
        unsaid: words for the end at which alone the demand is over, and what tells; None for heights [-].
    """
    capacity = limit.si if isinstance(limit, Quantity) else limit
    needs = worst.needs if capacity is not None else (need(path), *worst.needs)
    thresholds = up_to(capacity, context.close)
    outcome = judge(thresholds, worst.value, worst.interval, sure=worst.sure, complete=not worst.needs)
    if outcome is Outcome.CLOSE and worst.value is not None and past(worst.value, capacity, None):
        end, asked_for = unsaid or (ONE_END, heights_asked(context.rig))
        outcome, needs = Outcome.NOT_CHECKED, (*needs, *asked_for)
        message = also(message, f"past the rating {end}")
    if outcome is not Outcome.OVER:
        odd = odd_unit(context.rig, limit, worst.value, path)
        asked = [d for d in doubts(context.rig) if d.touches(path, worst.names)] + ([odd] if odd else [])
        if asked:
            needs = (*needs, *(doubt.need for doubt in asked))
            outcome, message = Outcome.NOT_CHECKED, also(message, asked[0].words)
    if outcome is Outcome.CLOSE and reaches(thresholds, worst.interval):
        message = also(message, too_close(worst))
    becoming, values = NEVER
    if capacity is not None and worst.value is not None and outcome is not Outcome.OVER:
        becoming, values = can_exceed(context, worst.names, worst.case, capacity, "mass")
    return Finding(
        code, title, outcome, "mass", worst.value, capacity, case=worst.case, source=source,
        message=message, values=values, needs=tuple({n.path: n for n in needs}.values()), critical=critical,
        governed_by=governed_by, demand_figure=worst.figure or next(iter(worst.names), ""), u=worst.u,
        can_become=becoming, thresholds=thresholds, interval=worst.interval, figures=worst.names,
        sure=None if worst.sure == worst.value else worst.sure,
    )  # fmt: skip


ONE_END = "at one end of what heights not measured can do"


def too_close(worst: Demand) -> str:
    """Say that a margin cannot be called [-]; what was weighed is not sent to the scale again."""
    return TOO_CLOSE if worst.weighed is None else SCALE_CLOSE


def also(message: str, more: str) -> str:
    """Join two sentences of a finding [-]."""
    return f"{message}; {more}" if message else more


def band(
    context: Context,
    code: str,
    figure: str,
    kind: str,
    low: float | None,
    high: float | None,
    source: str,
    words: tuple[str, str],
    *,
    advice: bool = False,
) -> Finding:
    """Judge every case against a band; the case that is worst speaks.

    Args:
        context: the computed rig.
        code: code of the check [-].
        figure: id of the figure [-].
        kind: kind of the figure [-].
        low, high: ends of the band [SI]; None when there is no such end.
        source: where the band comes from [-].
        words: what is wrong below and above, for example "too little on the tongue" [-].
        advice: whether the band is advice: below it is close and above it within [-].
    """
    most, least = demand(context, figure), demand(context, figure, smallest=True)
    thresholds = advised(low, high, context.close) if advice else inside(low, high, context.close)
    thresholds = replace(thresholds, over_unless_above=0.0)
    if most.value is None or least.value is None or most.interval is None or least.interval is None:
        return Finding(
            code, "", Outcome.NOT_CHECKED, kind, None, high, low, source=source, needs=most.needs,
            critical=False, demand_figure=figure, thresholds=thresholds, figures=(figure,),
        )  # fmt: skip
    too_much = high is not None and (low is None or most.value - high >= low - least.value)
    too_much = too_much and not (advice and low is not None and past(least.value, None, low))
    worst, interval = most if too_much else least, (least.interval[0], most.interval[1])
    outcome = judge(thresholds, worst.value, interval, complete=not most.needs)
    message, needs = "", most.needs
    if touches(thresholds, interval):
        message = also(words[0], f"it may lift the {{hitch}}; {MOVE}")
    elif outcome is Outcome.OVER and _at_one_end(thresholds, worst, too_much):
        outcome, needs = Outcome.NOT_CHECKED, (*needs, *heights_asked(context.rig))
        message = f"outside {ONE_END}"
    elif advice and worst.value is not None and past(worst.value, high, low):
        message = _advice(words, thresholds, worst.value, too_much)
    elif outcome is Outcome.OVER:
        message = words[1] if too_much else words[0]
    elif outcome is Outcome.CLOSE and reaches(thresholds, interval):
        message = too_close(worst)
    elif outcome is Outcome.CLOSE:
        message = f"near the {'top' if too_much else 'bottom'} of the band"
    becoming, values = NEVER
    if outcome is not Outcome.OVER:
        becoming, values = can_leave(context, figure, worst.case, low, high, kind)
    return Finding(
        code, "", outcome, kind, worst.value, high, low, worst.case,
        source=source, message=message, values=values, needs=needs, critical=True,
        demand_figure=figure, u=worst.u, can_become=becoming, thresholds=thresholds, interval=interval,
        figures=(figure,),
    )  # fmt: skip


def _at_one_end(limits: Thresholds, worst: Demand, too_much: bool) -> bool:
    """Whether a demand is over at one end alone of what heights not measured can do."""
    above, below = (limits.over_above, None) if too_much else (None, limits.over_below)
    return worst.sure is not None and not past(worst.sure, above, below)


def lowest(parts: Sequence[tuple[str, Quantity | None, str]]) -> tuple[str, Quantity | None, str]:
    """Return the part with the lowest known rating; (label, rating, path)."""
    return min(parts, key=lambda part: part[1].si if part[1] else float("inf"), default=("", None, ""))


def plain(
    code: str,
    outcome: Outcome,
    message: str,
    *,
    critical: bool = True,
    title: str = "",
    source: str = "",
    basis: Basis = Basis.MAKER,
    values: dict[str, tuple[float, str]] | None = None,
    needs: Sequence[Need] = (),
) -> Finding:
    """Make a finding that has no margin, from words and the numbers in them [SI]."""
    return Finding(
        code, title, outcome, message=message, critical=critical, source=source, basis=basis,
        values=values or {}, needs=tuple(needs),
    )  # fmt: skip
