"""Words of the trade in the reader's market, with the nearest words used elsewhere."""

from __future__ import annotations

from cardgen.present.desk import Desk
from cardgen.present.report_view import GlossaryTerm
from cardgen.tables.words import PLACES, Concept, concept, listed, term


def glossary(desk: Desk) -> tuple[GlossaryTerm, ...]:
    """Write every listed concept in the words of the rig's market, in the order of the alphabet."""
    made = []
    for found in map(concept, listed()):
        own = name(found, desk.rig.market)
        others: dict[str, list[str]] = {}
        for market, place in PLACES.items():
            if name(found, market) != own:
                others.setdefault(name(found, market), []).append(place)
        elsewhere = "; ".join(f"{word} ({', '.join(places)})" for word, places in others.items())
        note = f"{elsewhere}. Note: {desk.say(found.trap)}." if found.trap else elsewhere
        made.append(GlossaryTerm(own, desk.say(found.means), note))
    return tuple(sorted(made, key=lambda one: one.word.casefold()))


def name(found: Concept, market: str) -> str:
    """What the list of words calls a concept."""
    return found.listed.get(market) or term(found.key, market)
