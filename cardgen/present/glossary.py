"""Words of the trade in the reader's market, with the nearest words used elsewhere."""

from __future__ import annotations

from cardgen.present.page import Item
from cardgen.present.rig_view import RigView
from cardgen.tables.words import PLACES, Concept, concept, listed, term


def glossary(rig_view: RigView) -> tuple[Item, ...]:
    """Write every listed concept in the words of the rig's market, in the order of the alphabet."""
    made, here = [], rig_view.rig.market
    for found in map(concept, listed()):
        own = name(found, here)
        same = (found.short.get(here, own), *found.terms.get(here, ()))
        also = ", ".join(word for word in dict.fromkeys(same) if word != own)
        others: dict[str, list[str]] = {}
        for market, place in PLACES.items():
            if name(found, market) != own:
                others.setdefault(name(found, market), []).append(place)
        elsewhere = "; ".join(f"{word} ({', '.join(places)})" for word, places in others.items())
        trap = rig_view.say(found.trap)
        note = f"{elsewhere}. Note: {trap}." if trap else elsewhere
        means = rig_view.say(found.means) + (f" Also called {also}." if also else "")
        made.append(Item(own, f"{means} Nearest elsewhere: {note}" if note else means))
    return tuple(sorted(made, key=lambda one: one.text.casefold()))


def name(found: Concept, market: str) -> str:
    """What the list of words calls a concept."""
    return found.listed.get(market) or term(found.key, market)
