"""The registry of checks: one rule is one function from a computed rig to findings."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from cardgen.model.results import Basis, Computed, Finding, Need, Outcome
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
        made: what the rules gave so far, by code: one of them looks at all others.
        waiting: findings so far that wait for a vehicle or trailer that is not in the file.
    """

    computed: Computed
    day: dt.date
    made: dict[str, tuple[Finding, ...]] = field(default_factory=dict, compare=False, repr=False)
    waiting: list[Finding] = field(default_factory=list, compare=False, repr=False)

    def found(self, one: Rule) -> tuple[Finding, ...]:
        """Findings of a rule, which runs once; what waits for the half that is not in the file is none."""
        if one.code not in self.made:
            told = [(finding, one.waits(finding, self.rig)) for finding in one.run(self)]
            self.made[one.code] = tuple(finding for finding, waits in told if not waits)
            self.waiting.extend(finding for finding, waits in told if waits)
        return self.made[one.code]

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
        fields: every field it may ask for, with ``[]`` for items and ``<name>`` for free names [-].
        run: the function.
    """

    code: str
    title: str
    basis: Basis
    source: str
    meaning: str
    fields: tuple[str, ...]
    run: Check

    def waits(self, finding: Finding, rig: Rig) -> bool:
        """Whether a finding of this check waits for the vehicle or trailer that the file leaves out.

        A trailer alone is checked as far as its own fields go; of a vehicle alone only what asks for no field of
        a trailer is checked.

        Args:
            finding: what the check found.
            rig: the rig.
        """
        if rig.alone == "vehicle":
            return any(path.startswith("trailer.") for path in self.fields)
        return finding.outcome is Outcome.NOT_CHECKED and rig.lacks(n.path for n in finding.needs)


CONTENTS = (
    "trailer.cargo[].weight", "trailer.batteries[].weight", "trailer.tanks.<name>.capacity", "cases[].tanks.<name>",
    "trailer.cylinders.<name>.size", "trailer.cylinders.<name>.tare", "cases[].cylinders.<name>",
    "trailer.empty.includes.tanks.<name>", "trailer.empty.includes.cylinders.<name>", "trailer.empty.source",
)  # fmt: skip
"""What is in the trailer, and what of it was there when it was weighed empty."""
TRAILER_WEIGHT = ("trailer.empty.weight", *CONTENTS)
"""What the weight of the loaded trailer is made of."""
TONGUE_WEIGHT = (
    "trailer.empty.tongue", *CONTENTS, "trailer.axles.ball_to_center", "trailer.cargo[].x", "trailer.batteries[].x",
    "trailer.tanks.<name>.x", "trailer.cylinders.<name>.x", "trailer.axles.suspension", "trailer.axles.spacing",
)  # fmt: skip
"""What the tongue weight is made of."""
BARS = (
    "vehicle.wheelbase",
    "vehicle.overhang",
    "trailer.axles.ball_to_center",
    "gear.weight_distribution.restoration",
)
"""What tells how much load bars move."""
TRAILER_AXLE = (
    "trailer.empty.weight", *TONGUE_WEIGHT, "trailer.axles.gawr",
    "weighings[].slack.axles", *BARS,
)  # fmt: skip
"""What the load of one axle of the trailer is made of."""
VEHICLE = ("vehicle.curb.weight", "gear.weight", "vehicle.curb.includes.driver")
"""What the vehicle weighs before people, cargo and fuel."""
FUEL = ("vehicle.fuel", "vehicle.fuel.capacity", "cases[].fuel", "vehicle.curb.includes.fuel")
"""What the weight of fuel is made of."""
PAYLOAD = ("occupants", "occupants[].weight", "vehicle.cargo[].weight")
"""People and cargo in the vehicle."""
SEATS = (
    "vehicle.wheelbase", "vehicle.overhang", "vehicle.seats", "vehicle.seats.<name>", "occupants[].seat",
    "vehicle.cargo[].ahead_of_rear_axle", "vehicle.fuel.ahead_of_rear_axle",
)  # fmt: skip
"""Where the loads of the vehicle act."""
FRONT_AXLE = (
    "vehicle.curb.front", "gear.weight", "vehicle.curb.includes.driver", *SEATS, *TONGUE_WEIGHT, *PAYLOAD, *FUEL, *BARS,
)  # fmt: skip
"""What the load of the vehicle's front axle is made of."""
REAR_AXLE = (*VEHICLE, "vehicle.curb.front", *SEATS, *TONGUE_WEIGHT, *PAYLOAD, *FUEL)
"""What the load of the vehicle's rear axle is made of."""

_RULES: dict[str, Rule] = {}


def rule(
    code: str, title: str, basis: Basis, source: str, meaning: str, fields: Iterable[str] = ()
) -> Callable[[Check], Check]:
    """Register a function as the check of a code; a code can be taken once, a field named twice counts once."""

    def keep(run: Check) -> Check:
        if code in _RULES:
            raise ValueError(f"check code '{code}' is taken")
        _RULES[code] = Rule(code, title, basis, source, meaning, tuple(dict.fromkeys(fields)), run)
        return run

    return keep


def rules() -> tuple[Rule, ...]:
    """Return all rules, in the order in which their findings are told; the room registers them as it is loaded."""
    return tuple(_RULES.values())


def rule_of(code: str) -> Rule | None:
    """Return the rule that made a finding: its code [-], or the longest code it starts with."""
    fitting = [known for known in _RULES if code == known or code.startswith(f"{known}-")]
    return _RULES[max(fitting, key=len)] if fitting else None


def unknown(code: str, needs: Iterable[Need], message: str = "", critical: bool = True) -> Finding:
    """Return a finding that says what is missing; a check is never passed for want of data."""
    unique = tuple({n.path: n for n in needs}.values())
    return Finding(code, "", Outcome.NOT_CHECKED, needs=unique, message=message, critical=critical)
