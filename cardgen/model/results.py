"""What the computation hands on: figures with provenance, and findings of the checks."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from cardgen.model.advice import Indicators, Remedy, SwayPair
from cardgen.model.equipment import LabelLine, MountOption, PressureStrip, Wiring
from cardgen.model.figure import Figure as Figure
from cardgen.model.figure import Term as Term
from cardgen.model.needs import Need as Need  # handed on: results and needs are read together
from cardgen.model.ranges import Range
from cardgen.model.rig import Rig
from cardgen.model.weighed import WeighingResult
from cardgen.tables.lamps import LampPlan


class Outcome(StrEnum):
    """The four outcomes a check can have."""

    WITHIN = "within"
    CLOSE = "close"
    OVER = "over"
    NOT_CHECKED = "not checked"


RANK = {Outcome.WITHIN: 0, Outcome.CLOSE: 1, Outcome.NOT_CHECKED: 2, Outcome.OVER: 3}
"""How bad an outcome is [-], the worst last."""


class Basis(StrEnum):
    """Where a limit gets its force from."""

    MAKER = "maker rating"
    LAW = "law"
    COMMERCIAL_LAW = "commercial law"
    STANDARD = "voluntary standard"
    GUIDANCE = "guidance"
    PRACTICE = "common practice"
    OWNER = "owner's limit"
    PHYSICS = "plain fit"


@dataclass(frozen=True, slots=True)
class Thresholds:
    """The values at which a check turns close or over [SI]; None where there is no such end.

    Args:
        over_above, over_below: past these the check is over.
        close_above, close_below: past these it is close, because too little is left.
        over_unless_above, close_unless_above: it is over, or close, unless the whole interval lies above.
    """

    over_above: float | None = None
    close_above: float | None = None
    close_below: float | None = None
    over_below: float | None = None
    over_unless_above: float | None = None
    close_unless_above: float | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """Outcome of one check, with all that it was decided from.

    Args:
        code: stable code, for example ``trailer-gross`` [-].
        title: what is checked, in words [-].
        outcome: within, close, over or not checked.
        kind: kind of demand and capacity, which fixes their SI unit [-].
        demand: what the rig asks for [SI], worst of the declared cases.
        capacity: the lowest limit that applies [SI].
        low: lower end of a band [SI], for checks against a band.
        case: name of the loading case that is worst [-].
        basis: where the limit gets its force from.
        source: title, clause and edition, or ``common practice, no source`` [-].
        message: sentence with ``{name}`` places for ``values`` [-].
        values: numbers for the message, name to (SI value, kind).
        needs: what is missing.
        critical: whether an over forbids towing as described.
        governed_by: label of the part whose rating is the lowest [-].
        demand_figure: id of the figure that is the demand [-].
        u: standard uncertainty of the demand [SI], None when unknown.
        can_become: sentence with places for ``values`` that says which filling would
            take the demand past the limit; empty when none does or none is known.
        thresholds: where the check turns close or over [SI].
        interval: least and largest demand that is possible [SI], with expanded uncertainty
            and what is assumed, over all cases; None when unknown.
        sure: the demand without what is only assumed [SI]; None when nothing is assumed.
        figures: ids of all figures that were looked at [-].
    """

    code: str
    title: str
    outcome: Outcome
    kind: str = "mass"
    demand: float | None = None
    capacity: float | None = None
    low: float | None = None
    case: str = ""
    basis: Basis = Basis.MAKER
    source: str = ""
    message: str = ""
    values: Mapping[str, tuple[float, str]] = field(default_factory=dict)
    needs: tuple[Need, ...] = ()
    critical: bool = True
    governed_by: str = ""
    demand_figure: str = ""
    u: float | None = None
    can_become: str = ""
    thresholds: Thresholds = Thresholds()
    interval: tuple[float, float] | None = None
    sure: float | None = None
    figures: tuple[str, ...] = ()

    @property
    def share(self) -> float | None:
        """Demand over capacity [-]; below a band one and what is missing over its low end.

        Rounded far beyond what is printed, so that equal shares stay equal and keep their order.
        """
        if self.demand is None or not self.capacity:
            return None
        if self.low is not None and self.demand < self.low:
            return 1.0 + (self.low - self.demand) / self.low if self.low else None
        return round(self.demand / self.capacity, 12)

    @property
    def used(self) -> float | None:
        """Share of the limit that is used [-]; of a band, how near its nearer end is."""
        if self.low and self.demand and self.low > (self.capacity or 0.0) - self.demand:
            return max(self.share or 0.0, self.low / self.demand)
        return self.share

    @property
    def margin(self) -> float | None:
        """What is left before the limit [SI unit of the kind]; negative when over."""
        if self.demand is None:
            return None
        ends = [] if self.capacity is None else [self.capacity - self.demand]
        ends += [] if self.low is None else [self.demand - self.low]
        return min(ends, default=None)


@dataclass(frozen=True, slots=True)
class CaseResult:
    """Figures of one loading case, by id, how much of each load is aboard [-], and sway."""

    name: str
    figures: Mapping[str, Figure]
    shares: Mapping[str, float | None] = field(default_factory=dict)
    sway: Indicators | None = None


@dataclass(frozen=True, slots=True)
class TirePlan:
    """What one axle's tires have to carry and the cold pressure that follows.

    Args:
        position: ``trailer``, ``front``, ``rear`` or ``spare`` [-].
        status: ``set``, ``overloaded``, ``conflict``, ``unconfirmed`` or ``unknown`` [-].
        pressure: cold pressure to set [Pa gauge], None unless ``status`` is ``set``.
        minimum: lowest published row that carries the load [Pa gauge].
        wheel_load: load of the heavier wheel with the side allowance [kg].
        even_load: load of one wheel when both sides carry the same [kg].
        capacity: load one tire may carry in this use, after any divisor [kg].
        divisor: 1.10 for passenger tires on a trailer, truck, MPV or bus, else 1 [-].
        ceiling: lowest of sidewall, rim and valve limits that are known [Pa gauge].
        reasons: sentences for the report [-].
        needs: what is missing.
        case: loading case that is worst [-].
        sure_load: load of the heavier wheel as far as it is weighed or computed, without the
            assumed side allowance [kg].
        u: standard uncertainty of the wheel load [kg], None when unknown.
        could_load: load of the heavier wheel that places and heights which are not known may bring [kg].
        most_load: the largest of the sure loads with their expanded uncertainties, over all cases [kg].
        as_marked: the pressure as label, table or sidewall print it [-]; empty when none is set.
    """

    position: str
    status: str
    pressure: float | None = None
    minimum: float | None = None
    wheel_load: float | None = None
    even_load: float | None = None
    capacity: float | None = None
    divisor: float = 1.0
    ceiling: float | None = None
    reasons: tuple[str, ...] = ()
    needs: tuple[Need, ...] = ()
    case: str = ""
    sure_load: float | None = None
    u: float | None = None
    could_load: float | None = None
    most_load: float | None = None
    as_marked: str = ""


@dataclass(frozen=True, slots=True)
class Allowance:
    """The largest trailer that one rated part allows.

    Args:
        part: label of the part [-].
        trailer: gross trailer weight it allows [kg]; None when its rating is unknown.
        formula: how it follows from the rating [-].
        path: field path of the rating [-].
    """

    part: str
    trailer: float | None
    formula: str
    path: str


@dataclass(frozen=True, slots=True)
class Computed:
    """Everything physics worked out for one rig."""

    rig: Rig
    cases: tuple[CaseResult, ...]
    figures: Mapping[str, Figure]
    tires: Mapping[str, TirePlan] = field(default_factory=dict)
    allowances: tuple[Allowance, ...] = ()
    strips: Mapping[str, PressureStrip] = field(default_factory=dict)
    mounts: tuple[MountOption, ...] = ()
    wiring: Wiring = field(default_factory=Wiring)
    lamps: LampPlan | None = None
    labels: tuple[LabelLine, ...] = ()
    envelope: Mapping[str, Range] = field(default_factory=dict)
    """Reach of each figure over all fillings, by id."""
    weighings: tuple[WeighingResult, ...] = ()
    """Every visit to the scale, solved, in the order of the file."""

    @property
    def unloaded(self) -> bool:
        """Whether no case has cargo or water in the trailer, and no scale told otherwise."""
        if self.rig.alone == "vehicle" or self.rig.weighings:
            return False
        aboard = [
            c.figures.get(n) for c in self.cases for n in ("cargo_weight", "water_weight", "waste_weight")
        ]
        return all(f is None or f.value == 0.0 for f in aboard)

    def worst(self, figure: str) -> tuple[str, float] | None:
        """Return (case name, value [SI]) of the case where a figure is largest, None if unknown."""
        known = [(c.name, c.figures[figure].value) for c in self.cases if figure in c.figures]
        sure = [(name, value) for name, value in known if value is not None]
        return max(sure, key=lambda pair: pair[1]) if sure else None


@dataclass(frozen=True, slots=True, eq=False)
class Assessment:
    """Computed figures, findings of all checks, and the day they were made for.

    Args:
        computed: all figures of the rig.
        findings: findings of all checks, in the order of the rules.
        day: the build date.
        remedies: for each finding that is close or over, by code, what would bring it in.
        sway: the owner's loading cases compared two by two.
        unmade: checks that wait for a vehicle or trailer that is not in the file [-].
    """

    computed: Computed
    findings: tuple[Finding, ...]
    day: dt.date
    remedies: Mapping[str, tuple[Remedy, ...]] = field(default_factory=dict)
    sway: tuple[SwayPair, ...] = ()
    unmade: int = 0

    @property
    def rig(self) -> Rig:
        """The rig that was assessed."""
        return self.computed.rig

    def outcome(self) -> Outcome:
        """The outcome of the rig as a whole.

        Over when any check is over; otherwise the worst of the checks that forbid towing
        when they fail, an unknown counting as worse than close. Advice and rules that
        could not be looked up are told beside it and do not change it. A vehicle alone tows nothing, so
        nothing of it was checked.
        """
        if any(f.outcome is Outcome.OVER for f in self.findings):
            return Outcome.OVER
        if self.rig.alone == "vehicle":
            return Outcome.NOT_CHECKED
        seen = {f.outcome for f in self.findings if f.critical}
        for worst in (Outcome.NOT_CHECKED, Outcome.CLOSE):
            if worst in seen:
                return worst
        return Outcome.WITHIN
