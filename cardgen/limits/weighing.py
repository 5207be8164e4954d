"""Checks of what a scale said: against the rig file, against itself, and against the limits."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from cardgen.limits.compare import judge, plain
from cardgen.limits.registry import Context, Rule, rule, rules
from cardgen.limits.remedy_aim import Slopes
from cardgen.limits.tires import axle_rating
from cardgen.model.advice import in_text
from cardgen.model.figure import COVERAGE
from cardgen.model.results import Basis, Figure, Finding, Outcome, Thresholds
from cardgen.model.weighed import WeighingResult
from cardgen.physics.needs import need
from cardgen.physics.readings import older
from cardgen.physics.tires import COUNTED, uncounted
from cardgen.physics.ways import newest_of
from cardgen.tables.lookup import holds

STATICS = "sums of forces and moments; JCGM 100:2008 6.2 (intervals of twice the standard uncertainty)"
OWN = "weighed-limit"


def by_day(context: Context) -> list[WeighingResult]:
    """Visits to the scale, the oldest first, whatever order the file has them in."""
    return sorted(context.computed.weighings, key=lambda one: (one.date, one.case))


def _told_since(context: Context, result: WeighingResult) -> set[str]:
    """Figures that a later visit, one that sets numbers, weighed again in the same loading case, by id [-]."""
    visits = by_day(context)
    later = visits[next(i for i, one in enumerate(visits) if one is result) + 1 :]
    sets = _setting(context)
    return {
        n for one in later for n in one.figures if one.case == result.case and any(one is x for x in sets)
    }


def _setting(context: Context) -> list[WeighingResult]:
    """Visits whose readings set numbers: wanted, at one with themselves and after the last change."""
    made = context.computed.weighings  # none where a proposal is tried on known ground
    both = zip(made, context.rig.weighings[: len(made)], strict=True)
    return [
        one
        for one, stated in both
        if stated.anchor and not one.disagreements and not older(context.rig, one.date)
    ]


def _visit(result: WeighingResult) -> str:
    return f"on {result.date.isoformat()} in '{in_text(result.case)}'"


@rule(
    "weighing-file",
    "what the scale found against the rig file",
    Basis.PHYSICS,
    STATICS,
    "A weight from the scale and the one computed from the rig file for the same loading case should agree "
    "within their uncertainty; the newest reading speaks. If not, something is aboard that the file does not "
    "list, or a weight or place in it is wrong. Until file or ticket is mended the worse of the two counts for each limit.",
)
def against_file(context: Context) -> Iterable[Finding]:
    """Compare each weighed figure [SI] with the computed one [SI]; the largest disagreement of a visit speaks."""
    for i, result in enumerate(by_day(context)):
        since = _told_since(context, result)
        apart = [c for c in result.comparisons if not c.agrees and c.kind == "mass" and c.id not in since]
        if not apart:
            continue
        worst = max(apart, key=lambda c: abs(c.difference))
        values = {"measured": (worst.measured, worst.kind), "computed": (worst.computed, worst.kind)}
        words = f"{worst.label} {_visit(result)}: the scale says {{measured}}, the file {{computed}}"
        extra = None if "trailer_weight" in since else result.unexplained
        if extra is not None and abs(extra) > COVERAGE * (result.u_unexplained or 0.0):
            values["extra"], more = (abs(extra), "mass"), extra > 0
            words += f"; the trailer is {{extra}} {'heavier' if more else 'lighter'} than the file says"
            if result.implied_x is not None:
                values["place"] = (result.implied_x, "dimension")
                words += f", as if that {'sat' if more else 'were missing'} {{place}} behind the coupling"
        words += "; until that is cleared the worse of the two counts" if result.anchors else ""
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
    "two ways from the same {scale_ticket} to one weight",
    Basis.PHYSICS,
    STATICS,
    "Many weights follow from the readings in more than one way. When two ways differ by more than the scale "
    "explains, a reading was misread, or the rig was not the same in all passes.",
)
def against_itself(context: Context) -> Iterable[Finding]:
    """Report ways to the same figure [SI] that do not agree."""
    for i, result in enumerate(by_day(context)):
        told = {one.id: one for one in reversed(result.disagreements)}
        for one in list(reversed(told.values()))[:3]:
            values = {"first": (one.first, one.kind), "second": (one.second, one.kind)}
            words = (
                f"{one.label} {_visit(result)}: {{first}} by {one.first_way}, {{second}} by {one.second_way}; "
                "the ticket contradicts itself and clears nothing"
            )
            yield Finding(
                f"weighing-self-{i + 1}-{one.id}", "", Outcome.CLOSE, one.kind,
                message=words, values=values,
            )  # fmt: skip


@rule(
    "weighing-old",
    "weighing before the last change of equipment",
    Basis.PHYSICS,
    STATICS,
    "What was weighed before equipment changed was another rig: it clears nothing any more. A figure that it "
    "found past a limit stays past it until that figure is weighed again.",
)
def before_a_change(context: Context) -> Iterable[Finding]:
    """Tell of weighings [day] that are older than the newest change of equipment [day]."""
    since = {name for one in _setting(context) for name in one.figures}
    for i, result in enumerate(by_day(context)):
        if older(context.rig, result.date) and not result.figures.keys() <= since:
            left = "what was not weighed since is computed" if since else "the numbers are computed"
            words = f"weighed {_visit(result)}, before equipment was changed: {left}; weigh again"
            yield plain(f"weighing-old-{i + 1}", Outcome.CLOSE, words, critical=False)


@rule(
    OWN,
    "what the scale found against the limits",
    Basis.MAKER,
    "the limit of the check it repeats; " + STATICS,
    "A weighed figure that is past a limit counts, whichever figure is worst as computed: every axle, wheel and "
    "sum of every visit by itself. Only a newer reading of the same figure in the same loading case takes its place.",
)
def against_limits(context: Context) -> Iterable[Finding]:
    """Hold every weighed figure [SI] against every limit on it, the newest of its loading case."""
    newest: dict[tuple[str, str], WeighingResult] = {}
    for result in by_day(context):
        for name in result.figures:
            old = newest.get((result.case, name))
            if newest_of(name, result.ways, old.ways if old else {}):
                newest[result.case, name] = result
    if not newest:
        return
    for one in rules():
        if one.code == OWN or one.code.startswith("weighing-"):
            continue
        for finding in context.found(one):
            yield from _repeated(context, one, finding, newest)


_ALSO = {
    "vehicle_front_axle": ("front_alone", "front_axle_engaged"),
    "vehicle_rear_axle": ("rear_alone", "rear_axle_engaged"),
    "vehicle_weight": ("vehicle_alone", "vehicle_weight_engaged"),
    "trailer_axle_load": ("trailer_axles_engaged",),
    "trailer_weight": ("trailer_axle_load",),
}
"""Further weighed figures on which an upper limit of a figure bears as well, by id [-]."""


def _repeated(
    context: Context, one: Rule, finding: Finding, newest: Mapping[tuple[str, str], WeighingResult]
) -> Iterable[Finding]:
    """Repeat a check for whatever weighed figures it bears on; the one furthest past the limit speaks."""
    if finding.outcome is Outcome.OVER or finding.thresholds == Thresholds():
        return
    names = {name: 1.0 for name in (*finding.figures, finding.demand_figure) if name}
    if finding.code.startswith("tire-load-"):
        names = _tires_of(context, finding.code.removeprefix("tire-load-"), names, newest)
    else:
        names |= {more: 1.0 for name in list(names) for more in _ALSO.get(name, ())}
        names |= {f"{name}_engaged": 1.0 for name in list(names) if re.fullmatch(r"axle_\d+", name)}
    found = []
    for (_, name), result in newest.items():
        if name not in names:
            continue
        limits = finding.thresholds
        if name not in (*finding.figures, finding.demand_figure):
            limits = replace(limits, over_below=None, close_below=None)
        for figure in _read(result, name):
            share = None if figure.value is None else figure.value / names[name]
            if share is not None and judge(limits, share) is Outcome.OVER:
                titled = replace(
                    finding, title=finding.title or one.title, source=finding.source or one.source
                )
                past = _found(titled, result, replace(figure, value=share))
                place = finding.code.removeprefix("tire-load-")
                four = place in COUNTED and uncounted(context.rig, place, share)
                could = four and holds(share / 2.0, "<=", finding.capacity or 0.0)
                found.append(_by_four(past, COUNTED[place]) if could else past)
    if found:
        yield min(found, key=lambda one: one.margin or 0.0)


def _by_four(finding: Finding, count: str) -> Finding:
    """What two tires cannot carry as weighed and four could is asked about, not forbidden."""
    words = "two tires cannot carry what was weighed, four could: say how many the axle has"
    return replace(finding, outcome=Outcome.NOT_CHECKED, message=words, needs=(need(count),))


def _read(result: WeighingResult, name: str) -> Iterable[Figure]:
    """The surest way to a figure, and every other that only adds up readings of this very figure."""
    best, *others = result.ways[name]
    lever = name in ("tongue_weight", "trailer_weight")
    plain = ("trailer alone", "reading under the {coupler}")
    return (best, *(one for one in others if not lever or one.formula in plain))


def _tires_of(
    context: Context,
    position: str,
    axles: Iterable[str],
    newest: Mapping[tuple[str, str], WeighingResult],
) -> dict[str, float]:
    """Weighed figures that load the tires of a position, and on how many tires each rests [-]."""
    count = axle_rating(context, position)[1]
    names = dict.fromkeys(axles, float(count))
    if position == "trailer":
        names |= {name: count / 2.0 for _, name in newest if name.startswith("wheel_")}
    return names


def _found(finding: Finding, result: WeighingResult, figure: Figure) -> Finding:
    """Say that a weighed figure is past a limit."""
    return replace(
        finding,
        code=f"weighed-{finding.code}",
        title=f"{finding.title}, as weighed",
        outcome=Outcome.OVER,
        critical=finding.critical or finding.outcome is Outcome.NOT_CHECKED,
        demand=figure.value,
        case=result.case,
        source=f"scale {_visit(result)}; {finding.source}",
        message=f"{figure.label}, weighed {_visit(result)}",
        values={},
        needs=(),
        u=figure.u,
        can_become="",
        interval=None,
        sure=None,
        demand_figure=figure.id,
        figures=(),
    )


def adds(finding: Finding, slopes: Mapping[str, Slopes], body: str, arm: float | None) -> bool:
    """Whether more at a place moves a weighed figure further past its limit; where nobody can tell, it does.

    Args:
        finding: a weighed figure that is past a limit.
        slopes: what each total answers to a load [kg/kg].
        body: where it is put, ``trailer`` or ``vehicle`` [-].
        arm: the place in it [m]; None where it is not known.
    """
    name, weight = finding.demand_figure, slopes.get("trailer_weight")
    base = next((one for one, more in _ALSO.items() if name in more), name.removesuffix("_engaged"))
    share = name == "tongue_share"
    slope = slopes.get("tongue_weight") if share else slopes.get(name) or slopes.get(base)
    if slope is None or arm is None or weight is None or finding.demand is None:
        return True
    step = slope.at(body, arm) - (finding.demand * weight.at(body, arm) if share else 0.0)
    low = finding.thresholds.over_below
    return step < -1e-9 if low is not None and finding.demand < low else step > 1e-9
