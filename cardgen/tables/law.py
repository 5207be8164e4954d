"""Rules of places: who must have what, by which text, and when it cannot be told."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from cardgen.tables.conditions import Compare, Condition, judge, leaves, missing, parse
from cardgen.tables.facts import FACT_WORDS, Facts
from cardgen.tables.lookup import NotInTableError, read
from cardgen.tables.sources import Source, Standing, source

TOPICS = (
    "brakes",
    "breakaway",
    "chains",
    "secondary_coupling",
    "unbraked",
    "tow_ratio",
    "surge",
    "parking_brake",
    "nose_weight",
    "tow_limit",
    "speed",
    "mirrors",
    "size",
    "rear_frame",
    "chocks",
    "licence",
    "standing",
    "lp_tunnel",
    "lp_ferry",
)
"""Topics that rules speak of [-]; lamps have a table of their own; source: ``data/law.yaml``."""


@dataclass(frozen=True, slots=True)
class Clause:
    """One rule of one place.

    Args:
        id: stable id, place and topic [-].
        place: place id [-].
        topic: one of ``TOPICS`` [-].
        text: what it asks, in this project's words [-].
        bodies: kinds of trailer it speaks of, empty for all [-].
        when: condition under which it binds, values [SI]; None: always.
        asks: condition the rig must then meet, values [SI]; None: nothing computable.
        whole: whether it also frees every trailer it speaks of but does not bind [-].
        frees: condition under which it frees a trailer, where that is not every one it does not bind.
        unread: what the text also asks and no fact of a rig tells; the rule is then never met [-].
        unread_unless: condition under which that part is kept as well; None: never known.
        frees_unread: what it asks of trailers that are let off, likewise [-].
        advice: whether it is mere guidance [-].
        commercial: whether it binds commercial use only [-].
        source_key: source key [-].
        seen: month in which its source was looked up [-].

    Source: the key it carries.
    """

    id: str
    place: str
    topic: str
    text: str
    bodies: tuple[str, ...]
    when: Condition | None
    asks: Condition | None
    whole: bool
    advice: bool
    commercial: bool
    source_key: str
    seen: str
    frees: Condition | None = None
    unread: str = ""
    unread_unless: Condition | None = None
    frees_unread: str = ""

    @property
    def source(self) -> Source:
        """The document [-]; source: ``source_key``."""
        return source(self.source_key)

    @property
    def force(self) -> str:
        """``law``, ``commercial law`` or ``guidance`` [-]; law only where the text was read.

        Source: the standing of ``source_key``.
        """
        if self.advice or not self.source.is_law_text:
            return "guidance"
        return "commercial law" if self.commercial else "law"

    @property
    def thresholds(self) -> tuple[Compare, ...]:
        """Every printed threshold: quantity, operator, value [SI], original text.

        Source: ``source_key``.
        """
        conditions = [c for c in (self.when, self.asks, self.frees, self.unread_unless) if c is not None]
        return tuple(leaf for c in conditions for leaf in leaves(c) if isinstance(leaf, Compare))


@dataclass(frozen=True, slots=True)
class Duty:
    """What the rules of a place say on a topic for one rig.

    Args:
        applies: whether something is asked; None when it cannot be told [-].
        binding: rules that bind the rig.
        open: rules of which it cannot be told.
        freed_by: rules that ask nothing of such a trailer, when ``applies`` is False.
        missing: names of the facts that would tell [-].
        reason: why it cannot be told, empty when it can [-].

    Source: its rules.
    """

    applies: bool | None
    binding: tuple[Clause, ...]
    open: tuple[Clause, ...] = ()
    freed_by: tuple[Clause, ...] = ()
    missing: tuple[str, ...] = ()
    reason: str = ""


@cache
def _places() -> dict[str, Any]:
    found: dict[str, Any] = read("law")["places"]
    return found


@cache
def all_rules() -> tuple[Clause, ...]:
    """Every rule of the table, values [SI].

    Source: the keys of the rules.
    """
    data = read("law")
    return tuple(_rule(row, data["seen"]) for row in data["rules"])


def _rule(row: Any, seen: str) -> Clause:
    place, name = row["id"].split(".")
    unread = row.get("unread", "")
    look, unless = (unread["look"], unread.get("unless")) if isinstance(unread, dict) else (unread, None)
    text = source(row["source"])
    if text.standing is Standing.PART and "asks" in row:
        look = look or f"the rest of {text.title}"
    return Clause(
        id=row["id"],
        place=place,
        topic=row.get("topic", name.split("-")[0]),
        text=row["text"],
        bodies=tuple(row.get("bodies", ())),
        when=parse(row["when"]) if "when" in row else None,
        asks=parse(row["asks"]) if "asks" in row else None,
        whole=row.get("whole", False),
        advice=row.get("advice", False),
        commercial=_places()[place].get("commercial", False),
        source_key=row["source"],
        seen=row.get("seen", seen),
        frees=parse(row["frees"]) if "frees" in row else None,
        unread=look,
        unread_unless=None if unless is None else parse(unless),
        frees_unread=row.get("frees_unread", ""),
    )


def known_places() -> tuple[str, ...]:
    """Ids of all places with rules in the table [-].

    Source: ``data/law.yaml``.
    """
    return tuple(_places())


def place_words(place: str) -> str:
    """Name of a place for people.

    Args:
        place: place id, for example ``us-va`` [-].

    Returns:
        Its name [-].

    Raises:
        NotInTableError: unknown place.

    Source: ``data/law.yaml``.
    """
    if place not in _places():
        raise NotInTableError(f"no rules for '{place}' in the tables")
    words: str = _places()[place]["words"]
    return words


@cache
def rules(place: str, topic: str | None = None) -> tuple[Clause, ...]:
    """Rules of a place, those of the places it belongs to included.

    Args:
        place: place id; an unknown one has no rules, which is never a pass [-].
        topic: one of ``TOPICS``, or None for all [-].

    Returns:
        The rules, values [SI]; empty means not checked.

    Raises:
        NotInTableError: unknown topic.

    Source: the keys of the rules.
    """
    if topic is not None and topic not in TOPICS:
        raise NotInTableError(f"no topic '{topic}'")
    within = reach(place)
    return tuple(r for r in all_rules() if r.place in within and topic in (None, r.topic))


def reach(place: str) -> tuple[str, ...]:
    """A place and the places it belongs to [-]: its country, its union; none for an unknown one.

    Args:
        place: place id, for example ``de`` or ``us-va`` [-].

    Source: ``data/law.yaml``.
    """
    entry = _places().get(place)
    return () if entry is None else (place, *entry.get("includes", ()))


def speaks_of(rule: Clause, facts: Facts) -> bool | None:
    """Say whether a rule is about this kind of trailer.

    Args:
        rule: a rule.
        facts: what is known of the rig [SI].

    Returns:
        True, False [-], or None when the kind of trailer is unknown.

    Source: the key of the rule.
    """
    if not rule.bodies:
        return True
    return None if facts.body is None else facts.body in rule.bodies


def evaluate(rule: Clause, facts: Facts) -> bool | None:
    """Say whether a rule binds this rig.

    A False is no pass: other rules may bind, or none may have been read. Use ``duty``.

    Args:
        rule: a rule.
        facts: what is known of the rig [SI].

    Returns:
        True, False [-], or None when it cannot be told.

    Source: the key of the rule.
    """
    scope = speaks_of(rule, facts)
    if scope is False:
        return False
    bound = True if rule.when is None else judge(rule.when, facts)
    return False if bound is False else bound if scope else None


def satisfied(rule: Clause, facts: Facts) -> bool | None:
    """Say whether the rig has what a rule asks, taking it that the rule binds.

    Args:
        rule: a rule.
        facts: what is known of the rig [SI].

    Returns:
        True, False [-], or None when it cannot be told or nothing computable is asked.

    Source: the key of the rule.
    """
    met = None if rule.asks is None else judge(rule.asks, facts)
    if met is False or not rule.unread:
        return met
    read = rule.unread_unless is not None and judge(rule.unread_unless, facts) is True
    return (True if rule.asks is None else met) if read else None


def to_look_up(rule: Clause, facts: Facts) -> str:
    """What a person must look up before a rule may count as met [-]; empty when nothing.

    Args:
        rule: a rule.
        facts: what is known of the rig [SI].

    Source: the key of the rule.
    """
    if not rule.unread or (rule.asks is not None and judge(rule.asks, facts) is False):
        return ""
    kept = rule.unread_unless is not None and judge(rule.unread_unless, facts) is True
    return "" if kept else rule.unread


def freed(rule: Clause, facts: Facts) -> bool | None:
    """Say whether a rule asks nothing of such a trailer.

    Args:
        rule: a rule.
        facts: what is known of the rig [SI].

    Returns:
        True, False [-], or None when it hangs on what the rig cannot state.

    Source: the key of the rule.
    """
    if rule.frees is not None:
        free = bool(speaks_of(rule, facts)) and judge(rule.frees, facts) is True
    else:
        free = rule.whole and bool(speaks_of(rule, facts)) and evaluate(rule, facts) is False
    return None if free and rule.frees_unread else free


def missing_facts(rule: Clause, facts: Facts, binding_only: bool = False) -> tuple[str, ...]:
    """Names of facts that keep a rule from being told, whether it binds or is met.

    Args:
        rule: a rule.
        facts: what is known of the rig [SI].
        binding_only: only those that decide whether it binds [-].

    Returns:
        Field names of ``Facts`` [-], empty when nothing is missing.

    Source: the key of the rule.
    """
    names = ["body"] if speaks_of(rule, facts) is None else []
    if rule.when is not None:
        names += missing(rule.when, facts)
    if not binding_only and evaluate(rule, facts) is not False:
        for condition in (rule.asks, rule.unread_unless):
            if condition is not None and judge(condition, facts) is None:
                names += missing(condition, facts)
    return tuple(dict.fromkeys(names))


def duty(place: str, topic: str, facts: Facts) -> Duty:
    """Put together what the rules of a place ask on a topic.

    False only where a rule in the table frees such a trailer; a place or a kind
    of trailer without rules is never a pass.

    Args:
        place: place id [-].
        topic: one of ``TOPICS`` [-].
        facts: what is known of the rig [SI].

    Returns:
        The duty, with the rules behind it and what is missing [-].

    Raises:
        NotInTableError: unknown topic.

    Source: the keys of the rules.
    """
    found = rules(place, topic)
    words = topic.replace("_", " ")
    if not found:
        return Duty(None, (), reason=f"no rule on {words} for '{place}' in the tables; check it there")
    binding = tuple(r for r in found if evaluate(r, facts) is True)
    unsure = tuple(r for r in found if evaluate(r, facts) is None)
    names = tuple(dict.fromkeys(n for r in unsure for n in missing_facts(r, facts, binding_only=True)))
    if binding:
        return Duty(True, binding, unsure, missing=names)
    if unsure:
        asked = ", ".join(FACT_WORDS[n] for n in names)
        return Duty(None, (), unsure, missing=names, reason=f"cannot be told without: {asked}")
    hanging = tuple(r for r in found if freed(r, facts) is None)
    if hanging:
        return Duty(
            None, (), reason=f"let off only if: {hanging[0].frees_unread}; look it up", freed_by=hanging
        )
    freeing = tuple(r for r in found if freed(r, facts))
    if freeing:
        return Duty(False, (), freed_by=freeing)
    reason = f"the {words} rules read for '{place}' do not say what holds for this trailer"
    return Duty(None, (), reason=reason)
