"""Proposals that bring a finding inside its limit, each re-checked by the whole engine.

A proposal stands only when the changed rig, computed and assessed anew, improves the
finding and makes no other finding worse. Two changes together are tried where one does not do.
When none of what is tried helps, the rating that is short is named with the amount.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from cardgen.limits.compare import MOVE, TOO_CLOSE
from cardgen.limits.registry import Context, rules
from cardgen.limits.remedy_aim import aim_for, guards, more
from cardgen.limits.remedy_change import Idea, steps_of
from cardgen.limits.remedy_ideas import Bench, ideas, listed, pairs
from cardgen.model.advice import Remedy
from cardgen.model.figure import COVERAGE
from cardgen.model.results import RANK, Assessment, CaseResult, Finding, Outcome
from cardgen.model.rig import Rig
from cardgen.model.written import units_of
from cardgen.physics.compute import NONE, compute
from cardgen.physics.load_model import LoadModel
from cardgen.physics.weighing import weigh
from cardgen.units import in_us

MOST = 5
"""Proposals per finding at most [-]."""
TRIES = 10
"""Candidates per finding that are re-checked at most [-], so that the answer stays quick."""
PAIRS = 4
"""Candidates of two steps per finding that are re-checked at most [-]."""
SPARE = 1.15
"""What a pair of steps moves in a second try [-]: what is moved is not known exactly, so that just enough is too close."""
SAME_KIND = 2
"""Proposals of one kind per finding at most [-], so that the list offers a choice."""
_SLACK = 1e-9


@dataclass(slots=True)
class _Engine:
    """Re-checks changed rigs and remembers what came out."""

    assessment: Assessment
    ground: LoadModel
    seen: dict[str, dict[str, Finding] | None] = field(default_factory=dict)
    tried: dict[str, Idea] = field(default_factory=dict)

    def after(self, idea: Idea) -> dict[str, Finding] | None:
        """Findings of the changed rig by code; None when it makes another finding worse."""
        if idea.key not in self.seen:
            before = {f.code: f for f in self.assessment.findings}
            kept = {} if not idea.cases else self._kept(idea.cases)
            after = recheck(idea.change(self.assessment.rig), self.assessment, self.ground, kept)
            worse = any(_worse(before.get(code), finding) for code, finding in after.items())
            self.seen[idea.key], self.tried[idea.key] = None if worse else after, idea
        return self.seen[idea.key]

    def _kept(self, touched: Sequence[str]) -> dict[str, CaseResult]:
        return {c.name: c for c in self.assessment.computed.cases if c.name not in touched}


def recheck(
    rig: Rig, assessment: Assessment, ground: LoadModel, kept: Mapping[str, CaseResult] = NONE
) -> dict[str, Finding]:
    """Compute and assess a changed rig; findings by code.

    Args:
        rig: the changed rig.
        assessment: the assessment before the change.
        ground: the model before the change, whose weights are kept (masses [kg]).
        kept: results of loading cases that the change does not touch, by name (SI).
    """
    context = Context(compute(rig, deep=False, ground=ground, kept=kept), assessment.day)
    return {finding.code: finding for one in rules() for finding in context.found(one)}


def _worse(before: Finding | None, after: Finding) -> bool:
    if before is None:
        return after.outcome is not Outcome.WITHIN
    if RANK[after.outcome] != RANK[before.outcome]:
        return RANK[after.outcome] > RANK[before.outcome]
    if after.outcome is not Outcome.OVER or after.margin is None or before.margin is None:
        return False
    return after.margin < before.margin - _SLACK * max(abs(after.margin), abs(before.margin))


def remedies(assessment: Assessment) -> dict[str, tuple[Remedy, ...]]:
    """Work out proposals for every finding that is close or over, by code, the smallest first.

    Args:
        assessment: the assessment, without advice.
    """
    troubled = [f for f in assessment.findings if f.outcome in (Outcome.CLOSE, Outcome.OVER)]
    if not troubled:
        return {}
    rig = assessment.rig
    ground, _ = weigh(rig)
    loads = {load.key: load for load in ground.loads}
    steps, kept = steps_of(rig, loads), guards(assessment)
    bench = Bench(assessment, ground, not in_us("mass", units_of(rig)), loads, steps, kept)
    engine = _Engine(assessment, ground)
    proposed = {f.code: _for(bench, engine, f) for f in troubled}
    for finding in troubled:
        some = proposed[finding.code]
        if all(one.kind in ("weigh", "short") for one in some):
            proposed[finding.code] = _of_others(bench, engine, finding, some)
    return {code: some for code, some in proposed.items() if some}


def _for(bench: Bench, engine: _Engine, finding: Finding) -> tuple[Remedy, ...]:
    aim = aim_for(bench.assessment, finding)
    out: list[Remedy] = []
    if TOO_CLOSE in finding.message and finding.u:
        values = {"u": (COVERAGE * finding.u, finding.kind)}
        out.append(Remedy(finding.code, "weigh", "weigh it: the figure is known to +/- {u} only", values))
    said = set[str]()
    proposals = _tried(bench, engine, finding, ideas(bench, finding, aim), MOST - len(out), said)
    if finding.outcome is Outcome.OVER or MOVE in finding.message:
        bare = aim_for(bench.assessment, finding, clear=False)
        room = MOST - len(out) - len(proposals)
        proposals += _tried(bench, engine, finding, ideas(bench, finding, bare), room, said)
        for one in (aim, bare, more(aim, SPARE)):
            room = MOST - len(out) - len(proposals)
            if one is not None and all(remedy.kind == "less" for remedy in proposals):
                proposals += _tried(bench, engine, finding, pairs(bench, one)[:PAIRS], room, said)
    out += sorted(proposals, key=lambda remedy: remedy.amount)
    return tuple(out) if proposals else (*out, *_short(finding, aim is not None))


def _of_others(
    bench: Bench, engine: _Engine, finding: Finding, some: tuple[Remedy, ...]
) -> tuple[Remedy, ...]:
    """What was tried for other findings and betters this one as well, where nothing was found for it alone."""
    good = [
        idea
        for idea in sorted(engine.tried.values(), key=lambda one: one.amount)
        if _better(finding, (engine.seen[idea.key] or {}).get(finding.code))
    ]
    found = _tried(bench, engine, finding, good, MOST - 1, set())
    return (*(one for one in some if one.kind == "weigh"), *found) if found else some


def _tried(
    bench: Bench, engine: _Engine, finding: Finding, candidates: Sequence[Idea], room: int, said: set[str]
) -> list[Remedy]:
    """Re-check candidates in turn and keep those that hold and are not said yet."""
    kinds: dict[str, int] = {}
    out: list[Remedy] = []
    for idea in candidates[:TRIES]:
        if len(out) >= room:
            break
        if kinds.get(idea.kind, 0) >= SAME_KIND or idea.text in said:
            continue
        after = engine.after(idea)
        if after is None or not _better(finding, after.get(finding.code)):
            continue
        kinds[idea.kind] = kinds.get(idea.kind, 0) + 1
        said.add(idea.text)
        out.append(_remedy(bench, finding, idea, after))
    return out


def _better(before: Finding, after: Finding | None) -> bool:
    """Whether a finding came out better."""
    return after is not None and RANK[after.outcome] < RANK[before.outcome]


def _remedy(bench: Bench, finding: Finding, idea: Idea, after: Mapping[str, Finding]) -> Remedy:
    names = [case.name for case in bench.assessment.computed.cases]
    some = idea.cases if 0 < len(idea.cases) < len(names) else ()
    text = f"{idea.text}, in {listed(some)}" if some else idea.text
    also = tuple(
        f.code
        for f in bench.assessment.findings
        if f.code != finding.code
        and f.outcome in (Outcome.CLOSE, Outcome.OVER)
        and _better(f, after.get(f.code))
    )
    outcome = after[finding.code].outcome.value
    left = tuple(code for code, f in after.items() if f.outcome is Outcome.OVER and f.critical)
    return Remedy(finding.code, idea.kind, text, idea.values, idea.amount, outcome, also, some, left)


def _short(finding: Finding, loads: bool) -> list[Remedy]:
    """Say which rating is short and by how much."""
    if finding.demand is None or finding.capacity is None:
        return []
    rating = finding.governed_by or finding.title
    if finding.outcome is Outcome.OVER or MOVE in finding.message:
        missing = -(finding.margin or 0.0)
        low = finding.low is not None and finding.demand < finding.low
        text = f"{'put {short} on' if low else 'take {short} off'} what was weighed, then weigh it again ({finding.title})"
        if not finding.code.startswith("weighed-"):
            text = f"no change tried here brings it in: {{short}} short ({rating})"
    else:
        if finding.low is not None or not loads:
            return []
        missing = max(
            finding.demand - (finding.thresholds.close_above or finding.capacity),
            finding.demand + COVERAGE * (finding.u or 0.0) - finding.capacity,
        )
        text = f"no change tried here gives more room: {{short}} short of a clear margin ({rating})"
    if missing <= 0:
        return []
    return [Remedy(finding.code, "short", text, {"short": (missing, finding.kind)})]
