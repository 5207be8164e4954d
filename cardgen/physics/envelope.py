"""Exact smallest and largest value of every total over all fillings, and which filling causes it.

Totals are linear in the shares aboard and the groups of ``fillings`` do not depend
on each other, so each end is found group by group. The tongue share is a ratio of
two totals; Dinkelbach's iteration turns it into a few linear problems and ends at
the exact optimum after finitely many steps.

Source: linear programming over a product of simple sets; W. Dinkelbach, On nonlinear
fractional programming, Management Science 13 (1967) 492 (from memory).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from cardgen.model.advice import in_text
from cardgen.model.needs import Need
from cardgen.model.ranges import Range, Setting
from cardgen.physics.fillings import Fillings, Group, best, fillings
from cardgen.physics.load_model import LoadModel
from cardgen.physics.loads import Aboard, Load
from cardgen.physics.number import Number
from cardgen.physics.statics import RATIOS, SUMS, known_state

_ROUNDS = 60
_SMALL = 1e-12
_DERIVED = ("axle_", "front_axle_engaged", "rear_axle_engaged", "trailer_axles_engaged")


@dataclass(frozen=True, slots=True)
class Objective:
    """A total as a constant and a gain per unit of share.

    Args:
        constant: value with every load that can change left out [kg].
        gains: change per unit of share, by load number [kg].
        needs: what is missing.

    Source: ``statics``, written for shares.
    """

    constant: float
    gains: Mapping[int, float]
    needs: tuple[Need, ...] = ()


def envelope(model: LoadModel) -> dict[str, Range]:
    """Work out the reach of every weight of a rig.

    Args:
        model: the load model (masses [kg], arms [m]).

    Returns:
        Ranges [kg] by id of figure, ``tongue_share`` [-] among them; a range whose
        ends are None says what is missing. How a group's load is shared, or what the bars
        move, has a range only when it is known how.

    Source: see the module.
    """
    room, numbers = fillings(model.rig, model.loads), known_state(model)
    aims = {
        name: _objective(number, model.loads, name not in SUMS, model.state, room)
        for name, number in numbers.items()
        if name not in RATIOS and not (name.startswith(_DERIVED) and not number.levers)
    }
    out = {name: _range(name, aim, model.loads, room) for name, aim in aims.items()}
    out["tongue_share"] = _share(aims["tongue_weight"], aims["trailer_weight"], model.loads, room)
    return out


def _objective(
    number: Number, loads: Sequence[Load], relative: bool, state: Aboard, room: Fillings
) -> Objective:
    """Write a weight for shares; what is missing for a load that can change is asked for.

    A weight is relative to the known state, or else what is aboard at all.
    """
    needs: dict[str, Need] = {} if number.base is not None else {n.path: n for n in number.needs}
    constant = number.base or 0.0
    gains: dict[int, float] = {}
    for i in sorted((*number.levers, *number.unsure)):
        load, lever = loads[i], number.levers.get(i)
        if lever == 0.0 or load.full == 0.0:
            continue
        was, fixed = state.shares.get(load.key) if relative else 0.0, room.fixed.get(i)
        if was is not None and fixed == was:
            continue
        if was is None:
            needs.update({n.path: n for n in state.needs.get(load.key, ())})
        if load.full is None:
            needs.update({n.path: n for n in load.mass_needs})
        needs.update({n.path: n for n in number.unsure.get(i, ())})
        if was is None or load.full is None or lever is None:
            continue
        gain = lever * load.full
        constant += gain * ((fixed or 0.0) - was)
        if fixed is None:
            gains[i] = gain
    return Objective(constant, gains, tuple(needs.values()))


def _optimum(gains: Mapping[int, float], groups: Sequence[Group]) -> dict[int, float]:
    shares: dict[int, float] = {}
    for group in groups:
        shares.update(best(group, gains))
    return shares


def _value(aim: Objective, shares: Mapping[int, float]) -> float:
    return aim.constant + sum(gain * shares[i] for i, gain in aim.gains.items())


def _range(name: str, aim: Objective, loads: Sequence[Load], room: Fillings) -> Range:
    if aim.needs:
        return Range(name, "mass", None, None, needs=aim.needs)
    high = _optimum(aim.gains, room.groups)
    low = _optimum({i: -g for i, g in aim.gains.items()}, room.groups)
    none: dict[int, float] = {}
    return Range(
        name,
        "mass",
        _value(aim, low),
        _value(aim, high),
        _settings(low, aim.gains, none, loads, room),
        _settings(high, aim.gains, none, loads, room),
    )


def _share(top: Objective, bottom: Objective, loads: Sequence[Load], room: Fillings) -> Range:
    """Find the ends of ``top / bottom`` [-]; the bottom is a weight and above zero."""
    needs = tuple({n.path: n for n in (*top.needs, *bottom.needs)}.values())
    if needs:
        return Range("tongue_share", "fraction", None, None, needs=needs)
    ends, settings = [], []
    for sign in (-1.0, 1.0):
        found = _ratio(top, bottom, room, sign)
        if found is None:
            return Range("tongue_share", "fraction", None, None)
        value, shares = found
        ends.append(value)
        settings.append(_settings(shares, top.gains, bottom.gains, loads, room))
    return Range("tongue_share", "fraction", ends[0], ends[1], settings[0], settings[1])


def _ratio(
    top: Objective, bottom: Objective, room: Fillings, sign: float
) -> tuple[float, dict[int, float]] | None:
    """Dinkelbach's iteration for the largest (sign +1) or smallest (-1) ratio."""
    loads = set(top.gains) | set(bottom.gains)
    shares = _optimum({i: sign * top.gains.get(i, 0.0) for i in loads}, room.groups)
    least = _value(bottom, _optimum({i: -g for i, g in bottom.gains.items()}, room.groups))
    if least <= 0.0:
        return None
    ratio = _value(top, shares) / _value(bottom, shares)
    for _ in range(_ROUNDS):
        gains = {i: sign * (top.gains.get(i, 0.0) - ratio * bottom.gains.get(i, 0.0)) for i in loads}
        better = _optimum(gains, room.groups)
        found = _value(top, better) / _value(bottom, better)
        if sign * (found - ratio) <= _SMALL:
            break
        ratio, shares = found, better
    return ratio, shares


