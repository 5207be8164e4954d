"""The arithmetic of the what-if page in a few lines of Python, by what its script does with its data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

Shares = Sequence[float | None]


class Sheet:
    """Evaluates the data that a page carries.

    Args:
        data: the plain JSON values of the what-if part.
    """

    def __init__(self, data: dict[str, Any]) -> None:
        self.data = data

    def total(self, name: str, shares: Shares) -> tuple[float | None, bool]:
        """A total [kg], and whether something is missing."""
        if name == "tongue_share":
            top, bottom = self.total("tongue_weight", shares), self.total("trailer_weight", shares)
            if top[0] is None or not bottom[0]:
                return None, True
            return top[0] / bottom[0], top[1] or bottom[1]
        form = self.data["forms"][name]
        value, missing = form["base"] or 0.0, bool(form["needs"])
        for index, factor, was, needs in form["rows"]:
            full, share = self.data["loads"][index]["full"], shares[index]
            if was is None or share is None:
                missing = missing or (full != 0 and (share is None or bool(needs)))
                continue
            if was == share:
                continue
            if full is None or factor is None:
                missing = missing or bool(needs)
            else:
                value += factor * full * (share - was)
        return (None if missing or form["base"] is None else value), missing

    def largest(self, names: Sequence[str], shares: Shares) -> tuple[float | None, bool]:
        """The largest of some totals [kg], and whether any is missing."""
        made = [self.total(name, shares) for name in names]
        known = [value for value, _ in made if value is not None]
        return max(known, default=None), any(missing for _, missing in made)

    def judge(self, check: dict[str, Any], shares: Shares) -> str:
        """Outcome of a check."""
        value, missing = self.largest(check["of"], shares)
        if value is None:
            return "not checked"
        limit, low, twice = check["limit"], check["low"], 2 * (check["u"] or 0.0)
        if check["band"]:
            above = float("-inf") if limit is None else value - limit
            below = float("-inf") if low is None else low - value
            most = max(above, below)
            width = abs(low if limit is None else limit - low)
            if most > 1e-9:
                return "over"
            if missing:
                return "not checked"
            return "close" if most + twice > 1e-9 or most > -check["close"] * width else "within"
        slack = 1e-9 * max(abs(limit), abs(value))
        if value > limit + slack:
            return "over"
        if missing:
            return "not checked"
        near = value > limit * (1 - check["close"]) + slack or value + twice > limit + slack
        return "close" if near else "within"

    def tire(self, plan: dict[str, Any], shares: Shares) -> str:
        """Outcome of the tires of one place."""
        value, missing = self.largest(plan["of"], shares)
        if value is None or missing:
            return "not checked"
        even, side = value / plan["wheels"], plan["share"]
        if plan["sides"]:
            left, right = (self.total(name, shares)[0] for name in plan["sides"])
            if left is not None and right is not None and left + right > 0:
                side = max(side, 2 * max(left, right) / (left + right))
        sure = max(even, plan["weighed"], even * side)
        wheel = sure if plan["every"] else max(sure, even * (1 + plan["allowance"]))
        if plan["most"] is not None and sure > plan["most"]:
            return "over"
        step = next(s for s in plan["steps"] if s[0] is None or wheel <= s[0])
        if step[2] is None:
            return "over" if step[1] == "conflict" else "not checked"
        return str(step[3])
