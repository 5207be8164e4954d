"""The linear heart: every total of a rig as a base plus a coefficient per load.

``result = base + sum(coefficient_k * full_k * (share_k - state_share_k))``

The coefficients are the sensitivities (kg of result per kg of load). Envelope,
uncertainty and the what-if page read them; there is no second model.

Source: superposition of loads, any statics textbook.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from cardgen.model.results import Need
from cardgen.physics.loads import Aboard, Load


@dataclass(frozen=True, slots=True)
class Linear:
    """One total as a function of what is aboard.

    Args:
        base: value in the stated empty and curb state [kg]; None when unknown.
        coefficients: kg of result per kg of load, in the order of the loads [-];
            None when a place is unknown.
        base_needs: what is missing to know ``base``.
        geometry_needs: what is missing to know the coefficients that are None
            for another reason than the load's own place.
        by_side: whether a load's distance right of the centre line counts, not only its
            distance along the trailer.
    """

    base: float | None
    coefficients: tuple[float | None, ...]
    base_needs: tuple[Need, ...] = ()
    geometry_needs: tuple[Need, ...] = ()
    by_side: bool = False


@dataclass(frozen=True, slots=True)
class Value:
    """A total in one state: its value [kg] or what is missing."""

    value: float | None
    needs: tuple[Need, ...] = ()


def evaluate(total: Linear, loads: Sequence[Load], now: Aboard, state: Aboard) -> Value:
    """Work out a total for what is aboard now.

    Args:
        total: the linear form.
        loads: the loads, in the order of the coefficients (masses [kg]).
        now: shares aboard now [-].
        state: shares aboard when the base held [-].

    Returns:
        The value [kg], or the list of what is missing. A load that is unchanged
        from the state, or whose coefficient is zero, needs no data.

    Source: superposition of loads, see the module.
    """
    needs: dict[str, Need] = {n.path: n for n in total.base_needs}
    value = total.base if total.base is not None else 0.0
    for load, coefficient in zip(loads, total.coefficients, strict=True):
        if coefficient == 0.0:
            continue
        was, share = state.shares.get(load.key), now.shares.get(load.key)
        if was is None or share is None:
            if load.full == 0.0:
                continue
            missing = (*now.needs.get(load.key, ()), *state.needs.get(load.key, ()))
            needs.update({n.path: n for n in missing})
            continue
        if was == share:
            continue
        if load.full is None:
            needs.update({n.path: n for n in load.mass_needs})
        elif coefficient is None:
            needs.update({n.path: n for n in place_needs(total, load)})
        else:
            value += coefficient * load.full * (share - was)
    if needs or total.base is None:
        return Value(None, tuple(needs.values()))
    return Value(value)


def place_needs(total: Linear, load: Load) -> tuple[Need, ...]:
    """Say what is missing to know a coefficient [-] that is None; never nothing.

    Args:
        total: the linear form.
        load: the load whose coefficient is None.

    Source: the model's own fields.
    """
    own = load.side_needs if total.by_side and load.side_needs else load.arm_needs
    found = (*own, *total.geometry_needs)
    return found or (Need(load.path or load.key, f"place of {load.label}"),)


def combine(parts: Sequence[tuple[float | None, Linear]], needs: tuple[Need, ...] = ()) -> Linear:
    """Add linear forms with factors.

    Args:
        parts: (factor [-], form) pairs; a None factor makes what it touches unknown.
        needs: what is missing to know the None factors.

    Source: superposition of loads, see the module.
    """
    size = len(parts[0][1].coefficients)
    base: float | None = 0.0
    coefficients: list[float | None] = [0.0] * size
    base_needs: dict[str, Need] = {}
    geometry: dict[str, Need] = {}
    for factor, form in parts:
        if factor is None:
            base_needs.update({n.path: n for n in needs})
            geometry.update({n.path: n for n in needs})
        base = None if base is None or form.base is None or factor is None else base + factor * form.base
        base_needs.update({n.path: n for n in form.base_needs})
        geometry.update({n.path: n for n in form.geometry_needs})
        for i, c in enumerate(form.coefficients):
            old = coefficients[i]
            if c == 0.0 or old is None:
                continue
            coefficients[i] = None if c is None or factor is None else old + factor * c
    by_side = any(form.by_side for _, form in parts)
    return Linear(base, tuple(coefficients), tuple(base_needs.values()), tuple(geometry.values()), by_side)


def constant(value: float | None, size: int, needs: tuple[Need, ...] = ()) -> Linear:
    """Return a form that no load changes (value [kg], size = number of loads [-]).

    Source: a definition.
    """
    return Linear(value, (0.0,) * size, needs if value is None else ())


def per_load(coefficients: Mapping[str, float | None], loads: Sequence[Load]) -> Linear:
    """Return a form with base zero from coefficients by load key [-]; absent keys count as zero.

    Source: a definition.
    """
    return Linear(0.0, tuple(coefficients.get(load.key, 0.0) for load in loads))
