"""The registry of checks: one rule is one function from a computed rig to findings."""

from __future__ import annotations

import datetime as dt
import importlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cache

from cardgen.model.results import Assessment, Basis, Computed, Finding, Need, Outcome
from cardgen.model.rig import Rig

DEFAULT_CLOSE = 0.05
"""Share of a limit under which the margin left is called close [-];
a project choice, no source; the rig file can set its own (``limits.close``)."""


@dataclass(frozen=True, slots=True)
class Context:
    """What a rule may look at.

    Args:
        computed: all figures of the rig.
        day: the build date, for ages; never taken from a clock here.
    """

    computed: Computed
    day: dt.date

    @property
    def rig(self) -> Rig:
        """The rig."""
        return self.computed.rig

    @property
    def close(self) -> float:
        """Share of a limit under which the margin is close [-]."""
        stated = self.rig.limits.close
        return DEFAULT_CLOSE if stated is None else stated.si


Check = Callable[[Context], Iterable[Finding]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One check.

    Args:
        code: stable code; a rule for several axles adds a number to it [-].
        title: what is checked [-].
        basis: where the limit gets its force from.
        source: title, clause and edition, or ``common practice, no source`` [-].
        meaning: a paragraph for ``cardgen explain`` [-].
        run: the function.
    """

    code: str
    title: str
    basis: Basis
    source: str
    meaning: str
    run: Check


_RULES: dict[str, Rule] = {}


def rule(code: str, title: str, basis: Basis, source: str, meaning: str) -> Callable[[Check], Check]:
    """Register a function as the check of a code; a code can be taken once."""

    def keep(run: Check) -> Check:
        if code in _RULES:
            raise ValueError(f"check code '{code}' is taken")
        _RULES[code] = Rule(code, title, basis, source, meaning, run)
        return run

    return keep


MODULES = (
    "trailer", "vehicle", "coupling", "fit", "own", "tires", "tire_marks", "brakes", "equipment", "labels",
    "legal", "weighing",
)  # fmt: skip
"""Modules that hold the rules, in the order in which their findings are told."""


@cache
def rules() -> tuple[Rule, ...]:
    """Return all rules: by module in a fixed order, then as they stand in the module."""
    for name in MODULES:
        importlib.import_module(f"cardgen.limits.{name}")
    order = {f"cardgen.limits.{name}": place for place, name in enumerate(MODULES)}
    return tuple(sorted(_RULES.values(), key=lambda one: order[one.run.__module__]))


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
        for finding in one.run(context)
    )


def assess(computed: Computed, day: dt.date, *, advise: bool = True) -> Assessment:
    """Run every rule on a computed rig.

    Args:
        computed: figures of the rig (SI inside).
        day: the build date, against which ages are reckoned.
        advise: whether to work out remedies and the order of cases by sway [-].

    Returns:
        The assessment; findings in the order of the rules.
    """
    from cardgen.limits.remedies import remedies
    from cardgen.limits.sway_order import sway_order

    made = Assessment(computed, findings_of(Context(computed, day)), day)
    if not advise:
        return made
    return replace(made, remedies=remedies(made), sway=sway_order(computed, made.findings, day))


def unknown(code: str, needs: Iterable[Need], message: str = "", critical: bool = True) -> Finding:
    """Return a finding that says what is missing; a check is never passed for want of data."""
    unique = tuple({n.path: n for n in needs}.values())
    return Finding(code, "", Outcome.NOT_CHECKED, needs=unique, message=message, critical=critical)
