"""Rules of the places travelled, one finding for each place and topic; unknown is never a pass."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import product

from cardgen.limits.becoming import NEVER, Values, can_exceed
from cardgen.limits.compare import also
from cardgen.limits.facts import COMMERCIAL, FIGURES, facts_of, needs_for, places
from cardgen.limits.lawwords import because, figures_of, near, unkept
from cardgen.limits.registry import Context, rule
from cardgen.model.results import Allowance, Basis, Finding, Need, Outcome
from cardgen.physics.needs import need
from cardgen.tables import conditions, law
from cardgen.tables.conditions import Compare, Every, Some, leaves
from cardgen.tables.facts import FACT_WORDS, Facts, value_of
from cardgen.tables.sources import Standing

AUTHORITY = "that place's transport authority"
ROUTE_TOPICS = ("lp_tunnel", "lp_ferry")
ROUTE_RULES = ("us-md.size",)
"""Rules about one tunnel or ferry: they restrict the route, they forbid no towing."""
CORE = ("brakes", "breakaway", "chains")
BASES = {"law": Basis.LAW, "commercial law": Basis.COMMERCIAL_LAW, "guidance": Basis.GUIDANCE}
TITLES = {
    "brakes": "trailer brakes, local rule",
    "breakaway": "breakaway device, local rule",
    "chains": "safety chains, local rule",
    "secondary_coupling": "secondary coupling, local rule",
    "unbraked": "weight of an unbraked trailer",
    "tow_ratio": "trailer against vehicle weight, advice",
    "surge": "{surge_brakes}, local rule",
    "parking_brake": "{parking_brake} of the trailer",
    "nose_weight": "least load on the coupling",
    "tow_limit": "largest trailer behind the vehicle, local rule",
    "speed": "planned speed against the speed limit for towing",
    "mirrors": "mirrors, local rule",
    "size": "size of the trailer",
    "rear_frame": "frame at the rear of the trailer",
    "chocks": "wheel chocks",
    "licence": "license for the plated weights",
    "standing": "leaving the trailer on the road",
    "lp_tunnel": "{lp_gas} in tunnels",
    "lp_ferry": "{lp_gas} on ferries",
}
NAMES = {"secondary_coupling": "{secondary_coupling}", "nose_weight": "{coupling_load}", "parking_brake": "{parking_brake}",
         "lp_tunnel": "gas in tunnels", "lp_ferry": "gas on ferries", "surge": "{surge_brakes}", "licence": "license",
         "standing": "roadside parking"}  # fmt: skip
"""Topics of rules that read otherwise than their names in a row of topics."""
MEANING = (
    "What was read in an official text is called law, everything else guidance. Places differ in the quantity they "
    "ask for (loaded weight, plated weight, axle load, share of the vehicle) and in the value. Rules change: check "
    "before travel. A place or a topic that was not read is never a pass."
)
SOURCE = (
    "rules of places in the tables of this project; each finding names its text and when it was looked up"
)


@dataclass(frozen=True, slots=True)
class Said:
    """What one rule says in one loading case: ``broken``, ``unknown``, ``close`` or ``met``."""

    state: str
    case: str
    facts: Facts
    rule: law.Clause | None = None
    binds: bool = True
    missing: tuple[str, ...] = ()
    reason: str = ""


def about(finding: Finding) -> tuple[str, tuple[str, ...]] | None:
    """Place [-] and topics [-] of a finding about rules of a place that were not read; None for any other.

    Args:
        finding: a finding of any check.
    """
    elsewhere = finding.outcome is not Outcome.NOT_CHECKED or any(n.path != "places" for n in finding.needs)
    if not finding.code.startswith("law-") or elsewhere:
        return None
    for place in law.known_places():
        if finding.code == f"law-places-{place}":
            return place, unread(place)
        for topic in law.TOPICS:
            if finding.code == f"law-{topic.replace('_', '-')}-{place}":
                return place, (topic,)
    return None


def topic_words(topic: str) -> str:
    """What a topic of rules is called in a row of topics [-]."""
    return NAMES.get(topic, topic.replace("_", " "))


def on_route(finding: Finding) -> bool:
    """Whether a finding bars the rig from a tunnel or ferry, and from nothing else."""
    named = tuple(f"law-{topic.replace('_', '-')}-" for topic in ROUTE_TOPICS)
    barred = tuple(f"law-{topic}-{place}" for place, topic in (rule.split(".") for rule in ROUTE_RULES))
    return finding.outcome is Outcome.CLOSE and (finding.code.startswith(named) or finding.code in barred)


def unread(place: str) -> tuple[str, ...]:
    """Topics on which no rule of a known place was read [-]."""
    asked = CORE if place == COMMERCIAL else (*CORE, "speed", "mirrors")
    found = [t for t in asked if not law.rules(place, t)]
    if law.rules(place, "secondary_coupling") and "chains" in found:
        found.remove("chains")
    return tuple(found)


STATES = {
    ("broken", True): "not met",
    ("close", True): "met with little left",
    ("met", True): "met",
    ("close", False): "not asked yet, but near",
    ("met", False): "not asked of this rig",
}
RANK = {"broken": 0, "unknown": 1, "close": 2, "met": 3}


@rule(
    "law-places",
    "places travelled and what was read of their rules",
    Basis.GUIDANCE,
    SOURCE,
    MEANING,
    fields=("places",),
)
def law_places(context: Context) -> Iterable[Finding]:
    """Ask for the places travelled, and name every rule that was not read [-]."""
    wanted = places(context.rig)
    if not wanted:
        yield Finding("law-places", "", Outcome.NOT_CHECKED, needs=(need("places"),), critical=False)
    for place in wanted:
        known = place in law.known_places()
        lost = unread(place)
        if not lost:
            continue
        name = law.place_words(place) if known else place
        meant = "" if known else _meant(place, context.rig.market)
        what = f"rules of {name} on {joined(lost)}" if known else f"towing rules of {name}{meant}"
        missing = Need("places", what, AUTHORITY)
        about_what = f"{joined(lost)} rules" if known else "towing rules"
        title = f"{name} {about_what}: not covered here"
        code = f"law-places-{place}" if known else f"law-places-unknown-{wanted.index(place) + 1}"
        yield Finding(code, title, Outcome.NOT_CHECKED, needs=(missing,), critical=False)


def joined(topics: Sequence[str]) -> str:
    """Topics in words, each once: brakes, breakaway and speed [-]."""
    *before, last = map(topic_words, dict.fromkeys(topics))
    return f"{', '.join(before)} and {last}" if before else last


CODE = re.compile(r"(?:us|ca)-[a-z]{2}|au-[a-z]{2,3}")
"""Codes as places have them: one that is not in the tables is a place not read, no other one misspelled."""


def _meant(place: str, market: str) -> str:
    """Suggest the code of a place in the tables for one that is not among them."""
    asked = re.sub(r"[\s_]+", "-", place.strip().lower())
    codes = law.known_places()
    alike = [code for code in codes if asked in (code, code.partition("-")[2])]
    if not alike and not CODE.fullmatch(asked):
        names = {law.place_words(code).lower(): code for code in codes}
        close = difflib.get_close_matches(place.lower(), [*names, *codes], n=1, cutoff=0.75)
        alike = [names.get(one, one) for one in close]
    alike = [code for code in alike if code.startswith(f"{market}-")] or alike
    return f" (did you mean {' or '.join(alike)}?)" if alike else ""


def _register(topic: str) -> None:
    code = f"law-{topic.replace('_', '-')}"

    def run(context: Context) -> Iterable[Finding]:
        for place in places(context.rig):
            if law.rules(place, topic):
                yield _judge(context, place, topic, f"{code}-{place}")

    run.__doc__ = f"Compare the rig with the rules on {topic.replace('_', ' ')} of each place [SI facts]."
    check: Callable[[Context], Iterable[Finding]] = run
    clauses = [one for one in law.all_rules() if one.topic == topic]
    parts = [p for one in clauses for p in (one.when, one.asks, one.unread_unless, one.frees) if p]
    facts = [name for part in parts for name in conditions.facts_of(part)]
    behind = [path for name in facts for path in FIGURES.get(name, ((), ()))[1]]
    fields = (*(one.path for one in needs_for(facts)), *behind, "places")
    rule(code, TITLES[topic], Basis.GUIDANCE, SOURCE, MEANING, fields)(check)


for _topic in law.TOPICS:
    _register(_topic)


SEEN = {Standing.COPY: "copied", Standing.PART: "far as it was read"}
"""How a text was seen that would forbid if all of it had been read [-]."""
FORCED = ("law", "commercial law")
"""Forces of a rule that forbids [-]."""
SLACK = 1e-6
"""How close to a weight at which a rule turns both sides are tried [-]."""


def _judge(context: Context, place: str, topic: str, code: str) -> Finding:
    """Put together what the rules of one place say in the worst loading case."""
    said: list[Said] = []
    for case in context.computed.cases:
        facts = facts_of(context.computed, case, context.day)
        said += _case(place, topic, case.name, facts, context.close)
    worst = min(said, key=lambda one: (RANK[one.state], not one.binds, -(one.facts.gross or 0.0)))
    title = f"{law.place_words(place)}: {TITLES[topic]}"
    if worst.state == "unknown":
        every = tuple(n for one in said if one.state == "unknown" for n in one.missing)
        what = f"rules of {law.place_words(place)} on {topic_words(topic)} for such a trailer"
        return _unknown(context, code, title, worst, tuple(dict.fromkeys(every)), what)
    told = _told(context, code, title, topic, worst)
    laws = [s for s in said if s.state == "unknown" and s.rule is not None and s.rule.force in FORCED]
    if worst.state != "broken" or told.outcome is Outcome.OVER or not laws:
        return told
    # what is broken was not read in the law itself: that does not hide that a law may be
    missing = tuple(dict.fromkeys(n for one in laws for n in one.missing))
    found = _unknown(context, code, title, laws[0], missing, f"rules of {law.place_words(place)}")
    return replace(found, message=also(told.message, found.message), values=told.values)


def _case(place: str, topic: str, case: str, facts: Facts, close: float) -> Iterable[Said]:
    duty = law.duty(place, topic, facts)
    for one in duty.binding:
        met, look = law.satisfied(one, facts), law.to_look_up(one, facts)
        if met is None and look:
            names = law.missing_facts(one, facts)
            yield Said("unknown", case, facts, one, missing=names, reason=f"look it up: {look}")
        elif one.asks is None and met is None:
            yield Said("unknown", case, facts, one, reason="see for yourself")
        elif met is None:
            yield Said("unknown", case, facts, one, missing=law.missing_facts(one, facts))
        else:
            tight = met and one.asks is not None and near(one.asks, facts, close)
            yield Said("broken" if not met else "close" if tight else "met", case, facts, one)
    for one in duty.open:
        free = one.whole and one.frees is None and not one.frees_unread
        if law.satisfied(one, facts) is True and (free or duty.binding):  # met whether it binds or not
            tight = one.asks is not None and near(one.asks, facts, close)
            yield Said("close" if tight else "met", case, facts, one)
        else:
            missing = law.missing_facts(one, facts, binding_only=True)
            yield Said("unknown", case, facts, one, missing=missing)
    for one in duty.freed_by:
        if duty.applies is None:
            yield Said("unknown", case, facts, one, reason=duty.reason)
            continue
        soon = (
            one.when is not None
            and near(one.when, facts, close, alternatives=True)
            and law.satisfied(one, facts) is not True
        )
        yield Said("close" if soon else "met", case, facts, one, binds=False)
    if duty.applies is None and not duty.open and not duty.freed_by:
        yield Said("unknown", case, facts, reason=duty.reason.replace(f"'{place}'", law.place_words(place)))


def allowances(context: Context) -> tuple[Allowance, ...]:
    """Loaded trailer from which a law that binds forbids this rig as it is [kg], one for each place and topic.

    Why: a trailer without brakes, or with light chains, may be inside every rating and still too heavy for a place.

    Args:
        context: the computed rig and the build date.
    """
    made: dict[tuple[str, str], float] = {}
    for place, topic in product(places(context.rig), set(law.TOPICS) - set(ROUTE_TOPICS)):
        for case in context.computed.cases if law.rules(place, topic) else ():
            facts = facts_of(context.computed, case, context.day)
            if facts.gross is None or _forbidden(place, topic, facts):
                continue  # not known, or told already
            for end in sorted(_thresholds(place, topic, facts)):
                above, at = (_heavier(facts, end * (1.0 + step)) for step in (SLACK, 0.0))
                if end > facts.gross and _forbidden(place, topic, above):
                    top = end * (1.0 - SLACK) if _forbidden(place, topic, at) else end
                    made[place, topic] = min(top, made.get((place, topic), top))
                    break
    return tuple(
        Allowance(
            f"{law.place_words(place)}: {TITLES[topic]}", top, "the rule of the place as read", "places"
        )
        for (place, topic), top in made.items()
    )


def free_below(context: Context, code: str) -> float | None:
    """Loaded trailer at which no law would forbid what it forbids now [kg]; None where weight does not decide.

    Args:
        context: the computed rig and the build date.
        code: code of the finding [-].
    """
    named = {
        f"law-{topic.replace('_', '-')}-{p}": (p, topic) for p in places(context.rig) for topic in law.TOPICS
    }
    place, topic = named.get(code, ("", ""))
    ends: list[float | None] = []
    for case in context.computed.cases if place else ():
        facts = facts_of(context.computed, case, context.day)
        if facts.gross is not None and _forbidden(place, topic, facts):
            tops = [end * (1.0 - SLACK) for end in _thresholds(place, topic, facts) if end < facts.gross]
            free = [top for top in tops if top > 0.0 and not _forbidden(place, topic, _heavier(facts, top))]
            ends.append(max(free, default=None))
    known = [end for end in ends if end is not None]
    return min(known, default=None) if len(known) == len(ends) else None


def _heavier(facts: Facts, gross: float) -> Facts:
    """The same rig with another loaded trailer [kg], its share on the coupling kept."""
    more = gross / facts.gross if facts.gross else 1.0
    tongue, axles = (None if value is None else value * more for value in (facts.tongue, facts.trailer_axles))
    borne = None if None in (facts.tow_axles, facts.tongue) else _bare(facts) + (tongue or 0.0)
    return replace(facts, gross=gross, tongue=tongue, trailer_axles=axles, tow_axles=borne)


def _bare(facts: Facts) -> float:
    """What the vehicle's axles bear without the trailer [kg]."""
    return (facts.tow_axles or 0.0) - (facts.tongue or 0.0)


