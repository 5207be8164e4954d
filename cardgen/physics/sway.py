"""Sway: an order of loading cases of one rig, never a speed and never a damping number.

Three exact indicators need no tire data: tongue share, swing inertia of what is
loaded, ``J = sum(m (x - L)^2)``, and the part of the loaded mass that sits behind the
axles. More tongue share, less swing inertia and less mass behind the axles resist
sway better. When they point different ways the answer is "cannot tell".

How far an absolute figure may be trusted was studied before this was written: for
one rig the range of plausible critical speeds runs from below the motorway limit to
none at all, while the order of loadings that differ in one way is robust. So the
order is told and no figure.

Source: directions of the indicators as in published full-scale and model studies
(Darling, Tilley and Gao, Proc IMechE D 223 (2009) 471, abstract; SAE 730688,
abstract); the order is checked in the tests against a linear single-track model.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from cardgen.model.advice import Indicators, SwayPair, Verdict, in_text
from cardgen.model.needs import Need
from cardgen.physics.load_model import LoadModel
from cardgen.physics.loads import Aboard, Load

SHARE_STEP = 0.002
"""Difference of tongue share taken as none [-], a fifth of a percentage point; a project choice."""
MASS_STEP = 0.02
"""Relative difference of swing inertia, and difference of the rear part, taken as none [-];
a project choice."""


def swing_inertia(masses: Sequence[float], arms: Sequence[float], axles: float) -> float:
    """Swing inertia of loads about the axles [kg m2].

    ``sum(m (x - L)^2)``.

    Args:
        masses: loads [kg].
        arms: their distances behind the coupling [m].
        axles: ball to axle group, L [m].

    Raises:
        ValueError: when the two lists differ in length.

    Source: moment of inertia of point masses.
    """
    return sum(m * (x - axles) ** 2 for m, x in zip(masses, arms, strict=True))


def behind_share(masses: Sequence[float], arms: Sequence[float], axles: float) -> float:
    """Part of the loaded mass that sits behind the axles [-]; zero when nothing is loaded.

    Args:
        masses: loads [kg].
        arms: their distances behind the coupling [m].
        axles: ball to axle group [m].

    Source: sum of masses.
    """
    whole = sum(masses)
    rear = sum(m for m, x in zip(masses, arms, strict=True) if x > axles)
    return rear / whole if whole > 0 else 0.0


def indicators(model: LoadModel, case: str, now: Aboard, tongue_share: float | None) -> Indicators:
    """Work out the indicators of one loading case.

    Args:
        model: the load model, for loads (masses [kg], arms [m]) and lengths [m].
        case: its name [-].
        now: what is aboard (shares [-]).
        tongue_share: tongue weight over loaded trailer [-], None when unknown.

    Source: see the module.
    """
    length = model.trailer.length.value
    masses: list[float] = []
    arms: list[float] = []
    needs: list[Need] = []
    known = True
    for load in model.loads:
        share = now.shares.get(load.key)
        if load.body != "trailer" or share == 0.0:
            continue
        needs += _missing(load, share, now)
        known = known and share is not None and load.full is not None and load.arm is not None
        masses.append((share or 0.0) * (load.full or 0.0))
        arms.append(load.arm or 0.0)
    if not known or length is None:
        unique = tuple({n.path: n for n in needs}.values())
        return Indicators(case, tongue_share, None, None, unique)
    behind = behind_share(masses, arms, length)
    return Indicators(case, tongue_share, swing_inertia(masses, arms, length), behind)


def _missing(load: Load, share: float | None, now: Aboard) -> tuple[Need, ...]:
    if share is None:
        return now.needs.get(load.key, ())
    lacking = () if load.full is not None else load.mass_needs
    return (*lacking, *(() if load.arm is not None else load.arm_needs))


def compare(first: Indicators, second: Indicators, breaks: Mapping[str, Sequence[str]]) -> SwayPair:
    """Put two loading cases of one rig in order of resistance to sway, or say that one cannot.

    Args:
        first, second: indicators of the two cases.
        breaks: titles of the limits each case breaks, by case [-]; a case that breaks
            one is never called better.

    Source: see the module.
    """
    values: dict[str, tuple[float, str]] = {}
    votes: list[int] = []
    reasons: list[str] = []
    for vote, reason, numbers in (
        _by_tongue(first, second),
        _by_rear(first, second),
        _by_inertia(first, second),
    ):
        votes.append(vote)
        values.update(numbers)
        if reason:
            reasons.append(reason)
    unknown = None in (
        first.tongue_share, second.tongue_share, first.inertia, second.inertia, first.behind, second.behind
    )  # fmt: skip
    verdict = _verdict(votes, unknown)
    if unknown:
        reasons.append("a weight or a place in one of the cases is missing")
    elif verdict == "cannot tell":
        reasons.append("these effects oppose each other")
    better = {"first": first.case, "second": second.case}.get(verdict)
    if better is not None and breaks.get(better):
        reasons.append(
            f"'{in_text(better)}' breaks a limit ({breaks[better][0]}), so it is not called better"
        )
        verdict = "cannot tell"
    return SwayPair(first.case, second.case, verdict, tuple(reasons), values)


def _verdict(votes: Sequence[int], unknown: bool) -> Verdict:
    if unknown:
        return "cannot tell"
    up, down = any(v > 0 for v in votes), any(v < 0 for v in votes)
    if up and down:
        return "cannot tell"
    return "first" if up else "second" if down else "same"


Reason = tuple[int, str, dict[str, tuple[float, str]]]


def _by_tongue(first: Indicators, second: Indicators) -> Reason:
    if first.tongue_share is None or second.tongue_share is None:
        return 0, "", {}
    more = first.tongue_share - second.tongue_share
    if abs(more) < SHARE_STEP:
        return 0, "", {}
    case = first.case if more > 0 else second.case
    low, high = sorted((first.tongue_share, second.tongue_share))
    values = {"tongue_high": (high, "fraction"), "tongue_low": (low, "fraction")}
    return (
        (1 if more > 0 else -1),
        f"'{in_text(case)}' has more {{on_tongue}}: {{tongue_high}} against {{tongue_low}}",
        values,
    )


def _by_rear(first: Indicators, second: Indicators) -> Reason:
    if first.behind is None or second.behind is None:
        return 0, "", {}
    more = first.behind - second.behind
    if abs(more) < MASS_STEP:
        return 0, "", {}
    case = second.case if more > 0 else first.case
    low, high = sorted((first.behind, second.behind))
    values = {"rear_low": (low, "fraction"), "rear_high": (high, "fraction")}
    words = f"'{in_text(case)}' carries a smaller part of its load behind the axles: {{rear_low}} against {{rear_high}}"
    return (-1 if more > 0 else 1), words, values


def _by_inertia(first: Indicators, second: Indicators) -> Reason:
    if first.inertia is None or second.inertia is None:
        return 0, "", {}
    low, high = sorted((first.inertia, second.inertia))
    if high <= 0 or (high - low) / high < MASS_STEP:
        return 0, "", {}
    case = first.case if first.inertia < second.inertia else second.case
    values = {"inertia_less": (1.0 - low / high, "fraction")}
    words = (
        f"'{in_text(case)}' has its load nearer to the axles: {{inertia_less}} less swing inertia of the load"
    )
    return (1 if first.inertia < second.inertia else -1), words, values
