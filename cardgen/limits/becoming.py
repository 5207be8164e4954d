"""What a check could become: the filling that would take its demand past the limit.

The reach over all fillings comes from ``cardgen.physics.envelope``. Told are the
changes from the worst declared case that are enough to pass the limit, the largest
first, and the extreme itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from cardgen.limits.registry import Context
from cardgen.model.ranges import Range, Setting
from cardgen.model.results import CaseResult

Values = dict[str, tuple[float, str]]
NEVER: tuple[str, Values] = ("", {})
SLACK = 1e-9
MOST = 5
"""Largest number of changes told [-], so that the sentence stays readable."""


def can_exceed(
    context: Context, names: Sequence[str], case: str, limit: float, kind: str
) -> tuple[str, Values]:
    """Say which filling takes a demand over a limit; empty when none does.

    Args:
        context: the computed rig.
        names: ids of the figures that can be the demand [-].
        case: loading case that is worst now [-].
        limit: upper limit [SI].
        kind: kind of the limit [-].
    """
    known = [context.computed.envelope[n] for n in names if n in context.computed.envelope]
    highs = [(r.high, r) for r in known if r.high is not None]
    if not highs:
        return NEVER
    high, reach = max(highs, key=lambda pair: pair[0])
    if high <= limit + SLACK * max(abs(limit), 1.0):
        return NEVER
    how = _changes(context, reach, reach.high_filling, case, limit, 1.0)
    return f"can rise to {{can_be}}{how}", {"can_be": (high, kind)}


def can_leave(
    context: Context, figure: str, case: str, low: float | None, high: float | None, kind: str
) -> tuple[str, Values]:
    """Say which fillings take a figure out of its band; empty when none does.

    Args:
        context: the computed rig.
        figure: id of the figure [-].
        case: loading case that is worst now [-].
        low, high: ends of the band [SI]; None when there is no such end.
        kind: kind of the band [-].
    """
    parts: list[str] = []
    values: Values = {}
    reach = context.computed.envelope.get(figure)
    if reach is None or reach.high is None or reach.low is None:
        return NEVER
    if high is not None and reach.high > high + SLACK * max(abs(high), 1.0):
        how = _changes(context, reach, reach.high_filling, case, high, 1.0)
        parts.append(f"can rise to {{can_be}} (maximum {{most}}){how}")
        values |= {"can_be": (reach.high, kind), "most": (high, kind)}
    if low is not None and reach.low < low - SLACK * max(abs(low), 1.0):
        how = _changes(context, reach, reach.low_filling, case, low, -1.0)
        parts.append(f"can fall to {{can_fall}} (minimum {{least}}){how}")
        values |= {"can_fall": (reach.low, kind), "least": (low, kind)}
    return "; ".join(parts), values


def _changes(
    context: Context, reach: Range, filling: Sequence[Setting], case: str, limit: float, sign: float
) -> str:
    """List the changes from a case that are enough to pass the limit, largest first."""
    result = next((c for c in context.computed.cases if c.name == case), None)
    if result is None or reach.id not in result.figures:
        return ""
    gap = _gap(result, reach.id, limit)
    if gap is None:
        return ""
    told: list[str] = []
    for gain, words in _steps(result.shares, filling, limit, sign):
        told += [w for w in words if w not in told]
        gap += gain
        if sign * gap > 0:
            break
    if not told:
        return ""
    more = f" and {len(told) - MOST} more changes" if len(told) > MOST else ""
    return f" with {', '.join(told[:MOST])}{more}"


def _gap(result: CaseResult, figure: str, limit: float) -> float | None:
    """Distance above the limit in the case [kg]; for a share times the trailer's weight."""
    value = result.figures[figure].value
    if value is None:
        return None
    if figure != "tongue_share":
        return value - limit
    weight = result.figures["trailer_weight"].value
    return None if weight is None else (value - limit) * weight


def _steps(
    shares: Mapping[str, float | None], filling: Sequence[Setting], limit: float, sign: float
) -> list[tuple[float, list[str]]]:
    """Changes by group towards the extreme: effect [kg] and words, the strongest first."""
    groups: dict[str, tuple[float, list[str]]] = {}
    for setting in filling:
        now = shares.get(setting.key)
        if now is not None and abs(setting.share - now) < SLACK:
            continue
        gain = (setting.top - limit * setting.bottom) * (setting.share - (now or 0.0))
        total, words = groups.get(setting.group, (0.0, []))
        fresh = [] if setting.words in words else [setting.words]
        groups[setting.group] = (total + gain, words + fresh)
    useful = [step for step in groups.values() if sign * step[0] > 0]
    return sorted(useful, key=lambda step: -sign * step[0])