def _settings(
    shares: Mapping[int, float],
    top: Mapping[int, float],
    bottom: Mapping[int, float],
    loads: Sequence[Load],
    room: Fillings,
) -> tuple[Setting, ...]:
    """List the loads that matter for an end, with their shares."""
    out = []
    for group in room.groups:
        for i in group.members:
            if not top.get(i) and not bottom.get(i):
                continue
            load = loads[i]
            words = in_words(group, load, shares[i], i in group.loose)
            gain = top.get(i, 0.0)
            out.append(Setting(load.key, load.label, shares[i], group.key, words, gain, bottom.get(i, 0.0)))
    return tuple(out)


def in_words(group: Group, load: Load, share: float, loose: bool = False) -> str:
    """Say a load's share in words, for example ``fresh tank full`` [-].

    Args:
        group: the group it belongs to.
        load: the load.
        share: how much of it is aboard [-].
        loose: whether it may stay at home while the rest of its set rides along [-].

    Source: none, wording of this project.
    """
    name = in_text(load.label)
    if group.kind == "all" and group.key.startswith("set.") and not loose:
        return f"cargo set '{in_text(group.key.removeprefix('set.'))}' {'aboard' if share else 'left out'}"
    if load.sort in ("cylinder", "battery", "person", "cargo"):
        return f"{name} {'aboard' if share else 'left out'}"
    if share >= 1.0:
        return f"{name} full"
    if share <= 0.0:
        return f"{name} empty"
    return f"{name} at {100.0 * share:.0f} %"
