"""What each load does to the tongue, one by one: for the loading card and the what-if page.

Source: the tongue weight of ``statics``.
"""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.model.results import Need
from cardgen.model.rig import Rig
from cardgen.physics.loads import Aboard, Sort, case_aboard
from cardgen.physics.statics import tongue_weight
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

    Source: the tongue weight of ``statics``.
    """
    model, _ = weigh(rig)
    tongue = tongue_weight(model, model.state)
    made = []
    for i, load in enumerate(model.loads):
        if load.body != "trailer":
            continue
        lever = tongue.levers.get(i)
        known = load.full is not None and lever is not None
        gain = lever * load.full if lever is not None and load.full is not None else None
        needs = (
            ()
            if known
            else tuple({n.path: n for n in (*load.mass_needs, *tongue.unsure.get(i, ()))}.values())
        )
        made.append(Effect(load.key, load.label, load.sort, load.full, gain, load.arm, needs))
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

    Source: the tongue weight of ``statics``.
    """
    model, _ = weigh(rig)
    aboard = case_aboard(rig, rig.cases[case], case)
    fillings = (Aboard({**aboard.shares, key: share}, aboard.needs) for share in shares)
    return tuple(tongue_weight(model, now).value for now in fillings)
