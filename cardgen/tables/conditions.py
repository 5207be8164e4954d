"""Conditions of rules: comparisons joined by all and any, with a third answer, cannot tell."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from cardgen.tables.exact import si
from cardgen.tables.facts import Facts, fact_names, value_of
from cardgen.tables.lookup import NotInTableError, holds

_COMPARE = re.compile(r"(\w+)(?: / (\w+))? (<=|>=|<|>) (.+)")
_AFTER = re.compile(r"(\w+) after (\d{4})")
_MEMBER = re.compile(r"(\w+) (is|in) (.+)")
_TIMES = re.compile(r"([\d.]+) x (\w+)")


@dataclass(frozen=True, slots=True)
class Compare:
    """A figure of the rig against a printed value.

    Args:
        quantity: fact on the left [-].
        over: fact it is divided by, None for none [-].
        operator: ``<``, ``<=``, ``>`` or ``>=`` [-].
        value: printed value [SI], or the factor of ``times`` [-].
        times: fact the value is multiplied by, None for none [-].
        original: the comparison as the data file states it [-].

    Source: the rule it belongs to.
    """

    quantity: str
    over: str | None
    operator: str
    value: float
    times: str | None
    original: str


@dataclass(frozen=True, slots=True)
class Member:
    """A word or flag of the rig among accepted ones.

    Args:
        quantity: fact [-].
        among: accepted values [-].
        original: as the data file states it [-].

    Source: the rule it belongs to.
    """

    quantity: str
    among: tuple[str | bool, ...]
    original: str


@dataclass(frozen=True, slots=True)
class After:
    """A year after a day within another year, which itself cannot tell.

    Args:
        quantity: fact, a year [-].
        year: the year of the day [-].
        original: as the data file states it [-].

    Source: the rule it belongs to.
    """

    quantity: str
    year: int
    original: str


@dataclass(frozen=True, slots=True)
class Every:
    """All parts must hold [-]. Source: the rule it belongs to."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class Some:
    """At least one part must hold [-]. Source: the rule it belongs to."""

    parts: tuple[Condition, ...]


Condition = Compare | Member | After | Every | Some


def parse(node: Any) -> Condition:
    """Read a condition of a data file.

    Args:
        node: text such as ``gross / tow_gross > 40 %`` or ``brakes in surge, electric``,
            or a mapping ``all:`` or ``any:`` with a list [-].

    Returns:
        The condition, values [SI].

    Raises:
        NotInTableError: it cannot be read, or names an unknown fact.

    Source: the rule it belongs to.
    """
    if isinstance(node, dict):
        if list(node) == ["all"]:
            return Every(tuple(parse(part) for part in node["all"]))
        if list(node) == ["any"]:
            return Some(tuple(parse(part) for part in node["any"]))
        raise NotInTableError(f"a condition has one key, all or any, not {list(node)}")
    made = _leaf(str(node))
    for name in facts_of(made):
        if name not in fact_names():
            raise NotInTableError(f"no fact '{name}' in condition '{node}'")
    return made


def _leaf(text: str) -> Condition:
    if found := _COMPARE.fullmatch(text):
        left, over, operator, right = found.groups()
        if scaled := _TIMES.fullmatch(right):
            return Compare(left, over, operator, float(scaled[1]), scaled[2], text)
        return Compare(left, over, operator, si(right), None, text)
    if found := _AFTER.fullmatch(text):
        return After(found[1], int(found[2]), text)
    if found := _MEMBER.fullmatch(text):
        words = [w.strip() for w in found[3].split(",")]
        among = tuple({"true": True, "false": False}.get(w, w) for w in words)
        return Member(found[1], among, text)
    raise NotInTableError(f"cannot read condition '{text}'")


def leaves(condition: Condition) -> Iterator[Compare | Member | After]:
    """Walk the comparisons of a condition, in the order of the file.

    Args:
        condition: any condition.

    Returns:
        Its leaves, values [SI].

    Source: the rule it belongs to.
    """
    if isinstance(condition, (Every, Some)):
        for part in condition.parts:
            yield from leaves(part)
    else:
        yield condition


def facts_of(condition: Condition) -> tuple[str, ...]:
    """Names of the facts a condition asks for, each once [-].

    Args:
        condition: any condition.

    Source: the rule it belongs to.
    """
    names: dict[str, None] = {}
    for leaf in leaves(condition):
        names[leaf.quantity] = None
        if isinstance(leaf, Compare):
            names.update((n, None) for n in (leaf.over, leaf.times) if n)
    return tuple(names)


def judge(condition: Condition, facts: Facts) -> bool | None:
    """Say whether a condition holds.

    Args:
        condition: any condition.
        facts: what is known of the rig [SI].

    Returns:
        True, False [-], or None when a missing fact decides.

    Source: the rule it belongs to.
    """
    if isinstance(condition, Every):
        answers = [judge(part, facts) for part in condition.parts]
        return False if False in answers else None if None in answers else True
    if isinstance(condition, Some):
        answers = [judge(part, facts) for part in condition.parts]
        return True if True in answers else None if None in answers else False
    if isinstance(condition, Member):
        found = value_of(facts, condition.quantity)
        return None if found is None else found in condition.among
    if isinstance(condition, After):
        year = value_of(facts, condition.quantity)
        return None if year is None or float(year) == condition.year else float(year) > condition.year
    return _compare(condition, facts)


def _compare(condition: Compare, facts: Facts) -> bool | None:
    left, right = value_of(facts, condition.quantity), condition.value
    if left is None:
        return None
    for name in (condition.over, condition.times):
        if name is None:
            continue
        found = value_of(facts, name)
        if found is None:
            return None
        right *= float(found)
    return holds(float(left), condition.operator, right)


def missing(condition: Condition, facts: Facts) -> tuple[str, ...]:
    """Name the unknown facts that keep a condition from being told.

    Args:
        condition: any condition.
        facts: what is known of the rig.

    Returns:
        Names of facts [-], empty when the condition can be told.

    Source: the rule it belongs to.
    """
    if judge(condition, facts) is not None:
        return ()
    if isinstance(condition, (Every, Some)):
        parts = [name for part in condition.parts for name in missing(part, facts)]
        return tuple(dict.fromkeys(parts))
    unknown = tuple(name for name in facts_of(condition) if value_of(facts, name) is None)
    return unknown or facts_of(condition)  # a year that is the boundary itself is known and still cannot tell