def _forbidden(place: str, topic: str, facts: Facts) -> bool:
    """Whether a law that was read forbids what stands in the facts."""
    return any(
        one.state == "broken" and one.rule is not None and one.rule.force in FORCED and one.rule.id not in ROUTE_RULES
        for one in _case(place, topic, "", facts, 0.0)
    )  # fmt: skip


def _thresholds(place: str, topic: str, facts: Facts) -> Iterable[float]:
    """Loaded weights at which what a place says on a topic may turn [kg]."""
    gross = facts.gross or 0.0
    for one in law.rules(place, topic):
        for leaf in (leaf for part in (one.when, one.asks, one.frees) if part for leaf in leaves(part)):
            if not isinstance(leaf, Compare):
                continue
            others = {leaf.quantity, leaf.times, leaf.over} - {None, "gross"}
            known = [float(v) for n in others if n and (v := value_of(facts, n)) is not None]
            if leaf.quantity == "trailer_axles" and len(known) == len(others) == 2 and leaf.times is None:
                moves = leaf.over == "tow_axles"  # which bear the tongue as well
                fixed = _bare(facts) if moves else float(value_of(facts, leaf.over or "") or 0.0)
                slope = (facts.trailer_axles or 0.0) - (leaf.value * (facts.tongue or 0.0) if moves else 0.0)
                yield from [leaf.value * fixed * gross / slope] if slope > 0.0 else ()
            elif (
                "gross" in (leaf.quantity, leaf.times)
                and len(known) == len(others) <= 1
                and leaf.over != "gross"
            ):
                scale = known[0] if known else 1.0
                yield leaf.value * scale if leaf.quantity == "gross" else scale / leaf.value


