"""Every row of the tables of places, tried on both sides of every condition it has."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from cardgen.tables.conditions import After, Compare, Condition, Every, Member, Some, judge, leaves
from cardgen.tables.facts import Facts
from cardgen.tables.law import Clause, all_rules, duty, evaluate, freed, satisfied, to_look_up
from tests.each import each

BASE = 1000.0
"""What a quantity is divided by or multiplied with in a trial [SI]."""
NEAR = 1e-6
"""Relative distance of the two sides of a threshold [-]."""
Leaf = Compare | Member | After


def ways(condition: Condition) -> Iterator[tuple[Leaf, ...]]:
    """Every choice of leaves that makes a condition true when all of them hold."""
    if isinstance(condition, Every):
        for chosen in itertools.product(*map(ways, condition.parts)):
            yield tuple(itertools.chain(*chosen))
    elif isinstance(condition, Some):
        for part in condition.parts:
            yield from ways(part)
    else:
        yield (condition,)


def beside(leaf: Leaf, holds: bool, known: dict[str, Any]) -> Any:
    """A value of the leaf's quantity just on one side of it, with what it is held against as known."""
    if isinstance(leaf, Member):
        return leaf.among[0] if holds else (not leaf.among[0] if isinstance(leaf.among[0], bool) else "other")
    if isinstance(leaf, After):
        return float(leaf.year + (1 if holds else -1))
    at = leaf.value * known.get(leaf.over or "", 1.0) * known.get(leaf.times or "", 1.0)
    up = (leaf.operator in (">", ">=")) is holds
    return at * (1.0 + NEAR) if up else at * (1.0 - NEAR)


def facts_where(leaves: Sequence[Leaf], wrong: Leaf | None = None, base: float = BASE) -> Facts:
    """Facts for which all leaves hold, but one that just does not."""
    known: dict[str, Any] = {}
    for leaf in leaves:
        if isinstance(leaf, Compare):
            known |= {name: base for name in (leaf.over, leaf.times) if name}
    for _ in range(2):  # of two bounds on one quantity the later one is near; both must hold
        for leaf in leaves:
            if judge(leaf, Facts(**known)) is not True:
                known[leaf.quantity] = beside(leaf, True, known)
    for leaf in leaves:
        if leaf is wrong:
            known[leaf.quantity] = beside(leaf, False, known)
    return Facts(**known)


def conditions(rule: Clause) -> Iterator[Condition]:
    """When it binds, what it asks, when it frees and when the unread part is kept."""
    return (c for c in (rule.when, rule.asks, rule.frees, rule.unread_unless) if c is not None)


@each("rule", all_rules(), ids=lambda rule: rule.id)
def test_both_sides_of_every_condition(rule: Clause) -> None:
    for condition in conditions(rule):
        for chosen in ways(condition):
            inside = facts_where(chosen)
            if any(judge(leaf, inside) is not True for leaf in chosen):
                continue  # alternatives on one scale that shut each other out are tried one by one
            assert judge(condition, inside) is True, (condition, inside)
            for leaf in chosen:
                outside = facts_where(chosen, leaf)
                assert judge(leaf, outside) is False, leaf
                unknown = replace(inside, **{leaf.quantity: None})
                assert judge(leaf, unknown) is None, leaf
                if isinstance(leaf, After):
                    year: Any = {leaf.quantity: float(leaf.year)}
                    edge = replace(inside, **year)
                    assert judge(leaf, edge) is None, leaf
                others = [x for x in chosen if x is not leaf and x.quantity == leaf.quantity]
                if not others and not isinstance(condition, Some):
                    assert judge(condition, outside) is not True, (leaf, outside)


IMPLIED = {("us-fmcsa.surge", "gvwr > 12,000 lb")}
"""Conditions of the printed text that decide nothing: a trailer up to 12,000 lb that keeps the part behind it keeps
the part before it as well."""


def test_every_condition_of_every_row_decides_on_both_sides() -> None:
    """For each there are facts where the whole is kept, and is not once that alone is just past its edge."""

    def decides(whole: Condition, leaf: Leaf) -> bool:
        for chosen, base in itertools.product(ways(whole), (BASE, 0.4 * BASE, 6.0 * BASE)):
            if leaf in chosen:
                mine = chosen[chosen.index(leaf)]
                inside, outside = facts_where(chosen, base=base), facts_where(chosen, mine, base)
                kept = all(judge(one, inside) is True for one in (*chosen, whole))
                if kept and judge(leaf, outside) is False and judge(whole, outside) is not True:
                    return True
        return False

    idle = {
        (rule.id, leaf.original if isinstance(leaf, Compare) else str(leaf))
        for rule in all_rules()
        for whole in conditions(rule)
        for leaf in leaves(whole)
        if not decides(whole, leaf)
    }
    assert idle == IMPLIED


@each("rule", all_rules(), ids=lambda rule: rule.id)
def test_no_way_of_a_condition_is_left_untried(rule: Clause) -> None:
    """Whatever is not tried above is there because two bounds on one quantity cannot both be near."""
    for condition in conditions(rule):
        tried = [facts_where(chosen) for chosen in ways(condition)]
        assert any(judge(condition, facts) is True for facts in tried), condition


@each("rule", [r for r in all_rules() if r.unread], ids=lambda rule: rule.id)
def test_what_was_not_read_is_never_met(rule: Clause) -> None:
    assert satisfied(rule, Facts()) is not True
    when = next(ways(rule.when)) if rule.when is not None else ()
    for asked in ways(rule.asks) if rule.asks is not None else ((),):
        for facts in (facts_where(asked), facts_where((*when, *asked))):
            if rule.unread_unless is None or judge(rule.unread_unless, facts) is not True:
                assert satisfied(rule, facts) is not True
                assert bool(to_look_up(rule, facts)) is (satisfied(rule, facts) is not False)
        if rule.unread_unless is not None:
            kept = facts_where((*asked, *next(ways(rule.unread_unless))))
            if all(judge(c, kept) is True for c in (rule.asks, rule.unread_unless) if c is not None):
                assert satisfied(rule, kept) is True
                assert to_look_up(rule, kept) == ""


@each("rule", [r for r in all_rules() if r.frees_unread], ids=lambda rule: rule.id)
def test_what_lets_off_and_was_not_read_is_never_not_asked(rule: Clause) -> None:
    assert rule.when is not None
    light: dict[str, Any] = {}
    for chosen in ways(rule.when):
        for leaf in chosen:
            if isinstance(leaf, Compare):
                light |= {n: BASE for n in (leaf.over, leaf.times) if n} | {leaf.quantity: 1.0}
    facts = Facts(**light)
    assert evaluate(rule, facts) is False
    assert freed(rule, facts) is None
    assert duty(rule.place, rule.topic, facts).applies is not False


@each("rule", all_rules(), ids=lambda rule: rule.id)
def test_a_row_that_is_not_bound_frees_only_where_it_says_so(rule: Clause) -> None:
    if not rule.whole and rule.frees is None:
        for condition in conditions(rule):
            for chosen in ways(condition):
                for leaf in chosen:
                    assert freed(rule, facts_where(chosen, leaf)) is False


def test_only_an_official_text_forbids() -> None:
    wrong = [
        r.id for r in all_rules() if r.force != "guidance" and r.source.standing.value != "official text"
    ]
    assert wrong == []
