"""Compare a demand with a limit, worst loading case first, unknowns never passed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.limits.registry import Context, unknown
from cardgen.model.results import Basis, Finding, Need, Outcome
from cardgen.physics.needs import need
from cardgen.units import Quantity


@dataclass(frozen=True, slots=True)
class Demand:
    """The largest demand over the loading cases [SI] and what is missing in any of them."""

    value: float | None
    case: str
    needs: tuple[Need, ...]
    figure: str
    u: float | None = None


def demand(context: Context, *names: str, smallest: bool = False) -> Demand:
    """Find the worst value of some figures over the cases.

    Args:
        context: the computed rig.
        names: ids of figures, of which the worst counts [-].
        smallest: whether the smallest is worst [-].
    """
    value, case, figure, u = None, "", "", None
    needs: list[Need] = []
    for result in context.computed.cases:
        for name in names:
            found = result.figures.get(name)
            if found is None:
                continue
            needs += found.needs
            worse = found.value is not None and (
                value is None or (found.value < value if smallest else found.value > value)
            )
            if worse:
                value, case, figure, u = found.value, result.name, name, found.u
    return Demand(value, case, tuple({n.path: n for n in needs}.values()), figure, u)


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
    if value > limit * (1.0 - close) + slack or (u is not None and value + 2.0 * u > limit + slack):
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
    if capacity is None:
        asked = tuple(limit_needs) or (need(path),)
        made = unknown(code, (*asked, *worst.needs), message, critical)
    elif worst.value is not None and outcome_of(worst.value, capacity, 0.0) is Outcome.OVER:
        made = Finding(code, "", Outcome.OVER, message=message, critical=critical, needs=worst.needs)
    elif worst.needs or worst.value is None:
        made = unknown(code, worst.needs, message, critical)
    else:
        judged = outcome_of(worst.value, capacity, context.close, worst.u)
        made = Finding(code, "", judged, message=message, critical=critical)
    return Finding(
        code,
        title,
        made.outcome,
        kind,
        worst.value,
        capacity,
        None,
        worst.case,
        basis,
        source,
        message,
        {},
        made.needs,
        critical,
        governed_by,
        worst.figure,
        worst.u,
    )


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
