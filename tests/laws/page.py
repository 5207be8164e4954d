"""The arithmetic of the what-if page in a few lines of Python, by what its script does with its data."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

Shares = Sequence[float | None]
RANKS = ("over", "not checked", "close", "within")


@dataclass(frozen=True, slots=True)
class Asked:
    """A demand [kg or share], what is sure of it, the ends of its interval, and whether something is missing."""

    value: float | None
    sure: float | None
    low: float | None
    high: float | None
    missing: bool
    could: float | None = None
    least: float | None = None


class Sheet:
    """Evaluates the data that a page carries, at one of the rig's own loading cases or at a setting of its controls.

    Args:
        data: the plain JSON values of the what-if part.
        preset: number of the loading case, whose uncertainty the page knows [-]; None for a setting.
    """

    def __init__(self, data: dict[str, Any], preset: int | None) -> None:
        self.data, self.moved = data, preset is None
        own: dict[str, Any] = {} if preset is None else data["presets"][preset]
        self.u: dict[str, float | None] = own.get("u", {})
        self.values: dict[str, float | None] = own.get("values", {})
        self.lost: dict[str, list[str]] = own.get("missing", {})
        self.rivals: dict[str, list[float]] = own.get("rivals", data["rivals"])

    def shares(self, positions: Sequence[float]) -> list[float | None]:
        """What is aboard at a setting of the controls [-]; the rest as in the first case."""
        out: list[float | None] = list(self.data["presets"][0]["shares"])
        found = list(zip(self.data["controls"], positions, strict=True))
        for control, at in found:
            for load in () if control["kind"] == "temperature" else control["loads"]:
                out[load] = at / 100
        for control, at in found:
            for load in control.get("gates", ()) if at == 0 else ():
                out[load] = 0.0
        return out

    def parts(self, name: str, shares: Shares) -> dict[Any, float]:
        """What each uncertain input and each filling in part adds to a total [kg]."""
        form, found = self.data["forms"][name], {}
        for number, (a, b, *rest) in enumerate(form["spread"]):
            slopes = sum(slope * (shares[int(i)] or 0.0) for i, slope in b.items())
            found[rest[0] if rest else f"row {number}"] = a + slopes
        for index, gain, *_ in form["rows"]:
            share, fill = shares[index], self.data["loads"][index]["fill"]
            if fill and share is not None and 0 < share < 1:
                found[f"fill {index}"] = (gain or 0.0) * fill
        return found

    def spread(self, name: str, shares: Shares) -> float | None:
        """Standard uncertainty of a total or of the tongue share [kg or share]."""
        if not self.moved:
            return self.u.get(name)
        if name != "tongue_share":
            form = self.data["forms"][name]
            return math.hypot(*self.parts(name, shares).values()) if form["spread"] is not None else None
        share, whole = self.total(name, shares)[0], self.total("trailer_weight", shares)[0]
        if share is None or not whole:
            return None
        top, bottom = (self.parts(one, shares) for one in ("tongue_weight", "trailer_weight"))
        return math.hypot(
            *((top.get(k, 0.0) - share * bottom.get(k, 0.0)) / whole for k in top.keys() | bottom.keys())
        )

    def rival(self, name: str, shares: Shares) -> tuple[float, float | None]:
        """How far the rig file lies from the scale where they differ, and its standard uncertainty."""
        u = self.spread(name, shares)
        if name == "tongue_share" and self.moved:
            tops = [self.rivals.get(one, [0.0])[0] for one in ("tongue_weight", "trailer_weight")]
            share = self.total(name, shares)[0]
            tongue, whole = (self.total(one, shares)[0] for one in ("tongue_weight", "trailer_weight"))
            if share is None or tongue is None or whole is None:
                return 0.0, u
            own = self.rivals.get("tongue_share", (0.0, u))[1]
            return (tongue + tops[0]) / (whole + tops[1]) - share, own
        shift, spread = self.rivals.get(name, (0.0, u))
        return shift or 0.0, spread

    def total(self, name: str, shares: Shares) -> tuple[float | None, bool]:
        """A total [kg], and whether something is missing."""
        if name in self.values:
            return self.values[name], bool(self.lost.get(name))
        if name == "tongue_share":
            top, bottom = self.total("tongue_weight", shares), self.total("trailer_weight", shares)
            if top[0] is None or not bottom[0]:
                return None, True
            return top[0] / bottom[0], top[1] or bottom[1]
        form = self.data["forms"][name]
        value, missing = form["base"] or 0.0, bool(form["needs"])
        people = [i for i in self.data["people"] if any(row[0] == i for row in form["rows"])]
        missing = missing or (
            bool(people) and all(shares[i] == 0 for i in people) and bool(self.data["nobody"])
        )
        for index, gain, was, needs in form["rows"]:
            full, share = self.data["loads"][index]["full"], shares[index]
            if was is None or share is None:
                missing = missing or (full != 0 and (share is None or bool(needs)))
                continue
            if was == share:
                continue
            if gain is None:
                missing = missing or bool(needs)
            else:
                value += gain * (share - was)
        return (None if missing or form["base"] is None else value), missing

    def largest(self, check: dict[str, Any], shares: Shares, other: bool = False) -> Asked:
        """The largest of the totals of a check [kg]."""
        made = {name: self.total(name, shares) for name in check["of"]}
        known = {name: value for name, (value, _) in made.items() if value is not None}
        missing = bool(check.get("moved", check["needs"]) if self.moved else check["needs"]) or any(
            lost for _, lost in made.values()
        )
        if not known:
            return Asked(None, None, None, None, missing)
        shifts = {n: self.rival(n, shares) if other else (0.0, self.spread(n, shares)) for n in known}
        known = {name: value + shifts[name][0] for name, value in known.items()}
        wide = {name: self.data["coverage"] * (shifts[name][1] or 0.0) for name in known}
        value = max(known.values())
        low, high = (max(known[n] + sign * wide[n] for n in known) for sign in (-1.0, 1.0))
        reach = {name: check.get("open", {}).get(name, 0.0) for name in known}
        sure, least = (max(known[n] + sign * reach[n] for n in known) for sign in (-1.0, 1.0))
        return Asked(value, sure, low, high, missing, value if check.get("open") else None, least)

    def outcome(self, asked: Asked, ends: dict[str, float | None]) -> str:
        """Where a demand lies against the thresholds of its check."""

        def past(value: float | None, above: float | None, below: float | None) -> bool:
            def beyond(a: float, b: float) -> bool:
                return a - b > max(1e-9 * max(abs(a), abs(b)), 1e-12)

            if value is None:
                return False
            return (above is not None and beyond(value, above)) or (
                below is not None and beyond(below, value)
            )

        if asked.value is None or all(end is None for end in ends.values()):
            return "not checked"
        if past(asked.sure, ends["over_above"], None) or past(asked.least, None, ends["over_below"]):
            return "over"
        lift = ends["over_unless_above"]
        if lift is not None and asked.low is not None and not past(asked.low, lift, None):
            return "over"
        if asked.missing or past(asked.could, ends["over_above"], None):
            return "not checked"
        reaches = any(
            past(end, ends["over_above"], ends["over_below"]) or past(end, None, ends["close_unless_above"])
            for end in (asked.low, asked.high)
        )
        near = past(asked.value, ends["close_above"], ends["close_below"])
        near = near or past(asked.could, ends["close_above"], None)
        return "close" if reaches or near else "within"

    def judge(self, check: dict[str, Any], shares: Shares) -> str:
        """Outcome of a check."""
        said = [
            self.outcome(self.largest(check, shares, other), check["thresholds"]) for other in (False, True)
        ]
        return min(said, key=RANKS.index)

    def tire(self, plan: dict[str, Any], shares: Shares) -> str:
        """Outcome of the tires of one place."""
        return min((self._tire(plan, shares, other) for other in (False, True)), key=RANKS.index)

    def _tire(self, plan: dict[str, Any], shares: Shares, other: bool) -> str:
        load = self.largest(plan, shares, other)
        if load.value is None or load.high is None:
            return "over" if plan["unloaded"][2] == "over" else "not checked"
        even, spread = load.value / plan["wheels"], (load.high - load.value) / plan["wheels"]
        side, more, could = plan["share"], plan["allowance"], even
        if plan["sides"]:
            left, right = (self.total(name, shares)[0] for name in plan["sides"])
            if left is not None and right is not None and left + right > 0:
                side = max(side, 2 * max(left, right) / (left + right))
            if left is None or right is None:
                lean, others = self._leaning(plan, shares)
                more = max(more, lean)
                could = even * (1 + lean + others) if others and not plan["every"] else even
        sure = max(plan["weighed"], (even - plan["assumed"] / plan["wheels"]) * side)
        wheel = max(sure, even * side, 0.0 if plan["every"] else even * (1 + more))
        asked = Asked(wheel, sure, sure - spread, max(wheel, sure + spread), load.missing, could)
        outcome = self.outcome(asked, plan["thresholds"])
        step, most = (
            next(s[1:] for s in plan["steps"] if s[0] is None or one <= s[0])
            for one in (wheel, max(wheel, could))
        )
        if "over" in (outcome, step[2]):
            return "over"
        if step[0] == "set" and most[:2] != step[:2]:
            return "not checked"
        if outcome == "not checked":
            return outcome
        if step[1] is None or step[2] == "unknown":
            return {"unknown": "not checked"}.get(step[2], str(step[2]))
        return "close" if (outcome, step[2]) == ("within", "close") else outcome

    def _leaning(self, plan: dict[str, Any], shares: Shares) -> tuple[float, float]:
        """What the loads of known place alone put on one side, over the group, and all else at most."""
        names = plan["lean"]
        group = self.total(names[1], shares)[0] if len(names) == 3 else None
        if not group:
            return 0.0, 0.0
        form = self.data["forms"][names[0]]
        weights = {index: gain for index, gain, *_ in self.data["forms"][names[2]]["rows"]}
        lean: float = form["base"] or 0.0
        others: float = plan["lopsided"]
        for index, gain, was, _ in form["rows"]:
            share = shares[index]
            if was is None or share is None:
                continue
            if gain is None:
                others += abs((weights.get(index) or 0.0) * (share - was))
            else:
                lean += gain * (share - was)
        return abs(lean) / group, others / group
