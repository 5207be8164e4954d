"""Checks of what a scale said: against the rig file, against itself, and against the limits."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.limits.compare import judge
from cardgen.limits.registry import Context, rule, rules
from cardgen.model.advice import in_text
from cardgen.model.figure import COVERAGE
from cardgen.model.results import Basis, Finding, Outcome
from cardgen.model.weighed import WeighingResult

STATICS = "sums of forces and moments; JCGM 100:2008 6.2 (intervals of twice the standard uncertainty)"
OWN = "weighed-limit"


def _visit(result: WeighingResult) -> str:
    return f"on {result.date.isoformat()} in '{in_text(result.case)}'"


@rule(
    "weighing-file",
    "what the scale found against the rig file",
    Basis.PHYSICS,
    STATICS,
    "A weight from the scale and the one computed from the rig file for the same loading case should agree "
    "within their uncertainty. If not, something is aboard that the file does not list, or a weight or place in "
    "it is wrong. 'anchor: true' lets the weighing set the model.",
)
def against_file(context: Context) -> Iterable[Finding]:
    """Compare each weighed figure [SI] with the computed one [SI]; the largest disagreement of a visit speaks."""
    for i, result in enumerate(context.computed.weighings):
        apart = [c for c in result.comparisons if not c.agrees and c.kind == "mass"]
        if not apart:
            continue
        worst = max(apart, key=lambda c: abs(c.difference))
        values = {"measured": (worst.measured, worst.kind), "computed": (worst.computed, worst.kind)}
        words = f"{worst.label} {_visit(result)}: the scale says {{measured}}, the file {{computed}}"
        if result.unexplained is not None and abs(result.unexplained) > COVERAGE * (
            result.u_unexplained or 0.0
        ):
            values["extra"] = (abs(result.unexplained), "mass")
            words += "; {extra} " + (
                "more than the file lists" if result.unexplained > 0 else "less than listed"
            )
            if result.implied_x is not None:
                values["place"] = (result.implied_x, "length")
                words += ", as if {place} behind the coupling"
        words += "; this weighing sets the model" if result.anchors else ""
        yield Finding(
            f"weighing-file-{i + 1}",
            "",
            Outcome.CLOSE,
            worst.kind,
            message=words,
            values=values,
            critical=False,
        )


@rule(
    "weighing-self",
    "two ways from the same scale tickets to one weight",
    Basis.PHYSICS,
    STATICS,
    "Many weights follow from the readings in more than one way. When two ways differ by more than the scale "
    "explains, a reading was misread, or the rig was not the same in all passes.",
)
def against_itself(context: Context) -> Iterable[Finding]:
    """Report ways to the same figure [SI] that do not agree."""
    for i, result in enumerate(context.computed.weighings):
        for one in result.disagreements[:3]:
            values = {"first": (one.first, one.kind), "second": (one.second, one.kind)}
            words = (
                f"{one.label} {_visit(result)}: {{first}} by {one.first_way}, {{second}} by {one.second_way}"
            )
            yield Finding(
                f"weighing-self-{i + 1}-{one.id}", "", Outcome.CLOSE, one.kind,
                message=words, values=values, critical=False,
            )  # fmt: skip


@rule(
    OWN,
    "what the scale found against the limits",
    Basis.MAKER,
    "the limit of the check it repeats; " + STATICS,
    "A weighed figure that is past a limit counts, even when the figure computed from the rig file is not. Only "
    "the newest visit of each loading case is looked at.",
)
def against_limits(context: Context) -> Iterable[Finding]:
    """Repeat each check with the weighed figure [SI] in place of the computed one."""
    newest: dict[str, WeighingResult] = {}
    for result in context.computed.weighings:
        if result.case not in newest or result.date >= newest[result.case].date:
            newest[result.case] = result
    if not newest:
        return
    for one in rules():
        if one.code in (OWN, "weighing-file", "weighing-self"):
            continue
        for finding in one.run(context):
            for result in newest.values():
                yield from _over(finding, finding.title or one.title, finding.source or one.source, result)


def _over(finding: Finding, title: str, source: str, result: WeighingResult) -> Iterable[Finding]:
    figure = result.figures.get(finding.demand_figure)
    if figure is None or figure.value is None or finding.outcome is Outcome.OVER:
        return
    if judge(finding.thresholds, figure.value) is not Outcome.OVER:
        return
    yield Finding(
        f"weighed-{finding.code}",
        f"{title}, as weighed",
        Outcome.OVER,
        finding.kind,
        figure.value,
        finding.capacity,
        finding.low,
        result.case,
        source=f"scale {_visit(result)}; {source}",
        message=f"weighed {_visit(result)}; the rig file alone would not show it",
        critical=finding.critical,
        governed_by=finding.governed_by,
        u=figure.u,
        thresholds=finding.thresholds,
    )
