"""Order of the owner's loading cases by sway, with what each case breaks taken into account."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace
from itertools import combinations

from cardgen.limits.registry import Context, rules
from cardgen.model.advice import SwayPair
from cardgen.model.results import Computed, Finding, Outcome
from cardgen.physics.compute import restricted
from cardgen.physics.sway import compare


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
        for finding in one.run(context)
        if finding.outcome is Outcome.OVER and finding.critical
    )
