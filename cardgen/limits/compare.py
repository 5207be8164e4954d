"""Compare a demand with a limit, worst loading case first, unknowns never passed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.limits.becoming import NEVER, can_exceed, can_leave
from cardgen.limits.registry import Context
from cardgen.model.results import Basis, Finding, Need, Outcome
from cardgen.physics.needs import need
from cardgen.units import Quantity

COVERAGE = 2.0
"""Coverage factor of expanded uncertainty [-]; JCGM 100:2008 6.2, about 95 %."""
TOO_CLOSE = "too close to call: weigh it"


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
        reach: end of the widest interval of value and expanded uncertainty, over all
            cases [SI]: the largest ``value + U``, or the smallest ``value - U``.
    """

    value: float | None
    case: str
    needs: tuple[Need, ...]
    figure: str
    u: float | None = None
    names: tuple[str, ...] = ()
    reach: float | None = None


def demand(context: Context, *names: str, smallest: bool = False) -> Demand:
    """Find the worst value of some figures over the cases.

    Args:
        context: the computed rig.
        names: ids of figures, of which the worst counts [-].
        smallest: whether the smallest is worst [-].
    """
    sign = -1.0 if smallest else 1.0
    value, case, figure, u, reach = None, "", "", None, None
    needs: list[Need] = []
    for result in context.computed.cases:
        for name in names:
            found = result.figures.get(name)
            if found is None:
                continue
            needs += found.needs
            if found.value is None:
                continue
            if value is None or sign * found.value > sign * value:
                value, case, figure, u = found.value, result.name, name, found.u
            end = found.value + sign * COVERAGE * (found.u or 0.0)
            reach = end if reach is None or sign * end > sign * reach else reach
    unique = tuple({n.path: n for n in needs}.values())
    return Demand(value, case, unique, figure, u, names, reach)


def outcome_of(value: float, limit: float, close: float, u: float | None = None) -> Outcome:
    """Judge a demand against an upper limit.

    Args:
        value: demand [any unit].
        limit: upper limit [same unit].
        close: share of the limit that must be left for ``within`` [-].
        u: standard uncertainty of the demand [same unit], None when unknown.

    Returns:
        ``over`` above the limit; ``close`` when less than the margin is left, or
        when the interval of twice the uncertainty reaches the limit; else ``within``.
    """
    slack = 1e-9 * max(abs(limit), abs(value))
    if value > limit + slack:
        return Outcome.OVER
    if value > limit * (1.0 - close) + slack or (u is not None and value + COVERAGE * u > limit + slack):
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
    basis: Basis = Basis.MAKER,
    governed_by: str = "",
    message: str = "",
    kind: str = "mass",
    limit_needs: Sequence[Need] = (),
) -> Finding:
    """Check ``demand <= limit`` over all cases.

    Args:
        context: the computed rig.
        code: code of the check [-].
        worst: the worst demand [SI].
        limit: the limit [SI] or the quantity that states it; None when unknown.
        path: field of the limit, to ask for when it is unknown [-].
        title, source, basis, governed_by, message: see ``Finding`` [-].
        critical: whether an over forbids towing as described [-].
        kind: kind of demand and limit [-].
        limit_needs: what is missing when the limit is not a plain field.
    """
    capacity = limit.si if isinstance(limit, Quantity) else limit
    needs = worst.needs
    if capacity is None:
        needs = (*(tuple(limit_needs) or (need(path),)), *worst.needs)
    outcome, message = _judge(worst, capacity, context.close, message)
    becoming, values = NEVER
    if capacity is not None and worst.value is not None and outcome is not Outcome.OVER:
        becoming, values = can_exceed(context, worst.names, worst.figure, worst.case, capacity, kind)
    return Finding(
        code,
        title,
        outcome,
        kind,
        worst.value,
        capacity,
        case=worst.case,
        basis=basis,
        source=source,
        message=message,
        values=values,
        needs=tuple({n.path: n for n in needs}.values()),
        critical=critical,
        governed_by=governed_by,
        demand_figure=worst.figure or next(iter(worst.names), ""),
        u=worst.u,
        can_become=becoming,
    )


def _judge(worst: Demand, capacity: float | None, close: float, message: str) -> tuple[Outcome, str]:
    """Outcome of a demand against an upper limit [SI], and the message with what the interval adds."""
    if capacity is None or worst.value is None:
        return Outcome.NOT_CHECKED, message
    if outcome_of(worst.value, capacity, 0.0) is Outcome.OVER:
        return Outcome.OVER, message
    if worst.needs:
        return Outcome.NOT_CHECKED, message
    if worst.reach is not None and outcome_of(worst.reach, capacity, 0.0) is Outcome.OVER:
        return Outcome.CLOSE, also(message, TOO_CLOSE)
    return outcome_of(worst.value, capacity, close, worst.u), message


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
    """
    most, least = demand(context, figure), demand(context, figure, smallest=True)
    top = float("inf") if high is None else high
    bottom = float("-inf") if low is None else low
    if most.value is None or least.value is None:
        return Finding(
            code, "", Outcome.NOT_CHECKED, kind, None, high, low,
            source=source, needs=most.needs, critical=False, demand_figure=figure,
        )  # fmt: skip
    above, below = most.value - top, bottom - least.value
    worst = most if above >= below else least
    width = top - bottom if top - bottom < float("inf") else abs(bottom if high is None else top)
    side = words[1] if above >= below else words[0]
    outcome, message = Outcome.WITHIN, ""
    if max(above, below) > 1e-9:
        outcome, message = Outcome.OVER, side
    elif most.needs:
        outcome = Outcome.NOT_CHECKED
    elif (most.reach or 0.0) > top + 1e-9 or (least.reach or 0.0) < bottom - 1e-9:
        outcome, message = Outcome.CLOSE, TOO_CLOSE
    elif max(above, below) > -context.close * width:
        outcome = Outcome.CLOSE
        message = "near the top of the band" if above >= below else "near the bottom of the band"
    becoming, values = NEVER
    if outcome is not Outcome.OVER:
        becoming, values = can_leave(context, figure, worst.case, low, high, kind)
    return Finding(
        code, "", outcome, kind, worst.value, high, low, worst.case,
        source=source, message=message, values=values, needs=most.needs, critical=True,
        demand_figure=figure, u=worst.u, can_become=becoming,
    )  # fmt: skip


def lowest(parts: Sequence[tuple[str, Quantity | None, str]]) -> tuple[str, Quantity | None, str]:
    """Return the part with the lowest known rating; (label, rating, path)."""
    known = [p for p in parts if p[1] is not None]
    return (
        min(known, key=lambda p: p[1].si if p[1] else 0.0)
        if known
        else (parts[0] if parts else ("", None, ""))
    )


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
        code,
        title,
        outcome,
        message=message,
        critical=critical,
        source=source,
        basis=basis,
        values=values or {},
        needs=tuple(needs),
    )
