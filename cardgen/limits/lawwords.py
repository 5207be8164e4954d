"""Numbers and words of a rule's conditions, for the sentence that says why it binds or not."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.tables.conditions import Compare, Condition, Every, Some, judge, leaves
from cardgen.tables.facts import FACT_WORDS, Facts, value_of
from cardgen.tables.law import Clause
from cardgen.tables.lookup import holds

KINDS = {
    "gross": "mass",
    "gvwr": "mass",
    "gtm": "mass",
    "trailer_axles": "mass",
    "tow_axles": "mass",
    "tow_gross": "mass",
    "tow_unladen": "mass",
    "tow_gvwr": "mass",
    "tow_gcwr": "mass",
    "tow_gawr": "mass",
    "tow_rating_braked": "mass",
    "registered_gross": "mass",
    "plated_sum": "mass",
    "tongue": "mass",
    "chain_mark": "mass",
    "chain_link": "length",
    "axle_spacing": "length",
    "combination_height": "dimension",
    "chocks": "count",
    "chain_each": "mass",
    "chain_total": "mass",
    "cylinder_largest": "mass",
    "lp_total": "mass",
    "planned_speed": "speed",
    "trailer_width": "dimension",
    "tow_width": "dimension",
    "body_length": "dimension",
    "tire_speed": "speed",
    "chain_count": "count",
    "cylinder_count": "count",
    "braked_axles": "count",
    "axle_count": "count",
}
"""Kind of quantity of each numeric fact; years of age are left out on purpose."""
NOMINAL = ("cylinder_largest", "lp_total", "gvwr", "gtm", "registered_gross", "plated_sum", "tow_gvwr")
"""Sums of nominal sizes, and plated weights, which do not creep up to a threshold."""
HOLDS = {">=": "at or above", ">": "above", "<=": "up to", "<": "below"}
FAILS = {">=": "below", ">": "not above", "<=": "above", "<": "not below"}
CHAINS = ("chain_each", "chain_mark")
"""Of the size that is asked for they leave nothing to watch, unless the loaded trailer is what they must hold."""


def sides(leaf: Compare, facts: Facts) -> tuple[float, float, str] | None:
    """Left and right side of a comparison and their kind [SI]; None when a fact is unknown or has no kind.

    Args:
        leaf: a comparison; a quotient is compared as a fraction [-].
        facts: what is known of the rig.
    """
    left, right = value_of(facts, leaf.quantity), leaf.value
    over = None if leaf.over is None else value_of(facts, leaf.over)
    times = None if leaf.times is None else value_of(facts, leaf.times)
    if (
        left is None
        or leaf.quantity not in KINDS
        or (leaf.over and not over)
        or (leaf.times and times is None)
    ):
        return None
    if leaf.over and over:
        return float(left) / float(over), right, "fraction"
    if leaf.times and times is not None:
        return float(left), right * float(times), KINDS[leaf.quantity]
    return float(left), right, KINDS[leaf.quantity]


def because(rule: Clause, facts: Facts, binds: bool) -> tuple[str, dict[str, tuple[float, str]]]:
    """Say in numbers why a rule binds a rig, or why not.

    Args:
        rule: the rule.
        facts: what is known of the rig [SI].
        binds: whether it binds [-].

    Returns:
        A sentence with places for values, and the values [SI]; both empty without numbers.
    """
    if rule.when is None:
        return "", {}
    parts: list[str] = []
    values: dict[str, tuple[float, str]] = {}
    said = ""
    for leaf in leaves(rule.when):
        if not isinstance(leaf, Compare) or judge(leaf, facts) is not binds:
            continue
        found = sides(leaf, facts)
        if found is None or found[2] == "count":
            continue
        name, limit = f"value{len(values)}", leaf.original.split(f" {leaf.operator} ", 1)[1]
        values[name] = (found[0], found[2])
        words = FACT_WORDS[leaf.quantity]
        if leaf.over:
            words += f" over {FACT_WORDS[leaf.over]}"
        if leaf.times:
            limit = (
                FACT_WORDS[leaf.times]
                if leaf.value == 1.0
                else f"{leaf.value:g} times {FACT_WORDS[leaf.times]}"
            )
        verb = HOLDS[leaf.operator] if binds else FAILS[leaf.operator]
        if said == words:  # of one figure: above the one and up to the other
            del values[name]
            parts.append(f"{verb} {limit}")
            continue
        said = words
        parts.append(f"{words} {{{name}}} is {verb} {limit}")
    return " and ".join(parts), values


def unkept(condition: Condition, facts: Facts) -> str:
    """Name what keeps a condition from holding: of alternatives those that lack the least; empty when nothing does.

    Args:
        condition: what a rule asks.
        facts: what is known of the rig [SI].
    """
    return _unkept(condition, facts)[1]


def _unkept(condition: Condition, facts: Facts) -> tuple[int, str]:
    if judge(condition, facts) is not False:
        return 0, ""
    if isinstance(condition, Every):
        found = [_unkept(part, facts) for part in condition.parts]
        return sum(n for n, _ in found), ", ".join(dict.fromkeys(words for _, words in found if words))
    if isinstance(condition, Some):
        found = [_unkept(part, facts) for part in condition.parts]
        least = min(n for n, _ in found)
        return least, " or ".join(dict.fromkeys(words for n, words in found if n == least))
    over = f" over {FACT_WORDS[condition.over]}" if isinstance(condition, Compare) and condition.over else ""
    return 1, FACT_WORDS[condition.quantity] + over


def figures_of(rule: Clause, facts: Facts) -> tuple[str, float, float] | None:
    """Kind, demand and capacity [SI] of what a rule asks, where that is one comparison.

    Of several comparisons joined by ``all`` the one that fails counts, else the tightest.

    Args:
        rule: the rule.
        facts: what is known of the rig.
    """
    if rule.asks is None:
        return None
    made: list[tuple[float, str, float, float]] = []
    for leaf in _joined(rule.asks):
        found = sides(leaf, facts)
        if found is None or found[2] == "count":
            continue
        left, right, kind = found
        demand, capacity = (left, right) if leaf.operator in ("<", "<=") else (right, left)
        made.append((demand / capacity if capacity else float("inf"), kind, demand, capacity))
    return max(made)[1:] if made else None


def near(condition: Condition, facts: Facts, close: float, alternatives: bool = False) -> bool:
    """Whether a weight or share of weight is within the margin of a printed threshold, on either side [-].

    Args:
        condition: what a rule asks, or when it binds.
        facts: what is known of the rig [SI].
        close: share of the threshold that counts as near [-].
        alternatives: whether comparisons joined by ``any`` count too [-].
    """
    every = (leaf for leaf in leaves(condition) if isinstance(leaf, Compare))
    for leaf in every if alternatives else _joined(condition):
        found = sides(leaf, facts)
        if found is None or found[2] not in ("mass", "fraction"):
            continue
        if leaf.quantity in NOMINAL and leaf.over is None:
            continue
        left, right, _ = found
        tight = not holds(left, "<", right * (1.0 - close)) and not holds(left, ">", right * (1.0 + close))
        if tight and not (leaf.quantity in CHAINS and leaf.times != "gross"):
            return True
    return False


def _joined(condition: Condition) -> Iterator[Compare]:
    """Comparisons that stand alone or are joined by ``all``; alternatives are left out."""
    if isinstance(condition, Compare):
        yield condition
    elif isinstance(condition, Every):
        for part in condition.parts:
            yield from _joined(part)
