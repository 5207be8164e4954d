"""Every check on a computed rig, with proposals and the order of its loading cases by sway."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace
from itertools import combinations

from cardgen.limits import legal
from cardgen.limits.registry import Context, rules
from cardgen.limits.remedies import remedies
from cardgen.model.advice import SwayPair
from cardgen.model.results import Assessment, Basis, Computed, Finding, Outcome
from cardgen.physics.allowances import with_more
from cardgen.physics.compute import restricted
from cardgen.physics.sway import compare


def assess(computed: Computed, day: dt.date, *, advise: bool = True) -> Assessment:
    """Run every rule on a computed rig.

    Args:
        computed: figures of the rig (SI inside).
        day: the build date, against which ages are reckoned.
        advise: whether to work out remedies and the order of cases by sway [-].

    Returns:
        The assessment; findings in the order of the rules.
    """
    context = Context(computed, day)
    if laws := legal.allowances(context):
        computed = with_more(computed, laws)
    made = Assessment(computed, findings_of(context), day, unmade=len(context.waiting))
    if not advise:
        return made
    return replace(made, remedies=remedies(made), sway=sway_order(computed, made.findings, day))


def findings_of(context: Context) -> tuple[Finding, ...]:
    """Run every rule and return the findings in the order of the rules (SI inside).

    Args:
        context: the computed rig and the build date.
    """
    return tuple(
        replace(
            finding,
            title=finding.title or one.title,
            source=finding.source or one.source,
            basis=one.basis if finding.basis is Basis.MAKER else finding.basis,
        )
        for one in rules()
        for finding in context.found(one)
    )


def sway_order(computed: Computed, findings: Iterable[Finding], day: dt.date) -> tuple[SwayPair, ...]:
    """Compare the loading cases two by two.

    Args:
        computed: figures of the rig.
        findings: findings over all cases; when none is over, no single case breaks a limit.
        day: the build date.
    """
    known = [case.sway for case in computed.cases if case.sway is not None]
    if len(known) < 2:
        return ()
    over = any(f.outcome is Outcome.OVER and f.critical for f in findings)
    breaks = {one.case: broken(computed, one.case, day) if over else () for one in known}
    return tuple(compare(a, b, breaks) for a, b in combinations(known, 2))


def broken(computed: Computed, case: str, day: dt.date) -> tuple[str, ...]:
    """List the titles of the limits that one loading case breaks by itself [-].

    Args:
        computed: figures of the rig.
        case: name of the case [-].
        day: the build date.
    """
    alone = tuple(c for c in computed.cases if c.name == case)
    view = restricted(replace(computed, cases=alone, envelope={}))
    context = Context(view, day)
    return tuple(
        finding.title or one.title
        for one in rules()
        for finding in context.found(one)
        if finding.outcome is Outcome.OVER and finding.critical
    )