def _unknown(
    context: Context, code: str, title: str, worst: Said, missing: tuple[str, ...], what: str
) -> Finding:
    words = worst.rule.text if worst.rule else ""
    asked = tuple(n for n in missing if not needs_for((n,)))
    if asked:
        words += "; not known: " + ", ".join(FACT_WORDS[n] for n in asked)
    if worst.reason:
        words = f"{words}; {worst.reason}" if words else worst.reason
    needs = needs_for(missing, context.computed.cases, context.rig) or (Need("places", what, AUTHORITY),)
    source = _source(worst.rule) if worst.rule else ""
    basis = BASES[worst.rule.force] if worst.rule else Basis.GUIDANCE
    return Finding(
        code, title, Outcome.NOT_CHECKED, case=worst.case, basis=basis, source=source,
        message=words, needs=needs, critical=False,
    )  # fmt: skip


def _told(context: Context, code: str, title: str, topic: str, worst: Said) -> Finding:
    found = worst.rule
    assert found is not None  # only an unknown comes without a rule
    route = topic in ROUTE_TOPICS or found.id in ROUTE_RULES
    forced = found.force in FORCED and not route
    outcome = {"broken": Outcome.OVER, "close": Outcome.CLOSE}.get(worst.state, Outcome.WITHIN)
    if outcome is Outcome.OVER and not forced:
        outcome = Outcome.CLOSE  # a route can be changed; guidance and copies never forbid
    words, values = because(found, worst.facts, worst.binds)
    shown = figures_of(found, worst.facts) if worst.binds and not route else None
    kind, demand, capacity = shown or ("mass", None, None)
    text = f"{STATES[worst.state, worst.binds]}: {found.text}"
    if worst.state == "broken" and route:
        text = f"not allowed on this route: {found.text}"
    elif worst.state == "broken" and (how := SEEN.get(found.source.standing)):
        text = f"forbidden as {how}; look it up: {found.text}"
    if worst.state == "broken" and isinstance(found.asks, (Every, Some)):
        text = f"{text}; not kept: {unkept(found.asks, worst.facts)}"
    becoming, more = NEVER if worst.binds else _becoming(context, worst, found)
    return Finding(
        code, title, outcome, kind, demand, capacity, case=worst.case, basis=BASES[found.force],
        source=_source(found), message=f"{text} ({words})" if words else text, values=values | more,
        critical=forced, can_become=becoming,
    )  # fmt: skip


def _becoming(context: Context, worst: Said, found: law.Clause) -> tuple[str, Values]:
    """Say which filling would make a rule bind that the rig does not meet."""
    if found.when is None or law.satisfied(found, worst.facts) is True:
        return NEVER
    for leaf in leaves(found.when):
        if isinstance(leaf, Compare) and (leaf.quantity, leaf.over, leaf.times) == ("gross", None, None):
            words, values = can_exceed(context, ("trailer_weight",), worst.case, leaf.value, "mass")
            if words and leaf.operator in (">", ">="):
                return words.replace("can rise", "can come to be asked: rises", 1), values
    return NEVER


def _source(found: law.Clause) -> str:
    return f"{found.source.words()}, looked up {found.seen}; check before travel"
