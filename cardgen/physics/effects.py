"""What each load does to the tongue, one by one: for the loading card and the what-if page.

Source: the linear form of the tongue weight, see ``balance``.
"""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.model.results import Need
from cardgen.model.rig import Rig
from cardgen.physics.linear import evaluate
from cardgen.physics.loads import Aboard, Sort, case_aboard
from cardgen.physics.weighing import weigh


@dataclass(frozen=True, slots=True)
class Effect:
    """What one trailer load weighs when full and what it then adds to the tongue.

    Args:
        key, label: the load [-].
        sort: what it is, see ``cardgen.physics.loads`` [-].
        full: mass when full or aboard [kg]; None when unknown.
        tongue: change of tongue weight when full or aboard [kg]; None when unknown.
        arm: distance behind the coupling [m]; None when unknown.
        needs: what is missing.
    """

    key: str
    label: str
    sort: Sort
    full: float | None
    tongue: float | None
    arm: float | None
    needs: tuple[Need, ...]


def effects(rig: Rig) -> tuple[Effect, ...]:
    """List the effect of every load in the trailer, in the order of the file ([kg], [m]).

    Source: the linear form of the tongue weight, see ``balance``.
    """
    model, _ = weigh(rig)
    loads, form = model.loads, model.forms["tongue_weight"]
    made = []
    for load, coefficient in zip(loads, form.coefficients, strict=True):
        if load.body != "trailer":
            continue
        known = load.full is not None and coefficient is not None
        tongue = (
            coefficient * load.full if known and coefficient is not None and load.full is not None else None
        )
        needs = () if known else (*load.mass_needs, *load.arm_needs, *form.geometry_needs)
        made.append(Effect(load.key, load.label, load.sort, load.full, tongue, load.arm, needs))
    return tuple(made)


def tongue_at(rig: Rig, case: int, key: str, shares: tuple[float, ...]) -> tuple[float | None, ...]:
    """Tongue weight while one load goes through some fillings, the rest as in a loading case.

    Args:
        rig: the rig.
        case: number of the loading case, from 0 [-].
        key: the load that changes [-].
        shares: fillings to work out [-].

    Returns:
        Tongue weights [kg] in the order of the shares; None when something is missing.

    Source: the linear form of the tongue weight, see ``balance``.
    """
    model, _ = weigh(rig)
    form, aboard = model.forms["tongue_weight"], case_aboard(rig, rig.cases[case], case)
    out = []
    for share in shares:
        now = Aboard({**aboard.shares, key: share}, aboard.needs)
        out.append(evaluate(form, model.loads, now, model.state).value)
    return tuple(out)


def heaviest_swing(rig: Rig) -> Effect | None:
    """Return the tank whose filling moves the tongue most [kg]; None when there is no known one.

    Source: ``effects``.
    """
    tanks = [e for e in effects(rig) if e.sort in ("fresh", "waste", "liquid") and e.tongue is not None]
    return max(tanks, key=lambda e: abs(e.tongue or 0.0)) if tanks else None
