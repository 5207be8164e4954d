"""Proposals that bring a finding inside its limit, and the order of loading cases by sway."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from cardgen.model.needs import Need

RemedyKind = Literal[
    "weigh", "move", "empty", "fill", "leave", "shift", "less", "mount", "part", "speed", "ease", "short"
]
Verdict = Literal["first", "second", "same", "cannot tell"]


def in_text(name: str) -> str:
    """Make an owner's name safe inside a sentence that has ``{places}`` [-]."""
    return name.replace("{", "(").replace("}", ")")


@dataclass(frozen=True, slots=True)
class Remedy:
    """One proposal, worked out by the linear model and re-checked by the whole engine.

    Args:
        code: code of the finding it is for [-].
        kind: what sort of change it is [-]; ``weigh`` changes nothing but says that a scale
            would decide, ``short`` that no change that was tried helps, and which rating is short.
        text: sentence with ``{name}`` places for ``values`` [-].
        values: numbers for the text, name to (SI value, kind).
        amount: how much is moved, taken out or put in [kg], by which proposals are ordered.
        after: outcome of the finding with the change made [-], empty for ``short``.
        also: codes of other findings that the same change improves [-].
        cases: loading cases the change applies to [-], empty for all.
        left: codes of findings that stay over with the change made [-].
    """

    code: str
    kind: RemedyKind
    text: str
    values: Mapping[str, tuple[float, str]] = field(default_factory=dict)
    amount: float = 0.0
    after: str = ""
    also: tuple[str, ...] = ()
    cases: tuple[str, ...] = ()
    left: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Indicators:
    """What a loading case says about sway.

    Args:
        case: name of the loading case [-].
        tongue_share: tongue weight over loaded trailer [-]; None when unknown.
        inertia: swing inertia of the load about the axles [kg m2]; None when unknown.
        behind: part of the loaded mass behind the axles [-]; None when unknown.
        needs: what is missing.
    """

    case: str
    tongue_share: float | None
    inertia: float | None
    behind: float | None
    needs: tuple[Need, ...] = ()


@dataclass(frozen=True, slots=True)
class SwayPair:
    """Two loading cases of one rig compared by resistance to sway, in order only.

    No speed and no damping number is part of it.

    Args:
        first, second: names of the cases [-].
        verdict: which of the two resists sway better, ``same`` or ``cannot tell``.
        reasons: sentences with ``{name}`` places for ``values`` [-].
        values: numbers for the reasons, name to (SI value, kind).
    """

    first: str
    second: str
    verdict: Verdict
    reasons: tuple[str, ...]
    values: Mapping[str, tuple[float, str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Room:
    """The most that may be added at one place before any check leaves *within*.

    Args:
        key: stable name, for example ``bay.rear bench`` or ``tank.fresh`` [-].
        label: what the place or tank is called [-].
        body: ``trailer`` or ``vehicle`` [-].
        arm: trailer: distance behind the coupling [m]; vehicle: distance ahead of the rear
            axle [m]; None when unknown.
        amount: what may be added [kg], the least of all loading cases; None when it cannot be told.
        code: code of the check that turns first; empty when none does [-].
        behind: whether the place is behind the trailer's axles [-].
        full: whether a tank may be filled to the brim in every case [-].
        helps: codes of checks that are close or over and that more load here improves [-].
        needs: what is missing where ``amount`` is None.
    """

    key: str
    label: str
    body: str
    arm: float | None
    amount: float | None
    code: str = ""
    behind: bool = False
    full: bool = False
    helps: tuple[str, ...] = ()
    needs: tuple[Need, ...] = ()
